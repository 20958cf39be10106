#include "core/edit/say_landing.h"

#include <algorithm>
#include <cmath>

#include "core/model/resolve_landing.h"

namespace hoopwright {
namespace {

/// What rounding a value may move the place along the host, in grains: a host that runs nearly level passes a
/// whole stretch of stations within one grain of height.
constexpr double kMostGrains = 4;

double rounded(double value, double grain) {
    return grain > 0 ? std::round(value / grain) * grain : value;
}

}  // namespace

std::string landingHost(const CageGeometry& now, const Landing& landing, Side side) {
    if (now.member(landing.host) >= 0) return landing.host;
    const Side wanted = side == Side::centre ? landing.side : side;
    const std::string sided = landing.host + "." + std::string(sideWord(wanted));
    return now.member(sided) >= 0 ? sided : std::string();
}

Landing saidExactly(Landing landing, const Centreline& host, double station_mm) {
    const Vec3 p = host.point(station_mm);
    switch (landing.by) {
        case Landing::By::height:
            landing.value = p.z();
            break;
        case Landing::By::station_x:
            landing.value = p.x();
            break;
        case Landing::By::across_y:
            landing.value = p.y();
            break;
        case Landing::By::fraction:
            landing.value = station_mm / host.length_mm();
            break;
        case Landing::By::end:
            landing.by = Landing::By::distance;
            [[fallthrough]];
        case Landing::By::distance:
            landing.value = landing.from_last_end ? host.length_mm() - station_mm : station_mm;
            break;
    }
    return landing;
}

Expected<Landing> saidAt(const Landing& landing, const Centreline& host, double station_mm, double grain_mm,
                         LengthUnit unit) {
    const double station = std::clamp(station_mm, 0.0, host.length_mm());
    const auto readsBack = [&](const Landing& said) {
        const Expected<double> back = stationSaid(said, host, unit);
        return back && std::abs(*back - station) <= kMostGrains * grain_mm + 1e-6;
    };
    Landing said = saidExactly(landing, host, station);
    const bool share = said.by == Landing::By::fraction;
    said.value = rounded(said.value, share ? grain_mm / host.length_mm() : grain_mm);
    if (readsBack(said)) return said;
    // Two heights of one side, or none: along the host there is one place only.
    Landing along = landing;
    along.by = Landing::By::distance;
    along.from_last_end = station > host.length_mm() / 2;
    along.side = Side::centre;
    along = saidExactly(along, host, station);
    along.value = std::clamp(rounded(along.value, grain_mm), 0.0, host.length_mm());
    if (readsBack(along)) return along;
    return Reason{"There is no place for it on " + landing.host + "."};
}

Expected<double> stationSaid(const Landing& landing, const Centreline& host, LengthUnit unit) {
    const resolving::Spot spot = resolving::spotOn(host, resolving::askOf(landing), unit);
    if (spot.trouble == resolving::Spot::Trouble::none) return spot.station_mm;
    return Reason{"It would land on " + landing.host + " " + spot.what + "; " + spot.remedy + "."};
}

}  // namespace hoopwright
