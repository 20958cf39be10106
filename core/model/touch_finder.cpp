#include "core/model/touch_finder.h"

#include <algorithm>

#include "core/geometry/distance.h"

namespace hoopwright::resolving {

bool contains(const std::vector<int>& list, int value) {
    return std::find(list.begin(), list.end(), value) != list.end();
}

namespace {

constexpr double kTouch_mm = 0.1;  ///< tubes this little inside each other only touch
constexpr double kAtEnd_mm = 1e-3;
// In diameters of the tube that ends there, from the end of its centreline. Common practice, no source: a
// cope starts within two and a half, and one drawn out over more than ten is no joint but two tubes side by
// side.
constexpr double kEndRegion_od = 2.5;
constexpr double kLongestCope_od = 10;

bool copedTo(const ResolvedEnd& end, int member) {
    return end.host == member || contains(end.also, member);
}

bool landsOn(const ResolvedMember& member, int other) {
    return copedTo(member.ends[0], other) || copedTo(member.ends[1], other);
}

/// The ends a stretch takes in: the first, the last, both or neither.
bool takesIn(Span stretch, const Centreline& line, int end) {
    return end == 0 ? stretch.from <= kAtEnd_mm : stretch.to >= line.length_mm() - kAtEnd_mm;
}

}  // namespace

TouchFinder::TouchFinder(const CageGeometry& cage) : cage_(cage) {
    bodies_.reserve(cage.members.size());
    for (const ResolvedMember& member : cage.members)
        bodies_.push_back(bodyOf(member.line, member.radius_mm()));
}

std::vector<Span> TouchFinder::stretches(int later, int earlier) const {
    return touchingStretches(body(later), body(earlier));
}

std::vector<std::pair<int, int>> TouchFinder::nearPairs() const {
    std::vector<int> by_x(bodies_.size());
    for (std::size_t i = 0; i < by_x.size(); ++i) by_x[i] = static_cast<int>(i);
    std::sort(by_x.begin(), by_x.end(),
              [&](int a, int b) { return body(a).box.min().x() < body(b).box.min().x(); });
    std::vector<std::pair<int, int>> pairs;
    pairs.reserve(8 * bodies_.size());
    for (std::size_t i = 0; i < by_x.size(); ++i) {
        const Box& box = body(by_x[i]).box;
        for (std::size_t k = i + 1; k < by_x.size() && body(by_x[k]).box.min().x() <= box.max().x(); ++k) {
            if (!box.intersects(body(by_x[k]).box)) continue;
            const int low = std::min(by_x[i], by_x[k]), high = std::max(by_x[i], by_x[k]);
            const bool low_is_coped = landsOn(member(low), high);
            pairs.emplace_back(low_is_coped ? low : high, low_is_coped ? high : low);
        }
    }
    std::sort(pairs.begin(), pairs.end());
    return pairs;
}

/// The tubes that take metal off either of the two where they end: what is inside those is not there.
std::vector<const TubeBody*> TouchFinder::cutters(int later, int earlier) const {
    std::vector<const TubeBody*> all;
    const auto add = [&](int i) {
        if (i >= 0 && i != later && i != earlier) all.push_back(&body(i));
    };
    for (int i : {later, earlier}) {
        for (const ResolvedEnd& end : member(i).ends) {
            add(end.host);
            for (int also : end.also) add(also);
        }
    }
    return all;
}

/// The end whose region the stations start in, or -1.
int TouchFinder::endNear(int later, Span stations) const {
    const double length = member(later).line.length_mm();
    const double region = kEndRegion_od * member(later).section.od_mm;
    const bool first = stations.from <= region, last = stations.to >= length - region;
    if (first && last) return stations.from <= length - stations.to ? 0 : 1;
    return first ? 0 : last ? 1 : -1;
}

Touch TouchFinder::measured(Touch::Verdict verdict, int end, int later, int earlier, Span stations) const {
    const Nearest found =
        nearest(member(later).line, Stretch{stations.from, stations.to}, member(earlier).line);
    const double depth = member(later).radius_mm() + member(earlier).radius_mm() - found.distance_mm;
    return {depth > kTouch_mm ? verdict : Touch::Verdict::fine, end, depth, 0.5 * (found.on_a + found.on_b)};
}

Touch TouchFinder::judge(int later, int earlier, Span stretch) const {
    const ResolvedMember& tube = member(later);
    const double longest = kLongestCope_od * std::max(tube.section.od_mm, member(earlier).section.od_mm);
    for (int e = 0; e < 2; ++e) {
        if (!copedTo(tube.ends[static_cast<std::size_t>(e)], earlier) || !takesIn(stretch, tube.line, e))
            continue;
        if (stretch.length() <= longest) return {};
        return measured(Touch::Verdict::runs_along, e, later, earlier, stretch);
    }
    const std::vector<const TubeBody*> taken = cutters(later, earlier);
    Overlap overlap{stretch};
    if (endNear(later, stretch) >= 0 || anyNear(body(later), stretch, taken)) {
        overlap = overlapOutside(body(later), stretch, body(earlier), taken);
        if (overlap.empty()) return {};
    }
    const int e = endNear(later, overlap.stations);
    if (e < 0) return measured(Touch::Verdict::runs_into, -1, later, earlier, overlap.stations);
    return judgeEnd(later, earlier, e, stretch, overlap);
}

Touch TouchFinder::judgeEnd(int later, int earlier, int e, Span stretch, const Overlap& overlap) const {
    using Verdict = Touch::Verdict;
    const ResolvedMember& tube = member(later);
    const ResolvedMember& other = member(earlier);
    const ResolvedEnd& end = tube.ends[static_cast<std::size_t>(e)];
    if (end.on == ResolvedEnd::On::nothing) {
        const bool ends_inside = takesIn(stretch, tube.line, e);
        return measured(ends_inside ? Verdict::free_end : Verdict::runs_into, e, later, earlier,
                        overlap.stations);
    }
    // It is coped to that tube where it ends; here it comes back to it.
    if (copedTo(end, earlier)) return measured(Verdict::runs_into, -1, later, earlier, overlap.stations);
    if (overlap.stations.length() > kLongestCope_od * std::max(tube.section.od_mm, other.section.od_mm)) {
        return measured(Verdict::runs_along, e, later, earlier, overlap.stations);
    }
    if (overlap.axis_goes_in) {
        // Through the other before its own host is reached, unless all three meet in one corner.
        const double reach =
            other.radius_mm() + (end.host >= 0 ? member(end.host).radius_mm() : tube.radius_mm());
        if ((other.line.point(other.line.nearestStation(end.at)) - end.at).norm() > reach) {
            return measured(Verdict::stops_short, e, later, earlier, overlap.stations);
        }
    }
    return measured(Verdict::coped, e, later, earlier, overlap.stations);
}

}  // namespace hoopwright::resolving
