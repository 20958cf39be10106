// Which things a selector picks.
#include <algorithm>

#include "core/geometry/distance.h"
#include "rules/judge.h"
#include "rules/table_run.h"

namespace hoopwright {
namespace {

template <class T>
bool holds(const std::vector<T>& list, const T& item) {
    return std::find(list.begin(), list.end(), item) != list.end();
}

}  // namespace

bool TableRun::onItsSide(const Selector& selector, Side side) const {
    if (!selector.sides.empty() && !holds(selector.sides, side)) return false;
    if (selector.drivers_side && side != scene_.sideOf(Driver::Occupant::driver)) return false;
    return !selector.passengers_side || side == scene_.sideOf(Driver::Occupant::passenger);
}

bool TableRun::havingAll(const Selector& selector, const Subject& subject) const {
    return std::all_of(selector.having.begin(), selector.having.end(), [&](const Reading& reading) {
        return judge(*this, reading, subject).answer == Answer::meets;
    });
}

bool TableRun::matches(const Selector& selector, int member) const {
    const ResolvedMember& m = scene_.member(member);
    const MemberFacts& f = scene_.facts(member);
    const bool named = holds(selector.roles, m.role) ||
                       std::any_of(selector.groups.begin(), selector.groups.end(), [&](int group) {
                           return picked(group)[static_cast<std::size_t>(member)] != 0;
                       });
    if (!(selector.roles.empty() && selector.groups.empty()) && !named) return false;
    if (!onItsSide(selector, f.side)) return false;
    if (selector.bent && *selector.bent != (f.bends > 0)) return false;
    if (selector.optional_bar && *selector.optional_bar != (f.layout && f.layout->optional_bar)) return false;
    if (selector.carries_belts && *selector.carries_belts != f.carries_belts) return false;
    if (selector.on_plate && *selector.on_plate != (f.feet > 0)) return false;
    if (selector.not_these >= 0 && picked(selector.not_these)[static_cast<std::size_t>(member)]) return false;
    const Subject subject{SubjectKind::member, member, -1, f.side};
    if (selector.lands_on >= 0) {
        const auto lands = [&](const std::vector<int>& touched) {
            return std::any_of(touched.begin(), touched.end(),
                               [&](int i) { return picks(selector.lands_on, i, subject); });
        };
        if (!lands(f.touches[0]) && !lands(f.touches[1])) return false;
    }
    return havingAll(selector, subject);
}

bool TableRun::matches(const Selector& selector, const Subject& subject) const {
    if (!onItsSide(selector, subject.side)) return false;
    if (subject.kind == SubjectKind::joint) {
        const Joint& joint = scene_.joint(subject);
        if (!picks(selector.branch, joint.branch, subject) || !picks(selector.host, joint.host, subject))
            return false;
    } else if (subject.kind == SubjectKind::plate) {
        const ResolvedPlate& plate = scene_.plate(subject);
        if (selector.welded && *selector.welded != (scene_.plateLayout(subject).fixing == Fixing::welded))
            return false;
        const auto stands = [&](const std::pair<int, int>& foot) {
            return picks(selector.under, foot.first, subject);
        };
        if (selector.under >= 0 && std::none_of(plate.feet.begin(), plate.feet.end(), stands)) return false;
    } else if (subject.kind == SubjectKind::gusset) {
        const ResolvedGusset& g = scene_.cage().gussets[static_cast<std::size_t>(subject.first)];
        const auto between = [&](int a, int b) {
            return picks(selector.first, a, subject) && picks(selector.second, b, subject);
        };
        if (!between(g.member_a, g.member_b) && !between(g.member_b, g.member_a)) return false;
    } else if (subject.kind == SubjectKind::driver) {
        const bool passenger = scene_.driver(subject).occupant == Driver::Occupant::passenger;
        if (selector.passenger && *selector.passenger != passenger) return false;
    }
    return havingAll(selector, subject);
}

// A bar across the car has one end on each side.
Side TableRun::sideOfJoint(int index) const {
    const Vec3& at = scene_.cage().joints[static_cast<std::size_t>(index)].at;
    return sideOf(Box(at));
}

Side TableRun::sideOfPlate(int index) const {
    const ResolvedPlate& plate = scene_.cage().plates[static_cast<std::size_t>(index)];
    return plate.side != Side::centre ? plate.side : sideOf(Box(plate.at));
}

std::vector<Subject> TableRun::pairs(const Selector& selector) const {
    std::vector<Subject> out;
    const std::vector<int> first = members(selector.first, {});
    std::vector<int> second = members(selector.second, {});
    std::vector<char> is_first(static_cast<std::size_t>(scene_.memberCount())), is_second = is_first;
    for (int a : first) is_first[static_cast<std::size_t>(a)] = 1;
    for (int b : second) is_second[static_cast<std::size_t>(b)] = 1;
    // Most are far apart: in order along the car, only a stretch of them can be near.
    const auto rear = [&](int i) { return scene_.facts(i).box.min().x(); };
    double longest = 0, thickest = 0;
    for (int b : second) {
        longest = std::max(longest, scene_.facts(b).box.sizes().x());
        thickest = std::max(thickest, scene_.member(b).radius_mm());
    }
    if (selector.within_mm) std::ranges::stable_sort(second, {}, rear);
    for (int a : first) {
        const MemberFacts& fa = scene_.facts(a);
        const ResolvedMember& ma = scene_.member(a);
        const std::size_t before = out.size();
        auto it = second.begin();
        const double most = selector.within_mm.value_or(0) + ma.radius_mm() + thickest;
        if (selector.within_mm)
            it = std::ranges::lower_bound(second, fa.box.min().x() - longest - most, {}, rear);
        for (; it != second.end(); ++it) {
            const int b = *it;
            const MemberFacts& fb = scene_.facts(b);
            if (selector.within_mm && rear(b) - fa.box.max().x() > most) break;
            // A pair both ways round is one pair.
            if (a == b || (b < a && is_first[static_cast<std::size_t>(b)] != 0 &&
                           is_second[static_cast<std::size_t>(a)] != 0))
                continue;
            if (selector.same_side_pair && fa.side != fb.side) continue;
            if (selector.within_mm) {
                const ResolvedMember& mb = scene_.member(b);
                const double reach = *selector.within_mm + ma.radius_mm() + mb.radius_mm();
                if (fa.box.exteriorDistance(fb.box) > reach || !nearestWithin(ma.line, mb.line, reach))
                    continue;
            }
            const Side side = fa.side == fb.side ? fa.side : Side::centre;
            const Subject pair{SubjectKind::pair, a, b, side};
            if (havingAll(selector, pair)) out.push_back(pair);
        }
        std::sort(out.begin() + static_cast<std::ptrdiff_t>(before), out.end(),
                  [](const Subject& p, const Subject& q) { return p.second < q.second; });
    }
    return out;
}

const std::vector<Subject>& TableRun::subjects(SubjectKind kind, int selector) const {
    const std::pair<SubjectKind, int> asked{kind, selector};
    const auto kept = subjects_.find(asked);
    if (kept != subjects_.end()) return kept->second;
    std::vector<Subject> now = found(kind, selector);  // may look up others on the way
    return subjects_.emplace(asked, std::move(now)).first->second;
}

std::vector<Subject> TableRun::found(SubjectKind kind, int selector) const {
    static const Selector any;
    const Selector& want = selector < 0 ? any : table_.selectors[static_cast<std::size_t>(selector)];
    std::vector<Subject> out;
    const auto add = [&](std::size_t count, auto side) {
        for (int i = 0; i < static_cast<int>(count); ++i) {
            const Subject one{kind, i, -1, side(i)};
            if (matches(want, one)) out.push_back(one);
        }
    };
    const CageGeometry& cage = scene_.cage();
    switch (kind) {
        case SubjectKind::member:
            for (int i : members(selector, {})) out.push_back({kind, i, -1, scene_.facts(i).side});
            break;
        case SubjectKind::joint:
            add(cage.joints.size(), [&](int i) { return sideOfJoint(i); });
            break;
        case SubjectKind::pair:
            out = pairs(want);
            break;
        case SubjectKind::plate:
            add(cage.plates.size(), [&](int i) { return sideOfPlate(i); });
            break;
        case SubjectKind::gusset:
            add(cage.gussets.size(),
                [&](int i) { return scene_.facts(cage.gussets[static_cast<std::size_t>(i)].member_a).side; });
            break;
        case SubjectKind::driver:
            add(scene_.job().drivers.size(), [](int) { return Side::centre; });
            break;
        case SubjectKind::cage:
            out.push_back({});
            break;
    }
    return out;
}

}  // namespace hoopwright
