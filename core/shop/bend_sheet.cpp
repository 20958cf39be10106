#include "core/shop/bend_sheet.h"

#include <algorithm>
#include <array>
#include <cmath>
#include <numbers>

#include "core/shop/bend_checks.h"

namespace hoopwright {
namespace {

constexpr double kDegree = std::numbers::pi / 180;
constexpr double kNoTurn_rad = 0.05 * kDegree, kRadiusOff_mm = 0.5;
constexpr std::size_t kMostBends = 30;

/// Along the centreline from its end to the longest point of the cope there; what is wrong goes to
/// `cautions`.
double longPoint(const CageGeometry& cage, int member, int end, std::vector<std::string>& cautions) {
    const ResolvedMember& tube = cage.members[static_cast<std::size_t>(member)];
    if (tube.ends[static_cast<std::size_t>(end)].on == ResolvedEnd::On::nothing) return 0;
    const Expected<CopeProfile> profile = jointCope(cage, member, end, 36);
    if (profile) return std::min(profile->outer.least_mm, profile->bore.least_mm);
    cautions.push_back("Not cut to fit, so as long as to its host's middle: " + profile.reason());
    return 0;
}

std::string hostWord(const CageGeometry& cage, const ResolvedEnd& end) {
    if (end.on == ResolvedEnd::On::member) return cage.members[static_cast<std::size_t>(end.host)].name;
    if (end.on == ResolvedEnd::On::plate) return cage.plates[static_cast<std::size_t>(end.plate)].name;
    return "free end";
}

/// What the two ends differ most in.
std::array<std::string, 2> sides(const Vec3& a, const Vec3& b) {
    const Vec3 d = a - b;
    int most = 2;
    for (const int axis : {0, 1})
        if (std::abs(d[axis]) > std::abs(d[most])) most = axis;
    constexpr std::array<std::array<const char*, 2>, 3> kWords = {
        {{"front", "rear"}, {"left", "right"}, {"higher", "lower"}}};
    const auto& words = kWords[static_cast<std::size_t>(most)];
    return d[most] >= 0 ? std::array<std::string, 2>{words[0], words[1]}
                        : std::array<std::string, 2>{words[1], words[0]};
}

class SheetMaker {
public:
    SheetMaker(const Job& job, const CageGeometry& cage, int member)
        : job_(job), cage_(cage), tube_(cage.members[static_cast<std::size_t>(member)]) {
        sheet_.member = member;
    }

    Expected<BendSheet> make() {
        if (std::optional<Reason> none = refusal()) return *none;
        const std::array<std::string, 2> ends = endWords(cage_, sheet_.member);
        sheet_.end_a = ends[0];
        sheet_.end_b = ends[1];
        const TubeStock& stock = job_.stock.tubes[static_cast<std::size_t>(tube_.stock)];
        sheet_.od_mm = stock.section.od_mm;
        sheet_.wall_measured = stock.measured_wall_mm.has_value();
        sheet_.wall_mm = stock.measured_wall_mm.value_or(stock.section.wall_mm);
        addBends();
        addSpringback(stock.id);
        addChecks(sheet_);
        addOrder();
        return std::move(sheet_);
    }

private:
    std::optional<Reason> refusal() {
        const std::string& name = tube_.name;
        if (tube_.bought) return Reason{name + " is bought bent: it is sawn and coped, not bent here."};
        if (tube_.line.bendCount() == 0) return Reason{name + " has no bends."};
        if (tube_.stock < 0) return Reason{name + " has no tube yet; choose one of the stock list."};
        table_ = bendTable(tube_.line);
        if (table_.rows.size() > kMostBends)
            return Reason{name + " has more than " + std::to_string(kMostBends) +
                          " bends; no sheet is made."};
        for (const BendRow& row : table_.rows) {
            const Die* die = job_.dies.forBend(tube_.section.od_mm, row.radius_mm);
            if (!die)
                return Reason{name + ": there is no die for a tube of " + shown(tube_.section.od_mm) +
                              " bent at a radius of " + shown(row.radius_mm) +
                              "; add it to the die list, or change the radius."};
            if (die_ && die_ != die)
                return Reason{name + " needs two dies, " + die_->id + " and " + die->id +
                              "; give its bends one radius."};
            die_ = die;
        }
        return std::nullopt;
    }

    void addBends() {
        const double a = longPoint(cage_, sheet_.member, 0, sheet_.cautions);
        const double b = longPoint(cage_, sheet_.member, 1, sheet_.cautions);
        sheet_.die = die_->id;
        sheet_.finished_mm = table_.developed_mm - a - b;
        sheet_.bend_long_mm = job_.shop ? job_.shop->bend_long_mm : 0;
        sheet_.blank_mm = sheet_.finished_mm + sheet_.bend_long_mm;
        sheet_.last_straight_mm = table_.last_straight_mm - b + sheet_.bend_long_mm;
        for (const BendRow& row : table_.rows) {
            SheetBend bend;
            bend.straight_before_mm = row.straight_before_mm - (sheet_.bends.empty() ? a : 0);
            bend.rotation_rad = row.rotation_rad;
            bend.angle_rad = row.angle_rad;
            bend.radius_mm = row.radius_mm;
            bend.start_mm = row.mark_start_mm - a;
            bend.end_mm = row.mark_end_mm - a;
            bend.wall_lost = 0.5 * sheet_.od_mm / (row.radius_mm + 0.5 * sheet_.od_mm);
            bend.outer_wall_mm = sheet_.wall_mm * (1 - bend.wall_lost);
            sheet_.bends.push_back(bend);
        }
    }

    void addSpringback(const std::string& stock) {
        sheet_.spring =
            springback(job_.shop ? job_.shop->samples : std::vector<BendSample>{}, stock, die_->id);
        sheet_.least_roundness = job_.shop ? job_.shop->least_roundness : std::nullopt;
        const Springback& spring = sheet_.spring;
        if (!spring.known()) {
            sheet_.cautions.push_back(
                "The shop's book has " + std::to_string(spring.samples) + " of the " +
                std::to_string(kLeastSamples) + " trial bends of " + stock + " on die " + die_->id +
                " it takes to say what to dial: bend until it measures right free of the die.");
            return;
        }
        for (SheetBend& bend : sheet_.bends) {
            bend.dial_rad = spring.dial_rad(bend.angle_rad);
            bend.dial_interval_rad = spring.interval_rad(bend.angle_rad);
            bend.beyond_samples = spring.beyond(bend.angle_rad);
        }
        if (std::ranges::any_of(sheet_.bends, &SheetBend::beyond_samples))
            sheet_.cautions.push_back(
                "The trial bends went from " + showAngle(spring.least_got_rad) + " to " +
                showAngle(spring.greatest_got_rad) +
                "; what to dial for bends far from these is a longer reach than they bear.");
        const double layout = sheet_.bends.front().radius_mm;
        if (spring.radius_mm && std::abs(*spring.radius_mm - layout) > kRadiusOff_mm)
            sheet_.cautions.push_back("The trial bends came out at a radius of " + shown(*spring.radius_mm) +
                                      ", the marks here are for " + shown(layout) +
                                      ": write what it bends into the die list, and the marks follow.");
    }

    void addOrder() {
        const Bender* bender = job_.shop ? job_.shop->benderFor(die_->id) : nullptr;
        if (bender) {
            sheet_.bender = bender->id;
        } else {
            sheet_.cautions.push_back("No bender of the shop's book takes die " + die_->id +
                                      ": floor, frame and the room behind are not looked at.");
        }
        sheet_.order = bendOrder({sheet_.table(), sheet_.od_mm, *die_, bender, job_.cage.unit});
        if (!sheet_.order.feasible())
            sheet_.cautions.push_back(
                "No order of bends was found that this bender lets be made; see what stands in the way.");
        if (!die_->mark_to_tangent_mm)
            sheet_.cautions.push_back("The die list does not say how far die " + die_->id +
                                      "'s mark is from where a bend begins: no marks to the die are given.");
        for (const BendStep& step : sheet_.order.steps) addStep(step, bender);
    }

    void addStep(const BendStep& step, const Bender* bender) {
        SheetBend& bend = sheet_.bends[static_cast<std::size_t>(step.bend)];
        const double begins = step.a_leads ? bend.start_mm : bend.end_mm;
        if (die_->mark_to_tangent_mm)
            bend.mark_mm = begins + (step.a_leads ? -1 : 1) * *die_->mark_to_tangent_mm;
        if (bender && bender->stroke_rad)
            bend.strokes = static_cast<int>(
                std::ceil(bend.dial_rad.value_or(bend.angle_rad) / *bender->stroke_rad - 1e-9));
        const bool first = sheet_.words.empty();
        const std::string lead =
            step.a_leads ? "end A in front, in the clamp" : "end B in front, in the clamp";
        std::string say = "Bend " + std::to_string(step.bend + 1) + ": ";
        if (first) say += "put the tube in, " + lead + ". ";
        if (step.end_for_end) say += "swing the tube end for end, " + lead + ". ";
        if (!first && !step.end_for_end) say += "leave " + lead + ". ";
        if (!first) {
            const std::string turn = turnWords(step.turn_rad);
            say += turn.starts_with("turn") ? "Stand at end A, look along the tube: " + turn + ". "
                                            : "Do not turn the tube. ";
        }
        if (step.leg_rises_rad) say += leg(step);
        say += bend.mark_mm ? "Mark " + tape(*bend.mark_mm) + " from end A on the die's mark. "
                            : "The bend begins " + tape(begins) + " from end A. ";
        if (bend.dial_rad) say += "Dial " + showAngle(*bend.dial_rad) + "; free of the die it must ";
        say += (bend.dial_rad ? "measure " : "Free of the die it must measure ") + showAngle(bend.angle_rad) +
               ".";
        sheet_.words.push_back(std::move(say));
    }

    std::string leg(const BendStep& step) const {
        const double rise = *step.leg_rises_rad;
        const std::string what = "The leg behind bend " + std::to_string(step.leg_bend + 1) + " then ";
        if (std::abs(rise) < kNoTurn_rad) return what + "lies level. ";
        return what + (rise > 0 ? "rises " : "falls ") + showAngle(std::abs(rise)) +
               " from level, away from the die. ";
    }

    std::string shown(double mm) const { return showLength(mm, {job_.cage.unit}); }
    std::string tape(double mm) const {
        return showLength(mm, {job_.cage.unit, 1, job_.cage.unit == LengthUnit::in ? 16 : 0});
    }

    const Job& job_;
    const CageGeometry& cage_;
    const ResolvedMember& tube_;
    const Die* die_ = nullptr;
    BendTable table_;
    BendSheet sheet_;
};

}  // namespace

BendTable BendSheet::table() const {
    BendTable out;
    for (const SheetBend& bend : bends) {
        BendRow row;
        row.straight_before_mm = bend.straight_before_mm;
        row.rotation_rad = bend.rotation_rad;
        row.angle_rad = bend.angle_rad;
        row.radius_mm = bend.radius_mm;
        row.arc_mm = bend.end_mm - bend.start_mm;
        row.mark_start_mm = bend.start_mm;
        row.mark_end_mm = bend.end_mm;
        out.rows.push_back(row);
    }
    out.last_straight_mm = last_straight_mm;
    out.developed_mm = blank_mm;
    return out;
}

std::array<std::string, 2> endWords(const CageGeometry& cage, int member) {
    const ResolvedMember& tube = cage.members[static_cast<std::size_t>(member)];
    std::array<std::string, 2> out = {hostWord(cage, tube.ends[0]), hostWord(cage, tube.ends[1])};
    if (out[0] != out[1]) return out;
    const std::array<std::string, 2> side = sides(tube.ends[0].at, tube.ends[1].at);
    for (std::size_t e = 0; e < 2; ++e) out[e] += " (" + side[e] + ")";
    return out;
}

std::string turnWords(double turn_rad) {
    if (std::abs(turn_rad) < kNoTurn_rad) return "do not turn the tube";
    if (std::numbers::pi - std::abs(turn_rad) < kNoTurn_rad) return "turn the tube half way round";
    return std::string("turn the tube ") + (turn_rad > 0 ? "clockwise " : "anticlockwise ") +
           showAngle(std::abs(turn_rad));
}

Expected<BendSheet> bendSheet(const Job& job, const CageGeometry& cage, int member) {
    return SheetMaker(job, cage, member).make();
}

}  // namespace hoopwright
