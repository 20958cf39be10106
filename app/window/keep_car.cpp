#include "app/window/keep_car.h"

#include <QComboBox>
#include <QDialogButtonBox>
#include <QFormLayout>
#include <QLabel>
#include <QLineEdit>
#include <QPushButton>
#include <QVBoxLayout>

#include "app/window/form_help.h"
#include "app/window/style.h"

namespace hoopwright {
namespace {

QVBoxLayout* columnOf(QDialog& dialog, const QString& heading) {
    auto* column = new QVBoxLayout(&dialog);
    column->setContentsMargins(3 * kGrid, 3 * kGrid, 3 * kGrid, 2 * kGrid);
    column->setSpacing(2 * kGrid);
    auto* head = new QLabel(heading, &dialog);
    head->setFont(typeFont(TypeSize::head, TypeWeight::strong));
    column->addWidget(head);
    return column;
}

QPushButton* buttonsOf(QDialog& dialog, QVBoxLayout& column, const QString& does) {
    auto* buttons = new QDialogButtonBox(&dialog);
    buttons->addButton(QObject::tr("Cancel"), QDialogButtonBox::RejectRole);
    auto* main = buttons->addButton(does, QDialogButtonBox::AcceptRole);
    makePrimary(main);
    main->setDefault(true);
    QObject::connect(buttons, &QDialogButtonBox::rejected, &dialog, &QDialog::reject);
    column.addWidget(buttons);
    return main;
}

QComboBox* oneOf(QWidget* parent, const QString& name, const QStringList& words, int now) {
    auto* box = new QComboBox(parent);
    box->setAccessibleName(name);
    box->addItems(words);
    box->setCurrentIndex(now);
    return box;
}

}  // namespace

QString lessonsOfCar(const Car& car) {
    const std::size_t count = car.lessons.size();
    const QString name = car.name.empty() ? QObject::tr("A car") : text(car.name);
    QString words = count == 0   ? QObject::tr("%1: no lessons.").arg(name)
                    : count == 1 ? QObject::tr("%1: one lesson.").arg(name)
                                 : QObject::tr("%1: %2 lessons.").arg(name).arg(count);
    for (const Lesson& lesson : car.lessons) {
        words += QLatin1Char('\n');
        if (!lesson.when.empty()) words += text(lesson.when) + QStringLiteral("  ");
        if (!lesson.about.empty()) words += spoken(lesson.about) + QStringLiteral(": ");
        words += text(lesson.note);
    }
    return words;
}

KeepCar::KeepCar(const Desk& desk, std::filesystem::path folder, QWidget* parent)
    : QDialog(parent),
      desk_(desk),
      folder_(std::move(folder)),
      name_(new QLineEdit(this)),
      said_(new QLabel(this)) {
    setWindowTitle(tr("Keep this car"));
    setMinimumWidth(480);
    QVBoxLayout* column = columnOf(*this, tr("Keep this car for the next job"));
    auto* about = new QLabel(
        tr("A copy of the car as it is now: its points with their readings, its lines, lessons and notes."),
        this);
    about->setWordWrap(true);
    about->setProperty("role", "soft");
    column->addWidget(about);
    const std::filesystem::path& file = desk_.document.files().car;
    const Car& car = desk_.document.job().car;
    name_->setText(text(libraryName(!file.empty() ? file : std::filesystem::path(car.name + ".yaml"))));
    name_->setAccessibleName(tr("Name in the library"));
    auto* form = new QFormLayout;
    form->setLabelAlignment(Qt::AlignLeft);
    form->addRow(tr("Name"), name_);
    column->addLayout(form);
    auto* lessons = new QLabel(lessonsOfCar(car), this);
    lessons->setWordWrap(true);
    column->addWidget(lessons);
    said_->setWordWrap(true);
    said_->setProperty("role", "wrong");
    column->addWidget(said_);
    keep_ = buttonsOf(*this, *column, tr("Keep"));
    connect(keep_, &QPushButton::clicked, this, [this] {
        if (keep()) accept();
    });
    connect(name_, &QLineEdit::textEdited, this, [this] {
        may_replace_ = false;
        refresh();
    });
    refresh();
}

void KeepCar::refresh() {
    said_->clear();
    said_->hide();
    keep_->setText(tr("Keep"));
    QStringList kept;
    for (const LibraryCar& one : libraryCars(folder_)) kept << text(one.name);
    name_->setToolTip(kept.isEmpty() ? tr("Nothing is kept yet")
                                     : tr("Kept already: %1").arg(kept.join(QStringLiteral(", "))));
}

bool KeepCar::keep() {
    const std::string words = writeCar(desk_.document.job().car, desk_.document.files().car_text);
    const std::string name = name_->text().trimmed().toStdString();
    std::error_code none;
    const bool taken = std::filesystem::exists(folder_ / (name + ".yaml"), none);
    const Problems problems =
        keepInLibrary(folder_, words, name, may_replace_ ? Existing::replace : Existing::keep);
    if (problems.empty()) return true;
    said_->setText(text(problems.front().what) + QStringLiteral(" (") + text(problems.front().remedy) +
                   QLatin1Char(')'));
    said_->show();
    if (taken && !may_replace_) {
        said_->setText(tr("There is a car of that name already: give this one another, or replace it."));
        keep_->setText(tr("Replace"));
        may_replace_ = true;
    }
    return false;
}

SheetChoice::SheetChoice(const Desk& desk, QWidget* parent) : QDialog(parent), desk_(desk) {
    setWindowTitle(tr("Measuring sheet"));
    setMinimumWidth(440);
    QVBoxLayout* column = columnOf(*this, tr("A numbered sheet to measure a car with"));
    QStringList bodies, frames;
    for (int i = 0; i <= int(Car::Body::van); ++i) bodies << bodyTitle(Car::Body(i));
    for (int i = 0; i <= int(Car::Frame::perimeter); ++i) frames << frameTitle(Car::Frame(i));
    const Car& car = desk.document.job().car;
    const bool inches = desk.units() == UnitsShown::in;
    body_ = oneOf(this, tr("Body"), bodies, int(car.body));
    frame_ = oneOf(this, tr("Frame"), frames, int(car.frame));
    paper_ = oneOf(this, tr("Paper"), {tr("A4"), tr("Letter")}, inches ? 1 : 0);
    units_ = oneOf(this, tr("Figures in"), {tr("millimetres"), tr("inches")}, inches ? 1 : 0);
    figures_ = oneOf(this, tr("Boxes"), {tr("with the figures of this car, small"), tr("empty")},
                     car.points.empty() ? 1 : 0);
    auto* form = new QFormLayout;
    form->setSpacing(kGrid);
    form->setLabelAlignment(Qt::AlignLeft);
    for (QComboBox* box : {body_, frame_, paper_, units_, figures_}) form->addRow(box->accessibleName(), box);
    column->addLayout(form);
    QPushButton* save = buttonsOf(*this, *column, tr("Save as PDF ..."));
    connect(save, &QPushButton::clicked, this, &QDialog::accept);
}

MeasuringSheetOptions SheetChoice::choice() const {
    MeasuringSheetOptions options;
    options.body = Car::Body(body_->currentIndex());
    options.frame = Car::Frame(frame_->currentIndex());
    options.paper = paper_->currentIndex() == 1 ? Paper::letter : Paper::a4;
    options.unit = units_->currentIndex() == 1 ? LengthUnit::in : LengthUnit::mm;
    if (figures_->currentIndex() == 0) options.car = &desk_.document.job().car;
    return options;
}

}  // namespace hoopwright
