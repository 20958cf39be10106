// Certificates, papers with dates and inspections: the pages of the records that are not measured.
#include <QDate>
#include <QVBoxLayout>
#include <algorithm>

#include "app/view/report_file.h"
#include "app/window/form_help.h"
#include "app/window/record_grid.h"
#include "app/window/records.h"
#include "core/files/job_file.h"

namespace hoopwright {

template <class Kept>
void Records::deleteChosen(const RecordGrid& from, const QString& none, const QString& words,
                           std::vector<Kept> CageLayout::*list) {
    const int row = from.chosenRow();
    if (row < 0 || row >= from.rowCount()) return say(none);
    desk_.document.edit(words, [&](Job& job) { (job.cage.*list).erase((job.cage.*list).begin() + row); });
}

QWidget* Records::certificatePage() {
    auto* page = new QWidget(this);
    auto* column = new QVBoxLayout(page);
    using C = RecordGrid::Column;
    certificates_ = new RecordGrid(
        tr("Certificates"),
        {C{tr("Tube"), false, false, 4}, C{tr("Stock"), false, false, 2}, C{tr("Heat"), true, false, 2},
         C{tr("Certificate"), true, false, 2}, C{tr("Dated"), true, false, 2}},
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
    column->addLayout(
        buttonRow(page, {{tr("Same for all of this tube without one"), [this] { shareCertificate(); }}}));
    return page;
}

QWidget* Records::paperPage() {
    auto* page = new QWidget(this);
    auto* column = new QVBoxLayout(page);
    using C = RecordGrid::Column;
    papers_ = new RecordGrid(
        tr("Papers with dates"),
        {C{tr("What"), true, false, 3}, C{tr("Number"), true, false, 2}, C{tr("Issued"), true, false, 2},
         C{tr("Next due"), true, false, 2}, C{tr("Time left"), false, false, 2},
         C{tr("Note"), true, false, 4}},
        [this](int row, int at, const QString& words) -> QString {
            if (at == 2 || at == 3)
                if (const QString wrong = dayTrouble(words); !wrong.isEmpty()) return wrong;
            if (at == 0 && words.isEmpty()) return tr("Say what it is, or delete the row.");
            desk_.document.edit(tr("Paper"), [&](Job& job) {
                DatedPaper& paper = job.cage.papers[std::size_t(row)];
                std::string* const cells[] = {&paper.what, &paper.number, &paper.issued,
                                              &paper.due,  nullptr,       &paper.note};
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
                                            deleteChosen(*papers_, tr("Choose a paper first."),
                                                         tr("Delete a paper"), &CageLayout::papers);
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
    column->addLayout(buttonRow(page, {{tr("Add today's, with its check"), [this] { keepCheckOfToday(); }},
                                       {tr("Delete the chosen inspection"), [this] {
                                            deleteChosen(*inspections_, tr("Choose an inspection first."),
                                                         tr("Delete an inspection"),
                                                         &CageLayout::inspections);
                                        }}}));
    return page;
}

void Records::shareCertificate() {
    const std::vector<ResolvedMember>& bars = desk_.document.geometry().members;
    const int row = certificates_->chosenRow();
    const std::vector<Certificate>& kept = desk_.document.job().cage.certificates;
    const auto known = [](const std::vector<Certificate>& all, const std::string& id) {
        return std::ranges::find(all, id, &Certificate::of);
    };
    const auto from =
        row < 0 || std::size_t(row) >= bars.size() ? kept.end() : known(kept, bars[std::size_t(row)].id);
    if (from == kept.end()) return say(tr("Choose a tube with a heat or a certificate first."));
    desk_.document.edit(tr("Certificates"), [&, given = *from](Job& job) {
        for (const ResolvedMember& bar : bars) {
            if (bar.stock != bars[std::size_t(row)].stock) continue;
            std::vector<Certificate>& all = job.cage.certificates;
            if (known(all, bar.id) != all.end()) continue;
            all.push_back(given);
            all.back().of = bar.id;
        }
    });
    say({});
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
        one.report = name;
        job.cage.inspections.push_back(one);
    });
    say({});
    // Who measured is seldom who inspects: the name is typed next.
    inspections_->setCurrentCell(inspections_->rowCount() - 1, 1);
    inspections_->setFocus();
}

}  // namespace hoopwright
