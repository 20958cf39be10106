#include "app/sheets/show_cuts.h"

#include <algorithm>
#include <cmath>

namespace hoopwright {
namespace {

LengthStyle wholeLengths(LengthUnit unit) {
    LengthStyle style;
    style.unit = unit;
    style.decimals = unit == LengthUnit::mm ? 0 : 1;
    return style;
}

/// "front_arch.left" -> "front arch, left"
std::string spokenName(std::string name) {
    if (const std::size_t dot = name.find('.'); dot != std::string::npos) name.replace(dot, 1, ", ");
    std::ranges::replace(name, '_', ' ');
    return name;
}

/// Sheet a bar can pass through: closed lines of floor and glass, and what is named a firewall or a bulkhead,
/// which is one though drawn open. A closed line of the body may be a rim with nothing in it.
bool isSheet(const CarLine& line) {
    if (line.points.size() < 3) return false;
    const bool closed_in = line.kind == CarLine::Kind::floor || line.kind == CarLine::Kind::glass;
    return (line.closed && closed_in) || line.name.find("firewall") != std::string::npos ||
           line.name.find("bulkhead") != std::string::npos;
}

/// Does the straight from a to b go through the triangle? Both ways round count.
bool passes(const Vec3& a, const Vec3& b, const Vec3& p, const Vec3& q, const Vec3& r) {
    const Vec3 normal = (q - p).cross(r - p);
    const double from = normal.dot(a - p), to = normal.dot(b - p);
    if (from * to >= 0 || std::abs(from - to) < 1e-12) return false;
    const Vec3 at = a + from / (from - to) * (b - a);
    const auto inside = [&](const Vec3& u, const Vec3& v) { return normal.dot((v - u).cross(at - u)) >= 0; };
    return inside(p, q) && inside(q, r) && inside(r, p);
}

bool passes(const std::vector<Vec3>& along, const std::vector<Vec3>& outline) {
    Vec3 middle = Vec3::Zero();
    for (const Vec3& corner : outline) middle += corner / static_cast<double>(outline.size());
    for (std::size_t i = 0; i + 1 < along.size(); ++i)
        for (std::size_t k = 0; k < outline.size(); ++k)
            if (passes(along[i], along[i + 1], middle, outline[k], outline[(k + 1) % outline.size()]))
                return true;
    return false;
}

/// The line, and its mirror image where it stands for both sides.
std::vector<std::pair<std::string, std::vector<Vec3>>> sheetsOf(const Car& car) {
    std::vector<std::pair<std::string, std::vector<Vec3>>> out;
    for (const CarLine& line : car.lines) {
        if (!isSheet(line)) continue;
        out.emplace_back(line.name, line.points);
        if (!car.standsForBoth(line)) continue;
        std::vector<Vec3> other = line.points;
        for (Vec3& p : other) p.y() = -p.y();
        out.emplace_back(otherSide(line.name), std::move(other));
    }
    return out;
}

void addHoles(const Job& job, const CageGeometry& cage, std::vector<ShownCut>& out) {
    constexpr double kSample_mm = 10;
    const auto sheets = sheetsOf(job.car);
    const LengthStyle style = wholeLengths(job.cage.unit);
    for (const ResolvedMember& bar : cage.members) {
        std::vector<Vec3> along;
        const int steps = std::max(1, static_cast<int>(std::ceil(bar.line.length_mm() / kSample_mm)));
        for (int i = 0; i <= steps; ++i) along.push_back(bar.line.point(bar.line.length_mm() * i / steps));
        for (const auto& [name, outline] : sheets) {
            if (!passes(along, outline)) continue;
            out.push_back({ShownCut::Kind::hole, bar.id, name, bar.section.od_mm, 0, 1,
                           bar.name + ": through the " + spokenName(name) + ", a hole for a tube of " +
                               showLength(bar.section.od_mm, style) + "."});
        }
    }
}

void addPlates(const Job& job, const CageGeometry& cage, std::vector<ShownCut>& out) {
    const LengthStyle style = wholeLengths(job.cage.unit);
    for (const ResolvedPlate& plate : cage.plates) {
        const Plate& laid = job.cage.plates[static_cast<std::size_t>(plate.layout)];
        const std::string part =
            plate.rail >= 0 ? job.car.rails[static_cast<std::size_t>(plate.rail)].name : "";
        const std::string where = part.empty() ? "the floor" : "the " + spokenName(part);
        ShownCut cut{ShownCut::Kind::ground, plate.id, part, 0, plate.area_mm2, 1, ""};
        if (laid.fixing == Fixing::bolted) {
            cut.kind = ShownCut::Kind::drilled;
            cut.count = laid.bolts.count;
            cut.size_mm = laid.bolts.diameter_mm;
            cut.sentence = plate.name + ": " + std::to_string(cut.count) + " holes for bolts of " +
                           showLength(cut.size_mm, style) + " through " + where + ".";
        } else {
            cut.sentence = plate.name + ": paint and sealant off " + where + " under " +
                           showArea(plate.area_mm2, job.cage.unit, 0) + " and round it, then welded.";
        }
        out.push_back(cut);
    }
}

}  // namespace

std::vector<ShownCut> cutsInCar(const Job& job, const CageGeometry& cage) {
    std::vector<ShownCut> out;
    addHoles(job, cage, out);
    addPlates(job, cage, out);
    return out;
}

std::string_view cutKey(ShownCut::Kind kind) {
    switch (kind) {
        case ShownCut::Kind::hole:
            return "hole";
        case ShownCut::Kind::ground:
            return "ground";
        case ShownCut::Kind::drilled:
            break;
    }
    return "drilled";
}

std::vector<std::string> cutsSaidOnce(const std::vector<ShownCut>& cuts) {
    const std::string left = ", left", right = ", right";
    const auto put = [](std::string words, const std::string& was, const std::string& now) {
        for (std::size_t at = 0; (at = words.find(was, at)) != std::string::npos; at += now.size())
            words.replace(at, was.size(), now);
        return words;
    };
    const auto isSaid = [&](const std::string& words) {
        return std::ranges::find(cuts, words, &ShownCut::sentence) != cuts.end();
    };
    std::vector<std::string> out;
    for (const ShownCut& cut : cuts) {
        const std::string& each = cut.sentence;
        const std::size_t first = each.find(left);
        if (first != std::string::npos && isSaid(put(each, left, right))) {
            // Both sides are named once, with the thing; the part of the car goes without.
            std::string of_both = each;
            of_both.replace(first, left.size(), ", both sides");
            out.push_back(put(std::move(of_both), left, ""));
        } else if (each.find(right) == std::string::npos || !isSaid(put(each, right, left))) {
            out.push_back(each);
        }
    }
    return out;
}

}  // namespace hoopwright
