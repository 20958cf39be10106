#include "app/window/cage_sketch.h"

#include <QPainter>
#include <algorithm>
#include <cmath>

namespace hoopwright {
namespace {

constexpr double kAround_rad = 0.62, kAbove_rad = 0.35;  ///< of the eye, off straight ahead
constexpr double kStep_mm = 40;
constexpr double kMargin = 0.06;
constexpr double kHalo = 1.9;  ///< a nearer tube stands clear of those behind it by this share of its width

struct Stroke {
    std::vector<Vec3> points;  ///< x right, y down, z toward the eye
    double od_mm = 0, near = 0;
    bool frame = false;
};

bool isFrame(const std::string& role) {
    return role.ends_with("_hoop") || role == "side_bar" || role == "rear_brace";
}

std::vector<Stroke> strokesOf(const CageGeometry& cage) {
    const double c = std::cos(kAround_rad), s = std::sin(kAround_rad);
    const Vec3 right(-s, c, 0),
        toward(c * std::cos(kAbove_rad), s * std::cos(kAbove_rad), std::sin(kAbove_rad));
    const Vec3 down = right.cross(toward);
    std::vector<Stroke> strokes;
    for (const ResolvedMember& member : cage.members) {
        Stroke stroke;
        stroke.od_mm = member.section.od_mm;
        stroke.frame = isFrame(member.role);
        const double length = member.line.length_mm();
        const int steps = std::max(1, static_cast<int>(std::ceil(length / kStep_mm)));
        for (int i = 0; i <= steps; ++i) {
            const Vec3 at = member.line.point(length * i / steps);
            stroke.points.emplace_back(right.dot(at), down.dot(at), toward.dot(at));
            stroke.near += stroke.points.back().z() / (steps + 1);
        }
        strokes.push_back(std::move(stroke));
    }
    std::ranges::stable_sort(strokes, {}, &Stroke::near);
    return strokes;
}

}  // namespace

void sketchCage(QPainter& painter, const QRectF& in, const CageGeometry& cage, const Palette& palette) {
    const std::vector<Stroke> strokes = strokesOf(cage);
    if (strokes.empty()) return;
    Box box;
    for (const Stroke& stroke : strokes)
        for (const Vec3& p : stroke.points) box.extend(p);
    const Vec3 size = box.sizes().cwiseMax(1.0);
    const double scale = std::min(in.width() / size.x(), in.height() / size.y()) * (1 - 2 * kMargin);
    const auto onPaper = [&](const Vec3& p) {
        const Vec3 off = p - box.center();
        return QPointF(in.center().x() + scale * off.x(), in.center().y() + scale * off.y());
    };
    painter.setRenderHint(QPainter::Antialiasing);
    for (const Stroke& stroke : strokes) {
        QPolygonF line;
        for (const Vec3& p : stroke.points) line << onPaper(p);
        const double width = std::max(1.2, scale * stroke.od_mm);
        QPen pen(palette.field, kHalo * width, Qt::SolidLine, Qt::FlatCap, Qt::RoundJoin);
        painter.setPen(pen);
        painter.drawPolyline(line);
        pen = QPen(stroke.frame ? palette.ink : palette.ink_soft, width, Qt::SolidLine, Qt::RoundCap,
                   Qt::RoundJoin);
        painter.setPen(pen);
        painter.drawPolyline(line);
    }
}

QPixmap cageSketch(const CageGeometry& cage, const QSize& size, double pixel_ratio, const Palette& palette) {
    QPixmap pixmap(size * pixel_ratio);
    pixmap.setDevicePixelRatio(pixel_ratio);
    pixmap.fill(palette.field);
    QPainter painter(&pixmap);
    sketchCage(painter, QRectF(QPointF(0, 0), QSizeF(size)), cage, palette);
    return pixmap;
}

}  // namespace hoopwright
