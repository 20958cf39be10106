#include "app/window/form_help.h"

#include <QRegularExpression>
#include <algorithm>

#include "core/base/text.h"
#include "core/edit/cage_edits.h"
#include "core/edit/pair_edits.h"
#include "core/fit/bar_fit.h"

namespace hoopwright {
namespace {

const Member kNoMember{};
const Plate kNoPlate{};
const Driver kNoDriver{};

}  // namespace

double usualGap_mm(const Desk& desk) {
    return desk.units() == UnitsShown::in ? 25.4 : kUsualGap_mm;
}

QString spoken(const std::string& id) {
    return text(id)
        .replace(QLatin1Char('_'), QLatin1Char(' '))
        .replace(QLatin1Char('.'), QStringLiteral(", "));
}

QString tubeName(const std::string& stock_id) {
    static const QRegularExpression kTimes(QStringLiteral("(?<=[0-9])x(?=[0-9.])"));
    static const QRegularExpression kBarePoint(QStringLiteral("(?<![0-9])\\.(?=[0-9])"));
    return text(stock_id)
        .replace(kTimes, QStringLiteral(" × "))
        .replace(kBarePoint, QStringLiteral("0."))
        .replace(QLatin1Char('_'), QLatin1Char(' '));
}

QString titled(const std::string& id) {
    const QString words = spoken(id);
    return words.left(1).toUpper() + words.mid(1);
}

QString joined(const std::vector<std::string>& list) {
    QStringList words;
    for (const std::string& one : list) words << text(one);
    return words.join(QStringLiteral(", "));
}

QString sidedName(const std::string& name, Side side) {
    return side == Side::centre ? text(name) : text(name) + QStringLiteral(", ") + text(sideWord(side));
}

const Member& memberOf(const Desk& desk, const std::string& id) {
    const Member* found = desk.document.job().cage.member(id);
    return found ? *found : kNoMember;
}

const Plate& plateOf(const Desk& desk, const std::string& id) {
    const Plate* found = desk.document.job().cage.plate(id);
    return found ? *found : kNoPlate;
}

const Driver& driverOf(const Desk& desk, const std::string& id) {
    const auto& drivers = desk.document.job().drivers;
    const auto found =
        std::find_if(drivers.begin(), drivers.end(), [&](const Driver& d) { return d.id == id; });
    return found == drivers.end() ? kNoDriver : *found;
}

std::string shownDriver(const Desk& desk) {
    const Thing* last = desk.selection.last();
    if (last) return last->kind == Thing::Kind::driver ? last->id : std::string();
    const auto& drivers = desk.document.job().drivers;
    return drivers.empty() ? std::string() : drivers.front().id;
}

void editMember(Desk& desk, const std::string& id, const QString& words,
                const std::function<void(Member&)>& change, const QByteArray& key) {
    desk.document.edit(
        text(shownName(memberOf(desk, id))) + QStringLiteral(", ") + words.toLower(),
        [&](Job& job) {
            if (Member* member = findMember(job.cage, id)) change(*member);
        },
        key);
}

void editPlate(Desk& desk, const std::string& id, const QString& words,
               const std::function<void(Plate&)>& change, const QByteArray& key) {
    desk.document.edit(
        text(shownName(plateOf(desk, id))) + QStringLiteral(", ") + words.toLower(),
        [&](Job& job) {
            if (Plate* plate = findPlate(job.cage, id)) change(*plate);
        },
        key);
}

void editDriver(Desk& desk, const std::string& id, const QString& words,
                const std::function<void(Driver&)>& change, const QByteArray& key) {
    Driver after = driverOf(desk, id);
    change(after);
    if (const std::string crossed = crossedPair(after);
        !crossed.empty() && crossedPair(driverOf(desk, id)).empty()) {
        emit desk.say(QObject::tr("Left and right of the %1 would be crossed: left has the greater y.")
                          .arg(QString::fromStdString(crossed)));
        return;
    }
    desk.document.edit(
        text(driverOf(desk, id).name) + QStringLiteral(", ") + words.toLower(),
        [&](Job& job) {
            for (Driver& driver : job.drivers) {
                if (driver.id == id) change(driver);
            }
        },
        key);
}

std::vector<ChoiceField::Option> roleOptions() {
    std::vector<ChoiceField::Option> options;
    for (const Role& role : knownRoles()) options.push_back({role.word, text(role.name)});
    return options;
}

std::vector<ChoiceField::Option> stockOptions(const StockList& stock) {
    std::vector<ChoiceField::Option> options;
    for (const TubeStock& tube : stock.tubes) {
        const Material* material = stock.material(tube.material);
        QString words = tubeName(tube.id);
        if (material) words += QStringLiteral(", ") + text(material->name);
        options.push_back({tube.id, words});
    }
    return options;
}

std::vector<ChoiceField::Option> carPointOptions(const Car& car) {
    std::vector<ChoiceField::Option> options;
    for (const CarPoint& point : car.points) options.push_back({point.name, spoken(point.name)});
    return options;
}

std::vector<ChoiceField::Option> hostOptions(const Desk& desk, const std::string& from) {
    std::vector<ChoiceField::Option> options;
    const bool from_pair = memberOf(desk, from).mirrored;
    for (const Member& member : desk.document.job().cage.members) {
        if (member.id == from) continue;
        if (!member.mirrored) {
            options.push_back({member.id, text(shownName(member))});
        } else if (from_pair) {
            options.push_back({member.id, text(shownName(member)) + QObject::tr(", same side")});
            options.push_back({member.id + ".right", text(shownName(member)) + QObject::tr(", other side")});
        } else {
            for (const std::string& id : resolvedIds(member.id, true)) {
                options.push_back({id, sidedName(shownName(member), sideOf(id))});
            }
        }
    }
    return options;
}

std::vector<ChoiceField::Option> plateOptions(const Desk& desk, const std::string& from) {
    std::vector<ChoiceField::Option> options;
    const bool from_pair = memberOf(desk, from).mirrored;
    for (const Plate& plate : desk.document.job().cage.plates) {
        if (!plate.mirrored || from_pair) {
            options.push_back({plate.id, text(shownName(plate))});
        } else {
            for (const std::string& id : resolvedIds(plate.id, true)) {
                options.push_back({id, sidedName(shownName(plate), sideOf(id))});
            }
        }
    }
    return options;
}

std::vector<ChoiceField::Option> railOptions(const Car& car) {
    std::vector<ChoiceField::Option> options{{"", QObject::tr("floor skin only")}};
    for (const FrameRail& rail : car.rails) options.push_back({rail.name, spoken(rail.name)});
    return options;
}

std::vector<ChoiceField::Option> materialOptions(const StockList& stock) {
    std::vector<ChoiceField::Option> options;
    for (const Material& material : stock.materials) options.push_back({material.id, text(material.name)});
    return options;
}

QString renameChosen(Desk& desk, Thing::Kind kind, const std::string& from, const QString& to) {
    static const QRegularExpression kId(QStringLiteral("^[a-z][a-z0-9_]*$"));
    if (!kId.match(to).hasMatch()) {
        return QObject::tr("\"%1\" will not do: begin with a small letter, then small letters, digits and _.")
            .arg(to);
    }
    const std::string id = to.toStdString();
    if (id == from) return {};
    if (freeId(desk.document.job().cage, id) != id)
        return QObject::tr("Something is called %1 already.").arg(to);
    std::vector<Thing> chosen = desk.selection.all();
    desk.document.edit(QObject::tr("Call %1 %2").arg(text(from), to),
                       [&](Job& job) { renamePart(job, from, id); });
    for (Thing& thing : chosen) {
        if (thing.kind == kind && layoutId(thing.id) == from) thing.id = id + thing.id.substr(from.size());
    }
    desk.selection.set(std::move(chosen));
    return {};
}

QString setMemberList(Desk& desk, const std::string& id, const QString& words, const QString& typed,
                      const std::function<std::vector<std::string>&(Member&)>& list) {
    std::vector<std::string> ids, known;
    for (const Member& member : desk.document.job().cage.members) known.push_back(member.id);
    for (const QString& part :
         typed.split(QRegularExpression(QStringLiteral("[,\\s]+")), Qt::SkipEmptyParts)) {
        const std::string one = part.toStdString();
        if (!desk.document.job().cage.member(layoutId(one))) {
            const std::string near = didYouMean(layoutId(one), known);
            return near.empty()
                       ? QObject::tr("There is no bar called %1.").arg(part)
                       : QObject::tr("There is no bar called %1; did you mean %2?").arg(part, text(near));
        }
        ids.push_back(one);
    }
    editMember(desk, id, words, [&](Member& member) { list(member) = ids; });
    return {};
}

void setPaired(Desk& desk, const std::string& id, bool on) {
    const QString name = text(shownName(memberOf(desk, id)));
    if (on) {
        desk.document.edit(QObject::tr("Make %1 a pair").arg(name), [&](Job& job) { makePair(job, id); });
        return;
    }
    std::vector<std::string> made;
    desk.document.edit(QObject::tr("Break the pair %1").arg(name),
                       [&](Job& job) { made = breakPair(job, id); });
    if (made.size() > 1) {
        made.erase(made.begin());
        emit desk.say(QObject::tr("What lands on it is no pair any more either; new on the right: %1.")
                          .arg(joined(made)));
    }
}

void pairPlate(Desk& desk, const std::string& id, bool on) {
    const QString name = text(shownName(plateOf(desk, id)));
    if (!on) {
        const bool pair_on_it = std::any_of(
            desk.document.job().cage.members.begin(), desk.document.job().cage.members.end(),
            [&](const Member& member) {
                return member.mirrored &&
                       std::any_of(member.path.begin(), member.path.end(), [&](const MemberPoint& point) {
                           const auto* foot = std::get_if<OnPlate>(&point.place);
                           return foot && layoutId(foot->plate) == id;
                       });
            });
        if (pair_on_it) {
            emit desk.say(
                QObject::tr("A pair of bars stands on %1: break that pair first, or give it another plate.")
                    .arg(name));
            return;
        }
    }
    desk.document.edit(
        on ? QObject::tr("Make %1 a pair").arg(name) : QObject::tr("Break the pair %1").arg(name),
        [&](Job& job) {
            if (on) {
                makePlatePair(job, id);
            } else {
                breakPlatePair(job, id);
            }
        });
}

}  // namespace hoopwright
