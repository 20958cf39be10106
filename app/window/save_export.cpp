#include "app/window/save_export.h"

#include <QApplication>
#include <QFileDialog>
#include <QFileInfo>
#include <QMessageBox>
#include <QProgressDialog>

#include "app/export/cage_export.h"
#include "app/window/desk.h"
#include "app/window/form_help.h"
#include "core/base/whole_file.h"

namespace hoopwright {
namespace {

struct Offered {
    ExportChoice choice;
    QString words;
};

std::vector<Offered> offeredFormats() {
    std::vector<Offered> out = {{{ExportFormat::glb}, QObject::tr("3D picture for any viewer (*.glb)")},
                                {{ExportFormat::step}, QObject::tr("Solids for CAD (*.step)")},
                                {{ExportFormat::dxf}, QObject::tr("Centrelines and views (*.dxf)")}};
    for (const CageTable table : allCageTables()) {
        ExportChoice choice{ExportFormat::csv};
        choice.table = table;
        out.push_back({choice, QObject::tr("Table of %1 (*.csv)").arg(text(tableWord(table)))});
    }
    return out;
}

}  // namespace

void saveExport(Desk& desk, QWidget* window) {
    const Document& document = desk.document;
    const std::vector<Offered> all = offeredFormats();
    QStringList filters;
    for (const Offered& one : all) filters.append(one.words);
    QString filter = filters.first();
    const QString near = text((document.files().cage.parent_path() / document.files().cage.stem()).string());
    QString file = QFileDialog::getSaveFileName(window, QObject::tr("Export the cage"), near,
                                                filters.join(QStringLiteral(";;")), &filter);
    if (file.isEmpty()) return;
    const ExportChoice choice =
        all[static_cast<std::size_t>(std::max(qsizetype{0}, filters.indexOf(filter)))].choice;
    const QString end = text(formatWord(choice.format));
    if (QFileInfo(file).suffix().toLower() != end) file += QLatin1Char('.') + end;
    QProgressDialog waiting(QObject::tr("The cage is exported ..."), QObject::tr("Stop"), 0, 0, window);
    waiting.setWindowModality(Qt::WindowModal);
    waiting.setMinimumDuration(400);
    const CageExport made =
        exportCage(document.job(), document.geometry(), choice, [&](int done, int of, std::string_view) {
            waiting.setMaximum(of);
            waiting.setValue(done);
            QApplication::processEvents();
            return !waiting.wasCanceled();
        });
    waiting.reset();
    if (made.stopped) return emit desk.say(QObject::tr("Stopped: nothing was written."));
    WholeFile whole(file.toStdString());
    whole.write(std::string_view(made.bytes.constData(), static_cast<std::size_t>(made.bytes.size())));
    if (const auto problem = whole.commit()) {
        QMessageBox::warning(
            window, QObject::tr("%1 was not written").arg(QFileInfo(file).fileName()),
            text(problem->what) + QStringLiteral(" (") + text(problem->remedy) + QLatin1Char(')'));
        return;
    }
    if (!made.left_out.empty()) {
        QString list;
        for (const std::string& one : made.left_out) list += text(one) + QLatin1Char('\n');
        QMessageBox::information(window, QObject::tr("Some pieces were left out"), list);
    }
    emit desk.say(QObject::tr("Written: %1").arg(file));
}

}  // namespace hoopwright
