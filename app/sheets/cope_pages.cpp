#include <algorithm>
#include <cmath>
#include <numbers>

#include "app/sheets/one_line.h"
#include "app/sheets/shop_sheets.h"
#include "app/sheets/wrap_drawing.h"
#include "core/base/text.h"

namespace hoopwright {
namespace {

constexpr double kCopeDegrees = 180 / std::numbers::pi;

constexpr double kInch_mm = 25.4, kStripEdge_mm = 5;

/// A bar to put a rule on.
void proofBar(Drawing& into, const Vec2& at, double length_mm, const std::string& what) {
    const auto line = [&](const Vec2& from, const Vec2& to) {
        into.paths.push_back({DrawnLine::part, {from, to}, false});
    };
    const Vec2 end = at + Vec2(length_mm, 0), tick(0, 2);
    line(at, end);
    line(at - tick, at + tick);
    line(end - tick, end + tick);
    into.texts.push_back({at + Vec2(length_mm / 2, 4.5), 8, what, DrawnText::Align::centre});
}

std::string endLetter(std::size_t end) {
    return end == 0 ? "A" : "B";
}

class CopePager {
public:
    CopePager(const SheetHead& head, const ShopSheets& sheets)
        : sheets_(sheets), unit_(head.unit), pages_(head, "Cope sheet") {}

    std::vector<Drawing> make(bool strip) {
        for (const CopeSheet& sheet : sheets_.copes) {
            pages_.onOnePage([&] { figures(sheet); });
            if (!strip) wraps(sheet);
        }
        return pages_.take();
    }

private:
    std::string tape(double mm) const { return showLength(mm, {unit_, 1, unit_ == LengthUnit::in ? 16 : 0}); }
    std::string plain(double mm) const { return showLength(mm, {unit_}); }
    std::string fine(double mm) const { return showLength(mm, {unit_, 2}); }
    const ResolvedMember& bar(const CopeSheet& sheet) const {
        return sheets_.cage->members[static_cast<std::size_t>(sheet.member)];
    }
    std::string under(const CopeSheet& sheet) const {
        return sheets_.job->stock.tubes[static_cast<std::size_t>(bar(sheet).stock)].id +
               "  ·  end A: " + sheet.ends[0].at + "  ·  end B: " + sheet.ends[1].at;
    }

    void figures(const CopeSheet& sheet) {
        pages_.page(loudName(bar(sheet).name), under(sheet));
        if (sheet.saw_off_mm)
            pages_.words("Bought bent: saw " + tape(std::max(0.0, (*sheet.saw_off_mm)[0])) +
                             " off the leg at A and " + tape(std::max(0.0, (*sheet.saw_off_mm)[1])) +
                             " off the leg at B, square, then cope.",
                         11, true);
        const std::vector<double> shares = {0.62, 0.38};
        pages_.row({"Longest point to longest point", tape(sheet.cut.long_to_long_mm)}, shares, true, false,
                   20);
        pages_.row({"Throat to throat", tape(sheet.cut.short_to_short_mm)}, shares, false, false, 13);
        pages_.row({"Along the middle, from centre to centre", tape(sheet.cut.centre_mm)}, shares, false,
                   false, 13);
        if (sheet.clock_between_rad) {
            const double turn = *sheet.clock_between_rad;
            const std::string way =
                std::abs(turn) < 0.05 / kCopeDegrees
                    ? "in line"
                    : showAngle(std::abs(turn)) + (turn > 0 ? " clockwise" : " anticlockwise");
            pages_.row({"From the longest point at A to that at B, seen from A", way}, shares, true, false,
                       13);
        }
        std::string say = "The clock line, 0° of both wraps, runs along " + sheet.clock + ".";
        if (sheet.seam_phi_rad) say += " Keep the seam " + showAngle(*sheet.seam_phi_rad, 0) + " from it.";
        say += " Put in as number " + std::to_string(sheet.fitted) + " of " +
               std::to_string(sheets_.cage->members.size()) +
               ": it is cut to what goes in before it; another build order cuts others.";
        pages_.words(say, 10);
        for (std::size_t e = 0; e < 2; ++e) end(sheet, e);
        prep(sheet);
        for (const std::string& caution : sheet.cautions) pages_.words("Note: " + caution, 10, true);
    }

    void end(const CopeSheet& sheet, std::size_t e) {
        const CopeSheetEnd& end = sheet.ends[e];
        pages_.gap(2);
        pages_.rule();
        pages_.heading("End " + endLetter(e) + ", at " + end.at);
        if (end.square) pages_.words("It lands on nothing: cut square.", 12);
        if (end.square || !end.trouble.empty()) return;
        if (end.hosts.size() > 1)
            pages_.words("Cut to " + std::to_string(end.hosts.size()) + ", in this order:", 11);
        const std::vector<double> shares = {0.32, 0.14, 0.12, 0.14, 0.16, 0.12};
        pages_.row({"", "across", "axes at", "from square", "offset", "heel at"}, shares, false, false, 8.5);
        for (const CutTo& host : end.hosts) cutTo(host, shares);
        for (const FoldUnder& fold : end.folds) foldUnder(fold);
        flats(end);
        lands(end);
        weld(end);
    }

    void cutTo(const CutTo& host, const std::vector<double>& shares) {
        const double from_square = std::numbers::pi / 2 - host.angle_rad;
        pages_.row({(host.plate ? "Flat on " : "") + host.name, host.plate ? "–" : fine(host.diameter_mm),
                    showAngle(host.angle_rad), showAngle(from_square),
                    host.plate ? "–" : fine(host.offset_mm), showAngle(host.heel_phi_rad, 0)},
                   shares, true, false, 13);
        if (host.plate) return;
        if (host.on_bend)
            pages_.words("It lands on a bend: the wrap follows it, a straight saw does not quite.", 10, false,
                         false, 2);
        if (host.saw) {
            const std::string gap = host.saw->gap_mm < 0.005
                                        ? "no gap"
                                        : "a gap of up to " + fine(host.saw->gap_mm) + " at " +
                                              showAngle(host.saw->gap_phi_rad, 0);
            pages_.words("Hole saw " + fine(host.saw->size_mm) + ", its middle " + depth(host.depth_mm) +
                             ": leaves " + gap + ".",
                         13, true, false, 2);
        } else {
            pages_.words(
                "No hole saw for it: " + host.no_saw + ". Its middle would be " + depth(host.depth_mm) + ".",
                11, false, false, 2);
        }
    }
    void foldUnder(const FoldUnder& fold) {
        std::string say =
            "It stands across the fold of the flap " + fold.flap + "; the cut line is to sharp faces. ";
        if (!fold.inside_mm) {
            say +=
                "The shop's book has no fold in that sheet: fold a strip, add its radius, and ease the end "
                "there until it sits.";
        } else {
            say += "With the inside radius " + fine(*fold.inside_mm) + " of the book ";
            if (fold.take_off_mm)
                say += "the round fills the corner: take " + fine(*fold.take_off_mm) +
                       " off the end where it crosses the fold.";
            if (fold.gap_mm)
                say += "the round falls away: a gap of " + fine(*fold.gap_mm) + " where it crosses the fold.";
        }
        pages_.words(say, 10.5, true, false, 2);
    }

    /// Where the saw's axis passes.
    std::string depth(double mm) const {
        constexpr double kAt_mm = 0.05;
        if (std::abs(mm) < kAt_mm) return "at the longest point";
        return tape(std::abs(mm)) + (mm > 0 ? " back from the longest point" : " out past the longest point");
    }

    void flats(const CopeSheetEnd& end) {
        if (!end.flats) return;
        const auto angle = [](double rad) {
            return showAngle(std::abs(rad)) + (rad < 0 ? " the other way" : "");
        };
        std::string say = "Or two straight cuts from square: heel " + angle(end.flats->heel_rad) + ", toe " +
                          angle(end.flats->toe_rad) + ". They leave " +
                          (end.flats->grind_mm < 0.005 ? "nothing" : "up to " + fine(end.flats->grind_mm)) +
                          " to grind, and are open by up to " + fine(end.flats->gap_mm) + ". ";
        if (sheets_.job->shop && !sheets_.job->shop->saws.empty())
            say +=
                end.flats->saw.empty() ? "No saw of the shop swings so far." : "On: " + end.flats->saw + ".";
        pages_.words(say, 10.5, false, false, 2);
    }

    void lands(const CopeSheetEnd& end) {
        if (end.lands.empty()) return;
        std::string say;
        if (end.thin_mm > 0)
            say = "As cut, the edge is a feather for " + plain(end.thin_mm) + " of the round (" +
                  fixed(100 * end.thin_share, 0) + " %, more than " + fine(kThin_mm) + " to grind). ";
        say += "Grind back until the wall is full: up to " + fine(end.profile.grind_mm) + " at " +
               showAngle(end.profile.grind_phi_rad, 0) + ". There ";
        for (const LandStep& step : end.lands)
            say += fine(step.grind_mm) + " leaves a land of " + fine(step.land_mm) + " and a gap of " +
                   fine(step.gap_mm) + (&step == &end.lands.back() ? "." : "; ");
        pages_.words(say, 10.5, false, false, 2);
    }

    void weld(const CopeSheetEnd& end) {
        std::string say = "Weld " + plain(end.weld_mm) + ": ";
        const auto part = [&](double mm, const char* what) {
            if (mm > 0.05) say += plain(mm) + " " + what + ", ";
        };
        part(end.zones.under_30_mm, "under 30°");
        part(end.zones.from_30_mm, "from 30° to 60°");
        part(end.zones.from_60_mm, "from 60° to 135°");
        part(end.zones.over_135_mm, "over 135°, to be grooved");
        say.replace(say.size() - 2, 2, "; sharpest " + showAngle(end.profile.least_dihedral_rad) + ".");
        for (const Arc& arc : end.grooves) say += " Groove " + arcWords(arc) + ".";
        for (const Arc& arc : end.narrow)
            say += " Under 30° " + arcWords(arc) + ": no torch reaches the root.";
        pages_.words(say, 10.5, false, false, 2);
    }
    static std::string arcWords(const Arc& arc) {
        return "from " + showAngle(arc.from_rad, 0) + " to " +
               showAngle(std::fmod(arc.to_rad, 2 * std::numbers::pi), 0);
    }

    void prep(const CopeSheet& sheet) {
        pages_.gap(2);
        pages_.rule();
        pages_.heading("Before it is welded");
        std::string say =
            "Clean " + plain(sheet.clean_outside_mm) + " back outside and " + plain(sheet.clean_inside_mm) +
            " in the bore, and the landing as wide; scale comes off, wall does not. Deburr. Look round "
            "the end: the whole wall of " +
            fine(sheet.wall_mm) + " shows everywhere.";
        pages_.words(say, 11);
        say = "Weld of both ends " + plain(sheet.weld_mm);
        say += sheet.filler_g ? "; filler about " + fixed(*sheet.filler_g, 0) + " g"
                              : "; filler and gas are not known: the shop's book has no weld figures";
        if (sheet.gas_l) say += ", gas about " + fixed(*sheet.gas_l, 0) + " l";
        pages_.words(say + ".", 11);
    }

    void wraps(const CopeSheet& sheet) {
        for (std::size_t e = 0; e < 2; ++e) {
            const CopeSheetEnd& end = sheet.ends[e];
            if (end.square || !end.trouble.empty()) continue;
            const WrapSize size = wrapSize(sheet, end);
            const bool room = e == 1 && open_ && pages_.y() + size.height_mm < pages_.bottom();
            if (!room) {
                pages_.page(loudName(bar(sheet).name) + ", wrap", under(sheet));
                printProof();
            }
            open_ = true;
            if (size.width_mm > pages_.width() || pages_.y() + size.height_mm > pages_.bottom()) {
                pages_.words("The wrap of end " + endLetter(e) + " is " + plain(size.width_mm) + " by " +
                                 plain(size.height_mm) +
                                 " and does not go on this paper at 1:1: print the wraps on a long strip, "
                                 "or its SVG.",
                             11, true);
                continue;
            }
            drawWrap(pages_.drawing(), {pages_.left(), pages_.y()}, sheet, static_cast<int>(e), unit_);
            pages_.gap(size.height_mm + 3);
        }
        open_ = false;
    }

    /// Two bars that prove the print.
    void printProof() {
        pages_.words("Print at 100 %, not fitted to the page. Put a rule on both bars before you cut.", 11);
        const double y = pages_.y() + 4;
        proofBar(pages_.drawing(), {pages_.left(), y}, 100, "100 mm");
        if (pages_.width() > 100 + 3 + 2 * kInch_mm)
            proofBar(pages_.drawing(), {pages_.left() + 108, y}, 2 * kInch_mm, "2 in");
        proofBar(pages_.drawing(), {pages_.left(), y + 9}, 4 * kInch_mm, "4 in");
        pages_.gap(20);
    }

    const ShopSheets& sheets_;
    LengthUnit unit_;
    SheetPages pages_;
    bool open_ = false;
};

}  // namespace

std::vector<Drawing> copePages(const SheetHead& head, const ShopSheets& sheets) {
    return CopePager(head, sheets).make(head.strip);
}

std::vector<Drawing> wrapStrips(const SheetHead& head, const ShopSheets& sheets) {
    std::vector<Drawing> out;
    for (const CopeSheet& sheet : sheets.copes) {
        for (const int end : {0, 1}) {
            const CopeSheetEnd& made = sheet.ends[static_cast<std::size_t>(end)];
            if (made.square || !made.trouble.empty()) continue;
            out.push_back(wrapDrawing(sheets, sheet, end));
            Drawing& page = out.back();
            const std::string rest = ", revision " + head.revision +
                                     ". It plans and certifies nothing; try the first one on scrap.";
            const double room = page.size_mm.x() - 2 * kStripEdge_mm - wordsWidth_mm(rest, 6);
            page.texts.push_back({{kStripEdge_mm, page.size_mm.y() - 3},
                                  6,
                                  onOneLine(head.job, 6, false, room) + rest,
                                  DrawnText::Align::left,
                                  false,
                                  true});
        }
    }
    return out;
}

Drawing wrapDrawing(const ShopSheets& sheets, const CopeSheet& sheet, int end) {
    const WrapSize size = wrapSize(sheet, sheet.ends[static_cast<std::size_t>(end)]);
    Drawing out;
    out.title = loudName(sheets.cage->members[static_cast<std::size_t>(sheet.member)].name) + ", end " +
                endLetter(static_cast<std::size_t>(end)) + ", wrap 1:1";
    constexpr double kHead_mm = 26, kFoot_mm = 3;
    out.size_mm = Vec2(std::max(size.width_mm, 4 * kInch_mm + 8) + 2 * kStripEdge_mm,
                       kStripEdge_mm + kHead_mm + size.height_mm + kStripEdge_mm + kFoot_mm);
    out.texts.push_back({{kStripEdge_mm, kStripEdge_mm + 3},
                         9,
                         onOneLine(out.title, 9, true, out.size_mm.x() - 2 * kStripEdge_mm),
                         DrawnText::Align::left,
                         true,
                         false});
    proofBar(out, {kStripEdge_mm, kStripEdge_mm + 8}, 100, "100 mm");
    proofBar(out, {kStripEdge_mm, kStripEdge_mm + 17}, 4 * kInch_mm, "4 in");
    drawWrap(out, {kStripEdge_mm, kStripEdge_mm + kHead_mm}, sheet, end, sheets.job->cage.unit);
    return out;
}

std::vector<std::vector<std::string>> copeRows(const ShopSheets& sheets) {
    std::vector<std::vector<std::string>> rows = {
        {"bar", "end", "cut_to", "angle_deg", "offset_mm", "heel_deg", "depth_mm", "hole_saw_mm", "gap_mm",
         "grind_mm", "weld_mm", "long_to_long_mm", "throat_to_throat_mm", "centre_mm"}};
    for (const CopeSheet& sheet : sheets.copes) {
        for (std::size_t e = 0; e < 2; ++e) {
            const CopeSheetEnd& end = sheet.ends[e];
            for (const CutTo& host : end.hosts) {
                rows.push_back({sheets.cage->members[static_cast<std::size_t>(sheet.member)].id, endLetter(e),
                                host.id + (host.flap.empty() ? "" : " flap " + host.flap),
                                shortest(host.angle_rad * kCopeDegrees), shortest(host.offset_mm),
                                shortest(host.heel_phi_rad * kCopeDegrees), shortest(host.depth_mm),
                                host.saw ? shortest(host.saw->size_mm) : "",
                                host.saw ? shortest(host.saw->gap_mm) : "", shortest(end.profile.grind_mm),
                                shortest(end.weld_mm), shortest(sheet.cut.long_to_long_mm),
                                shortest(sheet.cut.short_to_short_mm), shortest(sheet.cut.centre_mm)});
            }
        }
    }
    return rows;
}

}  // namespace hoopwright
