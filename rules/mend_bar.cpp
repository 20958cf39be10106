// A bar that is missing, as a starter has it in this car.
#include <algorithm>
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

/// The bar as it lies in the starter's cage, brought over to ours.
class Bringer {
public:
    Bringer(MendTrial& trial, const Finding& finding) : trial_(trial), key_(keyOf(finding)) {}

    std::optional<Mend> bring(const Model& model, const Member& bar) {
        if (std::optional<CageLayout> as_it_is = copied(model, bar))
            if (std::optional<Mend> mend = offered(*std::move(as_it_is), bar)) return mend;
        if (std::optional<CageLayout> near = landedNear(model, bar)) return offered(*std::move(near), bar);
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

    /// Its landings on our bars of the same roles, its plates with it.
    std::optional<CageLayout> copied(const Model& model, const Member& bar) const {
        CageLayout cage = trial_.job().cage;
        Member made = bar;
        made.id = freeId(cage, bar.id);
        made.passes.clear();
        for (MemberPoint& point : made.path) {
            if (Landing* landing = std::get_if<Landing>(&point.place)) {
                const Member* host = ours(model, landing->host);
                if (!host) return std::nullopt;
                landing->host = host->id + landing->host.substr(layoutId(landing->host).size());
                std::vector<std::string> also;
                for (const std::string& one : landing->also)
                    if (const Member* mine = ours(model, one))
                        also.push_back(mine->id + one.substr(layoutId(one).size()));
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
        cage.members.push_back(std::move(made));
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
    std::optional<Mend> offered(CageLayout cage, const Member& bar) {
        std::vector<const TubeStock*> tubes;
        for (const TubeStock& tube : trial_.job().stock.tubes)
            if (tube.section.valid()) tubes.push_back(&tube);
        std::ranges::stable_sort(tubes, {}, [](const TubeStock* t) { return t->section.area_mm2(); });
        const TubeStock* usual = trial_.job().stock.find(usualStock(trial_.job(), bar.role));
        if (usual) tubes.insert(tubes.begin(), usual);
        for (const TubeStock* tube : tubes) {
            Member& made = cage.members.back();
            made.stock = tube->id;
            std::optional<Mend> mend = trial_.offer(cage, key_);
            if (!mend) continue;
            mend->kind = Mend::Kind::new_bar;
            mend->name = "New bar";
            mend->parts = {made.id};
            mend->says = partName(cage, made.id) + ": a new bar of " + tube->id;
            Job next = trial_.job();
            next.cage = cage;
            const CageGeometry geometry = resolve(next);
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
    std::set<std::string> tried;  // the same bar comes with many options
    eachModel(trial.job(), [&](const CageLayout& cage) {
        if (trial.stopped()) return true;
        std::optional<Model> model;
        for (const Member& bar : cage.members) {
            if (std::ranges::find(roles, bar.role) == roles.end()) continue;
            known = true;
            Member as_tried = bar;
            as_tried.stock.clear();
            std::string shape = as_tried.id + std::to_string(as_tried.path.size());
            for (const MemberPoint& point : as_tried.path)
                if (const Landing* landing = std::get_if<Landing>(&point.place))
                    shape += landing->host + std::to_string(landing->value);
            if (!tried.insert(shape).second) continue;
            if (!model) {
                Job job = trial.job();
                job.cage = cage;
                model = Model{cage, resolve(job)};
            }
            if (std::optional<Mend> mend = bringer.bring(*model, bar)) {
                out.ways.push_back(*std::move(mend));
                return true;
            }
        }
        return false;
    });
    if (!out.ways.empty()) return;
    out.none = known ? "A starter's bar of that kind does not fit this cage: draw it by hand."
                     : "No starter has a bar of that kind in this car: draw it by hand.";
}

}  // namespace hoopwright
