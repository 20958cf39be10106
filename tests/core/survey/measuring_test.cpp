// The walk round a car: every kind has one, numbered through, and its figures make points of a car.
#include "core/survey/measuring.h"

#include <gmock/gmock.h>

#include <set>

#include "core/survey/survey.h"

namespace hoopwright {
namespace {

using Key = MeasuringFigure::Key;
using Kind = MeasuringItem::Kind;

std::vector<MeasuringItem> itemsOf(Car::Body body, Car::Frame frame) {
    std::vector<MeasuringItem> out;
    for (const MeasuringStage& stage : measuringWalk(body, frame))
        out.insert(out.end(), stage.items.begin(), stage.items.end());
    return out;
}

template <class Visit>
void everyWalk(Visit visit) {
    for (const auto body :
         {Car::Body::saloon, Car::Body::hatchback, Car::Body::open, Car::Body::pickup, Car::Body::van}) {
        for (const auto frame : {Car::Frame::unibody, Car::Frame::ladder, Car::Frame::perimeter})
            visit(body, frame);
    }
}

TEST(TheWalk, IsNumberedThroughWithoutAGap) {
    everyWalk([](Car::Body body, Car::Frame frame) {
        int next = 1;
        std::set<std::pair<Kind, std::string>> names;
        for (const MeasuringItem& item : itemsOf(body, frame)) {
            EXPECT_EQ(item.number, next++);
            EXPECT_TRUE(names.emplace(item.kind, item.name).second) << item.name;
            EXPECT_FALSE(item.title.empty() || item.hook.empty() || item.instrument.empty()) << item.name;
            EXPECT_LE(item.figures.size(), 4u);
            EXPECT_GE(item.figures.size(), 1u);
            for (const MeasuringFigure& figure : item.figures)
                EXPECT_FALSE(figure.label.empty()) << item.name;
        }
    });
}

TEST(TheWalk, TakesLeftAndRightApartAndDatumsFirst) {
    everyWalk([](Car::Body body, Car::Frame frame) {
        std::set<std::string> known;
        const std::vector<MeasuringItem> items = itemsOf(body, frame);
        for (const MeasuringItem& item : items) {
            for (const MeasuringFigure& figure : item.figures) {
                const bool from_another =
                    figure.key == Key::tape ||
                    (figure.key == Key::ahead && figure.from != kDoorEdge && item.kind == Kind::point);
                EXPECT_TRUE(!from_another || known.contains(figure.from)) << item.name;
            }
            known.insert(item.name);
        }
        for (const std::string& name : known) EXPECT_TRUE(known.contains(otherSide(name))) << name;
    });
}

TEST(TheWalk, MakesACarOfTheFiguresOfACar) {
    everyWalk([](Car::Body body, Car::Frame frame) {
        // A car that measures what the drawing shows.
        Car drawn;
        drawn.ground_z_mm = -330;
        const std::vector<MeasuringItem> items = itemsOf(body, frame);
        for (const MeasuringItem& item : items) {
            if (item.kind == Kind::plane) drawn.planes.push_back({item.name, item.drawn.x(), 0});
            if (item.kind == Kind::point) drawn.points.push_back({item.name, item.drawn, 0, ""});
            if (item.kind == Kind::rail) drawn.rails.push_back({item.name, {}, 80, 100, 2, {}});
        }
        Car measured;
        for (const MeasuringItem& item : items) {
            EXPECT_FALSE(isMeasured(measured, item)) << item.name;
            std::vector<std::optional<double>> figures;
            for (const MeasuringFigure& figure : item.figures)
                figures.push_back(figureNow(drawn, item, figure));
            const Expected<Car> next = withFigures(measured, item, figures);
            ASSERT_TRUE(next) << next.reason();
            measured = *next;
            EXPECT_TRUE(isMeasured(measured, item)) << item.name;
            for (std::size_t i = 0; i < figures.size(); ++i)
                EXPECT_NEAR(*figureNow(measured, item, item.figures[i]), *figures[i], 1e-9) << item.name;
        }
        for (const CarPoint& point : drawn.points)
            EXPECT_LT((measured.point(point.name)->at - point.at).norm(), 1e-6) << point.name;
        EXPECT_EQ(measured.ground_z_mm, -330);
        EXPECT_EQ(measured.rails.size(), drawn.rails.size());
    });
}

TEST(Figures, ThatDoNotDoLeaveTheCarAloneAndSayWhy) {
    const std::vector<MeasuringItem> items = itemsOf(Car::Body::saloon, Car::Frame::unibody);
    const auto item = [&](const std::string& name) {
        return *std::find_if(items.begin(), items.end(),
                             [&](const MeasuringItem& one) { return one.name == name; });
    };
    EXPECT_EQ(
        withFigures({}, item("sill_a.left"), {0.0, std::nullopt, 1090.0}).reason(),
        "Sill at the door's front edge, left needs its height, its distance out and its distance ahead");
    EXPECT_EQ(withFigures({}, item("b_pillar_top.left"), {900.0, {}, {}, {}}).reason(),
              "Top of B-pillar, left needs three tapes at least, better all four");
    EXPECT_THAT(withFigures({}, item("b_pillar_top.left"), {900.0, 900.0, 900.0, {}}).reason(),
                testing::HasSubstr("is taped from 'sill_b.left', which is no point of this car"));
    EXPECT_EQ(withFigures({}, item("ground"), {-3.0}).reason(),
              "the sill stands above the ground: write its height, more than 0");
}

TEST(Figures, FollowTheWayAPointIsGiven) {
    const std::vector<MeasuringStage> walk = measuringWalk(Car::Body::saloon, Car::Frame::unibody);
    const MeasuringItem& pillar = *itemOf(walk, "b_pillar_top.left");
    Car car;
    EXPECT_EQ(asGiven(car, walk, pillar).figures, pillar.figures) << "nothing yet: as on the sheet";
    car.points = {{"b_pillar_top.left", {1, 2, 3}, 0, ""}, {"mine", {5, 6, 7}, 0, ""}};
    const MeasuringItem by_hand = asGiven(car, walk, pillar);
    ASSERT_EQ(by_hand.figures.size(), 3u);
    EXPECT_EQ(by_hand.figures[1].label, "y, to the left");
    EXPECT_EQ(figureRead(car, by_hand, by_hand.figures[1]), 2.0);
    EXPECT_EQ(figureRead(car, pillar, pillar.figures[0]), std::nullopt) << "it was never taped";
    ByTapes by;
    by.tapes = {{"sill_b.left", 10, 0}, {"sill_a.left", 11, 0}, {"mine", 12, 0}};
    car.points[0].taken = by;
    const MeasuringItem taped = asGiven(car, walk, pillar);
    ASSERT_EQ(taped.figures.size(), 5u) << "the sheet's four and one of the builder's own";
    EXPECT_EQ(taped.figures[4].label, "from mine");
    EXPECT_EQ(figureRead(car, taped, taped.figures[4]), 12.0);
    EXPECT_EQ(figureRead(car, taped, taped.figures[2]), std::nullopt);
    ByOffsets off;
    off.from = ByOffsets::From::ground;
    off.height_mm = 40;
    off.plane = "front_axle";
    car.points[0].taken = off;
    const MeasuringItem squared = asGiven(car, walk, pillar);
    EXPECT_EQ(squared.figures[0].label, "height over ground");
    EXPECT_EQ(squared.figures[2].label, "ahead of front axle");
    EXPECT_EQ(figureRead(car, squared, squared.figures[0]), 40.0);
    EXPECT_EQ(asAsked(car, walk, pillar, PointWay::tapes).figures, pillar.figures);
    EXPECT_EQ(asAsked(car, walk, *itemOf(walk, "roof_middle"), PointWay::tapes).figures.size(), 2u)
        << "from the two points there are";
}

TEST(Figures, OfATapeReadAgainLeaveWhatElseWasSaidOfIt) {
    const std::vector<MeasuringStage> walk = measuringWalk(Car::Body::saloon, Car::Frame::unibody);
    Car car;
    car.points = {{"sill_b.left", {0, 630, 0}, 2, ""},
                  {"sill_a.left", {1090, 630, 0}, 2, ""},
                  {"sill_b.right", {0, -630, 0}, 2, ""},
                  {"sill_a.right", {1090, -630, 0}, 2, ""},
                  {"b_pillar_top.left", Vec3::Zero(), 4, "by laser"}};
    const Vec3 at(0, 575, -955);
    ByTapes by;
    by.lies = ByTapes::Lies::below;
    for (int i = 0; i < 4; ++i)
        by.tapes.push_back(
            {car.points[std::size_t(i)].name, (at - car.points[std::size_t(i)].at).norm(), 1.5});
    car.points[4].taken = by;
    ASSERT_TRUE(settle(car).empty());
    const MeasuringItem item = asGiven(car, walk, *itemOf(walk, "b_pillar_top.left"));
    std::vector<std::optional<double>> figures;
    for (const MeasuringFigure& figure : item.figures) figures.push_back(figureRead(car, item, figure));
    *figures[0] += 1;
    const Expected<Car> next = withFigures(car, item, figures);
    ASSERT_TRUE(next) << next.reason();
    const ByTapes now = std::get<ByTapes>(next->point("b_pillar_top.left")->taken);
    EXPECT_EQ(now.lies, ByTapes::Lies::below);
    EXPECT_EQ(now.tapes[0].tolerance_mm, 1.5);
    EXPECT_EQ(next->point("b_pillar_top.left")->how, "by laser");
    EXPECT_LT(next->point("b_pillar_top.left")->at.z(), -900);
}

TEST(Figures, KeepWhatTheOwnerSaidOfAPoint) {
    const std::vector<MeasuringItem> items = itemsOf(Car::Body::saloon, Car::Frame::unibody);
    Car car;
    car.points = {{"sill_b.left", {0, 600, 0}, 1.5, "by laser"}};
    const Expected<Car> next = withFigures(car, items[1], {0.0, 630.0, 0.0});
    ASSERT_TRUE(next) << next.reason();
    EXPECT_EQ(next->points[0].at, Vec3(0, 630, 0));
    EXPECT_EQ(next->points[0].tolerance_mm, 1.5);
    EXPECT_EQ(next->points[0].how, "by laser");
}

}  // namespace
}  // namespace hoopwright
