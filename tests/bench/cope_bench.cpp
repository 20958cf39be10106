// 40 copes of 720 stations, both edges, and least distances of 60 tubes. With OpenCASCADE: the same 40 pairs
// of walls through its intersection of surfaces, and in the same run the ratio.
#include <benchmark/benchmark.h>

#include <chrono>
#include <numbers>

#include "core/geometry/cope.h"
#include "core/geometry/distance.h"
#include "tests/core/geometry/random_tubes.h"

#ifdef HOOPWRIGHT_HAVE_OPENCASCADE
#include <GeomAPI_IntSS.hxx>
#include <Geom_CylindricalSurface.hxx>
#include <Geom_RectangularTrimmedSurface.hxx>
#include <gp_Ax3.hxx>
#endif

namespace hoopwright {
namespace {

constexpr double kDegree = std::numbers::pi / 180;
constexpr double kHostRadius_mm = 22.225;

struct Joint {
    CopeEnd end;
    double station_mm;
};

/// 40 joints at 30 to 90 degrees, branch radius 15.9 to 22.2 mm, every third of the host's own diameter,
/// clocked anyhow.
std::vector<Joint> jointsOn(const Centreline& line, double from, double to) {
    std::mt19937_64 random(81);
    std::uniform_real_distribution<double> radius(15.9, 22.2), angle(30 * kDegree, 90 * kDegree), turn(-1, 1);
    std::vector<Joint> joints;
    for (int i = 0; i < 40; ++i) {
        const double station = from + (to - from) * (i + 0.5) / 40;
        const double theta = angle(random);
        const Vec3 out =
            (line.tangent(station).cross(Vec3::UnitZ()) + turn(random) * Vec3::UnitZ()).normalized();
        CopeEnd end;
        end.foot = line.point(station);
        end.inward = std::cos(theta) * line.tangent(station) + std::sin(theta) * out;
        end.clock = Eigen::AngleAxisd(turn(random), end.inward) * end.inward.unitOrthogonal();
        end.outer_radius_mm = i % 3 == 0 ? kHostRadius_mm : radius(random);
        end.bore_radius_mm = end.outer_radius_mm - 2.4;
        joints.push_back({end, station});
    }
    return joints;
}

double copeAll(const Centreline& line, const std::vector<Joint>& joints) {
    double sum = 0;
    for (const Joint& joint : joints) {
        const CopeHost host = CopeTube{&line, kHostRadius_mm, joint.station_mm};
        sum += cope(joint.end, {&host, 1}, 720)->outer.greatest_mm;
    }
    return sum;
}

Centreline straightHost() {
    const std::vector<PathPoint> path = {{{-3000, 0, 0}}, {{3000, 0, 0}}};
    return makeCentreline(path).line;
}

void CopesOnStraights(benchmark::State& state) {
    const Centreline line = straightHost();
    const auto joints = jointsOn(line, 1000, 5000);
    for (auto _ : state) benchmark::DoNotOptimize(copeAll(line, joints));
}
BENCHMARK(CopesOnStraights)->Unit(benchmark::kMillisecond);

void CopesOnBends(benchmark::State& state) {
    const std::vector<PathPoint> path = {{{-900, -150, 0}}, {{150, -150, 0}, 150}, {{150, 900, 0}}};
    const Centreline line = makeCentreline(path).line;
    const auto joints = jointsOn(line, line.pieces()[1].station_mm, line.pieces()[2].station_mm);
    for (auto _ : state) benchmark::DoNotOptimize(copeAll(line, joints));
}
BENCHMARK(CopesOnBends)->Unit(benchmark::kMillisecond);

std::vector<Centreline> sixtyTubes() {
    std::mt19937_64 random(82);
    std::vector<Centreline> tubes;
    for (int i = 0; i < 60; ++i) tubes.push_back(randomTube(random));
    return tubes;
}

void DistancesOfAllPairs(benchmark::State& state) {
    const auto tubes = sixtyTubes();
    for (auto _ : state) {
        double sum = 0;
        for (size_t i = 0; i < tubes.size(); ++i) {
            for (size_t k = i + 1; k < tubes.size(); ++k) sum += nearest(tubes[i], tubes[k]).distance_mm;
        }
        benchmark::DoNotOptimize(sum);
    }
}
BENCHMARK(DistancesOfAllPairs)->Unit(benchmark::kMillisecond);

void PairsWithin100mm(benchmark::State& state) {
    const auto tubes = sixtyTubes();
    for (auto _ : state) {
        int near = 0;
        for (size_t i = 0; i < tubes.size(); ++i) {
            for (size_t k = i + 1; k < tubes.size(); ++k)
                near += nearestWithin(tubes[i], tubes[k], 100).has_value();
        }
        benchmark::DoNotOptimize(near);
    }
}
BENCHMARK(PairsWithin100mm)->Unit(benchmark::kMillisecond);

#ifdef HOOPWRIGHT_HAVE_OPENCASCADE
gp_Ax3 frame(const Vec3& at, const Vec3& along) {
    return {gp_Pnt(at.x(), at.y(), at.z()), gp_Dir(along.x(), along.y(), along.z())};
}
Handle(Geom_Surface) wall(const Vec3& at, const Vec3& along, double radius, double from, double to) {
    const Handle(Geom_CylindricalSurface) cylinder = new Geom_CylindricalSurface(frame(at, along), radius);
    return new Geom_RectangularTrimmedSurface(cylinder, 0, 2 * std::numbers::pi, from, to);
}

int intersectAll(const Centreline& line, const std::vector<Joint>& joints) {
    int curves = 0;
    for (const Joint& joint : joints) {
        const auto host = wall(joint.end.foot, line.tangent(joint.station_mm), kHostRadius_mm, -150, 150);
        for (double radius : {joint.end.outer_radius_mm, joint.end.bore_radius_mm}) {
            const GeomAPI_IntSS meeting(host, wall(joint.end.foot, joint.end.inward, radius, 0, 150), 1e-6);
            curves += meeting.IsDone() ? meeting.NbLines() : 0;
        }
    }
    return curves;
}

/// Ours and OpenCASCADE's turn by turn; the counter `ratio` is how many times longer it takes for the two
/// curves alone.
void CopesAgainstOpenCascade(benchmark::State& state) {
    using Clock = std::chrono::steady_clock;
    const Centreline line = straightHost();
    const auto joints = jointsOn(line, 1000, 5000);
    double ours = 0, theirs = 0;
    for (auto _ : state) {
        const auto start = Clock::now();
        benchmark::DoNotOptimize(copeAll(line, joints));
        const auto middle = Clock::now();
        benchmark::DoNotOptimize(intersectAll(line, joints));
        ours += std::chrono::duration<double>(middle - start).count();
        theirs += std::chrono::duration<double>(Clock::now() - middle).count();
    }
    state.counters["ratio"] = theirs / ours;
}
BENCHMARK(CopesAgainstOpenCascade)->Unit(benchmark::kMillisecond)->Iterations(5);
#endif

}  // namespace
}  // namespace hoopwright
