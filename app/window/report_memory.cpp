#include "app/window/report_memory.h"

#include <QCryptographicHash>
#include <QDir>
#include <QFile>
#include <QFileInfo>
#include <QSaveFile>
#include <QStandardPaths>

#include "app/view/report_file.h"

namespace hoopwright {

ReportMemory::ReportMemory(const Document& document, QString root, QObject* parent)
    : QObject(parent), document_(document), root_(std::move(root)) {
    connect(&document_, &Document::changed, this, &ReportMemory::onChange);
    onChange(Document::Change::replaced);
}

QString ReportMemory::usualRoot() {
    return QStandardPaths::writableLocation(QStandardPaths::AppDataLocation) + QStringLiteral("/reports");
}

QString ReportMemory::file() const {
    const QString cage = QString::fromStdString(document_.files().cage.generic_string());
    if (cage.isEmpty()) return {};
    const QByteArray name =
        QCryptographicHash::hash(cage.toUtf8(), QCryptographicHash::Sha256).toHex().left(24);
    return root_ + QLatin1Char('/') + QString::fromLatin1(name) + QStringLiteral(".json");
}

void ReportMemory::onChange(Document::Change change) {
    const QString kept = file();
    if (change == Document::Change::replaced) {
        before_.clear();
        when_ = {};
        QFile in(kept);
        if (kept.isEmpty() || !in.open(QIODevice::ReadOnly)) return;
        // One that cannot be read is as good as none: it is the program's own note, not the person's file.
        const Expected<ReportSummary> read = readReport(in.readAll());
        if (!read) return;
        before_ = *read;
        when_ = QFileInfo(in).lastModified();
        return;
    }
    if (change != Document::Change::saved || kept.isEmpty() || document_.dirty()) return;
    QDir().mkpath(root_);
    QSaveFile out(kept);
    if (!out.open(QIODevice::WriteOnly)) return;
    out.write(reportText(summaryOf(document_.report())));
    out.commit();
}

QString ReportMemory::since() const {
    return when_.isValid() ? agoWords(when_, QDateTime::currentDateTime()) : QString();
}

std::vector<FindingChange> ReportMemory::changes() const {
    if (!when_.isValid()) return {};
    return changesSince(before_, summaryOf(document_.report()));
}

}  // namespace hoopwright
