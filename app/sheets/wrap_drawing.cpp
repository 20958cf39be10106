#include "app/sheets/wrap_drawing.h"

#include <algorithm>
#include <cmath>
#include <numbers>

#include "core/base/text.h"

namespace hoopwright {
namespace {

constexpr double kTab_mm = 10;    // that is glued under
constexpr double kAbove_mm = 36;  // of paper over the throat
constexpr double kBelow_mm = 9;   // for words under the cut
constexpr double kCross_mm = 6;   // the first cross, clear of the figures along the top
constexpr double kTurn = 2 * std::numbers::pi;

class WrapDrawer {
public:
    WrapDrawer(Drawing& into, const Vec2& at, const CopeSheet& sheet, int end, LengthUnit unit)
        : into_(into),
          at_(at),
          sheet_(sheet),
          end_(sheet.ends[static_cast<std::size_t>(end)]),
          name_(end == 0 ? "A" : "B"),
          unit_(unit) {}

    void draw() {
        const double bottom = y(end_.long_mm);
        path(DrawnLine::hair, {at_, at_ + Vec2(sheet_.wrap_mm + kTab_mm, 0)});
        for (const double x : {0.0, sheet_.wrap_mm}) {
            path(DrawnLine::mark, {at_ + Vec2(x, kCross_mm), Vec2(at_.x() + x, bottom)});
            // Crosses that must meet once the paper is round the tube.
            for (const double down : {kCross_mm, 0.7 * kAbove_mm})
                path(DrawnLine::mark, {at_ + Vec2(x - 2.5, down), at_ + Vec2(x + 2.5, down)});
        }
        path(DrawnLine::hair, {at_ + Vec2(sheet_.wrap_mm + kTab_mm, 0),
                               Vec2(at_.x() + sheet_.wrap_mm + kTab_mm, y(end_.short_mm))});
        edge(DrawnLine::cut, end_.profile.outer.s_mm);
        edge(DrawnLine::bore, end_.profile.bore.s_mm);
        if (end_.profile.grind_mm > 0.05) edge(DrawnLine::grind, groundTo(end_.profile));
        scale();
        words();
    }

private:
    double x(double phi) const { return at_.x() + phi / kTurn * sheet_.wrap_mm; }
    double y(double s) const { return at_.y() + kAbove_mm + end_.short_mm - s; }
    void path(DrawnLine line, std::vector<Vec2> points) {
        into_.paths.push_back({line, std::move(points), false});
    }
    void text(const Vec2& at, double points, const std::string& words, DrawnText::Align align = {},
              bool strong = false) {
        into_.texts.push_back({at, points, words, align, strong, false});
    }

    /// A word under or over a place of the wrap, kept from running off its sides.
    void label(const Vec2& at, double points, const std::string& words, bool strong = false) {
        constexpr double kNear_mm = 13, kClear_mm = 1.5;
        const double right = at_.x() + sheet_.wrap_mm + kTab_mm - at.x();
        const DrawnText::Align align = at.x() - at_.x() < kNear_mm ? DrawnText::Align::left
                                       : right < kNear_mm          ? DrawnText::Align::right
                                                                   : DrawnText::Align::centre;
        const double aside = align == DrawnText::Align::left    ? kClear_mm
                             : align == DrawnText::Align::right ? -kClear_mm
                                                                : 0;
        text(at + Vec2(aside, 0), points, words, align, strong);
    }

    void edge(DrawnLine line, const std::vector<double>& s_mm) {
        std::vector<Vec2> points;
        for (const Vec2& p : wrapLine(s_mm)) points.emplace_back(x(p.x()), y(p.y()));
        path(line, std::move(points));
    }

    /// Degrees along the top edge, every thirty.
    void scale() {
        for (int degree = 0; degree <= 360; degree += 10) {
            const double at = x(degree / 360.0 * kTurn);
            path(DrawnLine::hair, {Vec2(at, at_.y()), Vec2(at, at_.y() + (degree % 30 == 0 ? 2.6 : 1.4))});
            if (degree % 30 == 0)
                text({at, at_.y() + 5}, 6, std::to_string(degree), DrawnText::Align::centre);
        }
    }

    void mark(const std::optional<double>& phi, double down, const std::string& word) {
        if (!phi) return;
        const double at = x(*phi), top = at_.y() + down;
        path(DrawnLine::mark, {Vec2(at, top), Vec2(at, top - 3.5)});
        path(DrawnLine::mark, {Vec2(at - 1, top - 2.2), Vec2(at, top - 3.5), Vec2(at + 1, top - 2.2)});
        label({at, top + 3}, 8, word, true);
    }

    void words() {
        const double long_x = x(end_.long_phi_rad), short_x = x(end_.short_phi_rad);
        path(DrawnLine::hair, {Vec2(long_x, y(end_.long_mm)), Vec2(long_x, y(end_.long_mm) + 2.5)});
        label({long_x, y(end_.long_mm) + 5}, 7, "longest point");
        path(DrawnLine::hair, {Vec2(short_x, y(end_.short_mm)), Vec2(short_x, y(end_.short_mm) - 2)});
        label({short_x, y(end_.short_mm) - 2.6}, 7, "throat");
        mark(end_.up_phi_rad, 11, "UP");
        mark(end_.forward_phi_rad, 11, "FRONT");
        // The same line of the tube at both ends, where the stations run opposite ways.
        if (sheet_.seam_phi_rad)
            mark(name_ == "A" ? *sheet_.seam_phi_rad : kTurn - *sheet_.seam_phi_rad, 18.5, "SEAM");
        text({x(0) + 4, at_.y() + 26}, 8, "END " + name_ + ", clock: " + sheet_.clock, DrawnText::Align::left,
             true);
        const double from_tip = kAbove_mm + end_.short_mm - end_.long_mm;
        text({x(kTurn) - 1, at_.y() + 30}, 6.5,
             "top edge " + showLength(from_tip, {unit_}) + " from the longest point",
             DrawnText::Align::right);
        text({x(kTurn) + kTab_mm / 2, at_.y() + 9}, 6, "glue", DrawnText::Align::centre);
        std::string legend = "full line: cut";
        if (end_.profile.grind_mm > 0.05) legend += "; dashes: grind to here";
        legend += "; dots: bore";
        if (sheet_.seam_phi_rad) legend += "; seam at " + showAngle(*sheet_.seam_phi_rad, 0);
        if (end_.profile.outer.missedCount() > 0) legend += "; part of this end meets nothing: see the sheet";
        text({at_.x(), y(end_.long_mm) + kBelow_mm}, 7, legend);
    }

    Drawing& into_;
    Vec2 at_;
    const CopeSheet& sheet_;
    const CopeSheetEnd& end_;
    std::string name_;
    LengthUnit unit_;
};

}  // namespace

WrapSize wrapSize(const CopeSheet& sheet, const CopeSheetEnd& end) {
    return {sheet.wrap_mm + kTab_mm, kAbove_mm + end.short_mm - end.long_mm + kBelow_mm + 1};
}

void drawWrap(Drawing& into, const Vec2& at, const CopeSheet& sheet, int end, LengthUnit unit) {
    WrapDrawer(into, at, sheet, end, unit).draw();
}

}  // namespace hoopwright
