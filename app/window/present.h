// The car alone on the whole screen, slowly turning.
#pragma once

#include <QElapsedTimer>
#include <QTimer>
#include <QWidget>

#include "render/view.h"

namespace hoopwright {

class Desk;
class TurningView;
class View3d;

/// A picture of its own over the window, which stays as it is behind it. Any key, button of the mouse or turn
/// of the wheel ends it.
class Present : public QWidget {
    Q_OBJECT
public:
    /// In the colours and with what `now` shows of the car; nothing of the job is looked at afterwards.
    Present(Desk& desk, const View3d& now, QWidget* window);
    const View3d& picture() const;

protected:
    bool eventFilter(QObject* watched, QEvent* event) override;
    void resizeEvent(QResizeEvent* event) override;
    void closeEvent(QCloseEvent* event) override;

private:
    void turn();

    TurningView* view_;
    View from_;
    QElapsedTimer clock_;
    QTimer tick_;
};

/// Begins it, on the screen that `now` is on.
void present(Desk& desk, const View3d& now, QWidget* window);

}  // namespace hoopwright
