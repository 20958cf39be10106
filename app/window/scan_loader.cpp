#include "app/window/scan_loader.h"

#include <algorithm>

#include "app/window/words.h"
#include "core/files/scan_files.h"
#include "core/mesh/scan_mesh.h"

namespace fs = std::filesystem;

namespace hoopwright {
namespace {

constexpr int kTick_ms = 50;

CarScan scanIn(const std::string& file) {
    CarScan scan;
    scan.file = file;
    return scan;
}

/// A name in the folder that nothing has yet.
fs::path freeName(const fs::path& folder, const fs::path& like) {
    std::error_code none;
    fs::path name = folder / like.filename();
    for (int n = 2; fs::exists(name, none); ++n)
        name = folder / (like.stem().string() + "_" + std::to_string(n) + like.extension().string());
    return name;
}

}  // namespace

struct ScanLoader::Outcome {
    ScanMeshRef mesh;
    Problems problems;
    bool stopped = false;
};

ScanLoader::ScanLoader(Document& document) : document_(document) {
    worker_.setMaxThreadCount(1);
    tick_.setInterval(kTick_ms);
    connect(&tick_, &QTimer::timeout, this, &ScanLoader::progressed);
    connect(&document_, &Document::changed, this, [this](Document::Change change) {
        if (change == Document::Change::replaced) {
            ++opened_;
            failed_.clear();
            cancel();
        }
        readMissing();
    });
}

ScanLoader::~ScanLoader() {
    cancel();
    worker_.waitForDone();
}

Expected<std::string> ScanLoader::nameInCarFolder(const fs::path& file) const {
    const fs::path car = document_.files().car;
    if (car.empty()) return Reason{"This job has no car file yet: save it first."};
    std::error_code failed;
    const fs::path folder = fs::weakly_canonical(car.parent_path(), failed);
    const fs::path name = fs::weakly_canonical(file, failed).lexically_relative(folder);
    if (name.empty() || *name.begin() == "..")
        return Reason{
            "A scan lies beside the car's file or in a folder there, so that the two travel together; " +
            file.filename().string() + " does not."};
    return name.generic_string();
}

void ScanLoader::add(const fs::path& file) {
    const Expected<std::string> name = nameInCarFolder(file);
    if (name) start({*name, document_.files().car, {}, true, opened_});
}

void ScanLoader::copyAndAdd(const fs::path& file) {
    const fs::path car = document_.files().car;
    const fs::path copy = freeName(car.parent_path(), file);
    start({copy.filename().generic_string(), car, file, true, opened_});
}

void ScanLoader::readAgain(const std::string& scan) {
    failed_.erase(scan);
    readMissing();
}

void ScanLoader::cancel() {
    stop_ = true;
}

QString ScanLoader::fileName() const {
    return shown(fs::path(work_.scan).filename());
}

QString ScanLoader::whyNot(const std::string& scan) const {
    const auto found = failed_.find(scan);
    return found == failed_.end() ? QString() : found->second;
}

void ScanLoader::readMissing() {
    if (busy_) return;  // the end of what is read asks again
    for (const CarScan& scan : document_.job().car.scans) {
        if (document_.hasScan(scan.file) || failed_.contains(scan.file)) continue;
        return start({scan.file, document_.files().car, {}, false, opened_});
    }
}

void ScanLoader::start(Work work) {
    if (busy_) return;
    busy_ = true;
    stop_ = false;
    share_ = 0;
    work_ = work;
    tick_.start();
    emit progressed();
    worker_.start([this, work = std::move(work)] {
        Outcome outcome;
        if (!work.copy_of.empty()) {
            std::error_code failed;
            fs::copy_file(work.copy_of, work.car_file.parent_path() / work.scan, failed);
            if (failed)
                outcome.problems = {{{work.copy_of.string(), 0, 0},
                                     "it could not be copied to " + work.car_file.parent_path().string() +
                                         ": " + failed.message(),
                                     "put it there yourself"}};
        }
        if (outcome.problems.empty()) {
            Car car;
            car.scans.push_back(scanIn(work.scan));
            ScanLoad load = loadScans(car, work.car_file, {}, [this](double done) {
                share_ = done;
                return !stop_;
            });
            outcome.problems = std::move(load.problems);
            outcome.stopped = load.stopped || stop_;
            if (!load.meshes.empty() && !outcome.stopped) {
                outcome.mesh = load.meshes.begin()->second;
                outcome.mesh->shown();  // here, where nobody waits for it
            }
        }
        QMetaObject::invokeMethod(
            this, [this, work, outcome] { finish(work, outcome); }, Qt::QueuedConnection);
    });
}

void ScanLoader::finish(const Work& work, const Outcome& outcome) {
    busy_ = false;
    tick_.stop();
    const bool good = outcome.mesh && !outcome.stopped && work.opened == opened_;
    if (!good && !work.copy_of.empty()) {
        std::error_code none;  // our own copy; the person's file stays where it is
        fs::remove(work.car_file.parent_path() / work.scan, none);
    }
    emit progressed();
    if (work.opened != opened_) return readMissing();
    const QString name = shown(fs::path(work.scan).filename());
    if (good) {
        document_.takeScans({{work.scan, outcome.mesh}});
        if (work.adds) {
            document_.edit(tr("Add scan %1").arg(name),
                           [&](Job& job) { job.car.scans.push_back(scanIn(work.scan)); });
            emit added(work.scan);
        }
    } else if (outcome.stopped) {
        if (!work.adds) failed_[work.scan] = tr("It was not read: you stopped it.");
        emit stopped(name);
    } else {
        if (!work.adds) failed_[work.scan] = QString::fromStdString(outcome.problems.front().text());
        emit refused(name, outcome.problems, work.adds);
    }
    readMissing();
}

}  // namespace hoopwright
