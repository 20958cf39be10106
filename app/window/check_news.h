// One quiet line over the findings: what has changed since last time, what a newer edition says otherwise,
// what several tables ask that cannot be met at once. Each word opens its list.
#pragma once

#include <QTimer>
#include <QWidget>
#include <vector>

#include "app/window/desk.h"
#include "app/window/report_memory.h"
#include "rules/editions.h"
#include "rules/several_tables.h"

class QPushButton;

namespace hoopwright {

class CheckNews : public QWidget {
    Q_OBJECT
public:
    /// `root`: where reports are kept.
    CheckNews(Desk& desk, const QString& root, QWidget* parent = nullptr);
    /// Works out now what would be worked out in a moment.
    void refresh();
    /// What the lists say, as HTML.
    QString changesPage() const;
    QString editionsPage() const;
    QString severalPage() const;

private:
    QPushButton* word(const QString& name, void (CheckNews::*open)());
    void openChanges();
    void openEditions();
    void openSeveral();
    void keepEditionsNow();

    Desk& desk_;
    ReportMemory memory_;
    QTimer soon_;
    std::vector<FindingChange> changes_;
    std::vector<EditionNews> editions_;
    std::vector<SharedLimit> several_;
    QPushButton *changes_word_, *editions_word_, *several_word_;
};

}  // namespace hoopwright
