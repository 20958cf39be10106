// The class tables as text: opened, saved, made one's own, held against the open cage.
#include <QAction>
#include <QApplication>
#include <QFileDialog>
#include <QFileInfo>
#include <QMenu>
#include <QMenuBar>
#include <QSplitter>
#include <QStackedWidget>
#include <QVBoxLayout>
#include <algorithm>

#include "app/view/view3d.h"
#include "app/window/app_paths.h"
#include "app/window/car_says.h"
#include "app/window/falls_short.h"
#include "app/window/findings.h"
#include "app/window/form_help.h"
#include "app/window/main_window.h"
#include "app/window/own_table.h"
#include "app/window/save_question.h"
#include "app/window/style.h"
#include "app/window/table_editor.h"
#include "app/window/table_findings.h"
#include "app/window/table_title.h"
#include "app/window/tape_strip.h"
#include "app/window/top_bar.h"
#include "app/window/view_host.h"
#include "rules/table_outline.h"

namespace fs = std::filesystem;

namespace hoopwright {
namespace {

fs::path wholePath(const fs::path& file) {
    std::error_code none;
    return fs::absolute(file, none).lexically_normal();
}

/// Null: no finding is chosen.
const Finding* chosenFinding(const Desk& desk) {
    const Thing* chosen = desk.selection.last();
    if (!chosen || chosen->kind != Thing::Kind::finding) return nullptr;
    return findFinding(desk.document.report(), chosen->id);
}

}  // namespace

void MainWindow::buildTableEditor(QWidget* under) {
    tables_ = new TableEditor(desk_, halves_);
    halves_->insertWidget(0, tables_);
    tables_->hide();
    table_findings_ = new TableFindings(desk_, under);
    under->layout()->addWidget(table_findings_);
    static_cast<QVBoxLayout*>(under->layout())->setStretchFactor(table_findings_, 1);
    table_findings_->hide();
    connect(tables_, &TableEditor::reviewed, this, &MainWindow::checkWithTable);
    connect(&desk_.document, &Document::changed, this, &MainWindow::checkWithTable);
    connect(tables_, &TableEditor::saveWanted, this, [this] { saveTable(); });
    connect(tables_, &TableEditor::saveAsWanted, this, [this] { saveTableAs(); });
    connect(tables_, &TableEditor::ownWanted, this, &MainWindow::makeTableMine);
    connect(tables_, &TableEditor::leaveWanted, this, &MainWindow::closeTable);
    connect(tables_, &TableEditor::stateChanged, this, &MainWindow::refreshTableActions);
    connect(table_findings_, &TableFindings::ruleWanted, tables_, &TableEditor::goToRule);
    connect(table_findings_, &TableFindings::chosen, this, [this](const Finding& finding) {
        if (!view_->view()) return;
        view_->view()->showEvidence(finding);
    });
    connect(table_findings_, &TableFindings::gone, this, [this] {
        if (view_->view()) view_->view()->clearEvidence();
    });
}

void MainWindow::buildRulesMenu() {
    QMenu* menu = top_->menus()->addMenu(tr("R&ules"));
    menu->addAction(act(
        tr("Edit the table ..."), QKeySequence(Qt::CTRL | Qt::Key_E), [this] { editSomeTable(); },
        tr("The class table as text, with what it says of this cage beside it")));
    QMenu* others = menu->addMenu(tr("Edit another table"));
    connect(others, &QMenu::aboutToShow, this, [this, others] { fillEditMenu(others); });
    show_rule_ = act(
        tr("Show the rule in its table"), {}, [this] { showRuleOfFinding(); },
        tr("The rule of the chosen finding, where it is written"));
    show_rule_->setObjectName(QStringLiteral("show_rule"));
    menu->addAction(show_rule_);
    menu->addSeparator();
    new_rule_ = act(
        tr("New rule ..."), {}, [this] { tables_->newRule(); },
        tr("A rule of a common shape, from a form, put into the open table"));
    change_rule_ = act(
        tr("Change rule ..."), {}, [this] { tables_->changeRule(); },
        tr("The rule the cursor is in, as a form"));
    menu->addActions({new_rule_, change_rule_});
    menu->addSeparator();
    save_table_ = act(tr("Save the table"), {}, [this] { saveTable(); });
    save_table_as_ = act(tr("Save the table as ..."), {}, [this] { saveTableAs(); });
    close_table_ = act(tr("Close the table"), {}, [this] { closeTable(); });
    menu->addActions({save_table_, save_table_as_, close_table_});
    refreshTableActions();
}

void MainWindow::refreshTableActions() {
    if (!close_table_) return;
    const bool open = tables_->isOpen(), mine = open && !tables_->readOnly();
    for (QAction* one : {new_rule_, change_rule_}) one->setEnabled(mine && editing_);
    save_table_->setEnabled(mine);
    for (QAction* one : {save_table_as_, close_table_}) one->setEnabled(open);
}

void MainWindow::fillEditMenu(QMenu* menu) {
    menu->clear();
    std::vector<fs::path> files;
    for (const std::string& one : desk_.document.job().cage.rule_files) files.emplace_back(one);
    const std::size_t own = files.size();
    for (const fs::path& one : dataFiles("rules"))
        if (std::find(files.begin(), files.end(), one) == files.end()) files.push_back(one);
    for (std::size_t i = 0; i < files.size(); ++i) {
        if (i == own && own > 0) menu->addSeparator();
        const QString words = i < own ? tableTitle(files[i]) : tr("%1 (read only)").arg(tableTitle(files[i]));
        connect(menu->addAction(words), &QAction::triggered, this,
                [this, file = files[i]] { editTable(file); });
    }
    menu->addSeparator();
    connect(menu->addAction(tr("Another table ...")), &QAction::triggered, this, [this] {
        const QString file =
            QFileDialog::getOpenFileName(this, tr("Edit a class table"), {}, tr("Class tables (*.yaml)"));
        if (!file.isEmpty()) editTable(file.toStdString());
    });
}

fs::path MainWindow::tableAtHand() const {
    if (tables_->isOpen()) return tables_->file();
    const auto& used = desk_.document.job().cage.rule_files;
    return used.empty() ? fs::path() : fs::path(used.front());
}

void MainWindow::editSomeTable() {
    // The table of what is looked at, unless another is open or waits with its changes.
    if (!editing_ && !tables_->dirty() && chosenFinding(desk_)) return showRuleOfFinding();
    fs::path file = tableAtHand();
    if (file.empty()) {
        const std::vector<fs::path> shipped = dataFiles("rules");
        const fs::path near = shipped.empty() ? fs::path() : shipped.front().parent_path();
        file = QFileDialog::getOpenFileName(this, tr("Edit a class table"), text(near.string()),
                                            tr("Class tables (*.yaml)"))
                   .toStdString();
    }
    if (!file.empty()) editTable(file);
}

void MainWindow::editTable(const fs::path& file, const std::string& rule) {
    const fs::path whole = wholePath(file);
    if (whole != tables_->file()) {
        if (!mayLeaveTable()) return;
        if (const Problems problems = tables_->open(whole); !problems.empty()) {
            showProblems(tr("The table was not opened."), problems);
            return;
        }
    }
    showTableEditor();
    if (!rule.empty()) tables_->goToRule(rule);
    tables_->box()->setFocus(Qt::OtherFocusReason);
}

void MainWindow::showTableEditor() {
    if (!editing_) {
        editing_ = true;
        desk_.dropPick();
        tables_->show();
        short_->hide();
        says_->hide();
        tape_->hide();  // its room is the findings'
        table_findings_->show();
        foldAsNeeded();
        halves_->setSizes({halves_->width() / 2, halves_->width() - halves_->width() / 2});
    }
    refreshTableActions();
    checkWithTable();
    if (const Finding* finding = chosenFinding(desk_)) table_findings_->choose(findingKey(*finding));
}

void MainWindow::hideTableEditor() {
    if (!editing_) return;
    editing_ = false;
    tables_->hide();
    table_findings_->hide();
    tape_->show();
    if (view_->view()) view_->view()->clearEvidence();
    foldAsNeeded();
    refreshTableActions();
    if (tables_->dirty()) emit desk_.say(tr("The table waits with its changes: Ctrl+E goes back to it."));
}

void MainWindow::checkWithTable() {
    if (!editing_ || !tables_->isOpen()) return;
    const TableReview& review = tables_->review();
    if (review.table) {
        const RuleTableRef one[] = {review.table};
        table_findings_->showReport(check(one, desk_.document.job(), desk_.document.geometry()), true);
    } else if (!table_findings_->report().tables.empty()) {
        table_findings_->showReport(table_findings_->report(), false);
    } else {
        table_findings_->clear(tr("The table cannot be used yet: mend what stands under its text."));
    }
}

void MainWindow::showRuleOfFinding() {
    const Finding* finding = chosenFinding(desk_);
    if (!finding) {
        emit desk_.say(tr("Choose a finding first: its rule is shown where it is written."));
        return;
    }
    const std::string rule = finding->rule;
    const fs::path file = fileOfTable(desk_.document, finding->table);
    if (file.empty()) {
        emit desk_.say(tr("The file of that table does not read any more."));
        return;
    }
    editTable(file, rule);
}

void MainWindow::makeTableMine() {
    const fs::path from = tableAtHand();
    if (from.empty()) {
        emit desk_.say(tr("No class table in use: choose one with Class tables at the top."));
        return;
    }
    if (!mayLeaveTable()) return;
    OwnTable dialog(desk_.document, from, this);
    if (dialog.exec() != QDialog::Accepted) return;
    const TableCopy copy = dialog.choice();
    Problems problems = copyTableFile(from, copy);
    if (problems.empty()) problems = useInstead(desk_.document, from, copy.file);
    if (!problems.empty()) {
        showProblems(tr("The job goes on with the table it had."), problems);
        return;
    }
    editTable(copy.file);
    emit desk_.say(tr("%1 is yours, and the job uses it.").arg(text(copy.file.filename().string())));
}

bool MainWindow::saveTable() {
    if (!tables_->isOpen()) return true;
    if (tables_->readOnly()) {
        emit desk_.say(tr("This table is only read: File, Make this table mine gives you a copy."));
        return false;
    }
    if (const Problems problems = tables_->save(); !problems.empty()) {
        showProblems(tr("The table was not saved; its text here is whole."), problems);
        return false;
    }
    const auto& used = desk_.document.job().cage.rule_files;
    const bool of_job = std::find(used.begin(), used.end(), tables_->file().generic_string()) != used.end();
    if (!tables_->review().table) {
        emit desk_.say(
            of_job
                ? tr("Saved, but not used: the cage is checked with the table as it last read well. The job "
                     "cannot be opened again until its problems are mended.")
                : tr("Saved, but it cannot be used until its problems are mended."));
    } else if (of_job) {
        desk_.document.readTableAnew(tables_->file());
        emit desk_.say(tr("Saved, and the cage is checked with it."));
    } else {
        emit desk_.say(tr("Saved. This job does not use it: Class tables at the top puts it in."));
    }
    return true;
}

bool MainWindow::saveTableAs() {
    if (!tables_->isOpen()) return true;
    QString file = QFileDialog::getSaveFileName(this, tr("Save the table as"), text(tables_->file().string()),
                                                tr("Class tables (*.yaml)"));
    if (file.isEmpty()) return false;
    if (QFileInfo(file).suffix().isEmpty()) file += QStringLiteral(".yaml");
    if (const Problems problems = tables_->saveAs(wholePath(file.toStdString())); !problems.empty()) {
        showProblems(tr("The table was not saved there."), problems);
        return false;
    }
    return saveTable();
}

bool MainWindow::mayLeaveTable() {
    if (!tables_->dirty()) return true;
    const Unsaved wish = askUnsaved(
        this, tr("Table not saved"),
        tr("The table %1 has changes that are not saved.").arg(text(tables_->file().filename().string())));
    return wish == Unsaved::save ? saveTable() : wish == Unsaved::drop;
}

void MainWindow::closeTable() {
    if (!mayLeaveTable()) return;
    tables_->close();
    goTo(step_);
}

}  // namespace hoopwright
