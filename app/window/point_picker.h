// A click on a measured point in the 3D view chooses it, while the step is about the car.
#pragma once

#include <QObject>
#include <QPointF>
#include <functional>

#include "app/window/desk.h"

namespace hoopwright {

class View3d;

class PointPicker : public QObject {
    Q_OBJECT
public:
    PointPicker(Desk& desk, View3d& view, std::function<bool()> wanted);

protected:
    bool eventFilter(QObject* watched, QEvent* event) override;

private:
    /// Name of the point nearest to the pixel, of those in reach; empty: none.
    std::string pointAt(const QPointF& pixel) const;

    Desk& desk_;
    View3d& view_;
    std::function<bool()> wanted_;
    QPointF pressed_;
};

}  // namespace hoopwright
