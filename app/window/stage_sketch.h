// The drawing of the measuring sheet, small: where the place to be measured is on a car of the kind.
#pragma once

#include <QWidget>
#include <vector>

#include "app/sheets/car_sketch.h"
#include "app/sheets/place_marks.h"
#include "app/window/desk.h"

namespace hoopwright {

class StageSketch : public QWidget {
    Q_OBJECT
public:
    StageSketch(const Desk& desk, QWidget* parent = nullptr);
    /// Draws a stage of the walk with one of its items lit.
    void showStage(Car::Body body, Car::Frame frame, const MeasuringStage& stage, int number);
    QSize sizeHint() const override { return {200, 148}; }

signals:
    void wanted(int number);  ///< a badge was clicked

protected:
    void paintEvent(QPaintEvent* event) override;
    void resizeEvent(QResizeEvent* event) override;
    void mousePressEvent(QMouseEvent* event) override;

private:
    void arrange();

    const Desk& desk_;
    MeasuringStage stage_;
    CarSketch sketch_;
    std::vector<PlaceMark> marks_;
    int number_ = 0;
    double scale_ = 1;
    QPointF shift_;
};

}  // namespace hoopwright
