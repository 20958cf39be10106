// The left side of the Car step: the measuring walk, or the parts the car has.
#pragma once

#include "app/window/left_page.h"

class QAbstractButton;

namespace hoopwright {

class MeasuringWalk;

class CarPage : public LeftPage {
    Q_OBJECT
public:
    enum class Shown { walk, parts };
    /// `walking` stand in the heading over the walk, `listing` over the parts; `sheet` prints.
    CarPage(Desk& desk, const std::vector<QAction*>& walking, const std::vector<QAction*>& listing,
            QAction* sheet, QWidget* parent = nullptr);
    MeasuringWalk& walk() const { return *walk_; }
    void turnTo(Shown shown);
    Shown shown() const { return shown_; }
    void focusPane() override;
    QWidget* pane() override;

private:
    void refresh();

    Shown shown_ = Shown::parts;
    MeasuringWalk* walk_;
    QAbstractButton *walk_word_, *parts_word_;
    std::vector<QWidget*> walking_, listing_;
};

}  // namespace hoopwright
