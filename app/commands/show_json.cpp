#include <algorithm>

#include "app/commands/json_parts.h"
#include "app/commands/show_report.h"
#include "core/model/shop_book.h"

namespace hoopwright {
namespace {

void orNothing(JsonWriter& json, std::string_view key, const std::optional<double>& value) {
    if (value) {
        json.number(key, *value);
    } else {
        json.nothing(key);
    }
}

void writeShownTables(JsonWriter& json, const CheckReport& report) {
    {
        const auto list = json.list("tables");
        for (const RuleTableInfo& table : report.tables) {
            const auto each = json.object();
            json.text("id", table.id);
            json.text("title", table.title);
            json.text("edition", table.edition);
            json.text("written_by", table.written_by);
            json.text("advice", table.advice);
            json.whole("rules", table.rules);
        }
    }
    const auto counts = json.object("counts");
    for (const Answer answer :
         {Answer::fails, Answer::cannot_tell, Answer::ask_person, Answer::meets, Answer::does_not_apply})
        json.whole(answerKey(answer), report.count(answer));
    json.whole("meets_not_confirmed", report.unconfirmed());
}

void writeOpenRules(JsonWriter& json, const CheckReport& report) {
    const auto list = json.list("open");
    for (const Finding& finding : report.findings) {
        const bool settled = finding.answer == Answer::does_not_apply ||
                             (finding.answer == Answer::meets && finding.confirmed);
        if (settled) continue;
        const auto each = json.object();
        json.text("table", finding.table);
        json.text("rule", finding.rule);
        json.text("clause", finding.clause);
        json.text("title", finding.title);
        json.text("subject", finding.subject);
        json.text("answer", answerKey(finding.answer));
        json.yesNo("confirmed", finding.confirmed);
        json.text("missing", finding.missing);
    }
}

void writeShownBars(JsonWriter& json, const CustomerFacts& facts) {
    const auto list = json.list("bars");
    for (const ShownBar& bar : facts.bars) {
        const auto each = json.object();
        json.text("id", bar.id);
        {
            const auto members = json.list("members");
            for (const int member : bar.members) {
                const auto one = json.object();
                json.whole("number", member + 1);
                json.text("member", facts.cage->members[static_cast<std::size_t>(member)].id);
            }
        }
        json.text("name", bar.name);
        json.text("place", placeName(bar.place));
        json.text("purpose", bar.purpose);
        json.yesNo("may_be_left_out", bar.may_be_left_out);
        const ResolvedMember& first = facts.cage->members[static_cast<std::size_t>(bar.members.front())];
        json.number("od_mm", first.section.od_mm);
        json.number("wall_mm", first.section.wall_mm);
        json.number("length_mm", bar.length_mm);
        json.number("mass_kg", bar.mass_kg);
        const auto rules = json.list("rules");
        for (const RuleOfBar& rule : bar.rules) {
            const auto one = json.object();
            json.text("table", rule.table);
            json.text("rule", rule.rule);
            json.text("clause", rule.clause);
            json.text("title", rule.title);
            json.text("answer", answerKey(rule.answer));
            json.yesNo("confirmed", rule.confirmed);
        }
    }
}

void writeDriverRoom(JsonWriter& json, std::string_view key, const DriverRoom& room) {
    const auto object = json.object(key);
    orNothing(json, "door_round_mm", room.door_round_mm);
    orNothing(json, "door_knee_mm", room.door_knee_mm);
    orNothing(json, "above_helmet_mm", room.above_mm);
    orNothing(json, "helmet_mm", room.helmet_mm);
}

void writeShownOptions(JsonWriter& json, const CustomerFacts& facts) {
    const auto list = json.list("options");
    for (const ShownOption& option : facts.options) {
        const auto each = json.object();
        json.text("id", option.id);
        json.text("name", option.name);
        json.text("purpose", option.purpose);
        json.texts("goes_too", option.goes_too);
        json.number("mass_kg", option.mass_kg);
        orNothing(json, "price", option.price);
        {
            const auto drivers = json.list("drivers");
            for (const RoomChange& change : option.drivers) {
                const auto one = json.object();
                json.text("driver", change.driver);
                writeDriverRoom(json, "with", change.with);
                writeDriverRoom(json, "without", change.without);
            }
        }
        json.texts("then_falls_short", option.then_falls_short);
    }
}

void writeShownDrivers(JsonWriter& json, const CustomerFacts& facts) {
    const auto list = json.list("drivers");
    for (const ShownDriver& shown : facts.drivers) {
        const auto each = json.object();
        const Driver& driver = facts.job->drivers[static_cast<std::size_t>(shown.index)];
        json.text("id", driver.id);
        json.text("name", driver.name);
        writeDriverRoom(json, "room", roomOf(shown.report));
        const auto parts = json.list("clearances");
        for (const Clearance& part : shown.report.clearances.parts) {
            if (part.bare.member < 0) continue;
            const auto one = json.object();
            json.text("part", part.name);
            json.number("bare_mm", part.bare.gap_mm);
            json.number("padded_mm", part.padded.gap_mm);
            json.text("member", facts.cage->members[static_cast<std::size_t>(part.bare.member)].id);
        }
    }
}

void writeShownCuts(JsonWriter& json, const CustomerFacts& facts) {
    const auto list = json.list("cuts");
    for (const ShownCut& cut : facts.cuts) {
        const auto each = json.object();
        json.text("kind", cutKey(cut.kind));
        json.text("thing", cut.thing);
        json.text("part", cut.part);
        json.number("diameter_mm", cut.size_mm);
        json.number("area_mm2", cut.area_mm2);
        json.whole("count", cut.count);
        json.text("sentence", cut.sentence);
    }
}

void writeShownPrice(JsonWriter& json, const CustomerFacts& facts) {
    json.text("currency", facts.job->stock.currency);
    if (!facts.quote) {
        json.text("no_quote", facts.no_quote);
        return;
    }
    json.number("price", facts.quote->price);
    {
        const auto list = json.list("finishes");
        for (const QuoteLine& line : facts.quote->finishes) {
            const auto each = json.object();
            json.text("what", line.what);
            orNothing(json, "price", line.price);
        }
    }
    if (facts.quote->padding) {
        const auto padding = json.object("padding");
        json.number("length_m", facts.quote->padding->count);
        orNothing(json, "price", facts.quote->padding->price);
    }
    json.texts("exclusions", facts.quote->exclusions);
    json.texts("missing", facts.quote->missing);
}

}  // namespace

void writeShowJson(std::ostream& out, const CustomerFacts& facts, const std::string& revision,
                   const std::string& date, const std::string& file) {
    JsonWriter json(out);
    const auto top = json.object();
    json.text("hoopwright", "show");
    json.whole("version", 1);
    json.text("cage", facts.job->cage.name);
    json.text("car", facts.job->car.name);
    json.text("shop", facts.job->shop ? facts.job->shop->name : "");
    json.text("words", facts.job->shop ? facts.job->shop->words : "");
    json.text("revision", revision);
    json.text("date", date);
    json.text("file", file);
    json.whole("tubes", facts.cage->totals.members);
    json.number("tube_length_mm", facts.cage->totals.tube_length_mm);
    json.number("mass_kg", facts.cage->totals.tube_mass_kg + facts.cage->totals.plate_mass_kg);
    writeShownTables(json, facts.check);
    writeOpenRules(json, facts.check);
    writeShownBars(json, facts);
    writeShownOptions(json, facts);
    writeShownDrivers(json, facts);
    writeShownCuts(json, facts);
    writeShownPrice(json, facts);
    json.texts("cautions", facts.cautions);
}

}  // namespace hoopwright
