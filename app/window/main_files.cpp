// Jobs and their files: new, open, save, what was lost, leaving.
#include <QCloseEvent>
#include <QDir>
#include <QFileDialog>
#include <QFileInfo>
#include <QMessageBox>
#include <QPushButton>
#include <QSettings>
#include <QStandardPaths>

#include "app/window/app_paths.h"
#include "app/window/book_panel.h"
#include "app/window/form_help.h"
#include "app/window/keep_car.h"
#include "app/window/main_window.h"
#include "app/window/new_job.h"
#include "app/window/problems_page.h"
#include "app/window/recovery.h"
#include "app/window/save_question.h"
#include "app/window/sheets_window.h"
#include "app/window/starter_picker.h"
#include "app/window/style.h"
#include "app/window/words.h"

namespace hoopwright {
namespace {

constexpr int kMostRecent = 8;

/// "My saloon" -> "my_saloon.cage.yaml", the ending by which a desktop knows a cage.
std::filesystem::path suggestedName(const QString& title) {
    QString name;
    for (const QChar c : title.toLower()) name += c.isLetterOrNumber() ? c : QLatin1Char('_');
    return (name.isEmpty() ? QStringLiteral("cage") : name).toStdString() + ".cage.yaml";
}

/// Where a person keeps their files, never where the program happened to be started.
std::filesystem::path ownFolder() {
    const QString documents = QStandardPaths::writableLocation(QStandardPaths::DocumentsLocation);
    return (QFileInfo(documents).isDir() ? documents : QDir::homePath()).toStdString();
}

}  // namespace

void MainWindow::showProblems(const QString& what, const Problems& problems) {
    ProblemsPage(desk_.palette(), what, problems, this).exec();
}

bool MainWindow::openFile(const std::filesystem::path& cage) {
    const Problems problems = desk_.document.open(cage);
    if (!problems.empty()) {
        showProblems(tr("%1 was not opened; the open job is as it was.").arg(shown(cage.filename())),
                     problems);
        return false;
    }
    addRecent(desk_.document.files().cage);
    takeUnitsOfJob();
    return true;
}

void MainWindow::takeUnitsOfJob() {
    if (QSettings().contains(QStringLiteral("units"))) return;
    setUnits(desk_.document.job().cage.unit == LengthUnit::in ? UnitsShown::in : UnitsShown::mm);
}

void MainWindow::addRecent(const std::filesystem::path& cage) {
    QSettings settings;
    QStringList recent = settings.value(QStringLiteral("recent")).toStringList();
    recent.removeAll(shown(cage));
    recent.prepend(shown(cage));
    while (recent.size() > kMostRecent) recent.removeLast();
    settings.setValue(QStringLiteral("recent"), recent);
}

void MainWindow::create() {
    if (!mayLeave()) return;
    NewJob dialog(carLibraryFolder(), this);
    if (dialog.exec() != QDialog::Accepted) return;
    const NewJobChoice choice = dialog.choice();
    const Problems problems = startNewJob(desk_.document, choice);
    if (!problems.empty())
        return showProblems(tr("The new job was not begun; the open job is as it was."), problems);
    takeUnitsOfJob();
    goTo(desk_.document.job().car.points.empty() ? Step::car : Step::cage);
    if (choice.from_starter) layOutStarter(desk_, this);
}

void MainWindow::keepCar() {
    const std::filesystem::path folder = carLibraryFolder();
    if (KeepCar(desk_, folder, this).exec() == QDialog::Accepted)
        emit desk_.say(tr("Kept in %1: New job offers it.").arg(shown(folder)));
}

void MainWindow::saveSheet() {
    SheetChoice dialog(desk_, this);
    if (dialog.exec() != QDialog::Accepted) return;
    QString file = QFileDialog::getSaveFileName(this, tr("Write the measuring sheet"),
                                                QStringLiteral("measure.pdf"), tr("PDF (*.pdf)"));
    if (file.isEmpty()) return;
    if (QFileInfo(file).suffix().isEmpty()) file += QStringLiteral(".pdf");
    const MeasuringSheet sheet = measuringSheet(dialog.choice());
    if (const auto problem = saveText(file.toStdString(), sheet.pdf.toStdString())) {
        showProblems(tr("The measuring sheet was not written."), {*problem});
        return;
    }
    emit desk_.say(tr("Written: %1, %2 pages").arg(file).arg(sheet.pages));
}

void MainWindow::openSheets() {
    // One at a time; it begins with the papers of the job that is open.
    if (sheets_) sheets_->deleteLater();
    sheets_ = new SheetsWindow(desk_, this);
    sheets_->show();
}

void MainWindow::openBook() {
    if (!book_) {
        book_ = new BookPanel(desk_, this);
        connect(book_, &BookPanel::saveWanted, this, [this] { save(); });
    }
    book_->show();
    book_->raise();
    book_->activateWindow();
}

void MainWindow::openAsked() {
    if (!mayLeave()) return;
    const std::filesystem::path near = desk_.document.files().cage.empty()
                                           ? dataFolder() / "cages"
                                           : desk_.document.files().cage.parent_path();
    const QString file =
        QFileDialog::getOpenFileName(this, tr("Open a cage"), shown(near), tr("Cages (*.yaml)"));
    if (!file.isEmpty()) openFile(file.toStdString());
}

bool MainWindow::save() {
    if (desk_.document.files().cage.empty()) return saveAs();
    const Problems problems = desk_.document.save();
    if (problems.empty()) return true;
    showProblems(tr("Not everything was saved. Nothing on the disk was harmed, and the job here is whole."),
                 problems);
    return false;
}

bool MainWindow::saveAs() {
    const std::filesystem::path near = desk_.document.files().cage.empty()
                                           ? ownFolder() / suggestedName(desk_.document.title())
                                           : desk_.document.files().cage;
    QString file =
        QFileDialog::getSaveFileName(this, tr("Save the cage as"), shown(near), tr("Cages (*.yaml)"));
    if (file.isEmpty()) return false;
    if (QFileInfo(file).suffix().isEmpty()) file += QStringLiteral(".cage.yaml");
    const Problems problems = desk_.document.saveAs(file.toStdString());
    if (!problems.empty()) {
        showProblems(tr("The job was not saved there."), problems);
        return false;
    }
    addRecent(desk_.document.files().cage);
    return true;
}

bool MainWindow::mayLeave() {
    if (!desk_.document.dirty()) return true;
    const Unsaved wish = askUnsaved(this, tr("Not saved"),
                                    tr("%1 has changes that are not saved.").arg(desk_.document.title()));
    return wish == Unsaved::save ? save() : wish == Unsaved::drop;
}

void MainWindow::closeEvent(QCloseEvent* event) {
    if (!mayLeaveTable() || !mayLeave()) {
        event->ignore();
        return;
    }
    setDetached(false);
    rememberLayout();
    event->accept();
}

void MainWindow::offerLostWork() {
    for (const LostWork& lost : Recovery::find(recovery_->root())) {
        QMessageBox box(this);
        box.setWindowTitle(tr("Unsaved work"));
        box.setText(tr("Hoopwright ended without saving %1.").arg(lost.title));
        box.setInformativeText(
            tr("The changes up to %1 are still here.%2")
                .arg(lost.when.toString(QStringLiteral("d MMM yyyy, hh:mm")),
                     lost.cage_file.isEmpty() ? QString() : QStringLiteral("\n") + lost.cage_file));
        QPushButton* take = box.addButton(tr("Go on with it"), QMessageBox::AcceptRole);
        QPushButton* drop = box.addButton(tr("Throw it away"), QMessageBox::DestructiveRole);
        QPushButton* later = box.addButton(tr("Ask me next time"), QMessageBox::RejectRole);
        take->setObjectName(QStringLiteral("take"));
        makePrimary(take);
        box.setDefaultButton(take);
        box.setEscapeButton(later);
        box.exec();
        if (box.clickedButton() == drop) Recovery::discard(lost);
        if (box.clickedButton() != take || !mayLeave()) continue;
        const Problems problems = recovery_->restore(lost);
        if (!problems.empty())
            showProblems(tr("The unsaved work could not be read; it is kept in %1.").arg(lost.folder),
                         problems);
    }
}

}  // namespace hoopwright
