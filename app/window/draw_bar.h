// A new bar drawn in the view, click by click.
#pragma once

#include <QObject>
#include <string>
#include <vector>

#include "app/window/desk.h"
#include "core/edit/drawn_bar.h"

namespace hoopwright {

class View3d;

/// The first click says where the bar begins; a click on a bar or plate ends it there; any other is a bend.
/// Enter ends it at the last place, Backspace takes that back, Esc gives up. What there is of it is shown, up
/// to the pointer.
class DrawBar : public QObject {
    Q_OBJECT
public:
    /// Both must outlive it.
    DrawBar(Desk& desk, View3d& view);
    void begin(const std::string& role);
    bool drawing() const { return !role_.empty(); }
    const std::vector<DrawnPlace>& places() const { return places_; }

protected:
    bool eventFilter(QObject* watched, QEvent* event) override;

private:
    DrawnPlace placeOf(const LineOfSight& sight) const;
    void ask();
    void take(const LineOfSight& sight);
    void show(const DrawnPlace* under);
    void finish();
    void stop();

    Desk& desk_;
    View3d& view_;
    std::string role_;  // empty: nothing is being drawn
    std::vector<DrawnPlace> places_;
};

}  // namespace hoopwright
