// A scan brought to where its picked places are; its unit guessed.
#include "core/mesh/rigid_fit.h"

#include <gmock/gmock.h>

#include "core/mesh/scan_unit.h"
#include "tests/core/geometry/random_tubes.h"

namespace hoopwright {
namespace {

using testing::HasSubstr;

MeshPlacement somewhere(std::mt19937_64& random, double scale) {
    std::uniform_real_distribution<double> turn(-3, 3), shift(-3000, 3000);
    MeshPlacement out;
    out.turn = Eigen::AngleAxisd(turn(random), randomUnit(random)).toRotationMatrix();
    out.shift = {shift(random), shift(random), shift(random)};
    out.scale = scale;
    return out;
}

std::vector<PickedPair> pairsOf(const MeshPlacement& placement, const std::vector<Vec3>& car) {
    std::vector<PickedPair> out;
    for (const Vec3& at : car) out.push_back({placement.toMesh(at), at});
    return out;
}

const std::vector<Vec3> kPlaces = {{-600, 700, -60}, {1100, 700, -60}, {-80, -560, 890}, {620, 0, 850}};

TEST(RigidFit, ExactPairsGiveThePlacementBack) {
    std::mt19937_64 random(21);
    for (int i = 0; i < 200; ++i) {
        const MeshPlacement want = somewhere(random, i % 2 == 0 ? 1 : 25.4);
        std::vector<PickedPair> pairs = pairsOf(want, kPlaces);
        if (i % 3 == 0) pairs.pop_back();  // three lie in a plane: it must not come out mirrored
        const Expected<RigidFit> fit = rigidFit(pairs, want.scale);
        ASSERT_TRUE(fit);
        EXPECT_LT((fit->placement.turn - want.turn).norm(), 1e-12);
        EXPECT_LT((fit->placement.shift - want.shift).norm(), 1e-8);
        EXPECT_LT(fit->rms_mm, 1e-9);
        EXPECT_NEAR(fit->size_ratio, 1, 1e-12);
        EXPECT_NEAR(fit->placement.turn.determinant(), 1, 1e-12);
    }
}

TEST(RigidFit, NoTurnOrShiftNearByFitsBetter) {
    std::mt19937_64 random(22);
    std::normal_distribution<double> noise(0, 4);
    std::vector<PickedPair> pairs = pairsOf(somewhere(random, 1), kPlaces);
    for (PickedPair& pair : pairs) pair.scan += Vec3(noise(random), noise(random), noise(random));
    const RigidFit fit = *rigidFit(pairs, 1);
    EXPECT_GT(fit.rms_mm, 0.5);
    double squares = 0;
    for (std::size_t i = 0; i < pairs.size(); ++i) {
        EXPECT_NEAR(fit.residuals_mm[i], (fit.placement.toCar(pairs[i].scan) - pairs[i].car).norm(), 1e-12);
        squares += fit.residuals_mm[i] * fit.residuals_mm[i];
    }
    EXPECT_NEAR(fit.rms_mm, std::sqrt(squares / 4), 1e-12);
    for (int i = 0; i < 500; ++i) {
        MeshPlacement other = fit.placement;
        other.turn = Eigen::AngleAxisd(1e-3, randomUnit(random)) * other.turn;
        if (i % 2 == 0) other.turn = fit.placement.turn;
        other.shift += 0.5 * randomUnit(random);
        double now = 0;
        for (const PickedPair& pair : pairs) now += (other.toCar(pair.scan) - pair.car).squaredNorm();
        EXPECT_GT(now, squares);
    }
}

TEST(RigidFit, APairThatDisagreesShowsInItsResidual) {
    std::mt19937_64 random(23);
    std::vector<Vec3> places = kPlaces;
    places.emplace_back(200, -300, 100);
    places.emplace_back(900, 500, 400);
    std::vector<PickedPair> pairs = pairsOf(somewhere(random, 1), places);
    pairs[2].car += Vec3(0, 60, 0);
    const RigidFit fit = *rigidFit(pairs, 1);
    EXPECT_EQ(std::max_element(fit.residuals_mm.begin(), fit.residuals_mm.end()) - fit.residuals_mm.begin(),
              2);
}

TEST(RigidFit, AWrongUnitShowsInTheSizeRatio) {
    std::mt19937_64 random(24);
    EXPECT_NEAR(rigidFit(pairsOf(somewhere(random, 25.4), kPlaces), 1)->size_ratio, 25.4, 1e-9);
}

TEST(RigidFit, TooFewOrInOneLineIsASentence) {
    const std::vector<PickedPair> none, two = {{{0, 0, 0}, {0, 0, 0}}, {{1, 0, 0}, {1, 0, 0}}};
    EXPECT_THAT(rigidFit(none, 1).reason(), HasSubstr("0 pairs are picked: three or more"));
    EXPECT_THAT(rigidFit({two.data(), 1}, 1).reason(), HasSubstr("1 pair is picked"));
    EXPECT_THAT(rigidFit(two, 1).reason(), HasSubstr("2 pairs are picked"));
    std::vector<PickedPair> line;
    for (int i = 0; i < 5; ++i) line.push_back({Vec3(i, 2 * i, 3), Vec3(i * 100.0, 0.3 * i * i, 0)});
    EXPECT_THAT(rigidFit(line, 1).reason(), HasSubstr("scan lie in one line"));
    for (PickedPair& pair : line) std::swap(pair.scan, pair.car);
    line[4].scan.z() = 300;
    EXPECT_THAT(rigidFit(line, 1).reason(), HasSubstr("car lie in one line"));
    for (PickedPair& pair : line) pair.scan = {1, 1, 1};
    EXPECT_THAT(rigidFit(line, 1).reason(), HasSubstr("all one"));
}

Box boxOf(double length, double width, double height) {
    Box box(Vec3::Zero());
    box.extend(Vec3(length, width, height));
    return box;
}

TEST(ScanUnit, IsGuessedBySize) {
    EXPECT_EQ(guessedUnit(boxOf(4310, 1834, 1390)), ScanUnit::mm);
    EXPECT_EQ(guessedUnit(boxOf(1834, 1390, 4310)), ScanUnit::mm);
    EXPECT_EQ(guessedUnit(boxOf(431, 183.4, 139)), ScanUnit::cm);
    EXPECT_EQ(guessedUnit(boxOf(4.31, 1.834, 1.39)), ScanUnit::m);
    EXPECT_EQ(guessedUnit(boxOf(170, 72, 55)), ScanUnit::in);
    EXPECT_EQ(guessedUnit(boxOf(1900, 1400, 1200)), ScanUnit::mm);  // a cab
    EXPECT_EQ(guessedUnit(boxOf(1.9, 1.4, 1.2)), ScanUnit::m);
    EXPECT_EQ(guessedUnit(boxOf(75, 55, 47)), ScanUnit::in);
    EXPECT_EQ(guessedUnit(boxOf(1e-3, 1e-3, 1e-3)), std::nullopt);
    EXPECT_EQ(guessedUnit(boxOf(1e5, 1, 1)), std::nullopt);
    EXPECT_EQ(guessedUnit(Box()), std::nullopt);
    EXPECT_EQ(sizeWords(boxOf(170, 72, 55), ScanUnit::in), "170.0 x 72.0 x 55.0 in, 4318 x 1829 x 1397 mm");
    EXPECT_EQ(sizeWords(boxOf(170, 72, 55), ScanUnit::mm), "170 x 72 x 55 mm");
}

}  // namespace
}  // namespace hoopwright
