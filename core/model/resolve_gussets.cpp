// Sheet gussets in the corners of two members.
#include <algorithm>
#include <cmath>

#include "core/geometry/distance.h"
#include "core/model/resolver.h"
#include "core/model/sheet_shape.h"

namespace hoopwright::resolving {

namespace {

constexpr double kSheet_kg_per_mm3 = 7850e-9;  ///< steel sheet
constexpr double kGreatestGusset_mm = 1e5;
// A gusset is cut to its corner; a gap this wide is still the same corner.
constexpr double kGap_mm = 10;

/// The two points one leg from `station` along a line, those the line is long enough for.
std::vector<Vec3> legEnds(const Centreline& line, double station, double leg_mm) {
    std::vector<Vec3> ends;
    if (station + leg_mm <= line.length_mm()) ends.push_back(line.point(station + leg_mm));
    if (station - leg_mm >= 0) ends.push_back(line.point(station - leg_mm));
    return ends;
}

}  // namespace

void Resolver::placeGussets() {
    for (std::size_t i = 0; i < job_.cage.gussets.size(); ++i) {
        const bool pair = job_.cage.gussets[i].mirrored;
        placeGusset(static_cast<int>(i), pair ? Side::left : Side::centre);
        if (pair) placeGusset(static_cast<int>(i), Side::right);
    }
}

void Resolver::placeGusset(int layout, Side side) {
    const Gusset& gusset = job_.cage.gussets[static_cast<std::size_t>(layout)];
    ResolvedGusset out;
    out.id = sidedId(gusset.id, side);
    out.layout = layout;
    const auto wrong = [&](Kind kind, const std::string& what, std::string remedy) {
        add({kind, "Gusset " + out.id + " " + what, std::move(remedy), gusset.member_a, "", Vec3::Zero()});
    };
    const auto memberNamed = [&](const std::string& name) {
        const Found found = bar_names_.find(name, side);
        return found.index < 0 ? -1 : member_of_bar_[static_cast<std::size_t>(found.index)];
    };
    out.member_a = memberNamed(gusset.member_a);
    out.member_b = memberNamed(gusset.member_b);
    if (out.member_a < 0 || out.member_b < 0) {
        const std::string& missing = out.member_a < 0 ? gusset.member_a : gusset.member_b;
        return wrong(Kind::no_such_member, "sits on " + missing + ", which is not there.",
                     "name a member of this cage, with its side if there are two");
    }
    if (out.member_a == out.member_b)
        return wrong(Kind::on_itself, "has the same member twice.", "name two members");
    const auto goodSize = [](double mm) { return mm > 0 && mm <= kGreatestGusset_mm; };
    if (!goodSize(gusset.leg_mm) || !goodSize(gusset.thickness_mm)) {
        return wrong(Kind::bad_value, "has no size.", "give it a leg and a thickness above zero");
    }
    const ResolvedMember& a = cage_.members[static_cast<std::size_t>(out.member_a)];
    const ResolvedMember& b = cage_.members[static_cast<std::size_t>(out.member_b)];
    const Nearest meet = nearest(a.line, b.line);
    if (meet.distance_mm > a.radius_mm() + b.radius_mm() + kGap_mm) {
        return wrong(Kind::bad_value, "has no corner: its two members do not meet.",
                     "name two members that meet");
    }
    out.corners[0] = 0.5 * (meet.on_a + meet.on_b);
    out.thickness_mm = gusset.thickness_mm;
    out.formed = gusset.formed;
    out.hole_mm = gusset.hole_mm;
    // Of the corners there are, the sharpest: that is the one a gusset holds.
    double greatest = -2;
    for (const Vec3& leg_a : legEnds(a.line, meet.station_a_mm, gusset.leg_mm)) {
        for (const Vec3& leg_b : legEnds(b.line, meet.station_b_mm, gusset.leg_mm)) {
            const double cosine =
                (leg_a - out.corners[0]).normalized().dot((leg_b - out.corners[0]).normalized());
            if (cosine <= greatest) continue;
            greatest = cosine;
            out.corners[1] = leg_a;
            out.corners[2] = leg_b;
        }
    }
    const std::optional<GussetShape> shape =
        greatest > -2 ? gussetShape(gusset, out.corners, a.radius_mm(), b.radius_mm()) : std::nullopt;
    if (!shape) {
        return wrong(Kind::bad_value, "does not reach past the tubes it sits between.",
                     "give it longer legs");
    }
    if (gusset.hole_mm && !shape->hole) {
        wrong(Kind::bad_value,
              "has no room for a hole of " + length(*gusset.hole_mm) + "; the greatest is " +
                  length(shape->greatest_hole_mm) + ".",
              "give it longer legs, or a smaller hole");
    }
    out.area_mm2 = shape->area_mm2;
    out.mass_kg = shape->volume_mm3 * kSheet_kg_per_mm3;
    cage_.gussets.push_back(std::move(out));
}

}  // namespace hoopwright::resolving
