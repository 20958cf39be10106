#include "app/window/document.h"

#include <QDate>
#include <algorithm>
#include <utility>

#include "app/window/table_title.h"
#include "core/files/shop_file.h"
#include "core/model/resolve.h"
#include "core/model/shop_book.h"
#include "core/survey/survey.h"
#include "rules/editions.h"

namespace fs = std::filesystem;

namespace hoopwright {
namespace {

/// Calls `visit` with every file name in the cage.
void eachFile(CageLayout& cage, const std::function<void(std::string&)>& visit) {
    for (std::string* one : {&cage.car_file, &cage.stock_file, &cage.dies_file}) visit(*one);
    if (!cage.shop_file.empty()) visit(cage.shop_file);
    for (std::string& one : cage.driver_files) visit(one);
    for (std::string& one : cage.rule_files) visit(one);
    for (PersonsAnswer& one : cage.answers) visit(one.photo);
}

const Driver* savedDriver(const Job& saved, const std::string& file) {
    for (std::size_t i = 0; i < saved.drivers.size() && i < saved.cage.driver_files.size(); ++i) {
        if (saved.cage.driver_files[i] == file) return &saved.drivers[i];
    }
    return nullptr;
}

std::string absoluteIn(const fs::path& folder, const std::string& written) {
    return written.empty() ? written : fs::path(folder / written).lexically_normal().generic_string();
}

std::string today() {
    return QDate::currentDate().toString(Qt::ISODate).toStdString();
}

/// A name beside the cage that no other file has: "mine_car.yaml", "mine_car_2.yaml"; beside
/// "mine.cage.yaml" "mine.car.yaml", "mine_2.car.yaml" ...
fs::path freeFile(const fs::path& cage, const std::string& kind) {
    std::error_code none;
    const std::string name = cage.stem().string();
    const bool by_ending = name.ends_with(".cage");
    for (int n = 1;; ++n) {
        const std::string number = n == 1 ? std::string() : "_" + std::to_string(n);
        const fs::path file =
            cage.parent_path() / (by_ending ? name.substr(0, name.size() - 5) + number + "." + kind + ".yaml"
                                            : name + "_" + kind + number + ".yaml");
        if (!fs::exists(fs::symlink_status(file, none))) return file;
    }
}

/// Reads tables as they are on the disk now; with any problem those that are known stay.
Problems readAnew(const std::vector<std::string>& files, std::map<std::string, RuleTableRef>& known) {
    Problems problems;
    std::map<std::string, RuleTableRef> read;
    for (const std::string& file : files) {
        const RuleTableResult result = readRuleTable(file);
        read[file] = result.table;
        problems.insert(problems.end(), result.problems.begin(), result.problems.end());
    }
    if (!problems.empty()) return problems;
    for (const auto& [file, table] : read) known[file] = table;
    return {};
}

}  // namespace

void makeFilesAbsolute(CageLayout& cage, const fs::path& folder,
                       std::map<std::string, std::string>& spelled) {
    eachFile(cage, [&](std::string& file) {
        const std::string whole = absoluteIn(folder, file);
        if (!file.empty()) spelled[whole] = file;
        file = whole;
    });
}

void makeFilesRelative(CageLayout& cage, const fs::path& folder,
                       const std::map<std::string, std::string>& spelled) {
    eachFile(cage, [&](std::string& file) {
        if (file.empty()) return;
        const auto was = spelled.find(file);
        if (was != spelled.end() && absoluteIn(folder, was->second) == file) {
            file = was->second;
            return;
        }
        const fs::path relative = fs::path(file).lexically_relative(folder);
        if (!relative.empty()) file = relative.generic_string();
    });
}

Document::Document(QObject* parent) : QObject(parent), job_(std::make_shared<const Job>()), saved_(job_) {
    recompute();
    connect(&stack_, &QUndoStack::cleanChanged, this, [this] { emit changed(Change::saved); });
}

Document::~Document() {
    stack_.disconnect(this);
}

QString Document::title() const {
    if (!job_->cage.name.empty()) return QString::fromStdString(job_->cage.name);
    if (!files_.cage.empty()) return QString::fromStdString(files_.cage.stem().string());
    return tr("New job");
}

FileTextRef Document::driverText(const std::string& file) const {
    const auto found = driver_texts_.find(file);
    return found == driver_texts_.end() ? nullptr : found->second;
}

bool Document::dirty() const {
    return recovered_ || !stack_.isClean();
}

Problems Document::open(const fs::path& cage) {
    std::error_code none;
    const fs::path whole = fs::absolute(cage, none).lexically_normal();
    JobResult read = readJob(whole);
    if (!read.job) return read.problems;
    std::map<std::string, std::string> spelled;
    makeFilesAbsolute(read.job->cage, whole.parent_path(), spelled);
    if (Problems problems = readAnew(read.job->cage.rule_files, known_tables_); !problems.empty())
        return problems;
    spelled_ = std::move(spelled);
    read.files.cage = whole;
    return adopt(std::move(*read.job), std::move(read.files));
}

Problems Document::startNew(Job job, JobFiles files) {
    if (Problems problems = readAnew(job.cage.rule_files, known_tables_); !problems.empty()) return problems;
    std::vector<RuleTableRef> tables;
    for (const std::string& file : job.cage.rule_files) tables.push_back(known_tables_.at(file));
    keepEditions(job.cage, tables, today());
    files.cage.clear();
    spelled_.clear();
    return adopt(std::move(job), std::move(files));
}

Problems Document::openRecovered(Job job, JobFiles files) {
    if (Problems problems = readAnew(job.cage.rule_files, known_tables_); !problems.empty()) return problems;
    spelled_.clear();
    adopt(std::move(job), std::move(files));
    recovered_ = true;
    saved_ = std::make_shared<const Job>();
    emit changed(Change::saved);
    return {};
}

Problems Document::adopt(Job job, JobFiles files) {
    files_ = std::move(files);
    job_ = std::make_shared<const Job>(std::move(job));
    saved_ = job_;
    recovered_ = false;
    known_scans_ = job_->scan_meshes;
    driver_texts_.clear();
    for (std::size_t i = 0; i < files_.driver_texts.size() && i < job_->cage.driver_files.size(); ++i) {
        driver_texts_[job_->cage.driver_files[i]] = files_.driver_texts[i];
    }
    // First the cage: an emptied stack says at once that all is saved, and who hears it reads job and cage.
    recompute();
    stack_.clear();
    emit changed(Change::replaced);
    return {};
}

QString Document::edit(const QString& words, const std::function<void(Job&)>& change, const QByteArray& key) {
    auto after = std::make_shared<Job>(*job_);
    change(*after);
    if (after->car != job_->car) {
        LengthStyle style;
        style.unit = after->cage.unit;
        const std::vector<SurveyProblem> problems = settle(after->car, style);
        if (!problems.empty())
            return QString::fromStdString(problems.front().what + " (" + problems.front().remedy + ")");
    }
    if (*after == *job_) return {};
    stack_.push(
        new EditCommand(words, job_, std::move(after), key, [this](JobRef job) { show(std::move(job)); }));
    return {};
}

QByteArray Document::newKey() {
    return "drag " + QByteArray::number(++keys_);
}

JobRef Document::withScans(JobRef job) const {
    ScanMeshes meshes;
    for (const CarScan& scan : job->car.scans)
        if (const auto known = known_scans_.find(scan.file); known != known_scans_.end())
            meshes.insert(*known);
    if (meshes == job->scan_meshes) return job;
    auto with = std::make_shared<Job>(*job);
    with->scan_meshes = std::move(meshes);
    return with;
}

void Document::takeScans(const ScanMeshes& meshes) {
    for (const auto& [file, mesh] : meshes) known_scans_[file] = mesh;
    JobRef with = withScans(job_);
    if (with != job_) show(std::move(with));
}

void Document::show(JobRef job) {
    job_ = withScans(std::move(job));
    recompute();
    emit changed(Change::edited);
}

void Document::recompute() {
    table_problems_ = readTables(job_->cage.rule_files);
    tables_.clear();
    for (const std::string& file : job_->cage.rule_files) {
        if (const auto known = known_tables_.find(file); known != known_tables_.end())
            tables_.push_back(known->second);
    }
    geometry_ = resolve(*job_);
    report_ = check(tables_, *job_, geometry_);
}

Problems Document::readTables(const std::vector<std::string>& files) {
    Problems problems;
    for (const std::string& file : files) {
        if (known_tables_.contains(file)) continue;
        RuleTableResult read = readRuleTable(file);
        if (read.table) {
            known_tables_[file] = read.table;
        } else {
            problems.insert(problems.end(), read.problems.begin(), read.problems.end());
        }
    }
    return problems;
}

Problems Document::useTable(const fs::path& file, bool use) {
    const std::string whole = fs::absolute(file).lexically_normal().generic_string();
    if (use) {
        if (Problems problems = readAnew({whole}, known_tables_); !problems.empty()) return problems;
    }
    const QString name = tableTitle(file);
    edit(use ? tr("Use class table %1").arg(name) : tr("Put class table %1 away").arg(name), [&](Job& job) {
        auto& list = job.cage.rule_files;
        std::erase(list, whole);
        if (!use) return;
        list.push_back(whole);
        // Agreed on from now on, unless the job was agreed on an edition of it before.
        const RuleTableRef table[] = {known_tables_.at(whole)};
        const bool kept = std::ranges::any_of(
            job.cage.frozen, [&](const FrozenTable& one) { return one.table == info(*table[0]).id; });
        if (!kept) keepEditions(job.cage, table, today());
    });
    return {};
}

Problems Document::useShop(const fs::path& file) {
    std::error_code none;
    const fs::path whole = fs::absolute(file, none).lexically_normal();
    if (!fs::exists(whole, none)) {
        ShopBook begun;
        begun.name = whole.stem().string();
        if (const auto problem = saveText(whole, writeShop(begun, nullptr, job_->cage.unit)))
            return {*problem};
    }
    const ReadResult<ShopBook> read = readShop(whole);
    if (!read.value) return read.problems;
    files_.shop = whole;
    files_.shop_text = read.text;
    edit(tr("Use the shop's book %1").arg(QString::fromStdString(read.value->name)), [&](Job& job) {
        job.cage.shop_file = whole.generic_string();
        job.shop = std::make_shared<const ShopBook>(*read.value);
    });
    return {};
}

Problems Document::readTableAnew(const fs::path& file) {
    const std::string whole = fs::absolute(file).lexically_normal().generic_string();
    if (Problems problems = readAnew({whole}, known_tables_); !problems.empty()) return problems;
    recompute();
    emit changed(Change::edited);
    return {};
}

Problems Document::saveAs(const fs::path& cage) {
    const JobFiles before = files_;
    std::error_code none;
    files_.cage = fs::absolute(cage, none).lexically_normal();
    const bool first_time = before.cage.empty();
    if (!first_time && before.cage == files_.cage) return save();
    Problems problems = writeParts();
    if (!problems.empty()) files_ = before;
    return problems;
}

Problems Document::save() {
    return writeParts();
}

Problems Document::writeParts() {
    Problems problems;
    const auto put = [&](const fs::path& file, const std::string& text) {
        if (const auto problem = saveText(file, text)) {
            problems.push_back(*problem);
            return false;
        }
        return true;
    };
    const Job& now = *job_;
    if (files_.car.empty() && !(now.car == Car{})) {  // the job's own, not on the disk yet
        const fs::path file = freeFile(files_.cage, "car");
        const std::string text = writeCar(now.car, files_.car_text, now.cage.unit);
        if (put(file, text)) {
            files_.car = file;
            files_.car_text = readCarText(text, file.string()).text;
        }
    } else if (!(now.car == saved_->car) && !files_.car.empty()) {
        const std::string text = writeCar(now.car, files_.car_text);
        if (put(files_.car, text)) files_.car_text = readCarText(text, files_.car.string()).text;
    }
    for (std::size_t i = 0; i < now.drivers.size() && i < now.cage.driver_files.size(); ++i) {
        const std::string& file = now.cage.driver_files[i];
        if (const Driver* on_disk = savedDriver(*saved_, file); on_disk && *on_disk == now.drivers[i])
            continue;
        const std::string text = writeDriver(now.drivers[i], driver_texts_[file]);
        if (put(file, text)) driver_texts_[file] = readDriverText(text, file).text;
    }
    if (!(now.stock == saved_->stock) && !files_.stock.empty()) {
        const std::string text = writeStock(now.stock, files_.stock_text);
        if (put(files_.stock, text)) files_.stock_text = readStockText(text, files_.stock.string()).text;
    }
    if (!(now.dies == saved_->dies) && !files_.dies.empty()) {
        const std::string text = writeDies(now.dies, files_.dies_text);
        if (put(files_.dies, text)) files_.dies_text = readDiesText(text, files_.dies.string()).text;
    }
    if (now.shop && now.shop != saved_->shop && !files_.shop.empty()) {
        const std::string text = writeShop(*now.shop, files_.shop_text, now.cage.unit);
        if (put(files_.shop, text)) files_.shop_text = readShopText(text, files_.shop.string()).text;
    }
    if (!problems.empty()) return problems;  // the cage last: it never points at something that is not there
    CageLayout cage = now.cage;
    // Steps of undo may be from before the car had a file.
    if (cage.car_file.empty()) cage.car_file = files_.car.generic_string();
    makeFilesRelative(cage, files_.cage.parent_path(), spelled_);
    const std::string text = writeCage(cage, files_.cage_text);
    if (!put(files_.cage, text)) return problems;
    files_.cage_text = readCageText(text, files_.cage.string()).text;
    saved_ = job_;
    const bool was_clean = stack_.isClean();
    recovered_ = false;
    stack_.setClean();
    if (was_clean) emit changed(Change::saved);
    return problems;
}

}  // namespace hoopwright
