#include "core/model/measure_dimension.h"

#include <algorithm>
#include <cctype>
#include <cmath>
#include <optional>

#include "core/base/expected.h"
#include "core/base/text.h"
#include "core/geometry/distance.h"
#include "core/geometry/polygon.h"
#include "core/model/resolve_landing.h"
#include "core/model/sheet_shape.h"

namespace hoopwright {
namespace {

using Kind = PinnedDimension::Kind;

// Nothing on a car is a kilometre away.
constexpr double kFarthestSpot_mm = 1e6;

/// A place found, and on which bar it is.
struct Spot3 {
    Vec3 at = Vec3::Zero();
    int member = -1;
    double station_mm = 0;
};

class Tape3 {
public:
    Tape3(const Job& job, const CageGeometry& now, const PinnedDimension& pinned)
        : job_(job), now_(now), pinned_(pinned) {}

    MeasuredDimension run() {
        switch (pinned_.kind) {
            case Kind::distance:
                straight();
                break;
            case Kind::gap:
            case Kind::centres:
                betweenBars();
                break;
            case Kind::angle:
                angle();
                break;
            case Kind::height:
                height();
                break;
        }
        return std::move(read_);
    }

private:
    void trouble(std::string sentence) {
        if (read_.trouble.empty()) read_.trouble = std::move(sentence);
    }

    int bar(const std::string& id) {
        const int found = now_.member(id);
        if (found >= 0) {
            read_.members.push_back(id);
            return found;
        }
        if (now_.member(id + ".left") >= 0) {
            trouble("There are two of " + id + ": say " + id + ".left or " + id + ".right.");
        } else {
            trouble("The bar " + id + " is not there any more, or has no shape.");
        }
        return -1;
    }

    std::optional<Spot3> find(const Place3& place) {
        std::optional<Spot3> found;
        if (const auto* fixed = std::get_if<FixedPoint>(&place)) found = Spot3{fixed->at};
        if (const auto* at_car = std::get_if<AtCarPoint>(&place)) found = ofCar(*at_car);
        if (const auto* on_plate = std::get_if<OnPlate>(&place)) found = ofPlate(*on_plate);
        if (const auto* landing = std::get_if<Landing>(&place)) found = ofBar(*landing);
        if (!found) return std::nullopt;
        if (found->at.allFinite() && found->at.cwiseAbs().maxCoeff() <= kFarthestSpot_mm) return found;
        trouble("It is taken at a place that is not within a kilometre: check its numbers.");
        return std::nullopt;
    }

    std::optional<Spot3> ofCar(const AtCarPoint& said) {
        if (const std::optional<Vec3> at = job_.car.pointAt(said.point)) return Spot3{*at + said.offset};
        trouble("The car has no point " + said.point + ", or it was not measured on that side.");
        return std::nullopt;
    }

    std::optional<Spot3> ofPlate(const OnPlate& said) {
        const int found = now_.plate(said.plate);
        if (found < 0) {
            if (now_.plate(said.plate + ".left") >= 0) {
                trouble("There are two of " + said.plate + ": say " + said.plate + ".left or " + said.plate +
                        ".right.");
            } else {
                trouble("The plate " + said.plate + " is not there any more, or has no shape.");
            }
            return std::nullopt;
        }
        const ResolvedPlate& plate = now_.plates[static_cast<std::size_t>(found)];
        return Spot3{placeOnSheet(plate, said.offset)};
    }

    std::optional<Spot3> ofBar(const Landing& said) {
        const int member = bar(said.host);
        if (member < 0) return std::nullopt;
        const Centreline& line = now_.members[static_cast<std::size_t>(member)].line;
        if (!(std::abs(said.value) <= kFarthestSpot_mm)) {
            trouble("It is taken on " + said.host + " at a place that is not within a kilometre.");
            return std::nullopt;
        }
        const resolving::Spot spot = resolving::spotOn(line, resolving::askOf(said), job_.cage.unit);
        if (spot.trouble != resolving::Spot::Trouble::none) {
            trouble("It is taken on " + said.host + " " + spot.what +
                    (spot.remedy.empty() ? "." : ": " + spot.remedy + "."));
            return std::nullopt;
        }
        return Spot3{line.point(spot.station_mm) + said.offset, member, spot.station_mm};
    }

    void straight() {
        const auto from = find(pinned_.from), to = find(pinned_.to);
        if (!from || !to) return;
        read_.from = from->at;
        read_.to = to->at;
        read_.value = (to->at - from->at).norm();
    }

    void height() {
        const auto from = find(pinned_.from);
        if (!from) return;
        double datum_z_mm = 0;
        if (pinned_.over == PinnedDimension::Over::ground) datum_z_mm = job_.car.ground_z_mm;
        if (pinned_.over == PinnedDimension::Over::floor) {
            const auto floor = floorUnder_mm(job_.car, from->at);
            if (!floor) return trouble("No floor of the car lies under it: measure from the sill or ground.");
            datum_z_mm = *floor;
        }
        read_.from = from->at;
        read_.to = {from->at.x(), from->at.y(), datum_z_mm};
        read_.value = from->at.z() - datum_z_mm;
    }

    void betweenBars() {
        const int a = bar(pinned_.bar_a), b = bar(pinned_.bar_b);
        if (a < 0 || b < 0) return;
        if (a == b) return trouble("It is taken between a bar and itself: name two bars.");
        const ResolvedMember &one = now_.members[static_cast<std::size_t>(a)],
                             &other = now_.members[static_cast<std::size_t>(b)];
        const Nearest near = nearest(one.line, other.line);
        read_.from = near.on_a;
        read_.to = near.on_b;
        read_.value = near.distance_mm;
        if (pinned_.kind == Kind::centres) return;
        read_.value -= one.radius_mm() + other.radius_mm();
        // From skin to skin; axes that meet have no way between them, and the mark stands at one place.
        if (near.distance_mm < 1e-9) return;
        const Vec3 way = (near.on_b - near.on_a) / near.distance_mm;
        read_.from += one.radius_mm() * way;
        read_.to -= other.radius_mm() * way;
    }

    void angle() {
        read_.dimension = Dimension::angle;
        const auto from = find(pinned_.from), to = find(pinned_.to);
        if (!from || !to) return;
        if (from->member < 0 || to->member < 0)
            return trouble("An angle is taken between two bars: both its places must be on one.");
        const Vec3 along_a = tangentAt(*from), along_b = tangentAt(*to);
        read_.from = from->at;
        read_.to = to->at;
        const Vec3 between = to->at - from->at;
        const double c = along_a.dot(along_b), sine2 = 1 - c * c;
        if (sine2 < 1e-18) {  // parallel: nowhere nearest
            read_.apex = 0.5 * (from->at + to->at);
            read_.value = 0;
            return;
        }
        const double s = (along_a.dot(between) - c * along_b.dot(between)) / sine2,
                     t = (c * along_a.dot(between) - along_b.dot(between)) / sine2;
        read_.apex = 0.5 * (from->at + s * along_a + to->at + t * along_b);
        // Towards each place from where the axes come nearest; a place right there may look either way, and
        // the lesser angle is meant.
        const Vec3 leg_a = s > 0 ? Vec3(-along_a) : along_a, leg_b = t > 0 ? Vec3(-along_b) : along_b;
        double opening = std::atan2(leg_a.cross(leg_b).norm(), leg_a.dot(leg_b));
        constexpr double kThere_mm = 1e-6;
        if (std::abs(s) < kThere_mm || std::abs(t) < kThere_mm)
            opening = std::min(opening, kHalfTurn - opening);
        read_.value = opening;
    }

    Vec3 tangentAt(const Spot3& spot) const {
        return now_.members[static_cast<std::size_t>(spot.member)].line.tangent(spot.station_mm);
    }

    static constexpr double kHalfTurn = 3.14159265358979323846;
    const Job& job_;
    const CageGeometry& now_;
    const PinnedDimension& pinned_;
    MeasuredDimension read_;
};

std::string barName(const CageGeometry& now, const std::string& id) {
    const int found = now.member(id);
    return found < 0 ? id : now.members[static_cast<std::size_t>(found)].name;
}

std::string placeName(const CageGeometry& now, const Place3& place) {
    if (const auto* landing = std::get_if<Landing>(&place)) return barName(now, landing->host);
    if (const auto* at_car = std::get_if<AtCarPoint>(&place)) return at_car->point;
    if (const auto* on_plate = std::get_if<OnPlate>(&place)) {
        const int found = now.plate(on_plate->plate);
        return found < 0 ? on_plate->plate : now.plates[static_cast<std::size_t>(found)].name;
    }
    return "a place";
}

std::string lowered(std::string words) {
    if (!words.empty()) words[0] = static_cast<char>(std::tolower(static_cast<unsigned char>(words[0])));
    return words;
}

std::string raised(std::string words) {
    if (!words.empty()) words[0] = static_cast<char>(std::toupper(static_cast<unsigned char>(words[0])));
    return words;
}

/// Height of the filled ring straight over or under (x, y).
std::optional<double> heightOfRing(const std::vector<Vec3>& ring, double x, double y) {
    const std::vector<std::uint32_t> fill = fillRing(ring).triangles;
    std::optional<double> highest;
    for (std::size_t i = 0; i + 2 < fill.size(); i += 3) {
        const Vec3 &a = ring[fill[i]], &b = ring[fill[i + 1]], &c = ring[fill[i + 2]];
        const auto turn = [](const Vec3& p, const Vec3& q, double u, double v) {
            return (q.x() - p.x()) * (v - p.y()) - (q.y() - p.y()) * (u - p.x());
        };
        const double whole = turn(a, b, c.x(), c.y());
        if (std::abs(whole) < 1e-12) continue;
        const double wa = turn(b, c, x, y) / whole, wb = turn(c, a, x, y) / whole, wc = 1 - wa - wb;
        constexpr double kOnEdge = -1e-9;
        if (wa < kOnEdge || wb < kOnEdge || wc < kOnEdge) continue;
        const double z = wa * a.z() + wb * b.z() + wc * c.z();
        if (!highest || z > *highest) highest = z;
    }
    return highest;
}

}  // namespace

MeasuredDimension measureDimension(const Job& job, const CageGeometry& now, const PinnedDimension& pinned) {
    return Tape3(job, now, pinned).run();
}

std::vector<MeasuredDimension> measureDimensions(const Job& job, const CageGeometry& now) {
    std::vector<MeasuredDimension> all;
    for (const PinnedDimension& pinned : job.cage.dimensions)
        all.push_back(measureDimension(job, now, pinned));
    return all;
}

std::string shownName(const PinnedDimension& pinned, const CageGeometry& now) {
    if (!pinned.name.empty()) return pinned.name;
    const auto pair = [](const std::string& a, const std::string& b) {
        return lowered(a) + " to " + lowered(b);
    };
    switch (pinned.kind) {
        case Kind::gap:
            return "Gap, " + pair(barName(now, pinned.bar_a), barName(now, pinned.bar_b));
        case Kind::centres:
            return "Centres, " + pair(barName(now, pinned.bar_a), barName(now, pinned.bar_b));
        case Kind::angle:
            return "Angle, " + pair(placeName(now, pinned.from), placeName(now, pinned.to));
        case Kind::height:
            return raised(placeName(now, pinned.from)) + " over the " + std::string(overWord(pinned.over));
        case Kind::distance:
            break;
    }
    return raised(pair(placeName(now, pinned.from), placeName(now, pinned.to)));
}

std::string_view dimensionKindWord(PinnedDimension::Kind kind) {
    switch (kind) {
        case Kind::gap:
            return "gap";
        case Kind::centres:
            return "centres";
        case Kind::angle:
            return "angle";
        case Kind::height:
            return "height";
        case Kind::distance:
            break;
    }
    return "distance";
}

std::string_view overWord(PinnedDimension::Over over) {
    switch (over) {
        case PinnedDimension::Over::sill:
            return "sill";
        case PinnedDimension::Over::floor:
            return "floor";
        case PinnedDimension::Over::ground:
            break;
    }
    return "ground";
}

std::optional<double> floorUnder_mm(const Car& car, const Vec3& at) {
    std::optional<double> highest;
    constexpr double kOnIt_mm = 0.5;  // what stands on the floor is not under it
    const auto take = [&](const std::vector<Vec3>& ring) {
        const auto z = heightOfRing(ring, at.x(), at.y());
        if (z && *z <= at.z() + kOnIt_mm && (!highest || *z > *highest)) highest = z;
    };
    for (const CarLine& line : car.lines) {
        const bool same_place =
            line.points.size() > 3 && (line.points.front() - line.points.back()).norm() < 1e-6;
        if (line.kind != CarLine::Kind::floor || line.points.size() < 3 || !(line.closed || same_place))
            continue;
        std::vector<Vec3> ring = line.points;
        if (same_place) ring.pop_back();
        take(ring);
        if (!car.standsForBoth(line)) continue;
        for (Vec3& corner : ring) corner = mirrored(corner);
        take(ring);
    }
    return highest;
}

}  // namespace hoopwright
