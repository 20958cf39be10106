// What a STEP file costs: every piece of the sixty-tube cage as a solid with exact faces, and its text. With
// OpenCASCADE: the same tubes cut by boolean solids, and in the same run the ratio.
#include <benchmark/benchmark.h>

#include <chrono>
#include <numbers>

#include "core/files/job_file.h"
#include "core/model/resolve.h"
#include "core/solid/cage_solids.h"
#include "core/solid/step_text.h"
#include "tests/core/model/whole_cage.h"

#ifdef HOOPWRIGHT_HAVE_OPENCASCADE
#include <BRepAlgoAPI_Cut.hxx>
#include <BRepBuilderAPI_MakeEdge.hxx>
#include <BRepBuilderAPI_MakeFace.hxx>
#include <BRepBuilderAPI_MakeWire.hxx>
#include <BRepGProp.hxx>
#include <BRepPrimAPI_MakePrism.hxx>
#include <BRepPrimAPI_MakeRevol.hxx>
#include <GProp_GProps.hxx>
#include <TopExp_Explorer.hxx>
#include <TopTools_ListOfShape.hxx>
#include <TopoDS.hxx>
#include <gp_Ax2.hxx>
#include <gp_Circ.hxx>
#endif

namespace hoopwright {
namespace {

std::string stepOf(const Job& job, const CageGeometry& cage) {
    const CageSolids solids = cageSolids(job, cage);
    std::vector<StepPart> parts;
    for (const CagePiece& piece : solids.pieces)
        parts.push_back({piece.id, piece.name, {0.5, 0.5, 0.5}, piece.solid});
    return stepText(job.cage.name, parts);
}

void stepOfSixtyTubes(benchmark::State& state) {
    const Job job = testing::wholeCage();
    const CageGeometry cage = resolve(job);
    for (auto _ : state) benchmark::DoNotOptimize(stepOf(job, cage));
    state.counters["tubes"] = static_cast<double>(cage.members.size());
}
BENCHMARK(stepOfSixtyTubes)->Unit(benchmark::kMillisecond);

void stepOfADemo(benchmark::State& state, const char* file) {
    const JobResult demo = readJob(std::string(HOOPWRIGHT_SOURCE_DIR "/data/cages/") + file);
    if (!demo.job) return state.SkipWithError("the demo job is missing");
    const CageGeometry cage = resolve(*demo.job);
    for (auto _ : state) benchmark::DoNotOptimize(stepOf(*demo.job, cage));
}
BENCHMARK_CAPTURE(stepOfADemo, saloon, "hillclimb_saloon.yaml")->Unit(benchmark::kMillisecond);
BENCHMARK_CAPTURE(stepOfADemo, pickup, "mile_pickup.yaml")->Unit(benchmark::kMillisecond);

#ifdef HOOPWRIGHT_HAVE_OPENCASCADE
gp_Pnt pointOf(const Vec3& p) {
    return {p.x(), p.y(), p.z()};
}
gp_Dir wayOf(const Vec3& d) {
    return {d.x(), d.y(), d.z()};
}

TopoDS_Wire roundOf(const Vec3& at, const Vec3& along, double radius) {
    const gp_Circ circle(gp_Ax2(pointOf(at), wayOf(along)), radius);
    return BRepBuilderAPI_MakeWire(BRepBuilderAPI_MakeEdge(circle).Edge()).Wire();
}

/// A piece of a tube; without a bore a rod.
TopoDS_Shape swept(const Piece& piece, double outer, double bore) {
    BRepBuilderAPI_MakeFace face(roundOf(piece.start, piece.tangent, outer));
    if (bore > 0) face.Add(TopoDS::Wire(roundOf(piece.start, piece.tangent, bore).Reversed()));
    if (piece.kind == Piece::Kind::straight) {
        const Vec3 run = piece.end() - piece.start;
        return BRepPrimAPI_MakePrism(face.Face(), gp_Vec(run.x(), run.y(), run.z())).Shape();
    }
    return BRepPrimAPI_MakeRevol(face.Face(), gp_Ax1(pointOf(piece.centre), wayOf(piece.axis)),
                                 piece.angle_rad)
        .Shape();
}

double volumeOf(const TopoDS_Shape& shape) {
    GProp_GProps properties;
    BRepGProp::VolumeProperties(shape, properties);
    return properties.Mass();
}

/// Of what a cut leaves, the tube itself: slivers beyond its host fall off.
TopoDS_Shape greatestOf(const TopoDS_Shape& shape) {
    TopoDS_Shape best;
    double most = 0;
    for (TopExp_Explorer each(shape, TopAbs_SOLID); each.More(); each.Next())
        if (const double volume = volumeOf(each.Current()); volume > most)
            most = volume, best = each.Current();
    return best;
}

/// Every end cut by the rods of what it lands on. Only the piece at the end is cut, and pieces are not
/// joined, which is kind to the booleans.
double cutByBooleans(const CageGeometry& cage) {
    double volume = 0;
    for (const ResolvedMember& tube : cage.members) {
        const auto pieces = tube.line.pieces();
        std::vector<TopoDS_Shape> shapes;
        for (const Piece& piece : pieces)
            shapes.push_back(swept(piece, tube.radius_mm(), tube.radius_mm() - tube.section.wall_mm));
        for (const int e : {0, 1}) {
            const ResolvedEnd& end = tube.ends[static_cast<std::size_t>(e)];
            std::vector<int> hosts = end.also;
            if (end.on == ResolvedEnd::On::member) hosts.push_back(end.host);
            if (hosts.empty()) continue;
            TopoDS_Shape& shape = e == 0 ? shapes.front() : shapes.back();
            TopTools_ListOfShape cut, by;
            cut.Append(shape);
            for (const int host : hosts) {
                const ResolvedMember& rod = cage.members[static_cast<std::size_t>(host)];
                for (const Piece& piece : rod.line.pieces()) by.Append(swept(piece, rod.radius_mm(), 0));
            }
            BRepAlgoAPI_Cut boolean;
            boolean.SetArguments(cut);
            boolean.SetTools(by);
            boolean.Build();
            shape = greatestOf(boolean.Shape());
        }
        for (const TopoDS_Shape& shape : shapes)
            if (!shape.IsNull()) volume += volumeOf(shape);
    }
    return volume;
}

/// Ours and OpenCASCADE's of the same sixty tubes; the counter `ratio` is how many times longer the booleans
/// take, `volume` theirs as a share of ours.
void sixtyTubesAgainstBooleans(benchmark::State& state) {
    using Clock = std::chrono::steady_clock;
    const Job job = testing::wholeCage();
    const CageGeometry cage = resolve(job);
    double ours = 0, theirs = 0, volume = 0, told = 0;
    for (auto _ : state) {
        const auto start = Clock::now();
        benchmark::DoNotOptimize(stepOf(job, cage));
        const auto middle = Clock::now();
        volume = cutByBooleans(cage);
        ours += std::chrono::duration<double>(middle - start).count();
        theirs += std::chrono::duration<double>(Clock::now() - middle).count();
    }
    for (const CagePiece& piece : cagePieces(job, cage).pieces)
        if (piece.kind == CagePiece::Kind::tube) told += piece.volume_mm3;
    state.counters["ours_s"] = ours;
    state.counters["theirs_s"] = theirs;
    state.counters["ratio"] = theirs / ours;
    state.counters["volume"] = volume / told;
}
BENCHMARK(sixtyTubesAgainstBooleans)->Unit(benchmark::kMillisecond)->Iterations(1);
#endif

}  // namespace
}  // namespace hoopwright
