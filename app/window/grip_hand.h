// The hand that shapes the cage: it pulls the grips of what is chosen, and everything follows.
#pragma once

#include <QObject>
#include <QThreadPool>
#include <optional>
#include <string>

#include "app/view/grip_sign.h"
#include "app/window/desk.h"
#include "rules/failing.h"
#include "rules/grip_range.h"

class QLineEdit;

namespace hoopwright {

class View3d;

/// A drag is one step of undo. While a grip is held its number stands beside it, can be typed ("812.4",
/// "+1/16"; of a bend "z 940"), and the stretch in which no rule gets worse is drawn once it is known. What
/// would fail shows its evidence before the button is up. Alt pulls without snapping. A click without a drag
/// keeps hold: arrows nudge 1 mm or 1/16 in, with Shift ten times that; Esc lets go.
class GripHand : public QObject {
    Q_OBJECT
public:
    /// Both must outlive it.
    GripHand(Desk& desk, View3d& view);
    ~GripHand() override;

    /// Off: nothing can be taken hold of.
    void setOn(bool on);
    /// The grips of what is chosen now, in the cage of now.
    void showGrips();
    bool holds() const { return held_.has_value(); }
    /// How far what is held may go; null until that is worked out, which is done beside the window.
    const GripRange* range() const { return held_ && held_->range ? &*held_->range : nullptr; }
    void drop();                             ///< lets go; a drag that is still on is undone
    QLineEdit* box() const { return box_; }  ///< where a number is typed; hidden else

protected:
    bool eventFilter(QObject* watched, QEvent* event) override;

private:
    struct Held {
        int index = -1;
        Grip grip;         ///< as it was taken
        JobRef job, made;  ///< as it was taken; as the last pull left it
        CageGeometry cage;
        QByteArray key;
        QString words;
        Vec3 at = Vec3::Zero();  ///< where it is now
        QString why, refused;
        std::optional<GripRange> range;
        Failing failing;  ///< when it was taken
        bool dragged = false, edited = false;
    };

    int indexOfHeld(const std::vector<Grip>& grips) const;  ///< -1: it is not there any more
    void take(int index);
    void pull(const Vec3& from, const Vec3& way, bool free);
    void letGo(bool moved);
    void nudge(int right, int up, bool big);
    void openBox(const QString& first);
    void takeBox();
    void apply(const Expected<CageLayout>& cage);
    void findRange();
    void tell();
    void warn();
    QString numberText() const;
    std::string part() const;  ///< resolved id of what is chosen, if it is one bar or plate

    Desk& desk_;
    View3d& view_;
    QLineEdit* box_;
    bool on_ = true, editing_ = false;
    std::optional<Held> held_;
    int taken_ = 0;  ///< grips so far: a range of another one is thrown away
    QThreadPool worker_;
};

}  // namespace hoopwright
