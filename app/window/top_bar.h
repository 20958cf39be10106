// The bar at the top: menus, the job's name, undo and redo, find anything, units, class tables.
#pragma once

#include <QWidget>

#include "app/window/desk.h"

class QAction;
class QHBoxLayout;
class QLabel;
class QMenu;
class QMenuBar;
class QToolButton;

namespace hoopwright {

class TopBar : public QWidget {
    Q_OBJECT
public:
    TopBar(Desk& desk, QWidget* parent = nullptr);
    QMenuBar* menus() const { return menus_; }
    void addWord(QAction* action);
    void addWidget(QWidget* widget, int stretch = 0);
    /// A word that opens a menu.
    QToolButton* addMenu(const QString& words, QMenu* menu);

protected:
    void resizeEvent(QResizeEvent* event) override;

private:
    void refresh();

    Desk& desk_;
    QMenuBar* menus_;
    QHBoxLayout* row_;
    QLabel *name_, *state_;
};

}  // namespace hoopwright
