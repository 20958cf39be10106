#include "app/commands/json_parts.h"
#include "app/commands/sheets_report.h"

namespace hoopwright {
namespace {

void angle(JsonWriter& json, std::string_view key, const std::optional<double>& rad) {
    if (rad) {
        json.number(key, degrees(*rad));
    } else {
        json.nothing(key);
    }
}
void number(JsonWriter& json, std::string_view key, const std::optional<double>& value) {
    if (value) {
        json.number(key, *value);
    } else {
        json.nothing(key);
    }
}

/// In degrees where it is an angle, else in base units.
void angleOrNumber(JsonWriter& json, std::string_view key, const std::optional<double>& value,
                   Dimension dimension) {
    if (dimension == Dimension::angle) {
        angle(json, key, value);
    } else {
        number(json, key, value);
    }
}

void writeSpring(JsonWriter& json, const Springback& spring) {
    const auto object = json.object("springback");
    json.whole("samples", spring.samples);
    json.yesNo("enough", spring.known());
    if (!spring.known()) return;
    json.number("play_deg", degrees(spring.play_rad));
    json.number("gain", spring.gain);
    json.number("scatter_deg", degrees(spring.scatter_rad));
    json.number("least_got_deg", degrees(spring.least_got_rad));
    json.number("greatest_got_deg", degrees(spring.greatest_got_rad));
    number(json, "radius_got_mm", spring.radius_mm);
    number(json, "radius_interval_mm", spring.radius_interval_mm);
}

void writeSteps(JsonWriter& json, const BendSheet& sheet) {
    json.yesNo("middle_out", sheet.order.middle_out);
    json.yesNo("can_be_made", sheet.order.feasible());
    const auto list = json.list("steps");
    for (std::size_t i = 0; i < sheet.order.steps.size(); ++i) {
        const BendStep& step = sheet.order.steps[i];
        const auto each = json.object();
        json.whole("bend", step.bend + 1);
        json.text("front_end", step.a_leads ? "A" : "B");
        json.yesNo("end_for_end", step.end_for_end);
        json.number("turn_deg", degrees(step.turn_rad));
        angle(json, "leg_rises_deg", step.leg_rises_rad);
        json.whole("leg_bend", step.leg_bend + 1);
        json.text("words", sheet.words[i]);
        json.texts("troubles", step.troubles);
    }
}

void writeBends(JsonWriter& json, const BendSheet& sheet) {
    const auto list = json.list("bends");
    for (const SheetBend& bend : sheet.bends) {
        const auto each = json.object();
        json.number("straight_before_mm", bend.straight_before_mm);
        json.number("rotation_deg", degrees(bend.rotation_rad));
        json.number("angle_deg", degrees(bend.angle_rad));
        json.number("radius_mm", bend.radius_mm);
        json.number("starts_mm", bend.start_mm);
        json.number("ends_mm", bend.end_mm);
        number(json, "mark_mm", bend.mark_mm);
        angle(json, "dial_deg", bend.dial_rad);
        angle(json, "dial_interval_deg", bend.dial_interval_rad);
        json.yesNo("beyond_samples", bend.beyond_samples);
        if (bend.strokes) json.whole("strokes", *bend.strokes);
        json.number("outer_wall_mm", bend.outer_wall_mm);
        json.number("wall_lost", bend.wall_lost);
        json.number("quarter_bend_mm", bend.quarter_bend_mm);
        json.number("quarter_turn_mm", bend.quarter_turn_mm);
    }
}

/// What the tables say of the bends of one bar.
void writeRulings(JsonWriter& json, const ShopSheets& sheets, int member) {
    const auto list = json.list("rules");
    for (const BarFinding& one : sheets.rulings) {
        if (one.member != member) continue;
        const Finding& finding = one.finding;
        const auto each = json.object();
        json.text("table", finding.table);
        json.text("edition", finding.edition);
        json.text("rule", finding.rule);
        json.text("clause", finding.clause);
        json.text("title", finding.title);
        json.text("answer", answerKey(finding.answer));
        json.yesNo("confirmed", finding.confirmed);
        json.text("found", finding.found);
        angleOrNumber(json, "value", finding.value, finding.dimension);
        angleOrNumber(json, "limit", finding.limit, finding.dimension);
        json.text("limit_text", finding.limit_text);
        json.text("missing", finding.missing);
        json.text("beware", finding.beware);
    }
}

void writeBendSheet(JsonWriter& json, const ShopSheets& sheets, const BendSheet& sheet) {
    const auto object = json.object();
    json.text("member", sheets.cage->members[static_cast<std::size_t>(sheet.member)].id);
    json.whole("spares", sheets.spares(sheet.member));
    json.text("end_a", sheet.end_a);
    json.text("end_b", sheet.end_b);
    json.text("die", sheet.die);
    json.text("bender", sheet.bender);
    json.number("od_mm", sheet.od_mm);
    json.number("wall_mm", sheet.wall_mm);
    json.yesNo("wall_measured", sheet.wall_measured);
    number(json, "least_roundness", sheet.least_roundness);
    json.number("finished_mm", sheet.finished_mm);
    json.number("bend_long_mm", sheet.bend_long_mm);
    json.number("blank_mm", sheet.blank_mm);
    writeBends(json, sheet);
    json.number("last_straight_mm", sheet.last_straight_mm);
    writeSteps(json, sheet);
    writeSpring(json, sheet.spring);
    {
        const auto list = json.list("tape");
        for (const TapeCheck& check : sheet.checks) {
            const auto each = json.object();
            json.text("what", check.what);
            json.number("value_mm", check.value_mm);
        }
    }
    json.yesNo("flat", sheet.flat);
    {
        const auto list = json.list("floor");
        for (const FloorPoint& point : sheet.floor) {
            const auto each = json.object();
            json.text("what", point.what);
            json.point("floor_mm", point.at);
        }
    }
    writeRulings(json, sheets, sheet.member);
    json.texts("cautions", sheet.cautions);
}

void writeHost(JsonWriter& json, const CutTo& host) {
    const auto each = json.object();
    json.text("cut_to", host.id);
    json.yesNo("plate", host.plate);
    if (!host.flap.empty()) json.text("flap", host.flap);
    json.number("angle_deg", degrees(host.angle_rad));
    json.number("offset_mm", host.offset_mm);
    json.yesNo("on_bend", host.on_bend);
    json.number("diameter_mm", host.diameter_mm);
    json.number("heel_deg", degrees(host.heel_phi_rad));
    json.number("depth_mm", host.depth_mm);
    if (host.saw) {
        json.number("hole_saw_mm", host.saw->size_mm);
        json.number("gap_mm", host.saw->gap_mm);
        json.number("gap_at_deg", degrees(host.saw->gap_phi_rad));
    } else {
        json.text("no_saw", host.no_saw);
    }
}

void writeArcs(JsonWriter& json, std::string_view key, const std::vector<Arc>& arcs) {
    const auto list = json.list(key);
    for (const Arc& arc : arcs) {
        const auto each = json.object();
        json.number("from_deg", degrees(arc.from_rad));
        json.number("to_deg", degrees(arc.to_rad));
    }
}

void writeLine(JsonWriter& json, std::string_view key, const std::vector<double>& s_mm, double long_mm) {
    const auto list = json.list(key);
    for (const Vec2& p : wrapLine(s_mm)) {
        const auto each = json.object();
        json.number("phi_deg", degrees(p.x()));
        json.number("from_tip_mm", p.y() - long_mm);
    }
}

void writeEnd(JsonWriter& json, const CopeSheetEnd& end) {
    const auto object = json.object();
    json.text("at", end.at);
    json.yesNo("square", end.square);
    angle(json, "up_deg", end.up_phi_rad);
    angle(json, "front_deg", end.forward_phi_rad);
    if (!end.trouble.empty()) json.text("no_cut", end.trouble);
    if (end.square || !end.trouble.empty()) return;
    {
        const auto list = json.list("hosts");
        for (const CutTo& host : end.hosts) writeHost(json, host);
    }
    if (!end.folds.empty()) {
        const auto list = json.list("folds");
        for (const FoldUnder& fold : end.folds) {
            const auto each = json.object();
            json.text("flap", fold.flap);
            json.number("angle_deg", degrees(fold.angle_rad));
            number(json, "inside_radius_mm", fold.inside_mm);
            number(json, "take_off_mm", fold.take_off_mm);
            number(json, "gap_mm", fold.gap_mm);
        }
    }
    if (end.flats) {
        const auto flats = json.object("flat_cuts");
        json.number("heel_cut_deg", degrees(end.flats->heel_rad));
        json.number("toe_cut_deg", degrees(end.flats->toe_rad));
        json.number("grind_mm", end.flats->grind_mm);
        json.number("gap_mm", end.flats->gap_mm);
        json.text("saw", end.flats->saw);
    }
    json.number("longest_at_deg", degrees(end.long_phi_rad));
    json.number("throat_at_deg", degrees(end.short_phi_rad));
    json.number("throat_mm", end.short_mm - end.long_mm);
    json.number("grind_mm", end.profile.grind_mm);
    json.number("grind_at_deg", degrees(end.profile.grind_phi_rad));
    json.number("thin_share", end.thin_share);
    json.number("thin_mm", end.thin_mm);
    {
        const auto list = json.list("lands");
        for (const LandStep& land : end.lands) {
            const auto each = json.object();
            json.number("land_mm", land.land_mm);
            json.number("grind_mm", land.grind_mm);
            json.number("gap_mm", land.gap_mm);
        }
    }
    json.number("weld_mm", end.weld_mm);
    json.number("under_30_mm", end.zones.under_30_mm);
    json.number("from_30_mm", end.zones.from_30_mm);
    json.number("from_60_mm", end.zones.from_60_mm);
    json.number("over_135_mm", end.zones.over_135_mm);
    json.number("least_dihedral_deg", degrees(end.profile.least_dihedral_rad));
    writeArcs(json, "grooves", end.grooves);
    writeArcs(json, "narrow", end.narrow);
    writeLine(json, "cut_line", end.profile.outer.s_mm, end.long_mm);
    writeLine(json, "bore_line", end.profile.bore.s_mm, end.long_mm);
    writeLine(json, "grind_line", groundTo(end.profile), end.long_mm);
}

void writeCopeSheet(JsonWriter& json, const ShopSheets& sheets, const CopeSheet& sheet) {
    const auto object = json.object();
    json.text("member", sheets.cage->members[static_cast<std::size_t>(sheet.member)].id);
    json.whole("fitted", sheet.fitted);
    json.text("clock", sheet.clock);
    json.number("od_mm", sheet.od_mm);
    json.number("wall_mm", sheet.wall_mm);
    json.number("long_to_long_mm", sheet.cut.long_to_long_mm);
    json.number("short_to_short_mm", sheet.cut.short_to_short_mm);
    json.number("centre_mm", sheet.cut.centre_mm);
    angle(json, "clock_between_deg", sheet.clock_between_rad);
    if (sheet.seam_phi_rad) json.number("seam_deg", degrees(*sheet.seam_phi_rad));
    json.number("wrap_mm", sheet.wrap_mm);
    json.number("clean_outside_mm", sheet.clean_outside_mm);
    json.number("clean_inside_mm", sheet.clean_inside_mm);
    json.number("weld_mm", sheet.weld_mm);
    number(json, "filler_g", sheet.filler_g);
    number(json, "gas_l", sheet.gas_l);
    if (sheet.saw_off_mm) {
        json.number("saw_first_mm", (*sheet.saw_off_mm)[0]);
        json.number("saw_last_mm", (*sheet.saw_off_mm)[1]);
        writeBentShape(json, sheets.cage->members[static_cast<std::size_t>(sheet.member)].bought->shape);
    }
    {
        const auto list = json.list("ends");
        for (const CopeSheetEnd& end : sheet.ends) writeEnd(json, end);
    }
    json.texts("cautions", sheet.cautions);
}

void writeQuoteLines(JsonWriter& json, std::string_view key, const std::vector<QuoteLine>& lines) {
    const auto list = json.list(key);
    for (const QuoteLine& line : lines) {
        const auto each = json.object();
        json.text("what", line.what);
        json.number("count", line.count);
        json.text("counted_in", line.unit);
        number(json, "minutes", line.minutes);
        number(json, "price", line.price);
        if (!line.minutes_each) continue;
        number(json, "minutes_each", line.minutes_each);
        number(json, "spread_minutes", line.spread_minutes);
        json.whole("entered_times", line.times);
    }
}

void writeQuote(JsonWriter& json, const ShopSheets& sheets) {
    if (!sheets.quote) {
        json.text("no_quote", sheets.no_quote);
        return;
    }
    const Quote& quote = *sheets.quote;
    const auto object = json.object("quote");
    json.text("currency", sheets.job->stock.currency);
    writeQuoteLines(json, "lines", quote.lines);
    json.number("minutes", quote.minutes);
    json.number("price", quote.price);
    json.number("spread_minutes", quote.spread_minutes);
    json.number("spread_price", quote.spread_price);
    writeQuoteLines(json, "finishes", quote.finishes);
    writeQuoteLines(json, "padding", quote.padding ? std::vector{*quote.padding} : std::vector<QuoteLine>{});
    {
        const auto list = json.list("options");
        for (const QuoteOption& option : quote.options) {
            const auto each = json.object();
            std::vector<std::string> ids;
            for (const int member : option.members)
                ids.push_back(sheets.cage->members[static_cast<std::size_t>(member)].id);
            json.text("name", option.name);
            json.texts("members", ids);
            json.number("mass_kg", option.mass_kg);
            number(json, "price", option.price);
        }
    }
    json.texts("exclusions", quote.exclusions);
    json.texts("missing", quote.missing);
}

}  // namespace

void writeSheetsJson(std::ostream& out, const ShopSheets& sheets, const std::string& revision,
                     const std::vector<std::string>& files) {
    JsonWriter json(out);
    const auto top = json.object();
    json.text("hoopwright", "sheets");
    json.whole("version", 1);
    json.text("cage", sheets.job->cage.name);
    json.text("revision", revision);
    json.texts("files", files);
    {
        const auto list = json.list("bend_sheets");
        for (const BendSheet& sheet : sheets.bends) writeBendSheet(json, sheets, sheet);
    }
    {
        const auto list = json.list("cope_sheets");
        for (const CopeSheet& sheet : sheets.copes) writeCopeSheet(json, sheets, sheet);
    }
    writePlatesJson(json, sheets);
    writeQuote(json, sheets);
    writeDimensions(json, *sheets.job, *sheets.cage);
    json.texts("left_out", sheets.left_out);
    writeGeometryProblems(json, *sheets.cage);
}

}  // namespace hoopwright
