// The form of a gusset.
#include <algorithm>
#include <functional>

#include "app/window/details.h"
#include "app/window/form.h"
#include "app/window/form_help.h"
#include "core/edit/cage_edits.h"

namespace hoopwright {

Form* gussetForm(Desk& desk, const std::string& id) {
    const auto now = [&desk, id] {
        for (const Gusset& gusset : desk.document.job().cage.gussets) {
            if (gusset.id == id) return gusset;
        }
        return Gusset{};
    };
    const auto edit = [&desk, id](const QString& words, const std::function<void(Gusset&)>& change,
                                  const QByteArray& key = {}) {
        desk.document.edit(
            QObject::tr("Gusset, ") + words.toLower(),
            [&](Job& job) {
                for (Gusset& gusset : job.cage.gussets) {
                    if (gusset.id == id) change(gusset);
                }
            },
            key);
    };
    auto* form = new Form(desk, QObject::tr("Gusset %1").arg(text(id)));
    form->title([id] { return QObject::tr("Gusset, %1").arg(spoken(id)); }, [] { return QString(); });
    form->text(
        QObject::tr("Called"), [id] { return text(id); },
        [&desk, id](const QString& to) { return renameChosen(desk, Thing::Kind::gusset, id, to); });
    const auto hosts = [&desk, now] {
        std::vector<ChoiceField::Option> options;
        for (const Member& member : desk.document.job().cage.members) {
            if (!member.mirrored || now().mirrored) {
                options.push_back({member.id, text(shownName(member))});
            } else {
                for (const std::string& one : resolvedIds(member.id, true))
                    options.push_back({one, sidedName(shownName(member), sideOf(one))});
            }
        }
        return options;
    };
    form->choice(
        QObject::tr("Between"), hosts, [now] { return now().member_a; },
        [edit](const std::string& to) { edit(QObject::tr("Bar"), [&](Gusset& g) { g.member_a = to; }); });
    form->choice(
        QObject::tr("and"), hosts, [now] { return now().member_b; },
        [edit](const std::string& to) { edit(QObject::tr("Bar"), [&](Gusset& g) { g.member_b = to; }); });
    form->value(
            QObject::tr("Leg"), Dimension::length, [now] { return std::optional(now().leg_mm); },
            [edit](std::optional<double> to, const QByteArray& key) {
                edit(
                    QObject::tr("Leg"), [&](Gusset& g) { g.leg_mm = std::max(0.0, *to); }, key);
            })
        ->setLeast(0);
    form->value(
            QObject::tr("Thickness"), Dimension::length, [now] { return std::optional(now().thickness_mm); },
            [edit](std::optional<double> to, const QByteArray& key) {
                edit(
                    QObject::tr("Thickness"), [&](Gusset& g) { g.thickness_mm = std::max(0.0, *to); }, key);
            })
        ->setLeast(0);
    form->tick(
        QObject::tr("Folded of one sheet, a cheek on each side of the tubes"), [now] { return now().formed; },
        [edit](bool on) { edit(QObject::tr("Folded"), [&](Gusset& g) { g.formed = on; }); });
    form->value(
            QObject::tr("Hole"), Dimension::length,
            [now] { return std::optional(now().hole_mm.value_or(0)); },
            [edit](std::optional<double> to, const QByteArray& key) {
                edit(
                    QObject::tr("Hole"),
                    [&](Gusset& g) { g.hole_mm = *to > 0 ? std::optional(*to) : std::nullopt; }, key);
            })
        ->setLeast(0);
    form->tick(
        QObject::tr("One of a pair, left and right"), [now] { return now().mirrored; },
        [edit](bool on) { edit(QObject::tr("Pair"), [&](Gusset& g) { g.mirrored = on; }); });
    form->finish();
    return form;
}

}  // namespace hoopwright
