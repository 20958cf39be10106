// The form of a scan of the car.
#include <algorithm>
#include <cmath>

#include "app/window/add_scan.h"
#include "app/window/details.h"
#include "app/window/form.h"
#include "app/window/form_help.h"
#include "core/base/text.h"
#include "core/mesh/scan_mesh.h"
#include "core/skin/car_skin.h"

namespace hoopwright {
namespace {

const CarScan& scanOf(const Desk& desk, const std::string& file) {
    static const CarScan kNone{};
    const auto& scans = desk.document.job().car.scans;
    const auto found = std::ranges::find(scans, file, &CarScan::file);
    return found == scans.end() ? kNone : *found;
}

const ScanMesh* meshOf(const Desk& desk, const std::string& file) {
    const ScanMeshes& meshes = desk.document.job().scan_meshes;
    const auto found = meshes.find(file);
    return found == meshes.end() ? nullptr : found->second.get();
}

PlacedScan placed(const Desk& desk, const std::string& file) {
    return placedScan(scanOf(desk, file), meshOf(desk, file));
}

void editScan(Desk& desk, const std::string& file, const QString& words,
              const std::function<void(CarScan&)>& change, const QByteArray& key = {}) {
    desk.document.edit(
        words,
        [&](Job& job) {
            for (CarScan& scan : job.car.scans)
                if (scan.file == file) change(scan);
        },
        key);
}

/// What is in the file, or why it is not there.
QString meshWords(const Desk& desk, const std::string& file) {
    const ScanMesh* mesh = meshOf(desk, file);
    if (!mesh) {
        const QString why = desk.scans.whyNot(file);
        return why.isEmpty() ? QObject::tr("Being read.") : why;
    }
    const auto counted = [](std::size_t count, const QString& one, const QString& many) {
        return count == 1 ? one : many.arg(count);
    };
    QString words =
        text(formatWords(mesh->format)) + QStringLiteral(", ") +
        counted(mesh->tree->mesh().triangles.size(), QObject::tr("1 triangle"), QObject::tr("%1 triangles"));
    if (mesh->dropped > 0) words += QObject::tr("; %1 without an area left out").arg(mesh->dropped);
    if (mesh->edges.open > 0)
        words += counted(mesh->edges.open, QObject::tr("; 1 open edge"), QObject::tr("; %1 open edges"));
    if (mesh->edges.shared_by_more > 0)
        words += QObject::tr("; %1 edges shared by more than two triangles").arg(mesh->edges.shared_by_more);
    return words + QLatin1Char('.');
}

QString sizeOf(const Desk& desk, const std::string& file) {
    const ScanMesh* mesh = meshOf(desk, file);
    if (!mesh) return {};
    const PlacedScan now = placed(desk, file);
    if (now.unit == ScanUnit::guess || mmIn(now.unit) <= 0) return {};
    const Vec3 size = mesh->tree->bounds().sizes() * mmIn(now.unit);
    QStringList sides;
    for (int i = 0; i < 3; ++i)
        sides << measureText(size[i], Dimension::length,
                             desk.units() == UnitsShown::in ? UnitsShown::in : UnitsShown::mm);
    QString words = sides.join(QStringLiteral(" × "));
    if (now.unit_guessed)
        words = QObject::tr(
                    "Its unit is guessed from its size: %1 makes %2. Say another if that is no size for this "
                    "car.")
                    .arg(text(scanUnitWord(now.unit)), words);
    else
        words = QObject::tr("In %1 it is %2.").arg(text(scanUnitWord(now.unit)), words);
    return words;
}

std::vector<ChoiceField::Option> unitOptions() {
    std::vector<ChoiceField::Option> options{{"guess", QObject::tr("guessed from its size")}};
    for (const ScanUnit unit : {ScanUnit::mm, ScanUnit::cm, ScanUnit::m, ScanUnit::in, ScanUnit::ft})
        options.push_back({std::string(scanUnitWord(unit)), text(scanUnitWord(unit))});
    return options;
}

ScanUnit unitCalled(const std::string& word) {
    for (const ScanUnit unit : {ScanUnit::mm, ScanUnit::cm, ScanUnit::m, ScanUnit::in, ScanUnit::ft})
        if (scanUnitWord(unit) == word) return unit;
    return ScanUnit::guess;
}

/// How well the pairs agree, and what is odd about them.
QString fitWords(const Desk& desk, const std::string& file) {
    const CarScan& scan = scanOf(desk, file);
    if (scan.pairs.empty())
        return QObject::tr(
            "It stands in the car's own axes, as its numbers say. To place it, add three pairs or more: each "
            "a "
            "place on the scan and the same place on the car, well apart and not in one line.");
    const PlacedScan now = placed(desk, file);
    if (!now.fit) {
        QString why = text(now.problem);
        const QString head = QObject::tr("scan '%1'").arg(text(file));
        if (why.startsWith(head)) why = why.mid(head.size());
        while (why.startsWith(QLatin1Char(':')) || why.startsWith(QLatin1Char(' '))) why = why.mid(1);
        return QObject::tr("Not placed yet: %1.").arg(why);
    }
    QString words = QObject::tr("%1 pairs agree to %2 (root mean square).")
                        .arg(now.fit->residuals_mm.size())
                        .arg(desk.length(now.fit->rms_mm));
    if (std::abs(std::log(now.fit->size_ratio)) > 0.02)
        words += QObject::tr(
                     " The places are %1 times as far apart on the car as on the scan: a wrong unit, or a "
                     "wrong pair.")
                     .arg(text(fixed(now.fit->size_ratio, 2)));
    return words;
}

QString pairWords(const Desk& desk, const std::string& file, std::size_t pair) {
    const PlacedScan now = placed(desk, file);
    if (!now.fit || pair >= now.fit->residuals_mm.size()) return {};
    return QObject::tr("off by %1").arg(desk.length(now.fit->residuals_mm[pair]));
}

void pairRows(Desk& desk, Form& form, const std::string& file, std::size_t i) {
    const QString name = QObject::tr("Pair %1").arg(i + 1);
    const auto pair = [&desk, file, i] {
        const auto& pairs = scanOf(desk, file).pairs;
        return i < pairs.size() ? pairs[i] : PickedPair{};
    };
    const auto edit = [&desk, file, i, name](const std::function<void(PickedPair&)>& change,
                                             const QByteArray& key) {
        editScan(
            desk, file, name + QObject::tr(" of a scan"),
            [&](CarScan& scan) {
                if (i < scan.pairs.size()) change(scan.pairs[i]);
            },
            key);
    };
    form.within(name);
    form.facts(name, [&desk, file, i, name, pair] {
        return std::vector<FactLine>{
            {name, pairWords(desk, file, i), {}, [&desk, pair] { emit desk.flyTo(pair().car); }}};
    });
    form.place(
        QObject::tr("On the car"), [pair] { return pair().car; },
        [edit](const Vec3& to, const QByteArray& key) { edit([&](PickedPair& p) { p.car = to; }, key); });
    form.direction(
        QObject::tr("In the scan"), [pair] { return pair().scan; },
        [edit](const Vec3& to, const QByteArray& key) { edit([&](PickedPair& p) { p.scan = to; }, key); });
    form.actions({{QObject::tr("Delete pair"),
                   [&desk, file, i] {
                       editScan(desk, file, QObject::tr("Delete pair %1 of a scan").arg(i + 1),
                                [&](CarScan& scan) {
                                    if (i < scan.pairs.size())
                                        scan.pairs.erase(scan.pairs.begin() + std::ptrdiff_t(i));
                                });
                   },
                   {}}});
}

void boxRows(Desk& desk, Form& form, const std::string& file) {
    form.tick(
        QObject::tr("Keep only what lies in a box"),
        [&desk, file] { return scanOf(desk, file).box.has_value(); },
        [&desk, file](bool on) {
            const PlacedScan now = placed(desk, file);
            const ScanMesh* mesh = meshOf(desk, file);
            editScan(
                desk, file, on ? QObject::tr("Box of a scan") : QObject::tr("Scan without a box"),
                [&](CarScan& scan) {
                    scan.box.reset();
                    if (!on) return;
                    Box whole(Vec3(-2000, -1000, -500), Vec3(2500, 1000, 1500));
                    if (mesh) {
                        whole = Box();
                        const Box& own = mesh->tree->bounds();
                        for (int k = 0; k < 8; ++k)
                            whole.extend(now.placement.toCar(own.corner(static_cast<Box::CornerType>(k))));
                    }
                    const auto outward = [](double mm) { return mm < 0 ? std::floor(mm) : std::ceil(mm); };
                    scan.box = ScanBox{whole.min().unaryExpr(outward), whole.max().unaryExpr(outward)};
                });
        });
    if (!scanOf(desk, file).box) return;
    form.within(QObject::tr("Box"));
    for (const bool high : {false, true}) {
        form.place(
            high ? QObject::tr("To") : QObject::tr("From"),
            [&desk, file, high] {
                const auto& box = scanOf(desk, file).box.value_or(ScanBox{});
                return high ? box.high : box.low;
            },
            [&desk, file, high](const Vec3& to, const QByteArray& key) {
                editScan(
                    desk, file, QObject::tr("Box of a scan"),
                    [&](CarScan& scan) {
                        if (scan.box) (high ? scan.box->high : scan.box->low) = to;
                    },
                    key);
            });
    }
}

void cutRows(Desk& desk, Form& form, const std::string& file, std::size_t i) {
    const QString name = QObject::tr("Cut %1").arg(i + 1);
    const auto cut = [&desk, file, i] {
        const auto& cuts = scanOf(desk, file).cuts;
        return i < cuts.size() ? cuts[i] : ScanCut{};
    };
    const auto edit = [&desk, file, i, name](const std::function<void(ScanCut&)>& change,
                                             const QByteArray& key) {
        editScan(
            desk, file, name + QObject::tr(" of a scan"),
            [&](CarScan& scan) {
                if (i < scan.cuts.size()) change(scan.cuts[i]);
            },
            key);
    };
    form.caption(name);
    form.within(name);
    form.place(
        QObject::tr("Through"), [cut] { return cut().at; },
        [edit](const Vec3& to, const QByteArray& key) { edit([&](ScanCut& c) { c.at = to; }, key); });
    form.direction(
        QObject::tr("Keep toward"), [cut] { return cut().keep; },
        [edit](const Vec3& to, const QByteArray& key) {
            if (to.norm() > 0) edit([&](ScanCut& c) { c.keep = to; }, key);
        });
    form.actions({{QObject::tr("Delete cut"),
                   [&desk, file, i] {
                       editScan(desk, file, QObject::tr("Delete cut %1 of a scan").arg(i + 1),
                                [&](CarScan& scan) {
                                    if (i < scan.cuts.size())
                                        scan.cuts.erase(scan.cuts.begin() + std::ptrdiff_t(i));
                                });
                   },
                   {}}});
}

}  // namespace

QByteArray scanShape(const Desk& desk, const std::string& file) {
    const CarScan& scan = scanOf(desk, file);
    return QByteArray::number(qulonglong(scan.pairs.size())) + (scan.box ? " b " : " ") +
           QByteArray::number(qulonglong(scan.cuts.size())) + (meshOf(desk, file) ? " m" : "") +
           (desk.scans.whyNot(file).isEmpty() ? "" : " f");
}

Form* scanForm(Desk& desk, const std::string& file) {
    auto* form = new Form(desk, QObject::tr("Scan %1").arg(text(file)));
    form->title([file] { return text(file); }, [] { return QObject::tr("scan of the car"); });
    form->note([&desk, file] { return meshWords(desk, file); });
    if (!meshOf(desk, file) && !desk.scans.whyNot(file).isEmpty())
        form->actions({{QObject::tr("Read again"), [&desk, file] { desk.scans.readAgain(file); }, {}}});
    form->choice(
        QObject::tr("Its numbers are"), unitOptions,
        [&desk, file] { return std::string(scanUnitWord(scanOf(desk, file).unit)); },
        [&desk, file](const std::string& to) {
            editScan(desk, file, QObject::tr("Unit of a scan"),
                     [&](CarScan& scan) { scan.unit = unitCalled(to); });
        });
    form->note([&desk, file] { return sizeOf(desk, file); });
    form->text(
        QObject::tr("Taken with"), [&desk, file] { return text(scanOf(desk, file).how); },
        [&desk, file](const QString& to) {
            editScan(desk, file, QObject::tr("How a scan was taken"),
                     [&](CarScan& scan) { scan.how = to.toStdString(); });
            return QString();
        });
    form->section(QObject::tr("Where it belongs"));
    form->note([&desk, file] { return fitWords(desk, file); });
    form->actions({{QObject::tr("Pick a pair"), [&desk, file] { pickPair(desk, file); },
                    QObject::tr("Click a place on the scan, then the car point it is")},
                   {QObject::tr("Add pair by figures"),
                    [&desk, file] {
                        editScan(desk, file, QObject::tr("Add a pair"),
                                 [](CarScan& scan) { scan.pairs.push_back({}); });
                    },
                    QObject::tr("A pair to type both places of")}});
    for (std::size_t i = 0; i < scanOf(desk, file).pairs.size(); ++i) pairRows(desk, *form, file, i);
    form->section(QObject::tr("What is kept of it"));
    boxRows(desk, *form, file);
    for (std::size_t i = 0; i < scanOf(desk, file).cuts.size(); ++i) cutRows(desk, *form, file, i);
    form->within({});
    form->actions({{QObject::tr("Add cut"),
                    [&desk, file] {
                        editScan(desk, file, QObject::tr("Add a cut"), [](CarScan& scan) {
                            scan.cuts.push_back({Vec3(0, 0, 900), -Vec3::UnitZ()});
                        });
                    },
                    QObject::tr("A plane; what lies behind it is left out")},
                   {QObject::tr("Delete scan"),
                    [&desk, file] {
                        desk.document.edit(QObject::tr("Delete scan %1").arg(text(file)), [&](Job& job) {
                            std::erase_if(job.car.scans,
                                          [&](const CarScan& scan) { return scan.file == file; });
                        });
                    },
                    QObject::tr("Takes it out of the car's file; the scan's own file stays")}});
    form->finish();
    return form;
}

}  // namespace hoopwright
