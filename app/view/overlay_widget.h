// The sheet over the 3D picture that the labels are painted on. Repainting it leaves the picture beneath
// alone.
#pragma once

#include <QWidget>
#include <functional>

class QPainter;

namespace hoopwright {

class OverlayWidget : public QWidget {
    Q_OBJECT
public:
    OverlayWidget(QWidget* parent, std::function<void(QPainter&)> paint);

protected:
    void paintEvent(QPaintEvent* event) override;

private:
    std::function<void(QPainter&)> paint_;
};

}  // namespace hoopwright
