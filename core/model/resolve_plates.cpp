// Plates in place.
#include <algorithm>
#include <cmath>

#include "core/base/text.h"
#include "core/model/resolver.h"
#include "core/model/sheet_shape.h"

namespace hoopwright::resolving {

namespace {

constexpr double kSteel_kg_per_m3 = 7850;
constexpr double kKg_per_mm3 = 1e-9;  ///< of a density in kg/m3
constexpr double kGreatestSize_mm = 1e5;

bool goodSize(double mm) {
    return mm > 0 && mm <= kGreatestSize_mm;
}

/// Twice the area, positive when counter-clockwise.
double twiceArea(const std::vector<Vec2>& outline) {
    double sum = 0;
    for (std::size_t i = 0; i < outline.size(); ++i) {
        const Vec2& a = outline[i];
        const Vec2& b = outline[(i + 1) % outline.size()];
        sum += a.x() * b.y() - a.y() * b.x();
    }
    return sum;
}

Plate withoutFlaps(Plate plate) {
    plate.flaps.clear();
    return plate;
}

/// The left-hand or single plate's outline; empty if it has none that is good.
std::vector<Vec2> outlineOf(const Plate& plate) {
    if (plate.outline.empty()) {
        if (!goodSize(plate.length_mm) || !goodSize(plate.width_mm)) return {};
        return flapTrouble(plate) ? notchedRectangle(withoutFlaps(plate)) : notchedRectangle(plate);
    }
    const bool good = plate.outline.size() >= 3 &&
                      std::all_of(plate.outline.begin(), plate.outline.end(), [](const Vec2& p) {
                          return p.allFinite() && p.cwiseAbs().maxCoeff() <= kGreatestSize_mm;
                      });
    if (!good || std::abs(twiceArea(plate.outline)) < 1) return {};
    return plate.outline;
}

/// Seen from above its own normal, the right-hand plate is the left-hand one turned over: v changes sign.
std::vector<Vec2> counterClockwise(std::vector<Vec2> outline, Side side) {
    if (side == Side::right) {
        for (Vec2& p : outline) p.y() = -p.y();
    }
    if (twiceArea(outline) < 0) std::reverse(outline.begin(), outline.end());
    return outline;
}

/// Columns u, v, n. `along` is laid into the face; where it stands square on it, any direction in the face
/// will do.
Eigen::Matrix3d plateAxes(const Vec3& normal, const Vec3& along) {
    const Vec3 n = normal.normalized();
    Vec3 u = along - along.dot(n) * n;
    if (!(u.norm() > 1e-6 * along.norm())) u = n.unitOrthogonal();
    u.normalize();
    Eigen::Matrix3d axes;
    axes.col(0) = u;
    axes.col(1) = n.cross(u);
    axes.col(2) = n;
    return axes;
}

double backingMass(const Plate& plate, double density) {
    if (!plate.backing) return 0;
    const BackingPlate& back = *plate.backing;
    if (!goodSize(back.length_mm) || !goodSize(back.width_mm) || !goodSize(back.thickness_mm)) return 0;
    return back.length_mm * back.width_mm * back.thickness_mm * density * kKg_per_mm3;
}

double around(const std::vector<Vec2>& outline) {
    double sum = 0;
    for (std::size_t i = 0; i < outline.size(); ++i)
        sum += (outline[(i + 1) % outline.size()] - outline[i]).norm();
    return sum;
}

/// The rail a plate of that side is tied to, or -1.
int railOf(const Car& car, const std::string& said, Side side) {
    const FrameRail* rail = car.rail(side == Side::right ? hoopwright::otherSide(said) : said);
    if (!rail) rail = car.rail(said);
    if (!rail) rail = car.rail(hoopwright::otherSide(said));
    return said.empty() || !rail ? -1 : static_cast<int>(rail - car.rails.data());
}

std::string spokenId(const std::string& id) {
    return roleOf(id).name;
}

}  // namespace

void Resolver::placePlates() {
    cage_.plates.reserve(2 * job_.cage.plates.size());
    for (std::size_t i = 0; i < job_.cage.plates.size(); ++i) {
        const Plate& plate = job_.cage.plates[i];
        const auto wrong = [&](Kind kind, const std::string& what, std::string remedy) {
            add({kind, "Plate " + plate.id + " " + what, std::move(remedy), "", plate.id, Vec3::Zero()});
        };
        if (!plate.rail.empty() && !job_.car.rail(plate.rail) &&
            !job_.car.rail(hoopwright::otherSide(plate.rail))) {
            wrong(Kind::no_such_rail, "is tied to " + plate.rail + ", which is not a rail of this car.",
                  "name a rail of the car, or leave it out");
        }
        if (std::holds_alternative<Landing>(plate.at) || std::holds_alternative<OnPlate>(plate.at)) {
            wrong(Kind::bad_value, "has no place of its own.", "give it coordinates or a point of the car");
            continue;
        }
        if (outlineOf(plate).empty() || !goodSize(plate.thickness_mm)) {
            wrong(Kind::bad_value, "has no size.",
                  "give it a length, width and thickness above zero, or an outline");
            continue;
        }
        if (plate.riser && (!goodSize(plate.riser->height_mm) || !goodSize(plate.riser->wall_mm)))
            wrong(Kind::bad_value, "has a riser with no size.",
                  "give it a height and a wall above zero, or leave it out");
        if (const auto trouble = flapTrouble(plate)) wrong(Kind::bad_value, trouble->what, trouble->remedy);
        if (!plate.normal.allFinite() || !(plate.normal.norm() > 1e-9) || !plate.along.allFinite()) {
            wrong(Kind::bad_value, "faces nowhere.", "give a normal that points into the cage");
            continue;
        }
        const Side first = plate.mirrored ? Side::left : Side::centre;
        if (!plateMiddle(plate, first) || (plate.mirrored && !plateMiddle(plate, Side::right))) {
            const auto* said = std::get_if<AtCarPoint>(&plate.at);
            const bool one_side =
                said && (job_.car.point(said->point) || job_.car.point(hoopwright::otherSide(said->point)));
            if (one_side) {
                wrong(Kind::no_such_point, "sits at " + said->point + ", measured on one side only.",
                      "measure the other, or say in the car's file that the car is symmetric");
                continue;
            }
            wrong(said ? Kind::no_such_point : Kind::bad_value,
                  said ? "sits at " + said->point + ", which is not a point of this car."
                       : "is not within a kilometre.",
                  said ? "measure that point, or name one of the car" : "check its coordinates");
            continue;
        }
        if (!plate_names_.add(plate.id, plate.mirrored, static_cast<int>(cage_.plates.size()))) {
            wrong(Kind::bad_value, "has the name of another; it is left out.", "give each its own id");
            continue;
        }
        placePlate(static_cast<int>(i), first);
        if (plate.mirrored) placePlate(static_cast<int>(i), Side::right);
    }
}

std::optional<Vec3> Resolver::plateMiddle(const Plate& plate, Side side) {
    const bool right = side == Side::right;
    Vec3 at = Vec3::Zero();
    if (const auto* fixed = std::get_if<FixedPoint>(&plate.at)) {
        at = right ? mirrored(fixed->at) : fixed->at;
    } else if (const auto* said = std::get_if<AtCarPoint>(&plate.at)) {
        const std::optional<Vec3> point =
            job_.car.pointAt(right ? hoopwright::otherSide(said->point) : said->point);
        if (!point) return std::nullopt;
        at = *point + (right ? mirrored(said->offset) : said->offset);
    }
    if (!at.allFinite() || at.cwiseAbs().maxCoeff() > 1e6) return std::nullopt;
    return at;
}

void Resolver::placePlate(int layout, Side side) {
    const Plate& plate = job_.cage.plates[static_cast<std::size_t>(layout)];
    const bool right = side == Side::right;
    const Material* material = job_.stock.material(plate.material);
    const double density = material ? material->density_kg_per_m3 : kSteel_kg_per_m3;
    ResolvedPlate out;
    out.id = sidedId(plate.id, side);
    out.layout = layout;
    out.side = side;
    out.name = plate.name.empty() ? spokenId(plate.id) : plate.name;
    if (side != Side::centre) out.name.append(", ").append(sideWord(side));
    out.at = *plateMiddle(plate, side);
    out.axes =
        plateAxes(right ? mirrored(plate.normal) : plate.normal, right ? mirrored(plate.along) : plate.along);
    out.outline = counterClockwise(outlineOf(plate), side);
    out.area_mm2 = twiceArea(out.outline) / 2;
    out.thickness_mm = plate.thickness_mm;
    out.backing = plate.backing;
    out.flaps = placedFlaps(plate, out);
    out.mass_kg = (out.area_mm2 * out.thickness_mm + flapsVolume_mm3(plate)) * density * kKg_per_mm3 +
                  backingMass(plate, density);
    if (plate.riser && goodSize(plate.riser->height_mm) && goodSize(plate.riser->wall_mm)) {
        out.riser_height_mm = plate.riser->height_mm;
        out.riser_area_mm2 = around(out.outline) * plate.riser->height_mm;
        out.riser_wall_mm = plate.riser->wall_mm;
        // Walls that fill the box: it is solid.
        out.mass_kg +=
            riserVolume_mm3(out.outline, *plate.riser).value_or(out.area_mm2 * plate.riser->height_mm) *
            density * kKg_per_mm3;
    }
    out.rail = railOf(job_.car, plate.rail, side);
    out.on_frame = out.rail >= 0 && job_.car.isOfFrame(job_.car.rails[static_cast<std::size_t>(out.rail)]);
    cage_.plates.push_back(std::move(out));
}

}  // namespace hoopwright::resolving
