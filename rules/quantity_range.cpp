#include "rules/quantity_range.h"

#include <algorithm>
#include <array>
#include <numbers>
#include <string_view>

#include "core/model/stock.h"

namespace hoopwright {
namespace {

constexpr double kNoEnd = std::numeric_limits<double>::infinity();
constexpr double kRight = std::numbers::pi / 2;

struct NamedRange {
    std::string_view name;
    QuantityRange range;
};

// Quantities whose dimension alone does not say it. A new one belongs here if it cannot be anything.
constexpr std::array kNamed = std::to_array<NamedRange>({
    {"angle_to_vertical", {0, kRight, false}},
    {"angle_to_horizontal", {0, kRight, false}},
    {"angle_to_fore_aft", {0, kRight, false}},
    {"joint_angle", {0, kRight, false}},
    {"included_angle", {0, kRight, false}},
    {"bend_sum", {0, kNoEnd, false}},
    {"greatest_bend", {0, 2 * kRight, false}},
    {"od", {0, kNoEnd, false}},
    {"wall", {0, kNoEnd, false}},
    {"least_wall", {0, kNoEnd, false}},
    {"measured_wall", {0, kNoEnd, false}},
    {"bow", {0, kNoEnd, false}},
    {"out_of_plane", {0, kNoEnd, false}},
    {"support_from_bow", {0, kNoEnd, false}},
    {"support_from_bend", {0, kNoEnd, false}},
    {"length", {0, kNoEnd, false}},
    {"unsupported_length", {0, kNoEnd, false}},
    {"end_to_place", {0, kNoEnd, false}},
    {"mirror_difference", {0, kNoEnd, false}},
    {"joint_offset", {0, kNoEnd, false}},
    {"plate_thickness", {0, kNoEnd, false}},
    {"plate_least_side", {0, kNoEnd, false}},
    {"plate_greatest_side", {0, kNoEnd, false}},
    {"plate_area_over_od", {0, kNoEnd, false}},
    {"plate_side_over_od", {0, kNoEnd, false}},
    {"bolt_diameter", {0, kNoEnd, false}},
    {"backing_thickness", {0, kNoEnd, false}},
    {"gusset_thickness", {0, kNoEnd, false}},
    {"gusset_leg", {0, kNoEnd, false}},
    {"gusset_hole", {0, kNoEnd, false}},
    {"plate_planes", {0, 5, true}},
    {"gusset_leg_over_od", {0, kNoEnd, false}},
    {"least_padding", {0, kNoEnd, false}},
    {"belt_run", {0, kNoEnd, false}},
    {"belt_spacing", {0, kNoEnd, false}},
    {"clear_opening", {0, kNoEnd, false}},
    {"stiffness_over", {0, kNoEnd, false}},
    {"strength_over", {0, kNoEnd, false}},
    {"bend_radius_over_od", {0, kNoEnd, false}},
    {"carbon", {0, 100, false}},
    {"elongation", {0, 100, false}},
    {"windshield_hidden", {0, 1, false}},
    {"bend_count", {0, kNoEnd, true}},
    {"feet", {0, 2, true}},  // a bar has two ends
    {"gussets_at_joint", {0, kNoEnd, true}},
    {"bolt_count", {0, kNoEnd, true}},
});

}  // namespace

QuantityRange rangeOf(const Quantity& quantity) {
    if (quantity.counts) return {0, kNoEnd, true};
    const auto named = std::find_if(kNamed.begin(), kNamed.end(),
                                    [&](const NamedRange& one) { return one.name == quantity.info.name; });
    if (named != kNamed.end()) return named->range;
    switch (quantity.info.dimension) {
        case Dimension::angle:
            return {-2 * kRight, 2 * kRight, false};
        case Dimension::area:
        case Dimension::mass:
        case Dimension::stress:
        case Dimension::inertia:
        case Dimension::speed:
        case Dimension::time:
        case Dimension::volume:
            return {0, kNoEnd, false};
        case Dimension::none:
        case Dimension::length:
            break;
    }
    return {};
}

std::vector<std::string> wordsPossible(const Quantity& quantity) {
    if (quantity.info.name == "fixing") return {"welded", "bolted"};
    std::vector<std::string> out;
    if (quantity.info.name == "form")
        for (TubeForm form : {TubeForm::seamless, TubeForm::drawn_over_mandrel, TubeForm::welded})
            out.emplace_back(formWord(form));
    return out;
}

}  // namespace hoopwright
