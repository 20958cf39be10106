// The inspector's pack from the window: asked for, written whole, stopped where that is wanted.
#include <QApplication>
#include <QDate>
#include <QFileDialog>
#include <QMessageBox>
#include <QProgressDialog>

#include "app/pack/pack_files.h"
#include "app/window/form_help.h"
#include "app/window/records.h"
#include "core/base/whole_file.h"

namespace hoopwright {

void saveInspectorPack(Desk& desk, QWidget* window) {
    const Document& document = desk.document;
    const QString folder = QFileDialog::getExistingDirectory(
        window, QObject::tr("Where the folder of the inspector's pack is to stand"),
        text(document.files().cage.parent_path().string()));
    if (folder.isEmpty()) return;
    QProgressDialog waiting(QObject::tr("The inspector's pack is drawn ..."), QObject::tr("Stop"), 0, 0,
                            window);
    waiting.setWindowModality(Qt::WindowModal);
    waiting.setMinimumDuration(400);
    const InspectorPack pack = inspectorPack(document.job(), document.geometry(), document.tables(),
                                             document.files().cage.parent_path(),
                                             QDate::currentDate().toString(Qt::ISODate).toStdString());
    SheetHead head;
    head.job = document.title().toStdString();
    for (const RuleTableInfo& table : pack.report.tables)
        head.tables += (head.tables.empty() ? "" : "; ") + table.title + ", " + table.edition;
    // What is on the screen may differ from what was saved: a print of it says so.
    head.revision = document.dirty() ? "not saved" : revisionOf(document.files());
    head.shop = document.job().shop ? document.job().shop->name : "";
    head.unit = document.job().cage.unit;
    head.paper = head.unit == LengthUnit::in ? Paper::letter : Paper::a4;
    const std::vector<SheetFile> files = packFiles(head, pack, [&](int done, int of, std::string_view) {
        waiting.setMaximum(of);
        waiting.setValue(done);
        QApplication::processEvents();
        return !waiting.wasCanceled();
    });
    waiting.reset();
    if (files.empty()) return emit desk.say(QObject::tr("Stopped: nothing was written."));
    // Eleven files among others would be hard to find: they have a folder of their own.
    const std::filesystem::path into =
        std::filesystem::path(folder.toStdString()) / (document.files().cage.stem().string() + "_pack");
    std::error_code none;
    std::filesystem::create_directories(into, none);
    std::vector<WholeFile> whole;
    for (const SheetFile& file : files) {
        whole.emplace_back(into / file.name);
        whole.back().write(
            std::string_view(file.bytes.constData(), static_cast<std::size_t>(file.bytes.size())));
    }
    if (const auto problem = commitAll(whole)) {
        QMessageBox::warning(
            window, QObject::tr("The pack was not written"),
            text(problem->what) + QStringLiteral(" (") + text(problem->remedy) + QLatin1Char(')'));
        return;
    }
    emit desk.say(QObject::tr("Written: %1 files in %2").arg(files.size()).arg(text(into.string())));
}

}  // namespace hoopwright
