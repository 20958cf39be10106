#include "app/window/records.h"

#include <QCheckBox>
#include <QDate>
#include <QHBoxLayout>
#include <QLabel>
#include <QLineEdit>
#include <QPushButton>
#include <QTabWidget>
#include <QVBoxLayout>
#include <algorithm>

#include "app/view/report_file.h"
#include "app/window/form_help.h"
#include "app/window/record_grid.h"
#include "app/window/style.h"
#include "core/files/job_file.h"
#include "core/files/yaml_map.h"

namespace hoopwright {
namespace {

QString dayTrouble(const QString& words) {
    return words.isEmpty() || isDate(words.toStdString())
               ? QString()
               : QObject::tr("'%1' is no day: write it as 2026-03-02.").arg(words);
}

QString quantityName(const AsBuilt& one) {
    QString words = text(one.quantity);
    words.replace(QLatin1Char('_'), QLatin1Char(' '));
    return one.how.empty() ? words : words + QStringLiteral(", ") + text(one.how);
}

QString stretchText(const std::optional<double>& low, double high, Dimension dimension, UnitsShown units) {
    if (!low) return {};
    const QString from = measureText(*low, dimension, units), to = measureText(high, dimension, units);
    return from == to ? from : QObject::tr("%1 to %2").arg(from, to);
}

/// A row of buttons under a grid.
QHBoxLayout* buttonRow(QWidget* parent,
                       std::initializer_list<std::pair<QString, std::function<void()>>> list) {
    auto* row = new QHBoxLayout;
    for (const auto& [words, run] : list) {
        auto* button = new QPushButton(words, parent);
        QObject::connect(button, &QPushButton::clicked, parent, run);
        row->addWidget(button);
    }
    row->addStretch();
    return row;
}

}  // namespace

Records::Records(Desk& desk, QWidget* parent)
    : QDialog(parent),
      desk_(desk),
      pages_(new QTabWidget(this)),
      who_(new QLineEdit(this)),
      when_(new QLineEdit(QDate::currentDate().toString(Qt::ISODate), this)),
      only_read_(new QCheckBox(tr("Only what was measured"), this)),
      rests_(new QLabel(this)),
      said_(new QLabel(this)) {
    setWindowTitle(tr("As built and papers"));
    resize(1080, 620);
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
    connect(only_read_, &QCheckBox::toggled, this, [this] { refreshAsBuilt(); });
    say({});
    refresh();
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
        {C{tr("Of"), false, false, 4}, C{tr("What"), false, false, 5}, C{tr("Planned"), false, true, 3},
         C{tr("Measured"), true, true, 3}, C{tr("Drift"), false, true, 2},
         C{tr("By, when"), false, false, 3}},
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
         C{tr("Mill least"), false, true, 2}, C{tr("Limit"), false, true, 2}, C{tr("Read"), true, true, 2}},
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
    auto* note =
        new QLabel(tr("The spots are numbered on the wall-reading sheet of the inspector's pack."), page);
    note->setProperty("role", "soft");
    column->addWidget(note);
    return page;
}

QWidget* Records::certificatePage() {
    auto* page = new QWidget(this);
    auto* column = new QVBoxLayout(page);
    using C = RecordGrid::Column;
    certificates_ = new RecordGrid(
        tr("Certificates"),
        {C{tr("Tube"), false, false, 4}, C{tr("Stock"), false, false, 2}, C{tr("Heat"), true, false, 2},
         C{tr("Certificate"), true, false, 2}, C{tr("Of"), true, false, 2}},
        [this](int row, int at, const QString& words) -> QString {
            if (at == 4)
                if (const QString wrong = dayTrouble(words); !wrong.isEmpty()) return wrong;
            const std::string id = desk_.document.geometry().members[std::size_t(row)].id;
            desk_.document.edit(tr("Certificate"), [&](Job& job) {
                std::vector<Certificate>& all = job.cage.certificates;
                auto found = std::ranges::find(all, id, &Certificate::of);
                if (found == all.end()) found = all.insert(all.end(), Certificate{id, {}, {}});
                (at == 2 ? found->heat : at == 3 ? found->number : found->when) = words.toStdString();
                if (found->heat.empty() && found->number.empty() && found->when.empty()) all.erase(found);
            });
            return {};
        },
        [this](const QString& sentence) { say(sentence); }, page);
    column->addWidget(certificates_, 1);
    return page;
}

QWidget* Records::paperPage() {
    auto* page = new QWidget(this);
    auto* column = new QVBoxLayout(page);
    using C = RecordGrid::Column;
    papers_ = new RecordGrid(
        tr("Papers with dates"),
        {C{tr("What"), true, false, 3}, C{tr("Number"), true, false, 2}, C{tr("Issued"), true, false, 2},
         C{tr("Next due"), true, false, 2}, C{tr("Note"), true, false, 4}},
        [this](int row, int at, const QString& words) -> QString {
            if (at == 2 || at == 3)
                if (const QString wrong = dayTrouble(words); !wrong.isEmpty()) return wrong;
            if (at == 0 && words.isEmpty()) return tr("Say what it is, or delete the row.");
            desk_.document.edit(tr("Paper"), [&](Job& job) {
                DatedPaper& paper = job.cage.papers[std::size_t(row)];
                std::string* const cells[] = {&paper.what, &paper.number, &paper.issued, &paper.due,
                                              &paper.note};
                *cells[at] = words.toStdString();
            });
            return {};
        },
        [this](const QString& sentence) { say(sentence); }, page);
    column->addWidget(papers_, 1);
    column->addLayout(buttonRow(page, {{tr("Add a paper"),
                                        [this] {
                                            desk_.document.edit(tr("Add a paper"), [](Job& job) {
                                                DatedPaper paper;
                                                paper.what = "Belts";
                                                job.cage.papers.push_back(paper);
                                            });
                                            papers_->setCurrentCell(papers_->rowCount() - 1, 0);
                                            papers_->setFocus();
                                        }},
                                       {tr("Delete the chosen paper"), [this] {
                                            const int row = papers_->chosenRow();
                                            if (row < 0 ||
                                                std::size_t(row) >= desk_.document.job().cage.papers.size())
                                                return say(tr("Choose a paper first."));
                                            desk_.document.edit(tr("Delete a paper"), [&](Job& job) {
                                                job.cage.papers.erase(job.cage.papers.begin() + row);
                                            });
                                        }}}));
    return page;
}

QWidget* Records::inspectionPage() {
    auto* page = new QWidget(this);
    auto* column = new QVBoxLayout(page);
    using C = RecordGrid::Column;
    inspections_ = new RecordGrid(
        tr("Inspections"),
        {C{tr("When"), true, false, 2}, C{tr("Inspector"), true, false, 3}, C{tr("Outcome"), true, false, 4},
         C{tr("Check of that day"), true, false, 3}, C{tr("Note"), true, false, 3}},
        [this](int row, int at, const QString& words) -> QString {
            if (at == 0) {
                if (words.isEmpty()) return tr("Say when it was, or delete the row.");
                if (const QString wrong = dayTrouble(words); !wrong.isEmpty()) return wrong;
            }
            desk_.document.edit(tr("Inspection"), [&](Job& job) {
                Inspection& one = job.cage.inspections[std::size_t(row)];
                std::string* const cells[] = {&one.when, &one.who, &one.outcome, &one.report, &one.note};
                *cells[at] = words.toStdString();
            });
            return {};
        },
        [this](const QString& sentence) { say(sentence); }, page);
    column->addWidget(inspections_, 1);
    column->addLayout(
        buttonRow(page, {{tr("Add today's, with its check"), [this] { keepCheckOfToday(); }},
                         {tr("Delete the chosen inspection"), [this] {
                              const int row = inspections_->chosenRow();
                              if (row < 0 || std::size_t(row) >= desk_.document.job().cage.inspections.size())
                                  return say(tr("Choose an inspection first."));
                              desk_.document.edit(tr("Delete an inspection"), [&](Job& job) {
                                  job.cage.inspections.erase(job.cage.inspections.begin() + row);
                              });
                          }}}));
    return page;
}

void Records::keepReading(const BuiltReading& given, bool erase) {
    BuiltReading reading = given;
    reading.who = who_->text().trimmed().toStdString();
    reading.when = when_->text().trimmed().toStdString();
    desk_.document.edit(erase ? tr("Take a reading back") : tr("Keep a reading"), [&](Job& job) {
        std::erase_if(job.cage.readings, [&](const BuiltReading& kept) {
            return kept.of == reading.of && kept.quantity == reading.quantity &&
                   (reading.spot.empty() || kept.spot == reading.spot);
        });
        if (!erase) job.cage.readings.push_back(reading);
    });
}

void Records::keepCheckOfToday() {
    const std::filesystem::path& cage = desk_.document.files().cage;
    if (cage.empty()) return say(tr("Save the job first: the check is kept beside its file."));
    const QString day = QDate::currentDate().toString(Qt::ISODate);
    const std::string name = cage.stem().string() + "_check_" + day.toStdString() + ".json";
    const QByteArray report = reportText(summaryOf(desk_.document.report()));
    if (const auto problem = saveText(cage.parent_path() / name, report.toStdString()))
        return say(text(problem->what) + QStringLiteral(" (") + text(problem->remedy) + QLatin1Char(')'));
    desk_.document.edit(tr("Keep an inspection"), [&](Job& job) {
        Inspection one;
        one.when = day.toStdString();
        one.who = who_->text().trimmed().toStdString();
        one.report = name;
        job.cage.inspections.push_back(one);
    });
    say({});
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
        rows.push_back({text(one.of_name), quantityName(one),
                        stretchText(one.planned, one.planned_to, one.dimension, desk_.units()),
                        one.low ? stretchText(one.low, *one.high, one.dimension, desk_.units()) : QString(),
                        one.drift ? (*one.drift > 0 ? QStringLiteral("+") : QString()) +
                                        measureText(*one.drift, one.dimension, desk_.units())
                                  : QString(),
                        by});
    }
    built_->fill(rows);
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
    const auto length = [&](const std::optional<double>& mm) {
        return mm ? measureText(*mm, Dimension::length, units) : QString();
    };
    spots_ = wallSpots(job, document.geometry(), document.tables());
    std::vector<QStringList> rows;
    for (const PackSpot& spot : spots_)
        rows.push_back({text(spot.number), text(document.geometry().members[std::size_t(spot.member)].name),
                        text(spot.where), length(spot.station_mm), length(spot.expected_mm),
                        length(spot.mill_least_mm), spot.limit ? length(spot.limit->wall_mm) : QString(),
                        length(spot.read_mm)});
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
    for (const DatedPaper& one : job.cage.papers)
        rows.push_back({text(one.what), text(one.number), text(one.issued), text(one.due), text(one.note)});
    papers_->fill(rows);
    rows.clear();
    for (const Inspection& one : job.cage.inspections)
        rows.push_back({text(one.when), text(one.who), text(one.outcome), text(one.report), text(one.note)});
    inspections_->fill(rows);
}

}  // namespace hoopwright
