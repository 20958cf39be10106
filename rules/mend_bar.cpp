// A bar that is missing, as a starter has it in this car.
#include <algorithm>
#include <cmath>
#include <map>
#include <set>

#include "core/edit/cage_edits.h"
#include "core/edit/new_bar.h"
#include "core/model/resolve.h"
#include "core/starter/starter.h"
#include "rules/mend_trial.h"

namespace hoopwright {
namespace {

/// Roles a selector takes, its groups' included.
void rolesOf(const RuleTable& table, int selector, std::vector<std::string>& out) {
    if (selector < 0) return;
    const Selector& want = table.selectors[static_cast<std::size_t>(selector)];
    for (const std::string& role : want.roles)
        if (std::ranges::find(out, role) == out.end()) out.push_back(role);
    for (const int group : want.groups) rolesOf(table, group, out);
}

std::vector<std::string> rolesWanted(const MendTrial& trial, const Finding& finding) {
    std::vector<std::string> out;
    const RuleTable* table = trial.table(finding);
    const Rule* rule = trial.rule(finding);
    if (!table || !rule) return out;
    if (rule->check) rolesOf(*table, rule->check->of, out);
    for (const Rule::Alternative& one : rule->either)
        for (const Check& check : one.all) rolesOf(*table, check.of, out);
    return out;
}

/// A starter's cage that has a bar of a role, in this car.
struct Model {
    CageLayout cage;
    CageGeometry geometry;
};

using Bars = std::vector<const Member*>;

/// The other half of a bar that is in two pieces on one that runs through: of the same role, landing on the
/// same host at the same place, in its line.
const Member* otherHalf(const Model& model, const Member& bar) {
    const auto resolved = [&](const Member& member) {
        return model.geometry.member(resolvedIds(member.id, member.mirrored).front());
    };
    const int mine = resolved(bar);
    if (mine < 0) return nullptr;
    const ResolvedMember& m = model.geometry.members[static_cast<std::size_t>(mine)];
    const double in_line = std::cos(10 * M_PI / 180);  // as the quantity `splices` has it
    for (const Member& other : model.cage.members) {
        if (&other == &bar || other.role != bar.role || other.mirrored != bar.mirrored) continue;
        const int its = resolved(other);
        if (its < 0) continue;
        for (const ResolvedEnd& end : m.ends)
            for (const ResolvedEnd& there : model.geometry.members[static_cast<std::size_t>(its)].ends)
                if (end.host >= 0 && end.host == there.host &&
                    (end.at - there.at).norm() <= 2 * m.section.od_mm &&
                    end.outward.dot(there.outward) <= -in_line)
                    return &other;
    }
    return nullptr;
}

/// Bars as they lie in the starter's cage, brought over to ours.
class Bringer {
public:
    Bringer(MendTrial& trial, const Finding& finding) : trial_(trial), key_(keyOf(finding)) {}

    std::optional<Mend> bring(const Model& model, const Bars& bars) {
        if (std::optional<CageLayout> as_they_are = copied(model, bars))
            if (std::optional<Mend> mend = offered(*std::move(as_they_are), bars)) return mend;
        if (bars.size() > 1) return std::nullopt;
        if (std::optional<CageLayout> near = landedNear(model, *bars.front()))
            return offered(*std::move(near), bars);
        return std::nullopt;
    }

private:
    /// Our bar for one of the starter's: of the same id and role, else the first of the role.
    const Member* ours(const Model& model, const std::string& said) const {
        const Member* theirs = model.cage.member(layoutId(said));
        if (!theirs) return nullptr;
        const Member* same = trial_.job().cage.member(theirs->id);
        if (same && same->role == theirs->role) return same;
        for (const Member& member : trial_.job().cage.members)
            if (member.role == theirs->role && member.mirrored == theirs->mirrored) return &member;
        return nullptr;
    }

    /// Landings on each other, or on our bars of the same roles; their plates with them.
    std::optional<CageLayout> copied(const Model& model, const Bars& bars) const {
        CageLayout cage = trial_.job().cage;
        std::map<std::string, std::string> brought;  // the starter's layout id, ours
        const auto now = [&](const std::string& said) -> std::string {
            const std::string tail = said.substr(layoutId(said).size());
            if (const auto at = brought.find(layoutId(said)); at != brought.end()) return at->second + tail;
            const Member* mine = ours(model, said);
            return mine ? mine->id + tail : std::string();
        };
        for (const Member* bar : bars) {
            Member made = *bar;
            made.id = freeId(cage, bar->id);
            made.passes.clear();
            for (MemberPoint& point : made.path) {
                if (Landing* landing = std::get_if<Landing>(&point.place)) {
                    landing->host = now(landing->host);
                    if (landing->host.empty()) return std::nullopt;
                    std::vector<std::string> also;
                    for (const std::string& one : landing->also)
                        if (std::string mine = now(one); !mine.empty()) also.push_back(std::move(mine));
                    landing->also = std::move(also);
                } else if (OnPlate* on = std::get_if<OnPlate>(&point.place)) {
                    const Plate* plate = model.cage.plate(layoutId(on->plate));
                    if (!plate) return std::nullopt;
                    Plate copy = *plate;
                    copy.id = freeId(cage, plate->id);
                    on->plate = copy.id + on->plate.substr(layoutId(on->plate).size());
                    cage.plates.push_back(std::move(copy));
                }
            }
            brought[bar->id] = made.id;
            cage.members.push_back(std::move(made));
        }
        return cage;
    }

    /// Straight between the places of our bars nearest to its ends.
    std::optional<CageLayout> landedNear(const Model& model, const Member& bar) const {
        const std::string id = resolvedIds(bar.id, bar.mirrored).front();
        const int at = model.geometry.member(id);
        if (at < 0) return std::nullopt;
        std::vector<HostPick> picks;
        for (const ResolvedEnd& end : model.geometry.members[static_cast<std::size_t>(at)].ends) {
            if (end.host < 0) return std::nullopt;
            const std::string& role = model.geometry.members[static_cast<std::size_t>(end.host)].role;
            const ResolvedMember* best = nullptr;
            double least = 0;
            for (const ResolvedMember& member : trial_.now().members) {
                if (member.role != role) continue;
                const double far = (member.line.point(member.line.nearestStation(end.at)) - end.at).norm();
                if (best && far >= least) continue;
                best = &member;
                least = far;
            }
            if (!best) return std::nullopt;
            picks.push_back({best->id, best->line.point(best->line.nearestStation(end.at))});
        }
        CageLayout cage = trial_.job().cage;
        Member made = newBar(trial_.job(), trial_.now(), bar.role, picks);
        made.id = freeId(cage, bar.id);
        cage.members.push_back(std::move(made));
        return cage;
    }

    /// Of the tube most used for the role, else of the lightest that is taken.
    std::optional<Mend> offered(CageLayout cage, const Bars& bars) {
        std::vector<const TubeStock*> tubes;
        for (const TubeStock& tube : trial_.job().stock.tubes)
            if (tube.section.valid()) tubes.push_back(&tube);
        std::ranges::stable_sort(tubes, {}, [](const TubeStock* t) { return t->section.area_mm2(); });
        const TubeStock* usual = trial_.job().stock.find(usualStock(trial_.job(), bars.front()->role));
        if (usual) tubes.insert(tubes.begin(), usual);
        const std::size_t first = cage.members.size() - bars.size();
        for (const TubeStock* tube : tubes) {
            for (std::size_t i = first; i < cage.members.size(); ++i) cage.members[i].stock = tube->id;
            std::optional<Mend> mend = trial_.offer(cage, key_);
            if (!mend) continue;
            mend->kind = Mend::Kind::new_bar;
            mend->name = bars.size() == 1 ? "New bar" : "New bars";
            for (std::size_t i = first; i < cage.members.size(); ++i) {
                mend->parts.push_back(cage.members[i].id);
                mend->says += (i == first ? "" : ", ") + partName(cage, cage.members[i].id);
            }
            mend->says += bars.size() == 1 ? ": a new bar of " + tube->id
                                           : ": " + std::to_string(bars.size()) + " new bars of " + tube->id;
            Job next = trial_.job();
            next.cage = cage;
            const CageGeometry geometry = resolve(next);
            const Member& made = cage.members[first];
            const int at = geometry.member(resolvedIds(made.id, made.mirrored).front());
            if (at >= 0) {
                const Centreline& line = geometry.members[static_cast<std::size_t>(at)].line;
                mend->at = line.point(line.length_mm() / 2);
            }
            return mend;
        }
        return std::nullopt;
    }

    MendTrial& trial_;
    RuleKey key_;
};

/// Every way a starter can be with one option more than usual, roughly laid out.
template <class Visit>
bool eachModel(const Job& site, Visit visit) {
    StarterMaker maker(site);
    for (const Starter& starter : starters()) {
        StarterWish wish;
        wish.starter = starter.id;
        std::vector<StarterWish> wishes{wish};
        for (const std::string& option : starter.may) wishes.push_back(withOption(wish, option));
        for (const StarterWish& one : wishes) {
            const Expected<StarterCage> made = maker.makeRoughly(one);
            if (made && visit(made->cage)) return true;
        }
    }
    return false;
}

/// What tells one set of bars from another: their ids and where they land.
std::string shapeOf(const Bars& bars) {
    std::string out;
    for (const Member* bar : bars) {
        out += bar->id + std::to_string(bar->path.size());
        for (const MemberPoint& point : bar->path)
            if (const Landing* landing = std::get_if<Landing>(&point.place))
                out += landing->host + std::to_string(landing->value);
        out += ' ';
    }
    return out;
}

}  // namespace

void addNewBars(MendTrial& trial, const Finding& finding, Mends& out) {
    const std::vector<std::string> roles = rolesWanted(trial, finding);
    const bool too_many = finding.value && finding.limit && *finding.value > *finding.limit;
    if (too_many) {
        out.none = "There are too many: take one out by hand, where the cage can spare it.";
        return;
    }
    Bringer bringer(trial, finding);
    bool known = false;
    std::set<std::string> tried;  // the same bars come with many options
    eachModel(trial.job(), [&](const CageLayout& cage) {
        if (trial.stopped()) return true;
        const auto isWanted = [&](const Member& bar) {
            return std::ranges::find(roles, bar.role) != roles.end();
        };
        if (std::ranges::none_of(cage.members, isWanted)) return false;
        known = true;
        Job job = trial.job();
        job.cage = cage;
        const Model model{cage, resolve(job)};
        std::vector<Bars> sets;
        Bars all;
        for (const Member& bar : model.cage.members) {
            if (!isWanted(bar)) continue;
            all.push_back(&bar);
            // A half alone holds nothing: both are brought, in their order.
            const Member* half = otherHalf(model, bar);
            sets.push_back(!half ? Bars{&bar} : half < &bar ? Bars{half, &bar} : Bars{&bar, half});
        }
        // Where one alone is not enough, all there are of the kind.
        if (all.size() > 1) sets.push_back(std::move(all));
        const auto good = [&](const Bars& bars) {
            if (trial.stopped()) return true;
            if (!tried.insert(shapeOf(bars)).second) return false;
            if (std::optional<Mend> mend = bringer.bring(model, bars)) out.ways.push_back(*std::move(mend));
            return !out.ways.empty();
        };
        return std::ranges::any_of(sets, good);
    });
    if (!out.ways.empty()) return;
    out.none = known ? "A starter's bar of that kind does not fit this cage: draw it by hand."
                     : "No starter has a bar of that kind in this car: draw it by hand.";
}

}  // namespace hoopwright
