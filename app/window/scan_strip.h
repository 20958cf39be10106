// A scan being read: its name, how far it is, and Cancel. Floats over the 3D view.
#pragma once

#include <QWidget>

#include "app/window/desk.h"

class QLabel;
class QProgressBar;

namespace hoopwright {

class ScanStrip : public QWidget {
    Q_OBJECT
public:
    ScanStrip(Desk& desk, QWidget* parent);

signals:
    void shownOrHidden();

private:
    void follow();

    Desk& desk_;
    QLabel* words_;
    QProgressBar* bar_;
};

}  // namespace hoopwright
