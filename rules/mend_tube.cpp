// Another tube of the shop's list.
#include <algorithm>

#include "core/base/text.h"
#include "core/edit/cage_edits.h"
#include "rules/mend_trial.h"

namespace hoopwright {
namespace {

/// What one tube and radius would do.
struct TubeTried {
    Mend mend;
    const TubeStock* tube = nullptr;
    double kg_per_m = 0;
    std::optional<double> metre;
};

/// The bars that may be changed together, the smallest change first: the one concerned, all that the rule
/// refuses, all of their roles.
std::vector<std::vector<std::string>> scopesOf(const MendTrial& trial, const Finding& finding) {
    std::vector<std::vector<std::string>> scopes;
    const auto add = [&](std::vector<std::string> ids) {
        std::erase_if(ids, [&](const std::string& id) {
            const Member* member = trial.job().cage.member(id);
            return !member || member->bent;  // a tube bought bent is the tube it is
        });
        if (!ids.empty() && std::ranges::find(scopes, ids) == scopes.end()) scopes.push_back(std::move(ids));
    };
    const std::vector<std::string> own = barsOf(trial, finding);
    add(own);
    std::vector<std::string> refused, alike;
    for (const Finding& f : trial.report().findings) {
        if (f.table != finding.table || f.rule != finding.rule || f.answer != Answer::fails) continue;
        for (const std::string& id : barsOf(trial, f))
            if (std::ranges::find(refused, id) == refused.end()) refused.push_back(id);
    }
    add(refused);
    for (const Member& member : trial.job().cage.members) {
        const auto same = [&](const std::string& id) {
            const Member* one = trial.job().cage.member(id);
            return one && one->role == member.role;
        };
        if (std::ranges::any_of(own, same)) alike.push_back(member.id);
    }
    add(alike);
    return scopes;
}

/// With every table content with the tube of these bars.
bool everyTableTakes(const MendTrial& trial, const Outcome& outcome, const std::vector<std::string>& ids) {
    return std::ranges::none_of(outcome.report.findings, [&](const Finding& f) {
        return f.severity == Severity::required && trial.aboutTube(f) &&
               (f.answer == Answer::fails || f.answer == Answer::cannot_tell) &&
               std::ranges::find(ids, layoutId(f.subject)) != ids.end();
    });
}

std::string radiusWords(const Job& job, double radius_mm) {
    return ", bent to " + showLength(radius_mm, {job.cage.unit});
}

/// Radii its bends can have: as said, and those of the dies for that tube.
std::vector<std::optional<double>> radiiFor(const Job& job, const TubeStock& tube) {
    std::vector<std::optional<double>> out{std::nullopt};
    for (const Die& die : job.dies.dies)
        if (job.dies.forBend(tube.section.od_mm, die.radius_mm) == &die) out.push_back(die.radius_mm);
    return out;
}

std::optional<TubeTried> tryTube(MendTrial& trial, const Finding& finding, const TubeStock& tube,
                                 const std::vector<std::string>& ids) {
    bool bent = false;
    for (const ResolvedMember& member : trial.now().members)
        bent |= member.line.bendCount() > 0 && std::ranges::find(ids, layoutId(member.id)) != ids.end();
    for (const std::optional<double>& radius : radiiFor(trial.job(), tube)) {
        if (radius && !bent) break;
        CageLayout cage = trial.job().cage;
        std::string was;
        for (const std::string& id : ids) {
            Member& member = *findMember(cage, id);
            if (member.stock != tube.id && was.find(member.stock) == std::string::npos)
                was += (was.empty() ? "" : ", ") + member.stock;
            member.stock = tube.id;
            if (!radius) continue;
            member.bend_radius_mm = radius;
            for (MemberPoint& point : member.path) point.bend_radius_mm.reset();
        }
        if (cage == trial.job().cage) continue;
        Outcome outcome = trial.tryOut(cage, keyOf(finding));
        if (!outcome.good || !everyTableTakes(trial, outcome, ids)) continue;
        TubeTried out{*trial.offer(cage, keyOf(finding)), &tube, 0, pricePerMetre(tube)};
        const Material* material = trial.job().stock.material(tube.material);
        out.kg_per_m = tube.section.mass_kg_per_m(material ? material->density_kg_per_m3 : 7850);
        std::string names;
        for (const std::string& id : ids)
            names += (names.empty() ? "" : "; ") + partName(trial.job().cage, id);
        out.mend.kind = Mend::Kind::tube;
        out.mend.parts = ids;
        out.mend.says = names + ": " + tube.id + (was.empty() ? "" : " in place of " + was) +
                        (radius ? radiusWords(trial.job(), *radius) : "");
        out.mend.at = finding.evidence.look_at;
        return out;
    }
    return std::nullopt;
}

}  // namespace

void addTubeMends(MendTrial& trial, const Finding& finding, Mends& out) {
    for (const std::vector<std::string>& ids : scopesOf(trial, finding)) {
        std::vector<TubeTried> good;
        for (const TubeStock& tube : trial.job().stock.tubes) {
            if (!tube.section.valid()) continue;
            if (std::optional<TubeTried> one = tryTube(trial, finding, tube, ids))
                good.push_back(*std::move(one));
        }
        if (good.empty()) continue;
        const auto lightest = std::ranges::min_element(good, {}, &TubeTried::kg_per_m);
        const auto cheapest = std::ranges::min_element(good, [](const TubeTried& a, const TubeTried& b) {
            return a.metre && (!b.metre || *a.metre < *b.metre);
        });
        const bool one = lightest == cheapest || !cheapest->metre;
        Mend first = lightest->mend;
        first.name = one && cheapest->metre ? "Lightest and cheapest tube" : "Lightest tube";
        out.ways.push_back(std::move(first));
        if (one) return;
        Mend second = cheapest->mend;
        second.name = "Cheapest tube";
        out.ways.push_back(std::move(second));
        return;
    }
    out.none = "No tube of the shop's list is taken by every table here.";
}

}  // namespace hoopwright
