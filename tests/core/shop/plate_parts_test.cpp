// Plates, risers and gussets as they lie flat: areas against closed forms, and folded back onto the cage.
#include "core/shop/plate_parts.h"

#include <gmock/gmock.h>

#include <cmath>
#include <numbers>

#include "core/model/bolt_places.h"
#include "core/model/resolve.h"
#include "core/model/sheet_shape.h"
#include "core/shop/fold.h"
#include "tests/core/model/small_cage.h"

namespace hoopwright {
namespace {

using namespace testing;
using ::testing::HasSubstr;

constexpr double kQuarter = std::numbers::pi / 2;

void setFolds(Job& job, std::vector<SheetFold> folds) {
    ShopBook book;
    book.folds = std::move(folds);
    job.shop = std::make_shared<const ShopBook>(std::move(book));
}
Job sheetJob() {
    Job job = hoopJob();
    setFolds(job, {{3, 3, 0.42, {}}, {2, 2.5, 0.4, {}}, {1.5, 2, 0.4, {}}});
    return job;
}
std::vector<PlatePart> partsOf(const Job& job) {
    return plateParts(job, resolve(job), {});
}
PlatePart partNamed(const Job& job, const std::string& id) {
    for (PlatePart& part : partsOf(job))
        if (part.id == id) return part;
    ADD_FAILURE() << "no part " << id;
    return {};
}
double shoelace(const std::vector<Vec2>& p) {
    double sum = 0;
    for (std::size_t i = 0; i < p.size(); ++i) {
        const Vec2 &a = p[i], &b = p[(i + 1) % p.size()];
        sum += a.x() * b.y() - a.y() * b.x();
    }
    return sum / 2;
}

// Source: Machinery's Handbook, lengths of straight stock for bends of 90 degrees (from memory): soft steel
// L = 0.64 T + 1.57 R. Its 1.57 is a quarter turn, rounded.
TEST(Fold, AllowanceOfARightAngleIsTheHandbooks) {
    for (const auto& [thickness, radius] : {std::pair{3.0, 3.0}, {1.5, 2.0}, {3.175, 4.0}, {6.0, 12.0}}) {
        const Fold fold{kQuarter, thickness, radius, 0.64 / kQuarter};
        EXPECT_NEAR(fold.allowance_mm(), 0.64 * thickness + 1.57 * radius, 0.001 * radius);
    }
}

// Source: DIN 6935:1975, compensation v of a right angle at inside radius 2.5, as tables print it to a tenth
// (from memory); k of its formula is 0.65 + lg(r / s) / 2, of half the thickness.
TEST(Fold, DeductionOfARightAngleIsTheTables) {
    for (const auto& [thickness, printed] : {std::pair{1.0, 2.4}, {1.5, 3.2}, {2.0, 4.0}, {2.5, 4.8}}) {
        const double k = (0.65 + 0.5 * std::log10(2.5 / thickness)) / 2;
        EXPECT_NEAR((Fold{kQuarter, thickness, 2.5, k}).deduction_mm(), printed, 0.05) << thickness;
    }
}

TEST(Fold, SaysWhichFigureIsMissing) {
    EXPECT_THAT(foldOf(nullptr, 3, 1).reason(), HasSubstr("no shop's book"));
    ShopBook book;
    EXPECT_THAT(foldOf(&book, 3, 1).reason(), HasSubstr("no fold in sheet of 3.00 mm"));
    book.folds = {{3, 3, {}, {}}};
    EXPECT_THAT(foldOf(&book, 3, 1).reason(), HasSubstr("no k for sheet of 3.00 mm"));
}

TEST(PlateParts, OfAPlainPlateIsItsRectangleOnceForBothSides) {
    Job job = sheetJob();
    const PlatePart foot = partNamed(job, "hoop_foot");
    EXPECT_EQ(foot.trouble, "");
    EXPECT_THAT(foot.of, ::testing::ElementsAre("hoop_foot.left", "hoop_foot.right"));
    EXPECT_NEAR(foot.blank_mm2, 150 * 120, 1e-9);
    EXPECT_NEAR(foot.weld_mm, 540, 1e-9);
    EXPECT_NEAR(foot.blank_kg, 150 * 120 * 3 * 7850e-9, 1e-12);
    EXPECT_FALSE(foot.handed);
    ASSERT_EQ(foot.feet.size(), 2u);
}

TEST(PlateParts, OfAFlapIsLongerByItLessWhatTheFoldSaves) {
    Job job = sheetJob();
    job.cage.plates[0].flaps = {{PlateEdge::left, 40, kQuarter}};
    const PlatePart foot = partNamed(job, "hoop_foot");
    ASSERT_EQ(foot.trouble, "");
    const double across = 120 + 40 - 2 * (3 + 3) + kQuarter * (3 + 0.42 * 3);
    EXPECT_NEAR(foot.size_mm().x(), 150, 1e-9);
    EXPECT_NEAR(foot.size_mm().y(), across, 1e-9);
    EXPECT_NEAR(foot.blank_mm2, 150 * across, 1e-6);
    EXPECT_NEAR(foot.faces_mm2, 150 * (120 + 40), 1e-9);
    EXPECT_NEAR(foot.weld_mm, 2 * (150 + 120) + 2 * 40, 1e-9);
    ASSERT_EQ(foot.folds.size(), 1u);
    EXPECT_TRUE(foot.folds[0].towards);
    EXPECT_FALSE(foot.handed) << "the right one is this one turned half round";
    job.cage.plates[0].flaps = {{PlateEdge::ahead, 40, -kQuarter}};
    const PlatePart ahead = partNamed(job, "hoop_foot");
    EXPECT_FALSE(ahead.handed);
    EXPECT_FALSE(ahead.folds[0].towards);
    job.cage.plates[0].flaps = {{PlateEdge::ahead, 40, kQuarter}, {PlateEdge::left, 30, kQuarter}};
    EXPECT_TRUE(partNamed(job, "hoop_foot").handed) << "the right one is the mirror image";
}

/// The line along the outer face from the plate's flat over a fold and on, in the plane across the fold.
Vec2 walkedOver(const PartFold& fold, double flat_before, double flat_after, double thickness) {
    const double outer = fold.radius_mm + thickness, a = fold.angle_rad;
    return {flat_before + outer * std::sin(a) + flat_after * std::cos(a),
            outer * (1 - std::cos(a)) + flat_after * std::sin(a)};
}

TEST(PlateParts, FlapsFoldedBackLandOnTheModel) {
    for (const double angle : {0.4, kQuarter, 1.9, -kQuarter, -0.7}) {
        Job job = sheetJob();
        job.cage.plates[0].flaps = {
            {PlateEdge::left, 42, angle}, {PlateEdge::right, 35, -angle}, {PlateEdge::ahead, 50, kQuarter}};
        const bool steep = std::abs(angle) > kQuarter;
        if (steep) job.cage.plates[0].flaps.pop_back();
        const CageGeometry cage = resolve(job);
        ASSERT_TRUE(cage.problems.empty()) << cage.problems.front().text;
        const PlatePart foot = partNamed(job, "hoop_foot");
        ASSERT_EQ(foot.trouble, "") << angle;
        for (const ResolvedPlate& plate : {cage.plates[0], cage.plates[1]}) {
            for (const PlacedFlap& flap : placedFlaps(job.cage.plates[0], plate)) {
                const std::string called = flap.edge == PlateEdge::ahead ? "flap ahead"
                                           : (flap.edge == PlateEdge::left) == (plate.side == Side::left)
                                               ? "flap left"
                                               : "flap right";
                const auto fold = std::find_if(foot.folds.begin(), foot.folds.end(),
                                               [&](const PartFold& f) { return f.what == called; });
                ASSERT_NE(fold, foot.folds.end());
                // From the middle of the plate across the fold: how far the flat goes before and after.
                const Vec2 mid = (fold->from + fold->to) / 2, along = (fold->to - fold->from).normalized();
                const Vec2 out(along.y(), -along.x());
                double end = 0;
                for (const Vec2& p : foot.outline) end = std::max(end, (p - foot.middle).dot(out));
                const double at = (mid - foot.middle).dot(out);
                const Vec2 free = walkedOver(*fold, at - fold->allowance_mm / 2,
                                             end - at - fold->allowance_mm / 2, plate.thickness_mm);
                const Vec3 edge_out = (flap.edge == PlateEdge::ahead  ? Vec3(plate.axes.col(0))
                                       : flap.edge == PlateEdge::left ? Vec3(plate.axes.col(1))
                                                                      : Vec3(-plate.axes.col(1)));
                const double sign = flap.angle_rad > 0 ? 1 : -1;
                const Vec3 start = plate.at + (sign > 0 ? -plate.thickness_mm : 0.0) * plate.axes.col(2);
                const Vec3 reached = start + free.x() * edge_out + sign * free.y() * plate.axes.col(2);
                const Vec3 model = flap.from + flap.length_mm * flap.along;
                EXPECT_NEAR((reached - model).dot(edge_out), 0, 1e-9);
                EXPECT_NEAR((reached - model).dot(plate.axes.col(2)), 0, 1e-9);
            }
        }
    }
}

/// Folds a riser's strip back, wall by wall, and gives the outer corners it makes, from the seam on.
std::vector<Vec2> foldedBack(const PlatePart& riser, const Vec2& from, const Vec2& way) {
    std::vector<Vec2> corners = {from};
    Vec2 at = from, along = way;
    double x = 0;
    for (const PartFold& fold : riser.folds) {
        const double begins = fold.from.x() - fold.allowance_mm / 2;
        at += (begins - x) * along;
        // Away from whoever looks at its outside: the outer face is outside the fold.
        const double turn = fold.towards ? -fold.angle_rad : fold.angle_rad;
        const double outer = fold.towards ? fold.radius_mm : fold.radius_mm + riser.thickness_mm;
        corners.emplace_back(at + outer * std::tan(fold.angle_rad / 2) * along);
        const Vec2 next = Eigen::Rotation2Dd(turn) * along;
        at = corners.back() + outer * std::tan(fold.angle_rad / 2) * next;
        along = next;
        x = begins + fold.allowance_mm;
    }
    corners.emplace_back(at + (riser.size_mm().x() - x) * along);
    return corners;
}

TEST(PlateParts, ARiserUnfoldedIsOneStripAndFoldedBackLandsOnTheModel) {
    const std::vector<std::vector<Vec2>> outlines = {
        {},
        {{-70, -60}, {80, -60}, {60, 70}, {-70, 60}},
        {{-80, -60}, {80, -60}, {80, 0}, {20, 0}, {20, 60}, {-80, 60}},  // one corner points inwards
        {{-80, -20}, {-40, -60}, {40, -60}, {80, -20}, {80, 60}, {-80, 60}}};
    for (const std::vector<Vec2>& outline : outlines) {
        Job job = sheetJob();
        job.cage.plates[0].outline = outline;
        job.cage.plates[0].riser = Riser{60, 2};
        const CageGeometry cage = resolve(job);
        const PlatePart riser = partNamed(job, "hoop_foot.riser");
        ASSERT_EQ(riser.trouble, "");
        const ResolvedPlate& plate = cage.plates[0];
        EXPECT_NEAR(riser.faces_mm2, plate.riser_area_mm2, 1e-6);
        EXPECT_NEAR(riser.size_mm().y(), 60, 1e-12);
        EXPECT_EQ(riser.folds.size() + 1, plate.outline.size());
        // Some corner is the seam: begun there, the strip makes all others and comes back to it but for the
        // butt.
        double best = 1e300;
        const std::size_t n = plate.outline.size();
        for (std::size_t seam = 0; seam < n; ++seam) {
            const Vec2 from = plate.outline[seam], way = (plate.outline[(seam + 1) % n] - from).normalized();
            const std::vector<Vec2> made = foldedBack(riser, from, way);
            double worst = 0;
            for (std::size_t k = 1; k < n; ++k)
                worst = std::max(worst, (made[k] - plate.outline[(seam + k) % n]).norm());
            const Vec2 last = (from - plate.outline[(seam + n - 1) % n]).normalized();
            const Vec2 off = from - made.back();
            worst = std::max(worst, std::abs(off.x() * last.y() - off.y() * last.x()));
            if (worst < best) best = worst;
            if (outline.empty() && worst < 1e-6) {
                EXPECT_NEAR(off.dot(last), 2, 1e-9) << "butts on the inside of the first wall";
            }
        }
        EXPECT_LT(best, 1e-6);
    }
    Job job = sheetJob();
    job.cage.plates[0].riser = Riser{60, 2};
    const PlatePart riser = partNamed(job, "hoop_foot.riser");
    const double fold = 2 * (2.5 + 2) - kQuarter * (2.5 + 0.4 * 2);
    EXPECT_NEAR(riser.size_mm().x(), 2 * (150 + 120) - 3 * fold - 2, 1e-9);
    EXPECT_NEAR(riser.weld_mm, 2 * 540 + 60, 1e-9);
}

Job gussetJob(bool formed) {
    Job job = sheetJob();
    job.cage.plates.clear();
    job.cage.members = {bar("post", {at(0, 0, -500), at(0, 0, 500)}),
                        bar("arm", {onHeight("post", 0), at(600, 0, 0)}, "38x2.5")};
    Gusset gusset;
    gusset.id = "corner";
    gusset.member_a = "post";
    gusset.member_b = "arm";
    gusset.leg_mm = 110;
    gusset.thickness_mm = 1.5;
    gusset.formed = formed;
    job.cage.gussets = {gusset};
    return job;
}

// The cage weighs a riser with sharp corners, each once; the strip that is cut is shorter by what its folds
// save.
TEST(PlateParts, ARisersStripIsItsSharpBoxLessWhatTheFoldsSave) {
    Job job = sheetJob();
    const double plain = resolve(job).plates[0].mass_kg;
    job.cage.plates[0].riser = Riser{60, 2};
    const PlatePart riser = partNamed(job, "hoop_foot.riser");
    // Four right angles; three are folded with r 2.5 and k 0.4, the fourth is butted.
    const double saves = 2 * (2.5 + 2) - kQuarter * (2.5 + 0.4 * 2) - 2;
    const double sharp_mm2 = 2 * (150 + 120) - 4 * 2;
    EXPECT_NEAR(riser.blank_mm2, (sharp_mm2 - 3 * saves) * 60, 1e-9);
    EXPECT_NEAR(resolve(job).plates[0].mass_kg - plain, sharp_mm2 * 60 * 2 * 7850e-9, 1e-12);
    EXPECT_GT(riser.blank_kg, 0.98 * sharp_mm2 * 60 * 2 * 7850e-9);
}

TEST(PlateParts, AFlatGussetIsTheTriangleBetweenTheTubes) {
    Job job = gussetJob(false);
    const double leg = 110 - 22.5 - 19;
    PlatePart part = partNamed(job, "corner");
    EXPECT_NEAR(part.blank_mm2, leg * leg / 2, 1e-6);
    EXPECT_NEAR(part.weld_mm, 4 * leg, 1e-6);
    EXPECT_NEAR(part.blank_kg, resolve(job).gussets[0].mass_kg, 1e-9);
    job.cage.gussets[0].hole_mm = 16;
    part = partNamed(job, "corner");
    ASSERT_EQ(part.holes.size(), 1u);
    EXPECT_NEAR(part.blank_mm2, leg * leg / 2 - std::numbers::pi * 64, 1e-6);
    // In the middle of the circle that touches all three sides: as far from both legs.
    const double inner = leg * (1 - std::numbers::sqrt2 / 2);
    double nearest = 1e300;
    for (std::size_t i = 0; i < 3; ++i) {
        const Vec2 a = part.outline[i], along = part.outline[(i + 1) % 3] - a, to = part.holes[0].at - a;
        nearest = std::min(nearest, std::abs(along.x() * to.y() - along.y() * to.x()) / along.norm());
    }
    EXPECT_NEAR(nearest, inner, 1e-6);
    job.cage.gussets[0].hole_mm = 60;
    EXPECT_THAT(resolve(job).problems.at(0).text, HasSubstr("no room for a hole of 60.0 mm"));
    EXPECT_THAT(partNamed(job, "corner").cautions.at(0), HasSubstr("does not fit"));
}

TEST(PlateParts, AFormedGussetHasItsClosedFormsAndItsTubesInItsEnds) {
    Job job = gussetJob(true);
    const CageGeometry cage = resolve(job);
    ASSERT_TRUE(cage.problems.empty());
    const PlatePart part = partNamed(job, "corner");
    ASSERT_EQ(part.trouble, "");
    const double open = 110 * std::numbers::sqrt2, deep = 110 / std::numbers::sqrt2, half = 22.5;
    const auto half_ellipse = [](double r) { return std::numbers::pi / 2 * r * r * std::numbers::sqrt2; };
    const double strip = open * 2 * half - half_ellipse(22.5) - half_ellipse(19);
    EXPECT_NEAR(part.faces_mm2, 110 * 110 + strip, 1e-6);
    EXPECT_NEAR(cage.gussets[0].area_mm2, part.faces_mm2, 1e-9);
    EXPECT_NEAR(cage.gussets[0].mass_kg, (part.faces_mm2 * 1.5 + 2 * open * 1.5 * 1.5) * 7850e-9, 1e-12);
    // The blank in three kinds of strips: cheeks beyond the folds, folds by a fine sum, the flat of the
    // strip.
    const double r = 2, allowance = kQuarter * (2 + 0.4 * 1.5), z0 = half - r;
    const double cheeks = 2 * (110 * 110 / 2.0) * std::pow((deep - r) / deep, 2);
    const auto segment = [&](double tube) {  // of sqrt(tube^2 - z^2) over |z| < z0
        const double z = std::min(z0, tube);
        return z * std::sqrt(tube * tube - z * z) + tube * tube * std::asin(z / tube);
    };
    const double flat = 2 * z0 * open - std::numbers::sqrt2 * (segment(22.5) + segment(19));
    double folds = 0;
    constexpr int kSlices = 20000;
    for (int i = 0; i < kSlices; ++i) {
        const double turn = kQuarter * (i + 0.5) / kSlices;
        const double out = z0 + r * std::sin(turn), in = r * (1 - std::cos(turn));
        double width = open;
        for (const double tube : {22.5, 19.0})
            width -= (std::sqrt(std::max(0.0, tube * tube - out * out)) + in * std::sqrt(0.5)) *
                     std::numbers::sqrt2;
        folds += 2 * width * allowance / kSlices;
    }
    EXPECT_NEAR(part.blank_mm2, cheeks + flat + folds, 1);
    EXPECT_NEAR(shoelace(part.outline), part.blank_mm2, 1e-9);
    EXPECT_NEAR(part.size_mm().x(), 2 * (z0 + allowance + deep - r), 1e-9);
    ASSERT_EQ(part.folds.size(), 2u);
    EXPECT_NEAR(std::abs(part.folds[1].from.x() - part.folds[0].from.x()), 2 * z0 + allowance, 1e-9);
    // Every place of the strip's end lies on its tube, of the flat and of the folds alike.
    for (const double out : {0.0, 8.0, 17.0}) {
        const double along = stripStart_mm(22.5, std::numbers::pi / 4, out, 0);
        EXPECT_NEAR(std::hypot(along * std::sin(std::numbers::pi / 4), out), 22.5, 1e-9);
    }
    EXPECT_THAT(part.words.back(), HasSubstr("3.5 mm"));
    job.cage.gussets[0].hole_mm = 20;
    EXPECT_EQ(partNamed(job, "corner").holes.size(), 2u);
}

TEST(PlateParts, WithoutTheFoldsFigureHaveNoFlatAndSayWhich) {
    Job job = sheetJob();
    job.cage.plates[0].flaps = {{PlateEdge::left, 40, kQuarter}};
    job.cage.plates[1].riser = Riser{50, 2};
    setFolds(job, {{3, 3, {}, {}}});
    const PlatePart foot = partNamed(job, "hoop_foot"), riser = partNamed(job, "brace_foot.riser");
    EXPECT_THAT(foot.trouble, HasSubstr("no k for sheet of 3.00 mm"));
    EXPECT_TRUE(foot.outline.empty());
    EXPECT_THAT(riser.trouble, HasSubstr("no fold in sheet of 2.00 mm"));
    EXPECT_TRUE(partNamed(job, "brace_foot").trouble.empty()) << "what is not folded has its flat";
    setFolds(job, {{3, 3, 0.42, 45.0}});
    EXPECT_THAT(partNamed(job, "hoop_foot").trouble, HasSubstr("needs 45.0 mm to be held"));
    setFolds(job, {{3, 8, 0.42, {}}});
    job.cage.plates[0].flaps.push_back({PlateEdge::ahead, 40, kQuarter});
    EXPECT_THAT(partNamed(job, "hoop_foot").trouble, HasSubstr("of the corner, the notch there is 7.5 mm"));
}

TEST(PlateParts, BoltsStandAsTheRuleSaysOrAreRefused) {
    const std::vector<Vec2> outline = {{-75, -60}, {75, -60}, {75, 60}, {-75, 60}};
    Bolts bolts{4, 8, "8.8", 40.0, 15.0};
    const auto places = boltPlaces(outline, bolts);
    ASSERT_TRUE(places);
    EXPECT_TRUE(places->front().isApprox(Vec2(-60, -45)));
    bolts.count = 8;
    const auto eight = boltPlaces(outline, bolts);
    ASSERT_TRUE(eight);
    EXPECT_TRUE((*eight)[1].isApprox(Vec2(0, -45)));
    bolts.pitch_mm = 70;
    EXPECT_THAT(boltPlaces(outline, bolts).reason(),
                HasSubstr("come 45.0 mm from each other where 70.0 mm is the least"));
}

TEST(PlateParts, BoltHolesAreThroughPlateAndBackingAndOffTheTube) {
    Job job = sheetJob();
    Plate& plate = job.cage.plates[0];
    plate.fixing = Fixing::bolted;
    plate.bolts = {4, 8, "8.8", {}, 15.0};
    plate.backing = BackingPlate{150, 120, 4};
    const PlatePart foot = partNamed(job, "hoop_foot"), back = partNamed(job, "hoop_foot.backing");
    ASSERT_EQ(foot.holes.size(), 4u);
    // Source: ISO 273, medium fit of M8 (from memory).
    EXPECT_EQ(foot.holes[0].diameter_mm, 9);
    EXPECT_TRUE(foot.holes[0].at.isApprox(Vec2(15, 15)));
    EXPECT_TRUE(foot.cautions.empty());
    EXPECT_EQ(foot.weld_mm, 0);
    EXPECT_EQ(back.holes.size(), 4u);
    EXPECT_NEAR(back.blank_mm2, 150 * 120 - 4 * std::numbers::pi / 4 * 81, 1e-9);
    plate.bolts.edge_mm = 50;
    EXPECT_THAT(partNamed(job, "hoop_foot").cautions.at(0), HasSubstr("Main hoop"));
    plate.bolts.diameter_mm = 9;
    plate.bolts.edge_mm = 15;
    EXPECT_EQ(partNamed(job, "hoop_foot").holes[0].diameter_mm, 0);
    EXPECT_THAT(partNamed(job, "hoop_foot").cautions.at(0), HasSubstr("No hole size is known"));
}

TEST(PlateParts, SupportedAreaIsWhatLiesOnTheRail) {
    Job job = sheetJob();
    // Its top is where the plate's lower face is.
    job.car.rails.push_back({"sill.left", {{-175, 600, -43}, {1000, 600, -43}}, 100, 80, 2});
    job.cage.plates[0].rail = "sill.left";
    job.cage.plates[0].mirrored = false;
    job.cage.members.clear();
    job.cage.plates.pop_back();
    PlatePart foot = partNamed(job, "hoop_foot");
    ASSERT_EQ(foot.supports.size(), 1u);
    EXPECT_NEAR(foot.supports[0].on_rail_mm2, 150 * 100, 1e-6);
    EXPECT_NEAR(foot.supports[0].off_rail_mm2, 150 * 20, 1e-6);
    job.car.rails[0].line[0].x() = -100;  // it begins under the plate's middle
    EXPECT_NEAR(partNamed(job, "hoop_foot").supports[0].on_rail_mm2, 75 * 100, 1e-6);
    job.car.rails[0].line = {{-175, 600, -53}, {1000, 600, -53}};
    EXPECT_NEAR(partNamed(job, "hoop_foot").supports[0].on_rail_mm2, 0, 1e-9) << "10 mm of air";
    // A flap folded up along the inner side of a sill: its outer face lies there, 30 of its 40 high.
    job.car.rails[0].line = {{-1000, 710, -13}, {1000, 710, -13}};
    job.cage.plates[0].flaps = {{PlateEdge::left, 40, kQuarter}};
    foot = partNamed(job, "hoop_foot");
    ASSERT_EQ(foot.supports.size(), 2u);
    EXPECT_NEAR(foot.supports[0].on_rail_mm2, 0, 1e-9);
    EXPECT_NEAR(foot.supports[1].on_rail_mm2, 150 * (27 + 3), 1e-6);
    EXPECT_NEAR(foot.supports[1].off_rail_mm2, 150 * 10, 1e-6);
}

TEST(SheetShape, FlapsAreMadeOfMetalAndMirrored) {
    Job job = sheetJob();
    const double plain = resolve(job).plates[0].mass_kg;
    job.cage.plates[0].flaps = {{PlateEdge::left, 40, kQuarter}, {PlateEdge::ahead, 30, kQuarter}};
    const CageGeometry cage = resolve(job);
    // Sharp corners: the outside of the flaps less the square of sheet that is counted in the plate, the
    // corner's notch 7.5 wide out of the plate and off both flaps.
    const double cut = 2.5 * 3;
    const double volume = 3 * ((150 - cut) * (40 - 3) + (120 - cut) * (30 - 3) - cut * cut);
    EXPECT_NEAR(cage.plates[0].mass_kg - plain, volume * 7850e-9, 1e-12);
    const auto left = placedFlaps(job.cage.plates[0], cage.plates[0]);
    const auto right = placedFlaps(job.cage.plates[0], cage.plates[1]);
    ASSERT_EQ(left.size(), 2u);
    for (std::size_t i = 0; i < 2; ++i) {
        const auto mirror = [](const Vec3& p) { return Vec3(p.x(), -p.y(), p.z()); };
        EXPECT_TRUE(right[i].from.isApprox(mirror(left[i].to)));
        EXPECT_TRUE(right[i].to.isApprox(mirror(left[i].from)));
        EXPECT_TRUE(right[i].along.isApprox(mirror(left[i].along), 1e-12));
        EXPECT_TRUE(right[i].outward.isApprox(mirror(left[i].outward), 1e-12));
    }
    job.cage.plates[0].riser = Riser{40, 2};
    EXPECT_THAT(resolve(job).problems.at(0).text, HasSubstr("flaps and a riser"));
    job.cage.plates[0].riser.reset();
    job.cage.plates[0].flaps[1].edge = PlateEdge::left;
    EXPECT_THAT(resolve(job).problems.at(0).text, HasSubstr("two flaps on one edge"));
}

}  // namespace
}  // namespace hoopwright
