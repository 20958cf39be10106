// What the table being edited says of the open cage: worst first, as the text reads now.
#pragma once

#include <QListView>
#include <QWidget>

#include "app/window/rows.h"

class QLabel;

namespace hoopwright {

class TableFindings : public QWidget {
    Q_OBJECT
public:
    TableFindings(Desk& desk, QWidget* parent = nullptr);
    QListView* list() const { return list_; }
    /// `as_of_now`: false while the text cannot be used, so these are of the last text that could.
    void showReport(const CheckReport& report, bool as_of_now);
    const CheckReport& report() const { return report_; }
    void clear(const QString& why);
    /// As a click on it would; nothing if the report has none of that key.
    void choose(const std::string& key);
    QString said() const;  ///< the line over the list

signals:
    /// Chosen by the person, or chosen before and otherwise now.
    void chosen(const hoopwright::Finding& finding);
    void gone();                               ///< the report has the chosen one no more
    void ruleWanted(const std::string& rule);  ///< a double click: to its line

protected:
    void paintEvent(QPaintEvent* event) override;

private:
    void refresh();
    void describe(const QModelIndex& index);
    const Finding* findingAt(const QModelIndex& index) const;

    Desk& desk_;
    QLabel *head_, *about_;
    RowsModel* rows_;
    QListView* list_;
    CheckReport report_;
    std::vector<int> shown_;  ///< by row, indices into the findings
    bool as_of_now_ = true;
    std::string key_;  ///< of the chosen one, empty: none
    bool refreshing_ = false;
};

}  // namespace hoopwright
