#include "rules/mill_wall.h"

#include <algorithm>
#include <cmath>
#include <iterator>

#include "core/units/inch.h"

namespace hoopwright {
namespace {

constexpr double kGauges_in[] = {0.028, 0.035, 0.049, 0.058, 0.065, 0.083, 0.095,
                                 0.109, 0.120, 0.125, 0.134, 0.156, 0.188, 0.250};

/// ASTM A513 type 5: how far under the nominal wall, by OD and wall; the rows that could be read.
struct DrawnRow {
    double over_od_in, to_od_in, wall_in, under_in;
};
constexpr DrawnRow kDrawn[] = {
    {0.875, 1.875, 0.083, 0.003}, {0.875, 1.875, 0.095, 0.003}, {0.875, 1.875, 0.109, 0.004},
    {0.875, 1.875, 0.120, 0.004}, {0.875, 1.875, 0.134, 0.004}, {1.875, 3.750, 0.083, 0.003},
    {1.875, 3.750, 0.095, 0.003}, {1.875, 3.750, 0.109, 0.003}, {1.875, 3.750, 0.120, 0.003},
    {1.875, 3.750, 0.134, 0.003},
};

constexpr double kSameOd_mm = 0.05, kSameWall_mm = 0.03;

std::optional<double> gaugeOf(const TubeSection& section) {
    for (double gauge : kGauges_in)
        if (std::abs(section.wall_mm - gauge * kInch_mm) <= kSameWall_mm) return gauge;
    return std::nullopt;
}

std::optional<LeastWall> drawnOverMandrel(const TubeSection& section) {
    const std::optional<double> gauge = gaugeOf(section);
    if (!gauge) return std::nullopt;
    const double od_in = section.od_mm / kInch_mm;
    const auto* row = std::find_if(std::begin(kDrawn), std::end(kDrawn), [&](const DrawnRow& r) {
        return r.wall_in == *gauge && od_in > r.over_od_in && od_in <= r.to_od_in;
    });
    if (row == std::end(kDrawn)) return std::nullopt;
    return LeastWall{section.wall_mm - row->under_in * kInch_mm, "ASTM A513 type 5"};
}

LeastWall metric(const TubeSection& section) {
    return {section.wall_mm - std::max(0.1 * section.wall_mm, 0.10), "EN 10305-1"};
}

LeastWall inchSeamless(const TubeSection& section) {
    const double share = section.od_mm >= 1.5 * kInch_mm - kSameOd_mm ? 0.075 : 0.10;
    return {section.wall_mm * (1 - share), "ASTM A519, from memory"};
}

}  // namespace

bool ofInchSize(const TubeSection& section) {
    const double sixteenths = section.od_mm / kInch_mm * 16;
    const double off_mm = std::abs(sixteenths - std::round(sixteenths)) * kInch_mm / 16;
    return off_mm <= kSameOd_mm && gaugeOf(section).has_value();
}

std::optional<LeastWall> leastWall(const TubeStock& stock) {
    if (stock.least_wall_mm) return LeastWall{*stock.least_wall_mm, "the stock list"};
    if (stock.standard == "EN 10305-1") return metric(stock.section);
    if (stock.standard == "ASTM A513") return drawnOverMandrel(stock.section);
    if (stock.standard == "ASTM A519") return inchSeamless(stock.section);
    if (!stock.standard.empty()) return std::nullopt;
    switch (stock.form) {
        case TubeForm::seamless:
            return ofInchSize(stock.section) ? inchSeamless(stock.section) : metric(stock.section);
        case TubeForm::drawn_over_mandrel:
            return drawnOverMandrel(stock.section);
        case TubeForm::welded:
            break;
    }
    return std::nullopt;
}

double bentWall_mm(double wall_mm, double od_mm, double radius_mm) {
    return wall_mm * radius_mm / (radius_mm + od_mm / 2);
}

}  // namespace hoopwright
