#include "app/window/present.h"

#include <QCloseEvent>
#include <QKeyEvent>
#include <QScreen>
#include <QVBoxLayout>
#include <cmath>
#include <numbers>

#include "app/view/bar_groups.h"
#include "app/view/bar_marks.h"
#include "app/view/turntable.h"
#include "app/view/view3d.h"
#include "app/window/desk.h"

namespace hoopwright {

/// The picture, whole however it turns, without anything written over it.
class TurningView : public View3d {
public:
    explicit TurningView(QWidget* parent) : View3d(parent) {
        drawAlwaysWhole();
        for (auto* over : findChildren<QWidget*>()) over->hide();
    }
    Box bounds() const { return scene().bounds(); }
};

namespace {

constexpr double kRound_s = 40;
constexpr int kPresentTick_ms = 30, kFitSteps = 72;

/// What is chosen, cut and isolated is for work; a picture of gaps needs what is measured beside the window.
SceneLook plain(SceneLook look) {
    look.only.clear();
    look.x_ray = false;
    look.section.reset();
    if (look.colouring == Colouring::by_gap) look.colouring = Colouring::by_place;
    return look;
}

/// From the side it is seen from now, if that is outside the car and not from above or below; else a corner.
View begunFrom(const View& now, const Box& bounds) {
    constexpr double kSteepest = 0.8;
    if (bounds.isEmpty()) return now;
    const bool good = !bounds.contains(now.eye) && now.orthographic_height_mm <= 0 &&
                      std::abs(now.sight().z()) < kSteepest && now.eye.z() > bounds.min().z();
    return good ? now : standardView("three_quarter", bounds, 16.0 / 9);
}

}  // namespace

Present::Present(Desk& desk, const View3d& now, QWidget* window)
    : QWidget(window, Qt::Window), view_(new TurningView(this)) {
    setAttribute(Qt::WA_DeleteOnClose);
    setWindowTitle(tr("Hoopwright, presenting"));
    auto* column = new QVBoxLayout(this);
    column->setContentsMargins(0, 0, 0, 0);
    column->addWidget(view_);
    const Job job = desk.study.shown();
    const CageGeometry& cage = desk.document.geometry();
    const SceneLook look = plain(now.look());
    view_->setLook(look);
    view_->setJob(job, cage);
    const std::vector<Mark> marks = marksOf(desk.document.report(), cage);
    view_->setMarks(marks);
    if (hasGroups(look.colouring)) view_->setGroups(barGroups(look.colouring, job, cage, marks), false);
    from_ = begunFrom(now.view(), view_->bounds());
    view_->setCursor(Qt::BlankCursor);
    view_->installEventFilter(this);
    connect(&tick_, &QTimer::timeout, this, &Present::turn);
    tick_.start(kPresentTick_ms);
    clock_.start();
}

const View3d& Present::picture() const {
    return *view_;
}

void Present::turn() {
    const double round = double(clock_.elapsed()) / (1000 * kRound_s);
    view_->jumpTo(from_.orbited(2 * std::numbers::pi * round, 0));
}

void Present::resizeEvent(QResizeEvent*) {
    from_ = standBack(from_, view_->bounds(), width(), height(), kFitSteps);
    turn();
}

void Present::closeEvent(QCloseEvent* event) {
    tick_.stop();
    QWidget::closeEvent(event);
    parentWidget()->activateWindow();
}

bool Present::eventFilter(QObject*, QEvent* event) {
    switch (event->type()) {
        case QEvent::KeyPress:
            // The key that began it may still be held.
            if (!static_cast<QKeyEvent*>(event)->isAutoRepeat()) close();
            return true;
        case QEvent::MouseButtonPress:
        case QEvent::Wheel:
            close();
            return true;
        case QEvent::MouseMove:
        case QEvent::MouseButtonRelease:
        case QEvent::MouseButtonDblClick:
            return true;
        default:
            return false;
    }
}

void present(Desk& desk, const View3d& now, QWidget* window) {
    auto* over = new Present(desk, now, window);
    over->setGeometry(now.screen()->geometry());
    over->showFullScreen();
    over->activateWindow();
    for (auto* view : over->findChildren<View3d*>()) view->setFocus();
}

}  // namespace hoopwright
