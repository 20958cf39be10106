// A hoop wish as plain numbers in, score and limits out, by the geometry's own ways and none of the search's.
#pragma once

#include <algorithm>
#include <string>
#include <vector>

#include "core/files/job_file.h"
#include "core/fit/hoop_fit.h"
#include "core/fit/path_of.h"
#include "core/mesh/tube_gap.h"
#include "core/model/resolve.h"

namespace hoopwright {

class HoopMeasure {
public:
    HoopMeasure(const FitCar& car, HoopStarts starts) : car_(car), starts_(std::move(starts)) {}

    std::size_t count() const { return starts_.wish.freedoms.size(); }
    const HoopStarts& starts() const { return starts_; }

    std::vector<Vec3> path(std::size_t start, const double* x) const {
        std::vector<Vec3> out = starts_.starts[start];
        for (std::size_t k = 0; k < count(); ++k)
            for (const auto& move : starts_.wish.freedoms[k].moves) {
                const auto& straight = std::get<Freedom::Straight>(move);
                out[static_cast<std::size_t>(straight.point)] += x[k] * straight.along;
            }
        return out;
    }

    struct Value {
        double score_mm = 0;
        std::vector<double> limits_mm;  ///< gap, straights, angles: each is to be >= 0
        double missed_mm() const { return std::max(0.0, -*std::ranges::min_element(limits_mm)); }
    };
    /// A hoop that is not all inside has its gap counted as far below zero as nothing could pay for.
    Value at(const std::vector<Vec3>& path) const {
        const BarWish& wish = starts_.wish;
        Value out;
        std::vector<PathPoint> points;
        for (const Vec3& p : path) points.push_back({p, wish.tube.bend_radius_mm});
        const PathResult made = makeCentreline(points);
        const Centreline& line = made.line;
        const Centreline held = partOf(line, wish.landing_mm[0], line.length_mm() - wish.landing_mm[1]);
        const Vec3 inside = (path.front() + path.back()) / 2 + Vec3(0, 0, 400);
        bool beyond = held.empty();
        for (double s = 0; s <= held.length_mm() && !beyond; s += 60)
            beyond = car_.isBetween(inside, held.point(s));
        if (beyond) {
            out.score_mm = 1e4;
            out.limits_mm = std::vector<double>(1 + 2 * path.size() - 3, -1e3);
            return out;
        }
        out.limits_mm.push_back(nearest(held, car_.meshes())->distance_mm - wish.tube.od_mm / 2 -
                                wish.least_gap_mm);
        // Straights and angles from the corners themselves.
        std::vector<double> setback(path.size(), 0);
        for (std::size_t i = 1; i + 1 < path.size(); ++i) {
            const Vec3 in = (path[i] - path[i - 1]).normalized(), on = (path[i + 1] - path[i]).normalized();
            const double angle = std::acos(std::clamp(in.dot(on), -1.0, 1.0));
            setback[i] = wish.tube.bend_radius_mm * std::tan(angle / 2);
            out.limits_mm.push_back((wish.tube.greatest_angle_rad - angle) * wish.tube.bend_radius_mm);
        }
        for (std::size_t i = 0; i + 1 < path.size(); ++i)
            out.limits_mm.push_back((path[i + 1] - path[i]).norm() - setback[i] - setback[i + 1] -
                                    wish.tube.least_straight_mm);
        out.score_mm = goodnessOf(car_, wish, path).score_mm;
        return out;
    }

private:
    const FitCar& car_;
    HoopStarts starts_;
};

/// A demo car and the wish its main hoop stands for, its feet where they are.
struct DemoHoop {
    explicit DemoHoop(const std::string& cage_name)
        : job(*readJob(std::string(HOOPWRIGHT_SOURCE_DIR "/data/cages/") + cage_name + ".yaml").job),
          car(job.car, job.scan_meshes) {
        const CageGeometry cage = resolve(job);
        const ResolvedMember& hoop = cage.members[static_cast<std::size_t>(cage.member("main_hoop"))];
        const Die& die = *job.dies.forOd(hoop.section.od_mm);
        wish.tube = {hoop.section.od_mm, die.radius_mm, die.least_straight_mm, die.greatest_angle_rad};
        wish.left_foot = hoop.line.start();
        wish.right_foot = hoop.line.end();
        wish.least_gap_mm = 12;  // the feet themselves have more, so that one gap holds all along
        wish.foot_landing_mm = 80;
    }
    Job job;
    FitCar car;
    HoopWish wish;
};

}  // namespace hoopwright
