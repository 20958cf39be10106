// The shape of one bar: its tube, its centreline, what its ends stand on.
#include <cmath>

#include "core/model/resolver.h"

namespace hoopwright::resolving {

namespace {

constexpr double kTubeSteel_kg_per_m3 = 7850;
constexpr double kMeet_mm = 1e-6;
constexpr double kGreatestRadius_mm = 1e5;

bool goodRadius(double mm) {
    return mm > 0 && mm <= kGreatestRadius_mm;
}

}  // namespace

void Resolver::shape(int index) {
    const Bar& bar = bars_[static_cast<std::size_t>(index)];
    if (bar.in_loop) return;
    ResolvedMember& made = made_[static_cast<std::size_t>(index)];
    made.id = bar.id;
    made.layout = bar.layout;
    made.side = bar.side;
    made.role = bar.member->role;
    made.name = bar.name;
    made.padding_mm =
        bar.member->padding_mm >= 0 && std::isfinite(bar.member->padding_mm) ? bar.member->padding_mm : 0;
    chooseStock(bar, made);

    const std::vector<PlacedPoint> places = placePath(bar);
    std::vector<PathPoint> path;
    path.reserve(places.size());
    bool radius_given = false;
    for (std::size_t i = 0; i < places.size(); ++i) {
        const MemberPoint& point = bar.member->path[static_cast<std::size_t>(places[i].number)];
        const bool corner = i > 0 && i + 1 < places.size();
        path.push_back({places[i].at, corner ? bendRadius(bar, point, made.section) : 0});
        radius_given = radius_given || (corner && (point.bend_radius_mm || bar.member->bend_radius_mm));
    }
    PathResult result = makeCentreline(path);
    reportPath(bar, places, result);
    if (result.line.empty()) return;
    made.line = std::move(result.line);
    made.mass_kg *= made.line.length_mm() / 1000;
    setEnds(bar, places, made);
    if (bar.member->bent) {
        checkBought(bar, made);
    } else {
        checkBends(bar, made, radius_given);
    }
}

/// Sets the tube, and for now the mass of one metre of it.
void Resolver::chooseStock(const Bar& bar, ResolvedMember& made) {
    const TubeStock* stock = job_.stock.find(bar.member->stock);
    if (!stock) {
        report(Kind::no_such_stock, bar,
               bar.member->stock.empty()
                   ? "has no tube."
                   : "is made of " + bar.member->stock + ", which is not in the stock list.",
               "choose a tube of the stock list");
        return;
    }
    if (!stock->section.valid()) {
        report(Kind::bad_value, bar,
               "is made of " + stock->id + ", whose wall is not between zero and half its diameter.",
               "put the tube right in the stock list");
        return;
    }
    made.stock = static_cast<int>(stock - job_.stock.tubes.data());
    made.section = stock->section;
    const Material* material = job_.stock.material(stock->material);
    if (!material) {
        report(Kind::no_such_stock, bar,
               "is made of " + stock->id + ", whose material " + stock->material +
                   " is not in the stock list; its mass is that of plain steel.",
               "add the material to the stock list");
    }
    made.mass_kg =
        stock->section.mass_kg_per_m(material ? material->density_kg_per_m3 : kTubeSteel_kg_per_m3);
}

double Resolver::bendRadius(const Bar& bar, const MemberPoint& point, const TubeSection& section) {
    if (bar.member->bent && goodRadius(bar.member->bent->bend_radius_mm))
        return bar.member->bent->bend_radius_mm;
    for (const std::optional<double>& said : {point.bend_radius_mm, bar.member->bend_radius_mm}) {
        if (!said) continue;
        if (goodRadius(*said)) return *said;
        report(Kind::bad_value, bar, "has a bend radius that is not above zero.", "give the radius of a die");
    }
    if (const Die* die = job_.dies.forOd(section.od_mm); die && goodRadius(die->radius_mm))
        return die->radius_mm;
    // So that there is something to see; checkBends() says that no die makes it.
    return section.od_mm > 0 ? 3 * section.od_mm : 100;
}

void Resolver::reportPath(const Bar& bar, const std::vector<PlacedPoint>& places, const PathResult& path) {
    const auto said = [&](int vertex) {
        return std::to_string(places[static_cast<std::size_t>(vertex)].number + 1);
    };
    for (const PathProblem& problem : path.problems) {
        const Vec3 at =
            problem.vertex >= 0 ? places[static_cast<std::size_t>(problem.vertex)].at : Vec3(Vec3::Zero());
        switch (problem.kind) {
            case PathProblem::Kind::too_few_points:
                // A point that found no place has its own sentence already.
                if (places.size() < bar.member->path.size()) break;
                report(Kind::path, bar, "has fewer than two places to go between, so it cannot be drawn.",
                       "give its path two points or more");
                break;
            case PathProblem::Kind::coincident_points:
                report(Kind::path, bar,
                       "has points " + said(problem.vertex - 1) + " and " + said(problem.vertex) +
                           " of its path in one place.",
                       "take one of them out, or move it", at);
                break;
            case PathProblem::Kind::turns_back:
                report(Kind::path, bar,
                       "turns straight back at point " + said(problem.vertex) +
                           "; no bend goes half way round at one point.",
                       "use two points for the turn", at);
                break;
            case PathProblem::Kind::no_radius:
                report(Kind::path, bar, "has no bend radius at point " + said(problem.vertex) + ".",
                       "give one", at);
                break;
            case PathProblem::Kind::bends_overlap:
                report(Kind::path, bar,
                       "bends too soon at point " + said(problem.vertex) + ": the bends need " +
                           length(problem.need_mm) + ", there is " + length(problem.have_mm) +
                           ". It is drawn with smaller bends than it has.",
                       "move the points apart, or use a smaller bend radius", at);
                break;
        }
    }
}

void Resolver::setEnds(const Bar& bar, const std::vector<PlacedPoint>& places, ResolvedMember& made) {
    made.ends[0].at = made.line.start();
    made.ends[0].outward = -made.line.tangent(0);
    made.ends[1].at = made.line.end();
    made.ends[1].outward = made.line.tangent(made.line.length_mm());
    const int last_number = static_cast<int>(bar.member->path.size()) - 1;
    for (int e = 0; e < 2; ++e) {
        const PlacedPoint& place = e == 0 ? places.front() : places.back();
        ResolvedEnd& end = made.ends[static_cast<std::size_t>(e)];
        if (place.number != (e == 0 ? 0 : last_number)) continue;  // the end's own point found no place
        if (place.plate >= 0) {
            end.on = ResolvedEnd::On::plate;
            end.plate = place.plate;
        } else if (place.host >= 0) {
            const ResolvedMember& host = made_[static_cast<std::size_t>(place.host)];
            const double station = host.line.nearestStation(end.at);
            // Offset past both walls, the end only takes its bearings from the host and does not touch it.
            if ((host.line.point(station) - end.at).norm() > host.radius_mm() + made.radius_mm() + kMeet_mm)
                continue;
            end.on = ResolvedEnd::On::member;
            end.host = place.host;  // a bar for now; keepMade() turns it into a member
            end.host_station_mm = station;
        }
    }
}

}  // namespace hoopwright::resolving
