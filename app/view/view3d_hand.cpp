// The hand on the view: mouse, wheel and keys.
#include <QKeyEvent>
#include <QMouseEvent>
#include <QWheelEvent>
#include <algorithm>
#include <cmath>

#include "app/view/overlay_widget.h"
#include "app/view/projection.h"
#include "app/view/view3d.h"

namespace hoopwright {
namespace {

constexpr double kClickSlack_px = 4;
constexpr double kNotch = 1.18;  // nearer by so much at each notch of the wheel

double distance(const QPointF& a, const QPointF& b) {
    return std::hypot(a.x() - b.x(), a.y() - b.y());
}

}  // namespace

Vec3 View3d::pointUnder(const QPointF& position) const {
    const auto [from, way] = Projection(view(), size()).ray(position);
    if (const Picked what = pick(cage_, from, way, 0, &look_)) return what.at;
    // Nothing there: as deep as what is looked at.
    const Vec3 forward = view().forward();
    return from + way * ((view().target - from).dot(forward) / way.dot(forward));
}

void View3d::mousePressEvent(QMouseEvent* event) {
    pressed_at_ = last_at_ = event->position();
    button_ = event->button();
    setHovered({}, event->position());
    if (button_ == Qt::LeftButton) hand_ = Hand::may_click;
    if (button_ == Qt::LeftButton && (takeGrip(pressed_at_) || takeSection(pressed_at_)))
        return event->accept();
    if (button_ == Qt::MiddleButton) hand_ = Hand::turns;
    if (button_ == Qt::RightButton) hand_ = Hand::moves;
    if (hand_ != Hand::nothing && event->modifiers().testFlag(Qt::ShiftModifier)) hand_ = Hand::moves;
    event->accept();
}

void View3d::mouseMoveEvent(QMouseEvent* event) {
    const QPointF at = event->position();
    if (event->buttons() == Qt::NoButton) return hoverAt(at);
    if (hand_ == Hand::pulls) {
        if (!pulled_ && distance(at, pressed_at_) < kClickSlack_px) return;
        pulled_ = true;
        const auto [from, way] = Projection(view(), size()).ray(at);
        return emit gripPulled(from, way, event->modifiers().testFlag(Qt::AltModifier));
    }
    if (hand_ == Hand::cuts) {
        const auto sign = sectionSign();
        if (!sign) return;
        SectionSign taken = *sign;  // measured from where it was taken, so that it never runs away
        taken.cut.at_mm = cut_from_mm_;
        return emit sectionPulled(cut_from_mm_ +
                                  sectionDrag_mm(taken, Projection(view(), size()), pressed_at_, at));
    }
    if (hand_ == Hand::may_click && distance(at, pressed_at_) >= kClickSlack_px) hand_ = Hand::turns;
    const QPointF by = at - last_at_;
    if (hand_ == Hand::turns && !by.isNull()) jumpTo(orbitedByPixels(view(), by, size()));
    if (hand_ == Hand::moves && !by.isNull()) jumpTo(pannedByPixels(view(), by, size()));
    if (hand_ == Hand::turns || hand_ == Hand::moves) last_at_ = at;
}

void View3d::mouseReleaseEvent(QMouseEvent* event) {
    if (event->button() != button_) return;
    if (hand_ == Hand::pulls) {
        hand_ = Hand::nothing;
        button_ = Qt::NoButton;
        return emit gripLet(pulled_);
    }
    const bool click = hand_ == Hand::may_click;
    if (hand_ == Hand::cuts) over_->update();
    hand_ = Hand::nothing;
    button_ = Qt::NoButton;
    if (!click) return;
    if (const DimensionSign* sign = asking() ? nullptr : dimensionAt(event->position()))
        return emit dimensionPicked(sign->id);
    const Picked what = pickAt(event->position());
    if (!asking()) return emit picked(what);
    emit askedAt(event->position());
    if (what && asking()) emit pickedPoint(what);
}

void View3d::mouseDoubleClickEvent(QMouseEvent* event) {
    if (event->button() != Qt::LeftButton || asking()) return;
    if (dimensionAt(event->position())) return;
    const std::string id = idOf(pickAt(event->position()));
    if (id.empty()) return fitAll();
    flyToThing(id);
}

void View3d::wheelEvent(QWheelEvent* event) {
    const double notches = event->angleDelta().y() / 120.0;
    event->accept();
    if (notches == 0) return;
    jumpTo(view().zoomedAt(std::pow(kNotch, notches), pointUnder(event->position())));
}

void View3d::hoverAt(const QPointF& position) {
    const int hot = asking() ? -1 : gripAt(grips_, cage_, Projection(view(), size()), position);
    if (hot != hot_grip_) over_->update();
    hot_grip_ = hot;
    const auto handle = sectionHandlePosition();
    const bool on_handle = hot < 0 && handle && distance(*handle, position) <= kSectionHandle_px;
    if (on_handle != hot_section_) over_->update();
    hot_section_ = on_handle;
    setHovered(hot >= 0 || on_handle ? Picked{} : pickAt(position), position);
}

bool View3d::takeSection(const QPointF& position) {
    const auto handle = asking() ? std::nullopt : sectionHandlePosition();
    if (!handle || distance(*handle, position) > kSectionHandle_px) return false;
    hand_ = Hand::cuts;
    cut_from_mm_ = look_.section->at_mm;
    return true;
}

const DimensionSign* View3d::dimensionAt(const QPointF& position) const {
    for (const auto& label : overlay_.shown()) {
        if (!label.place.box.contains(position)) continue;
        for (const DimensionSign& sign : dimensions_)
            if (label.key == "dimension " + sign.id) return &sign;
    }
    return nullptr;
}

bool View3d::takeGrip(const QPointF& position) {
    const int grip = asking() ? -1 : gripAt(grips_, cage_, Projection(view(), size()), position);
    if (grip < 0) return false;
    hand_ = Hand::pulls;
    pulled_ = false;
    emit gripTaken(grip);
    return true;
}

void View3d::setHovered(const Picked& what, const QPointF& position) {
    const bool same = what.member == hovered_.member && what.plate == hovered_.plate;
    const bool repaint = !same || (what && position != hover_position_);
    hovered_ = what;
    hover_position_ = position;
    if (!same) emit hovered(what);
    if (repaint) over_->update();
}

void View3d::leaveEvent(QEvent* event) {
    hot_grip_ = -1;
    setHovered({}, hover_position_);
    SceneSurface::leaveEvent(event);
}

std::string View3d::nameOf(const Picked& what) const {
    if (what.member >= 0) return cage_.members[static_cast<std::size_t>(what.member)].name;
    if (what.plate >= 0) return cage_.plates[static_cast<std::size_t>(what.plate)].name;
    return {};
}

std::string View3d::idOf(const Picked& what) const {
    if (what.member >= 0) return cage_.members[static_cast<std::size_t>(what.member)].id;
    if (what.plate >= 0) return cage_.plates[static_cast<std::size_t>(what.plate)].id;
    return {};
}

HoverSign View3d::hoverSign() const {
    HoverSign sign;
    const Projection projection(view(), size());
    if (hovered_.member >= 0)
        sign.outline = projection.strokes(cage_.members[static_cast<std::size_t>(hovered_.member)]);
    if (hovered_.plate >= 0)
        sign.outline = projection.strokes(cage_.plates[static_cast<std::size_t>(hovered_.plate)]);
    const std::string id = idOf(hovered_);
    const auto& shown = overlay_.shown();
    const bool named =
        std::any_of(shown.begin(), shown.end(), [&](const auto& label) { return label.key == id; });
    if (!named) sign.text = QString::fromStdString(nameOf(hovered_));
    sign.pointer = hover_position_;
    return sign;
}

bool View3d::moveByKey(const QKeyEvent& event) {
    constexpr double kTurn_px = 1.0 / 24,
                     kMove = 0.08;  // of the picture's height: 7.5 degrees; an eighth of its width
    const double step = height() * (event.modifiers().testFlag(Qt::ShiftModifier) ? kMove : kTurn_px);
    QPointF by;
    switch (event.key()) {
        case Qt::Key_Left:
            by = {-step, 0};
            break;
        case Qt::Key_Right:
            by = {step, 0};
            break;
        case Qt::Key_Up:
            by = {0, -step};
            break;
        case Qt::Key_Down:
            by = {0, step};
            break;
        default:
            return false;
    }
    const bool moves = event.modifiers().testFlag(Qt::ShiftModifier);
    jumpTo(moves ? pannedByPixels(view(), by, size()) : orbitedByPixels(view(), by, size()));
    return true;
}

bool View3d::keyForGrip(const QKeyEvent& event) {
    if (!pull_) return false;
    const bool big = event.modifiers().testFlag(Qt::ShiftModifier);
    switch (event.key()) {
        case Qt::Key_Left:
            emit gripNudged(-1, 0, big);
            return true;
        case Qt::Key_Right:
            emit gripNudged(1, 0, big);
            return true;
        case Qt::Key_Up:
            emit gripNudged(0, 1, big);
            return true;
        case Qt::Key_Down:
            emit gripNudged(0, -1, big);
            return true;
        case Qt::Key_Escape:
            hand_ = Hand::nothing;
            emit gripDropped();
            return true;
        default:
            break;
    }
    const QString typed = event.text();
    if (typed.size() != 1 || !(typed[0].isDigit() || QStringLiteral("+-.").contains(typed[0]))) return false;
    hand_ = Hand::nothing;
    emit typedAtGrip(typed);
    return true;
}

void View3d::keyPressEvent(QKeyEvent* event) {
    if (keyForGrip(*event)) return;
    const int number = event->key() - Qt::Key_1;
    const auto& names = standardViews();
    const bool plain = !(event->modifiers() & (Qt::ControlModifier | Qt::AltModifier | Qt::MetaModifier));
    if (!plain) return SceneSurface::keyPressEvent(event);
    if (number >= 0 && number < static_cast<int>(names.size()))
        return flyToView(names[static_cast<std::size_t>(number)]);
    if (moveByKey(*event)) return;
    switch (event->key()) {
        case Qt::Key_F:
            return fitSelected();
        case Qt::Key_Home:
            return fitAll();
        case Qt::Key_O:
            return setOrthographic(!orthographic());
        case Qt::Key_V:
            return setUpright(!upright());
        case Qt::Key_Plus:
        case Qt::Key_Equal:
            return jumpTo(view().zoomedAt(kNotch, view().target));
        case Qt::Key_Minus:
            return jumpTo(view().zoomedAt(1 / kNotch, view().target));
        case Qt::Key_Escape:
            if (asking()) {
                stopAsking();
                emit askingStopped();
                return;
            }
            if (showsEvidence()) return clearEvidence();
            break;
        default:
            break;
    }
    SceneSurface::keyPressEvent(event);
}

}  // namespace hoopwright
