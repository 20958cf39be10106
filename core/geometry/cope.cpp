#include "core/geometry/cope.h"

#include <algorithm>
#include <array>
#include <cmath>
#include <limits>
#include <numbers>

#include "core/geometry/cope_host.h"
#include "core/geometry/round_extreme.h"

namespace hoopwright {
namespace {

using std::numbers::pi;

/// Extremes and lengths are taken from at least this many stations, however few are asked for.
constexpr int kLeastStations = 180;

/// Least multiple of the stations asked for that is enough; one that divides 720 if they do.
int workingStations(int asked) {
    if (720 % asked != 0) return asked * ((kLeastStations + asked - 1) / asked);
    int count = asked;
    while (count < kLeastStations || 720 % count != 0) count += asked;
    return count;
}

/// All hosts of one end.
class Hosts {
public:
    Hosts(const CopeEnd& end, std::span<const CopeHost> hosts) {
        for (const CopeHost& host : hosts) {
            if (auto ready = prepared(end, host)) ready_.push_back(std::move(*ready));
        }
    }
    bool empty() const { return ready_.empty(); }
    bool several() const { return ready_.size() > 1; }

    Meeting meet(double radius_mm, const Turn& turn) const {
        Meeting best = hoopwright::meet(ready_[0], radius_mm, turn);
        for (size_t k = 1; k < ready_.size(); ++k)
            best = outerOf(best, hoopwright::meet(ready_[k], radius_mm, turn));
        return best;
    }
    MeetingRow row(double radius_mm, const StationTable& table) const {
        MeetingRow outer = meetAll(ready_[0], radius_mm, table);
        for (size_t k = 1; k < ready_.size(); ++k)
            outer = MeetingRow::outerOf(outer, meetAll(ready_[k], radius_mm, table));
        return outer;
    }

private:
    std::vector<PreparedHost> ready_;
};

/// About kLeastStations of the values, evenly spaced; times `sign`.
RoundSamples thinned(const std::vector<double>& row, double sign = 1) {
    return {row, row.size() % kLeastStations == 0 ? row.size() / kLeastStations : 1, sign};
}

std::vector<double> everyNth(const std::vector<double>& values, size_t step) {
    if (step == 1) return values;
    std::vector<double> out(values.size() / step);
    for (size_t i = 0; i < out.size(); ++i) out[i] = values[i * step];
    return out;
}

/// Every `step`-th station, and the extremes of all.
CopeEdge edgeOf(const Hosts& hosts, double radius_mm, const MeetingRow& row, size_t step) {
    CopeEdge edge;
    edge.s_mm = everyNth(row.s_mm, step);
    edge.missed.assign(edge.s_mm.size(), false);
    if (!row.allMet()) {
        for (size_t i = 0; i < edge.missed.size(); ++i) edge.missed[i] = !row.met(i * step);
    }
    const auto s = [&](const Turn& turn) { return hosts.meet(radius_mm, turn).s_mm; };
    const auto minus_s = [&](const Turn& turn) { return -s(turn); };
    const RoundExtreme most = greatestRound(s, thinned(row.s_mm));
    const RoundExtreme least = greatestRound(minus_s, thinned(row.s_mm, -1));
    edge.greatest_mm = most.value;
    edge.greatest_phi_rad = most.phi_rad;
    edge.least_mm = -least.value;
    edge.least_phi_rad = least.phi_rad;
    return edge;
}

/// Where between two stations, one met and one missed, the weld ends.
RoundExtreme lastMet(const Hosts& hosts, double radius_mm, double met_phi, double missed_phi) {
    RoundExtreme last{hosts.meet(radius_mm, Turn(met_phi)).s_mm, met_phi};
    for (int step = 0; step < 30; ++step) {
        const double phi = 0.5 * (last.phi_rad + missed_phi);
        const Meeting m = hosts.meet(radius_mm, Turn(phi));
        if (m.met()) {
            last = {m.s_mm, phi};
        } else {
            missed_phi = phi;
        }
    }
    return last;
}

/// Of the piece of weld between two stations, one met and one missed.
double partLength(const Hosts& hosts, double radius_mm, double met_phi, double missed_phi) {
    const double s = hosts.meet(radius_mm, Turn(met_phi)).s_mm;
    const RoundExtreme last = lastMet(hosts, radius_mm, met_phi, missed_phi);
    return std::hypot(2 * radius_mm * std::sin(std::abs(last.phi_rad - met_phi) / 2), last.value - s);
}

/// From one place of the weld to another, halved until its corners are found.
double lengthBetween(const Hosts& hosts, double radius_mm, const RoundExtreme& from, const RoundExtreme& to,
                     int halvings) {
    const auto chord = [&](const RoundExtreme& a, const RoundExtreme& b) {
        return std::hypot(2 * radius_mm * std::sin((b.phi_rad - a.phi_rad) / 2), b.value - a.value);
    };
    const double phi = 0.5 * (from.phi_rad + to.phi_rad);
    const RoundExtreme middle{hosts.meet(radius_mm, Turn(phi)).s_mm, phi};
    const double parts = chord(from, middle) + chord(middle, to);
    if (halvings == 0 || parts - chord(from, to) < 1e-5 * radius_mm) return parts;
    return lengthBetween(hosts, radius_mm, from, middle, halvings - 1) +
           lengthBetween(hosts, radius_mm, middle, to, halvings - 1);
}

Eigen::Map<const Eigen::ArrayXd> stretch(const std::vector<double>& values, size_t from, size_t count) {
    return {values.data() + from, static_cast<Eigen::Index>(count)};
}

/// What the chords cut off at corners: where tubes of one size meet, and where one host takes over from
/// another.
double lengthAtCorners(const Hosts& hosts, const MeetingRow& row, double radius_mm) {
    constexpr double kCorner = 0.25;  // change of slope from chord to chord; smooth cuts stay well below
    constexpr int kHalvings = 6;
    const size_t n = row.size();
    const double h = 2 * pi / static_cast<double>(n);
    const double across = 2 * radius_mm * std::sin(h / 2);
    const auto s = [&](size_t i) { return row.s_mm[i < n ? i : i - n]; };
    const auto turns = [&](size_t i) {
        return std::abs(s(i + n - 1) - 2 * s(i) + s(i + 1)) > kCorner * across;
    };
    const auto steps = stretch(row.s_mm, 1, n - 1) - stretch(row.s_mm, 0, n - 1);
    const bool smooth = (steps.tail(n - 2) - steps.head(n - 2)).abs().maxCoeff() <= kCorner * across;
    if (smooth && !turns(0) && !turns(n - 1)) return 0;
    double sum = 0;
    for (size_t i = 0; i < n; ++i) {
        if (!(turns(i) || turns(i + 1)) || !row.met(i) || !row.met(i + 1 == n ? 0 : i + 1)) continue;
        const double phi = h * static_cast<double>(i);
        sum += lengthBetween(hosts, radius_mm, {s(i), phi}, {s(i + 1), phi + h}, kHalvings) -
               std::hypot(across, s(i + 1) - s(i));
    }
    return sum;
}

/// Sum of the chords from station to station where a host is met.
double edgeLength(const Hosts& hosts, const MeetingRow& row, double radius_mm) {
    const size_t n = row.size();
    const double h = 2 * pi / static_cast<double>(n);
    const double across = 2 * radius_mm * std::sin(h / 2);
    double sum = 0;
    size_t i = 0;
    if (row.allMet()) {  // all chords but the last, several at a time
        i = n - 1;
        const auto rises = stretch(row.s_mm, 1, i) - stretch(row.s_mm, 0, i);
        sum = (rises.square() + across * across).sqrt().sum();
    }
    for (; i < n; ++i) {
        const size_t next = i + 1 == n ? 0 : i + 1;
        const bool met = row.met(i), next_met = row.met(next);
        const double phi = h * static_cast<double>(i);
        if (met && next_met) sum += std::hypot(across, row.s_mm[next] - row.s_mm[i]);
        if (met != next_met) sum += partLength(hosts, radius_mm, met ? phi : phi + h, met ? phi + h : phi);
    }
    return sum + lengthAtCorners(hosts, row, radius_mm);
}

/// The cut's place along the axis, averaged over the metal of the section. Gauss's points across the wall
/// (Abramowitz and Stegun, table 25.4, n = 4, from memory), evenly spaced stations round it.
class MeanCut {
public:
    MeanCut(const Hosts& hosts, const CopeEnd& end) {
        constexpr std::array<double, 4> place = {-0.861136311594053, -0.339981043584856, 0.339981043584856,
                                                 0.861136311594053};
        constexpr std::array<double, 4> weight = {0.347854845137454, 0.652145154862546, 0.652145154862546,
                                                  0.347854845137454};
        // 40 are 1e-4 mm from what ten times as many give, where it is worst: tubes of one size. Where one
        // host takes over from another the cut has corners, and stations converge slowly.
        const StationTable table(hosts.several() ? 180 : 40);
        const double middle = 0.5 * (end.outer_radius_mm + end.bore_radius_mm);
        const double half = 0.5 * (end.outer_radius_mm - end.bore_radius_mm);
        double sum = 0, weights = 0;
        for (size_t k = 0; k < place.size(); ++k) {
            const double radius = middle + half * place[k];
            const MeetingRow row = hosts.row(radius, table);
            all_met_ = all_met_ && row.allMet();
            sum += weight[k] * radius * stretch(row.s_mm, 0, row.size()).mean();
            weights += weight[k] * radius;
        }
        mm_ = sum / weights;
    }
    double mm() const { return mm_; }
    bool allMet() const { return all_met_; }

private:
    double mm_ = 0;
    bool all_met_ = true;
};

void addGrind(CopeProfile& profile, const Hosts& hosts, const CopeEnd& end, const MeetingRow& outer,
              const MeetingRow& bore, size_t step) {
    std::vector<double> behind(outer.size());
    for (size_t i = 0; i < behind.size(); ++i) behind[i] = bore.s_mm[i] - outer.s_mm[i];
    profile.to_full_wall_mm = everyNth(behind, step);
    for (double& length : profile.to_full_wall_mm) length = std::max(length, 0.0);
    const auto behindAt = [&](const Turn& turn) {
        return hosts.meet(end.bore_radius_mm, turn).s_mm - hosts.meet(end.outer_radius_mm, turn).s_mm;
    };
    const RoundExtreme most = greatestRound(behindAt, thinned(behind));
    profile.grind_mm = std::max(most.value, 0.0);
    profile.grind_phi_rad = most.value > 0 ? most.phi_rad : 0;
}

double leastDihedral(const Hosts& hosts, double radius_mm, const MeetingRow& outer) {
    const auto cosine = [&](const Turn& turn) { return hosts.meet(radius_mm, turn).cosine; };
    return std::acos(std::clamp(greatestRound(cosine, thinned(outer.cosine)).value, -1.0, 1.0));
}

bool good(const CopeEnd& end) {
    const bool finite = end.foot.allFinite() && end.inward.allFinite() && end.clock.allFinite();
    return finite && end.bore_radius_mm >= 0 && end.outer_radius_mm > end.bore_radius_mm &&
           std::isfinite(end.outer_radius_mm);
}

/// None of its stations meets a host.
bool passesBy(const MeetingRow& outer) {
    return !outer.allMet() && std::ranges::all_of(outer.gap_mm, [](double gap) { return gap > 0; });
}

}  // namespace

int CopeEdge::missedCount() const {
    return static_cast<int>(std::ranges::count(missed, true));
}

Expected<CopeProfile> cope(const CopeEnd& end, std::span<const CopeHost> hosts, int stations) {
    if (!good(end)) return Reason{"the tube has no wall, or no place: give it a stock and a shape"};
    const Hosts ready(end, hosts);
    if (ready.empty())
        return Reason{
            "the tube runs along what it lands on, or comes from behind it, so there is no cope: let it land "
            "at an angle"};
    const int working = workingStations(stations);
    const size_t step = static_cast<size_t>(working / stations);
    const StationTable table(working);
    const MeetingRow outer = ready.row(end.outer_radius_mm, table);
    if (passesBy(outer))
        return Reason{"the tube's end passes its host without meeting it: move its landing nearer"};
    const MeetingRow bore = ready.row(end.bore_radius_mm, table);
    CopeProfile profile;
    profile.stations = stations;
    profile.outer = edgeOf(ready, end.outer_radius_mm, outer, step);
    profile.bore = edgeOf(ready, end.bore_radius_mm, bore, step);
    addGrind(profile, ready, end, outer, bore, step);
    profile.edge_length_mm = edgeLength(ready, outer, end.outer_radius_mm);
    profile.least_dihedral_rad = leastDihedral(ready, end.outer_radius_mm, outer);
    profile.mean_cut_mm = MeanCut(ready, end).mm();
    return profile;
}

std::optional<double> meanCut_mm(const CopeEnd& end, std::span<const CopeHost> hosts) {
    if (!good(end)) return std::nullopt;
    const Hosts ready(end, hosts);
    if (ready.empty()) return std::nullopt;
    const MeanCut cut(ready, end);
    if (!cut.allMet() && passesBy(ready.row(end.outer_radius_mm, StationTable(kLeastStations))))
        return std::nullopt;
    return cut.mm();
}

double copedVolume_mm3(const CopeEnd& end, const CopeProfile& profile, double axis_length_mm) {
    const double outer = end.outer_radius_mm, bore = end.bore_radius_mm;
    return pi * (outer - bore) * (outer + bore) * (axis_length_mm - profile.mean_cut_mm);
}

}  // namespace hoopwright
