#include <algorithm>
#include <cmath>
#include <numbers>

#include "app/sheets/shop_sheets.h"
#include "app/sheets/trim_pages.h"
#include "app/view/finding_text.h"
#include "core/base/text.h"
#include "core/shop/bend_checks.h"

namespace hoopwright {
namespace {

constexpr double kBendDegrees = 180 / std::numbers::pi;

class BendPager {
public:
    BendPager(const SheetHead& head, const ShopSheets& sheets)
        : sheets_(sheets), unit_(head.unit), pages_(head, "Bend sheet") {}

    std::vector<Drawing> make() {
        for (const BendSheet& sheet : sheets_.bends) {
            pages_.onOnePage([&] { first(sheet); });
            pages_.onOnePage([&] { second(sheet); });
        }
        addTrimPages(pages_, sheets_);
        return pages_.take();
    }

private:
    std::string tape(double mm) const { return showLength(mm, {unit_, 1, unit_ == LengthUnit::in ? 16 : 0}); }
    std::string plain(double mm) const { return showLength(mm, {unit_}); }

    const ResolvedMember& bar(const BendSheet& sheet) const {
        return sheets_.cage->members[static_cast<std::size_t>(sheet.member)];
    }
    std::string under(const BendSheet& sheet) const {
        const ResolvedMember& member = bar(sheet);
        std::string out =
            sheets_.job->stock.tubes[static_cast<std::size_t>(member.stock)].id + "  ·  die " + sheet.die;
        if (!sheet.bender.empty()) out += "  ·  bender " + sheet.bender;
        return out + "  ·  end A: " + sheet.end_a + "  ·  end B: " + sheet.end_b;
    }

    void first(const BendSheet& sheet) {
        pages_.page(loudName(bar(sheet).name), under(sheet));
        const int spares = sheets_.spares(sheet.member);
        pages_.words("Saw to " + tape(sheet.blank_mm) +
                         (spares > 0 ? "; make " + std::to_string(1 + spares) + " of it, " +
                                           (spares == 1 ? "one" : std::to_string(spares)) + " to spare"
                                     : ""),
                     20, true);
        std::string says =
            "Both ends square. Hook the tape on end A and leave it on: every mark is from there.";
        if (sheet.bend_long_mm > 0)
            says += " " + plain(sheet.bend_long_mm) +
                    " of it are bend-long, at end B; the finished tube is " + tape(sheet.finished_mm) +
                    " from longest point to longest point.";
        pages_.words(says, 10);
        pages_.gap(2);
        strip(sheet);
        steps(sheet);
        for (const std::string& say : sheet.words) pages_.words(say, 11, false, false, 2);
        for (const BendStep& step : sheet.order.steps)
            for (const std::string& trouble : step.troubles) pages_.words(trouble, 10, true);
        checks(sheet);
        rulings(sheet);
        wall(sheet);
        for (const std::string& caution : sheet.cautions) pages_.words("Note: " + caution, 10, true);
    }

    /// The blank, with its bends and marks where the tape finds them.
    void strip(const BendSheet& sheet) {
        const double x0 = pages_.left(), w = pages_.width(), y = pages_.y() + 8;
        const double scale = w / sheet.blank_mm;
        pages_.box({x0, y}, {w, 5}, DrawnLine::part);
        pages_.text({x0, y - 1.5}, "A", 12, DrawnText::Align::left, true);
        pages_.text({x0 + w, y - 1.5}, "B", 12, DrawnText::Align::right, true);
        for (std::size_t i = 0; i < sheet.bends.size(); ++i) {
            const SheetBend& bend = sheet.bends[i];
            const double from = x0 + bend.start_mm * scale, to = x0 + bend.end_mm * scale;
            for (double x = from; x < to; x += 1.2) pages_.line({x, y + 5}, {std::min(x + 1.2, to), y});
            pages_.line({from, y}, {from, y + 5}, DrawnLine::part);
            pages_.line({to, y}, {to, y + 5}, DrawnLine::part);
            pages_.text({0.5 * (from + to), y - 1.5}, std::to_string(i + 1), 11, DrawnText::Align::centre,
                        true);
            const double low = y + 9.5 + (i % 2 == 0 ? 0 : 4.6);
            pages_.text({0.5 * (from + to), low}, plain(bend.start_mm) + " – " + plain(bend.end_mm), 9,
                        DrawnText::Align::centre);
        }
        if (sheet.bend_long_mm > 0) {
            const double x = x0 + (sheet.blank_mm - sheet.bend_long_mm) * scale;
            pages_.line({x, y - 1}, {x, y + 6}, DrawnLine::mark);
        }
        pages_.skip(8 + 5 + 10.5);
    }

    /// Read at arm's length: the figure large, what goes with it under it.
    SheetPages::Figure markFigure(double mm) const {
        if (unit_ != LengthUnit::in) return {plain(mm)};
        constexpr double kInch_mm = 25.4;
        const InchFraction near = nearestFraction(mm, 16);
        const std::string off = fixed(std::abs(near.error_mm / kInch_mm), 3);
        return {plain(mm), near.text + (off == "0.000" ? "" : (near.error_mm < 0 ? " -" : " +") + off)};
    }

    void steps(const BendSheet& sheet) {
        pages_.heading("In this order");
        const std::vector<double> shares = {0.07, 0.24, 0.27, 0.16, 0.13, 0.13};
        pages_.row({"bend", "mark from end A", "turn, seen from A", "dial", "measure", "got"}, shares, true,
                   false, 11);
        for (const BendStep& step : sheet.order.steps) {
            const SheetBend& bend = sheet.bends[static_cast<std::size_t>(step.bend)];
            SheetPages::Figure mark = markFigure(bend.mark_mm   ? *bend.mark_mm
                                                 : step.a_leads ? bend.start_mm
                                                                : bend.end_mm);
            if (!bend.mark_mm) mark.small = "where the bend begins";
            SheetPages::Figure dial{"–"};
            if (bend.dial_rad) {
                dial = {showAngle(*bend.dial_rad), "±" + showAngle(*bend.dial_interval_rad)};
                if (bend.strokes)
                    dial.small +=
                        ", " + std::to_string(*bend.strokes) + (*bend.strokes == 1 ? " stroke" : " strokes");
            }
            const bool first = &step == &sheet.order.steps.front();
            std::string turn = first ? "–" : turnWords(step.turn_rad);
            if (turn.starts_with("turn the tube ")) turn = turn.substr(14);
            if (turn.starts_with("do not")) turn = "none";
            pages_.figures({{std::to_string(step.bend + 1)},
                            mark,
                            {turn},
                            dial,
                            {showAngle(bend.angle_rad)},
                            {"", "", true}},
                           shares, 17);
        }
        pages_.gap(1.5);
    }

    void checks(const BendSheet& sheet) {
        pages_.heading("Tape this afterwards, before anything is trimmed: if it tapes so, the tube is right");
        const std::vector<double> shares = {0.62, 0.22, 0.16};
        for (const TapeCheck& check : sheet.checks)
            pages_.row({check.what, tape(check.value_mm), ""}, shares, false, true, 12);
        pages_.gap(1);
        std::string say = "A quarter of a degree moves end B: ";
        for (std::size_t i = 0; i < sheet.bends.size(); ++i) {
            const SheetBend& bend = sheet.bends[i];
            say += "at bend " + std::to_string(i + 1) + " by " + plain(bend.quarter_bend_mm);
            if (i > 0) say += ", in the turn before it by " + plain(bend.quarter_turn_mm);
            say += i + 1 < sheet.bends.size() ? "; " : ".";
        }
        pages_.words(say, 10);
    }

    /// What the active tables say of its bends.
    void rulings(const BendSheet& sheet) {
        const std::vector<double> shares = {0.5, 0.14, 0.2, 0.16};
        bool any = false;
        for (const BarFinding& one : sheets_.rulings) {
            if (one.member != sheet.member) continue;
            if (!any) {
                pages_.heading("What the rules say of its bends");
                pages_.row({"", "has", "wanted", ""}, shares, true);
            }
            any = true;
            const Finding& finding = one.finding;
            const LengthStyle style{unit_};
            pages_.row({finding.title + " (" + finding.table + ", " + clauseText(finding) + ")",
                        valueText(finding, style).empty() ? finding.found : valueText(finding, style),
                        limitText(finding, style), answerPhrase(finding)},
                       shares, finding.answer == Answer::fails);
            if (finding.answer == Answer::ask_person || finding.answer == Answer::cannot_tell)
                pages_.words(finding.missing, 9.5, false, true, 4);
            if (!finding.beware.empty()) pages_.words(finding.beware, 9.5, false, true, 4);
        }
        if (!any) pages_.words("No rule of a table in use speaks of its bends.", 9.5, false, true);
    }

    void wall(const BendSheet& sheet) {
        double least = sheet.wall_mm;
        for (const SheetBend& bend : sheet.bends) least = std::min(least, bend.outer_wall_mm);
        const LengthStyle fine{unit_, 2};
        std::string say = std::string("Wall on the outside of the bends: not under ") +
                          showLength(least, fine) + " of " + showLength(sheet.wall_mm, fine) +
                          (sheet.wall_measured ? " as measured on the rack." : " as listed.");
        if (sheet.least_roundness)
            say += " Round: the least over the greatest diameter of a bend not under " +
                   fixed(*sheet.least_roundness, 2) + ", so not under " +
                   showLength(*sheet.least_roundness * sheet.od_mm, fine) + " where the other reads " +
                   showLength(sheet.od_mm, fine) + ".";
        pages_.words(say, 10);
    }

    void second(const BendSheet& sheet) {
        pages_.page(loudName(bar(sheet).name) + ", on the floor", under(sheet));
        pages_.words(
            "Chalk a line and put end A on its start, end B on it. Along it from A, square to it, and up "
            "from the tube's own middle. Or tape the sheets of floor.pdf together: the tube lies on them in "
            "full size.",
            10);
        plan(sheet);
        // One that lies flat has no heights to chalk.
        const std::vector<double> shares =
            sheet.flat ? std::vector{0.5, 0.25, 0.25} : std::vector{0.46, 0.18, 0.18, 0.18};
        std::vector<std::string> heads = {"of the tube's middle", "along", "square to it", "up"};
        if (sheet.flat) heads.pop_back();
        pages_.row(heads, shares, true, false, 12);
        for (const FloorPoint& point : sheet.floor) {
            std::vector<std::string> cells = {point.what, plain(point.at.x()), plain(point.at.y()),
                                              plain(point.at.z())};
            if (sheet.flat) cells.pop_back();
            pages_.row(cells, shares, false, false, 13);
        }
    }

    void plan(const BendSheet& sheet) {
        const Centreline line = floorLine(sheet);
        Box box = line.bounds();
        const double r = sheet.od_mm / 2, h = 82;
        const double scale =
            std::min(pages_.width() / (box.sizes().x() + 2 * r), h / (box.sizes().y() + 2 * r));
        const double x0 = pages_.left() + 0.5 * (pages_.width() - scale * box.sizes().x());
        const double y0 = pages_.y() + 4 + scale * (box.max().y() + r);
        const auto on = [&](const Vec3& p) {
            return Vec2(x0 + scale * (p.x() - box.min().x()), y0 - scale * p.y());
        };
        DrawnPath path{DrawnLine::part, {}, false};
        for (const double station : line.sampleStations(0.2)) path.points.push_back(on(line.point(station)));
        pages_.drawing().paths.push_back(path);
        pages_.line(on({0, 0, 0}), on({line.end().x(), 0, 0}), DrawnLine::mark);
        pages_.text(on(line.start()) + Vec2(-1, 5), "A", 11, DrawnText::Align::centre, true);
        pages_.text(on(line.end()) + Vec2(1, 5), "B", 11, DrawnText::Align::centre, true);
        pages_.skip(std::min(h, scale * (box.sizes().y() + 2 * r)) + 12);
    }

    const ShopSheets& sheets_;
    LengthUnit unit_;
    SheetPages pages_;
};

}  // namespace

std::string loudName(const std::string& name) {
    std::string out = name;
    for (const auto& [quiet, loud] : {std::pair{", left", ", LEFT"}, {", right", ", RIGHT"}})
        if (out.ends_with(quiet))
            out.replace(out.size() - std::string(quiet).size(), std::string::npos, loud);
    return out;
}

std::vector<Drawing> bendPages(const SheetHead& head, const ShopSheets& sheets) {
    return BendPager(head, sheets).make();
}

std::vector<std::vector<std::string>> bendRows(const ShopSheets& sheets) {
    std::vector<std::vector<std::string>> rows = {
        {"bar", "step", "bend", "front_end", "starts_mm", "ends_mm", "mark_mm", "turn_deg", "dial_deg",
         "dial_interval_deg", "angle_deg", "radius_mm", "rotation_deg", "straight_before_mm", "blank_mm"}};
    for (const BendSheet& sheet : sheets.bends) {
        int number = 0;
        for (const BendStep& step : sheet.order.steps) {
            const SheetBend& bend = sheet.bends[static_cast<std::size_t>(step.bend)];
            const auto angle = [](const std::optional<double>& rad) {
                return rad ? shortest(*rad * kBendDegrees) : std::string();
            };
            rows.push_back({sheets.cage->members[static_cast<std::size_t>(sheet.member)].id,
                            std::to_string(++number), std::to_string(step.bend + 1), step.a_leads ? "A" : "B",
                            shortest(bend.start_mm), shortest(bend.end_mm),
                            bend.mark_mm ? shortest(*bend.mark_mm) : "", angle(step.turn_rad),
                            angle(bend.dial_rad), angle(bend.dial_interval_rad), angle(bend.angle_rad),
                            shortest(bend.radius_mm), angle(bend.rotation_rad),
                            shortest(bend.straight_before_mm), shortest(sheet.blank_mm)});
        }
    }
    return rows;
}

}  // namespace hoopwright
