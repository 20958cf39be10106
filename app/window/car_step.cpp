#include "app/window/car_step.h"

#include <QAction>
#include <QButtonGroup>
#include <QHBoxLayout>
#include <QSettings>
#include <QToolButton>

#include "app/window/form_help.h"
#include "app/window/header_row.h"
#include "app/window/measuring_walk.h"
#include "app/window/style.h"
#include "core/base/text.h"

namespace hoopwright {
namespace {

QString pointText(const Desk& desk, const Vec3& at) {
    const bool inches = desk.units() == UnitsShown::in;
    QStringList parts;
    for (int i = 0; i < 3; ++i) parts << text(fixed(inches ? at[i] / 25.4 : at[i], inches ? 2 : 0));
    return parts.join(QStringLiteral("  "));
}

QToolButton* word(const QString& words, const QString& tip, QWidget* parent) {
    auto* button = new QToolButton(parent);
    button->setText(words);
    button->setToolTip(tip);
    button->setCheckable(true);
    button->setAutoExclusive(true);
    button->setFocusPolicy(Qt::TabFocus);
    return button;
}

}  // namespace

CarPage::CarPage(Desk& desk, const std::vector<QAction*>& walking, const std::vector<QAction*>& listing,
                 QAction* sheet, QWidget* parent)
    : LeftPage(desk, tr("Car"), parent), walk_(new MeasuringWalk(desk, this)) {
    for (QAction* action : walking) walking_.push_back(addButton(action));
    listing_.push_back(addMenu(tr("Add ▾"), listing));
    auto* line = new QWidget(this);
    auto* words = new QHBoxLayout(line);
    words->setContentsMargins(kGrid, 0, kGrid, kGrid / 2);
    words->setSpacing(2);
    walk_word_ = word(tr("Measure"), tr("Every place of the measuring sheet, in its order"), line);
    parts_word_ = word(tr("Parts"), tr("The points, lines and rails the car has"), line);
    words->addWidget(walk_word_);
    words->addWidget(parts_word_);
    words->addStretch(1);
    if (sheet) {
        auto* print = new QToolButton(line);
        print->setText(tr("Sheet ..."));
        print->setToolTip(sheet->toolTip());
        print->setFocusPolicy(Qt::TabFocus);
        connect(print, &QToolButton::clicked, sheet, &QAction::trigger);
        words->addWidget(print);
    }
    addAboveList(line);
    addBesideList(walk_);
    connect(walk_word_, &QAbstractButton::toggled, this,
            [this](bool on) { turnTo(on ? Shown::walk : Shown::parts); });
    connect(&desk_.document, &Document::changed, this, &CarPage::refresh);
    connect(&desk_, &Desk::unitsChanged, this, &CarPage::refresh);
    turnTo(QSettings().value(QStringLiteral("car_parts"), false).toBool() ? Shown::parts : Shown::walk);
    refresh();
}

void CarPage::turnTo(Shown shown) {
    shown_ = shown;
    const bool walk = shown == Shown::walk;
    (walk ? walk_word_ : parts_word_)->setChecked(true);
    list()->setVisible(!walk);
    walk_->setVisible(walk);
    for (QWidget* one : walking_) one->setVisible(walk);
    for (QWidget* one : listing_) one->setVisible(!walk);
    QSettings().setValue(QStringLiteral("car_parts"), !walk);
    refresh();
}

void CarPage::focusPane() {
    if (shown_ == Shown::walk) {
        walk_->focusFirst();
    } else {
        LeftPage::focusPane();
    }
}

QWidget* CarPage::pane() {
    return shown_ == Shown::walk ? static_cast<QWidget*>(walk_) : LeftPage::pane();
}

void CarPage::refresh() {
    const Car& car = desk_.document.job().car;
    std::vector<Row> rows;
    Row whole;
    whole.thing = Thing{Thing::Kind::car_facts, "car"};
    whole.title = car.name.empty() ? tr("The car") : text(car.name);
    whole.detail = text(bodyWord(car.body));
    rows.push_back(whole);
    rows.push_back(headerRow(tr("Measured points"), tr("x  y  z")));
    for (const CarPoint& point : car.points) {
        Row row;
        row.thing = Thing{Thing::Kind::car_point, point.name};
        row.title = titled(point.name);
        row.detail = pointText(desk_, point.at);
        row.tip = text(point.how);
        rows.push_back(row);
    }
    rows.push_back(headerRow(tr("Lines"), tr("points")));
    for (const CarLine& line : car.lines) {
        Row row;
        row.thing = Thing{Thing::Kind::car_line, line.name};
        row.title = titled(line.name);
        row.detail = QString::number(line.points.size());
        rows.push_back(row);
    }
    if (!car.scans.empty()) rows.push_back(headerRow(tr("Scans"), tr("placed by")));
    for (const CarScan& scan : car.scans) {
        Row row;
        row.thing = Thing{Thing::Kind::car_scan, scan.file};
        row.title = text(scan.file);
        const bool there = desk_.document.job().scan_meshes.contains(scan.file);
        row.detail = !there               ? tr("not read")
                     : scan.pairs.empty() ? tr("car axes")
                                          : tr("%1 pairs").arg(scan.pairs.size());
        row.tip = text(scan.how);
        rows.push_back(row);
    }
    list()->setRows(std::move(rows));
    if (shown_ == Shown::parts) {
        setFoot({}, {}, {});
        return;
    }
    const CarReport& report = desk_.carReport();
    const int asked = report.asked, done = asked - int(report.not_measured.size());
    int doubts = 0;
    for (const SurveyedPoint& point : report.survey.points) doubts += point.doubts.empty() ? 0 : 1;
    setFoot(tr("%1 of %2 measured").arg(done).arg(asked),
            doubts > 0 ? tr("%1 in doubt").arg(doubts) : QString(),
            tr("Enter or Tab: next box. F3: next blank. F2: another way of giving."));
}

}  // namespace hoopwright
