// What a person says of a job: an answer to a question, a number ticked off, an edition agreed on.
#include <QDate>
#include <algorithm>
#include <filesystem>
#include <ostream>

#include "app/commands/cage_out.h"
#include "app/commands/check_report.h"
#include "app/commands/command_kit.h"
#include "app/commands/json_parts.h"
#include "app/commands/text_table.h"
#include "core/files/yaml_map.h"
#include "core/model/resolve.h"

namespace hoopwright {
namespace {

/// One thing said, and what it made of the job.
struct Recorded {
    std::string command, done;
    CageLayout cage;
};

std::string today() {
    return QDate::currentDate().toString(Qt::ISODate).toStdString();
}

/// Who and when, or what is wrong with them.
Expected<PersonsWord> wordOf(const CommandLine& line) {
    PersonsWord word{line.value("--who"), line.value("--when", today()), line.value("--note"),
                     line.value("--photo"), true};
    if (word.who.empty()) return Reason{"--who NAME is missing: say who looked"};
    if (!isDate(word.when)) return Reason{"--when: '" + word.when + "' is no date; write it as 2026-03-02"};
    return word;
}

/// Writes, or says what would be written.
int finish(const CommandLine& line, Streams streams, const JobResult& opened, const Recorded& recorded) {
    const std::string out = line.value("--out");
    if (line.has("--out")) {
        if (const std::string wrong = wrongOut(out); !wrong.empty())
            return refuse(streams, recorded.command, wrong);
        if (const std::optional<Problem> problem = writeCageAs(out, opened, recorded.cage)) {
            print(streams.err, {*problem});
            return kExitBadInput;
        }
    }
    if (line.has("--json")) {
        JsonWriter json(streams.out);
        const auto top = json.object();
        json.text("hoopwright", recorded.command);
        json.whole("version", 1);
        json.text("cage", recorded.cage.name);
        json.text("done", recorded.done);
        json.text("written", out);
        return kExitGood;
    }
    streams.out << wrapped(recorded.done, 0);
    if (!out.empty()) streams.out << wrapped("Wrote " + out, 0);
    return kExitGood;
}

/// The findings of a rule on the job as it is.
std::vector<Finding> findingsOf(const CommandLine& line, const Job& job,
                                const std::vector<RuleTableRef>& tables) {
    std::vector<Finding> out;
    for (Finding& finding : check(tables, job, resolve(job)).findings)
        if (finding.rule == line.files()[1] &&
            (!line.has("--table") || finding.table == line.value("--table")))
            out.push_back(std::move(finding));
    return out;
}

std::string noRule(const std::string& rule) {
    return "no table in use has a rule '" + rule + "'; hoopwright check --json names them";
}

bool ofSeveralTables(const std::vector<Finding>& findings) {
    return std::ranges::any_of(findings, [&](const Finding& f) { return f.table != findings.front().table; });
}

int runAnswer(const CommandLine& line, Streams streams) {
    const std::optional<JobResult> opened = openJob(line.files()[0], streams);
    if (!opened) return kExitBadInput;
    const auto tables = openTables(line, *opened, streams);
    if (!tables) return kExitBadInput;
    const std::string rule = line.files()[1], subject = line.value("--subject");
    const std::vector<Finding> findings = findingsOf(line, *opened->job, *tables);
    if (findings.empty()) return refuse(streams, "answer", noRule(rule));
    if (ofSeveralTables(findings))
        return refuse(streams, "answer",
                      "several tables have a rule '" + rule + "': name one with --table ID");
    const auto asked = std::ranges::find_if(findings, [&](const Finding& f) {
        return f.subject == subject && (f.answer == Answer::ask_person || f.answered);
    });
    if (asked == findings.end()) {
        std::string of;
        for (const Finding& f : findings)
            if ((f.answer == Answer::ask_person || f.answered) && !f.subject.empty())
                of += (of.empty() ? "" : ", ") + f.subject;
        return refuse(
            streams, "answer",
            of.empty() ? "rule '" + rule + "' asks no person here" : "say of which with --subject: " + of);
    }
    if (line.has("--good") == line.has("--not-good"))
        return refuse(streams, "answer", "say --good or --not-good");
    const Expected<PersonsWord> word = wordOf(line);
    if (!word) return refuse(streams, "answer", word.reason());
    std::error_code failed;
    const std::filesystem::path photo = opened->files.cage.parent_path() / word->photo;
    if (!word->photo.empty() && !std::filesystem::is_regular_file(photo, failed))
        return refuse(streams, "answer",
                      "--photo: there is no file '" + photo.generic_string() +
                          "'; it is named from the cage file's folder");
    Recorded recorded{"answer", {}, opened->job->cage};
    std::erase_if(recorded.cage.answers, [&](const PersonsAnswer& a) {
        return a.table == asked->table && a.rule == rule && a.subject == subject;
    });
    recorded.cage.answers.push_back(
        {asked->table, rule, subject, line.has("--good"), word->who, word->when, word->note, word->photo});
    recorded.done = asked->title + (asked->subject_name.empty() ? "" : ", " + asked->subject_name) + ": " +
                    (line.has("--good") ? "good" : "not good") + ", said " + word->who + " on " + word->when +
                    ".";
    return finish(line, streams, *opened, recorded);
}

int runTick(const CommandLine& line, Streams streams) {
    const std::optional<JobResult> opened = openJob(line.files()[0], streams);
    if (!opened) return kExitBadInput;
    const auto tables = openTables(line, *opened, streams);
    if (!tables) return kExitBadInput;
    const std::string rule = line.files()[1];
    const std::vector<Finding> findings = findingsOf(line, *opened->job, *tables);
    if (findings.empty()) return refuse(streams, "tick", noRule(rule));
    if (ofSeveralTables(findings))
        return refuse(streams, "tick", "several tables have a rule '" + rule + "': name one with --table ID");
    const Finding& one = findings.front();
    if (one.known == Known::read)
        return refuse(streams, "tick",
                      "the number of rule '" + rule + "' was read in the book: there is nothing to tick off");
    const Expected<PersonsWord> word = wordOf(line);
    if (!word) return refuse(streams, "tick", word.reason());
    Recorded recorded{"tick", {}, opened->job->cage};
    std::erase_if(recorded.cage.ticks,
                  [&](const RuleTick& t) { return t.table == one.table && t.rule == rule; });
    recorded.cage.ticks.push_back({one.table, rule, one.edition, word->who, word->when});
    recorded.done = one.title + ": held against the book, edition " + one.edition + ", by " + word->who +
                    " on " + word->when + ".";
    return finish(line, streams, *opened, recorded);
}

int runEditions(const CommandLine& line, Streams streams) {
    const std::optional<JobResult> opened = openJob(line.files()[0], streams);
    if (!opened) return kExitBadInput;
    const auto tables = openTables(line, *opened, streams);
    if (!tables) return kExitBadInput;
    const std::vector<EditionNews> news = editionNews(*tables, opened->job->cage);
    CageLayout cage = opened->job->cage;
    const std::string out = line.value("--out");
    if (line.has("--keep")) {
        const std::string when = line.value("--when", today());
        if (!isDate(when))
            return refuse(streams, "editions", "--when: '" + when + "' is no date; write it as 2026-03-02");
        keepEditions(cage, *tables, when);
        if (!line.has("--out"))
            return refuse(streams, "editions", "--out FILE is missing: say where the cage is to be written");
        if (const std::string wrong = wrongOut(out); !wrong.empty())
            return refuse(streams, "editions", wrong);
        if (const std::optional<Problem> problem = writeCageAs(out, *opened, cage)) {
            print(streams.err, {*problem});
            return kExitBadInput;
        }
    }
    const bool any = std::ranges::any_of(news, &EditionNews::isNews);
    if (line.has("--json")) {
        JsonWriter json(streams.out);
        const auto top = json.object();
        json.text("hoopwright", "editions");
        json.whole("version", 1);
        json.text("cage", cage.name);
        writeEditionsJson(json, news);
        json.text("written", out);
    } else {
        if (news.empty()) streams.out << "The cage names no class table.\n";
        writeEditionsText(streams.out, news, true);
        if (!out.empty()) streams.out << wrapped("Kept them as they are now. Wrote " + out, 0);
    }
    return any && !line.has("--keep") ? kExitFallsShort : kExitGood;
}

std::vector<OptionSpec> options(std::vector<OptionSpec> own, bool who) {
    if (who) {
        own.push_back({"--who", "NAME", "who looked"});
        own.push_back({"--when", "DATE", "when, as 2026-03-02; today unless said"});
        own.push_back({"--table", "ID", "which table, if several have a rule of that name"});
    }
    own.push_back({"--rules", "FILE", "a class table in place of those the cage names", true});
    own.push_back({"--json", "", "for programs; every key says its unit (app/commands/JSON.md)"});
    own.push_back({"--out", "FILE", "the cage that makes; never a file that is there"});
    return own;
}

}  // namespace

Command answerCommand() {
    return {"answer",
            {"CAGE", "RULE"},
            "a person's answer to a question only a person can answer",
            "Keeps with the cage who looked, when, what was seen, and a photo. It turns the question into "
            "meets or fails. --out writes the cage that makes.",
            "hoopwright answer data/cages/hillclimb_saloon.yaml welds_all_round --good --who 'A. Fitter'",
            options({{"--good", "", "it is as the rule wants"},
                     {"--not-good", "", "it is not"},
                     {"--subject", "ID", "of which bar, plate or driver, where it is asked of each"},
                     {"--note", "TEXT", "what was seen"},
                     {"--photo", "FILE", "a picture, named from the cage file's folder"}},
                    true),
            &runAnswer};
}

Command tickCommand() {
    return {
        "tick",
        {"CAGE", "RULE"},
        "a number the table has second hand or from memory, held against the book in force",
        "Keeps with the cage that a person has held a rule against the book in force, who and when. Until "
        "then what meets by that number is \"meets, not confirmed\" and no pass. A tick is for the "
        "edition of the table: with the next one it is asked for again. --out writes the cage that makes.",
        "hoopwright tick my_cage.yaml plate_area --who 'A. Fitter' --out my_cage_2.yaml",
        options({}, true),
        &runTick};
}

Command editionsCommand() {
    return {
        "editions",
        {"CAGE"},
        "what the class tables say otherwise than when the job was agreed",
        "Holds each class table against the edition the job keeps of it: rules new, gone and changed, with "
        "the old words and the new ones. --keep keeps the tables as they are now, in the cage --out "
        "writes. Ends with 1 if something is otherwise.",
        "hoopwright editions data/cages/hillclimb_saloon.yaml",
        options({{"--keep", "", "the tables as they are now, from today on"},
                 {"--when", "DATE", "with --keep: since when, as 2026-03-02"}},
                false),
        &runEditions};
}

}  // namespace hoopwright
