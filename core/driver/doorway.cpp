#include "core/driver/doorway.h"

#include <Eigen/Cholesky>
#include <algorithm>
#include <cmath>
#include <numbers>
#include <optional>
#include <queue>

#include "core/driver/body.h"

namespace hoopwright {
namespace {

constexpr double kChord_mm = 0.2;

Vec2 seen(const Vec3& p) {
    return {p.x(), p.z()};
}

double toSegment(const Vec2& p, const Vec2& a, const Vec2& b) {
    const Vec2 edge = b - a;
    const double length2 = edge.squaredNorm();
    const double t = length2 > 0 ? std::clamp((p - a).dot(edge) / length2, 0.0, 1.0) : 0;
    return (p - a - t * edge).norm();
}

/// A stretch of a bar as it stands in the opening.
struct Rod {
    Vec2 from, to;
    double radius_mm;
    int member;
};

/// What is clear at a place of the opening: positive inside it and away from bars.
struct Room {
    double clear_mm = 0;
    int member = -1;  ///< what is nearest; -1: the edge
};

class Opening {
public:
    Opening(const std::vector<Vec3>& outline, const CageGeometry& cage) {
        // Across the car the opening lies near a plane y = a + b x + c z.
        Eigen::MatrixXd known(static_cast<Eigen::Index>(outline.size()), 3);
        Eigen::VectorXd y(static_cast<Eigen::Index>(outline.size()));
        for (std::size_t i = 0; i < outline.size(); ++i) {
            const auto row = static_cast<Eigen::Index>(i);
            known.row(row) << 1, outline[i].x(), outline[i].z();
            y[row] = outline[i].y();
            edge_.push_back(seen(outline[i]));
            box_.extend(edge_.back());
        }
        plane_ = (known.transpose() * known + 1e-6 * Eigen::Matrix3d::Identity())
                     .ldlt()
                     .solve(known.transpose() * y);
        for (std::size_t i = 0; i < cage.members.size(); ++i) addBar(cage.members[i], static_cast<int>(i));
    }

    Room room(const Vec2& p) const {
        double edge = 1e300;
        bool in = false;
        for (std::size_t i = 0, last = edge_.size() - 1; i < edge_.size(); last = i++) {
            const Vec2 &a = edge_[last], &b = edge_[i];
            edge = std::min(edge, toSegment(p, a, b));
            if ((a.y() > p.y()) == (b.y() > p.y())) continue;
            if (p.x() < a.x() + (p.y() - a.y()) / (b.y() - a.y()) * (b.x() - a.x())) in = !in;
        }
        Room out{in ? edge : -edge, -1};
        for (const Rod& rod : rods_) {
            const double now = toSegment(p, rod.from, rod.to) - rod.radius_mm;
            if (now < out.clear_mm) out = {now, rod.member};
        }
        return out;
    }

    /// The middle of the largest clear round: squares are halved as long as one could hold a larger one.
    Vec2 roundest() const {
        struct Cell {
            Vec2 middle;
            double half, clear, most;
            bool operator<(const Cell& other) const { return most < other.most; }
        };
        const auto cell = [&](const Vec2& middle, double half) {
            const double clear = room(middle).clear_mm;
            return Cell{middle, half, clear, clear + half * std::sqrt(2.0)};
        };
        constexpr double kExact_mm = 0.05;
        std::priority_queue<Cell> cells;
        const double half = std::max(1.0, box_.sizes().maxCoeff() / 16);
        for (double x = box_.min().x(); x <= box_.max().x(); x += 2 * half)
            for (double z = box_.min().y(); z <= box_.max().y(); z += 2 * half)
                cells.push(cell({x, z}, half));
        Cell best = cells.top();
        while (!cells.empty()) {
            const Cell now = cells.top();
            cells.pop();
            if (now.clear > best.clear) best = now;
            if (now.most - best.clear <= kExact_mm / 2) break;
            const double quarter = now.half / 2;
            for (const double x : {-quarter, quarter})
                for (const double z : {-quarter, quarter}) cells.push(cell(now.middle + Vec2(x, z), quarter));
        }
        return polished(best.middle);
    }

    /// From a middle near the best one uphill to the top, in steps halved to nothing.
    Vec2 polished(Vec2 middle) const {
        constexpr int kWays = 16;
        constexpr double kBetter_mm = 1e-9;
        double clear = room(middle).clear_mm;
        for (double step = 0.1; step > 1e-7;) {
            bool better = false;
            for (int i = 0; i < kWays; ++i) {
                const double turn = 2 * std::numbers::pi * i / kWays;
                const Vec2 there = middle + step * Vec2(std::cos(turn), std::sin(turn));
                const double now = room(there).clear_mm;
                if (now <= clear + kBetter_mm) continue;
                middle = there;
                clear = now;
                better = true;
            }
            if (!better) step /= 2;
        }
        return middle;
    }

    std::vector<int> touching(const Vec2& middle, double radius_mm) const {
        std::vector<int> out;
        for (const Rod& rod : rods_)
            if (toSegment(middle, rod.from, rod.to) - rod.radius_mm < radius_mm + 1 &&
                std::find(out.begin(), out.end(), rod.member) == out.end())
                out.push_back(rod.member);
        return out;
    }

    /// The longest clear stretch of the line `from + t way` over the opening's box.
    ClearSpan span(const Vec2& from, const Vec2& way, double length_mm) const {
        ClearSpan best;
        double start = -1;
        constexpr double kStep_mm = 2;
        const auto clear = [&](double t) { return room(from + t * way).clear_mm > 0; };
        const auto edgeBetween = [&](double in, double out) {
            while (std::abs(in - out) > 1e-3) {
                const double middle = 0.5 * (in + out);
                (clear(middle) ? in : out) = middle;
            }
            return in;
        };
        const auto keep = [&](double begin, double end) {
            if (end - begin <= best.length_mm) return;
            const Vec2 a = from + begin * way, b = from + end * way;
            best.there = true;
            best.from = inSpace(a);
            best.to = inSpace(b);
            best.from_member = room(a).member;
            best.to_member = room(b).member;
            best.length_mm = end - begin;
        };
        for (double t = 0; t <= length_mm + kStep_mm; t += kStep_mm) {
            const bool now = clear(t);
            if (now && start < 0) start = t > 0 ? edgeBetween(t, t - kStep_mm) : 0;
            if (!now && start >= 0) {
                keep(start, edgeBetween(t - kStep_mm, t));
                start = -1;
            }
        }
        return best;
    }

    Vec3 inSpace(const Vec2& p) const { return {p.x(), plane_.dot(Vec3(1, p.x(), p.y())), p.y()}; }
    const Eigen::AlignedBox2d& box() const { return box_; }

private:
    void addBar(const ResolvedMember& bar, int index) {
        std::optional<Vec3> before;
        for (const double station : bar.line.sampleStations(kChord_mm)) {
            const Vec3 at = bar.line.point(station);
            if (before) addRod(*before, at, bar.radius_mm(), index);
            before = at;
        }
    }
    /// The part of a stretch that is near enough to the plane.
    void addRod(const Vec3& a, const Vec3& b, double radius_mm, int member) {
        const auto off = [&](const Vec3& p) { return p.y() - plane_.dot(Vec3(1, p.x(), p.z())); };
        const double at_a = off(a), at_b = off(b);
        double from = 0, to = 1;
        if (std::abs(at_b - at_a) < 1e-9) {
            if (std::abs(at_a) > kDoorwayReach_mm) return;
        } else {
            const double one = (-kDoorwayReach_mm - at_a) / (at_b - at_a),
                         two = (kDoorwayReach_mm - at_a) / (at_b - at_a);
            from = std::max(from, std::min(one, two));
            to = std::min(to, std::max(one, two));
        }
        if (from < to) rods_.push_back({seen(a + from * (b - a)), seen(a + to * (b - a)), radius_mm, member});
    }

    std::vector<Vec2> edge_;
    Eigen::AlignedBox2d box_;
    Vec3 plane_ = Vec3::Zero();
    std::vector<Rod> rods_;
};

/// The line of the driver's side; one taken for the other side is mirrored.
std::optional<std::vector<Vec3>> outlineOf(const Car& car, const std::string& name, bool left) {
    const std::string wanted = name + (left ? ".left" : ".right");
    const CarLine* line = car.line(wanted);
    const bool mirror = !line;
    if (!line) line = car.line(otherSide(wanted));
    if (!line || line->points.size() < 3) return std::nullopt;
    std::vector<Vec3> out = line->points;
    if (mirror)
        for (Vec3& p : out) p = mirrored(p);
    return out;
}

}  // namespace

Expected<Doorway> doorway(const Driver& driver, const Car& car, const CageGeometry& cage,
                          const std::string& name) {
    Doorway out;
    out.left = driver.hip.y() >= 0;
    out.line = name + (out.left ? ".left" : ".right");
    const auto outline = outlineOf(car, name, out.left);
    if (!outline)
        return Reason{"the car has no line '" + name + "' of at least three points on the driver's side"};
    const Opening opening(*outline, cage);
    const Vec2 middle = opening.roundest();
    const double clear = std::max(0.0, opening.room(middle).clear_mm);
    out.clear_round_mm = 2 * clear;
    out.round_at = opening.inSpace(middle);
    out.round_members = opening.touching(middle, clear);

    const int side = out.left ? 1 : -1;
    out.shoulder_width_mm = driver.shoulder_width_mm.value_or(
        (support(solidsOf(driver, BodyPart::shoulder)[0].solid, Vec3::UnitY()) -
         support(solidsOf(driver, BodyPart::shoulder)[1].solid, -Vec3::UnitY()))
            .y());
    out.chest_mm = 2 * std::get<Capsule>(solidsOf(driver, BodyPart::torso)[0].solid).radius_mm;
    const Vec3 shoulder = side > 0 ? driver.shoulder_left : driver.shoulder_right,
               knee = side > 0 ? driver.knee_left : driver.knee_right;
    const Eigen::AlignedBox2d& box = opening.box();
    for (const bool upright : {false, true})
        for (const auto& [at, point] : {std::pair{"shoulder", shoulder}, std::pair{"knee", knee}}) {
            ClearSpan span = upright
                                 ? opening.span({point.x(), box.min().y()}, Vec2::UnitY(), box.sizes().y())
                                 : opening.span({box.min().x(), point.z()}, Vec2::UnitX(), box.sizes().x());
            span.at = at;
            span.upright = upright;
            out.spans.push_back(span);
        }
    return out;
}

}  // namespace hoopwright
