#include "app/window/draw_bar.h"

#include <QKeyEvent>
#include <QMouseEvent>

#include "app/view/projection.h"
#include "app/view/view3d.h"
#include "app/window/form_help.h"
#include "core/edit/cage_edits.h"

namespace hoopwright {
namespace {

constexpr double kReach_px = 4;

bool ends(const DrawnPlace& place) {
    return place.on == DrawnPlace::On::bar || place.on == DrawnPlace::On::plate;
}

}  // namespace

DrawBar::DrawBar(Desk& desk, View3d& view) : QObject(&view), desk_(desk), view_(view) {
    view_.installEventFilter(this);
    connect(&desk_, &Desk::pickChanged, this, [this] {
        if (drawing() && !desk_.wantsSight()) stop();
    });
}

void DrawBar::begin(const std::string& role) {
    places_.clear();
    role_ = role;
    desk_.selection.clear();
    ask();
}

void DrawBar::ask() {
    const QString name = text(roleOf(role_).name).toLower();
    desk_.wantSight(
        places_.empty()
            ? tr("Click where the new %1 begins: a bar, a plate, a point of the car").arg(name)
            : tr("Click where it bends, or the bar or plate it ends on. Enter ends it, Backspace takes back"),
        [this](const LineOfSight& sight) { take(sight); });
    show(nullptr);
}

DrawnPlace DrawBar::placeOf(const LineOfSight& sight) const {
    const double reach = kReach_px / Projection(view_.view(), view_.size()).pixelsPerMm(view_.view().target);
    return drawnAt(desk_.document.job(), desk_.document.geometry(), sight.from, sight.way, reach,
                   sight.car_point, places_);
}

void DrawBar::take(const LineOfSight& sight) {
    const DrawnPlace place = placeOf(sight);
    if (!places_.empty() && (place.at - places_.back().at).norm() < 1) return ask();  // a click too many
    places_.push_back(place);
    if (places_.size() > 1 && ends(place)) return finish();
    ask();
}

void DrawBar::show(const DrawnPlace* under) {
    std::vector<ShownShape> shapes;
    for (std::size_t i = 0; i < places_.size(); ++i) {
        shapes.push_back(ShownPoint{places_[i].at});
        if (i > 0) shapes.push_back(ShownLine{places_[i - 1].at, places_[i].at, false});
    }
    if (under) {
        if (!places_.empty()) shapes.push_back(ShownLine{places_.back().at, under->at, true});
        shapes.push_back(ShownPoint{under->at});
    }
    view_.showMeasures(shapes);
}

void DrawBar::finish() {
    const Member bar = drawnBar(desk_.document.job(), desk_.document.geometry(), role_, places_);
    stop();
    desk_.document.edit(tr("Draw %1").arg(text(shownName(bar)).toLower()),
                        [&](Job& job) { job.cage.members.push_back(bar); });
    desk_.selection.set({Thing::Kind::member, resolvedIds(bar.id, bar.mirrored).front()});
    emit desk_.say(bar.mirrored ? tr("%1 added, left and right.").arg(text(shownName(bar)))
                                : tr("%1 added.").arg(text(shownName(bar))));
}

void DrawBar::stop() {
    role_.clear();
    places_.clear();
    view_.clearEvidence();
    desk_.dropPick();
}

bool DrawBar::eventFilter(QObject* watched, QEvent* event) {
    if (!drawing()) return QObject::eventFilter(watched, event);
    if (event->type() == QEvent::MouseMove) {
        const auto* mouse = static_cast<QMouseEvent*>(event);
        if (mouse->buttons() == Qt::NoButton) {
            LineOfSight sight;
            std::tie(sight.from, sight.way) = Projection(view_.view(), view_.size()).ray(mouse->position());
            const DrawnPlace under = placeOf(sight);
            show(&under);
        }
    }
    if (event->type() == QEvent::KeyPress) {
        switch (static_cast<QKeyEvent*>(event)->key()) {
            case Qt::Key_Return:
            case Qt::Key_Enter:
                if (places_.size() > 1) finish();
                return true;
            case Qt::Key_Backspace:
                if (!places_.empty()) places_.pop_back();
                ask();
                return true;
            default:
                break;
        }
    }
    return QObject::eventFilter(watched, event);
}

}  // namespace hoopwright
