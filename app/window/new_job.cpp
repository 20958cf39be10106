#include "app/window/new_job.h"

#include <unistd.h>

#include <QCheckBox>
#include <QComboBox>
#include <QDialogButtonBox>
#include <QFileDialog>
#include <QFormLayout>
#include <QHBoxLayout>
#include <QLabel>
#include <QLineEdit>
#include <QListWidget>
#include <QPushButton>
#include <QVBoxLayout>

#include "app/sheets/measuring_sheet.h"
#include "app/window/app_paths.h"
#include "app/window/keep_car.h"
#include "app/window/style.h"
#include "app/window/table_title.h"
#include "core/files/shop_file.h"
#include "core/model/shop_book.h"

namespace fs = std::filesystem;

namespace hoopwright {
namespace {

/// Keys of the car's choice that are no file names.
const QString kNewCar = QStringLiteral("new:");
const QString kKept = QStringLiteral("kept:");
QString keptKey(const std::string& name) {
    return kKept + QString::fromStdString(name);
}

/// A car file that a person may write to: a job can work on it, or on a copy.
bool isOwnFile(const QString& car) {
    if (car.isEmpty() || car == kNewCar || car.startsWith(kKept)) return false;
    return ::access(fs::path(car.toStdString()).parent_path().c_str(), W_OK) == 0;
}

/// Scans lie beside the car's file, and do not come along with a copy of it.
bool hasScans(const QString& car) {
    const ReadResult<Car> read = readCar(car.toStdString());
    return read.value && !read.value->scans.empty();
}

/// Set once a person has chosen: nothing is chosen for them from then on.
constexpr const char* kByHand = "by_hand";

/// A choice of files of one kind, with "Another file" at its end.
QComboBox* fileChoice(const QString& name, const std::vector<fs::path>& files, QWidget* parent) {
    auto* box = new QComboBox(parent);
    box->setAccessibleName(name);
    const std::vector<QString> names = namesApart(files, nameInFile);
    for (std::size_t i = 0; i < files.size(); ++i)
        box->addItem(names[i], QString::fromStdString(files[i].string()));
    box->addItem(QObject::tr("Another file ..."));
    QObject::connect(box, &QComboBox::activated, box, [box, name](int index) {
        box->setProperty(kByHand, true);
        if (!box->itemData(index).isNull()) return;
        const QString file = QFileDialog::getOpenFileName(box, name, {}, QStringLiteral("YAML (*.yaml)"));
        if (file.isEmpty()) {
            box->setCurrentIndex(0);
            return;
        }
        box->insertItem(0, nameInFile(file.toStdString()), file);
        box->setItemData(0, file, Qt::ToolTipRole);
        box->setCurrentIndex(0);
    });
    return box;
}

/// A click on the words of a row ticks it, as one on its box does.
void tickByWords(QListWidget* list) {
    const auto turned =
        std::make_shared<QListWidgetItem*>(nullptr);  // shared by the three that hear of a click
    QObject::connect(list, &QListWidget::itemPressed, list, [turned] { *turned = nullptr; });
    QObject::connect(list, &QListWidget::itemChanged, list,
                     [turned](QListWidgetItem* item) { *turned = item; });
    QObject::connect(list, &QListWidget::itemClicked, list, [turned](QListWidgetItem* item) {
        if (*turned != item)
            item->setCheckState(item->checkState() == Qt::Checked ? Qt::Unchecked : Qt::Checked);
    });
}

QListWidget* fileTicks(const QString& name, const std::vector<fs::path>& files,
                       QString (*name_of)(const fs::path&), QWidget* parent) {
    auto* list = new QListWidget(parent);
    list->setAccessibleName(name);
    list->setMaximumHeight(176);
    list->setHorizontalScrollBarPolicy(Qt::ScrollBarAlwaysOff);
    list->setTextElideMode(Qt::ElideRight);
    const std::vector<QString> names = namesApart(files, name_of);
    for (std::size_t i = 0; i < files.size(); ++i) {
        auto* item = new QListWidgetItem(names[i], list);
        item->setToolTip(names[i]);
        item->setData(Qt::UserRole, QString::fromStdString(files[i].string()));
        item->setFlags(Qt::ItemIsEnabled | Qt::ItemIsUserCheckable | Qt::ItemIsSelectable);
        item->setCheckState(Qt::Unchecked);
    }
    tickByWords(list);
    return list;
}

std::vector<fs::path> ticked(const QListWidget* list) {
    std::vector<fs::path> files;
    for (int i = 0; i < list->count(); ++i) {
        if (list->item(i)->checkState() == Qt::Checked)
            files.emplace_back(list->item(i)->data(Qt::UserRole).toString().toStdString());
    }
    return files;
}

enum class Shelf { tube, dies, shop };

/// Racks of tube, dies and shops' books stand in one folder and are told apart by their names.
std::vector<fs::path> stockFiles(Shelf wanted) {
    std::vector<fs::path> files;
    for (const fs::path& file : dataFiles("stock")) {
        const std::string name = file.stem().string();
        const Shelf shelf = name.starts_with("shop")   ? Shelf::shop
                            : name.starts_with("dies") ? Shelf::dies
                                                       : Shelf::tube;
        if (shelf == wanted) files.push_back(file);
    }
    return files;
}

/// Takes the first file that is written in that unit.
void chooseInUnit(QComboBox* box, LengthUnit unit, LengthUnit (*unit_of)(const fs::path&)) {
    if (box->property(kByHand).toBool()) return;
    for (int i = 0; i < box->count(); ++i) {
        const QString file = box->itemData(i).toString();
        if (file.isEmpty() || unit_of(file.toStdString()) != unit) continue;
        return box->setCurrentIndex(i);
    }
}

template <class T>
std::optional<T> takeRead(ReadResult<T> read, FileTextRef& text, Problems& problems) {
    problems.insert(problems.end(), read.problems.begin(), read.problems.end());
    text = read.text;
    return std::move(read.value);
}

}  // namespace

Problems startNewJob(Document& document, const NewJobChoice& choice) {
    Problems problems;
    Job job;
    JobFiles files;
    const auto whole = [](const fs::path& file) {
        return file.empty() ? std::string() : fs::absolute(file).lexically_normal().generic_string();
    };
    std::optional<Car> car;
    if (choice.own_car && choice.car.empty()) {
        car.emplace();
        car->name = QObject::tr("New car").toStdString();
        car->body = choice.body;
        car->frame = choice.frame;
    } else {
        car = takeRead(readCar(choice.car), files.car_text, problems);
    }
    const auto stock = takeRead(readStock(choice.stock), files.stock_text, problems);
    const auto dies = takeRead(readDies(choice.dies), files.dies_text, problems);
    if (!choice.shop.empty()) {
        if (auto book = takeRead(readShop(choice.shop), files.shop_text, problems))
            job.shop = std::make_shared<const ShopBook>(std::move(*book));
    }
    for (const fs::path& file : choice.drivers) {
        FileTextRef text;
        if (auto driver = takeRead(readDriver(file), text, problems)) job.drivers.push_back(*driver);
        files.driver_texts.push_back(text);
        job.cage.driver_files.push_back(whole(file));
    }
    if (!problems.empty() || !car || !stock || !dies) return problems;
    job.car = *car;
    job.stock = *stock;
    job.dies = *dies;
    job.cage.name = choice.name.toStdString();
    if (!choice.own_car) job.cage.car_file = whole(choice.car);
    job.cage.stock_file = whole(choice.stock);
    job.cage.dies_file = whole(choice.dies);
    job.cage.shop_file = whole(choice.shop);
    job.cage.unit = unitOf(files.car_text ? files.car_text : files.stock_text);
    if (job.cage.unit == LengthUnit::in)
        job.cage.node_reach_mm = 50.8;  // two inches, where others have 50 mm
    for (const fs::path& file : choice.rules) job.cage.rule_files.push_back(whole(file));
    files.car = job.cage.car_file;
    files.stock = job.cage.stock_file;
    files.dies = job.cage.dies_file;
    files.shop = job.cage.shop_file;
    return document.startNew(std::move(job), std::move(files));
}

NewJob::NewJob(const fs::path& kept, QWidget* parent)
    : QDialog(parent),
      name_(new QLineEdit(tr("New cage"), this)),
      copy_(new QCheckBox(tr("A copy of the car for this job"), this)),
      lessons_(new QLabel(this)),
      kinds_(new QWidget(this)),
      kept_(libraryCars(kept)) {
    setWindowTitle(tr("New job"));
    setMinimumWidth(640);
    auto* column = new QVBoxLayout(this);
    column->setContentsMargins(3 * kGrid, 3 * kGrid, 3 * kGrid, 2 * kGrid);
    column->setSpacing(2 * kGrid);
    auto* head = new QLabel(tr("A new cage over which car?"), this);
    head->setFont(typeFont(TypeSize::head, TypeWeight::strong));
    column->addWidget(head);
    auto* form = new QFormLayout;
    form->setSpacing(kGrid);
    form->setLabelAlignment(Qt::AlignLeft);
    car_ = fileChoice(tr("Car"), dataFiles("cars"), this);
    std::vector<fs::path> kept_files;
    for (const LibraryCar& one : kept_) kept_files.push_back(one.file);
    const std::vector<QString> kept_names = namesApart(kept_files, nameInFile);
    for (std::size_t i = 0; i < kept_.size(); ++i) {
        if (kept_[i].car) car_->addItem(tr("kept: %1").arg(kept_names[i]), keptKey(kept_[i].name));
    }
    car_->addItem(tr("A car still to be measured"), kNewCar);
    QStringList bodies, frames;
    for (int i = 0; i <= int(Car::Body::van); ++i) bodies << bodyTitle(Car::Body(i));
    for (int i = 0; i <= int(Car::Frame::perimeter); ++i) frames << frameTitle(Car::Frame(i));
    body_ = new QComboBox(kinds_);
    body_->addItems(bodies);
    body_->setAccessibleName(tr("Body"));
    frame_ = new QComboBox(kinds_);
    frame_->addItems(frames);
    frame_->setAccessibleName(tr("Frame"));
    auto* both = new QHBoxLayout(kinds_);
    both->setContentsMargins(0, 0, 0, 0);
    both->addWidget(body_, 1);
    both->addWidget(frame_, 1);
    lessons_->setWordWrap(true);
    lessons_->setProperty("role", "soft");
    copy_->setChecked(true);
    connect(copy_, &QCheckBox::toggled, this, &NewJob::refresh);
    connect(car_, &QComboBox::currentIndexChanged, this, [this] {
        followCar();
        const QString car = car_->currentData().toString();
        const bool own = isOwnFile(car), scans = own && hasScans(car);
        copy_->setVisible(own);
        copy_->setEnabled(!scans);
        copy_->setChecked(!scans);
        refresh();
    });
    stock_ = fileChoice(tr("Tube stock"), stockFiles(Shelf::tube), this);
    dies_ = fileChoice(tr("Bending dies"), stockFiles(Shelf::dies), this);
    shop_ = fileChoice(tr("Shop's book"), stockFiles(Shelf::shop), this);
    shop_->insertItem(shop_->count() - 1, tr("None yet"), QStringLiteral(""));
    drivers_ = fileTicks(tr("Drivers"), dataFiles("drivers"), nameInFile, this);
    rules_ = fileTicks(tr("Class tables"), dataFiles("rules"), tableTitle, this);
    name_->setAccessibleName(tr("Name of the job"));
    form->addRow(tr("Name"), name_);
    form->addRow(tr("Car"), car_);
    form->addRow(QString(), kinds_);
    form->addRow(QString(), copy_);
    form->addRow(QString(), lessons_);
    form->addRow(tr("Tube stock"), stock_);
    form->addRow(tr("Bending dies"), dies_);
    form->addRow(tr("Shop's book"), shop_);
    form->addRow(tr("Drivers"), drivers_);
    form->addRow(tr("Class tables"), rules_);
    starter_ = new QCheckBox(tr("Choose a starter next"), this);
    starter_->setToolTip(tr("A whole cage laid out in this car, around its drivers"));
    starter_->setChecked(true);
    connect(drivers_, &QListWidget::itemChanged, this, &NewJob::refresh);
    form->addRow(tr("Cage"), starter_);
    column->addLayout(form);
    auto* buttons = new QDialogButtonBox(this);
    buttons->addButton(tr("Cancel"), QDialogButtonBox::RejectRole);
    auto* begin = buttons->addButton(tr("Begin"), QDialogButtonBox::AcceptRole);
    makePrimary(begin);
    begin->setDefault(true);
    connect(buttons, &QDialogButtonBox::accepted, this, &QDialog::accept);
    connect(buttons, &QDialogButtonBox::rejected, this, &QDialog::reject);
    column->addWidget(buttons);
    emit car_->currentIndexChanged(car_->currentIndex());
}

void NewJob::followCar() {
    const QString car = car_->currentData().toString();
    std::optional<LengthUnit> unit;
    for (const LibraryCar& one : kept_)
        if (car == keptKey(one.name)) unit = unitOf(readCar(one.file).text);
    if (!unit && !car.isEmpty() && car != kNewCar) unit = unitOf(readCar(car.toStdString()).text);
    if (!unit) return;
    chooseInUnit(stock_, *unit, [](const fs::path& file) { return unitOf(readStock(file).text); });
    chooseInUnit(dies_, *unit, [](const fs::path& file) { return unitOf(readDies(file).text); });
    chooseInUnit(shop_, *unit, [](const fs::path& file) { return unitOf(readShop(file).text); });
}

QString NewJob::wordsOfCar() const {
    const QString key = car_->currentData().toString();
    if (key.isEmpty() || key == kNewCar) return {};
    for (const LibraryCar& one : kept_)
        if (one.car && key == keptKey(one.name))
            return lessonsOfCar(*one.car) + QLatin1Char('\n') + tr("The job gets a copy of its own.");
    const QString file = QString::fromStdString(fs::path(key.toStdString()).filename().string());
    if (!isOwnFile(key)) return tr("The job gets a copy of its own.");
    if (copy_->isChecked()) return tr("What is changed of the car in this job leaves %1 as it is.").arg(file);
    const QString shared =
        tr("The job works on %1 itself: what is changed of the car is changed for every job over it.")
            .arg(file);
    return copy_->isEnabled() ? shared : tr("Its scans lie beside it.") + QLatin1Char(' ') + shared;
}

void NewJob::refresh() {
    const QString key = car_->currentData().toString();
    kinds_->setVisible(key == kNewCar);
    const QString words = wordsOfCar();
    lessons_->setText(words);
    lessons_->setVisible(!words.isEmpty());
    const bool measured = key != kNewCar, seated = !ticked(drivers_).empty();
    starter_->setEnabled(measured && seated);
    starter_->setText(!measured ? tr("Choose a starter once the car is measured")
                      : !seated ? tr("Choose a starter next: tick a driver first")
                                : tr("Choose a starter next"));
}

NewJobChoice NewJob::choice() const {
    NewJobChoice choice;
    choice.name = name_->text().trimmed();
    const QString car = car_->currentData().toString();
    choice.car = car.toStdString();
    for (const LibraryCar& one : kept_) {
        if (car != keptKey(one.name)) continue;
        choice.car = one.file;
        choice.own_car = true;
    }
    // A car of the program's own, installed where nobody may write, is always copied.
    if (!choice.own_car && !car.isEmpty()) choice.own_car = !isOwnFile(car) || copy_->isChecked();
    if (car == kNewCar) {
        choice.car.clear();
        choice.own_car = true;
        choice.body = Car::Body(body_->currentIndex());
        choice.frame = Car::Frame(frame_->currentIndex());
    }
    choice.stock = stock_->currentData().toString().toStdString();
    choice.dies = dies_->currentData().toString().toStdString();
    choice.shop = shop_->currentData().toString().toStdString();
    choice.drivers = ticked(drivers_);
    choice.rules = ticked(rules_);
    choice.from_starter = starter_->isEnabled() && starter_->isChecked();
    return choice;
}

}  // namespace hoopwright
