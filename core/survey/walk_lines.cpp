#include "core/survey/walk_lines.h"

#include <algorithm>
#include <array>
#include <optional>
#include <set>
#include <string>
#include <vector>

#include "core/survey/line_list.h"

namespace hoopwright {
namespace {

using Names = std::vector<std::string>;
using LineKind = CarLine::Kind;

/// A line through points. Of a sided one, points are named without their side.
struct Recipe {
    std::string line;
    bool sided = false;
    LineKind kind = LineKind::body;
    bool closed = false;
    Names through;
};

std::string rearTop(Car::Body body) {
    return body == Car::Body::pickup ? "cab_corner_top"
           : body == Car::Body::van  ? "d_pillar_top"
                                     : "c_pillar_top";
}

std::vector<Recipe> bodyRecipes(Car::Body body) {
    const std::string rear = rearTop(body);
    std::vector<Recipe> out = {
        {"windshield",
         false,
         LineKind::glass,
         true,
         {"a_pillar_foot.left", "windshield_top.left", "windshield_top.right", "a_pillar_foot.right"}},
        {"a_pillar", true, LineKind::body, false, {"a_pillar_foot", "windshield_top"}},
        {"sill", true, LineKind::body, false, {"sill_a", "sill_b"}},
        {"floor",
         false,
         LineKind::floor,
         true,
         {"floor_front.left", "floor.left", "floor_rear.left", "floor_rear.right", "floor.right",
          "floor_front.right"}},
        {"firewall", false, LineKind::body, false, {"firewall.left", "firewall_middle", "firewall.right"}},
        {"dash", false, LineKind::body, false, {"dash.left", "dash_middle", "dash.right"}},
        {"wheel_tub", true, LineKind::floor, false, {"wheel_tub_front", "wheel_tub", "wheel_tub_rear"}},
        {"tunnel", false, LineKind::floor, false, {"tunnel_side.left", "tunnel_top", "tunnel_side.right"}},
        {"parcel_shelf",
         false,
         LineKind::floor,
         false,
         {"parcel_shelf.left", "parcel_shelf", "parcel_shelf.right"}},
        {"cab_corner", true, LineKind::body, false, {"cab_corner_top", "cab_corner_foot"}},
        {"bed_floor", false, LineKind::floor, false, {"bed_floor.left", "bed_floor.right"}},
        {"rear_deck", false, LineKind::opening, false, {"deck_corner.left", "deck_corner.right"}},
        {"tailgate_opening",
         false,
         LineKind::opening,
         true,
         {rear + ".left", "tailgate_foot.left", "tailgate_foot.right", rear + ".right"}},
    };
    if (body == Car::Body::open) {
        out.push_back({"door_opening",
                       true,
                       LineKind::opening,
                       true,
                       {"sill_b", "b_post_top", "a_pillar_foot", "sill_a"}});
        return out;
    }
    out.push_back({"roof_rail", true, LineKind::body, false, {"windshield_top", "b_pillar_top", rear}});
    out.push_back({"b_pillar", true, LineKind::body, false, {"sill_b", "b_pillar_waist", "b_pillar_top"}});
    out.push_back(
        {"door_opening",
         true,
         LineKind::opening,
         true,
         {"sill_b", "b_pillar_waist", "b_pillar_top", "windshield_top", "a_pillar_foot", "sill_a"}});
    return out;
}

/// A rail through points on its top; `beside`: they lie at its inner edge, as the sill's do.
struct RailRecipe {
    std::string rail;
    Names through;
    bool beside = false;
};

std::vector<RailRecipe> railRecipes(Car::Frame frame) {
    if (frame == Car::Frame::unibody) {
        return {{"sill", {"sill_a", "sill_b"}, true},
                {"front_leg", {"front_kick", "front_leg"}},
                {"rear_leg", {"rear_leg", "rear_leg_end"}}};
    }
    return {{"frame", {"frame_front", "frame_a", "frame_b", "frame_rear"}}};
}

class Drawer {
public:
    Drawer(Car& car, std::string_view by) : car_(car), by_(by) {
        for (const WantedLine& one : wantedLines(car.body, car.frame)) wanted_.insert(one.name);
    }

    void draw() {
        for (const Recipe& recipe : bodyRecipes(car_.body)) {
            // A line of that name without a side stands for both.
            if (!wanted_.contains(recipe.line) || (recipe.sided && car_.line(recipe.line))) continue;
            if (!recipe.sided) {
                addLine(recipe.line, recipe, recipe.through);
                continue;
            }
            for (const char* side : {".left", ".right"})
                addLine(recipe.line + side, recipe, sided(recipe.through, side));
        }
        for (const RailRecipe& recipe : railRecipes(car_.frame)) {
            for (const char* side : {".left", ".right"})
                fillRail(recipe.rail + side, sided(recipe.through, side), recipe.beside, side);
        }
        if (wanted_.contains("roof_skin")) skin();
    }

private:
    static Names sided(const Names& stems, const std::string& side) {
        Names out;
        for (const std::string& stem : stems) out.push_back(stem + side);
        return out;
    }

    bool goesThrough(const Names& through, const std::string& name) const {
        return by_.empty() || by_ == name || std::ranges::find(through, by_) != through.end();
    }
    bool measured(const Names& through) const {
        return std::ranges::all_of(through, [&](const std::string& one) { return car_.point(one); });
    }

    void addLine(const std::string& name, const Recipe& recipe, const Names& through) {
        if (car_.line(name) || !goesThrough(through, name) || !measured(through)) return;
        CarLine line;
        line.name = name;
        line.kind = recipe.kind;
        line.closed = recipe.closed;
        for (const std::string& point : through) {
            line.points.push_back(car_.point(point)->at);
            line.corners.push_back({point, Vec3::Zero()});
        }
        car_.lines.push_back(std::move(line));
    }

    void fillRail(const std::string& name, const Names& through, bool beside, std::string_view side) {
        const auto rail = std::ranges::find(car_.rails, name, &FrameRail::name);
        if (rail == car_.rails.end() || rail->line.size() > 1 || !goesThrough(through, name) ||
            !measured(through))
            return;
        const double out = beside ? rail->width_mm / 2 : 0;
        const Vec3 offset(0, side == ".right" ? -out : out, -rail->height_mm / 2);
        rail->line.clear();
        rail->corners.clear();
        for (const std::string& point : through) {
            rail->line.push_back(car_.point(point)->at + offset);
            rail->corners.push_back({point, offset});
        }
    }

    /// Both sides of a pair, as one half: x, how far out, height.
    std::optional<Vec3> half(const std::string& stem) const {
        const auto left = car_.pointAt(stem + ".left"), right = car_.pointAt(stem + ".right");
        if (!left || !right) return std::nullopt;
        return Vec3((*left + mirrored(*right)) / 2);
    }

    void skin() {
        static constexpr std::array<const char*, 3> kNames = {"roof_rear", "roof_middle", "roof_front"};
        const std::array<std::string, 3> rails = {rearTop(car_.body), "b_pillar_top", "windshield_top"};
        const std::array<const char*, 3> crowns = {"roof_rear_middle", "roof_middle", "header_middle"};
        // Sections of the builder's own are left alone; those made here follow their points.
        const bool own = std::ranges::any_of(car_.shell, [](const ShellStation& one) {
            return std::ranges::find(kNames, one.name) == kNames.end();
        });
        if (own) return;
        Names through(crowns.begin(), crowns.end());
        for (const std::string& stem : {rails[0], rails[1], rails[2], std::string("sill_b"),
                                        std::string("b_pillar_waist"), std::string("a_pillar_foot")}) {
            for (const char* side : {".left", ".right"}) through.push_back(stem + side);
        }
        if (!goesThrough(through, "roof_skin")) return;
        const auto sill = half("sill_b"), waist = half("b_pillar_waist"), cowl = half("a_pillar_foot");
        if (!sill || !waist || !cowl) return;
        std::vector<ShellStation> made;
        for (std::size_t i = 0; i < kNames.size(); ++i) {
            const auto rail = half(rails[i]);
            const CarPoint* crown = car_.point(crowns[i]);
            if (!rail || !crown) return;
            // The waist runs from the B-pillar to the cowl, and on behind as it is at the B-pillar.
            const double along =
                std::clamp((rail->x() - waist->x()) / std::max(1.0, cowl->x() - waist->x()), 0.0, 1.0);
            const Vec3 at_waist = *waist + along * (*cowl - *waist);
            ShellStation station;
            station.name = kNames[i];
            station.x_mm = rail->x();
            station.outline = {Vec2(sill->y(), sill->z()), Vec2(at_waist.y(), at_waist.z()),
                               Vec2(rail->y(), rail->z()), Vec2(0, crown->at.z())};
            made.push_back(std::move(station));
        }
        car_.shell = std::move(made);
    }

    Car& car_;
    std::string_view by_;
    std::set<std::string> wanted_;
};

}  // namespace

Car withWalkLines(Car car, std::string_view by) {
    Drawer(car, by).draw();
    return car;
}

}  // namespace hoopwright
