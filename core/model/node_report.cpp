#include "core/model/node_report.h"

#include <algorithm>
#include <cmath>
#include <map>
#include <set>

namespace hoopwright {
namespace {

const ResolvedMember& memberOf(const CageGeometry& now, int index) {
    return now.members[static_cast<std::size_t>(index)];
}

/// Least distance of the two tangent lines at the node; of parallel ones the distance between them.
double axisOffset(const CageGeometry& now, int a, int b, const Vec3& node) {
    const Centreline &one = memberOf(now, a).line, &other = memberOf(now, b).line;
    const double at_a = one.nearestStation(node), at_b = other.nearestStation(node);
    const Vec3 way_a = one.tangent(at_a), way_b = other.tangent(at_b), across = way_a.cross(way_b);
    const Vec3 between = other.point(at_b) - one.point(at_a);
    const double sine = across.norm();
    return sine < 1e-9 ? between.cross(way_a).norm() : std::abs(between.dot(across)) / sine;
}

/// Keys of things that may say the same: the second and later get a number.
class Keys {
public:
    std::string of(const std::string& key) {
        const int count = ++used_[key];
        return count == 1 ? key : key + "#" + std::to_string(count);
    }

private:
    std::map<std::string, int> used_;
};

std::string joinedIds(const CageGeometry& now, const std::vector<int>& members) {
    std::vector<std::string> ids;
    for (const int member : members) ids.push_back(memberOf(now, member).id);
    std::sort(ids.begin(), ids.end());
    std::string key;
    for (const std::string& id : ids) key += (key.empty() ? "" : "+") + id;
    return key;
}

std::vector<NodeLine> nodeLines(const CageGeometry& now) {
    std::vector<NodeLine> lines;
    Keys keys;
    for (std::size_t n = 0; n < now.nodes.size(); ++n) {
        const Node& node = now.nodes[n];
        NodeLine line;
        line.key = keys.of(joinedIds(now, node.members));
        line.node = static_cast<int>(n);
        std::set<int> joined;  // a bar that only stands on the plate beside has no axis to meet
        for (const int j : node.joints) {
            joined.insert(now.joints[static_cast<std::size_t>(j)].branch);
            joined.insert(now.joints[static_cast<std::size_t>(j)].host);
        }
        for (auto a = joined.begin(); a != joined.end(); ++a)
            for (auto b = std::next(a); b != joined.end(); ++b)
                line.offsets.push_back({*a, *b, axisOffset(now, *a, *b, node.at)});
        std::stable_sort(line.offsets.begin(), line.offsets.end(),
                         [](const AxisOffset& a, const AxisOffset& b) { return a.offset_mm > b.offset_mm; });
        if (!line.offsets.empty()) line.greatest_offset_mm = line.offsets.front().offset_mm;
        lines.push_back(std::move(line));
    }
    return lines;
}

/// Stations of each member where something holds it: landings on it, and its own ends that land or stand.
std::vector<std::vector<double>> heldAt(const CageGeometry& now) {
    std::vector<std::vector<double>> held(now.members.size());
    for (const Joint& joint : now.joints)
        held[static_cast<std::size_t>(joint.host)].push_back(joint.host_station_mm);
    for (std::size_t m = 0; m < now.members.size(); ++m) {
        const ResolvedMember& member = now.members[m];
        if (member.ends[0].on != ResolvedEnd::On::nothing) held[m].push_back(0);
        if (member.ends[1].on != ResolvedEnd::On::nothing) held[m].push_back(member.line.length_mm());
        for (const ResolvedEnd& end : member.ends) {
            for (const int other : end.also)
                held[static_cast<std::size_t>(other)].push_back(
                    memberOf(now, other).line.nearestStation(end.at));
        }
    }
    return held;
}

std::vector<FreeBend> freeBends(const CageGeometry& now, double near_mm) {
    const auto held = heldAt(now);
    std::vector<FreeBend> found;
    Keys keys;
    for (std::size_t m = 0; m < now.members.size(); ++m) {
        const auto pieces = now.members[m].line.pieces();
        for (std::size_t p = 0; p < pieces.size(); ++p) {
            if (pieces[p].kind != Piece::Kind::bend) continue;
            const double from = pieces[p].station_mm, to = from + pieces[p].length_mm;
            std::optional<double> nearest;
            for (const double at : held[m]) {
                const double off = std::max({0.0, from - at, at - to});
                if (!nearest || off < *nearest) nearest = off;
            }
            const std::string key = keys.of(now.members[m].id);
            if (nearest && *nearest <= near_mm) continue;
            FreeBend bend;
            bend.key = key;
            bend.member = static_cast<int>(m);
            bend.piece = static_cast<int>(p);
            bend.station_mm = 0.5 * (from + to);
            bend.at = now.members[m].line.point(bend.station_mm);
            bend.angle_rad = pieces[p].angle_rad;
            bend.nearest_mm = nearest;
            found.push_back(std::move(bend));
        }
    }
    return found;
}

std::vector<NearEnd> nearEnds(const CageGeometry& now, double near_mm) {
    std::vector<NearEnd> found;
    for (std::size_t m = 0; m < now.members.size(); ++m)
        for (int e = 0; e < 2; ++e) {
            const ResolvedEnd& end = now.members[m].ends[static_cast<std::size_t>(e)];
            NearEnd near{now.members[m].id + (e == 0 ? ":first" : ":last"), static_cast<int>(m), e};
            near.distance_mm = near_mm;
            for (std::size_t n = 0; n < now.nodes.size(); ++n) {
                const Node& node = now.nodes[n];
                const int number = static_cast<int>(n);
                if (number == end.node) continue;
                // A node of its own, elsewhere along it, is a short bar and no miss.
                if (std::ranges::find(node.members, near.member) != node.members.end()) continue;
                // Of two ends that miss each other the one put in later is named.
                const bool later_there =
                    end.node >= 0 && std::ranges::all_of(node.joints, [&](int j) {
                        return now.joints[static_cast<std::size_t>(j)].branch > near.member;
                    });
                if (later_there && !node.joints.empty()) continue;
                const double off = (node.at - end.at).norm();
                if (off > near.distance_mm) continue;
                near.distance_mm = off;
                near.node = number;
            }
            if (near.node >= 0) found.push_back(std::move(near));
        }
    return found;
}

}  // namespace

NodeReport nodeReport(const CageGeometry& now, double near_mm) {
    NodeReport report;
    report.near_mm = near_mm;
    report.nodes = nodeLines(now);
    report.bays = openBays(now);
    report.free_bends = freeBends(now, near_mm);
    report.near_ends = nearEnds(now, near_mm);
    return report;
}

}  // namespace hoopwright
