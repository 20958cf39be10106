// A report as `hoopwright check --json` wrote it, read back to be compared.
#pragma once

#include <QByteArray>
#include <QDateTime>
#include <QString>

#include "core/base/expected.h"
#include "rules/report_changes.h"

namespace hoopwright {

/// The findings of an answer of `check --json`. The reason says what it is not.
Expected<ReportSummary> readReport(const QByteArray& json);
/// The least that readReport() reads: what the window keeps of a job's last report.
QByteArray reportText(const ReportSummary& summary);

/// "14:05", "Tuesday", "3 November 2026": a time some days ago as one would say it. In English, whatever the
/// desktop speaks.
QString agoWords(const QDateTime& then, const QDateTime& now);

}  // namespace hoopwright
