#include "core/model/resolver.h"

#include <algorithm>
#include <cmath>

#include "core/base/on_threads.h"
#include "core/model/end_hosts.h"
#include "core/model/resolve.h"
#include "core/units/measure.h"

namespace hoopwright {

CageGeometry resolve(const Job& job) {
    return resolving::Resolver(job).run();
}

namespace resolving {

CageGeometry Resolver::run() {
    placePlates();
    listBars();
    findHosts();
    for (int bar : landingOrder()) shape(bar);
    keepMade();
    placeGussets();
    findAlso();
    checkFeet();
    checkSelfStrikes();
    checkDrivers();
    findJoints();
    findNodes();
    sawBought();
    noteTies();
    weigh();
    sumUp();
    return std::move(cage_);
}

void Resolver::report(Kind kind, const Bar& bar, std::string what, std::string remedy, const Vec3& at) {
    add({kind, bar.name + ": " + what, std::move(remedy), bar.member->id, "", at});
}

void Resolver::add(GeometryProblem problem) {
    cage_.problems.push_back(std::move(problem));
}

std::string Resolver::length(double mm) const {
    return showLength(mm, {job_.cage.unit});
}

/// Moves the bars that have a shape into the cage, in build order.
void Resolver::keepMade() {
    member_of_bar_.assign(bars_.size(), -1);
    bar_of_member_.reserve(bars_.size());
    for (std::size_t i = 0; i < made_.size(); ++i) {
        if (made_[i].line.empty()) continue;
        member_of_bar_[i] = static_cast<int>(bar_of_member_.size());
        bar_of_member_.push_back(static_cast<int>(i));
    }
    cage_.members.reserve(bar_of_member_.size());
    for (int bar : bar_of_member_) {
        cage_.members.push_back(std::move(made_[static_cast<std::size_t>(bar)]));
        for (ResolvedEnd& end : cage_.members.back().ends) {
            if (end.host >= 0) end.host = member_of_bar_[static_cast<std::size_t>(end.host)];
        }
    }
    for (std::size_t m = 0; m < cage_.members.size(); ++m) {
        for (int e = 0; e < 2; ++e) {
            const int plate = cage_.members[m].ends[static_cast<std::size_t>(e)].plate;
            if (plate >= 0)
                cage_.plates[static_cast<std::size_t>(plate)].feet.emplace_back(static_cast<int>(m), e);
        }
    }
}

/// A bar weighs what is left of it once its ends are cut to their hosts, whose middles its centreline runs
/// to.
void Resolver::weigh() {
    constexpr std::size_t kBarsPerThread = 15;
    onThreads(cage_.members.size(), kBarsPerThread, [&](std::size_t i) {
        ResolvedMember& tube = cage_.members[i];
        if (tube.stock < 0) return;
        double off_mm = 0;
        for (const ResolvedEnd& end : tube.ends) {
            if (end.on == ResolvedEnd::On::nothing) continue;
            const CopeEnd cut{end.at, -end.outward, end.outward.unitOrthogonal(), tube.radius_mm(),
                              tube.section.bore_mm() / 2};
            off_mm += meanCut_mm(cut, hostsOf(cage_, end)).value_or(0);
        }
        tube.mass_kg *= std::max(0.0, 1 - off_mm / tube.line.length_mm());
    });
}

void Resolver::sumUp() {
    CageTotals& totals = cage_.totals;
    totals.members = static_cast<int>(cage_.members.size());
    totals.joints = static_cast<int>(cage_.joints.size());
    for (const ResolvedMember& member : cage_.members) {
        totals.bends += member.line.bendCount();
        totals.tube_length_mm += member.line.length_mm();
        totals.tube_mass_kg += member.mass_kg;
    }
    for (const ResolvedPlate& plate : cage_.plates) totals.plate_mass_kg += plate.mass_kg;
    for (const ResolvedGusset& gusset : cage_.gussets) totals.plate_mass_kg += gusset.mass_kg;
}

}  // namespace resolving

}  // namespace hoopwright
