// The form of one bar, and of several bars at once.
#include <QLabel>
#include <QPointer>
#include <QRegularExpression>
#include <algorithm>
#include <cmath>
#include <numbers>

#include "app/window/bar_facts.h"
#include "app/window/bought_tube.h"
#include "app/window/details.h"
#include "app/window/form.h"
#include "app/window/form_help.h"
#include "app/window/path_form.h"
#include "core/edit/cage_edits.h"

namespace hoopwright {
namespace {

QString bendCount(const Desk& desk, const std::string& id) {
    const CageGeometry& now = desk.document.geometry();
    const int at = now.member(id);
    const int bends = at < 0 ? 0 : now.members[std::size_t(at)].line.bendCount();
    if (bends == 0) return QObject::tr("straight");
    return bends == 1 ? QObject::tr("1 bend") : QObject::tr("%1 bends").arg(bends);
}

int jointCount(const Desk& desk, const std::string& id) {
    const CageGeometry& now = desk.document.geometry();
    const int self = now.member(id);
    return int(std::count_if(now.joints.begin(), now.joints.end(), [self](const Joint& joint) {
        return self >= 0 && (joint.branch == self || joint.host == self);
    }));
}

QString oneLine(const Desk& desk, const std::string& id) {
    const CageGeometry& now = desk.document.geometry();
    const int at = now.member(id);
    if (at < 0) return QObject::tr("cannot be drawn");
    const ResolvedMember& made = now.members[std::size_t(at)];
    return bendCount(desk, id) + QStringLiteral(", ") + desk.length(made.line.length_mm());
}

void identity(Desk& desk, Form& form, const std::string& id) {
    TextField* name = form.text(
        QObject::tr("Name"), [&desk, id] { return text(memberOf(desk, id).name); },
        [&desk, id](const QString& to) {
            editMember(desk, id, QObject::tr("Name"), [&](Member& m) { m.name = to.toStdString(); });
            return QString();
        });
    name->setPlaceholderText(QObject::tr("as its role"));
    form.text(
        QObject::tr("Called"), [id] { return text(id); },
        [&desk, id](const QString& to) { return renameChosen(desk, Thing::Kind::member, id, to); });
    form.choice(
        QObject::tr("Role"), [] { return roleOptions(); }, [&desk, id] { return memberOf(desk, id).role; },
        [&desk, id](const std::string& to) {
            editMember(desk, id, QObject::tr("Role"), [&](Member& m) { m.role = to; });
        });
    form.choice(
        QObject::tr("Tube"), [&desk] { return stockOptions(desk.document.job().stock); },
        [&desk, id] { return memberOf(desk, id).stock; },
        [&desk, id](const std::string& to) {
            editMember(desk, id, QObject::tr("Tube"), [&](Member& m) { m.stock = to; });
        });
    form.tick(
        QObject::tr("One of a pair, left and right"), [&desk, id] { return memberOf(desk, id).mirrored; },
        [&desk, id](bool on) { setPaired(desk, id, on); });
}

void dieRadius(Desk& desk, Form& form, const std::string& id) {
    ValueField* radius = form.value(
        QObject::tr("Bend radius"), Dimension::length,
        [&desk, id] { return memberOf(desk, id).bend_radius_mm; },
        [&desk, id](std::optional<double> to, const QByteArray& key) {
            editMember(
                desk, id, QObject::tr("Bend radius"), [&](Member& m) { m.bend_radius_mm = to; }, key);
        },
        true);
    radius->setLeast(0.1);
    radius->setPlaceholderText(QObject::tr("the die's"));
    radius->setToolTip(
        QObject::tr("Centreline radius of every bend; empty: the radius of the die for this tube"));
}

void habits(Desk& desk, Form& form, const std::string& id) {
    // A tube bought bent says its own among what was taped.
    if (!memberOf(desk, id).bent) dieRadius(desk, form, id);
    form.value(
            QObject::tr("Padding"), Dimension::length,
            [&desk, id] { return std::optional(memberOf(desk, id).padding_mm); },
            [&desk, id](std::optional<double> to, const QByteArray& key) {
                editMember(
                    desk, id, QObject::tr("Padding"), [&](Member& m) { m.padding_mm = std::max(0.0, *to); },
                    key);
            })
        ->setLeast(0);
    form.tick(
        QObject::tr("The customer may leave it out"), [&desk, id] { return memberOf(desk, id).optional_bar; },
        [&desk, id](bool on) {
            editMember(desk, id, QObject::tr("Optional"), [&](Member& m) { m.optional_bar = on; });
        });
    TextField* passes = form.text(
        QObject::tr("May pass"), [&desk, id] { return joined(memberOf(desk, id).passes); },
        [&desk, id](const QString& to) {
            return setMemberList(desk, id, QObject::tr("Bars it may pass through"), to,
                                 [](Member& m) -> std::vector<std::string>& { return m.passes; });
        });
    passes->setToolTip(
        QObject::tr("Bars this one may touch or pass through, as they are called, with commas between"));
    form.text(
        QObject::tr("Note"), [&desk, id] { return text(memberOf(desk, id).note); },
        [&desk, id](const QString& to) {
            editMember(desk, id, QObject::tr("Note"), [&](Member& m) { m.note = to.toStdString(); });
            return QString();
        });
}

int sparesOf(const CageLayout& cage, const std::string& resolved) {
    int count = 0;
    for (const SparePiece& spare : cage.spares)
        if (spare.of == resolved) count += spare.count;
    return count;
}

/// How many more of a bar are bought, cut and bent than the cage has.
void setSpares(Desk& desk, const std::string& resolved, double count, const QByteArray& key) {
    constexpr double kMost = 100;
    const int whole = int(std::lround(std::clamp(count, 0.0, kMost)));
    desk.document.edit(
        QObject::tr("Make some to spare"),
        [&](Job& job) {
            if (sparesOf(job.cage, resolved) == whole) return;
            std::erase_if(job.cage.spares, [&](const SparePiece& spare) { return spare.of == resolved; });
            if (whole > 0) job.cage.spares.push_back({resolved, whole});
        },
        key);
}

}  // namespace

Form* memberForm(Desk& desk, const std::string& resolved) {
    const std::string id = layoutId(resolved);
    auto* form = new Form(desk, sidedName(shownName(memberOf(desk, id)), sideOf(resolved)));
    form->title([&desk, id, resolved] { return sidedName(shownName(memberOf(desk, id)), sideOf(resolved)); },
                [&desk, resolved] { return oneLine(desk, resolved); });
    form->note([&desk, id] { return text(roleOf(memberOf(desk, id).role).purpose); });
    identity(desk, *form, id);
    boughtRows(desk, *form, id, resolved);
    pathRows(desk, *form, id, resolved);
    form->section(QObject::tr("What the rules say"));
    form->facts(QObject::tr("rules"), [&desk, resolved] { return ruleLines(desk, resolved); });
    form->section(QObject::tr("Nearest to the driver"));
    form->facts(QObject::tr("nearest to the driver"),
                [&desk, resolved] { return driverLines(desk, resolved); });
    form->section(QObject::tr("Gap to the car's skin"));
    form->facts(QObject::tr("gap to the car's skin"),
                [&desk, resolved] { return skinLines(desk, resolved); });
    const auto first = [](const std::vector<FactLine>& lines) { return lines.front().figure; };
    form->fold(
        QObject::tr("To the saw"), [&desk, resolved, first] { return first(barLines(desk, resolved)); },
        false);
    form->facts(QObject::tr("to the saw"), [&desk, resolved] { return barLines(desk, resolved); });
    form->value(
            QObject::tr("Made to spare"), Dimension::none,
            [&desk, resolved] { return std::optional<double>(sparesOf(desk.document.job().cage, resolved)); },
            [&desk, resolved](std::optional<double> to, const QByteArray& key) {
                setSpares(desk, resolved, to.value_or(0), key);
            })
        ->setLeast(0);
    form->fold(
        QObject::tr("Bends"), [&desk, resolved] { return bendCount(desk, resolved); }, false);
    form->facts(QObject::tr("bends"), [&desk, resolved] { return bendLines(desk, resolved); });
    form->fold(
        QObject::tr("Joints"), [&desk, resolved] { return QString::number(jointCount(desk, resolved)); },
        false);
    form->facts(QObject::tr("joints"), [&desk, resolved] { return jointLines(desk, resolved); });
    form->fold(
        QObject::tr("How it is made"), [] { return QString(); }, false);
    habits(desk, *form, id);
    form->finish();
    return form;
}

Form* membersForm(Desk& desk, const std::vector<std::string>& ids) {
    auto* form = new Form(desk, QObject::tr("%1 bars").arg(ids.size()));
    form->title([ids] { return QObject::tr("%1 bars").arg(ids.size()); }, [] { return QString(); });
    const auto common = [&desk, ids](auto read) {
        std::string found;
        for (std::size_t i = 0; i < ids.size(); ++i) {
            const std::string one = read(memberOf(desk, ids[i]));
            if (i > 0 && one != found) return std::string();
            found = one;
        }
        return found;
    };
    const auto all = [&desk, ids](const QString& words, const std::function<void(Member&)>& change) {
        desk.document.edit(words, [&](Job& job) {
            for (const std::string& id : ids) {
                if (Member* member = findMember(job.cage, id)) change(*member);
            }
        });
    };
    form->choice(
        QObject::tr("Tube"), [&desk] { return stockOptions(desk.document.job().stock); },
        [common] { return common([](const Member& m) { return m.stock; }); },
        [all](const std::string& to) {
            all(QObject::tr("Tube of several bars"), [&](Member& m) { m.stock = to; });
        });
    form->choice(
        QObject::tr("Role"), [] { return roleOptions(); },
        [common] { return common([](const Member& m) { return m.role; }); },
        [all](const std::string& to) {
            all(QObject::tr("Role of several bars"), [&](Member& m) { m.role = to; });
        });
    ValueField* radius = form->value(
        QObject::tr("Bend radius"), Dimension::length,
        [&desk, ids]() -> std::optional<double> {
            const std::optional<double> first = memberOf(desk, ids.front()).bend_radius_mm;
            for (const std::string& id : ids) {
                if (memberOf(desk, id).bend_radius_mm != first) return std::nullopt;
            }
            return first;
        },
        [all](std::optional<double> to, const QByteArray&) {
            // A tube bought bent has the bends it came with.
            all(QObject::tr("Bend radius of several bars"), [&](Member& m) {
                if (!m.bent) m.bend_radius_mm = to;
            });
        },
        true);
    radius->setLeast(0.1);
    radius->setPlaceholderText(QObject::tr("the die's, or differs"));
    ValueField* padding = form->value(
        QObject::tr("Padding"), Dimension::length,
        [&desk, ids]() -> std::optional<double> {
            const double first = memberOf(desk, ids.front()).padding_mm;
            for (const std::string& id : ids) {
                if (memberOf(desk, id).padding_mm != first) return std::nullopt;
            }
            return first;
        },
        [all](std::optional<double> to, const QByteArray&) {
            if (to) all(QObject::tr("Padding of several bars"), [&](Member& m) { m.padding_mm = *to; });
        });
    padding->setLeast(0);
    padding->setPlaceholderText(QObject::tr("differs"));
    form->section(QObject::tr("Together"));
    form->facts(QObject::tr("together"), [&desk] { return togetherLines(desk); });
    form->finish();
    return form;
}

}  // namespace hoopwright
