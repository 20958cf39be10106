// Where a bar's ends are, and what they land on.
#include <algorithm>
#include <cmath>

#include "rules/measuring.h"

namespace hoopwright {
namespace {

/// Which of the two ends count.
std::vector<std::size_t> endsChosen(const ResolvedMember& m, EndChoice choice) {
    const Vec3 &a = m.ends[0].at, &b = m.ends[1].at;
    switch (choice) {
        case EndChoice::upper:
            return {a.z() >= b.z() ? 0u : 1u};
        case EndChoice::lower:
            return {a.z() < b.z() ? 0u : 1u};
        case EndChoice::front:
            return {a.x() >= b.x() ? 0u : 1u};
        case EndChoice::rear:
            return {a.x() < b.x() ? 0u : 1u};
        case EndChoice::nearest:
        case EndChoice::farthest:
            break;
    }
    return {0, 1};
}

struct EndDistance {
    double distance = 1e300;
    std::size_t end = 0;
    const PlacePoint* place = nullptr;
};

/// The place nearest to an end: straight, or along what the end lands on.
EndDistance nearestPlace(const TableRun& run, const ResolvedEnd& end, std::span<const PlacePoint> places,
                         bool along_host) {
    EndDistance out;
    if (!along_host || end.host < 0) {
        double least2 = 1e300;
        for (const PlacePoint& place : places) {
            const double now2 = (place.at - end.at).squaredNorm();
            if (now2 >= least2) continue;
            least2 = now2;
            out.place = &place;
        }
        if (out.place) out.distance = (out.place->at - end.at).norm();
        return out;
    }
    const Centreline& host = run.scene().member(end.host).line;
    for (const PlacePoint& place : places) {
        const double now = std::abs(host.nearestStation(place.at) - end.host_station_mm);
        if (now >= out.distance) continue;
        out.distance = now;
        out.place = &place;
    }
    return out;
}

/// For each end that counts the nearest place; of those the nearest, or with `farthest` the farthest.
/// @pre there is such a place
EndDistance distanceToPlace(const TableRun& run, const Subject& what, const Arguments& with) {
    const ResolvedMember& m = memberOf(run, what);
    const std::span<const PlacePoint> places = run.place(with.place);
    EndDistance out;
    for (std::size_t e : endsChosen(m, with.end)) {
        EndDistance nearest = nearestPlace(run, m.ends[e], places, with.along_host);
        nearest.end = e;
        const bool take = !out.place || (with.end == EndChoice::farthest ? nearest.distance > out.distance
                                                                         : nearest.distance < out.distance);
        if (take) out = nearest;
    }
    return out;
}

Measured endToPlace(const TableRun& run, const Subject& what, const Arguments& with, bool show) {
    if (run.place(with.place).empty()) return Measured::unknown(run.placeMissing(with.place));
    const EndDistance at = distanceToPlace(run, what, with);
    const ResolvedEnd& end = memberOf(run, what).ends[at.end];
    if (with.along_host && end.host < 0)
        return Measured::unknown("that end lands on no bar to measure along");
    Measured out = Measured::number(at.distance);
    if (!show) return out;
    if (!with.along_host) return std::move(out).with(shownLine(end.at, at.place->at));
    const Centreline& host = run.scene().member(end.host).line;
    Shown shown = shownRun(host, end.host_station_mm, host.nearestStation(at.place->at));
    shown.members = {end.host};
    return std::move(out).with(std::move(shown));
}

Measured endBelowPlace(const TableRun& run, const Subject& what, const Arguments& with, bool show) {
    if (run.place(with.place).empty()) return Measured::unknown(run.placeMissing(with.place));
    const EndDistance at = distanceToPlace(run, what, with);
    const Vec3 end = memberOf(run, what).ends[at.end].at, place = at.place->outside();
    Measured out = Measured::number(place.z() - end.z());
    return show ? std::move(out).with(shownLine(end, {end.x(), end.y(), place.z()})) : std::move(out);
}

Measured endAbovePlace(const TableRun& run, const Subject& what, const Arguments& with, bool show) {
    if (run.place(with.place).empty()) return Measured::unknown(run.placeMissing(with.place));
    const EndDistance at = distanceToPlace(run, what, with);
    const Vec3 end = memberOf(run, what).ends[at.end].at;
    Measured out = Measured::number(end.z() - at.place->at.z());
    return show ? std::move(out).with(shownLine({end.x(), end.y(), at.place->at.z()}, end)) : std::move(out);
}

Measured connects(const TableRun& run, const Subject& what, const Arguments& with, bool show) {
    const MemberFacts& f = factsOf(run, what);
    const auto lands = [&](std::size_t end, int selector) {
        return std::any_of(f.touches[end].begin(), f.touches[end].end(),
                           [&](int i) { return run.picks(selector, i, what); });
    };
    const bool there = lands(0, with.from) && lands(1, with.to),
               back = lands(1, with.from) && lands(0, with.to);
    Measured out = Measured::yesNo(there || back);
    if (!show) return out;
    const ResolvedMember& m = memberOf(run, what);
    Shown shown{{ShownPoint{m.ends[0].at}, ShownPoint{m.ends[1].at}},
                f.touches[0],
                0.5 * (m.ends[0].at + m.ends[1].at)};
    shown.members.insert(shown.members.end(), f.touches[1].begin(), f.touches[1].end());
    return std::move(out).with(std::move(shown));
}

Measured feet(const TableRun& run, const Subject& what, const Arguments&, bool show) {
    Measured out = Measured::number(factsOf(run, what).feet);
    if (!show) return out;
    Shown shown;
    for (const ResolvedEnd& end : memberOf(run, what).ends) {
        if (end.on == ResolvedEnd::On::plate) shown.shapes.push_back(ShownPoint{end.at});
        shown.look_at = end.at;
    }
    if (shown.shapes.empty()) shown = shownChord(memberOf(run, what).line);
    return std::move(out).with(std::move(shown));
}

}  // namespace

std::vector<Quantity> endQuantities() {
    constexpr auto m = SubjectKind::member;
    const auto L = Dimension::length;
    const ArgSet place = only(Arg::place);
    return {
        {{"end_to_place", L, "member", "From its end to the nearest of the places, centre to centre.",
          "the place"},
         m,
         ValueKind::number,
         place,
         Arg::end | Arg::along,
         endToPlace,
         {}},
        {{"end_below_place", L, "member", "How far its end's centre is below the outside of the place.",
          "the place"},
         m,
         ValueKind::number,
         place,
         only(Arg::end),
         endBelowPlace,
         {}},
        {{"end_above_place", L, "member",
          "How far its end's centre is above the centre of the nearest of the places; negative under it.",
          "the place"},
         m,
         ValueKind::number,
         place,
         only(Arg::end),
         endAbovePlace,
         {}},
        {{"connects", Dimension::none, "member",
          "One end lands on a bar of one kind, the other on one of another.", ""},
         m,
         ValueKind::yes_no,
         Arg::from_members | Arg::to_members,
         0,
         connects,
         {}},
        {{"feet", Dimension::none, "member", "How many of its ends stand on plates.", ""},
         m,
         ValueKind::number,
         0,
         0,
         feet,
         {}},
    };
}

}  // namespace hoopwright
