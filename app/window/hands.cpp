#include "app/window/hands.h"

#include <QFileDialog>
#include <QMessageBox>
#include <QPushButton>
#include <algorithm>

#include "app/window/add_bar.h"
#include "app/window/app_paths.h"
#include "app/window/form_help.h"
#include "app/window/new_driver.h"
#include "app/window/pin.h"
#include "app/window/problems_page.h"
#include "app/window/style.h"
#include "core/edit/tie_edits.h"
#include "core/edit/usual_sizes.h"
#include "core/survey/survey.h"
#include "core/survey/walk_lines.h"

namespace hoopwright {
namespace {

using Kind = Thing::Kind;

/// An id like `stem`, `stem_2` ... that `taken` does not know.
template <class Taken>
std::string numbered(const std::string& stem, const Taken& taken) {
    if (!taken(stem)) return stem;
    int n = 2;
    while (taken(stem + "_" + std::to_string(n))) ++n;
    return stem + "_" + std::to_string(n);
}

QString listOf(const Job& job, const std::vector<std::string>& ids) {
    QStringList names;
    for (const std::string& id : ids) {
        const Member* member = job.cage.member(id);
        const Plate* plate = job.cage.plate(id);
        names << (member ? text(shownName(*member)) : plate ? text(shownName(*plate)) : spoken(id));
        if (names.size() == 8 && ids.size() > 9) {
            names << QObject::tr("and %1 more").arg(ids.size() - 8);
            break;
        }
    }
    return names.join(QStringLiteral(", "));
}

std::string freeDriverId(const Job& job, const std::string& stem) {
    return numbered(stem, [&](const std::string& one) {
        return std::any_of(job.drivers.begin(), job.drivers.end(),
                           [&](const Driver& d) { return d.id == one; });
    });
}

/// A driver file in that folder that neither is there nor is named by the job.
std::string freeDriverFile(const Job& job, const std::filesystem::path& folder, const std::string& stem) {
    const auto pathOf = [&](const std::string& one) { return (folder / (one + ".yaml")).generic_string(); };
    return pathOf(numbered(stem, [&](const std::string& one) {
        std::error_code none;
        const auto& files = job.cage.driver_files;
        return std::filesystem::exists(pathOf(one), none) ||
               std::find(files.begin(), files.end(), pathOf(one)) != files.end();
    }));
}

void duplicateDriver(Desk& desk, const std::string& id) {
    const Job& job = desk.document.job();
    const auto found =
        std::find_if(job.drivers.begin(), job.drivers.end(), [&](const Driver& d) { return d.id == id; });
    if (found == job.drivers.end()) return;
    const std::size_t at = std::size_t(found - job.drivers.begin());
    Driver copy = *found;
    copy.id = freeDriverId(job, id);
    copy.name += ", copy";
    std::string file;
    if (at < job.cage.driver_files.size()) {
        const std::filesystem::path was = job.cage.driver_files[at];
        file = freeDriverFile(job, was.parent_path(), was.stem().string());
    }
    desk.document.edit(QObject::tr("Duplicate %1").arg(text(found->name)), [&](Job& next) {
        next.drivers.push_back(copy);
        next.cage.driver_files.push_back(file);
    });
    desk.selection.set({Kind::driver, copy.id});
}

void deleteDriver(Desk& desk, const std::string& id) {
    desk.document.edit(
        QObject::tr("Take %1 out of the job").arg(text(driverOf(desk, id).name)), [&](Job& job) {
            for (std::size_t i = 0; i < job.drivers.size(); ++i) {
                if (job.drivers[i].id != id) continue;
                job.drivers.erase(job.drivers.begin() + std::ptrdiff_t(i));
                if (i < job.cage.driver_files.size())
                    job.cage.driver_files.erase(job.cage.driver_files.begin() + std::ptrdiff_t(i));
                return;
            }
        });
}

void deleteCarPoint(Desk& desk, const std::string& name) {
    const auto onIt = [&](const Place3& place) {
        const auto* at = std::get_if<AtCarPoint>(&place);
        return at && at->point == name;
    };
    const CarPoint* point = desk.document.job().car.point(name);
    if (!point) return;
    const Vec3 where = point->at;
    desk.document.edit(QObject::tr("Delete car point %1").arg(spoken(name)), [&](Job& job) {
        // What stood on it stays where it is.
        const auto settle = [&](Place3& place) {
            if (onIt(place)) place = FixedPoint{where + std::get<AtCarPoint>(place).offset};
        };
        for (Member& member : job.cage.members) {
            for (MemberPoint& one : member.path) settle(one.place);
        }
        for (Plate& plate : job.cage.plates) settle(plate.at);
        removePoint(job.car, name);
    });
}

bool deleteOther(Desk& desk, const Thing& thing) {
    switch (thing.kind) {
        case Kind::gusset:
            desk.document.edit(QObject::tr("Delete gusset"), [&](Job& job) {
                std::erase_if(job.cage.gussets, [&](const Gusset& g) { return g.id == thing.id; });
            });
            return true;
        case Kind::dimension:
            deleteDimension(desk, thing.id);
            return true;
        case Kind::driver:
            deleteDriver(desk, thing.id);
            return true;
        case Kind::car_point:
            deleteCarPoint(desk, thing.id);
            return true;
        case Kind::car_line:
            desk.document.edit(QObject::tr("Delete car line %1").arg(spoken(thing.id)), [&](Job& job) {
                std::erase_if(job.car.lines, [&](const CarLine& line) { return line.name == thing.id; });
            });
            return true;
        case Kind::car_scan:
            desk.document.edit(QObject::tr("Delete scan %1").arg(text(thing.id)), [&](Job& job) {
                std::erase_if(job.car.scans, [&](const CarScan& scan) { return scan.file == thing.id; });
            });
            return true;
        default:
            return false;
    }
}

template <class Same>
void chooseAll(Desk& desk, const Same& same) {
    const auto chosen = desk.selection.layoutIds(Kind::member);
    if (chosen.empty()) return;
    const Member like = memberOf(desk, chosen.back());
    std::vector<Thing> all;
    for (const Member& member : desk.document.job().cage.members) {
        if (!same(member, like)) continue;
        for (const std::string& id : resolvedIds(member.id, member.mirrored))
            all.push_back({Kind::member, id});
    }
    desk.selection.set(std::move(all));
}

}  // namespace

std::string addBar(Desk& desk, QWidget* window) {
    AddBar dialog(desk, window);
    if (dialog.exec() != QDialog::Accepted) return {};
    if (dialog.where() == AddBar::Where::draw) return dialog.role();
    if (dialog.where() == AddBar::Where::pick) {
        pickTwoAndInsert(desk, dialog.role());
    } else {
        insertBar(desk, dialog.role(), picksFromSelection(desk));
    }
    return {};
}

void duplicateChosen(Desk& desk) {
    const Thing* last = desk.selection.last();
    if (!last) return;
    if (last->kind == Kind::driver) return duplicateDriver(desk, last->id);
    const auto members = desk.selection.layoutIds(Kind::member),
               plates = desk.selection.layoutIds(Kind::plate);
    std::vector<Thing> made;
    desk.document.edit(QObject::tr("Duplicate"), [&](Job& job) {
        for (const std::string& id : members) {
            const std::string copy = duplicateMember(job, id);
            made.push_back({Kind::member, resolvedIds(copy, job.cage.member(copy)->mirrored).front()});
        }
        for (const std::string& id : plates) {
            const std::string copy = duplicatePlate(job, id);
            made.push_back({Kind::plate, resolvedIds(copy, job.cage.plate(copy)->mirrored).front()});
        }
    });
    if (!made.empty()) desk.selection.set(std::move(made));
}

std::optional<Orphans> askOrphans(QWidget* window, const Job& job, const Dependents& standing) {
    QMessageBox box(window);
    box.setWindowTitle(QObject::tr("Delete"));
    box.setText(standing.members.size() == 1
                    ? QObject::tr("One bar lands on what you delete.")
                    : QObject::tr("%1 bars land on what you delete.").arg(standing.members.size()));
    box.setInformativeText(listOf(job, standing.members));
    QPushButton* too = box.addButton(QObject::tr("Delete those too"), QMessageBox::DestructiveRole);
    QPushButton* keep = box.addButton(QObject::tr("Keep them where they are"), QMessageBox::AcceptRole);
    QPushButton* cancel = box.addButton(QObject::tr("Delete nothing"), QMessageBox::RejectRole);
    too->setObjectName(QStringLiteral("delete_too"));
    keep->setObjectName(QStringLiteral("keep"));
    makePrimary(keep);
    box.setDefaultButton(keep);
    box.setEscapeButton(cancel);
    box.exec();
    if (box.clickedButton() == too) return Orphans::remove_too;
    if (box.clickedButton() == keep) return Orphans::keep_in_place;
    return std::nullopt;
}

void deleteChosen(Desk& desk, QWidget* window) {
    const Thing* last = desk.selection.last();
    if (!last || deleteOther(desk, *last)) return;
    std::vector<std::string> ids = desk.selection.layoutIds(Kind::member);
    const auto plates = desk.selection.layoutIds(Kind::plate);
    ids.insert(ids.end(), plates.begin(), plates.end());
    if (ids.empty()) return;
    const Dependents standing = dependents(desk.document.job(), ids);
    Orphans orphans = Orphans::keep_in_place;
    if (!standing.members.empty()) {
        const auto answer = askOrphans(window, desk.document.job(), standing);
        if (!answer) return;
        orphans = *answer;
    }
    const QString words = ids.size() == 1 ? QObject::tr("Delete %1").arg(listOf(desk.document.job(), ids))
                                          : QObject::tr("Delete %1 parts").arg(ids.size());
    desk.document.edit(words, [&](Job& job) { deleteParts(job, desk.document.geometry(), ids, orphans); });
    if (!standing.drivers.empty())
        emit desk.say(
            QObject::tr("The belts of a driver went over it: choose another bar in the Driver step."));
}

void pairChosen(Desk& desk) {
    for (const std::string& id : desk.selection.layoutIds(Kind::member))
        setPaired(desk, id, !memberOf(desk, id).mirrored);
    for (const std::string& id : desk.selection.layoutIds(Kind::plate))
        pairPlate(desk, id, !plateOf(desk, id).mirrored);
}

void moveChosenInOrder(Desk& desk, int by) {
    const auto chosen = desk.selection.layoutIds(Kind::member);
    if (chosen.size() != 1) return;
    const QString name = text(shownName(memberOf(desk, chosen.front())));
    desk.document.edit(
        by < 0 ? QObject::tr("Put in %1 earlier").arg(name) : QObject::tr("Put in %1 later").arg(name),
        [&](Job& job) { moveInOrder(job, chosen.front(), by); });
}

void addPlate(Desk& desk) {
    const CageGeometry& now = desk.document.geometry();
    const auto bars = desk.selection.ids(Kind::member);
    Vec3 at(0, 600, 0);
    int end = -1;
    if (!bars.empty()) {
        if (const int bar = now.member(bars.back()); bar >= 0) {
            const auto& ends = now.members[std::size_t(bar)].ends;
            for (int i : {0, 1}) {
                if (ends[std::size_t(i)].on == ResolvedEnd::On::nothing) end = i;
            }
            if (end >= 0) at = ends[std::size_t(end)].at;
        }
    }
    Plate plate = newPlate(desk.document.job(), at);
    const std::string owner = end >= 0 ? layoutId(bars.back()) : std::string();
    if (end >= 0 && memberOf(desk, owner).mirrored) {
        plate.mirrored = true;
        if (sideOf(bars.back()) == Side::right)
            plate.at = FixedPoint{mirrored(std::get<FixedPoint>(plate.at).at)};
    }
    desk.document.edit(QObject::tr("Add a plate"), [&](Job& job) {
        job.cage.plates.push_back(plate);
        if (Member* member = findMember(job.cage, owner)) {
            (end == 0 ? member->path.front() : member->path.back()).place = OnPlate{plate.id, Vec2::Zero()};
        }
    });
    desk.selection.set({Kind::plate, resolvedIds(plate.id, plate.mirrored).front()});
    emit desk.say(end >= 0 ? QObject::tr("A plate under the bar's free end.")
                           : QObject::tr("A plate at the sill: type where it sits."));
}

void addGusset(Desk& desk) {
    const auto bars = desk.selection.ids(Kind::member);
    if (bars.size() != 2) {
        emit desk.say(QObject::tr("Choose the two bars the gusset joins (Ctrl and click), then add it."));
        return;
    }
    const Gusset gusset = newGusset(desk.document.job(), bars[0], bars[1]);
    desk.document.edit(QObject::tr("Add a gusset"), [&](Job& job) { job.cage.gussets.push_back(gusset); });
    desk.selection.set({Kind::gusset, gusset.id});
}

void tieChosen(Desk& desk, Fixing fixing) {
    const Thing* last = desk.selection.last();
    if (!last || (last->kind != Kind::plate && last->kind != Kind::member)) {
        emit desk.say(QObject::tr("Choose a foot plate, or a bar that stands on one."));
        return;
    }
    Job tied = desk.document.job();
    const Expected<MadeTie> made = tieToRail(tied, desk.document.geometry(), last->id, fixing);
    if (!made) {
        emit desk.say(text(made.reason()));
        return;
    }
    const QString how = fixing == Fixing::bolted ? QObject::tr("bolted") : QObject::tr("welded");
    desk.document.edit(QObject::tr("Tie to %1").arg(spoken(made->rail)),
                       [&](Job& job) { job.cage = tied.cage; });
    const Plate& plate = *desk.document.job().cage.plate(made->plate);
    desk.selection.set({Kind::plate, resolvedIds(plate.id, plate.mirrored).front()});
    emit desk.say(made->bar.empty()
                      ? QObject::tr("It lies on %1 and is %2 to it now.").arg(spoken(made->rail), how)
                      : QObject::tr("A return to %1, %2.").arg(spoken(made->rail), how));
}

void raiseChosen(Desk& desk) {
    const Thing* last = desk.selection.last();
    std::string id = last && last->kind == Kind::plate ? layoutId(last->id) : std::string();
    const CageGeometry& now = desk.document.geometry();
    if (const int bar = last && last->kind == Kind::member ? now.member(last->id) : -1; bar >= 0)
        for (const ResolvedEnd& end : now.members[std::size_t(bar)].ends)
            if (id.empty() && end.plate >= 0) id = layoutId(now.plates[std::size_t(end.plate)].id);
    if (id.empty()) {
        emit desk.say(QObject::tr("Choose a foot plate, or a bar that stands on one."));
        return;
    }
    const bool off = plateOf(desk, id).riser.has_value();
    editPlate(desk, id, off ? QObject::tr("Take off its riser") : QObject::tr("Put on a riser"),
              [&](Plate& p) {
                  putOnRiser(
                      p, off ? std::nullopt : std::optional(usualSizes(desk.document.job().cage.unit).riser));
              });
    desk.selection.set({Kind::plate, resolvedIds(id, plateOf(desk, id).mirrored).front()});
}

void addCarPoint(Desk& desk) {
    CarPoint point;
    point.name = numbered(
        "point", [&](const std::string& name) { return desk.document.job().car.point(name) != nullptr; });
    desk.document.edit(QObject::tr("Add a car point"), [&](Job& job) { job.car.points.push_back(point); });
    desk.selection.set({Kind::car_point, point.name});
}

void addCarLine(Desk& desk) {
    CarLine line;
    line.name = numbered(
        "line", [&](const std::string& name) { return desk.document.job().car.line(name) != nullptr; });
    line.points = {Vec3(0, 600, 0), Vec3(1000, 600, 0)};
    desk.document.edit(QObject::tr("Add a car line"), [&](Job& job) { job.car.lines.push_back(line); });
    desk.selection.set({Kind::car_line, line.name});
}

void drawMissingLines(Desk& desk) {
    const Car& before = desk.document.job().car;
    const std::size_t had = before.lines.size();
    const Car after = withWalkLines(before);
    if (after == before) {
        emit desk.say(QObject::tr("No line is missing that the measured points could make."));
        return;
    }
    const std::size_t now = after.lines.size();
    desk.document.edit(QObject::tr("Draw missing lines"), [&](Job& job) { job.car = after; });
    emit desk.say(now == had ? QObject::tr("Rails or the roof's skin were drawn.")
                             : QObject::tr("%1 more lines.").arg(now - had));
}

void addDriverFromFile(Desk& desk, QWidget* window) {
    const QString folder = QString::fromStdString((dataFolder() / "drivers").string());
    const QString file = QFileDialog::getOpenFileName(window, QObject::tr("Add a driver"), folder,
                                                      QObject::tr("Drivers (*.yaml)"));
    if (file.isEmpty()) return;
    const auto read = readDriver(file.toStdString());
    if (!read.value) {
        ProblemsPage(desk.palette(), QObject::tr("This driver was not added; the job is as it was."),
                     read.problems, window)
            .exec();
        return;
    }
    const auto& drivers = desk.document.job().drivers;
    if (std::any_of(drivers.begin(), drivers.end(),
                    [&](const Driver& d) { return d.id == read.value->id; })) {
        emit desk.say(
            QObject::tr("A driver with the id %1 is in the job already.").arg(text(read.value->id)));
        return;
    }
    desk.document.edit(QObject::tr("Add %1").arg(text(read.value->name)), [&](Job& job) {
        job.drivers.push_back(*read.value);
        job.cage.driver_files.push_back(
            std::filesystem::absolute(file.toStdString()).lexically_normal().generic_string());
    });
    desk.selection.set({Kind::driver, read.value->id});
}

void addDriverFromFigure(Desk& desk, QWidget* window) {
    NewDriver dialog(desk, window);
    if (dialog.exec() != QDialog::Accepted) return;
    const Expected<Driver> made = dialog.driver();
    if (!made) {
        emit desk.say(QObject::tr("No driver was added: %1.").arg(text(made.reason())));
        return;
    }
    const Job& now = desk.document.job();
    Driver driver = *made;
    driver.id = freeDriverId(now, driver.occupant == Driver::Occupant::driver ? "driver" : "passenger");
    // Belt bar and anchors are the car's: who sits in the same place uses the same.
    for (const Driver& other : now.drivers) {
        if (other.occupant != driver.occupant) continue;
        driver.belts = other.belts;
        break;
    }
    const auto& files = now.cage.driver_files;
    const std::filesystem::path beside = files.empty() ? now.cage.car_file : files.front();
    const std::string file = freeDriverFile(now, beside.parent_path(), driver.id);
    desk.document.edit(QObject::tr("New driver %1").arg(text(driver.name)), [&](Job& job) {
        job.drivers.push_back(driver);
        job.cage.driver_files.push_back(file);
    });
    desk.selection.set({Kind::driver, driver.id});
}

void chooseSameTube(Desk& desk) {
    chooseAll(desk, [](const Member& a, const Member& b) { return a.stock == b.stock; });
}

void chooseSameRole(Desk& desk) {
    chooseAll(desk, [](const Member& a, const Member& b) { return a.role == b.role; });
}

}  // namespace hoopwright
