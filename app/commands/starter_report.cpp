#include "app/commands/starter_report.h"

#include <algorithm>
#include <ostream>

#include "app/commands/command_kit.h"
#include "app/commands/json_parts.h"
#include "app/commands/text_table.h"
#include "app/view/finding_text.h"
#include "core/files/yaml_map.h"

namespace hoopwright {
namespace {

LengthUnit unitOfCage(const MadeStarter& made) {
    return made.choice.made.cage.unit;
}

std::string rulesText(const std::vector<RuleName>& rules) {
    std::string text;
    for (const RuleName& rule : rules)
        text += (text.empty() ? "" : "; ") + rule.clause + " " + rule.title +
                (rule.required ? "" : " (recommended)");
    return text;
}

std::string whyText(const ShortRule& one, const Finding& finding) {
    switch (one.why) {
        case ShortRule::Why::left_out:
            return "It asks for " + one.option + ", which is left out.";
        case ShortRule::Why::other_starter:
            return "The starter " + one.starter + " meets it in this car.";
        case ShortRule::Why::fit:
            break;
    }
    if (finding.answer == Answer::cannot_tell) return "No starter changes what is not known.";
    return "No starter and no option meets it: car, drivers and tube leave no more.";
}

void writeFitted(std::ostream& out, const MadeStarter& made) {
    if (made.choice.made.fitted.empty()) return;
    const LengthStyle style{unitOfCage(made)};
    out << "\nGAP to the skin, " << (unitOfCage(made) == LengthUnit::in ? "in" : "mm")
        << ", and what keeps the bar from going nearer\n";
    for (const FittedBar& bar : made.choice.made.fitted) {
        std::string limits;
        for (const FitLimit& limit : bar.limits) limits += (limits.empty() ? "" : "; ") + limit.text;
        out << wrapped(bar.member + ": least " + showLength(bar.gap.least_mm, style) + ", mean " +
                           showLength(bar.gap.mean_mm, style) + ", greatest " +
                           showLength(bar.gap.greatest_mm, style),
                       2);
        if (!limits.empty()) out << wrapped(limits, 6);
    }
}

void writeOptions(std::ostream& out, const MadeStarter& made) {
    TextTable rows({Align::left, Align::left, Align::right, Align::left});
    for (const OptionEffect& option : made.options)
        rows.add({option.has ? "with" : "-", option.option,
                  option.why_not.empty() ? showMass(option.adds_kg, unitOfCage(made)) : "", "|"});
    out << "\nOPTIONS, what each adds, and which rule asks for it\n";
    std::string labels = rows.text(2);
    std::size_t from = 0;
    for (const OptionEffect& option : made.options) {
        const std::size_t to = labels.find('\n', from);
        std::string label = labels.substr(from, to - from);
        from = to + 1;
        label.pop_back();
        std::string text = option.why_not;
        if (!option.asked_by.empty())
            text += (text.empty() ? "" : " ") + ("asked for by " + rulesText(option.asked_by));
        if (!option.against.empty())
            text += (text.empty() ? "" : ". ") + ("against " + rulesText(option.against));
        while (text.empty() && label.ends_with(' ')) label.pop_back();
        out << (text.empty() ? label + "\n" : wrappedBehind(label, text));
    }
}

void writeRules(JsonWriter& json, const char* key, const std::vector<RuleName>& rules) {
    const auto list = json.list(key);
    for (const RuleName& rule : rules) {
        const auto each = json.object();
        json.text("table", rule.table);
        json.text("rule", rule.rule);
        json.text("clause", rule.clause);
        json.text("title", rule.title);
        json.text("severity", rule.required ? "required" : "recommended");
    }
}

void writeShort(JsonWriter& json, const MadeStarter& made) {
    const auto list = json.list("falls_short");
    for (const ShortRule& one : made.choice.falls_short) {
        const Finding& finding = made.choice.report.findings[static_cast<std::size_t>(one.finding)];
        const auto each = json.object();
        json.text("why", shortRuleWord(one.why));
        json.text("option", one.option);
        json.text("starter", one.starter);
        json.text("answer", answerKey(finding.answer));
        json.text("table", finding.table);
        json.text("rule", finding.rule);
        json.text("clause", finding.clause);
        json.text("title", finding.title);
        json.text("sentence", finding.sentence);
        json.text("subject", finding.subject);
        if (finding.value) writeMeasure(json, "value", finding.dimension, *finding.value);
        if (finding.limit) writeMeasure(json, "limit", finding.dimension, *finding.limit);
        json.text("limit_text", finding.limit_text);
        json.text("missing", finding.missing);
        json.text("way_out", finding.way_out);
    }
}

}  // namespace

void writeStarterText(std::ostream& out, const MadeStarter& made) {
    const StarterChoice& choice = made.choice;
    const CageTotals& totals = choice.geometry.totals;
    const LengthStyle style{unitOfCage(made)};
    out << wrapped(made.starter.name + ": " + std::to_string(totals.members) + " bars, " +
                       std::to_string(totals.bends) + " bends, " +
                       showMass(totals.tube_mass_kg, unitOfCage(made)) + " of tube and " +
                       showMass(totals.plate_mass_kg, unitOfCage(made)) + " of plate",
                   0);
    if (!made.out.empty()) out << wrapped("Wrote " + made.out, 0);
    TextTable tubes({Align::left, Align::left, Align::left});
    for (const TubeChoice& tube : choice.tubes) {
        tubes.add({roleOf(tube.role).name, tube.stock,
                   tube.why == TubeChoice::Why::said       ? "as said"
                   : tube.why == TubeChoice::Why::lightest ? "the lightest the tables accept"
                                                           : "the usual tube"});
    }
    out << "\nTUBE\n" << tubes.text(2);
    writeFitted(out, made);
    writeOptions(out, made);
    if (!choice.for_rules.empty())
        out << "\n" << wrapped("Taken because the class tables ask for it: " + listed(choice.for_rules), 0);
    for (const std::string& note : choice.made.notes) out << "\n" << wrapped(note, 0);
    if (!choice.geometry.problems.empty()) out << "\nDOES NOT FIT TOGETHER\n";
    for (const GeometryProblem& problem : choice.geometry.problems)
        out << wrapped(problem.text + (problem.remedy.empty() ? "" : " Way out: " + problem.remedy + "."), 2);
    if (!choice.falls_short.empty()) out << "\nFALLS SHORT of what is required\n";
    for (const ShortRule& one : choice.falls_short) {
        const Finding& finding = choice.report.findings[static_cast<std::size_t>(one.finding)];
        const std::string what = finding.subject_name.empty() ? "whole cage" : finding.subject_name;
        out << wrapped(finding.clause + " " + finding.title + ": " + what, 2);
        const std::string outcome = outcomeText(finding, style);
        if (!outcome.empty()) out << wrapped(outcome, 6);
        out << wrapped(whyText(one, finding), 6);
    }
    out << "\n" << wrapped(std::string(caution()), 0);
}

void writeStarterJson(std::ostream& out, const MadeStarter& made) {
    const StarterChoice& choice = made.choice;
    JsonWriter json(out);
    const auto top = json.object();
    json.text("hoopwright", "starter");
    json.whole("version", 1);
    json.text("cage", choice.made.cage.name);
    json.text("starter", made.starter.id);
    json.text("name", made.starter.name);
    json.text("base", baseWord(made.starter.base));
    json.text("out", made.out);
    json.yesNo("all_meet", choice.report.allMeet());
    {
        const auto list = json.list("tubes");
        for (const TubeChoice& tube : choice.tubes) {
            const auto each = json.object();
            json.text("role", tube.role);
            json.text("stock", tube.stock);
            json.text("why", tubeChoiceWord(tube.why));
        }
    }
    {
        const auto list = json.list("fitted");
        for (const FittedBar& bar : choice.made.fitted) {
            const auto each = json.object();
            json.text("member", bar.member);
            json.number("gap_least_mm", bar.gap.least_mm);
            json.number("gap_mean_mm", bar.gap.mean_mm);
            json.number("gap_greatest_mm", bar.gap.greatest_mm);
            const auto limits = json.list("limits");
            for (const FitLimit& limit : bar.limits) {
                const auto one = json.object();
                json.text("what", limit.text);
                json.number("station_mm", limit.station_mm);
            }
        }
    }
    {
        const auto list = json.list("options");
        for (const OptionEffect& option : made.options) {
            const auto each = json.object();
            json.text("id", option.option);
            json.yesNo("has", option.has);
            json.number("adds_kg", option.adds_kg);
            json.text("why_not", option.why_not);
            writeRules(json, "asked_by", option.asked_by);
            writeRules(json, "against", option.against);
        }
    }
    json.texts("for_rules", choice.for_rules);
    json.texts("notes", choice.made.notes);
    writeShort(json, made);
    {
        const auto totals = json.object("totals");
        json.whole("members", choice.geometry.totals.members);
        json.whole("joints", choice.geometry.totals.joints);
        json.whole("bends", choice.geometry.totals.bends);
        json.number("tube_length_mm", choice.geometry.totals.tube_length_mm);
        json.number("tube_mass_kg", choice.geometry.totals.tube_mass_kg);
        json.number("plate_mass_kg", choice.geometry.totals.plate_mass_kg);
    }
    writeGeometryProblems(json, choice.geometry);
    json.text("caution", caution());
}

void writeStarterListText(std::ostream& out) {
    out << "STARTERS\n";
    for (const Starter& starter : starters()) {
        out << "  " << starter.id << "\n" << wrapped(starter.name + ". " + starter.about, 6);
        out << wrapped("with " + listed(starter.usual), 6);
    }
    out << "\nOPTIONS; of those that stand in one group a cage has at most one\n";
    for (const StarterOption& option : starterOptions())
        out << "  " << option.id << (option.group.empty() ? "" : "  (" + option.group + ")") << "\n"
            << wrapped(option.about, 6);
}

void writeStarterListJson(std::ostream& out) {
    JsonWriter json(out);
    const auto top = json.object();
    json.text("hoopwright", "starters");
    json.whole("version", 1);
    {
        const auto list = json.list("starters");
        for (const Starter& starter : starters()) {
            const auto each = json.object();
            json.text("id", starter.id);
            json.text("name", starter.name);
            json.text("about", starter.about);
            json.text("base", baseWord(starter.base));
            json.texts("usual", starter.usual);
            json.texts("may", starter.may);
        }
    }
    const auto list = json.list("options");
    for (const StarterOption& option : starterOptions()) {
        const auto each = json.object();
        json.text("id", option.id);
        json.text("group", option.group);
        json.text("name", option.name);
        json.text("about", option.about);
    }
}

}  // namespace hoopwright
