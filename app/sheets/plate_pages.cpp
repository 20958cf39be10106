#include <algorithm>
#include <array>
#include <cmath>
#include <numbers>

#include "app/sheets/plate_sheets.h"
#include "app/view/finding_text.h"
#include "core/base/text.h"

namespace hoopwright {
namespace {

/// Scales a drawing may have: paper to part.
constexpr std::array<double, 9> kScales = {2, 1, 0.5, 0.4, 0.2, 0.1, 0.05, 0.02, 0.01};

std::string scaleWord(double scale) {
    return scale >= 1 ? fixed(scale, 0) + ":1" : "1:" + shortest(std::round(10 / scale) / 10);
}
/// A name of the files as words: "rear_leg.left" is "rear leg, left".
std::string fileNameWords(std::string name) {
    std::ranges::replace(name, '_', ' ');
    for (const std::string side : {".left", ".right"})
        if (name.ends_with(side)) name.replace(name.size() - side.size(), 1, ", ");
    return name;
}
/// Which of a pair a resolved id is of, so that no one reads past it; empty for one without a pair.
std::string sideLoud(const std::string& id) {
    return id.ends_with(".left") ? "LEFT" : id.ends_with(".right") ? "RIGHT" : "";
}
double scaleFor(const Vec2& size, const Vec2& room) {
    for (const double scale : kScales)
        if (size.x() * scale <= room.x() && size.y() * scale <= room.y()) return scale;
    return kScales.back();
}

class PlatePager {
public:
    PlatePager(const SheetHead& head, const ShopSheets& sheets)
        : sheets_(sheets), unit_(head.unit), pages_(head, "Plate sheet") {}

    std::vector<Drawing> make() {
        for (const PlatePart& part : sheets_.plates) pages_.onOnePage([&] { onePart(part); });
        for (const SheetPlan& plan : sheets_.sheet_plans) lay(plan);
        return pages_.take();
    }

private:
    std::string tape(double mm) const { return showLength(mm, {unit_, 1, unit_ == LengthUnit::in ? 32 : 0}); }
    std::string fine(double mm) const { return showLength(mm, {unit_, 1}); }
    std::string area(double mm2) const { return withSigns(showArea(mm2, unit_)); }
    /// "Hoop foot, LEFT".
    static std::string pieceWords(const PlatePart& part, const std::string& of) {
        const std::string side = sideLoud(of), name = withSigns(part.name);
        return side.empty() ? name : name + ", " + side;
    }
    const ResolvedMember& bar(int member) const {
        return sheets_.cage->members[static_cast<std::size_t>(member)];
    }

    std::string under(const PlatePart& part) const {
        std::string say = showLength(part.thickness_mm, {unit_, unit_ == LengthUnit::in ? 1 : 2});
        if (!part.material.empty()) say += " " + part.material;
        say += "  ·  " + std::to_string(part.count()) + " off";
        std::string sides;
        for (const std::string& of : part.of)
            if (!sideLoud(of).empty()) sides += (sides.empty() ? ": " : ", ") + sideLoud(of);
        return say + sides;
    }

    void onePart(const PlatePart& part) {
        pages_.page(withSigns(part.name), under(part));
        const std::vector<double> shares = {0.5, 0.5};
        if (part.outline.empty()) {
            pages_.words("No flat size: " + part.trouble, 14, true);
        } else {
            const Vec2 size = part.size_mm();
            pages_.row({"Flat, over all", tape(size.x()) + " × " + tape(size.y())}, shares, true, false, 16);
            drawing(part);
            pages_.row(
                {"Sheet in one; its mass", area(part.blank_mm2) + "; " + showMass(part.blank_kg, unit_)},
                shares, false, false, 11);
        }
        figures(part);
        holes(part);
        folds(part);
        for (const std::string& word : part.words) pages_.words(word, 10.5);
        rulings(part);
        for (const std::string& caution : part.cautions) pages_.words("Note: " + caution, 11, true);
    }

    void drawing(const PlatePart& part) {
        const Vec2 room(pages_.width() - 24, 92);
        const Vec2 size = part.size_mm();
        const double scale = scaleFor(size, room);
        const Vec2 at(pages_.left() + 12 + (room.x() - size.x() * scale) / 2,
                      pages_.y() + 8 + size.y() * scale);
        drawFlat(pages_.drawing(), part, at, scale);
        const auto paper = [&](const Vec2& p) {
            return Vec2(at.x() + p.x() * scale, at.y() - p.y() * scale);
        };
        // The datum corner, and what is numbered.
        pages_.line(at + Vec2(-6, 0), at + Vec2(-1.5, 0), DrawnLine::part);
        pages_.line(at + Vec2(0, 6), at + Vec2(0, 1.5), DrawnLine::part);
        pages_.text(at + Vec2(-2, 5), "0", 10, DrawnText::Align::right, true);
        for (std::size_t i = 0; i < part.holes.size(); ++i) {
            const double off = part.holes[i].diameter_mm / 2 * scale + 1.2;
            pages_.text(paper(part.holes[i].at) + Vec2(off, -off + 1), std::to_string(i + 1), 10,
                        DrawnText::Align::left, true);
        }
        for (std::size_t i = 0; i < part.folds.size(); ++i) {
            const PartFold& fold = part.folds[i];
            const Vec2 middle = paper((fold.from + fold.to) / 2), along = fold.to - fold.from;
            const bool level = std::abs(along.x()) > std::abs(along.y());
            const std::string letter(1, static_cast<char>('A' + i % 26));
            pages_.text(middle + (level ? Vec2(0, -1) : Vec2(1, 0)),
                        level ? letter + (fold.towards ? " towards you" : " away") : letter, 9,
                        level ? DrawnText::Align::centre : DrawnText::Align::left, true);
        }
        pages_.text({pages_.right(), at.y() + 5}, scaleWord(scale), 9, DrawnText::Align::right, false, true);
        pages_.gap(16 + size.y() * scale);
    }

    void figures(const PlatePart& part) {
        const std::vector<double> shares = {0.5, 0.5};
        if (part.planes.size() > 1) {
            for (const PartPlane& plane : part.planes)
                pages_.row({"Area, " + plane.what, area(plane.area_mm2)}, shares);
            pages_.row({"Area in every plane together", area(part.faces_mm2)}, shares, true, false, 11);
        } else if (part.planes.size() == 1) {
            pages_.row({"Area of its face", area(part.faces_mm2)}, shares, true, false, 11);
        }
        for (const PlateSupport& support : part.supports) {
            const std::string side = sideLoud(support.plate),
                              of = side.empty() ? support.plane : side + ", " + support.plane;
            if (support.rail.empty()) {
                pages_.row({of + ": tied to no rail", area(support.off_rail_mm2) + " on sheet alone"},
                           shares);
                continue;
            }
            std::string say = area(support.on_rail_mm2);
            if (support.off_rail_mm2 > 1) say += "; not: " + area(support.off_rail_mm2);
            pages_.row({of + ": lies on " + fileNameWords(support.rail), say}, shares);
        }
        if (part.weld_mm > 0) pages_.row({"Weld round it", tape(part.weld_mm)}, shares, false, false, 11);
        for (const FootWeld& foot : part.feet)
            pages_.row({"Weld of " + loudName(bar(foot.member).name) + ", end " +
                            (foot.end == 0 ? "A" : "B") + ", on it",
                        foot.weld_mm > 0 ? tape(foot.weld_mm) : "no cope sheet"},
                       shares);
    }

    void holes(const PlatePart& part) {
        if (part.holes.empty()) return;
        pages_.heading("Holes, from the corner marked 0");
        const std::vector<double> shares = {0.25, 0.25, 0.25, 0.25};
        pages_.row({"", "to the right", "up", "diameter"}, shares, true);
        for (std::size_t i = 0; i < part.holes.size(); ++i) {
            const PartHole& hole = part.holes[i];
            pages_.row({std::to_string(i + 1) + ", " + hole.what, tape(hole.at.x()), tape(hole.at.y()),
                        hole.diameter_mm > 0 ? fine(hole.diameter_mm) : "mark only"},
                       shares, false, false, 11);
        }
    }

    void folds(const PlatePart& part) {
        if (part.folds.empty()) return;
        pages_.heading("Folds, lines in the middle of what each takes");
        const std::vector<double> shares = {0.3, 0.34, 0.18, 0.18};
        pages_.row({"", "line at, from 0", "fold by", "takes"}, shares, true);
        for (std::size_t i = 0; i < part.folds.size(); ++i) {
            const PartFold& fold = part.folds[i];
            const bool upright = std::abs(fold.from.x() - fold.to.x()) < 0.005;
            const bool level = std::abs(fold.from.y() - fold.to.y()) < 0.005;
            const std::string where = upright ? tape(fold.from.x()) + " to the right"
                                      : level ? tape(fold.from.y()) + " up"
                                              : tape(fold.from.x()) + ", " + tape(fold.from.y());
            pages_.row({std::string(1, static_cast<char>('A' + i % 26)) + ", " + fold.what, where,
                        showAngle(fold.angle_rad) + (fold.towards ? " towards you" : " away"),
                        fine(fold.allowance_mm)},
                       shares, false, false, 11);
        }
        pages_.words(
            "Inside radius " + fine(part.folds.front().radius_mm) +
                ". Looking at the blank as it is drawn: towards you means the flap comes up off the table.",
            9.5);
    }

    void rulings(const PlatePart& part) {
        std::vector<const Finding*> mine;
        for (const Finding& finding : sheets_.plate_rulings)
            if (std::ranges::find(part.of, finding.subject) != part.of.end()) mine.push_back(&finding);
        // A backing plate and a riser are of the plate: it has the rules.
        if (part.kind == PlatePart::Kind::backing || part.kind == PlatePart::Kind::riser) return;
        pages_.heading("What the tables ask of it");
        if (mine.empty()) {
            pages_.words("No rule of the tables is about it alone.", 10);
            return;
        }
        for (const Finding* finding : mine) {
            const LengthStyle style{unit_};
            const std::string side = sideLoud(finding->subject);
            std::string say = clauseText(*finding) + "  " + finding->title +
                              (side.empty() ? std::string() : ", " + side) + ": ";
            say += answerPhrase(*finding);
            if (finding->value) say += ", " + valueText(*finding, style);
            if (!finding->found.empty()) say += ", " + finding->found;
            if (!finding->limit_text.empty()) say += " (" + finding->limit_text + ")";
            if (!finding->missing.empty()) say += ": " + finding->missing;
            pages_.words(withSigns(say), 10, finding->answer == Answer::fails);
        }
    }

    void lay(const SheetPlan& plan) {
        if (plan.sheets.empty()) {
            if (plan.trouble.empty()) return;
            pages_.page("Not laid on a sheet",
                        showLength(plan.thickness_mm, {unit_, unit_ == LengthUnit::in ? 1 : 2}) + " " +
                            plan.material);
            for (const std::string& each : plan.trouble) pages_.words(each, 12, true);
            return;
        }
        const std::string name =
            plan.material + ", " + showLength(plan.thickness_mm, {unit_, unit_ == LengthUnit::in ? 1 : 2});
        for (std::size_t s = 0; s < plan.sheets.size(); ++s) {
            const LaidSheet& sheet = plan.sheets[s];
            pages_.page(
                "Sheet " + std::to_string(s + 1) + " of " + std::to_string(plan.sheets.size()) + ", " + name,
                plan.sheet + "  ·  " + tape(plan.length_mm) + " × " + tape(plan.width_mm));
            const Vec2 room(pages_.width(), 130), size(plan.length_mm, plan.width_mm);
            const double scale = std::min(room.x() / size.x(), room.y() / size.y());
            const Vec2 at(pages_.left(), pages_.y() + size.y() * scale);
            pages_.box({at.x(), at.y() - size.y() * scale}, size * scale, DrawnLine::part);
            for (const LaidPart& laid : sheet.parts) {
                const PlatePart& part = sheets_.plates[static_cast<std::size_t>(laid.part)];
                const Vec2 low(at.x() + laid.at.x() * scale, at.y() - laid.at.y() * scale);
                drawFlat(pages_.drawing(), part, low, scale, laid.turned);
                Vec2 box = part.size_mm();
                if (laid.turned) std::swap(box.x(), box.y());
                const std::string of = pieceWords(part, part.of[static_cast<std::size_t>(laid.copy)]);
                double points = 7;
                while (points > 3.5 && wordsWidth_mm(of, points, true) > box.x() * scale - 1) points -= 0.25;
                pages_.text(low + Vec2(box.x(), -box.y()) * scale / 2 + Vec2(0, 1), of, points,
                            DrawnText::Align::centre, true);
            }
            pages_.gap(size.y() * scale + 3);
            pages_.words(fixed(100 * sheet.used, 0) + " % of the sheet become parts.", 10);
            pages_.row({"Low left corner of", "from the left", "from below", ""}, {0.45, 0.2, 0.2, 0.15},
                       true);
            for (const LaidPart& laid : sheet.parts) {
                const PlatePart& part = sheets_.plates[static_cast<std::size_t>(laid.part)];
                pages_.row({pieceWords(part, part.of[static_cast<std::size_t>(laid.copy)]), tape(laid.at.x()),
                            tape(laid.at.y()), laid.turned ? "a quarter turn" : ""},
                           {0.45, 0.2, 0.2, 0.15});
            }
        }
        pages_.words(plan.proved()
                         ? "No layout needs fewer sheets of that size: the parts alone fill as many."
                         : "Boxes round the parts are laid, not their true shapes: " +
                               std::to_string(plan.sheets.size()) + " sheets; no fewer than " +
                               std::to_string(plan.least) + " can do, by their areas.",
                     10);
        if (plan.price > 0)
            pages_.words("Sheets: " + fixed(plan.price, 2) + " " + sheets_.job->stock.currency + ".", 10);
        for (const std::string& each : plan.trouble) pages_.words("Not laid: " + each, 10, true);
    }

    const ShopSheets& sheets_;
    LengthUnit unit_;
    SheetPages pages_;
};

}  // namespace

void drawFlat(Drawing& drawing, const PlatePart& part, const Vec2& at, double scale, bool turned) {
    const Vec2 size = part.size_mm();
    const auto paper = [&](const Vec2& p) {
        const Vec2 q = turned ? Vec2(size.y() - p.y(), p.x()) : p;
        return Vec2(at.x() + q.x() * scale, at.y() - q.y() * scale);
    };
    DrawnPath edge{DrawnLine::cut, {}, true};
    for (const Vec2& p : part.outline) edge.points.push_back(paper(p));
    drawing.paths.push_back(std::move(edge));
    for (const PartHole& hole : part.holes) {
        const Vec2 middle = paper(hole.at);
        if (hole.diameter_mm > 0)
            drawing.arcs.push_back(
                {DrawnLine::cut, middle, hole.diameter_mm / 2 * scale, 0, 2 * std::numbers::pi});
        const double arm = std::min(1.5, 3 * scale);
        drawing.paths.push_back({DrawnLine::mark, {middle - Vec2(arm, 0), middle + Vec2(arm, 0)}, false});
        drawing.paths.push_back({DrawnLine::mark, {middle - Vec2(0, arm), middle + Vec2(0, arm)}, false});
    }
    for (const PartFold& fold : part.folds)
        drawing.paths.push_back({DrawnLine::fold, {paper(fold.from), paper(fold.to)}, false});
}

Drawing plateDrawing(const PlatePart& part) {
    Drawing out;
    out.title = part.name + ", flat, 1:1";
    out.size_mm = part.size_mm();
    drawFlat(out, part, {0, out.size_mm.y()}, 1);
    out.texts.push_back(
        {{out.size_mm.x() / 2, out.size_mm.y() / 2}, 8, part.id, DrawnText::Align::centre, true, false});
    return out;
}

Drawing sheetDrawing(const ShopSheets& sheets, const SheetPlan& plan, const LaidSheet& sheet) {
    Drawing out;
    out.title = plan.sheet + ", 1:1";
    out.size_mm = {plan.length_mm, plan.width_mm};
    out.paths.push_back({DrawnLine::hair,
                         {{0, 0}, {plan.length_mm, 0}, {plan.length_mm, plan.width_mm}, {0, plan.width_mm}},
                         true});
    for (const LaidPart& laid : sheet.parts) {
        const PlatePart& part = sheets.plates[static_cast<std::size_t>(laid.part)];
        const Vec2 low(laid.at.x(), plan.width_mm - laid.at.y());
        drawFlat(out, part, low, 1, laid.turned);
        Vec2 box = part.size_mm();
        if (laid.turned) std::swap(box.x(), box.y());
        out.texts.push_back({low + Vec2(box.x() / 2, -box.y() / 2), 8,
                             part.of[static_cast<std::size_t>(laid.copy)], DrawnText::Align::centre, true,
                             false});
    }
    return out;
}

std::vector<Drawing> platePages(const SheetHead& head, const ShopSheets& sheets) {
    if (sheets.plates.empty()) return {};
    return PlatePager(head, sheets).make();
}

std::vector<std::vector<std::string>> plateRows(const ShopSheets& sheets) {
    std::vector<std::vector<std::string>> rows = {{"part", "kind", "count", "material", "thickness_mm",
                                                   "flat_x_mm", "flat_y_mm", "flat_mm2", "all_planes_mm2",
                                                   "mass_kg", "weld_mm", "holes", "folds", "no_flat"}};
    for (const PlatePart& part : sheets.plates) {
        const bool flat = !part.outline.empty();
        const Vec2 size = part.size_mm();
        const auto figure = [&](double value) { return flat ? shortest(value) : std::string(); };
        rows.push_back({part.id, partKindWord(part.kind), std::to_string(part.count()), part.material,
                        shortest(part.thickness_mm), figure(size.x()), figure(size.y()),
                        figure(part.blank_mm2), shortest(part.faces_mm2), figure(part.blank_kg),
                        figure(part.weld_mm), std::to_string(part.holes.size()),
                        std::to_string(part.folds.size()), part.trouble});
    }
    return rows;
}

}  // namespace hoopwright
