// A page of the left panel: a heading with buttons, a list, a foot.
#pragma once

#include <QWidget>
#include <vector>

#include "app/window/rows.h"

class QAction;
class QLabel;
class QTimer;
class QVBoxLayout;

namespace hoopwright {

class LeftPage : public QWidget {
    Q_OBJECT
public:
    LeftPage(Desk& desk, const QString& heading, QWidget* parent = nullptr);
    RowsView* list() const { return list_; }
    /// Where the keyboard goes when it comes to this page.
    virtual void focusPane();
    virtual QWidget* pane() { return list_; }

protected:
    QWidget* addButton(QAction* action);  ///< a word in the heading
    /// A word in the heading that unfolds several.
    QWidget* addMenu(const QString& word, const std::vector<QAction*>& actions);
    void addAboveList(QWidget* widget);
    void addBesideList(QWidget* widget);  ///< takes the list's room when the list is hidden
    void setFoot(const QString& strong, const QString& figure, const QString& soft);
    void paintEvent(QPaintEvent* event) override;

    Desk& desk_;

private:
    QVBoxLayout* column_;
    QWidget* head_;
    RowsView* list_;
    QLabel *foot_strong_, *foot_figure_, *foot_soft_;
};

class DriverPage : public LeftPage {
    Q_OBJECT
public:
    DriverPage(Desk& desk, const std::vector<QAction*>& actions, QWidget* parent = nullptr);

private:
    void refresh();
};

/// Bars by where they are in the car, or in build order; plates; gussets; pinned dimensions. Or the nodes,
/// and what a look along them finds.
class CagePage : public LeftPage {
    Q_OBJECT
public:
    CagePage(Desk& desk, const std::vector<QAction*>& actions, QAction* build_order, QAction* nodes,
             QWidget* parent = nullptr);

private:
    void refresh();
    void showNodes();
    QAction *build_order_, *nodes_;
    QTimer* nodes_soon_;  ///< a drag does not wait for them
};

/// Every answer of every table.
class CheckPage : public LeftPage {
    Q_OBJECT
public:
    /// @param inspection  unfolded by a word of their own
    CheckPage(Desk& desk, const std::vector<QAction*>& actions, const std::vector<QAction*>& inspection,
              QWidget* parent = nullptr);

private:
    void refresh();
    std::string shown_ = "all";
};

}  // namespace hoopwright
