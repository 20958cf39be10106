#include <ostream>

#include "app/commands/command_kit.h"
#include "app/commands/json_parts.h"
#include "app/commands/table_json.h"
#include "app/commands/text_table.h"
#include "core/files/yaml_map.h"
#include "rules/argument_words.h"
#include "rules/check.h"
#include "rules/quantity.h"
#include "rules/review.h"
#include "rules/table_copy.h"

namespace hoopwright {
namespace {

/// Each on its own line: "t.yaml:12:9: not used: ...".
std::string remarkLine(const TableRemark& remark) {
    const Problem as_problem{remark.at,
                             std::string(remarkWord(remark.kind)) + ": " +
                                 (remark.rule.empty() ? "" : remark.rule + ": ") + remark.what,
                             remark.remedy};
    return as_problem.text();
}

void writeReview(const TableReview& review, const std::string& file, std::ostream& out) {
    JsonWriter json(out);
    const auto top = json.object();
    json.text("hoopwright", "rules");
    json.whole("version", 1);
    json.text("file", file);
    json.yesNo("usable", review.table != nullptr);
    if (review.table) writeTableInfo(json, info(*review.table));
    {
        const auto problems = json.list("problems");
        for (const Problem& problem : review.problems) {
            const auto each = json.object();
            json.whole("line", problem.at.line);
            json.whole("column", problem.at.column);
            json.text("what", problem.what);
            json.text("remedy", problem.remedy);
        }
    }
    const auto remarks = json.list("remarks");
    for (const TableRemark& remark : review.remarks) {
        const auto each = json.object();
        json.text("kind", remarkKey(remark.kind));
        json.whole("line", remark.at.line);
        json.whole("column", remark.at.column);
        json.text("rule", remark.rule);
        json.text("other_rule", remark.other_rule);
        json.text("what", remark.what);
        json.text("remedy", remark.remedy);
    }
}

int copyAsAsked(const CommandLine& line, Streams streams) {
    TableCopy copy;
    copy.file = line.value("--copy-to");
    copy.id = line.value("--id");
    copy.title = line.value("--title");
    copy.written_by = line.value("--written-by");
    const Problems problems = copyTableFile(line.files()[0], copy);
    print(streams.err, problems);
    if (!problems.empty()) return kExitBadInput;
    streams.out << "Written: " << copy.file.string() << "\n";
    return kExitGood;
}

int runRules(const CommandLine& line, Streams streams) {
    if (line.has("--copy-to")) return copyAsAsked(line, streams);
    const std::string& file = line.files()[0];
    const TableReview review = reviewTableFile(file);
    const int code = !review.table ? kExitBadInput : review.remarks.empty() ? kExitGood : kExitFallsShort;
    if (line.has("--json")) {
        writeReview(review, file, streams.out);
        return code;
    }
    print(streams.err, review.problems);
    if (!review.table) return code;
    const RuleTableInfo& table = info(*review.table);
    TextTable rows({Align::left, Align::left});
    rows.add({"id", table.id});
    rows.add({"title", table.title});
    rows.add({"edition", table.edition});
    rows.add({"written by", table.written_by});
    rows.add({"after a published book", table.published ? "yes" : "no"});
    rows.add({"rules", std::to_string(table.rules)});
    streams.out << rows.text(0);
    if (!table.advice.empty()) streams.out << "\n" << wrapped(table.advice, 0);
    streams.out << "\n";
    if (review.remarks.empty())
        streams.out << "Nothing unused, nothing contradictory, no rule that no cage could meet.\n";
    for (const TableRemark& remark : review.remarks)
        streams.out << wrapped(remarkLine(remark), 0, kPageWidth, 4);
    return code;
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
            "reads a class table and looks it over: wrong, unused, contradictory, past meeting",
            "Reads a class table the way a check does, prints its head, and what a second look finds: names "
            "no rule comes to, rules on the same thing of which only one can hold, rules no cage could meet, "
            "rules that never apply or that every cage meets. Ends with 1 if there is any of that, with 2 "
            "and every problem with line and column if the table cannot be used. With --copy-to it writes "
            "a table of your own from this one instead, comments and all.",
            "hoopwright rules data/rules/club_hillclimb.yaml",
            {{"--json", "", "for programs"},
             {"--copy-to", "FILE", "writes a copy; needs --id, --title and --written-by"},
             {"--id", "ID", "id of the copy"},
             {"--title", "WORDS", "title of the copy"},
             {"--written-by", "WORDS", "who answers for the copy"}},
            &runRules};
}

Command quantitiesCommand() {
    return {"quantities",
            {},
            "every measurement a class table can ask for",
            "One paragraph for each measurement: its name, what it is taken of, its unit, what it means, "
            "what must be known, and what may stand under `with`.",
            "hoopwright quantities",
            {{"--json", "", "for programs"}},
            &runQuantities};
}

}  // namespace hoopwright
