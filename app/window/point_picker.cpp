#include "app/window/point_picker.h"

#include <QMouseEvent>
#include <QTimer>
#include <cmath>

#include "app/view/projection.h"
#include "app/view/view3d.h"

namespace hoopwright {
namespace {

constexpr double kPickReach_px = 10, kDrag_px = 4;

double distance(const QPointF& a, const QPointF& b) {
    return std::hypot(a.x() - b.x(), a.y() - b.y());
}

}  // namespace

PointPicker::PointPicker(Desk& desk, View3d& view, std::function<bool()> wanted)
    : QObject(&view), desk_(desk), view_(view), wanted_(std::move(wanted)) {
    view.installEventFilter(this);
}

std::string PointPicker::pointAt(const QPointF& pixel) const {
    const Projection seen(view_.view(), view_.size());
    std::string found;
    double nearest = kPickReach_px;
    for (const CarPoint& point : desk_.document.job().car.points) {
        const auto at = seen.at(point.at);
        if (!at || distance(*at, pixel) > nearest) continue;
        nearest = distance(*at, pixel);
        found = point.name;
    }
    return found;
}

bool PointPicker::eventFilter(QObject* watched, QEvent* event) {
    if (event->type() == QEvent::MouseButtonPress) pressed_ = static_cast<QMouseEvent*>(event)->position();
    if (event->type() == QEvent::MouseButtonRelease) {
        const auto* mouse = static_cast<QMouseEvent*>(event);
        const bool click =
            mouse->button() == Qt::LeftButton && distance(mouse->position(), pressed_) < kDrag_px;
        if (click && wanted_() && !desk_.picking()) {
            const std::string name = pointAt(mouse->position());
            // After the view has chosen the bar behind it.
            if (!name.empty())
                QTimer::singleShot(0, this, [this, name] {
                    desk_.selection.set({Thing::Kind::car_point, name});
                });
        }
    }
    return QObject::eventFilter(watched, event);
}

}  // namespace hoopwright
