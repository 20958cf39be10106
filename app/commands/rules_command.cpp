#include <ostream>

#include "app/commands/command_kit.h"
#include "app/commands/json_parts.h"
#include "app/commands/text_table.h"
#include "core/files/yaml_map.h"
#include "rules/check.h"

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

int runQuantities(const CommandLine& line, Streams streams) {
    if (line.has("--json")) {
        JsonWriter json(streams.out);
        const auto top = json.object();
        json.text("hoopwright", "quantities");
        json.whole("version", 1);
        const auto list = json.list("quantities");
        for (const QuantityInfo& quantity : quantities()) {
            const auto each = json.object();
            json.text("name", quantity.name);
            json.text("subject", quantity.subject);
            json.text("unit", unitWord(quantity.dimension));
            json.text("meaning", quantity.meaning);
            json.text("needs", quantity.needs);
        }
        return kExitGood;
    }
    for (const QuantityInfo& quantity : quantities()) {
        const std::string unit = unitWord(quantity.dimension);
        streams.out << quantity.name << "  (of a " << quantity.subject << (unit.empty() ? "" : ", in " + unit)
                    << ")\n"
                    << wrapped(quantity.meaning, 4);
        if (!quantity.needs.empty()) streams.out << wrapped("Needs " + quantity.needs, 4);
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
            "what must be known.",
            "hoopwright quantities",
            {{"--json", "", "for programs"}},
            &runQuantities};
}

}  // namespace hoopwright
