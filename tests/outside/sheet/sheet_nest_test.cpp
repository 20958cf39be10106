// Second opinion on parts laid on sheets. Reference: Boost.Geometry, distances and areas of polygons.
#include "core/shop/sheet_nest.h"

#include <gtest/gtest.h>

#include <boost/geometry.hpp>
#include <boost/geometry/geometries/point_xy.hpp>
#include <boost/geometry/geometries/polygon.hpp>
#include <random>
#include <set>

namespace hoopwright {
namespace {

namespace bg = boost::geometry;
using BoostPoint = bg::model::d2::point_xy<double>;
using BoostPolygon = bg::model::polygon<BoostPoint, false>;  // counter-clockwise, closed

PlatePart triangleOrBox(std::mt19937& rng, int number) {
    std::uniform_real_distribution<double> side(25, 240);
    PlatePart part;
    part.id = "part" + std::to_string(number);
    part.name = part.id;
    part.thickness_mm = 3;
    part.material = "s235";
    const double x = side(rng), y = side(rng);
    if (number % 3 == 0) {
        part.outline = {{0, 0}, {x, 0}, {x * 0.3, y}};
    } else if (number % 3 == 1) {
        part.outline = {{0, 0}, {x, 0}, {x, y}, {0, y}};
    } else {
        part.outline = {{0, 0}, {x, 0}, {x, y / 2}, {x / 2, y / 2}, {x / 2, y}, {0, y}};
    }
    part.of = {part.id + ".left"};
    if (number % 2 == 0) part.of.push_back(part.id + ".right");
    double twice = 0;
    for (std::size_t i = 0; i < part.outline.size(); ++i) {
        const Vec2 &a = part.outline[i], &b = part.outline[(i + 1) % part.outline.size()];
        twice += a.x() * b.y() - a.y() * b.x();
    }
    part.blank_mm2 = twice / 2;
    return part;
}

BoostPolygon laidOut(const PlatePart& part, const LaidPart& laid) {
    BoostPolygon out;
    for (const Vec2& p : part.outline) {
        const Vec2 q = laid.onSheet(p, part.size_mm());
        bg::append(out.outer(), BoostPoint(q.x(), q.y()));
    }
    bg::append(out.outer(), out.outer().front());
    return out;
}

ShopBook bookOf(double length, double width) {
    ShopBook book;
    book.sheets = {{"plain", "s235", 3, length, width, 0}};
    book.cutting_table = CuttingTable{1.5, 6, 10};
    return book;
}

TEST(SheetNest, PartsKeepKerfAndGapFromEachOtherAndFromTheEdge) {
    for (unsigned seed = 1; seed <= 12; ++seed) {
        std::mt19937 rng(seed);
        std::vector<PlatePart> parts;
        for (int i = 0; i < 4 + static_cast<int>(seed); ++i) parts.push_back(triangleOrBox(rng, i));
        const ShopBook book = bookOf(1000, 500);
        const std::vector<SheetPlan> plans = layOnSheets(parts, &book);
        ASSERT_EQ(plans.size(), 1u);
        ASSERT_TRUE(plans[0].trouble.empty());
        std::multiset<std::pair<int, int>> laid, wanted;
        double area = 0;
        for (std::size_t i = 0; i < parts.size(); ++i)
            for (int k = 0; k < parts[i].count(); ++k) wanted.insert({static_cast<int>(i), k});
        for (const LaidSheet& sheet : plans[0].sheets) {
            std::vector<BoostPolygon> polygons;
            double here = 0;
            for (const LaidPart& one : sheet.parts) {
                laid.insert({one.part, one.copy});
                polygons.push_back(laidOut(parts[static_cast<std::size_t>(one.part)], one));
                ASSERT_TRUE(bg::is_valid(polygons.back()));
                here += bg::area(polygons.back());
                bg::model::box<BoostPoint> box;
                bg::envelope(polygons.back(), box);
                EXPECT_GE(box.min_corner().x(), 11.5 - 1e-9);
                EXPECT_GE(box.min_corner().y(), 11.5 - 1e-9);
                EXPECT_LE(box.max_corner().x(), 1000 - 11.5 + 1e-9);
                EXPECT_LE(box.max_corner().y(), 500 - 11.5 + 1e-9);
            }
            for (std::size_t i = 0; i < polygons.size(); ++i)
                for (std::size_t k = 0; k < i; ++k)
                    EXPECT_GE(bg::distance(polygons[i], polygons[k]), 6 + 2 * 1.5 - 1e-9) << "seed " << seed;
            EXPECT_NEAR(sheet.used, here / (1000 * 500), 1e-12);
            area += here;
        }
        EXPECT_EQ(laid, wanted);
        EXPECT_EQ(plans[0].least, std::max(1, static_cast<int>(std::ceil(area / (977.0 * 477)))));
        EXPECT_GE(static_cast<int>(plans[0].sheets.size()), plans[0].least);
    }
}

TEST(SheetNest, FillsASheetThatIsExactlyFull) {
    PlatePart square;
    square.id = square.name = "square";
    square.thickness_mm = 3;
    square.material = "s235";
    square.outline = {{0, 0}, {100, 0}, {100, 100}, {0, 100}};
    square.blank_mm2 = 1e4;
    for (int i = 0; i < 6; ++i) square.of.push_back("square" + std::to_string(i));
    // Three by two, nine between them, eleven and a half at the edges.
    const ShopBook book = bookOf(3 * 100 + 2 * 9 + 23, 2 * 100 + 9 + 23);
    const std::vector<SheetPlan> plans = layOnSheets(std::vector{square}, &book);
    ASSERT_EQ(plans[0].sheets.size(), 1u);
    EXPECT_TRUE(plans[0].proved());
    const ShopBook tight = bookOf(3 * 100 + 2 * 9 + 23 - 0.01, 2 * 100 + 9 + 23);
    EXPECT_EQ(layOnSheets(std::vector{square}, &tight)[0].sheets.size(), 2u);
}

TEST(SheetNest, SaysWhatIsNotLaidAndWhy) {
    std::mt19937 rng(3);
    std::vector<PlatePart> parts = {triangleOrBox(rng, 1)};
    EXPECT_EQ(layOnSheets(parts, nullptr)[0].trouble.at(0),
              "There is no shop's book, so no sheet to lay the parts on.");
    ShopBook book = bookOf(1000, 500);
    book.cutting_table.reset();
    EXPECT_EQ(layOnSheets(parts, &book)[0].trouble.at(0),
              "The shop's book has no cutting table: add its kerf, gap and edge.");
    book = bookOf(1000, 500);
    parts[0].thickness_mm = 5;
    EXPECT_EQ(layOnSheets(parts, &book)[0].trouble.at(0), "The shop's book has no sheet of s235, 5.00 mm.");
    parts[0].thickness_mm = 3;
    parts[0].outline = {{0, 0}, {990, 0}, {990, 50}, {0, 50}};
    EXPECT_EQ(layOnSheets(parts, &book)[0].trouble.at(0),
              "part1 is 990.0 mm by 50.0 mm flat and does not go on plain: cut it from a larger sheet.");
}

}  // namespace
}  // namespace hoopwright
