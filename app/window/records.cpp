#include "app/window/records.h"

#include <QAction>
#include <QCheckBox>
#include <QDate>
#include <QHBoxLayout>
#include <QLabel>
#include <QLineEdit>
#include <QPushButton>
#include <QSettings>
#include <QTabWidget>
#include <QVBoxLayout>
#include <algorithm>
#include <cmath>

#include "app/view/report_file.h"
#include "app/window/findings.h"
#include "app/window/form_help.h"
#include "app/window/record_grid.h"
#include "app/window/style.h"
#include "core/files/job_file.h"
#include "core/files/yaml_map.h"
#include "rules/judged_section.h"

namespace hoopwright {
namespace {

LengthStyle styleShown(UnitsShown units) {
    return {units == UnitsShown::in ? LengthUnit::in : LengthUnit::mm};
}

QString stretchText(const AsBuilt& one, const std::optional<double>& low, double high, UnitsShown units) {
    if (!low) return {};
    const QString from = text(measuredText(one, *low, styleShown(units))),
                  to = text(measuredText(one, high, styleShown(units)));
    return from == to ? from : QObject::tr("%1 to %2").arg(from, to);
}

/// What the check makes of what was measured: "meets", "fails by 3.2 mm".
QString checkWords(const AsBuilt& one, UnitsShown units) {
    if (!one.answer) return {};
    const QString answer = answerWords(*one.answer);
    if (*one.answer != Answer::fails || !one.margin) return answer;
    return QObject::tr("%1 by %2")
        .arg(answer, text(measuredText(one, std::abs(*one.margin), styleShown(units))));
}

/// Who measured last has room beside the day, so that no row grows under the mouse.
QString byWhenSample(const QString& who) {
    const QString usual = QObject::tr("A. Builder");
    return QObject::tr("%1, 2026-03-02").arg(who.size() > usual.size() ? who : usual);
}

/// Saving and undoing go on in the records as in the window beside them.
void takeOver(QWidget& records, const QWidget& window) {
    for (QAction* action : window.actions())
        for (const auto key : {QKeySequence::Save, QKeySequence::Undo, QKeySequence::Redo})
            if (action->shortcuts().contains(QKeySequence(key))) records.addAction(action);
}

/// At the window's foot and not all its height: the picture over it shows what is being measured.
void putAtFoot(QWidget& records, const QWidget& window) {
    constexpr int kFewRows = 440;
    const QRect whole = window.geometry();
    const int high = std::max(kFewRows, whole.height() * 3 / 5);
    records.resize(records.width(), std::min(records.height(), high));
    records.move(whole.center().x() - records.width() / 2, whole.bottom() + 1 - records.height());
}

constexpr int kWhatColumn = 1, kCheckColumn = 6;

}  // namespace

Records::Records(Desk& desk, QWidget* parent)
    : QDialog(parent),
      desk_(desk),
      pages_(new QTabWidget(this)),
      who_(new QLineEdit(QSettings().value(QStringLiteral("who")).toString(), this)),
      when_(new QLineEdit(QDate::currentDate().toString(Qt::ISODate), this)),
      only_read_(new QCheckBox(tr("Only what was measured"), this)),
      rests_(new QLabel(this)),
      said_(new QLabel(this)) {
    setWindowTitle(tr("As built and papers"));
    resizeOnScreen(this, QSize(1280, 680));
    auto* column = new QVBoxLayout(this);
    column->setContentsMargins(3 * kGrid, 3 * kGrid, 3 * kGrid, 2 * kGrid);
    column->setSpacing(2 * kGrid);
    auto* top = new QHBoxLayout;
    top->addWidget(new QLabel(tr("Measured by"), this));
    who_->setAccessibleName(tr("Measured by"));
    top->addWidget(who_, 2);
    top->addWidget(new QLabel(tr("on"), this));
    when_->setAccessibleName(tr("Measured on"));
    top->addWidget(when_, 1);
    top->addStretch(2);
    column->addLayout(top);
    pages_->addTab(asBuiltPage(), tr("As built"));
    pages_->addTab(wallPage(), tr("Walls"));
    pages_->addTab(certificatePage(), tr("Certificates"));
    pages_->addTab(paperPage(), tr("Papers with dates"));
    pages_->addTab(inspectionPage(), tr("Inspections"));
    column->addWidget(pages_, 1);
    said_->setWordWrap(true);
    said_->setProperty("role", "wrong");
    auto* foot = new QHBoxLayout;
    foot->addWidget(said_, 1);
    auto* close = new QPushButton(tr("Close"), this);
    close->setAutoDefault(false);  // Enter takes what is typed into a row
    connect(close, &QPushButton::clicked, this, &QDialog::accept);
    foot->addWidget(close, 0, Qt::AlignRight | Qt::AlignBottom);
    column->addLayout(foot);
    connect(&desk_.document, &Document::changed, this, [this] { refresh(); });
    connect(&desk_, &Desk::unitsChanged, this, [this] { refresh(); });
    // The picture shows what is being measured.
    connect(built_, &QTableWidget::currentCellChanged, this, [this](int row) {
        if (built_->hasFocus() && row >= 0 && std::size_t(row) < list_.size())
            choose(list_[std::size_t(row)].of);
    });
    connect(walls_, &QTableWidget::currentCellChanged, this, [this](int row) {
        if (walls_->hasFocus() && row >= 0 && std::size_t(row) < spots_.size())
            choose(desk_.document.geometry().members[std::size_t(spots_[std::size_t(row)].member)].id);
    });
    connect(only_read_, &QCheckBox::toggled, this, [this] { refreshAsBuilt(); });
    say({});
    refresh();
}

void Records::choose(const std::string& of) {
    const CageGeometry& now = desk_.document.geometry();
    if (now.member(of) >= 0) desk_.selection.set({Thing::Kind::member, of});
    if (now.plate(of) >= 0) desk_.selection.set({Thing::Kind::plate, of});
}

void Records::say(const QString& sentence) {
    said_->setText(sentence);
    said_->setVisible(!sentence.isEmpty());
}

QWidget* Records::asBuiltPage() {
    auto* page = new QWidget(this);
    auto* column = new QVBoxLayout(page);
    rests_->setWordWrap(true);
    column->addWidget(rests_);
    using C = RecordGrid::Column;
    built_ = new RecordGrid(
        tr("As built"),
        {C{tr("Of"), false, false, 4}, C{tr("What"), false, false, 9}, C{tr("Wanted"), false, false, 2},
         C{tr("Planned"), false, true, 2}, C{tr("Measured"), true, true, 2}, C{tr("Drift"), false, true, 2},
         C{tr("Check"), false, false, 2, tr("fails by 10.0 mm")},
         C{tr("By, when"), false, false, 3, byWhenSample(who_->text())}},
        [this](int row, int, const QString& words) -> QString {
            const AsBuilt& one = list_[std::size_t(row)];
            BuiltReading reading;
            reading.of = one.of;
            reading.quantity = one.quantity;
            reading.spot = one.how;
            reading.dimension = one.dimension;
            if (!words.isEmpty()) {
                const Expected<double> value = readField(words, one.dimension, desk_.units());
                if (!value) return text(value.reason());
                reading.value = *value;
            }
            if (const QString wrong = dayTrouble(when_->text().trimmed()); !wrong.isEmpty()) return wrong;
            keepReading(reading, words.isEmpty());
            return {};
        },
        [this](const QString& sentence) { say(sentence); }, page);
    column->addWidget(built_, 1);
    column->addWidget(only_read_);
    return page;
}

QWidget* Records::wallPage() {
    auto* page = new QWidget(this);
    auto* column = new QVBoxLayout(page);
    using C = RecordGrid::Column;
    walls_ = new RecordGrid(
        tr("Wall readings"),
        {C{tr("Spot"), false, false, 1}, C{tr("Tube"), false, false, 4}, C{tr("Where"), false, false, 3},
         C{tr("From end A"), false, true, 2}, C{tr("Expected"), false, true, 2},
         C{tr("Mill least"), false, true, 2}, C{tr("Limit"), false, true, 2}, C{tr("Read"), true, true, 2},
         C{tr("Remark"), false, false, 4, tr("thinner than the mill's")}},
        [this](int row, int, const QString& words) -> QString {
            const PackSpot& spot = spots_[std::size_t(row)];
            BuiltReading reading;
            reading.of = desk_.document.geometry().members[std::size_t(spot.member)].id;
            reading.quantity = spot.bend == 0 ? "measured_wall" : "gauged_bent_wall";
            reading.spot = spot.number;
            reading.dimension = Dimension::length;
            if (!words.isEmpty()) {
                const Expected<double> value = readField(words, Dimension::length, desk_.units());
                if (!value) return text(value.reason());
                if (*value <= 0) return tr("A wall is thicker than nothing.");
                reading.value = *value;
            }
            if (const QString wrong = dayTrouble(when_->text().trimmed()); !wrong.isEmpty()) return wrong;
            keepReading(reading, words.isEmpty());
            return {};
        },
        [this](const QString& sentence) { say(sentence); }, page);
    column->addWidget(walls_, 1);
    auto* note = new QLabel(
        tr("The spots are numbered on the wall-reading sheet of the inspector's pack. Limit n: of the "
           "nominal wall, as ordered, not of a reading."),
        page);
    note->setWordWrap(true);
    note->setProperty("role", "soft");
    column->addWidget(note);
    return page;
}

void Records::keepReading(const BuiltReading& given, bool erase) {
    BuiltReading reading = given;
    reading.who = who_->text().trimmed().toStdString();
    reading.when = when_->text().trimmed().toStdString();
    if (!reading.who.empty()) QSettings().setValue(QStringLiteral("who"), text(reading.who));
    desk_.document.edit(erase ? tr("Take a reading back") : tr("Keep a reading"), [&](Job& job) {
        std::erase_if(job.cage.readings, [&](const BuiltReading& kept) {
            return kept.of == reading.of && kept.quantity == reading.quantity &&
                   (reading.spot.empty() || kept.spot == reading.spot);
        });
        if (!erase) job.cage.readings.push_back(reading);
    });
}

void Records::refreshAsBuilt() {
    const Document& document = desk_.document;
    list_ = asBuiltList(document.tables(), document.job(), document.geometry(), only_read_->isChecked());
    // Walls have a page of their own.
    std::erase_if(list_, [](const AsBuilt& one) {
        return one.quantity == "measured_wall" || one.quantity == "gauged_bent_wall";
    });
    std::vector<QStringList> rows;
    for (const AsBuilt& one : list_) {
        QString by;
        if (!one.readings.empty()) {
            const BuiltReading& last = document.job().cage.readings[std::size_t(one.readings.back())];
            by = text(last.who) + (last.when.empty() ? QString() : QStringLiteral(", ") + text(last.when));
        }
        const LengthStyle style = styleShown(desk_.units());
        rows.push_back({text(one.of_name), text(measureWords(one)), text(wantedWords(one)),
                        stretchText(one, one.planned, one.planned_to, desk_.units()),
                        one.low ? stretchText(one, one.low, *one.high, desk_.units()) : QString(),
                        one.drift ? (*one.drift > 0 ? QStringLiteral("+") : QString()) +
                                        text(measuredText(one, *one.drift, style))
                                  : QString(),
                        checkWords(one, desk_.units()), by});
    }
    built_->fill(rows);
    const Palette& palette = desk_.palette();
    for (std::size_t r = 0; r < list_.size(); ++r)
        built_->item(int(r), kWhatColumn)
            ->setToolTip(rows[r].value(kWhatColumn) + QLatin1Char('\n') + printed(list_[r].meaning));
    for (std::size_t r = 0; r < list_.size(); ++r)
        if (list_[r].answer) built_->item(int(r), kCheckColumn)->setForeground(palette.of(*list_[r].answer));
    const std::vector<RestsOn> rests =
        restsOn(document.tables(), document.job(), document.geometry(), document.report());
    rests_->setText(
        tr("Answers of the check that rest on measurement: %1; on the plan alone: %2. What is typed here is "
           "judged in place of the plan.")
            .arg(std::ranges::count(rests, RestsOn::measured))
            .arg(std::ranges::count(rests, RestsOn::plan)));
}

void Records::refresh() {
    const Document& document = desk_.document;
    const Job& job = document.job();
    const UnitsShown units = desk_.units();
    refreshAsBuilt();
    const auto wall = [&](const std::optional<double>& mm) {
        return mm ? text(showLength(*mm, {styleShown(units).unit, 2})) : QString();  // as on paper
    };
    spots_ = wallSpots(job, document.geometry(), document.tables());
    std::vector<QStringList> rows;
    for (const PackSpot& spot : spots_) {
        const bool nominal = spot.limit && spot.limit->judged == wallWords(WallKind::nominal);
        rows.push_back({text(spot.number), text(document.geometry().members[std::size_t(spot.member)].name),
                        text(spot.where), measureText(spot.station_mm, Dimension::length, units),
                        wall(spot.expected_mm), wall(spot.mill_least_mm),
                        spot.limit ? wall(spot.limit->wall_mm) + (nominal ? tr(" n") : QString()) : QString(),
                        wall(spot.read_mm), text(spotTrouble(spot))});
    }
    walls_->fill(rows);
    rows.clear();
    for (const ResolvedMember& m : document.geometry().members) {
        const auto found = std::ranges::find(job.cage.certificates, m.id, &Certificate::of);
        const Certificate kept = found == job.cage.certificates.end() ? Certificate{} : *found;
        rows.push_back({text(m.name),
                        m.stock >= 0 ? tubeName(job.stock.tubes[std::size_t(m.stock)].id) : QString(),
                        text(kept.heat), text(kept.number), text(kept.when)});
    }
    certificates_->fill(rows);
    rows.clear();
    const std::string today = QDate::currentDate().toString(Qt::ISODate).toStdString();
    for (const DatedPaper& one : job.cage.papers)
        rows.push_back({text(one.what), text(one.number), text(one.issued), text(one.due),
                        text(timeLeftWords(daysLeft(one.due, today))), text(one.note)});
    papers_->fill(rows);
    rows.clear();
    for (const Inspection& one : job.cage.inspections)
        rows.push_back({text(one.when), text(one.who), text(one.outcome), text(one.report), text(one.note)});
    inspections_->fill(rows);
}

void showRecords(Desk& desk, QWidget* window) {
    const QString name = QStringLiteral("records");
    auto* records = window->findChild<QDialog*>(name);
    if (!records) {
        records = new Records(desk, window);
        records->setObjectName(name);
        takeOver(*records, *window);
        putAtFoot(*records, *window);
        records->setAttribute(Qt::WA_DeleteOnClose);
    }
    records->show();
    records->raise();
    records->activateWindow();
}

}  // namespace hoopwright
