#include "rules/table_run.h"

#include <algorithm>

#include "core/driver/clearance.h"
#include "rules/as_built.h"
#include "rules/quantity.h"

namespace hoopwright {
namespace {

Measured copyOf(const Measured& from, bool show) {
    Measured out;
    out.is = from.is;
    out.low = from.low;
    out.high = from.high;
    out.yes = from.yes;
    out.text = from.text;
    if (show && from.shown) out.shown = std::make_unique<Shown>(*from.shown);
    return out;
}

}  // namespace

TableRun::TableRun(const RuleTable& table, const CheckScene& scene)
    : table_(table), scene_(scene), picked_(table.selectors.size()), places_(table.places.size()) {
    if (table_.ignored < 0) return;
    std::vector<char> passed_over = picked(table_.ignored);
    // What was looked up on the way saw every bar.
    picked_.assign(table.selectors.size(), std::nullopt);
    places_.assign(table.places.size(), std::nullopt);
    envelopes_.clear();
    subjects_.clear();
    picked_[static_cast<std::size_t>(table_.ignored)] = std::move(passed_over);
}

const std::vector<char>& TableRun::picked(int selector) const {
    std::optional<std::vector<char>>& kept = picked_[static_cast<std::size_t>(selector)];
    if (!kept) {
        std::vector<char> now(static_cast<std::size_t>(scene_.memberCount()));
        const Selector& want = table_.selectors[static_cast<std::size_t>(selector)];
        // While it is being found out which bars are passed over, none is.
        const bool of_ignored = selector == table_.ignored;
        if (of_ignored) finding_ignored_ = true;
        for (int i = 0; i < scene_.memberCount(); ++i)
            now[static_cast<std::size_t>(i)] = matches(want, i) && (of_ignored || !ignores(i));
        if (of_ignored) finding_ignored_ = false;
        kept = std::move(now);
    }
    return *kept;
}

bool TableRun::picks(int selector, int member, const Subject& of) const {
    if (selector < 0) return !ignores(member);
    if (!picked(selector)[static_cast<std::size_t>(member)]) return false;
    const Selector& want = table_.selectors[static_cast<std::size_t>(selector)];
    if (want.relative == Selector::Relative::no) return true;
    const Side wanted = want.relative == Selector::Relative::same_side ? of.side : other(of.side);
    return scene_.facts(member).side == wanted;
}

std::vector<int> TableRun::members(int selector, const Subject& of) const {
    std::vector<int> out;
    for (int i = 0; i < scene_.memberCount(); ++i)
        if (picks(selector, i, of)) out.push_back(i);
    return out;
}

std::string TableRun::noMember(int selector) const {
    if (selector < 0) return "the cage has no members";
    return "no member is " + table_.selectors[static_cast<std::size_t>(selector)].words;
}

bool TableRun::ignores(int member) const {
    if (table_.ignored < 0 || finding_ignored_) return false;
    return picked(table_.ignored)[static_cast<std::size_t>(member)] != 0;
}

const std::vector<OpenBay>& TableRun::openBays() const {
    if (open_bays_) return *open_bays_;
    if (table_.ignored < 0) return *(open_bays_ = hoopwright::openBays(scene_.cage()));
    CageGeometry rest = scene_.cage();
    for (int i = 0; i < scene_.memberCount(); ++i) {
        if (!ignores(i)) continue;
        for (ResolvedEnd& end : rest.members[static_cast<std::size_t>(i)].ends) end.node = -1;
        for (Node& node : rest.nodes) std::erase(node.members, i);
    }
    return *(open_bays_ = hoopwright::openBays(rest));
}

const Envelope& TableRun::envelope(int selector, const Subject& of) const {
    std::vector<int> who = members(selector, of);
    const auto kept = envelopes_.find(who);
    if (kept != envelopes_.end()) return kept->second;
    Envelope sheet = envelopeOf(scene_.cage(), who);
    return envelopes_.emplace(std::move(who), std::move(sheet)).first->second;
}

const AssignedFigures* TableRun::assigned(int member) const {
    const MemberFacts& f = scene_.facts(member);
    if (!f.material) return nullptr;
    for (const AssignedFigures& figures : table_.materials) {
        const auto& families = figures.families;
        if (std::find(families.begin(), families.end(), f.material->family) == families.end()) continue;
        const auto& forms = figures.forms;
        if (forms.empty() || std::find(forms.begin(), forms.end(), f.stock->form) != forms.end())
            return &figures;
    }
    return nullptr;
}

Measured TableRun::measure(const Reading& reading, const Subject& what, bool show) const {
    const Quantity& quantity = allQuantities()[static_cast<std::size_t>(reading.quantity)];
    if (!scene_.job().cage.readings.empty()) {
        // What was read on the built cage is judged; it is shown where the plan has it.
        if (std::optional<Measured> built = asBuilt(*this, reading, what)) {
            Measured planned = quantity.measure(*this, what, reading.with, show);
            if (planned.is == Measured::Is::left_out) return planned;
            built->shown = std::move(planned.shown);
            return *std::move(built);
        }
    }
    if (quantity.kind != SubjectKind::driver) return quantity.measure(*this, what, reading.with, show);
    const auto kept = std::find_if(kept_.begin(), kept_.end(), [&](const Kept& one) {
        return one.quantity == reading.quantity && one.driver == what.first && one.with == reading.with;
    });
    if (kept != kept_.end()) return copyOf(kept->measured, show);
    Measured measured = quantity.measure(*this, what, reading.with, true);
    Measured out = copyOf(measured, show);
    kept_.push_back({reading.quantity, what.first, reading.with, std::move(measured)});
    return out;
}

std::string TableRun::id(const Subject& subject) const {
    switch (subject.kind) {
        case SubjectKind::member:
            return scene_.member(subject.first).id;
        case SubjectKind::joint: {
            const Joint& joint = scene_.joint(subject);
            return scene_.member(joint.branch).id + (joint.end == 0 ? " first end on " : " last end on ") +
                   scene_.member(joint.host).id;
        }
        case SubjectKind::pair:
            return scene_.member(subject.first).id + " and " + scene_.member(subject.second).id;
        case SubjectKind::plate:
            return scene_.plate(subject).id;
        case SubjectKind::gusset:
            return scene_.cage().gussets[static_cast<std::size_t>(subject.first)].id;
        case SubjectKind::driver:
            return scene_.driver(subject).id;
        case SubjectKind::cage:
            return std::string(sideWord(subject.side));
    }
    return {};
}

std::string TableRun::name(const Subject& subject) const {
    switch (subject.kind) {
        case SubjectKind::member:
            return scene_.member(subject.first).name;
        case SubjectKind::joint: {
            const Joint& joint = scene_.joint(subject);
            return scene_.member(joint.branch).name + " on " + scene_.member(joint.host).name;
        }
        case SubjectKind::pair:
            return scene_.member(subject.first).name + " and " + scene_.member(subject.second).name;
        case SubjectKind::plate:
            return scene_.plate(subject).name;
        case SubjectKind::gusset:
            return "Gusset " + id(subject);
        case SubjectKind::driver:
            return scene_.driver(subject).name;
        case SubjectKind::cage:
            break;
    }
    return subject.side == Side::centre ? "" : subject.side == Side::left ? "Left side" : "Right side";
}

}  // namespace hoopwright
