// The rigid fit against Horn's closed form with unit quaternions, another road to the same least squares.
#include "core/mesh/rigid_fit.h"

#include <gtest/gtest.h>

#include <Eigen/Eigenvalues>
#include <random>

namespace hoopwright {
namespace {

/// Source: B. K. P. Horn, Closed-form solution of absolute orientation using unit quaternions, J. Opt. Soc.
/// Am. A 4(4), 1987, section 4: the rotation is the eigenvector of the greatest eigenvalue of N (from
/// memory).
Eigen::Matrix3d byHorn(const std::vector<PickedPair>& pairs, double scale, Vec3& shift) {
    Vec3 scan_middle = Vec3::Zero(), car_middle = Vec3::Zero();
    for (const PickedPair& pair : pairs) {
        scan_middle += scale * pair.scan / static_cast<double>(pairs.size());
        car_middle += pair.car / static_cast<double>(pairs.size());
    }
    Eigen::Matrix3d s = Eigen::Matrix3d::Zero();
    for (const PickedPair& pair : pairs)
        s += (scale * pair.scan - scan_middle) * (pair.car - car_middle).transpose();
    Eigen::Matrix4d n;
    n << s(0, 0) + s(1, 1) + s(2, 2), s(1, 2) - s(2, 1), s(2, 0) - s(0, 2), s(0, 1) - s(1, 0),  //
        s(1, 2) - s(2, 1), s(0, 0) - s(1, 1) - s(2, 2), s(0, 1) + s(1, 0), s(2, 0) + s(0, 2),   //
        s(2, 0) - s(0, 2), s(0, 1) + s(1, 0), -s(0, 0) + s(1, 1) - s(2, 2), s(1, 2) + s(2, 1),  //
        s(0, 1) - s(1, 0), s(2, 0) + s(0, 2), s(1, 2) + s(2, 1), -s(0, 0) - s(1, 1) + s(2, 2);
    const Eigen::Vector4d q = Eigen::SelfAdjointEigenSolver<Eigen::Matrix4d>(n).eigenvectors().col(3);
    const Eigen::Matrix3d turn = Eigen::Quaterniond(q[0], q[1], q[2], q[3]).toRotationMatrix();
    shift = car_middle - turn * scan_middle;
    return turn;
}

TEST(RigidFitOutside, AgreesWithHornsQuaternions) {
    std::mt19937_64 random(1987);
    std::uniform_real_distribution<double> place(-1500, 1500), turn(-3, 3);
    std::normal_distribution<double> noise(0, 3);
    double worst = 0;
    for (int run = 0; run < 300; ++run) {
        const double scale = run % 2 == 0 ? 1 : 1000;
        const Eigen::Matrix3d about =
            Eigen::AngleAxisd(turn(random), Vec3(place(random), place(random), place(random)).normalized())
                .matrix();
        std::vector<PickedPair> pairs;
        for (int i = 0; i < 3 + run % 6; ++i) {
            const Vec3 at(place(random), place(random), place(random));
            pairs.push_back(
                {about.transpose() * at / scale, at + Vec3(noise(random), noise(random), noise(random))});
        }
        const Expected<RigidFit> fit = rigidFit(pairs, scale);
        if (!fit) continue;  // three by chance in a line
        Vec3 shift;
        const Eigen::Matrix3d horn = byHorn(pairs, scale, shift);
        worst = std::max(
            {worst, (fit->placement.turn - horn).norm(), (fit->placement.shift - shift).norm() / 1500});
    }
    EXPECT_LT(worst, 1e-9);
    RecordProperty("worst", std::to_string(worst));
}

/// Source: the property itself (Arun, Huang and Blostein 1987, lemma 1, from memory): at the optimum the
/// middles meet.
TEST(RigidFitOutside, TheMiddleOfTheScansPlacesComesToTheMiddleOfTheCars) {
    const std::vector<PickedPair> pairs = {{{0, 0, 0}, {10, 1, 0}},
                                           {{1000, 0, 3}, {0, 1004, 2}},
                                           {{0, 800, -2}, {-795, 3, 0}},
                                           {{500, 300, 400}, {-310, 497, 402}}};
    const RigidFit fit = *rigidFit(pairs, 1);
    Vec3 moved = Vec3::Zero(), car = Vec3::Zero();
    for (const PickedPair& pair : pairs) {
        moved += fit.placement.toCar(pair.scan) / 4;
        car += pair.car / 4;
    }
    EXPECT_LT((moved - car).norm(), 1e-9);
}

}  // namespace
}  // namespace hoopwright
