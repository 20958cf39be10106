#include "app/window/add_scan.h"

#include <QFileDialog>
#include <QMessageBox>
#include <QPushButton>
#include <algorithm>

#include "app/window/form_help.h"
#include "app/window/style.h"
#include "core/mesh/along_ray.h"
#include "core/mesh/scan_mesh.h"
#include "core/skin/car_skin.h"

namespace fs = std::filesystem;

namespace hoopwright {
namespace {

constexpr double kFarthest_mm = 100'000;

const CarScan* scanOf(const Job& job, const std::string& file) {
    const auto found = std::ranges::find(job.car.scans, file, &CarScan::file);
    return found == job.car.scans.end() ? nullptr : &*found;
}

void askForCarPoint(Desk& desk, const std::string& scan, const Vec3& on_scan) {
    desk.wantSight(QObject::tr("Now click the car point that place is"), [&desk, scan,
                                                                          on_scan](const LineOfSight& sight) {
        const CarPoint* point = desk.document.job().car.point(sight.car_point);
        if (!point) {
            emit desk.say(
                QObject::tr("No car point is there. Click one of the named points; for any other place use "
                            "Add pair by figures."));
            return askForCarPoint(desk, scan, on_scan);
        }
        desk.document.edit(QObject::tr("Add a pair, %1").arg(spoken(point->name)), [&](Job& job) {
            for (CarScan& one : job.car.scans)
                if (one.file == scan) one.pairs.push_back({on_scan, point->at});
        });
        emit desk.say({});
    });
}

}  // namespace

void pickPair(Desk& desk, const std::string& scan) {
    desk.wantSight(QObject::tr("Click a place on the scan"), [&desk, scan](const LineOfSight& sight) {
        const Job& job = desk.document.job();
        const CarScan* one = scanOf(job, scan);
        const auto mesh = job.scan_meshes.find(scan);
        if (!one || mesh == job.scan_meshes.end()) return;
        const MeshPlacement placement = placedScan(*one, mesh->second.get()).placement;
        const PlacedMesh placed(mesh->second->tree, placement, keptOf(*one));
        const auto hit = firstAlong(placed, sight.from, sight.way, kFarthest_mm);
        if (!hit) {
            emit desk.say(QObject::tr("The scan is not under the pointer there."));
            return pickPair(desk, scan);
        }
        emit desk.say({});
        askForCarPoint(desk, scan, placement.toMesh(hit->at));
    });
}

void addScanFile(Desk& desk, const fs::path& file, QWidget* window) {
    if (desk.scans.busy()) {
        emit desk.say(QObject::tr("%1 is still being read.").arg(desk.scans.fileName()));
        return;
    }
    const Expected<std::string> name = desk.scans.nameInCarFolder(file);
    if (name) {
        if (!scanOf(desk.document.job(), *name)) return desk.scans.add(file);
        desk.selection.set({Thing::Kind::car_scan, *name});
        emit desk.say(QObject::tr("%1 is a scan of this car already.").arg(text(*name)));
        return;
    }
    if (desk.document.files().car.empty()) {
        emit desk.say(text(name.reason()));
        return;
    }
    QMessageBox box(window);
    box.setWindowTitle(QObject::tr("Add scan"));
    box.setText(text(name.reason()));
    box.setInformativeText(
        QObject::tr("The car's folder is %1.")
            .arg(QString::fromStdString(desk.document.files().car.parent_path().string())));
    QPushButton* copy = box.addButton(QObject::tr("Copy it there"), QMessageBox::AcceptRole);
    QPushButton* leave = box.addButton(QObject::tr("Add nothing"), QMessageBox::RejectRole);
    copy->setObjectName(QStringLiteral("copy"));
    makePrimary(copy);
    box.setDefaultButton(copy);
    box.setEscapeButton(leave);
    box.exec();
    if (box.clickedButton() == copy) desk.scans.copyAndAdd(file);
}

void addScan(Desk& desk, QWidget* window) {
    const QString folder = QString::fromStdString(desk.document.files().car.parent_path().string());
    const QString file =
        QFileDialog::getOpenFileName(window, QObject::tr("Add a scan of the car"), folder,
                                     QObject::tr("Scans (*.stl *.obj *.ply *.STL *.OBJ *.PLY)"));
    if (!file.isEmpty()) addScanFile(desk, file.toStdString(), window);
}

}  // namespace hoopwright
