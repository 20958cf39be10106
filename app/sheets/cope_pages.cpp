#include <cmath>
#include <numbers>

#include "app/sheets/shop_sheets.h"
#include "app/sheets/wrap_drawing.h"
#include "core/base/text.h"

namespace hoopwright {
namespace {

constexpr double kDegrees = 180 / std::numbers::pi;

std::string endLetter(std::size_t end) {
    return end == 0 ? "A" : "B";
}

class CopePager {
public:
    CopePager(const SheetHead& head, const ShopSheets& sheets)
        : sheets_(sheets), unit_(head.unit), pages_(head, "Cope sheet") {}

    std::vector<Drawing> make() {
        for (const CopeSheet& sheet : sheets_.copes) {
            figures(sheet);
            wraps(sheet);
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
                   14);
        pages_.row({"Throat to throat", tape(sheet.cut.short_to_short_mm)}, shares, false, false, 11);
        pages_.row({"Along the middle, from centre to centre", tape(sheet.cut.centre_mm)}, shares, false,
                   false, 11);
        if (sheet.clock_between_rad) {
            const double turn = *sheet.clock_between_rad;
            const std::string way =
                std::abs(turn) < 0.05 / kDegrees
                    ? "in line"
                    : showAngle(std::abs(turn)) + (turn > 0 ? " clockwise" : " anticlockwise");
            pages_.row({"From the longest point at A to that at B, seen from A", way}, shares, false, false,
                       11);
        }
        if (sheet.seam_phi_rad)
            pages_.words("Keep the seam " + showAngle(*sheet.seam_phi_rad, 0) + " from the clock line.", 10);
        for (std::size_t e = 0; e < 2; ++e) end(sheet, e);
        prep(sheet);
        for (const std::string& caution : sheet.cautions) pages_.words("Note: " + caution, 9.5, true);
    }

    void end(const CopeSheet& sheet, std::size_t e) {
        const CopeSheetEnd& end = sheet.ends[e];
        pages_.heading("End " + endLetter(e) + ", at " + end.at);
        if (end.square) pages_.words("It lands on nothing: cut square.", 10);
        if (end.square || !end.trouble.empty()) return;
        if (end.hosts.size() > 1)
            pages_.words("Cut to " + std::to_string(end.hosts.size()) +
                             " in this order; the fitting order says who runs through.",
                         10);
        for (const CutTo& host : end.hosts) cutTo(host);
        if (end.flats) {
            pages_.words("Or two straight cuts from square, heel " + showAngle(end.flats->heel_rad) +
                             " and toe " + showAngle(end.flats->toe_rad) + ": leaves up to " +
                             fine(end.flats->grind_mm) + " to grind, and is open by up to " +
                             fine(end.flats->gap_mm) + ".",
                         9.5, false, false, 2);
        }
        lands(end);
        weld(end);
    }

    void cutTo(const CutTo& host) {
        if (host.plate) {
            pages_.words("Flat on " + host.name + ": " + showAngle(host.angle_rad) +
                             " between tube and plate, so " +
                             showAngle(std::numbers::pi / 2 - host.angle_rad) + " from a square cut.",
                         10, false, false, 2);
            return;
        }
        std::string say =
            host.name + ", " + fine(host.diameter_mm) + ": axes at " + showAngle(host.angle_rad) + " (" +
            showAngle(std::numbers::pi / 2 - host.angle_rad) + " from square), offset " +
            fine(host.offset_mm) + ", heel at " + showAngle(host.heel_phi_rad, 0) + " on the wrap's scale.";
        if (host.on_bend) say += " It lands on a bend: the wrap follows it, a straight saw does not quite.";
        pages_.words(say, 10, false, false, 2);
        if (host.saw) {
            const std::string gap = host.saw->gap_mm < 0.005
                                        ? "no gap"
                                        : "a gap of up to " + fine(host.saw->gap_mm) + " at " +
                                              showAngle(host.saw->gap_phi_rad, 0);
            pages_.words("Hole saw " + fine(host.saw->size_mm) + ", its middle " + tape(host.depth_mm) +
                             " back from the longest point: leaves " + gap + ".",
                         11, true, false, 2);
        } else {
            pages_.words("No hole saw for it: " + host.no_saw + ".", 10, false, false, 2);
        }
    }

    void lands(const CopeSheetEnd& end) {
        if (end.lands.empty()) return;
        std::string say = "Grind back until the wall is full: up to " + fine(end.profile.grind_mm) + " at " +
                          showAngle(end.profile.grind_phi_rad, 0) + "; " + fixed(100 * end.thin_share, 0) +
                          " % of the round need more than " + fine(kThin_mm) + ". There: ";
        for (const LandStep& step : end.lands)
            say += fine(step.grind_mm) + " leaves a land of " + fine(step.land_mm) + " and a gap of " +
                   fine(step.gap_mm) + (&step == &end.lands.back() ? "." : "; ");
        pages_.words(say, 9.5, false, false, 2);
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
        for (const Arc& arc : end.grooves)
            say += " Groove from " + showAngle(arc.from_rad, 0) + " to " +
                   showAngle(std::fmod(arc.to_rad, 2 * std::numbers::pi), 0) + ".";
        pages_.words(say, 9.5, false, false, 2);
    }

    void prep(const CopeSheet& sheet) {
        pages_.heading("Before it is welded");
        std::string say =
            "Clean " + plain(sheet.clean_outside_mm) + " back outside and " + plain(sheet.clean_inside_mm) +
            " in the bore, and the landing as wide; scale comes off, wall does not. Deburr. Look round "
            "the end: the whole wall of " +
            fine(sheet.wall_mm) + " shows everywhere. Weld of both ends " + plain(sheet.weld_mm);
        if (sheet.filler_g) say += "; filler about " + fixed(*sheet.filler_g, 0) + " g";
        if (sheet.gas_l) say += ", gas about " + fixed(*sheet.gas_l, 0) + " l";
        pages_.words(say + ".", 9.5);
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
                                 " and does not go on this paper at 1:1: print its SVG on a long strip.",
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
        pages_.words("Print at 100 %, not fitted to the page. Put a rule on both bars before you cut.", 9.5);
        const double y = pages_.y() + 4;
        const auto bar = [&](double x, double length, const std::string& what) {
            pages_.line({x, y}, {x + length, y}, DrawnLine::part);
            for (const double end : {x, x + length}) pages_.line({end, y - 2}, {end, y + 2}, DrawnLine::part);
            pages_.text({x + length / 2, y + 4.5}, what, 8, DrawnText::Align::centre);
        };
        const double inch = 25.4;
        bar(pages_.left(), 100, "100 mm");
        if (pages_.width() > 100 + 3 + 2 * inch) bar(pages_.left() + 108, 2 * inch, "2 in");
        pages_.gap(10);
        const double low = pages_.y() + 3;
        pages_.line({pages_.left(), low}, {pages_.left() + 4 * inch, low}, DrawnLine::part);
        for (const double end : {0.0, 4 * inch})
            pages_.line({pages_.left() + end, low - 2}, {pages_.left() + end, low + 2}, DrawnLine::part);
        pages_.text({pages_.left() + 4 * inch + 3, low + 1}, "4 in", 8);
        pages_.gap(9);
    }

    const ShopSheets& sheets_;
    LengthUnit unit_;
    SheetPages pages_;
    bool open_ = false;
};

}  // namespace

std::vector<Drawing> copePages(const SheetHead& head, const ShopSheets& sheets) {
    return CopePager(head, sheets).make();
}

Drawing wrapDrawing(const ShopSheets& sheets, const CopeSheet& sheet, int end) {
    const WrapSize size = wrapSize(sheet, sheet.ends[static_cast<std::size_t>(end)]);
    Drawing out;
    out.title = loudName(sheets.cage->members[static_cast<std::size_t>(sheet.member)].name) + ", end " +
                endLetter(static_cast<std::size_t>(end)) + ", wrap 1:1";
    constexpr double kEdge_mm = 5;
    out.size_mm = Vec2(size.width_mm + 2 * kEdge_mm, size.height_mm + 2 * kEdge_mm + 5);
    out.texts.push_back({{kEdge_mm, kEdge_mm + 2}, 8, out.title, DrawnText::Align::left, true, false});
    drawWrap(out, {kEdge_mm, kEdge_mm + 5}, sheet, end, sheets.job->cage.unit);
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
                                host.id, shortest(host.angle_rad * kDegrees), shortest(host.offset_mm),
                                shortest(host.heel_phi_rad * kDegrees), shortest(host.depth_mm),
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
