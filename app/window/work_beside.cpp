#include "app/window/work_beside.h"

#include <QFileDialog>
#include <QFileInfo>
#include <QMessageBox>
#include <QProgressDialog>
#include <atomic>
#include <thread>

#include "app/window/desk.h"
#include "app/window/form_help.h"
#include "core/base/whole_file.h"

namespace hoopwright {

std::optional<QString> workBeside(QWidget* window, const QString& words,
                                  const std::function<QString(const WorkProgress&)>& work) {
    QProgressDialog dialog(words, QObject::tr("Stop"), 0, 0, window);
    dialog.setWindowTitle(QObject::tr("Working"));
    dialog.setWindowModality(Qt::WindowModal);
    dialog.setMinimumDuration(0);
    dialog.setAutoClose(false);
    dialog.setAutoReset(false);
    std::atomic<bool> stop = false;
    QObject::connect(&dialog, &QProgressDialog::canceled, &dialog, [&] { stop = true; });
    QString wrong;
    std::thread worker([&] {
        wrong = work([&](int done, int of, std::string_view) {
            QMetaObject::invokeMethod(
                &dialog,
                [&dialog, done, of] {
                    dialog.setMaximum(of);
                    dialog.setValue(done);
                },
                Qt::QueuedConnection);
            return !stop.load();
        });
        QMetaObject::invokeMethod(
            &dialog, [&dialog] { dialog.accept(); }, Qt::QueuedConnection);
    });
    dialog.exec();
    worker.join();
    // Stopped too late, it is done all the same.
    if (stop && !wrong.isEmpty()) return std::nullopt;
    return wrong;
}

QString writeWhole(const QString& file, const QByteArray& bytes) {
    WholeFile whole(file.toStdString());
    whole.write({bytes.constData(), static_cast<std::size_t>(bytes.size())});
    const std::optional<Problem> problem = whole.commit();
    return problem ? text(problem->text()) : QString();
}

std::filesystem::path besideJob(const Desk& desk, const std::string& usual) {
    const std::filesystem::path& cage = desk.document.files().cage;
    return cage.empty() ? std::filesystem::path(usual)
                        : cage.parent_path() / (cage.stem().string() + "_" + usual);
}

QString askFile(const Desk& desk, QWidget* window, const QString& title, const std::string& usual,
                const QString& kind, const QString& ending) {
    const std::filesystem::path near = besideJob(desk, usual);
    QString file = QFileDialog::getSaveFileName(window, title, text(near.string()) + ending,
                                                QStringLiteral("%1 (*%2)").arg(kind, ending));
    if (!file.isEmpty() && QFileInfo(file).suffix().isEmpty()) file += ending;
    return file;
}

void tell(Desk& desk, QWidget* window, const std::optional<QString>& wrong, const QString& file) {
    if (!wrong) {
        emit desk.say(QObject::tr("Stopped: nothing was written."));
    } else if (wrong->isEmpty()) {
        emit desk.say(QObject::tr("Written: %1").arg(file));
    } else {
        QMessageBox::warning(window, QObject::tr("%1 was not written").arg(QFileInfo(file).fileName()),
                             *wrong);
    }
}

}  // namespace hoopwright
