// Openings of the cage that nothing crosses: rings of bars with no shorter way across them.
#include <algorithm>
#include <cmath>
#include <limits>
#include <map>
#include <set>
#include <utility>

#include "core/model/node_report.h"

namespace hoopwright {
namespace {

constexpr double kNever = std::numeric_limits<double>::infinity();
constexpr double kCorner_rad = 20 * 3.14159265358979323846 / 180;
constexpr double kOffPlane = 0.08;  // of the ring's greatest width
constexpr double kShorter = 1e-4;   // a way across counts where it is shorter by this share
constexpr std::size_t kMostSides = 16;
// Corners nearer than three tubes are one: bars that miss each other's node by so little still make a
// triangle. Common practice, no source.
constexpr double kOneCorner_od = 3;

// What a side is that no bar is: the car between neighbouring feet; or right across others, which is a way
// from foot to foot but bounds no opening.
constexpr int kCar = -1, kAcrossCar = -2, kNoSide = -3;

/// What can be a corner, and what runs straight from one to the next.
struct Graph {
    struct Side {
        int a = -1, b = -1;
        double length_mm = 0;
        int member = kCar;
    };
    std::vector<Vec3> at;
    std::vector<Side> sides;
    std::vector<std::vector<int>> sides_at;

    int add(const Vec3& place) {
        at.push_back(place);
        sides_at.emplace_back();
        return static_cast<int>(at.size()) - 1;
    }
    void join(int a, int b, int member) {
        if (a == b) return;
        const double length = (at[static_cast<std::size_t>(a)] - at[static_cast<std::size_t>(b)]).norm();
        sides_at[static_cast<std::size_t>(a)].push_back(static_cast<int>(sides.size()));
        sides_at[static_cast<std::size_t>(b)].push_back(static_cast<int>(sides.size()));
        sides.push_back({a, b, length, member});
    }
};

/// Stations along a member and the corner that stands there.
std::vector<std::pair<double, int>> cornersAlong(const CageGeometry& now, int member, Graph& graph) {
    const ResolvedMember& bar = now.members[static_cast<std::size_t>(member)];
    std::map<int, double> station_of;  // a node once, in the middle of what it has on the bar
    std::map<int, int> count;
    const auto note = [&](int node, double station) {
        if (node < 0) return;
        const int n = ++count[node];
        double& mean = station_of[node];
        mean += (station - mean) / n;
    };
    for (int e = 0; e < 2; ++e)
        note(bar.ends[static_cast<std::size_t>(e)].node, e == 0 ? 0 : bar.line.length_mm());
    for (std::size_t n = 0; n < now.nodes.size(); ++n) {
        const Node& node = now.nodes[n];
        if (std::ranges::find(node.members, member) == node.members.end()) continue;
        if (station_of.count(static_cast<int>(n))) continue;
        bool landed = false;
        for (const int j : node.joints) {
            const Joint& joint = now.joints[static_cast<std::size_t>(j)];
            if (joint.host != member) continue;
            note(static_cast<int>(n), joint.host_station_mm);
            landed = true;
        }
        if (!landed) note(static_cast<int>(n), bar.line.nearestStation(node.at));
    }
    std::vector<std::pair<double, int>> along;
    for (const auto& [node, station] : station_of) along.emplace_back(station, node);
    for (const Piece& piece : bar.line.pieces()) {
        if (piece.kind != Piece::Kind::bend || piece.angle_rad < kCorner_rad) continue;
        const double from = piece.station_mm - bar.section.od_mm,
                     to = piece.station_mm + piece.length_mm + bar.section.od_mm;
        const bool held = std::ranges::any_of(
            station_of, [&](const auto& one) { return one.second >= from && one.second <= to; });
        if (held) continue;
        const double middle = piece.station_mm + piece.length_mm / 2;
        along.emplace_back(middle, graph.add(bar.line.point(middle)));
    }
    std::sort(along.begin(), along.end());
    return along;
}

Graph graphOf(const CageGeometry& now) {
    Graph graph;
    for (const Node& node : now.nodes) graph.add(node.at);
    for (std::size_t m = 0; m < now.members.size(); ++m) {
        const auto along = cornersAlong(now, static_cast<int>(m), graph);
        for (std::size_t i = 0; i + 1 < along.size(); ++i)
            graph.join(along[i].second, along[i + 1].second, static_cast<int>(m));
    }
    // The car holds any two feet to each other; neighbours are those with no third foot in the ball between
    // them. Source: K. R. Gabriel, R. R. Sokal, Systematic Zoology 18 (1969), from memory.
    const auto isFoot = [](const Node& node) { return node.plate >= 0; };
    for (std::size_t a = 0; a < now.nodes.size(); ++a)
        for (std::size_t b = a + 1; b < now.nodes.size(); ++b) {
            const Vec3 &one = now.nodes[a].at, &other = now.nodes[b].at;
            if (!isFoot(now.nodes[a]) || !isFoot(now.nodes[b])) continue;
            const bool neighbours = std::ranges::none_of(now.nodes, [&](const Node& third) {
                return isFoot(third) && third.at != one && third.at != other &&
                       (third.at - one).dot(third.at - other) <= 1.0;
            });
            graph.join(static_cast<int>(a), static_cast<int>(b), neighbours ? kCar : kAcrossCar);
        }
    return graph;
}

/// Shortest ways from one corner to all: lengths, and the side each was reached by.
struct Ways {
    std::vector<double> length_mm;
    std::vector<int> by;
};

Ways waysFrom(const Graph& graph, int start) {
    Ways ways{std::vector<double>(graph.at.size(), kNever), std::vector<int>(graph.at.size(), -1)};
    std::set<std::pair<double, int>> waiting{{0, start}};
    ways.length_mm[static_cast<std::size_t>(start)] = 0;
    while (!waiting.empty()) {
        const auto [length, here] = *waiting.begin();
        waiting.erase(waiting.begin());
        for (const int s : graph.sides_at[static_cast<std::size_t>(here)]) {
            const Graph::Side& side = graph.sides[static_cast<std::size_t>(s)];
            const int there = side.a == here ? side.b : side.a;
            const auto t = static_cast<std::size_t>(there);
            // A hair longer by its number, so that of equal ways the same one is always taken.
            const double reached = length + side.length_mm * (1 + 1e-9 * (s + 1));
            if (reached >= ways.length_mm[t]) continue;
            waiting.erase({ways.length_mm[t], there});
            ways.length_mm[t] = reached;
            ways.by[t] = s;
            waiting.insert({reached, there});
        }
    }
    return ways;
}

/// The ring made of the shortest ways from `start` to both ends of a side, and the side; empty if the ways
/// share more than the start.
std::vector<int> ringOf(const Graph& graph, const Ways& ways, int start, const Graph::Side& side) {
    const auto back = [&](int from) {
        std::vector<int> path{from};
        while (path.back() != start && path.size() <= kMostSides) {
            const int by = ways.by[static_cast<std::size_t>(path.back())];
            if (by < 0) return std::vector<int>{};
            const Graph::Side& taken = graph.sides[static_cast<std::size_t>(by)];
            path.push_back(taken.a == path.back() ? taken.b : taken.a);
        }
        return path;
    };
    std::vector<int> ring = back(side.a);
    std::vector<int> other = back(side.b);
    if (ring.empty() || other.empty() || ring.back() != start || other.back() != start) return {};
    other.pop_back();
    for (const int corner : other)
        if (std::ranges::find(ring, corner) != ring.end()) return {};
    ring.insert(ring.end(), other.rbegin(), other.rend());
    if (ring.size() < 3 || ring.size() > kMostSides) return {};
    return ring;
}

class Ring {
public:
    Ring(const Graph& graph, std::vector<int> corners) : graph_(graph), corners_(std::move(corners)) {}

    /// No two of its corners are nearer to each other by another way.
    bool hasNothingAcross(const std::vector<Ways>& ways) const {
        const std::size_t n = corners_.size();
        std::vector<double> from_first(n + 1, 0);
        for (std::size_t i = 0; i < n; ++i)
            from_first[i + 1] = from_first[i] + (place(i + 1) - place(i)).norm();
        for (std::size_t i = 0; i < n; ++i)
            for (std::size_t k = i + 1; k < n; ++k) {
                const double one = from_first[k] - from_first[i], round = std::min(one, from_first[n] - one);
                const double shortest = ways[static_cast<std::size_t>(corners_[i])]
                                            .length_mm[static_cast<std::size_t>(corners_[k])];
                if (shortest < round * (1 - kShorter)) return false;
            }
        return true;
    }

    /// Its corners where it turns.
    std::vector<Vec3> turns() const {
        std::vector<Vec3> kept;
        const std::size_t n = corners_.size();
        for (std::size_t i = 0; i < n; ++i) {
            const Vec3 in = place(i) - place(i + n - 1), out = place(i + 1) - place(i);
            if (std::atan2(in.cross(out).norm(), in.dot(out)) >= kCorner_rad) kept.push_back(place(i));
        }
        return kept;
    }

    /// The bars of its sides; `by_car` if the car is one of them. None of a ring that runs across the car.
    std::vector<int> members(bool& by_car) const {
        std::set<int> found;
        by_car = false;
        for (std::size_t i = 0; i < corners_.size(); ++i) {
            const int a = corners_[i], b = corners_[(i + 1) % corners_.size()];
            int best = kNoSide;
            double least = kNever;
            for (const int s : graph_.sides_at[static_cast<std::size_t>(a)]) {
                const Graph::Side& side = graph_.sides[static_cast<std::size_t>(s)];
                if (side.a + side.b - a != b) continue;
                // Where bar and car both run, the bar is the side.
                const double length = side.length_mm + (side.member < 0 ? 1e-3 : 0);
                if (length < least) least = length, best = side.member;
            }
            if (best == kAcrossCar) return {};
            if (best == kCar) by_car = true;
            if (best >= 0) found.insert(best);
        }
        return {found.begin(), found.end()};
    }

private:
    const Vec3& place(std::size_t i) const {
        return graph_.at[static_cast<std::size_t>(corners_[i % corners_.size()])];
    }
    const Graph& graph_;
    std::vector<int> corners_;
};

/// Neighbours nearer than `reach_mm` taken together at their middle, the nearest two first.
std::vector<Vec3> clustered(std::vector<Vec3> corners, double reach_mm) {
    while (corners.size() > 2) {
        const std::size_t n = corners.size();
        std::size_t best = 0;
        double least = kNever;
        for (std::size_t i = 0; i < n; ++i)
            if (const double side = (corners[(i + 1) % n] - corners[i]).norm(); side < least - 1e-9)
                least = side, best = i;
        if (least >= reach_mm) break;
        const std::size_t next = (best + 1) % n;
        corners[best] = (corners[best] + corners[next]) / 2;
        corners.erase(corners.begin() + static_cast<std::ptrdiff_t>(next));
    }
    return corners;
}

double thickestOf(const CageGeometry& now, const std::vector<int>& members) {
    double od_mm = 0;
    for (const int member : members)
        od_mm = std::max(od_mm, now.members[static_cast<std::size_t>(member)].section.od_mm);
    return od_mm;
}

double widthOf(const std::vector<Vec3>& corners) {
    double width = 0;
    for (const Vec3& a : corners)
        for (const Vec3& b : corners) width = std::max(width, (a - b).norm());
    return width;
}

bool isFlat(const std::vector<Vec3>& corners) {
    Vec3 middle = Vec3::Zero(), normal = Vec3::Zero();
    for (const Vec3& corner : corners) middle += corner / static_cast<double>(corners.size());
    for (std::size_t i = 0; i < corners.size(); ++i)
        normal += (corners[i] - middle).cross(corners[(i + 1) % corners.size()] - middle);
    if (normal.norm() < 1e-6) return false;
    normal.normalize();
    const double most = kOffPlane * widthOf(corners);
    return std::ranges::all_of(
        corners, [&](const Vec3& corner) { return std::abs((corner - middle).dot(normal)) <= most; });
}

void findAcross(OpenBay& bay) {
    bay.across_mm = kNever;
    const int n = static_cast<int>(bay.corners.size());
    for (int i = 0; i < n; ++i)
        for (int k = i + 2; k < n; ++k) {
            if (i == 0 && k == n - 1) continue;
            const double length =
                (bay.corners[static_cast<std::size_t>(i)] - bay.corners[static_cast<std::size_t>(k)]).norm();
            if (length < bay.across_mm - 1e-9) bay.across_mm = length, bay.across_from = i, bay.across_to = k;
        }
}

std::string keyOf(const CageGeometry& now, const OpenBay& bay) {
    std::vector<std::string> ids;
    for (const int member : bay.members) ids.push_back(now.members[static_cast<std::size_t>(member)].id);
    std::sort(ids.begin(), ids.end());
    std::string key;
    for (const std::string& id : ids) key += (key.empty() ? "" : "+") + id;
    return key;
}

}  // namespace

std::vector<OpenBay> openBays(const CageGeometry& now) {
    const Graph graph = graphOf(now);
    std::vector<Ways> ways;
    for (std::size_t i = 0; i < graph.at.size(); ++i) ways.push_back(waysFrom(graph, static_cast<int>(i)));
    std::set<std::vector<int>> seen;
    std::vector<OpenBay> bays;
    for (std::size_t start = 0; start < graph.at.size(); ++start)
        for (const Graph::Side& side : graph.sides) {
            std::vector<int> corners = ringOf(graph, ways[start], static_cast<int>(start), side);
            if (corners.size() < 4) continue;
            std::vector<int> sorted = corners;
            std::sort(sorted.begin(), sorted.end());
            if (!seen.insert(std::move(sorted)).second) continue;
            const Ring ring(graph, std::move(corners));
            if (!ring.hasNothingAcross(ways)) continue;
            OpenBay bay;
            bay.members = ring.members(bay.closed_by_car);
            if (bay.members.empty()) continue;
            bay.corners = clustered(ring.turns(), kOneCorner_od * thickestOf(now, bay.members));
            if (bay.corners.size() < 4 || !isFlat(bay.corners)) continue;
            findAcross(bay);
            bays.push_back(std::move(bay));
        }
    std::stable_sort(bays.begin(), bays.end(), [](const OpenBay& a, const OpenBay& b) {
        return widthOf(a.corners) > widthOf(b.corners) + 1e-6;
    });
    std::map<std::string, int> used;
    for (OpenBay& bay : bays) {
        bay.key = keyOf(now, bay);
        if (const int count = ++used[bay.key]; count > 1) bay.key += "#" + std::to_string(count);
    }
    return bays;
}

}  // namespace hoopwright
