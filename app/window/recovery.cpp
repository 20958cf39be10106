#include "app/window/recovery.h"

#include <QCoreApplication>
#include <QDir>
#include <QFile>
#include <QJsonArray>
#include <QJsonDocument>
#include <QJsonObject>
#include <QLockFile>
#include <QStandardPaths>

#include "app/window/words.h"
#include "core/files/shop_file.h"

namespace hoopwright {
namespace {

constexpr int kWait_ms = 1000;
const char* const kManifest = "job.json";
const char* const kLock = "owner";

std::string pathIn(const QString& folder, const QString& name) {
    return (folder + QLatin1Char('/') + name).toStdString();
}

std::string contentsOf(const QString& file) {
    QFile in(file);
    return in.open(QIODevice::ReadOnly) ? in.readAll().toStdString() : std::string();
}

template <class T>
std::optional<T> take(ReadResult<T> read, FileTextRef& text, Problems& problems) {
    problems.insert(problems.end(), read.problems.begin(), read.problems.end());
    text = read.text;
    return std::move(read.value);
}

}  // namespace

Recovery::Recovery(Document& document, QString root, QObject* parent)
    : QObject(parent), document_(document), root_(std::move(root)) {
    wait_.setSingleShot(true);
    wait_.setInterval(kWait_ms);
    connect(&wait_, &QTimer::timeout, this, &Recovery::flush);
    connect(&document_, &Document::changed, this, &Recovery::onChange);
}

Recovery::~Recovery() {
    lock_.reset();
    if (!folder_.isEmpty()) QDir(folder_).removeRecursively();
}

QString Recovery::usualRoot() {
    return QStandardPaths::writableLocation(QStandardPaths::AppDataLocation) + QStringLiteral("/unsaved");
}

void Recovery::onChange(Document::Change) {
    if (document_.dirty()) {
        if (!wait_.isActive()) wait_.start();
        return;
    }
    wait_.stop();
    if (!folder_.isEmpty()) QFile::remove(folder_ + QLatin1Char('/') + QLatin1String(kManifest));
}

bool Recovery::makeFolder() {
    if (!folder_.isEmpty()) return true;
    for (int n = 0;; ++n) {
        const QString folder =
            root_ + QStringLiteral("/%1-%2").arg(QCoreApplication::applicationPid()).arg(n);
        if (QDir(folder).exists()) continue;
        if (!QDir().mkpath(folder)) return false;
        auto lock = std::make_unique<QLockFile>(folder + QLatin1Char('/') + QLatin1String(kLock));
        lock->setStaleLockTime(0);
        if (!lock->tryLock()) return false;
        lock_ = std::move(lock);
        folder_ = folder;
        return true;
    }
}

void Recovery::flush() {
    wait_.stop();
    if (!document_.dirty() || !makeFolder()) return;
    const Job& job = document_.job();
    const JobFiles& files = document_.files();
    const auto put = [&](const QString& name, const std::string& text) {
        return !saveText(pathIn(folder_, name), text);
    };
    bool whole = put(QStringLiteral("cage.yaml"), writeCage(job.cage, files.cage_text)) &&
                 put(QStringLiteral("car.yaml"), writeCar(job.car, files.car_text)) &&
                 put(QStringLiteral("stock.yaml"), writeStock(job.stock, files.stock_text)) &&
                 put(QStringLiteral("dies.yaml"), writeDies(job.dies, files.dies_text));
    for (std::size_t i = 0; i < job.drivers.size(); ++i) {
        const bool named = i < job.cage.driver_files.size();
        const FileTextRef was = named ? document_.driverText(job.cage.driver_files[i]) : nullptr;
        whole = whole && put(QStringLiteral("driver_%1.yaml").arg(i), writeDriver(job.drivers[i], was));
    }
    if (job.shop) whole = whole && put(QStringLiteral("shop.yaml"), writeShop(*job.shop, files.shop_text));
    QJsonObject manifest{{QStringLiteral("title"), document_.title()},
                         {QStringLiteral("cage"), shown(files.cage)},
                         {QStringLiteral("car"), shown(files.car)},
                         {QStringLiteral("stock"), shown(files.stock)},
                         {QStringLiteral("dies"), shown(files.dies)},
                         {QStringLiteral("shop"), job.shop ? shown(files.shop) : QString()},
                         {QStringLiteral("drivers"), int(job.drivers.size())},
                         {QStringLiteral("when"), QDateTime::currentDateTime().toString(Qt::ISODate)}};
    // The manifest last: a copy without one is not whole and is never offered.
    if (whole) put(QLatin1String(kManifest), QJsonDocument(manifest).toJson().toStdString());
}

std::vector<LostWork> Recovery::find(const QString& root) {
    std::vector<LostWork> found;
    for (const QString& name : QDir(root).entryList(QDir::Dirs | QDir::NoDotAndDotDot, QDir::Name)) {
        LostWork lost;
        lost.folder = root + QLatin1Char('/') + name;
        lost.lock = std::make_shared<QLockFile>(lost.folder + QLatin1Char('/') + QLatin1String(kLock));
        lost.lock->setStaleLockTime(0);  // only a dead owner's lock may be taken, however old
        if (!lost.lock->tryLock()) continue;
        const QJsonDocument manifest = QJsonDocument::fromJson(
            QByteArray::fromStdString(contentsOf(lost.folder + QLatin1Char('/') + QLatin1String(kManifest))));
        if (!manifest.isObject()) {
            discard(lost);
            continue;
        }
        lost.title = manifest[QStringLiteral("title")].toString();
        lost.cage_file = manifest[QStringLiteral("cage")].toString();
        lost.when = QDateTime::fromString(manifest[QStringLiteral("when")].toString(), Qt::ISODate);
        found.push_back(std::move(lost));
    }
    return found;
}

Problems Recovery::restore(const LostWork& lost) {
    const QString at = lost.folder + QLatin1Char('/');
    const QJsonDocument manifest =
        QJsonDocument::fromJson(QByteArray::fromStdString(contentsOf(at + QLatin1String(kManifest))));
    Problems problems;
    JobFiles files;
    const auto copy = [&](const QString& name) { return contentsOf(at + name); };
    const auto cage =
        take(readCageText(copy(QStringLiteral("cage.yaml")), "cage.yaml"), files.cage_text, problems);
    const auto car =
        take(readCarText(copy(QStringLiteral("car.yaml")), "car.yaml"), files.car_text, problems);
    const auto stock =
        take(readStockText(copy(QStringLiteral("stock.yaml")), "stock.yaml"), files.stock_text, problems);
    const auto dies =
        take(readDiesText(copy(QStringLiteral("dies.yaml")), "dies.yaml"), files.dies_text, problems);
    std::vector<Driver> drivers;
    for (int i = 0; i < manifest[QStringLiteral("drivers")].toInt(); ++i) {
        FileTextRef text;
        const QString name = QStringLiteral("driver_%1.yaml").arg(i);
        if (auto driver = take(readDriverText(copy(name), name.toStdString()), text, problems))
            drivers.push_back(*driver);
        files.driver_texts.push_back(text);
    }
    if (!problems.empty() || !cage || !car || !stock || !dies) return problems;
    files.cage = manifest[QStringLiteral("cage")].toString().toStdString();
    files.car = manifest[QStringLiteral("car")].toString().toStdString();
    files.stock = manifest[QStringLiteral("stock")].toString().toStdString();
    files.dies = manifest[QStringLiteral("dies")].toString().toStdString();
    Job job{*cage, *car, drivers, *stock, *dies, {}};
    files.shop = manifest[QStringLiteral("shop")].toString().toStdString();
    if (!files.shop.empty()) {
        if (const auto shop =
                take(readShopText(copy(QStringLiteral("shop.yaml")), "shop.yaml"), files.shop_text, problems))
            job.shop = std::make_shared<const ShopBook>(*shop);
        if (!problems.empty()) return problems;
    }
    if (Problems wrong = document_.openRecovered(std::move(job), files); !wrong.empty()) return wrong;
    flush();  // ours first, then the old one goes
    discard(lost);
    return {};
}

void Recovery::discard(const LostWork& lost) {
    if (lost.lock) lost.lock->unlock();
    QDir(lost.folder).removeRecursively();
}

}  // namespace hoopwright
