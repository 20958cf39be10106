#include "app/commands/driver_text.h"

#include <cmath>
#include <ostream>

#include "app/view/finding_text.h"
#include "core/base/text.h"

namespace hoopwright {
namespace {

class DriverPage {
public:
    DriverPage(std::ostream& out, const DriverReport& report, const CageGeometry& cage, LengthUnit unit)
        : out_(out), report_(report), cage_(cage) {
        bare_.unit = unit;
        bare_.with_unit = false;
        with_.unit = unit;
    }

    void write(const Driver& driver) {
        out_ << "\n" << driver.name << "\n";
        if (!driver.figure.empty())
            out_ << wrapped(
                "Points not corrected with the tape are those of the figure " + driver.figure + ".", 2);
        out_ << clearanceTable(report_.clearances, cage_, bare_).text(2);
        writeHelmet();
        writeBelts();
        writeSight();
        writeDoor();
    }

private:
    std::string length(double mm) const { return showLength(mm, with_); }
    std::string id(int member, const char* none) const {
        return member < 0 ? none : cage_.members[static_cast<std::size_t>(member)].id;
    }
    void line(const std::string& text) { out_ << wrapped(text, 2); }

    void writeHelmet() {
        TextTable rows({Align::left, Align::right, Align::right, Align::left});
        rows.add({"helmet can go", "bare", "padded", "until it meets"});
        const HelmetRoom& room = report_.room;
        for (const auto& [words, way] :
             {std::pair{"up", &room.above}, std::pair{"back", &room.behind}, std::pair{"ahead", &room.ahead},
              std::pair{"left", &room.left}, std::pair{"right", &room.right}}) {
            const bool free = way->member < 0;
            rows.add({words, free ? "free" : showLength(way->bare_mm, bare_),
                      way->padded_member < 0 ? "free" : showLength(way->padded_mm, bare_),
                      id(way->member, "nothing")});
        }
        out_ << "\n" << rows.text(2);
        for (const TopLine& top : report_.top_lines)
            line("Helmet under the line over " + id(top.from, "") + " and " + id(top.to, "") + ": " +
                 length(top.helmet.gap_mm) + ".");
    }

    void writeBelts() {
        out_ << "\n";
        if (!report_.straps) {
            line("Shoulder straps: " + report_.straps.reason() + ".");
        } else {
            for (const ShoulderStrap& strap : report_.straps->both) {
                line(std::string("Shoulder strap, ") + (strap.side > 0 ? "left" : "right") + ", to " +
                     id(strap.bar, "its anchor") + ": " + showAngle(std::abs(strap.angle_rad)) +
                     (strap.angle_rad < 0 ? " up" : " down") + ", " + showAngle(std::abs(strap.plan_rad)) +
                     (strap.plan_rad < 0 ? " inwards" : " outwards") + ", " + length(strap.run_mm) +
                     " long, " + length(strap.behind_seat_mm) + " of it behind the seat.");
            }
            line("Straps " + length(report_.straps->spread_mm) + " apart at their first support.");
        }
        for (const LapStrap& strap : report_.lap)
            line("Lap strap: " + showAngle(strap.angle_rad) + " to level" +
                 (strap.behind ? "." : ", anchored ahead of the hip."));
    }

    void writeSight() {
        const Sight& sight = report_.sight;
        out_ << "\n";
        for (const SightTo& mirror : sight.mirrors)
            line("Sight of " + mirror.name + ": " +
                 (mirror.member < 0 ? "no bar near."
                  : mirror.clear_rad < 0
                      ? "hidden by " + id(mirror.member, "") + "."
                      : showAngle(mirror.clear_rad) + " clear of " + id(mirror.member, "") + "."));
        if (sight.ahead) {
            const auto& ground = sight.ahead->ground_ahead_mm;
            line("Straight ahead: over " + sight.ahead->line + " " + showAngle(sight.ahead->down_rad) +
                 " down" + (ground ? ", the ground from " + length(*ground) + " ahead of the eye." : "."));
        }
        for (const HiddenStretch& stretch : sight.hidden)
            line("At eye height " + id(stretch.member, "") + " hides " +
                 showAngle(stretch.to_rad - stretch.from_rad) + ", about " +
                 showAngle(std::abs(stretch.from_rad + stretch.to_rad) / 2) + " to the " +
                 (stretch.from_rad + stretch.to_rad >= 0 ? "left." : "right."));
        if (sight.windshield_hidden)
            line("Bars hide " + fixed(100 * *sight.windshield_hidden, 1) +
                 " % of the view through the windshield.");
    }

    void writeDoor() {
        out_ << "\n";
        if (!report_.door) return line("Door: " + report_.door.reason() + ".");
        const Doorway& door = *report_.door;
        line("Door, seen from the side: the largest round that passes between its edge and the bars is " +
             length(door.clear_round_mm) + "; shoulders " + length(door.shoulder_width_mm) +
             " across, chest " + length(door.chest_mm) + ".");
        for (const ClearSpan& span : door.spans)
            line(std::string("Door ") + (span.upright ? "up at the " : "across level with the ") + span.at +
                 ": " +
                 (span.there ? length(span.length_mm) + " clear, from " + id(span.from_member, "the edge") +
                                   " to " + id(span.to_member, "the edge") + "."
                             : "the opening does not reach there."));
    }

    std::ostream& out_;
    const DriverReport& report_;
    const CageGeometry& cage_;
    LengthStyle bare_, with_;
};

std::string ruleTitle(const BeltBand& band, int rule) {
    return rule < 0 ? "as far as was looked" : band.rules[static_cast<std::size_t>(rule)].title;
}

/// The column of the band nearest to where the bar is.
const BandColumn* columnAtBar(const BeltBand& band) {
    const BandColumn* best = nullptr;
    for (const BandColumn& column : band.columns)
        if (std::abs(column.x_mm - band.bar_at.x()) <= kBandStep_mm / 2 + 1e-9) best = &column;
    return best;
}

/// "12.3" and its change.
struct Pair {
    double before, after;
};

}  // namespace

TextTable clearanceTable(const Clearances& all, const CageGeometry& cage, const LengthStyle& style) {
    TextTable rows({Align::left, Align::right, Align::right, Align::left, Align::right});
    rows.add({"", "bare", "padded", "nearest bar", "inside envelope"});
    for (const Clearance& each : all.parts) {
        if (each.bare.member < 0) continue;
        rows.add({each.name, showLength(each.bare.gap_mm, style), showLength(each.padded.gap_mm, style),
                  cage.members[static_cast<std::size_t>(each.bare.member)].id,
                  all.enclosed ? showLength(each.inside_mm, style) : "none"});
    }
    return rows;
}

void writeDriverText(std::ostream& out, const Driver& driver, const DriverReport& report,
                     const CageGeometry& cage, LengthUnit unit) {
    DriverPage(out, report, cage, unit).write(driver);
}

void writeBeltBandText(std::ostream& out, const Expected<BeltBand>& band, LengthUnit unit) {
    const LengthStyle style{unit};
    if (!band) {
        out << wrapped("Where the belt bar may be: " + band.reason() + ".", 2);
        return;
    }
    out << wrapped(
        "Belt bar, middle at x " + showLength(band->bar_at.x(), style) + ", z " +
            showLength(band->bar_at.y(), style) + ": " +
            (band->allowed_now ? "allowed." : "not allowed by " + band->failing_now.front().title + "."),
        2);
    const BandColumn* column = columnAtBar(*band);
    if (!column) out << wrapped("At its place along the car no height is allowed.", 2);
    for (const BandStretch& stretch : column ? column->heights : std::vector<BandStretch>{})
        out << wrapped("There it may be from z " + showLength(stretch.low_mm, style) + " (" +
                           ruleTitle(*band, stretch.low_rule) + ") to " + showLength(stretch.high_mm, style) +
                           " (" + ruleTitle(*band, stretch.high_rule) + ").",
                       2);
    if (!band->columns.empty())
        out << wrapped("Along the car some height is allowed from x " +
                           showLength(band->columns.front().x_mm, style) + " to " +
                           showLength(band->columns.back().x_mm, style) + ".",
                       2);
    for (const BandRule& rule : band->silent) out << wrapped("Can't tell: " + rule.title + ".", 2);
}

void writeSeatEffectText(std::ostream& out, const SeatEffect& effect, const CageGeometry& cage,
                         LengthUnit unit) {
    LengthStyle bare{unit};
    bare.with_unit = false;
    for (const OutOfReach& one : effect.moved.out_of_reach) out << wrapped(sentence(one, unit), 2);
    TextTable rows({Align::left, Align::right, Align::right, Align::right, Align::left});
    rows.add({"bare", "before", "after", "change", "nearest bar after"});
    const auto add = [&](const std::string& words, const Pair& pair, const std::string& bar) {
        rows.add({words, showLength(pair.before, bare), showLength(pair.after, bare),
                  showLength(pair.after - pair.before, bare), bar});
    };
    const auto &before = effect.before.clearances.parts, &after = effect.after.clearances.parts;
    for (std::size_t i = 0; i < before.size() && i < after.size(); ++i)
        add(before[i].name, {before[i].bare.gap_mm, after[i].bare.gap_mm},
            cage.members[static_cast<std::size_t>(after[i].bare.member)].id);
    const auto &lines = effect.before.top_lines, &lines_after = effect.after.top_lines;
    for (std::size_t i = 0; i < lines.size() && i < lines_after.size(); ++i)
        add("helmet under line", {lines[i].helmet.gap_mm, lines_after[i].helmet.gap_mm}, "");
    out << "\n" << rows.text(2);
    if (effect.changes.empty()) {
        out << "\n" << wrapped("No rule answers differently.", 2);
        return;
    }
    out << "\n";
    const auto words = [&](const CheckReport& report, int index) {
        if (index < 0) return std::string("nothing said");
        const Finding& finding = report.findings[static_cast<std::size_t>(index)];
        std::string text(answerWord(finding.answer));
        if (const std::string value = valueText(finding, {unit}); !value.empty()) text += ", " + value;
        return text;
    };
    for (const RuleChange& change : effect.changes) {
        const Finding& finding = change.before >= 0
                                     ? effect.rules_before.findings[static_cast<std::size_t>(change.before)]
                                     : effect.rules_after.findings[static_cast<std::size_t>(change.after)];
        out << wrapped(finding.title + (finding.subject_name.empty() ? "" : ", " + finding.subject_name) +
                           ": " + words(effect.rules_before, change.before) + "; now " +
                           words(effect.rules_after, change.after),
                       2, kPageWidth, 2);
    }
}

}  // namespace hoopwright
