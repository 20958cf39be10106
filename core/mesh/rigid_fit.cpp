#include "core/mesh/rigid_fit.h"

#include <Eigen/Eigenvalues>
#include <Eigen/Geometry>
#include <cmath>

namespace hoopwright {
namespace {

/// Places whose second spread is less than this share of their first lie in one line: a turn about it is
/// anybody's guess.
constexpr double kInLine = 0.02;

/// Root mean squares of the distances along the three main directions, ascending.
Vec3 spreads(const Eigen::Matrix3Xd& points) {
    const Eigen::Matrix3Xd about = points.colwise() - points.rowwise().mean();
    const Eigen::Matrix3d scatter = about * about.transpose() / static_cast<double>(points.cols());
    return Eigen::SelfAdjointEigenSolver<Eigen::Matrix3d>(scatter, Eigen::EigenvaluesOnly)
        .eigenvalues()
        .cwiseMax(0.0)
        .cwiseSqrt();
}

std::string degenerate(const Vec3& spread, const std::string& where) {
    if (!(spread[2] > 0)) return "the places picked on the " + where + " are all one";
    if (spread[1] < kInLine * spread[2])
        return "the places picked on the " + where + " lie in one line: pick one well off it, or the " +
               where + " could turn about that line";
    return "";
}

}  // namespace

Expected<RigidFit> rigidFit(std::span<const PickedPair> pairs, double scale_mm) {
    if (pairs.size() < 3)
        return Reason{std::to_string(pairs.size()) + (pairs.size() == 1 ? " pair is" : " pairs are") +
                      " picked: three or more are needed, well apart and not in one line"};
    const auto count = static_cast<Eigen::Index>(pairs.size());
    Eigen::Matrix3Xd scan(3, count), car(3, count);
    for (Eigen::Index i = 0; i < count; ++i) {
        scan.col(i) = scale_mm * pairs[static_cast<std::size_t>(i)].scan;
        car.col(i) = pairs[static_cast<std::size_t>(i)].car;
    }
    const Vec3 scan_spread = spreads(scan), car_spread = spreads(car);
    for (const std::string& why : {degenerate(scan_spread, "scan"), degenerate(car_spread, "car")})
        if (!why.empty()) return Reason{why};
    const Eigen::Matrix4d move = Eigen::umeyama(scan, car, false);
    RigidFit fit;
    fit.placement.turn = move.topLeftCorner<3, 3>();
    fit.placement.shift = move.topRightCorner<3, 1>();
    fit.placement.scale = scale_mm;
    double squares = 0;
    for (const PickedPair& pair : pairs) {
        fit.residuals_mm.push_back((fit.placement.toCar(pair.scan) - pair.car).norm());
        squares += fit.residuals_mm.back() * fit.residuals_mm.back();
    }
    fit.rms_mm = std::sqrt(squares / static_cast<double>(pairs.size()));
    fit.size_ratio = car_spread.norm() / scan_spread.norm();
    return fit;
}

}  // namespace hoopwright
