#include "core/shop/bender_pose.h"

#include <algorithm>
#include <cmath>
#include <limits>

namespace hoopwright {
namespace {

constexpr double kStep_mm = 25, kRound_mm = 0.01, kTouch_mm = 1;
constexpr int kAngles = 9;

/// One side of the tube, walked from the die outwards.
struct Arm {
    std::vector<Vec3> points;
    std::size_t bent_from = 0;  ///< points from here on lie behind the first bend that is made
    double straight_mm = 0;     ///< to that bend, or to the end
    bool ends_straight = true;  ///< no bend is made on this side
    double length_mm = 0;
    Vec3 leg = Vec3::Zero();  ///< direction behind the bend asked for
};

class Walker {
public:
    Walker(const BendJob& job, unsigned made, int leg_bend) : job_(job), made_(made), leg_bend_(leg_bend) {}

    /// From the die on, towards B or towards A. `axis`: of the bend in the die, for the way from A to B;
    /// `unbent_mm`: what of it is still straight.
    Arm walk(int bend, bool towards_b, const Vec3& from, const Vec3& along, const Vec3& axis,
             double unbent_mm = 0) {
        arm_ = {};
        at_ = from;
        along_ = along;
        axis_ = axis;
        arm_.points.push_back(at_);
        if (unbent_mm > 0) straight(unbent_mm);
        const int count = static_cast<int>(job_.table.rows.size());
        for (int i = bend;; i += towards_b ? 1 : -1) {
            const bool last = towards_b ? i + 1 == count : i == 0;
            // Between bends i and i + 1 (i - 1 and i) the row of the later one says straight and rotation.
            const int row = towards_b ? i + 1 : i;
            straight(towards_b && last ? job_.table.last_straight_mm : rowOf(row).straight_before_mm);
            if (last) break;
            axis_ = Eigen::AngleAxisd(rowOf(row).rotation_rad, along_) * axis_;
            bendAt(towards_b ? i + 1 : i - 1, towards_b ? 1 : -1);
        }
        if (arm_.ends_straight) {
            arm_.straight_mm = arm_.length_mm;
            arm_.bent_from = arm_.points.size();
        }
        return arm_;
    }

private:
    const BendRow& rowOf(int i) const { return job_.table.rows[static_cast<std::size_t>(i)]; }

    void straight(double length_mm) {
        const int steps = std::max(1, static_cast<int>(std::ceil(length_mm / kStep_mm)));
        for (int k = 1; k <= steps; ++k) arm_.points.push_back(at_ + length_mm * k / steps * along_);
        at_ += length_mm * along_;
        arm_.length_mm += length_mm;
    }
    void bendAt(int bend, double way) {
        const BendRow& row = rowOf(bend);
        if ((made_ >> bend & 1u) == 0) {
            straight(row.arc_mm);
            return;
        }
        if (arm_.ends_straight) {
            arm_.ends_straight = false;
            arm_.straight_mm = arm_.length_mm;
            arm_.bent_from = arm_.points.size();
        }
        const Vec3 axis = way * axis_;
        const Vec3 centre = at_ + row.radius_mm * axis.cross(along_);
        const int steps = std::max(2, static_cast<int>(std::ceil(row.arc_mm / kStep_mm)));
        for (int k = 1; k <= steps; ++k)
            arm_.points.push_back(centre +
                                  Eigen::AngleAxisd(row.angle_rad * k / steps, axis) * (at_ - centre));
        at_ = arm_.points.back();
        along_ = Eigen::AngleAxisd(row.angle_rad, axis) * along_;
        arm_.length_mm += row.arc_mm;
        if (bend == leg_bend_) arm_.leg = along_;
    }

    const BendJob& job_;
    unsigned made_;
    int leg_bend_;
    Arm arm_;
    Vec3 at_, along_, axis_;
};

/// Both arms with the die turned by `angle`; the origin is where the tail runs into the die.
struct Held {
    Arm lead, tail;
};
Held held(const BendJob& job, int bend, bool a_leads, unsigned made, double angle_rad, int leg_bend = -1) {
    Walker walker(job, made, leg_bend);
    const BendRow& row = job.table.rows[static_cast<std::size_t>(bend)];
    const double radius = row.radius_mm;
    const Vec3 axis = a_leads ? -Vec3::UnitZ() : Vec3(Vec3::UnitZ());
    const double c = std::cos(angle_rad), s = std::sin(angle_rad);
    return {
        walker.walk(bend, !a_leads, {radius * s, radius * (1 - c), 0}, {c, s, 0}, axis),
        walker.walk(bend, a_leads, Vec3::Zero(), -Vec3::UnitX(), axis, radius * (row.angle_rad - angle_rad))};
}

double distanceTo(const BenderBlock& block, const Vec3& p) {
    const Vec3 out = (block.low - p).cwiseMax(p - block.high).cwiseMax(0.0);
    return out.norm();
}

/// How deep the worst point of an arm is in each thing [mm]; 0: it is clear of it.
class Strikes {
public:
    explicit Strikes(const BendJob& job)
        : bender_(*job.bender), radius_(job.od_mm / 2), blocks_(bender_.frame.size(), 0) {}

    void add(const Arm& arm) {
        for (const Vec3& p : arm.points) {
            floor_ = std::max(floor_, radius_ - bender_.height_mm - p.dot(bender_.up()));
            for (std::size_t i = 0; i < blocks_.size(); ++i)
                blocks_[i] = std::max(blocks_[i], radius_ - distanceTo(bender_.frame[i], p));
        }
    }
    void addSelf(const Held& now) {
        addSelf(now.lead, now.tail);
        addSelf(now.tail, now.lead);
    }
    double floor() const { return floor_; }
    double block(std::size_t i) const { return blocks_[i]; }
    bool self() const { return self_; }

private:
    void addSelf(const Arm& bent, const Arm& other) {
        for (std::size_t i = bent.bent_from; i < bent.points.size(); ++i) {
            for (const Vec3& q : other.points)
                self_ = self_ || (bent.points[i] - q).norm() < 2 * radius_ - kTouch_mm;
        }
    }
    const Bender& bender_;
    double radius_;
    double floor_ = 0;
    std::vector<double> blocks_;
    bool self_ = false;
};

std::string endWord(bool a) {
    return a ? "end A" : "end B";
}

class Teller {
public:
    Teller(const BendJob& job, int bend) : job_(job), number_(std::to_string(bend + 1)) {}

    void straights(const Held& done, bool a_leads) {
        const double clamp = job_.die.clamp_mm.value_or(job_.die.least_straight_mm);
        if (done.lead.straight_mm < clamp - kRound_mm)
            say("The clamp needs " + shown(clamp) + " of straight in front of bend " + number_ +
                ", towards " + endWord(a_leads) + "; there are " + shown(done.lead.straight_mm) + ".");
        const double behind = done.tail.ends_straight
                                  ? job_.die.least_end_straight_mm
                                  : job_.die.follower_mm.value_or(job_.die.least_straight_mm);
        if (done.tail.straight_mm < behind - kRound_mm)
            say("The follower needs " + shown(behind) + " of straight behind bend " + number_ + ", towards " +
                endWord(!a_leads) + "; there are " + shown(done.tail.straight_mm) + ".");
    }
    void room(const Held& start) {
        if (!job_.bender->tail_mm) return;
        double back = 0;
        for (const Vec3& p : start.tail.points) back = std::max(back, -p.x());
        if (back > *job_.bender->tail_mm + kRound_mm)
            say("Bend " + number_ + " needs " + shown(back) + " of room behind the bender; there are " +
                shown(*job_.bender->tail_mm) + ".");
    }
    void strikes(const Strikes& lead, const Strikes& tail) {
        if (lead.floor() > kTouch_mm)
            say("At bend " + number_ + " the swinging part comes " + shown(lead.floor()) +
                " into the floor.");
        if (tail.floor() > kTouch_mm)
            say("At bend " + number_ + " the part behind the bender hangs " + shown(tail.floor()) +
                " into the floor.");
        for (std::size_t i = 0; i < job_.bender->frame.size(); ++i) {
            const std::string& name = job_.bender->frame[i].name;
            const std::string what = name.empty() ? "the bender's frame" : "the bender's " + name;
            if (lead.block(i) > kTouch_mm)
                say("At bend " + number_ + " the swinging part strikes " + what + ".");
            if (tail.block(i) > kTouch_mm)
                say("At bend " + number_ + " the part behind strikes " + what + ".");
        }
        if (lead.self()) say("At bend " + number_ + " the tube swings into itself.");
    }
    std::vector<std::string> take() { return std::move(said_); }

private:
    std::string shown(double mm) const { return showLength(mm, {job_.unit}); }
    void say(std::string sentence) { said_.push_back(std::move(sentence)); }
    const BendJob& job_;
    std::string number_;
    std::vector<std::string> said_;
};

}  // namespace

std::vector<std::string> bendTroubles(const BendJob& job, int bend, bool a_leads, unsigned made) {
    const BendRow& row = job.table.rows[static_cast<std::size_t>(bend)];
    Teller teller(job, bend);
    const Held start = held(job, bend, a_leads, made, 0);
    teller.straights(held(job, bend, a_leads, made, row.angle_rad), a_leads);
    if (!job.bender) return teller.take();
    teller.room(start);
    Strikes lead(job), tail(job);
    for (int k = 0; k < kAngles; ++k) {
        const Held now = held(job, bend, a_leads, made, row.angle_rad * k / (kAngles - 1));
        // What the clamp and the follower hold lies in the bender by its nature.
        Arm swings = now.lead, behind = now.tail;
        const auto free = [](Arm& arm) {
            arm.points.erase(arm.points.begin(),
                             arm.points.begin() + static_cast<std::ptrdiff_t>(arm.bent_from));
        };
        free(swings);
        free(behind);
        lead.add(swings);
        tail.add(behind);
        lead.addSelf(now);
    }
    teller.strikes(lead, tail);
    return teller.take();
}

double legRise(const BendJob& job, int bend, bool a_leads, unsigned made, int leg_bend) {
    const Held now = held(job, bend, a_leads, made, 0, leg_bend);
    const Vec3 leg = now.lead.leg.norm() > 0.5 ? now.lead.leg : now.tail.leg;
    return std::asin(std::clamp(leg.dot(job.bender->up()), -1.0, 1.0));
}

}  // namespace hoopwright
