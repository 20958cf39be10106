// The measuring walk: every place of the measuring sheet with its boxes, filled in by keys alone beside the
// car.
#pragma once

#include <QScrollArea>
#include <QWidget>
#include <vector>

#include "app/window/measuring_row.h"

class QVBoxLayout;

namespace hoopwright {

class StageSketch;

class MeasuringWalk : public QWidget {
    Q_OBJECT
public:
    MeasuringWalk(Desk& desk, QWidget* parent = nullptr);
    /// The next box nothing was written in, from where the keyboard is; says so where there is none.
    void goToBlank(int by);
    /// Puts the keyboard where the person was last, or into the first blank.
    void focusFirst();
    /// Lets the place at hand be given another way.
    void askWay();
    MeasuringRow* row(int number) const;
    MeasuringRow* current() const { return current_; }

protected:
    void showEvent(QShowEvent* event) override;
    void resizeEvent(QResizeEvent* event) override;

private:
    void rebuild();
    void refresh();
    void setCurrent(MeasuringRow* row, bool choose);
    void followSelection();
    void goNext(MeasuringRow& row);
    std::vector<ValueField*> boxes() const;
    void focusBox(ValueField& box);
    void orderTabs();

    Desk& desk_;
    Walk walk_;
    Car::Body body_ = Car::Body::saloon;
    Car::Frame frame_ = Car::Frame::unibody;
    StageSketch* sketch_;
    QScrollArea* scroll_;
    std::vector<MeasuringRow*> rows_;
    std::vector<QWidget*> heads_;
    MeasuringRow* current_ = nullptr;
    bool stale_ = true, choosing_ = false;
};

}  // namespace hoopwright
