// The last report of each job, kept beside the program's own data, to say what has changed since.
#pragma once

#include <QDateTime>
#include <QObject>
#include <QString>
#include <vector>

#include "app/window/document.h"
#include "rules/report_changes.h"

namespace hoopwright {

/// One file for each cage file. Opening a job reads what was kept when it was last saved; saving it keeps the
/// report of then for the next time. What was read stays what is compared with, until another job is opened.
class ReportMemory : public QObject {
    Q_OBJECT
public:
    /// `root`: the folder; made when something is kept.
    ReportMemory(const Document& document, QString root, QObject* parent = nullptr);
    static QString usualRoot();
    /// "Tuesday", "14:05"; empty: nothing was kept of this job.
    QString since() const;
    /// Of the report of now; none where nothing was kept.
    std::vector<FindingChange> changes() const;

private:
    void onChange(Document::Change change);
    QString file() const;  ///< of the open job; empty for one that was never saved

    const Document& document_;
    QString root_;
    ReportSummary before_;
    QDateTime when_;
};

}  // namespace hoopwright
