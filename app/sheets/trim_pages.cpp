#include "app/sheets/trim_pages.h"

#include <algorithm>
#include <cmath>

#include "core/base/text.h"

namespace hoopwright {
namespace {

class TrimPager {
public:
    TrimPager(SheetPages& pages, const ShopSheets& sheets)
        : pages_(pages), sheets_(sheets), unit_(sheets.job->cage.unit) {}

    void add(const CopeSheet& sheet) {
        const ResolvedMember& tube = sheets_.cage->members[static_cast<std::size_t>(sheet.member)];
        const BentShape& shape = tube.bought->shape;
        const auto& saw = *sheet.saw_off_mm;
        pages_.page(loudName(tube.name) + ", trim and cope",
                    sheets_.job->stock.tubes[static_cast<std::size_t>(tube.stock)].id +
                        "  ·  bought bent  ·  end A: " + sheet.ends[0].at +
                        "  ·  end B: " + sheet.ends[1].at);
        for (const std::size_t e : {0u, 1u}) {
            const std::string end = e == 0 ? "A" : "B";
            pages_.words(saw[e] >= 0
                             ? "Saw " + tape(saw[e]) + " off the leg at " + end
                             : "The leg at " + end + " is " + tape(-saw[e]) + " too short: it does not reach",
                         20, true);
        }
        pages_.words(
            "It comes bent and is not bent here. Tape it first: what it reads must be what stands below. Saw "
            "both legs square, then lay the wraps of the cope sheet round them.",
            10);
        pages_.gap(4);
        strip(shape, saw);
        asTaped(shape);
        pages_.heading("When it is sawn, before it is coped");
        const std::vector<double> shares = {0.62, 0.22, 0.16};
        pages_.row({"", "planned", "got"}, shares, true);
        const double whole = shape.developed_mm() - saw[0] - saw[1];
        pages_.row({"Along the middle, from end to end", tape(whole), ""}, shares, false, true, 12);
        pages_.row({"First straight, at A", tape(shape.straights_mm.front() - saw[0]), ""}, shares, false,
                   true, 12);
        pages_.row({"Last straight, at B", tape(shape.straights_mm.back() - saw[1]), ""}, shares, false, true,
                   12);
        for (const std::string& caution : sheet.cautions) pages_.words("Note: " + caution, 10, true);
    }

private:
    std::string tape(double mm) const { return showLength(mm, {unit_, 1, unit_ == LengthUnit::in ? 16 : 0}); }

    /// The tube straight, with its bends, and a cut where each leg is sawn.
    void strip(const BentShape& shape, const std::array<double, 2>& saw) {
        const double x0 = pages_.left(), w = pages_.width(), y = pages_.y() + 8;
        const double scale = w / shape.developed_mm();
        pages_.box({x0, y}, {w, 5}, DrawnLine::part);
        pages_.text({x0, y - 1.5}, "A", 12, DrawnText::Align::left, true);
        pages_.text({x0 + w, y - 1.5}, "B", 12, DrawnText::Align::right, true);
        double at = 0;
        for (std::size_t i = 0; i < shape.bends.size(); ++i) {
            at += shape.straights_mm[i];
            const double from = x0 + at * scale;
            at += shape.bend_radius_mm * shape.bends[i].angle_rad;
            const double to = x0 + at * scale;
            for (double x = from; x < to; x += 1.2) pages_.line({x, y + 5}, {std::min(x + 1.2, to), y});
            pages_.text({0.5 * (from + to), y - 1.5}, std::to_string(i + 1), 11, DrawnText::Align::centre,
                        true);
        }
        for (const double x : {x0 + std::max(0.0, saw[0]) * scale, x0 + w - std::max(0.0, saw[1]) * scale})
            pages_.line({x, y - 3}, {x, y + 8}, DrawnLine::cut);
        pages_.gap(8 + 5 + 6);
    }

    void asTaped(const BentShape& shape) {
        pages_.heading("As it was taped");
        const std::vector<double> shares = {0.4, 0.2, 0.2, 0.2};
        pages_.row({"", "length", "bend", "turned"}, shares, true);
        for (std::size_t i = 0; i < shape.straights_mm.size(); ++i) {
            pages_.row({"Straight " + std::to_string(i + 1), tape(shape.straights_mm[i]), "", ""}, shares,
                       false, false, 12);
            if (i >= shape.bends.size()) continue;
            const TapedBend& bend = shape.bends[i];
            pages_.row({"Bend " + std::to_string(i + 1) + ", radius " + tape(shape.bend_radius_mm), "",
                        showAngle(bend.angle_rad), i == 0 ? "" : showAngle(bend.rotation_rad)},
                       shares, false, false, 12);
        }
    }

    SheetPages& pages_;
    const ShopSheets& sheets_;
    LengthUnit unit_;
};

}  // namespace

void addTrimPages(SheetPages& pages, const ShopSheets& sheets) {
    TrimPager pager(pages, sheets);
    for (const CopeSheet& sheet : sheets.copes)
        if (sheet.saw_off_mm) pages.onOnePage([&] { pager.add(sheet); });
}

}  // namespace hoopwright
