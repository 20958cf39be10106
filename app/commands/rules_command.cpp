#include <ostream>

#include "app/commands/command_kit.h"
#include "app/commands/json_parts.h"
#include "app/commands/text_table.h"
#include "core/files/yaml_map.h"
#include "rules/argument_words.h"
#include "rules/quantity.h"

namespace hoopwright {
namespace {

int runRules(const CommandLine& line, Streams streams) {
    const RuleTableResult read = readRuleTable(line.files()[0]);
    print(streams.err, read.problems);
    if (!read.table) return kExitBadInput;
    const RuleTableInfo& table = info(*read.table);
    TextTable rows({Align::left, Align::left});
    rows.add({"id", table.id});
    rows.add({"title", table.title});
    rows.add({"edition", table.edition});
    rows.add({"written by", table.written_by});
    rows.add({"after a published book", table.published ? "yes" : "no"});
    rows.add({"rules", std::to_string(table.rules)});
    streams.out << rows.text(0);
    if (!table.advice.empty()) streams.out << "\n" << wrapped(table.advice, 0);
    return kExitGood;
}

/// The unit of a bare number in a metric table.
std::string unitWord(Dimension dimension) {
    return bareUnit(dimension, LengthUnit::mm).word;
}

std::string_view valueKey(ValueKind value) {
    switch (value) {
        case ValueKind::number:
            return "number";
        case ValueKind::word:
            return "word";
        case ValueKind::yes_no:
            return "yes_no";
        case ValueKind::tube:
            return "tube";
    }
    return "";
}

void writeQuantity(JsonWriter& json, const Quantity& quantity) {
    const auto each = json.object();
    json.text("name", quantity.info.name);
    json.text("subject", quantity.info.subject);
    json.text("value", valueKey(quantity.value));
    json.text("unit", unitWord(quantity.info.dimension));
    json.text("meaning", quantity.info.meaning);
    json.text("needs", quantity.info.needs);
    const auto list = json.list("arguments");
    for (const ArgumentWords& argument : argumentWords()) {
        if (!has(quantity.needs | quantity.may, argument.arg)) continue;
        const auto one = json.object();
        json.text("key", argument.key);
        json.text("says", argument.says);
        json.yesNo("needed", has(quantity.needs, argument.arg));
    }
}

/// "With place (a place); end (nearest, ...), if wanted"
std::string argumentText(const Quantity& quantity) {
    std::string out;
    for (const ArgumentWords& argument : argumentWords()) {
        if (!has(quantity.needs | quantity.may, argument.arg)) continue;
        out += (out.empty() ? "With " : "; ") + std::string(argument.key) + " (" + argument.says + ")" +
               (has(quantity.needs, argument.arg) ? "" : ", if wanted");
    }
    return out;
}

int runQuantities(const CommandLine& line, Streams streams) {
    if (line.has("--json")) {
        JsonWriter json(streams.out);
        const auto top = json.object();
        json.text("hoopwright", "quantities");
        json.whole("version", 1);
        const auto list = json.list("quantities");
        for (const Quantity& quantity : allQuantities()) writeQuantity(json, quantity);
        return kExitGood;
    }
    for (const Quantity& one : allQuantities()) {
        const QuantityInfo& quantity = one.info;
        const std::string unit = unitWord(quantity.dimension);
        streams.out << quantity.name << "  (of a " << quantity.subject << (unit.empty() ? "" : ", in " + unit)
                    << ")\n"
                    << wrapped(quantity.meaning, 4);
        if (!quantity.needs.empty()) streams.out << wrapped("Needs " + quantity.needs, 4);
        if (const std::string with = argumentText(one); !with.empty()) streams.out << wrapped(with, 4);
    }
    return kExitGood;
}

}  // namespace

Command rulesCommand() {
    return {"rules",
            {"FILE"},
            "reads a rule table and says what it is, or everything that is wrong with it",
            "Reads a rule table the way a check does, and prints its head. Ends with 2 and every problem "
            "with line and column "
            "if it cannot be used.",
            "hoopwright rules data/rules/club_hillclimb.yaml",
            {},
            &runRules};
}

Command quantitiesCommand() {
    return {"quantities",
            {},
            "every measurement a rule table can ask for",
            "One paragraph for each measurement: its name, what it is taken of, its unit, what it means, "
            "what must be known, and what may stand under `with`.",
            "hoopwright quantities",
            {{"--json", "", "for programs"}},
            &runQuantities};
}

}  // namespace hoopwright
