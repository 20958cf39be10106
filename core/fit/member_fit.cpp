#include "core/fit/member_fit.h"

#include <algorithm>
#include <cmath>
#include <numbers>

#include "core/base/text.h"
#include "core/fit/path_of.h"
#include "core/model/end_hosts.h"
#include "core/model/resolve.h"
#include "core/model/sheet_shape.h"

namespace hoopwright {
namespace {

constexpr double kMoved_mm = 1e-6;
constexpr double kMirrored_mm = 1;  // sides nearer to mirror images than this are

class Fitting {
public:
    Fitting(const Job& job, const CageGeometry& cage, const FitCar& car, const MemberWish& wish)
        : job_(job), cage_(cage), car_(car), wish_(wish) {}

    Expected<MemberFit> run() {
        if (std::string why = find(); !why.empty()) return Reason{std::move(why)};
        out_.is_hoop = layout_->role == "main_hoop" || layout_->role == "front_hoop";
        const std::string why = out_.is_hoop ? fitAsHoop() : fitAsBar();
        if (!why.empty()) return Reason{why};
        if (shape_) {
            if (std::string no = placeBent(); !no.empty()) return Reason{std::move(no)};
        }
        writeMember();
        if (shape_) readSaw();
        return std::move(out_);
    }

private:
    /// A reason, or nothing.
    std::string find() {
        std::string base = wish_.member;
        for (const std::string_view side : {".left", ".right"})
            if (base.ends_with(side)) base.resize(base.size() - side.size());
        layout_ = job_.cage.member(base);
        if (!layout_) {
            std::vector<std::string> ids;
            for (const Member& one : job_.cage.members) ids.push_back(one.id);
            const std::string near = didYouMean(base, ids);
            return "there is no member '" + wish_.member + "' in this cage" +
                   (near.empty() ? "" : "; did you mean '" + near + "'?");
        }
        out_.fitted = layout_->mirrored ? base + ".left" : base;
        const int index = cage_.member(out_.fitted);
        if (index < 0) return out_.fitted + " has no shape: put its path right first";
        bar_ = &cage_.members[static_cast<std::size_t>(index)];
        if (bar_->stock < 0) return out_.fitted + " has no tube: choose one of the stock list";
        path_ = pathOf(bar_->line);
        return findDie();
    }

    std::string findDie() {
        const double od = bar_->section.od_mm;
        const bool own_radius = layout_->bend_radius_mm && !layout_->bent;
        const Die* die = own_radius ? job_.dies.forBend(od, *layout_->bend_radius_mm) : job_.dies.forOd(od);
        if (std::string why = readShape(die); !why.empty()) return why;
        if (!die && !shape_)
            return "there is no die for " + length(od) + " tube" +
                   (own_radius ? " with the radius of " + out_.fitted : "") +
                   ", so its bends are not known: add the die to the die list";
        out_.tube = die ? FitTube{od, die->radius_mm, die->least_straight_mm, die->greatest_angle_rad}
                        : FitTube{od, shape_->bend_radius_mm, 0, std::numbers::pi};
        return "";
    }

    /// The tube as it was bought, if it was.
    std::string readShape(const Die* die) {
        std::optional<double> radius = wish_.bent_radius_mm;
        if (!radius && layout_->bent) radius = layout_->bent->bend_radius_mm;
        if (!radius && die) radius = die->radius_mm;
        if (wish_.bent.empty()) {
            if (!layout_->bent) return "";
            shape_ = layout_->bent;
            shape_->bend_radius_mm = *radius;
            return "";
        }
        if (!radius) return "the bend radius of the tube is not known: say it";
        Expected<BentShape> shape = readBentShape(wish_.bent, *radius, job_.cage.unit);
        if (!shape) return shape.reason();
        shape_ = *std::move(shape);
        return "";
    }

    std::string length(double mm) const { return showLength(mm, {job_.cage.unit}); }

    std::string fitAsHoop() {
        turned_ = path_.front().y() < path_.back().y();
        HoopWish hoop;
        hoop.given = path_;
        if (turned_) std::ranges::reverse(hoop.given);
        const Vec3 was = (hoop.given.front() + hoop.given.back()) / 2;
        hoop.tube = out_.tube;
        hoop.least_gap_mm = wish_.least_gap_mm;
        hoop.left_foot = hoop.given.front();
        hoop.right_foot = hoop.given.back();
        if (wish_.x_mm) hoop.left_foot.x() = hoop.right_foot.x() = *wish_.x_mm;
        const std::size_t count = hoop.given.size();
        if (count > 2) {
            const Vec3 top = (hoop.given[(count - 1) / 2] + hoop.given[count / 2]) / 2;
            hoop.lean_rad = std::atan2(was.x() - top.x(), top.z() - was.z());
        }
        if (wish_.lean_rad) hoop.lean_rad = *wish_.lean_rad;
        // A hoop with an odd corner gets its partner.
        const int has = static_cast<int>(count) - 2;
        hoop.bends = wish_.bends.value_or(std::clamp(has + has % 2, 2, kMostHoopBends));
        hoop.mean_gap_mm = wish_.mean_gap_mm;
        hoop.sides_alike = !wish_.own_sides;
        hoop.foot_travel_mm = wish_.end_travel_mm;
        // A scanned floor under the foot must not count as skin it stands too near to.
        hoop.foot_landing_mm =
            std::max({hoop.foot_landing_mm, 1.5 * out_.tube.od_mm, wish_.least_gap_mm + out_.tube.od_mm});
        hoop.unit = job_.cage.unit;
        Expected<HoopFit> fit = fitHoop(car_, hoop);
        if (!fit) return fit.reason();
        out_.bar = std::move(fit->bar);
        out_.mean_gaps_mm = std::move(fit->mean_gaps_mm);
        out_.note = std::move(fit->note);
        const Vec3 up(-std::sin(hoop.lean_rad), 0, std::cos(hoop.lean_rad));
        square_to_ = (hoop.left_foot - hoop.right_foot).cross(up).normalized();
        landing_mm_ = hoop.foot_landing_mm;
        if (turned_) {
            std::ranges::reverse(out_.bar.path);
            turnFigures();
        }
        return "";
    }

    /// Figures of a hoop fitted from its other end.
    void turnFigures() {
        const double whole = out_.bar.line.length_mm(), before = bar_->line.length_mm();
        out_.bar.line = out_.bar.line.reversed();
        for (FitLimit& limit : out_.bar.limits) limit.station_mm = whole - limit.station_mm;
        for (auto [good, all] : {std::pair{&out_.bar.before, before}, std::pair{&out_.bar.after, whole}}) {
            good->least_station_mm = all - good->least_station_mm;
            good->greatest_station_mm = all - good->greatest_station_mm;
        }
    }

    std::string fitAsBar() {
        BarWish bar;
        bar.tube = out_.tube;
        bar.least_gap_mm = wish_.least_gap_mm;
        bar.start = path_;
        bar.unit = job_.cage.unit;
        if (std::string why = chooseLines(bar); !why.empty()) return why;
        freeCorners(bar);
        for (const int end : {0, 1}) freeEnd(bar, end);
        const double whole = bar_->line.length_mm();
        for (const int end : {0, 1}) {
            const auto e = static_cast<std::size_t>(end);
            const double at = end == 0 ? bar.landing_mm[0] : whole - bar.landing_mm[1];
            if (const auto near = car_.nearest(bar_->line.point(at)))
                bar.end_gap_mm[e] = near->distance_mm - bar_->radius_mm();
        }
        if (bar.freedoms.empty())
            return out_.fitted +
                   " is straight and its ends stay where they are, so nothing is free: let its "
                   "ends travel, or give it a bend";
        Expected<BarFit> fit = fitBar(car_, bar);
        if (!fit) return fit.reason();
        out_.bar = *std::move(fit);
        return "";
    }

    std::string chooseLines(BarWish& bar) {
        const std::string side = bar_->side == Side::centre ? "" : "." + std::string(sideWord(bar_->side));
        const auto known = [&](const std::string& name) -> const SmoothLine* {
            if (const SmoothLine* line = car_.line(name)) return line;
            return car_.line(name + side);
        };
        std::vector<std::string> names;
        if (wish_.follow) {
            names = *wish_.follow;
        } else if (layout_->role == "side_bar") {
            for (const char* usual : {"roof_rail", "a_pillar"})
                if (known(usual)) names.emplace_back(usual);
        }
        for (const std::string& name : names) {
            const SmoothLine* line = known(name);
            if (!line) {
                std::vector<std::string> all;
                for (const SmoothLine& one : car_.lines()) all.push_back(one.name);
                const std::string near = didYouMean(name + side, all);
                return "the car has no line '" + name + "'" +
                       (near.empty() ? "" : "; did you mean '" + near + "'?");
            }
            bar.follow.push_back(line->points);
            out_.followed.push_back(line->name);
        }
        return "";
    }

    /// Does the bar lie over both sides alike, so that its halves go together?
    bool isAlike() const {
        if (wish_.own_sides || bar_->side != Side::centre) return false;
        for (std::size_t i = 0; i < path_.size(); ++i)
            if ((path_[i] - mirrored(path_[path_.size() - 1 - i])).norm() > kMirrored_mm) return false;
        return true;
    }

    void freeCorners(BarWish& bar) const {
        const int count = static_cast<int>(path_.size());
        const bool alike = isAlike();
        for (int i = 1; i + 1 < count; ++i) {
            const int partner = count - 1 - i;
            if (alike && partner < i) break;
            for (int axis = 0; axis < 3; ++axis) {
                const Vec3 along = Vec3::Unit(axis);
                if (alike && partner == i && axis == 1) continue;
                Freedom freedom{{Freedom::Straight{i, along}}};
                if (alike && partner != i)
                    freedom.moves.push_back(Freedom::Straight{partner, mirrored(along)});
                bar.freedoms.push_back(std::move(freedom));
            }
        }
    }

    void freeEnd(BarWish& bar, int end) const {
        const auto e = static_cast<std::size_t>(end);
        const ResolvedEnd& on = bar_->ends[e];
        const int point = end == 0 ? 0 : static_cast<int>(path_.size()) - 1;
        bar.landing_mm[e] = 1.5 * out_.tube.od_mm;
        if (on.on == ResolvedEnd::On::member)
            bar.landing_mm[e] += cage_.members[static_cast<std::size_t>(on.host)].radius_mm();
        const double far = wish_.end_travel_mm;
        if (!(far > 0)) return;
        const bool alike = isAlike();
        if (alike && end == 1) return;
        if (on.on == ResolvedEnd::On::member) {
            const auto onHost = [&](const ResolvedEnd& of, int at) {
                return Freedom::OnHost{at, cage_.members[static_cast<std::size_t>(of.host)].line,
                                       of.host_station_mm, 1};
            };
            Freedom freedom{{onHost(on, point)}, -far, far};
            if (alike && bar_->ends[1].on == ResolvedEnd::On::member) {
                Freedom::OnHost other = onHost(bar_->ends[1], static_cast<int>(path_.size()) - 1);
                other.sense = senseBeside(on, bar_->ends[1]);
                freedom.moves.push_back(std::move(other));
            }
            bar.freedoms.push_back(std::move(freedom));
        } else if (on.on == ResolvedEnd::On::plate) {
            for (const Vec3& along : alongFoot(on)) {
                Freedom freedom{{Freedom::Straight{point, along}}, -far, far};
                if (alike)
                    freedom.moves.push_back(
                        Freedom::Straight{static_cast<int>(path_.size()) - 1, mirrored(along)});
                bar.freedoms.push_back(std::move(freedom));
            }
        }
    }

    /// The face of its plate the axis of a foot meets, as facesOf() counts them.
    int faceUnder(const ResolvedEnd& foot) const {
        const ResolvedPlate& plate = cage_.plates[static_cast<std::size_t>(foot.plate)];
        const std::vector<int> faces = facesOf(foot);
        const auto off = [&](int face) {
            const CopePlane plane = planesOf(plate, {face}).front();
            return std::abs((foot.at - plane.point).dot(plane.normal));
        };
        return *std::ranges::min_element(faces, {}, off);
    }
    Vec3 footNormal(const ResolvedEnd& foot) const {
        const ResolvedPlate& plate = cage_.plates[static_cast<std::size_t>(foot.plate)];
        return planesOf(plate, {faceUnder(foot)}).front().normal;
    }
    /// The two ways a foot can slide on that face.
    std::array<Vec3, 2> alongFoot(const ResolvedEnd& foot) const {
        const ResolvedPlate& plate = cage_.plates[static_cast<std::size_t>(foot.plate)];
        const int face = faceUnder(foot);
        if (face < 0) return {plate.axes.col(0), plate.axes.col(1)};
        const PlacedFlap& flap = plate.flaps[static_cast<std::size_t>(face)];
        return {(flap.front_to - flap.front_from).normalized(), flap.along};
    }

    /// Which way along the second host is the mirror image of forward along the first.
    double senseBeside(const ResolvedEnd& one, const ResolvedEnd& other) const {
        const auto tangent = [&](const ResolvedEnd& of) {
            return cage_.members[static_cast<std::size_t>(of.host)].line.tangent(of.host_station_mm);
        };
        return mirrored(tangent(one)).dot(tangent(other)) < 0 ? -1 : 1;
    }

    std::string placeBent() {
        PreBentWish bent;
        bent.shape = *shape_;
        bent.od_mm = out_.tube.od_mm;
        bent.least_gap_mm = wish_.least_gap_mm;
        bent.along = out_.bar.line;
        bent.square_to = square_to_;
        bent.unit = job_.cage.unit;
        bent.landing_mm = std::max(landing_mm_, 1.5 * out_.tube.od_mm);
        if (wish_.end_travel_mm > 0) bent.foot_reach_mm = wish_.end_travel_mm;
        for (const int end : {0, 1}) {
            const auto e = static_cast<std::size_t>(end);
            const ResolvedEnd& on = bar_->ends[e];
            bent.floor_normal[e] = on.on == ResolvedEnd::On::plate ? footNormal(on) : on.outward;
            if (on.on == ResolvedEnd::On::plate) bent.floor_at[e] = on.at;
        }
        Expected<PreBentFit> fit = fitPreBent(car_, bent);
        if (!fit) return fit.reason();
        out_.pre_bent = *std::move(fit);
        return "";
    }

    /// The layout's words for the fitted path: ends keep what they land on.
    void writeMember() {
        std::vector<Vec3> path = out_.pre_bent ? out_.pre_bent->path : out_.bar.path;
        // A leg that is too short is laid on to what it should reach: the layout then says what it lacks.
        if (out_.pre_bent) {
            const Centreline& line = out_.pre_bent->line;
            const auto& trim = out_.pre_bent->trim_mm;
            if (trim[0] < 0) path.front() += trim[0] * line.tangent(0);
            if (trim[1] < 0) path.back() -= trim[1] * line.tangent(line.length_mm());
        }
        if (path.size() > 1) {
            toFace(0, path.front(), path[1]);
            toFace(1, path.back(), path[path.size() - 2]);
        }
        out_.member = *layout_;
        std::vector<MemberPoint> said;
        for (const Vec3& at : path) said.push_back({FixedPoint{at}, std::nullopt});
        said.front() = endAt(0, path.front());
        said.back() = endAt(1, path.back());
        out_.member.path = std::move(said);
        if (!shape_) return;
        out_.member.bent = shape_;
        out_.member.bend_radius_mm.reset();
        for (MemberPoint& point : out_.member.path) point.bend_radius_mm.reset();
    }

    /// A foot that was moved level leaves a face that leans: it goes on along its leg to that face.
    void toFace(int end, Vec3& foot, const Vec3& before) const {
        const ResolvedEnd& on = bar_->ends[static_cast<std::size_t>(end)];
        if (on.on != ResolvedEnd::On::plate) return;
        const Vec3 normal = footNormal(on), way = (foot - before).normalized();
        const double slope = way.dot(normal), off = (on.at - foot).dot(normal);
        if (std::abs(slope) > 0.05 && std::abs(off) > kMoved_mm) foot += off / slope * way;
    }

    /// What its copes leave of its legs is known once it is in its place.
    void readSaw() {
        Job job = job_;
        for (Member& member : job.cage.members)
            if (member.id == out_.member.id) member = out_.member;
        const CageGeometry cage = resolve(job);
        const int at = cage.member(out_.fitted);
        if (at >= 0 && cage.members[static_cast<std::size_t>(at)].bought)
            out_.saw_mm = cage.members[static_cast<std::size_t>(at)].bought->saw_mm;
        else
            out_.saw_mm = out_.pre_bent->trim_mm;
    }

    MemberPoint endAt(int end, const Vec3& at) const {
        const MemberPoint& was = end == 0 ? layout_->path.front() : layout_->path.back();
        const Vec3 from = end == 0 ? path_.front() : path_.back();
        const ResolvedEnd& on = bar_->ends[static_cast<std::size_t>(end)];
        if ((at - from).norm() < kMoved_mm) return was;
        if (const auto* plate = std::get_if<OnPlate>(&was.place); plate && on.plate >= 0) {
            const ResolvedPlate& sheet = cage_.plates[static_cast<std::size_t>(on.plate)];
            const Vec2 offset = offsetOnSheet(sheet, at);
            if ((placeOnSheet(sheet, offset) - at).norm() < kMoved_mm)
                return {OnPlate{plate->plate, offset}, was.bend_radius_mm};
        }
        if (const auto* landing = std::get_if<Landing>(&was.place); landing && on.host >= 0) {
            const Centreline& host = cage_.members[static_cast<std::size_t>(on.host)].line;
            Landing moved = *landing;
            moved.by = Landing::By::distance;
            moved.from_last_end = false;
            moved.value = host.nearestStation(at - landing->offset);
            // Bends of a bought tube stay as they are, so its end stays where it is.
            if (out_.pre_bent) moved.offset = at - host.point(moved.value);
            return {moved, was.bend_radius_mm};
        }
        return {FixedPoint{at}, was.bend_radius_mm};
    }

    const Job& job_;
    const CageGeometry& cage_;
    const FitCar& car_;
    const MemberWish& wish_;
    const Member* layout_ = nullptr;
    const ResolvedMember* bar_ = nullptr;
    std::vector<Vec3> path_;
    bool turned_ = false;    ///< a hoop given from its right foot
    double landing_mm_ = 0;  ///< of a hoop's feet
    std::optional<Vec3> square_to_;
    std::optional<BentShape> shape_;  ///< bought bent
    MemberFit out_;
};

}  // namespace

Expected<MemberFit> fitMember(const Job& job, const CageGeometry& cage, const FitCar& car,
                              const MemberWish& wish) {
    return Fitting(job, cage, car, wish).run();
}

}  // namespace hoopwright
