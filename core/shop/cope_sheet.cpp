#include "core/shop/cope_sheet.h"

#include <algorithm>
#include <cmath>
#include <limits>
#include <numbers>

#include "core/model/end_hosts.h"
#include "core/model/sheet_shape.h"
#include "core/model/shop_book.h"
#include "core/shop/bend_sheet.h"
#include "core/shop/fold.h"

namespace hoopwright {
namespace {

using std::numbers::pi;

constexpr double kOneDegree = pi / 180;
constexpr double kNoOffset_mm = 1, kSideways = 0.2, kSquare = 1e-9, kNoGrind_mm = 0.05;
constexpr std::size_t kStations = kWrapStations;

double wrapPhi(std::size_t i) {
    return 2 * pi * static_cast<double>(i) / kWrapStations;
}
double positive(double rad) {
    const double turn = std::fmod(rad, 2 * pi);
    return turn < 0 ? turn + 2 * pi : turn;
}

/// Round the end to the side a direction points to; nothing if it points along the tube.
std::optional<double> phiTowards(const CopeEnd& end, const Vec3& way, double least) {
    const Vec3 across = way - way.dot(end.inward) * end.inward;
    if (across.norm() < least) return std::nullopt;
    return positive(std::atan2(across.dot(end.inward.cross(end.clock)), across.dot(end.clock)));
}

/// Along `way` from the line where the faces towards the cage would meet, to the round of the fold.
double roundOff_mm(const ResolvedPlate& plate, const PlacedFlap& flap, double inside_mm, const Vec3& way) {
    const double half = std::abs(flap.angle_rad) / 2;
    const double radius = flap.up() ? inside_mm : inside_mm + plate.thickness_mm;
    const Vec3 fold = (flap.front_to - flap.front_from).normalized();
    const Vec3 across = way - way.dot(fold) * fold;
    const Vec3 between = (plate.axes.col(2) + flap.front()).normalized();
    // From the round's middle to that line; folded up the middle is in the air, else in the metal.
    const double middle = radius / std::cos(half) * (flap.up() ? -1 : 1);
    const double a = across.squaredNorm(), b = middle * between.dot(across);
    const double c = middle * middle - radius * radius;
    const double root = std::sqrt(std::max(0.0, b * b - a * c));
    return std::abs((flap.up() ? -b - root : -b + root) / a);
}

class EndMaker {
public:
    EndMaker(const Job& job, const CageGeometry& cage, int member, int end)
        : job_(job),
          cage_(cage),
          member_(member),
          end_(end),
          tube_(cage.members[static_cast<std::size_t>(member)]),
          at_(tube_.ends[static_cast<std::size_t>(end)]) {}

    CopeSheetEnd make() {
        out_.at = endWords(cage_, member_)[static_cast<std::size_t>(end_)];
        out_.frame = copeEnd(cage_, member_, end_);
        out_.up_phi_rad = phiTowards(out_.frame, Vec3::UnitZ(), kSideways);
        out_.forward_phi_rad = phiTowards(out_.frame, Vec3::UnitX(), kSideways);
        if (at_.on == ResolvedEnd::On::nothing) {
            out_.square = true;
            return out_;
        }
        Expected<CopeProfile> profile = jointCope(cage_, member_, end_, kWrapStations);
        if (!profile) {
            out_.trouble = profile.reason();
            return out_;
        }
        out_.profile = *std::move(profile);
        hosts_ = hostsOf(cage_, at_);
        addPoints();
        addHosts();
        addLands();
        addWeld();
        return std::move(out_);
    }

private:
    void addPoints() {
        const CopeEdge &outer = out_.profile.outer, &bore = out_.profile.bore;
        const CopeEdge& longest = bore.least_mm < outer.least_mm ? bore : outer;
        const CopeEdge& shortest = bore.greatest_mm > outer.greatest_mm ? bore : outer;
        out_.long_mm = longest.least_mm;
        out_.long_phi_rad = positive(longest.least_phi_rad);
        out_.short_mm = shortest.greatest_mm;
        out_.short_phi_rad = positive(shortest.greatest_phi_rad);
        out_.weld_mm = out_.profile.edge_length_mm;
    }

    void addHosts() {
        // As hostsOf() lists them: host or plate, then the others; the cage's order says who is cut to whom.
        std::size_t k = 0;
        if (at_.on == ResolvedEnd::On::member) addTube(at_.host, std::get<CopeTube>(hosts_[k++]));
        for (const int face : facesOf(at_)) addFace(face, std::get<CopePlane>(hosts_[k++]));
        for (const int also : at_.also) addTube(also, std::get<CopeTube>(hosts_[k++]));
        if (hosts_.size() == 1) addFlats();
    }

    void addFace(int face, const CopePlane& plane) {
        const ResolvedPlate& plate = cage_.plates[static_cast<std::size_t>(at_.plate)];
        const CopeEnd& end = out_.frame;
        CutTo to;
        to.id = plate.id;
        to.name = plate.name;
        to.plate = true;
        to.angle_rad = std::asin(std::min(1.0, std::abs(plane.normal.dot(end.inward))));
        // A plane's throat is on the side away from where its normal leans.
        to.heel_phi_rad = phiTowards(end, -plane.normal, 1e-6).value_or(out_.short_phi_rad);
        const double passes = (plane.point - end.foot).dot(plane.normal) / end.inward.dot(plane.normal);
        to.depth_mm = passes - out_.long_mm;
        if (face >= 0) {
            const PlacedFlap& flap = plate.flaps[static_cast<std::size_t>(face)];
            to.flap = edgeWord(flap.edge);
            to.name += ", flap " + to.flap;
            if (!at_.off_flat) addFold(plate, flap);
        }
        out_.hosts.push_back(std::move(to));
    }

    void addFold(const ResolvedPlate& plate, const PlacedFlap& flap) {
        FoldUnder fold;
        fold.flap = edgeWord(flap.edge);
        fold.angle_rad = flap.angle_rad;
        fold.inside_mm = foldRadius_mm(job_.shop ? &*job_.shop : nullptr, plate.thickness_mm);
        if (fold.inside_mm) {
            const double away = roundOff_mm(plate, flap, *fold.inside_mm, out_.frame.inward);
            (flap.up() ? fold.take_off_mm : fold.gap_mm) = away;
        }
        out_.folds.push_back(std::move(fold));
    }

    void addTube(int host, const CopeTube& tube) {
        const ResolvedMember& on = cage_.members[static_cast<std::size_t>(host)];
        const CopeEnd& end = out_.frame;
        const Vec3 at = tube.line->point(tube.station_mm);
        Vec3 along = tube.line->tangent(tube.station_mm);
        if (along.dot(end.inward) < 0) along = -along;
        CutTo to;
        to.id = on.id;
        to.name = on.name;
        to.diameter_mm = 2 * tube.radius_mm;
        to.on_bend = tube.line->pieceAt(tube.station_mm).kind == Piece::Kind::bend;
        const double c = along.dot(end.inward), sine2 = 1 - c * c;
        to.angle_rad = std::acos(std::clamp(c, 0.0, 1.0));
        // Where the two axes pass each other, along ours from the foot.
        const Vec3 from = at - end.foot;
        const double passes =
            sine2 > kSquare ? (from.dot(end.inward) - c * from.dot(along)) / sine2 : from.dot(end.inward);
        to.depth_mm = passes - out_.long_mm;
        const Vec3 between = end.foot + passes * end.inward - at;
        to.offset_mm = (between - between.dot(along) * along).norm();
        to.heel_phi_rad = phiTowards(end, along, 1e-6).value_or(0);
        pickSaw(to, tube);
        out_.hosts.push_back(std::move(to));
    }

    void pickSaw(CutTo& to, const CopeTube& tube) const {
        if (!job_.shop || job_.shop->hole_saws_mm.empty()) {
            to.no_saw = "the shop's book has no hole saws";
            return;
        }
        for (const double size : job_.shop->hole_saws_mm) {
            const Expected<SawPick> pick = sawGap(out_.frame, tube, size / 2);
            if (!pick) {
                to.no_saw = pick.reason();
                continue;
            }
            if (!to.saw || pick->gap_mm < to.saw->gap_mm - 1e-9) to.saw = *pick;
        }
        if (to.saw) to.no_saw.clear();
    }

    void addFlats() {
        if (!std::holds_alternative<CopeTube>(hosts_[0])) return;
        const CutTo& to = out_.hosts[0];
        if (to.on_bend || to.offset_mm > kNoOffset_mm || tube_.section.od_mm > to.diameter_mm + kNoOffset_mm)
            return;
        const Expected<FlatCuts> cuts = flatCuts(out_.frame, std::get<CopeTube>(hosts_[0]));
        if (!cuts) return;
        out_.flats = *cuts;
        if (!job_.shop) return;
        const double swing = std::max(std::abs(cuts->heel_rad), std::abs(cuts->toe_rad));
        for (const Saw& saw : job_.shop->saws) {
            if (saw.greatest_swing_rad < swing) continue;
            out_.flats->saw = saw.name.empty() ? saw.id : saw.name;
            break;
        }
    }

    /// The wall is w at the place where the host cuts it that far in from the outside.
    void addLands() {
        const CopeProfile& profile = out_.profile;
        const auto thin =
            std::ranges::count_if(profile.to_full_wall_mm, [](double length) { return length > kThin_mm; });
        out_.thin_share = static_cast<double>(thin) / kWrapStations;
        out_.thin_mm = out_.thin_share * pi * tube_.section.od_mm;
        if (profile.grind_mm < kNoGrind_mm) return;
        const double phi = profile.grind_phi_rad;
        CopeEnd end = out_.frame;
        end.clock = Eigen::AngleAxisd(phi, end.inward) * end.clock;
        const auto cutAt = [&](double radius) -> double {
            CopeEnd thinner = end;
            thinner.outer_radius_mm = radius;
            thinner.bore_radius_mm = 0.5 * radius;
            const Expected<CopeProfile> cut = cope(thinner, hosts_, 8);
            return cut ? cut->outer.s_mm[0] : 0;
        };
        const double edge = cutAt(end.outer_radius_mm);
        for (const double share : {0.25, 0.5, 1.0}) {
            LandStep step;
            step.land_mm = share * tube_.section.wall_mm;
            const double s = cutAt(end.outer_radius_mm - step.land_mm);
            step.grind_mm = std::max(0.0, s - edge);
            step.gap_mm = std::max(0.0, offHosts(phi, edge + step.grind_mm));
            out_.lands.push_back(step);
        }
    }

    Vec3 onSkin(double phi, double s_mm) const {
        const CopeEnd& end = out_.frame;
        const Vec3 side = end.inward.cross(end.clock);
        return end.foot + end.outer_radius_mm * (std::cos(phi) * end.clock + std::sin(phi) * side) +
               s_mm * end.inward;
    }
    /// Which host a point is nearest to, how far from its skin, and that skin's outward normal there.
    struct Near {
        double off_mm = std::numeric_limits<double>::infinity();
        Vec3 normal = Vec3::UnitZ();
    };
    Near nearest(const Vec3& p) const {
        Near best;
        for (const CopeHost& host : hosts_) {
            Near one;
            if (const auto* plane = std::get_if<CopePlane>(&host)) {
                one.normal = plane->normal;
                one.off_mm = (p - plane->point).dot(plane->normal);
            } else {
                const CopeTube& tube = std::get<CopeTube>(host);
                const Vec3 out = p - tube.line->point(tube.line->nearestStation(p));
                one.off_mm = out.norm() - tube.radius_mm;
                one.normal = out.normalized();
            }
            if (std::abs(one.off_mm) < std::abs(best.off_mm)) best = one;
        }
        return best;
    }
    double offHosts(double phi, double s_mm) const { return nearest(onSkin(phi, s_mm)).off_mm; }

    void addWeld() {
        const CopeEdge& outer = out_.profile.outer;
        const CopeEnd& end = out_.frame;
        const Vec3 side = end.inward.cross(end.clock);
        std::vector<Vec3> places;
        for (std::size_t i = 0; i < kStations; ++i) {
            const double phi = wrapPhi(i);
            places.push_back(onSkin(phi, outer.s_mm[i]));
            const Vec3 out = std::cos(phi) * end.clock + std::sin(phi) * side;
            const double c = -out.dot(nearest(places.back()).normal);
            out_.dihedral_rad.push_back(outer.missed[i] ? std::numeric_limits<double>::quiet_NaN()
                                                        : std::acos(std::clamp(c, -1.0, 1.0)));
        }
        double sum = 0;
        for (std::size_t i = 0; i < kStations; ++i) {
            const std::size_t next = (i + 1) % kStations;
            if (outer.missed[i] || outer.missed[next]) continue;
            const double length = (places[next] - places[i]).norm();
            // Half of each step goes with the station at either end of it.
            for (const std::size_t k : {i, next}) zone(out_.dihedral_rad[k]) += length / 2;
            sum += length;
        }
        if (sum <= 0) return;
        // The zones share the length that the profile has more exactly than these chords.
        for (double* zone : {&out_.zones.under_30_mm, &out_.zones.from_30_mm, &out_.zones.from_60_mm,
                             &out_.zones.over_135_mm})
            *zone *= out_.weld_mm / sum;
        out_.grooves = arcs([](double angle) { return angle > 135 * kOneDegree; });
        out_.narrow = arcs([](double angle) { return angle < 30 * kOneDegree; });
    }
    double& zone(double dihedral_rad) {
        // A heel of exactly 60 degrees is not under 60.
        constexpr double kRound = 1e-9;
        WeldZones& zones = out_.zones;
        if (dihedral_rad < 30 * kOneDegree - kRound) return zones.under_30_mm;
        if (dihedral_rad < 60 * kOneDegree - kRound) return zones.from_30_mm;
        return dihedral_rad <= 135 * kOneDegree ? zones.from_60_mm : zones.over_135_mm;
    }
    template <class Is>
    std::vector<Arc> arcs(Is is) const {
        std::vector<Arc> found;
        const auto in = [&](std::size_t i) { return is(out_.dihedral_rad[i % kStations]); };
        std::size_t from = 0;
        while (from < kStations && in(from)) ++from;
        if (from == kStations) return {{0, 2 * pi}};
        for (std::size_t i = from; i < from + kStations; ++i) {
            if (in(i) && !in(i + kStations - 1)) found.push_back({positive(wrapPhi(i % kStations)), 0});
            if (!in(i) || in(i + 1)) continue;
            double to = positive(wrapPhi(i % kStations));
            if (to < found.back().from_rad) to += 2 * pi;
            found.back().to_rad = to;
        }
        return found;
    }

    const Job& job_;
    const CageGeometry& cage_;
    int member_, end_;
    const ResolvedMember& tube_;
    const ResolvedEnd& at_;
    std::vector<CopeHost> hosts_;
    CopeSheetEnd out_;
};

}  // namespace

Expected<CopeSheet> copeSheet(const Job& job, const CageGeometry& cage, int member) {
    const ResolvedMember& tube = cage.members[static_cast<std::size_t>(member)];
    if (tube.stock < 0) return Reason{tube.name + " has no tube yet; choose one of the stock list."};
    const TubeStock& stock = job.stock.tubes[static_cast<std::size_t>(tube.stock)];
    const ShopBook book = job.shop ? *job.shop : ShopBook();
    CopeSheet sheet;
    sheet.member = member;
    sheet.fitted = member + 1;
    sheet.clock = clockWords(tube.line);
    sheet.od_mm = tube.section.od_mm;
    sheet.wall_mm = tube.section.wall_mm;
    sheet.cut = cutLength(cage, member);
    // A wrap lies round the tube on its own inner face; its middle is what keeps its length.
    sheet.wrap_mm = pi * (sheet.od_mm + book.paper_mm);
    sheet.clean_outside_mm = book.clean_outside_mm;
    sheet.clean_inside_mm = book.clean_inside_mm;
    for (const int end : {0, 1}) {
        CopeSheetEnd& made = sheet.ends[static_cast<std::size_t>(end)];
        made = EndMaker(job, cage, member, end).make();
        sheet.weld_mm += made.weld_mm;
        if (!made.trouble.empty()) sheet.cautions.push_back(made.trouble);
        if (made.zones.under_30_mm > 0)
            sheet.cautions.push_back(std::string("End ") + (end == 0 ? "A" : "B") +
                                     ": part of the weld lies in an angle under 30 degrees, where no torch "
                                     "reaches the root; land it steeper or ask the inspector.");
    }
    const auto cut = [&](const CopeSheetEnd& end) { return !end.square && end.trouble.empty(); };
    if (cut(sheet.ends[0]) && cut(sheet.ends[1]))
        sheet.clock_between_rad =
            std::remainder(-sheet.ends[1].long_phi_rad - sheet.ends[0].long_phi_rad, 2 * pi);
    // At the side of a bend the seam is neither stretched nor squeezed. Common practice, no source.
    if (stock.form == TubeForm::welded) sheet.seam_phi_rad = pi / 2;
    if (book.weld) {
        sheet.filler_g = sheet.weld_mm / 1000 * book.weld->filler_g_per_m;
        sheet.gas_l = sheet.weld_mm / book.weld->speed_mm_per_min * book.weld->gas_l_per_min;
    }
    if (tube.bought) sheet.saw_off_mm = tube.bought->saw_mm;
    return sheet;
}

}  // namespace hoopwright
