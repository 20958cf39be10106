#include <algorithm>

#include "app/commands/json_parts.h"
#include "app/commands/sheets_report.h"

namespace hoopwright {
namespace {

void writePlace(JsonWriter& json, std::string_view key, const Vec2& p) {
    json.numbers(key, {p.x(), p.y()});
}

void writeFigure(JsonWriter& json, std::string_view key, const std::optional<double>& value) {
    if (value) {
        json.number(key, *value);
    } else {
        json.nothing(key);
    }
}

void writeFlat(JsonWriter& json, const PlatePart& part) {
    if (part.outline.empty()) {
        json.text("no_flat", part.trouble);
        return;
    }
    json.number("flat_x_mm", part.size_mm().x());
    json.number("flat_y_mm", part.size_mm().y());
    json.number("flat_mm2", part.blank_mm2);
    json.number("mass_kg", part.blank_kg);
    json.number("weld_mm", part.weld_mm);
    {
        const auto list = json.list("outline_mm");
        for (const Vec2& p : part.outline) writePlace(json, "", p);
    }
    {
        const auto list = json.list("holes");
        for (const PartHole& hole : part.holes) {
            const auto each = json.object();
            json.text("what", hole.what);
            writePlace(json, "at_mm", hole.at);
            json.number("diameter_mm", hole.diameter_mm);
        }
    }
    const auto list = json.list("folds");
    for (const PartFold& fold : part.folds) {
        const auto each = json.object();
        json.text("what", fold.what);
        writePlace(json, "from_mm", fold.from);
        writePlace(json, "to_mm", fold.to);
        json.number("angle_deg", degrees(fold.angle_rad));
        json.yesNo("towards", fold.towards);
        json.number("radius_mm", fold.radius_mm);
        json.number("takes_mm", fold.allowance_mm);
    }
}

void writeFinished(JsonWriter& json, const ShopSheets& sheets, const PlatePart& part) {
    {
        const auto list = json.list("planes");
        for (const PartPlane& plane : part.planes) {
            const auto each = json.object();
            json.text("what", plane.what);
            json.number("area_mm2", plane.area_mm2);
        }
    }
    json.number("all_planes_mm2", part.faces_mm2);
    {
        const auto list = json.list("supported");
        for (const PlateSupport& support : part.supports) {
            const auto each = json.object();
            json.text("plate", support.plate);
            json.text("plane", support.plane);
            json.text("rail", support.rail);
            json.number("on_rail_mm2", support.on_rail_mm2);
            json.number("off_rail_mm2", support.off_rail_mm2);
        }
    }
    const auto list = json.list("feet");
    for (const FootWeld& foot : part.feet) {
        const auto each = json.object();
        json.text("member", sheets.cage->members[static_cast<std::size_t>(foot.member)].id);
        json.whole("end", foot.end);
        json.number("weld_mm", foot.weld_mm);
    }
}

void writePlateRulings(JsonWriter& json, const ShopSheets& sheets, const PlatePart& part) {
    const bool of_plate = part.kind == PlatePart::Kind::backing || part.kind == PlatePart::Kind::riser;
    const auto list = json.list("rules");
    for (const Finding& finding : sheets.plate_rulings) {
        if (of_plate || std::ranges::find(part.of, finding.subject) == part.of.end()) continue;
        const auto each = json.object();
        json.text("of", finding.subject);
        json.text("table", finding.table);
        json.text("edition", finding.edition);
        json.text("rule", finding.rule);
        json.text("clause", finding.clause);
        json.text("title", finding.title);
        json.text("answer", answerKey(finding.answer));
        json.yesNo("confirmed", finding.confirmed);
        json.text("found", finding.found);
        writeFigure(json, "value", finding.value);
        writeFigure(json, "limit", finding.limit);
        json.text("limit_text", finding.limit_text);
        json.text("missing", finding.missing);
    }
}

void writePlan(JsonWriter& json, const ShopSheets& sheets, const SheetPlan& plan) {
    const auto object = json.object();
    json.text("sheet", plan.sheet);
    json.text("material", plan.material);
    json.number("thickness_mm", plan.thickness_mm);
    json.number("length_mm", plan.length_mm);
    json.number("width_mm", plan.width_mm);
    json.whole("least_sheets", plan.least);
    json.yesNo("proved", plan.proved());
    json.number("price", plan.price);
    {
        const auto list = json.list("sheets");
        for (const LaidSheet& sheet : plan.sheets) {
            const auto each = json.object();
            json.number("used", sheet.used);
            const auto laid = json.list("parts");
            for (const LaidPart& one : sheet.parts) {
                const auto part = json.object();
                json.text(
                    "of",
                    sheets.plates[static_cast<std::size_t>(one.part)].of[static_cast<std::size_t>(one.copy)]);
                json.text("part", sheets.plates[static_cast<std::size_t>(one.part)].id);
                writePlace(json, "at_mm", one.at);
                json.yesNo("quarter_turn", one.turned);
            }
        }
    }
    json.texts("trouble", plan.trouble);
}

}  // namespace

void writePlatesJson(JsonWriter& json, const ShopSheets& sheets) {
    {
        const auto list = json.list("plates");
        for (const PlatePart& part : sheets.plates) {
            const auto each = json.object();
            json.text("part", part.id);
            json.text("kind", partKindWord(part.kind));
            json.text("name", part.name);
            json.texts("of", part.of);
            json.whole("count", part.count());
            json.number("thickness_mm", part.thickness_mm);
            json.text("material", part.material);
            writeFlat(json, part);
            json.yesNo("handed", part.handed);
            writeFinished(json, sheets, part);
            writePlateRulings(json, sheets, part);
            json.texts("words", part.words);
            json.texts("cautions", part.cautions);
        }
    }
    const auto list = json.list("sheet_plans");
    for (const SheetPlan& plan : sheets.sheet_plans) writePlan(json, sheets, plan);
}

std::vector<std::string> plateTroubles(const ShopSheets& sheets) {
    std::vector<std::string> out;
    for (const PlatePart& part : sheets.plates) {
        if (part.outline.empty()) out.push_back(part.name + " has no flat: " + part.trouble);
        for (const std::string& caution : part.cautions) out.push_back(part.name + ": " + caution);
    }
    for (const SheetPlan& plan : sheets.sheet_plans)
        for (const std::string& each : plan.trouble)
            if (std::ranges::find(out, each) == out.end()) out.push_back(each);
    return out;
}

}  // namespace hoopwright
