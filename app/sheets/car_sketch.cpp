#include "app/sheets/car_sketch.h"

#include <QPainter>
#include <algorithm>
#include <cmath>

#include "app/sheets/car_outline.h"

namespace hoopwright {
namespace {

using Look = SketchPath::Look;
using StageView = MeasuringStage::View;

/// A curve through the points, straight into and out of sharp ones (Catmull and Rom's tangents in between).
void through(QPainterPath& path, const QList<QPointF>& points, const QList<bool>& sharp, bool closed) {
    const qsizetype n = points.size();
    const auto at = [&](qsizetype i) {
        return closed ? points[(i + n) % n] : points[std::clamp<qsizetype>(i, 0, n - 1)];
    };
    const auto isSharp = [&](qsizetype i) {
        const qsizetype k = closed ? (i + n) % n : i;
        return sharp[k] || (!closed && (k == 0 || k == n - 1));
    };
    const auto tangent = [&](qsizetype i, const QPointF& chord) {
        if (isSharp(i)) return chord;
        // As long as the chord beside it, so that long and short neighbours do not make a loop.
        const QPointF along = at(i + 1) - at(i - 1);
        const double length = std::hypot(along.x(), along.y());
        return length > 0 ? along * (std::hypot(chord.x(), chord.y()) / length) : chord;
    };
    if (path.isEmpty()) {
        path.moveTo(points[0]);
    } else {
        path.lineTo(points[0]);
    }
    for (qsizetype i = 0; i < (closed ? n : n - 1); ++i) {
        const QPointF a = at(i), b = at(i + 1), chord = b - a;
        path.cubicTo(a + tangent(i, chord) / 3, b - tangent(i + 1, chord) / 3, b);
    }
    if (closed) path.closeSubpath();
}

class Sketcher {
public:
    Sketcher(const CarOutline& car, CarSketch& into) : car_(car), into_(into) {}

    void side() {
        const double ground = car_.wheel_z - car_.wheel_radius;
        const double back = car_.profile.back().u - 260, front = car_.profile.front().u + 380;
        QPainterPath line(point(back, ground));
        line.lineTo(point(front, ground));
        add(line, Look::ground);
        QPainterPath body;
        curve(body, car_.profile, false);
        // Back along the underside, over both wheels.
        underside(body);
        body.closeSubpath();
        add(body, Look::body);
        for (const Outline& pane : car_.glass) add(closed(pane), Look::glass);
        for (const Outline& shut : car_.shut_lines)
            add(shut.size() > 4 ? closed(shut) : open(shut), Look::line);
        for (const Outline& one : car_.lines) add(open(one), Look::line);
        for (const double x : {car_.front_axle_x, car_.rear_axle_x}) wheel(x);
    }

    void tyresFromAbove() {
        for (const double x : {car_.front_axle_x, car_.rear_axle_x}) {
            for (const double side : {1.0, -1.0}) {
                QPainterPath tyre;
                tyre.addRoundedRect(QRectF(point(x + car_.wheel_radius, side * car_.track_y + 95),
                                           point(x - car_.wheel_radius, side * car_.track_y - 95))
                                        .normalized(),
                                    50, 50);
                add(tyre, Look::hidden);
            }
        }
    }

    void plan() {
        tyresFromAbove();
        QPainterPath body;
        mirroredCurve(body, car_.plan);
        into_.paths.insert(into_.paths.begin(), {body, Look::body});
        for (const Outline& pane : car_.plan_glass) {
            QPainterPath path;
            mirroredCurve(path, pane);
            add(path, Look::glass);
        }
        for (const Outline& one : car_.plan_lines) {
            add(open(one), Look::line);
            add(open(flipped(one)), Look::line);
        }
        centreline(car_.plan.front().u + 180, car_.plan.back().u - 180);
    }

    void section() {
        const double ground = car_.wheel_z - car_.wheel_radius;
        const double reach = car_.section[3].u + 260;
        QPainterPath line(point(-reach, ground));
        line.lineTo(point(reach, ground));
        add(line, Look::ground);
        for (const double side : {1.0, -1.0}) {
            QPainterPath tyre;
            tyre.addRoundedRect(QRectF(point(side * (car_.track_y + 95), car_.wheel_z + car_.wheel_radius),
                                       point(side * (car_.track_y - 95), ground))
                                    .normalized(),
                                45, 45);
            add(tyre, Look::hidden);
        }
        skin();
        seats();
        floor();
        QPainterPath middle(point(0, ground - 40));
        middle.lineTo(point(0, std::max(car_.section.back().v, 900.0) + 110));
        add(middle, Look::hidden);
    }

    void under(Car::Frame frame) {
        QPainterPath body;
        mirroredCurve(body, car_.plan);
        add(body, Look::body);
        tyresFromAbove();
        frame == Car::Frame::unibody ? legs() : rails(frame == Car::Frame::ladder);
        centreline(car_.plan.front().u + 180, car_.plan.back().u - 180);
    }

private:
    /// Drawing coordinates of outline coordinates.
    QPointF point(double u, double v) const {
        switch (into_.view) {
            case StageView::left:
                return {-u, -v};  // the nose is to the left
            case StageView::right:
                return {u, -v};
            case StageView::section:
                return {-u, -v};  // from behind: left is left
            case StageView::plan:
            case StageView::under:
                break;
        }
        return {-u, v};  // from above, nose to the left, the car's left side near
    }

    void add(const QPainterPath& path, Look look) { into_.paths.push_back({path, look}); }

    void curve(QPainterPath& path, const Outline& outline, bool is_closed) const {
        QList<QPointF> points;
        QList<bool> sharp;
        for (const OutlinePoint& p : outline) {
            points.append(point(p.u, p.v));
            sharp.append(p.sharp);
        }
        through(path, points, sharp, is_closed);
    }
    QPainterPath closed(const Outline& outline) const {
        QPainterPath path;
        curve(path, outline, true);
        return path;
    }
    QPainterPath open(const Outline& outline) const {
        QPainterPath path;
        curve(path, outline, false);
        return path;
    }
    static Outline flipped(Outline outline) {
        for (OutlinePoint& p : outline) p.v = -p.v;
        return outline;
    }
    /// A half that starts and ends on the centreline, and its mirror image.
    void mirroredCurve(QPainterPath& path, const Outline& half) const {
        Outline whole = half;
        for (std::size_t i = half.size() - 1; i-- > 1;)
            whole.push_back({half[i].u, -half[i].v, half[i].sharp});
        curve(path, whole, true);
    }
    void centreline(double from_x, double to_x) {
        QPainterPath path(point(from_x, 0));
        path.lineTo(point(to_x, 0));
        add(path, Look::hidden);
    }

    void underside(QPainterPath& body) const {
        for (const double x : {car_.rear_axle_x, car_.front_axle_x}) {
            const double half =
                std::sqrt(std::pow(car_.arch_radius, 2) - std::pow(car_.sill_z - car_.wheel_z, 2));
            body.lineTo(point(x - half, car_.sill_z));
            constexpr int kSteps = 24;
            const double from = std::atan2(car_.sill_z - car_.wheel_z, -half), full = 2 * std::acos(0.0) * 2;
            const double start = from < 0 ? from + full : from;
            const double stop = std::atan2(car_.sill_z - car_.wheel_z, half);
            for (int i = 1; i <= kSteps; ++i) {
                const double angle = start + (stop - start) * i / kSteps;
                body.lineTo(point(x + car_.arch_radius * std::cos(angle),
                                  car_.wheel_z + car_.arch_radius * std::sin(angle)));
            }
        }
    }

    void wheel(double x) {
        QPainterPath tyre;
        tyre.addEllipse(point(x, car_.wheel_z), car_.wheel_radius, car_.wheel_radius);
        add(tyre, Look::metal);
        QPainterPath rim;
        rim.addEllipse(point(x, car_.wheel_z), 0.64 * car_.wheel_radius, 0.64 * car_.wheel_radius);
        add(rim, Look::body);
        QPainterPath hub;
        hub.addEllipse(point(x, car_.wheel_z), 0.16 * car_.wheel_radius, 0.16 * car_.wheel_radius);
        add(hub, Look::line);
    }

    void skin() {
        QPainterPath body;
        if (car_.has_roof) {
            Outline whole = car_.section;
            for (std::size_t i = whole.size() - 1; i-- > 0;)
                whole.push_back({-car_.section[i].u, car_.section[i].v, car_.section[i].sharp});
            curve(body, whole, false);
            body.closeSubpath();
            add(body, Look::body);
            Outline inner;
            for (const OutlinePoint& p : whole)
                inner.push_back({p.u * 0.925, p.v > 0 ? p.v * 0.955 : p.v + 30, p.sharp});
            add(open(inner), Look::line);
            return;
        }
        // Both sides of an open car, tied by the floor.
        Outline tub = car_.section;
        tub.push_back({600, 430, S_});
        tub.push_back({610, 0});
        tub.push_back({600, car_.floor_z, S_});
        for (std::size_t i = tub.size(); i-- > 0;) tub.push_back({-tub[i].u, tub[i].v, tub[i].sharp});
        curve(body, tub, true);
        add(body, Look::body);
        QPainterPath screen;
        curve(screen,
              {{660, 440, S_},
               {560, 740},
               {520, 765, S_},
               {0, 790},
               {-520, 765, S_},
               {-560, 740},
               {-660, 440, S_}},
              false);
        add(screen, Look::line);
    }

    void seats() {
        const double y = 0.52 * car_.section[0].u, z = car_.floor_z;
        for (const double side : {1.0, -1.0}) {
            const auto part = [&](double half_width, double low, double high, double corner) {
                QPainterPath path;
                path.addRoundedRect(
                    QRectF(point(side * y + half_width, z + high), point(side * y - half_width, z + low))
                        .normalized(),
                    corner, corner);
                add(path, Look::line);
            };
            part(225, 90, 230, 60);
            part(205, 230, 690, 90);
            part(115, 705, 850, 50);
        }
    }

    void floor() {
        const double y = car_.section[0].u - 70, z = car_.floor_z, t = car_.tunnel_y;
        Outline line = {{y, z + 60, S_}, {y, z, S_}};
        if (car_.has_tunnel) {
            const Outline hump = {{t + 30, z, S_},
                                  {0.8 * t, car_.tunnel_z - 25},
                                  {0, car_.tunnel_z},
                                  {-0.8 * t, car_.tunnel_z - 25},
                                  {-t - 30, z, S_}};
            line.insert(line.end(), hump.begin(), hump.end());
        }
        line.push_back({-y, z, S_});
        line.push_back({-y, z + 60, S_});
        add(open(line), Look::line);
        for (const double side : {1.0, -1.0}) {
            QPainterPath sill;
            sill.addRoundedRect(
                QRectF(point(side * (y + 2), 0), point(side * (y + 110), car_.section[0].v + 12))
                    .normalized(),
                12, 12);
            add(sill, Look::metal);
        }
    }

    void beam(const Outline& line, double width) {
        QPainterPath path = open(line);
        QPainterPathStroker stroker;
        stroker.setWidth(width);
        stroker.setCapStyle(Qt::FlatCap);
        stroker.setJoinStyle(Qt::RoundJoin);
        add(stroker.createStroke(path).simplified(), Look::metal);
    }
    void beams(const Outline& line, double width) {
        beam(line, width);
        beam(flipped(line), width);
    }

    void legs() {
        const double a = car_.front_axle_x - 440, r = car_.rear_axle_x;
        const double y = car_.section[0].u - 5;
        beams({{a + 90, y - 10}, {r + 680, y - 10}}, 120);
        beams({{car_.plan.front().u - 120, 0.62 * y}, {a + 280, 0.62 * y}, {a, 0.6 * y}, {a - 200, 0.6 * y}},
              80);
        beams({{r + 670, 0.75 * y},
               {r + 300, 0.71 * y},
               {r - 200, 0.68 * y},
               {car_.plan.back().u + 110, 0.68 * y}},
              80);
        for (const double x : {a - 10, 300.0, r + 660}) beam({{x, y - 70}, {x, 70 - y}}, 50);
    }

    void rails(bool ladder) {
        const double front = car_.plan.front().u - 90, rear = car_.plan.back().u + 60,
                     y = car_.section[0].u - 20;
        const double a = car_.front_axle_x, r = car_.rear_axle_x, middle = ladder ? 0.7 * y : 0.95 * y;
        beams({{front, 0.52 * y},
               {a - 180, 0.54 * y},
               {a - 480, middle},
               {r + 760, middle},
               {r + 430, 0.58 * y},
               {rear, 0.56 * y}},
              85);
        for (const double x : {front - 120, a - 150, r + 420, rear + 120})
            beam({{x, 0.5 * y}, {x, -0.5 * y}}, 65);
        for (const double x : {a - 520, 0.5 * (a + r) + 130, r + 780})
            beam({{x, middle - 30}, {x, 30 - middle}}, 65);
    }

    static constexpr bool S_ = true;
    const CarOutline& car_;
    CarSketch& into_;
};

}  // namespace

QRectF CarSketch::bounds() const {
    QRectF out;
    for (const SketchPath& one : paths) out |= one.path.boundingRect();
    return out;
}

QPointF CarSketch::at(const Vec3& place) const {
    switch (view) {
        case StageView::left:
            return {-place.x(), -place.z()};
        case StageView::right:
            return {place.x(), -place.z()};
        case StageView::section:
            return {-place.y(), -place.z()};
        case StageView::plan:
        case StageView::under:
            break;
    }
    return {-place.x(), place.y()};
}

CarSketch carSketch(Car::Body body, Car::Frame frame, StageView view) {
    CarSketch sketch;
    sketch.view = view;
    Sketcher sketcher(carOutline(body), sketch);
    switch (view) {
        case StageView::left:
        case StageView::right:
            sketcher.side();
            break;
        case StageView::plan:
            sketcher.plan();
            break;
        case StageView::section:
            sketcher.section();
            break;
        case StageView::under:
            sketcher.under(frame);
            break;
    }
    return sketch;
}

void drawSketch(QPainter& painter, const CarSketch& sketch, double scale, const SketchInk& with) {
    const auto pen = [&](const QColor& colour, double share) {
        return QPen(colour, with.outline * share / scale, Qt::SolidLine, Qt::RoundCap, Qt::RoundJoin);
    };
    for (const SketchPath& one : sketch.paths) {
        painter.setBrush(Qt::NoBrush);
        switch (one.look) {
            case Look::body:
                painter.setBrush(with.fill);
                painter.setPen(pen(with.ink, 1));
                break;
            case Look::glass:
                painter.setBrush(with.glass);
                painter.setPen(pen(with.soft, 0.52));
                break;
            case Look::line:
                painter.setPen(pen(with.soft, 0.48));
                break;
            case Look::hidden: {
                QPen dashes = pen(with.soft, 0.43);
                dashes.setDashPattern({7, 5});
                painter.setPen(dashes);
                break;
            }
            case Look::metal:
                painter.setBrush(with.metal);
                painter.setPen(pen(with.ink, 0.71));
                break;
            case Look::ground:
                painter.setPen(pen(with.hair, 1.19));
                break;
        }
        painter.drawPath(one.path);
    }
}

}  // namespace hoopwright
