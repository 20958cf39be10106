// A finding in a small picture: the bars it is about, what was measured on them, the figure.
#include <algorithm>
#include <cmath>

#include "app/pack/pack_drawing.h"
#include "app/view/finding_text.h"
#include "app/view/palette.h"
#include "core/driver/body.h"

namespace hoopwright {
namespace {

constexpr double kLeastAcross_mm = 700, kRoom = 1.5;
const QColor kFrameColour(0xC9, 0xCC, 0xCE), kQuiet(0x8A, 0x8F, 0x94), kPerson(0xB9, 0xBE, 0xC4);

/// The points a shape is drawn through.
struct ShapePoints {
    std::vector<Vec3>& out;
    void operator()(const ShownPoint& s) const { out.push_back(s.at); }
    void operator()(const ShownLine& s) const { out.insert(out.end(), {s.from, s.to}); }
    void operator()(const ShownAngle& s) const { out.insert(out.end(), {s.apex, s.from, s.to}); }
    void operator()(const ShownPlane& s) const { out.push_back(s.at); }
    void operator()(const ShownBand& s) const { out.insert(out.end(), {s.low, s.high}); }
};

/// How well a direction of sight shows a shape: 1 at best.
struct ShapeShown {
    Vec3 towards;
    double across(const Vec3& v) const { return v.norm() < 1e-9 ? 0.5 : v.cross(towards).norm() / v.norm(); }
    double operator()(const ShownPoint&) const { return 0.5; }
    double operator()(const ShownLine& s) const { return across(s.to - s.from); }
    double operator()(const ShownAngle& s) const {
        const Vec3 n = (s.from - s.apex).cross(s.to - s.apex);
        return n.norm() < 1e-9 ? across(s.from - s.apex) : std::abs(n.normalized().dot(towards));
    }
    double operator()(const ShownPlane& s) const { return across(s.normal); }
    double operator()(const ShownBand& s) const { return across(s.high - s.low); }
};

/// The part of a line inside a frame, if any. Method: Liang and Barsky 1984.
bool clipTo(const Vec2& low, const Vec2& high, Vec2& a, Vec2& b) {
    double from = 0, to = 1;
    const Vec2 way = b - a;
    for (int axis = 0; axis < 2; ++axis) {
        for (const double side : {-1.0, 1.0}) {
            const double p = side * way[axis], q = side < 0 ? a[axis] - low[axis] : high[axis] - a[axis];
            if (std::abs(p) < 1e-12) {
                if (q < 0) return false;
            } else if (p < 0) {
                from = std::max(from, q / p);
            } else {
                to = std::min(to, q / p);
            }
        }
    }
    if (from >= to) return false;
    const Vec2 start = a;
    a = start + from * way;
    b = start + to * way;
    return true;
}

/// The outline of a body as seen: its support round the view.
std::vector<Vec3> outlineOf(const Solid& solid, const LineView& view) {
    std::vector<Vec3> out;
    for (int i = 0; i < 48; ++i) {
        const double a = 2 * 3.14159265358979323846 * i / 48;
        out.push_back(support(solid, view.right * std::cos(a) + view.up * std::sin(a)));
    }
    return out;
}

}  // namespace

LineView viewOfFinding(const Finding& finding) {
    const std::vector<LineView>& all = lineViews();
    if (finding.evidence.shapes.empty()) return all.back();
    std::size_t best = all.size() - 1;
    double most = -1;
    for (std::size_t v = 0; v < all.size(); ++v) {
        double score = v + 1 == all.size() ? -0.02 : 0;  // of equals a plain view reads better
        for (const ShownShape& shape : finding.evidence.shapes)
            score += std::visit(ShapeShown{all[v].towards()}, shape) /
                     static_cast<double>(finding.evidence.shapes.size());
        if (score > most + 1e-6) most = score, best = v;
    }
    return all[best];
}

void PackDrawer::finding(PackPages& pages, const Vec2& corner, const Vec2& size, const Finding& finding,
                         const LengthStyle& style) {
    const LineView view = viewOfFinding(finding);
    std::vector<Vec3> around;
    for (const ShownShape& shape : finding.evidence.shapes) std::visit(ShapePoints{around}, shape);
    if (around.empty()) {
        for (const std::string& id : finding.evidence.members) {
            const int m = pack_.cage->member(id);
            if (m < 0) continue;
            const Centreline& line = pack_.cage->members[static_cast<std::size_t>(m)].line;
            for (int i = 0; i <= 8; ++i) around.push_back(line.point(line.length_mm() * i / 8));
        }
        for (const std::string& id : finding.evidence.plates)
            if (const int p = pack_.cage->plate(id); p >= 0)
                around.push_back(pack_.cage->plates[static_cast<std::size_t>(p)].at);
    }
    if (around.empty()) around.push_back(finding.evidence.look_at);
    Vec2 low = Vec2::Constant(1e300), high = Vec2::Constant(-1e300);
    for (const Vec3& p : around) low = low.cwiseMin(view.flat(p)), high = high.cwiseMax(view.flat(p));
    const Vec2 span = high - low;
    const double scale =
        std::max({kLeastAcross_mm / size.x(), kRoom * span.x() / size.x(), kRoom * span.y() / size.y()});
    PlacedView at;
    at.view = view;
    at.scale = scale;
    at.corner = corner;
    const Vec2 middle = (low + high) / 2;
    at.low = middle - size * scale / 2;
    at.high = middle + size * scale / 2;

    const Vec2 frame_low = corner, frame_high = corner + size;
    const auto draw = [&](const std::vector<Vec3>& points, double width, const QColor& colour, bool dashed) {
        for (std::size_t i = 1; i < points.size(); ++i) {
            Vec2 a = at.on(points[i - 1]), b = at.on(points[i]);
            if (clipTo(frame_low, frame_high, a, b)) pages.ink({{a, b}, width, colour, false, {}, dashed});
        }
    };
    if (!finding.evidence.driver.empty()) {
        for (const Driver& driver : pack_.job->drivers) {
            if (driver.id != finding.evidence.driver) continue;
            for (const BodyPart part : {BodyPart::helmet, BodyPart::torso, BodyPart::arm, BodyPart::thigh,
                                        BodyPart::shin, BodyPart::wheel}) {
                for (const BodySolid& solid : solidsOf(driver, part)) {
                    std::vector<Vec3> round = outlineOf(solid.solid, view);
                    round.push_back(round.front());
                    draw(round, 0.15, kPerson, false);
                }
            }
        }
    }
    const QColor colour = paletteOf(Tone::light).of(finding.answer);
    const auto among = [&](const CageLine& line) {
        if (line.of == CageLine::Of::gusset) return false;
        const auto& ids = line.of == CageLine::Of::tube ? finding.evidence.members : finding.evidence.plates;
        const std::string& id = line.of == CageLine::Of::tube
                                    ? pack_.cage->members[static_cast<std::size_t>(line.index)].id
                                    : pack_.cage->plates[static_cast<std::size_t>(line.index)].id;
        return std::ranges::find(ids, id) != ids.end();
    };
    for (const bool chosen : {false, true})
        for (const CageLine& line : lines(view))
            if (among(line) == chosen && (!line.hidden || chosen))
                draw(line.points, chosen && !line.hidden ? 0.32 : 0.12,
                     chosen ? QColor(0x1C, 0x20, 0x24) : kQuiet, line.hidden);
    for (const ShownShape& shape : finding.evidence.shapes) {
        if (const auto* plane = std::get_if<ShownPlane>(&shape)) {
            const Vec3 along = plane->normal.cross(view.towards());
            if (along.norm() > 1e-3)
                draw({plane->at - along.normalized() * plane->half_size_mm,
                      plane->at + along.normalized() * plane->half_size_mm},
                     0.3, colour, true);
        } else if (const auto* angle = std::get_if<ShownAngle>(&shape)) {
            draw({angle->from, angle->apex, angle->to}, 0.4, colour, false);
        } else if (const auto* band = std::get_if<ShownBand>(&shape)) {
            draw({band->low - band->across, band->low + band->across}, 0.3, colour, true);
            draw({band->high - band->across, band->high + band->across}, 0.3, colour, true);
        } else if (const auto* line = std::get_if<ShownLine>(&shape)) {
            draw({line->from, line->to}, 0.45, colour, false);
        }
        std::vector<Vec3> points;
        std::visit(ShapePoints{points}, shape);
        for (const Vec3& p : points) {
            const Vec2 on = at.on(p);
            if ((on.array() > frame_low.array()).all() && (on.array() < frame_high.array()).all())
                pages.disc(on, 0.7, 0.2, QColor(0xFF, 0xFF, 0xFF), colour);
        }
    }
    const std::string value = withSigns(valueText(finding, style));
    if (!value.empty() && !finding.evidence.shapes.empty()) {
        // Over what was measured, so that it hides none of it.
        Vec2 words = at.on((around.front() + around.back()) / 2);
        for (const Vec3& p : around) words.y() = std::min(words.y(), at.on(p).y());
        words.y() -= 3.6;
        const double wide = wordsWidth_mm(value, 8, true) + 1.6;
        const Vec2 inside(
            std::clamp(words.x(), frame_low.x() + wide / 2 + 0.8, frame_high.x() - wide / 2 - 0.8),
            std::clamp(words.y(), frame_low.y() + 2.4, frame_high.y() - 2.4));
        const Vec2 half(wide / 2, 1.9);
        pages.ink({{inside - half, inside + Vec2(half.x(), -half.y()), inside + half,
                    inside + Vec2(-half.x(), half.y())},
                   0.2,
                   colour,
                   true,
                   QColor(0xFF, 0xFF, 0xFF)});
        pages.sheet().text(inside + Vec2(0, 1), value, 8, DrawnText::Align::centre, true);
    }
    pages.ink(
        {{frame_low, Vec2(frame_high.x(), frame_low.y()), frame_high, Vec2(frame_low.x(), frame_high.y())},
         0.2,
         kFrameColour,
         true,
         {}});
    pages.sheet().text(Vec2(frame_low.x() + 1.2, frame_high.y() - 1.3), view.name, 6, DrawnText::Align::left,
                       false, true);
}

}  // namespace hoopwright
