// Every kind of end in the demo jobs, each ten times a little moved, cut by OpenCASCADE's solids.
//
// What is measured: the edge round the outside of the tube that the kernel leaves, and ours; from each of our
// stations to the kernel's edge, and from places all along the kernel's edge to our line, in space.
#include <gtest/gtest.h>

#include <BRepAdaptor_Curve.hxx>
#include <BRepAlgoAPI_Cut.hxx>
#include <BRepGProp.hxx>
#include <BRepPrimAPI_MakeBox.hxx>
#include <BRepPrimAPI_MakeCylinder.hxx>
#include <BRepPrimAPI_MakeTorus.hxx>
#include <GProp_GProps.hxx>
#include <TopExp_Explorer.hxx>
#include <TopTools_ListOfShape.hxx>
#include <TopoDS.hxx>
#include <cmath>
#include <map>
#include <numbers>
#include <random>

#include "core/model/end_hosts.h"
#include "core/shop/joint_cope.h"
#include "tests/degrees.h"
#include "tests/outside/cage/demo_cage.h"
#include "tests/outside/opencascade/shapes.h"

namespace hoopwright {
namespace {

constexpr int kTimes = 10;
constexpr int kRound = 120;          ///< stations of our line
constexpr int kOnEdge = 160;         ///< places looked at on each of the kernel's edges
constexpr double kReach_mm = 260;    ///< from the foot to the square end of the tube
constexpr double kLimit_mm = 0.002;  ///< in space; a tenth of what a printed line may be off

/// An end with what it is cut to, free to be moved.
struct Ended {
    const CageGeometry* cage = nullptr;
    std::string name;
    CopeEnd end;
    std::vector<CopeHost> hosts;
    const ResolvedPlate* plate = nullptr;
    std::vector<int> faces;  ///< of the plate
};

Ended endedAt(const CageGeometry& cage, int member, int e) {
    const ResolvedMember& tube = cage.members[static_cast<std::size_t>(member)];
    const ResolvedEnd& at = tube.ends[static_cast<std::size_t>(e)];
    Ended out{
        &cage,      tube.id + (e == 0 ? " A" : " B"), copeEnd(cage, member, e), hostsOf(cage, at), nullptr,
        facesOf(at)};
    if (at.plate >= 0) out.plate = &cage.plates[static_cast<std::size_t>(at.plate)];
    return out;
}

/// Whether a tube has an end of its own by that place: it is coped in there.
bool endsThere(const CageGeometry& cage, int member, const Vec3& at) {
    const ResolvedMember& tube = cage.members[static_cast<std::size_t>(member)];
    return std::ranges::any_of(tube.ends, [&](const ResolvedEnd& end) {
        return end.on != ResolvedEnd::On::nothing && (end.at - at).norm() < 1.5 * tube.section.od_mm;
    });
}

/// All kinds an end is of.
std::vector<std::string> kindsOf(const CageGeometry& cage, int member, int e) {
    const ResolvedMember& tube = cage.members[static_cast<std::size_t>(member)];
    const ResolvedEnd& at = tube.ends[static_cast<std::size_t>(e)];
    if (at.on == ResolvedEnd::On::plate) return {"flat on a plate"};
    std::vector<std::string> kinds;
    const auto joint = std::ranges::find_if(cage.joints, [&](const Joint& one) {
        return one.branch == member && one.end == e && one.host == at.host;
    });
    if (joint == cage.joints.end()) return kinds;
    const double angle = joint->angle_rad / kDegree;
    kinds.emplace_back(angle > 85 ? "square" : angle < 60 ? "acute" : "aslant");
    const double host = cage.members[static_cast<std::size_t>(at.host)].section.od_mm;
    kinds.emplace_back(std::abs(host - tube.section.od_mm) > 0.1 ? "on a greater tube"
                                                                 : "on a tube of its size");
    if (joint->on_bend) kinds.emplace_back("on a bend");
    if (!at.also.empty()) kinds.emplace_back("round several at a node");
    const bool coped_in =
        std::ranges::any_of(at.also, [&](int also) { return endsThere(cage, also, at.at); });
    if (coped_in || endsThere(cage, at.host, at.at)) kinds.emplace_back("on a tube already coped in");
    return kinds;
}

/// The metal of a straight or a bend, filled.
TopoDS_Shape filled(const Piece& piece, double radius) {
    if (piece.kind == Piece::Kind::straight)
        return BRepPrimAPI_MakeCylinder(gp_Ax2(point(piece.start), direction(piece.tangent)), radius,
                                        piece.length_mm)
            .Shape();
    const gp_Ax2 frame(point(piece.centre), direction(piece.axis), direction(piece.start - piece.centre));
    return BRepPrimAPI_MakeTorus(frame, piece.radius_mm, radius, piece.angle_rad).Shape();
}

/// A strip of sheet from an edge: `from` to `to`, out along `along`, as thick as `thickness` against `out`.
TopoDS_Shape strip(const Vec3& from, const Vec3& to, const Vec3& along, const Vec3& out, double length,
                   double thickness) {
    const Vec3 across = (to - from).normalized();
    // A right-handed frame whose z is the way into the sheet.
    const bool right = across.cross(along).dot(out) < 0;
    const gp_Ax2 frame(point(right ? from : to), direction(-out), direction(right ? across : Vec3(-across)));
    return BRepPrimAPI_MakeBox(frame, (to - from).norm(), length, thickness).Shape();
}

TopTools_ListOfShape toolsOf(const Ended& ended) {
    TopTools_ListOfShape tools;
    if (ended.plate) {
        const ResolvedPlate& plate = *ended.plate;
        const double thick = 400;  // so that nothing is left below
        if (plate.flaps.empty()) {
            const Vec3 u = 400 * plate.axes.col(0), v = plate.axes.col(1);
            tools.Append(
                strip(plate.at - u - 400 * v, plate.at + u - 400 * v, v, plate.axes.col(2), 800, thick));
        } else {
            Eigen::AlignedBox2d box;
            for (const Vec2& p : plate.outline) box.extend(p);
            const auto at = [&](double x, double y) { return Vec3(plate.at + plate.axes * Vec3(x, y, 0)); };
            tools.Append(strip(at(box.min().x(), box.min().y()), at(box.max().x(), box.min().y()),
                               plate.axes.col(1), plate.axes.col(2), box.sizes().y(), plate.thickness_mm));
            for (const PlacedFlap& flap : plate.flaps)
                tools.Append(
                    strip(flap.from, flap.to, flap.along, flap.outward, flap.length_mm, plate.thickness_mm));
        }
    }
    for (const CopeHost& host : ended.hosts) {
        const auto* tube = std::get_if<CopeTube>(&host);
        if (!tube) continue;
        for (const Piece& piece : tube->line->pieces()) {
            const double from = piece.station_mm - tube->station_mm, to = from + piece.length_mm;
            if (from < 300 && to > -300) tools.Append(filled(piece, tube->radius_mm));
        }
    }
    return tools;
}

double volume(const TopoDS_Shape& shape) {
    GProp_GProps properties;
    BRepGProp::VolumeProperties(shape, properties, 1e-5);
    return properties.Mass();
}

/// The piece of what the kernel leaves that has the tube's square end.
TopoDS_Shape cutByKernel(const Ended& ended) {
    const CopeEnd& end = ended.end;
    const double below = 60;
    const gp_Ax2 frame(point(end.foot - below * end.inward), direction(end.inward));
    const TopoDS_Shape outer =
        BRepPrimAPI_MakeCylinder(frame, end.outer_radius_mm, kReach_mm + below).Shape();
    const TopoDS_Shape bore = BRepPrimAPI_MakeCylinder(frame, end.bore_radius_mm, kReach_mm + below).Shape();
    TopTools_ListOfShape tubes;
    tubes.Append(BRepAlgoAPI_Cut(outer, bore).Shape());
    BRepAlgoAPI_Cut cut;
    cut.SetArguments(tubes);
    TopTools_ListOfShape tools = toolsOf(ended);
    cut.SetTools(tools);
    cut.Build();
    TopoDS_Shape best;
    double farthest = -1e9;
    for (TopExp_Explorer solids(cut.Shape(), TopAbs_SOLID); solids.More(); solids.Next()) {
        GProp_GProps properties;
        BRepGProp::VolumeProperties(solids.Current(), properties, 1e-4);
        const gp_Pnt middle = properties.CentreOfMass();
        const double along = (Vec3(middle.X(), middle.Y(), middle.Z()) - end.foot).dot(end.inward);
        if (along > farthest) farthest = along, best = solids.Current();
    }
    return best;
}

Vec3 placeOn(const BRepAdaptor_Curve& curve, double at) {
    const gp_Pnt p = curve.Value(at);
    return {p.X(), p.Y(), p.Z()};
}

/// An edge of the kernel's solid, with places along it.
struct KernelEdge {
    BRepAdaptor_Curve curve;
    std::vector<Vec3> places;
    double parameter(double i) const {
        return curve.FirstParameter() + i / kOnEdge * (curve.LastParameter() - curve.FirstParameter());
    }
    /// From the nearest of the places on, by thirds; where the edge closes on itself, to either side.
    double distance(const Vec3& p) const {
        const auto best = std::ranges::min_element(places, {}, [&](const Vec3& q) { return (p - q).norm(); });
        const auto i = static_cast<double>(best - places.begin());
        double least = between(p, std::max(0.0, i - 1), std::min<double>(kOnEdge, i + 1));
        if (i < 1) least = std::min(least, between(p, kOnEdge - 1, kOnEdge));
        if (i > kOnEdge - 1) least = std::min(least, between(p, 0, 1));
        return least;
    }
    double between(const Vec3& p, double from, double to) const {
        double low = parameter(from), high = parameter(to);
        const auto far = [&](double at) { return (placeOn(curve, at) - p).norm(); };
        for (int step = 0; step < 40; ++step) {
            const double one = low + (high - low) / 3, two = high - (high - low) / 3;
            const bool nearer = far(one) < far(two);
            (nearer ? high : low) = nearer ? two : one;
        }
        return far((low + high) / 2);
    }
};

/// The edges of a solid that lie on the outside of the tube, the square end's and the seam's left out.
std::vector<KernelEdge> outerEdges(const CopeEnd& end, const TopoDS_Shape& solid) {
    std::vector<KernelEdge> out;
    for (TopExp_Explorer edges(solid, TopAbs_EDGE); edges.More(); edges.Next()) {
        const TopoDS_Edge& edge = TopoDS::Edge(edges.Current());
        if (BRep_Tool::Degenerated(edge)) continue;
        KernelEdge made{BRepAdaptor_Curve(edge), {}};
        bool on_wall = true;
        for (int i = 0; i <= kOnEdge && on_wall; ++i) {
            made.places.push_back(placeOn(made.curve, made.parameter(i)));
            const Vec3 q = made.places.back() - end.foot;
            const double s = q.dot(end.inward), off = (q - s * end.inward).norm() - end.outer_radius_mm;
            on_wall = std::abs(off) < 1e-3 && s < kReach_mm - 1;
        }
        if (on_wall) out.push_back(std::move(made));
    }
    return out;
}

Vec3 onWall(const CopeEnd& end, double phi, double s_mm) {
    const Vec3 side = end.inward.cross(end.clock);
    return end.foot + s_mm * end.inward +
           end.outer_radius_mm * (std::cos(phi) * end.clock + std::sin(phi) * side);
}

double toSegment(const Vec3& p, const Vec3& a, const Vec3& b) {
    const Vec3 run = b - a;
    const double square = run.squaredNorm();
    const double t = square > 0 ? std::clamp((p - a).dot(run) / square, 0.0, 1.0) : 0;
    return (p - a - t * run).norm();
}

/// From a place on the wall to our line, which is asked there and a hair to either side.
double toOurs(const Ended& ended, const Vec3& p) {
    CopeEnd end = ended.end;
    const Vec3 q = p - end.foot, across = q - q.dot(end.inward) * end.inward;
    std::vector<Vec3> line;
    for (const double aside : {-0.002, 0.0, 0.002}) {
        end.clock = Eigen::AngleAxisd(aside, end.inward) * across.normalized();
        const Expected<CopeProfile> cut = cope(end, ended.hosts, 8);
        if (!cut) return 1e9;
        line.push_back(onWall(end, 0, cut->outer.s_mm[0]));
    }
    return std::min(toSegment(p, line[0], line[1]), toSegment(p, line[1], line[2]));
}

/// What a kind came to.
struct Tally {
    int ends = 0, cut = 0;
    double ours_mm = 0, theirs_mm = 0, volume = 0;  ///< worst: station to edge, edge to line, share of volume
};

void compare(const Ended& ended, Tally& tally) {
    const Expected<CopeProfile> profile = cope(ended.end, ended.hosts, kRound);
    ASSERT_TRUE(profile) << ended.name << ": " << profile.reason();
    const TopoDS_Shape solid = cutByKernel(ended);
    ASSERT_FALSE(solid.IsNull()) << ended.name;
    const auto edges = outerEdges(ended.end, solid);
    ASSERT_FALSE(edges.empty()) << ended.name;
    const CopeEnd& end = ended.end;
    for (std::size_t k = 0; k < kRound; ++k) {
        if (profile->outer.missed[k]) continue;
        const Vec3 p =
            onWall(end, 2 * std::numbers::pi * static_cast<double>(k) / kRound, profile->outer.s_mm[k]);
        double least = 1e9;
        for (const KernelEdge& edge : edges) least = std::min(least, edge.distance(p));
        tally.ours_mm = std::max(tally.ours_mm, least);
    }
    ++tally.cut;
    if (profile->outer.missedCount() + profile->bore.missedCount() > 0) return;
    for (const KernelEdge& edge : edges)
        for (std::size_t i = 0; i < edge.places.size(); i += 8)
            tally.theirs_mm = std::max(tally.theirs_mm, toOurs(ended, edge.places[i]));
    const double metal = copedVolume_mm3(end, *profile, kReach_mm);
    tally.volume = std::max(tally.volume, std::abs(volume(solid) / metal - 1));
}

/// A little otherwise: turned by up to 2 degrees, moved by up to 2 mm along its hosts, its wall the same. A
/// tube of its host's size is made thinner by up to 1 mm: the kernel can give back such tubes uncut.
Ended moved(Ended ended, std::mt19937_64& random, bool offset) {
    std::uniform_real_distribution<double> even(-1, 1), thinner(0.2, 1);
    CopeEnd& end = ended.end;
    const double wall = end.outer_radius_mm - end.bore_radius_mm;
    double host = 1e9;
    for (const CopeHost& each : ended.hosts)
        if (const auto* tube = std::get_if<CopeTube>(&each)) host = std::min(host, tube->radius_mm);
    end.outer_radius_mm = std::min(end.outer_radius_mm, host) - thinner(random);
    end.bore_radius_mm = end.outer_radius_mm - wall;
    const Vec3 axis = Vec3(even(random), even(random), even(random)).normalized();
    end.inward = Eigen::AngleAxisd(2 * kDegree * even(random), axis) * end.inward;
    end.clock = Eigen::AngleAxisd(std::numbers::pi * even(random), end.inward) * end.inward.unitOrthogonal();
    if (const auto* tube = std::get_if<CopeTube>(&ended.hosts.front())) {
        const Vec3 along = tube->line->tangent(tube->station_mm);
        end.foot += 2 * even(random) * along;
        // As far beside its host's middle as it still lands on it.
        const double room = host - end.outer_radius_mm;
        if (offset)
            end.foot += room * (0.5 + 0.5 * std::abs(even(random))) * along.cross(end.inward).normalized();
    } else {
        end.foot += 2 * Vec3(even(random), even(random), even(random));
    }
    return ended;
}

/// A tube of the demo that lands on the folded plate across its fold, on the flap, up or down.
CageGeometry withFold(const DemoCage& demo, int turn, std::mt19937_64& random) {
    std::uniform_real_distribution<double> even(-1, 1);
    Job job = demo.job;
    Plate& said = *std::ranges::find_if(job.cage.plates, [](const Plate& p) { return !p.flaps.empty(); });
    const bool up = turn % 2 == 0;
    said.flaps.front().angle_rad = (up ? 1 : -1) * (75 + 15 * even(random)) * kDegree;
    Member probe;
    probe.id = "probe";
    probe.role = "other";
    probe.mirrored = said.mirrored;
    probe.stock = "38x2.5";
    const double past = said.width_mm / 2 + (turn % 5 == 4 ? 27 : 4 * even(random) - (up ? 3 : 0));
    probe.path = {{FixedPoint{}, {}}, {OnPlate{said.id, {8 * even(random), past}}, {}}};
    job.cage.members = {probe};
    job.cage.gussets.clear();
    job.cage.dimensions.clear();
    const CageGeometry first = resolve(job);
    const ResolvedPlate& plate = first.plates.front();
    const Vec3 over = plate.axes.col(1), n = plate.axes.col(2), u = plate.axes.col(0);
    const Vec3 way = (up ? -1.0 : 1.0) * over + (1 + 0.3 * even(random)) * n + 0.3 * even(random) * u;
    std::get<FixedPoint>(job.cage.members[0].path[0].place).at =
        first.members.front().ends[1].at + 600 * way.normalized();
    return resolve(job);
}

TEST(Outside_OpenCascade, CutsEveryKindOfEndOfTheDemosAlongOurLine) {
    const std::vector<DemoCage> demos = {demoCage("hillclimb_saloon"), demoCage("mile_pickup")};
    std::map<std::string, std::vector<Ended>> kinds;
    for (const DemoCage& demo : demos)
        for (int m = 0; m < static_cast<int>(demo.cage.members.size()); ++m)
            for (int e = 0; e < 2; ++e)
                for (const std::string& kind : kindsOf(demo.cage, m, e))
                    kinds[kind].push_back(endedAt(demo.cage, m, e));
    kinds["offset"] = kinds["on a greater tube"];
    std::map<std::string, Tally> tallies;
    std::mt19937_64 random(20261126);
    for (const auto& [kind, ends] : kinds) {
        Tally& tally = tallies[kind];
        tally.ends = static_cast<int>(ends.size());
        for (int i = 0; i < kTimes; ++i) {
            const std::size_t k = static_cast<std::size_t>(i) * ends.size() / kTimes;
            compare(moved(ends[k], random, kind == "offset"), tally);
        }
    }
    Tally& folded = tallies["on a folded plate"];
    for (int i = 0; i < kTimes; ++i) {
        const CageGeometry cage = withFold(demos[0], i, random);
        const Ended ended = endedAt(cage, 0, 1);
        EXPECT_EQ(ended.faces.size(), i % 5 == 4 ? 1u : 2u) << i;
        compare(ended, folded);
        ++folded.ends;
    }
    EXPECT_EQ(tallies.size(), 11u);
    for (const auto& [kind, tally] : tallies) {
        EXPECT_EQ(tally.cut, kTimes) << kind;
        EXPECT_LT(tally.ours_mm, kLimit_mm) << kind;
        EXPECT_LT(tally.theirs_mm, kLimit_mm) << kind;
        EXPECT_LT(tally.volume, 1e-5) << kind;
        std::string name = kind;
        std::ranges::replace(name, ' ', '_');
        RecordProperty(name + "_worst_um",
                       static_cast<int>(std::ceil(1000 * std::max(tally.ours_mm, tally.theirs_mm))));
        std::printf("%-28s %3d ends, %d cut: ours to theirs %.5f mm, theirs to ours %.5f mm, volume %.1e\n",
                    kind.c_str(), tally.ends, tally.cut, tally.ours_mm, tally.theirs_mm, tally.volume);
    }
}

}  // namespace
}  // namespace hoopwright
