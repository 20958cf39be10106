// What lies between bars: openings nothing crosses, free ways past a place, and how even their spaces are.
#include <algorithm>
#include <cmath>

#include "rules/measuring.h"

namespace hoopwright {
namespace {

/// Its plane within 45 degrees of square to the way one looks.
bool facesView(const OpenBay& bay, SeenFrom view) {
    if (view == SeenFrom::in_space) return true;
    Vec3 normal = Vec3::Zero();
    for (std::size_t i = 0; i < bay.corners.size(); ++i)
        normal += (bay.corners[i] - bay.corners[0])
                      .cross(bay.corners[(i + 1) % bay.corners.size()] - bay.corners[0]);
    return (normal - seen(normal, view)).norm() >= std::sqrt(0.5) * normal.norm();
}

Measured openBayCount(const TableRun& run, const Subject& what, const Arguments& with, bool show) {
    Shown shown;
    int count = 0;
    for (const OpenBay& bay : run.openBays()) {
        const bool asked = std::all_of(bay.members.begin(), bay.members.end(),
                                       [&](int i) { return run.picks(with.members, i, what); });
        if (!asked || !facesView(bay, with.view)) continue;
        ++count;
        if (!show) continue;
        for (std::size_t i = 0; i < bay.corners.size(); ++i)
            shown.shapes.push_back(
                ShownLine{bay.corners[i], bay.corners[(i + 1) % bay.corners.size()], false});
        shown.members.insert(shown.members.end(), bay.members.begin(), bay.members.end());
        shown.look_at = bay.corners.front();
    }
    Measured out = Measured::number(count);
    return show ? std::move(out).with(std::move(shown)) : std::move(out);
}

/// Seen from the side, the free way past a point along `way` (up or ahead), to the outsides of the bars
/// there.
struct FreeWay {
    double before = 1e300, beyond = 1e300;  // from the point, against and along `way`
    int before_bar = -1, beyond_bar = -1;
};
FreeWay freeWay(const TableRun& run, const Subject& what, const Arguments& with, const Vec3& at,
                const Vec3& way) {
    const Vec3 square = Vec3::UnitX() + Vec3::UnitZ() - way;  // the plane's normal: the other of x and z
    FreeWay out;
    for (int i : run.members(with.members, what)) {
        const ResolvedMember& m = run.scene().member(i);
        const Side side = run.scene().facts(i).side, wanted = sideOf(Box(at));
        if (side != Side::centre && wanted != Side::centre && side != wanted) continue;
        for (double station : m.line.crossings(at, square)) {
            // The silhouette is a strip of the tube's width: cut at a slant it is longer.
            const Vec3 t = seen(m.line.tangent(station), SeenFrom::side);
            const double half = m.radius_mm() * t.norm() / std::abs(t.dot(square));
            const double off = (m.line.point(station) - at).dot(way);
            if (off >= 0 && off - half < out.beyond) out.beyond = off - half, out.beyond_bar = i;
            if (off < 0 && -off - half < out.before) out.before = -off - half, out.before_bar = i;
        }
    }
    return out;
}

Measured freeAt(const TableRun& run, const Subject& what, const Arguments& with, bool show, const Vec3& way,
                const std::string& ends) {
    if (run.place(with.place).empty()) return Measured::unknown(run.placeMissing(with.place));
    double low = 1e300, high = -1e300;
    Shown shown;
    for (const PlacePoint& place : run.place(with.place)) {
        const FreeWay free = freeWay(run, what, with, place.at, way);
        if (free.before_bar < 0 || free.beyond_bar < 0)
            return Measured::unknown("there are no bars on both sides of the place, " + ends);
        const double length = free.before + free.beyond;
        if (length < low) {
            shown = shownLine(place.at - free.before * way, place.at + free.beyond * way);
            shown.members = {free.before_bar, free.beyond_bar};
        }
        low = std::min(low, length);
        high = std::max(high, length);
    }
    Measured out = Measured::stretch(low, high);
    return show ? std::move(out).with(std::move(shown)) : std::move(out);
}
Measured freeHeight(const TableRun& run, const Subject& what, const Arguments& with, bool show) {
    return freeAt(run, what, with, show, Vec3::UnitZ(), "over and under it");
}
Measured freeLength(const TableRun& run, const Subject& what, const Arguments& with, bool show) {
    return freeAt(run, what, with, show, Vec3::UnitX(), "ahead of and behind it");
}

/// Greatest less least of the spaces between neighbours.
Measured unevenSpacing(const TableRun& run, const Subject& what, const Arguments& with, bool show) {
    std::vector<Vec3> middles;
    const std::vector<int> bars = run.members(with.members, what);
    Box box;
    for (int i : bars) {
        const Centreline& line = run.scene().member(i).line;
        middles.push_back(line.point(line.length_mm() / 2));
        box.extend(middles.back());
    }
    if (middles.size() < 3) return Measured::leftOut();
    Eigen::Index axis = 0;
    box.sizes().maxCoeff(&axis);
    std::sort(middles.begin(), middles.end(),
              [&](const Vec3& a, const Vec3& b) { return a[axis] < b[axis]; });
    double least = 1e300, greatest = 0;
    Shown shown;
    shown.members = bars;
    shown.look_at = middles[middles.size() / 2];
    for (std::size_t i = 1; i < middles.size(); ++i) {
        const double space = middles[i][axis] - middles[i - 1][axis];
        least = std::min(least, space);
        greatest = std::max(greatest, space);
        Vec3 level = middles[i - 1];
        level[axis] = middles[i][axis];
        shown.shapes.push_back(ShownLine{middles[i - 1], level, true});
    }
    Measured out = Measured::number(greatest - least);
    return show ? std::move(out).with(std::move(shown)) : std::move(out);
}

}  // namespace

std::vector<Quantity> openingQuantities() {
    constexpr auto c = SubjectKind::cage;
    constexpr auto num = ValueKind::number;
    const auto L = Dimension::length;
    return {
        {{"open_bay_count", Dimension::none, "cage",
          "Openings of four corners or more, about flat, that no bar crosses; of these bars alone, or all; "
          "in a "
          "view, those that face it.",
          ""},
         c,
         num,
         0,
         Arg::members | Arg::view,
         openBayCount,
         {}},
        {{"free_height_at", L, "cage",
          "Seen from the side, up and down through a place, between the outsides of the bars over and under "
          "it on its side of the car.",
          "the place, bars over and under it"},
         c,
         num,
         only(Arg::place),
         only(Arg::members),
         freeHeight,
         {}},
        {{"free_length_at", L, "cage",
          "Seen from the side, fore and aft through a place, between the outsides of the bars ahead of and "
          "behind it on its side of the car.",
          "the place, bars ahead of and behind it"},
         c,
         num,
         only(Arg::place),
         only(Arg::members),
         freeLength,
         {}},
        {{"uneven_spacing", L, "cage",
          "Greatest less least of the spaces between neighbouring bars, middle to middle, along whichever "
          "axis of the car they are spread most; fewer than three bars are left out.",
          ""},
         c,
         num,
         only(Arg::members),
         0,
         unevenSpacing,
         {}},
    };
}

}  // namespace hoopwright
