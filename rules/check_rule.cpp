#include "rules/check_rule.h"

#include <algorithm>

#include "rules/quantity.h"
#include "rules/quantity_of.h"
#include "rules/question.h"

namespace hoopwright {
namespace {

SubjectKind kindOf(const Check& check) {
    return quantityOf(check).counts.value_or(quantityOf(check).kind);
}

/// Fails first, then what can't be told, then by what is to spare.
bool worse(const Judged& a, const Judged& b) {
    return a.answer != b.answer ? a.answer < b.answer : a.relative < b.relative;
}

std::string nothingThere(const TableRun& run, const Check& check) {
    const std::string kind(kindWord(kindOf(check)));
    const std::string words = check.of < 0 || kindOf(check) != SubjectKind::member
                                  ? ""
                                  : " " + run.table().selectors[static_cast<std::size_t>(check.of)].words;
    return "there is no such " + kind + (words == " " ? "" : words);
}

/// Nothing is selected, or (`left_out`) the quantity means nothing for any of what is.
CheckAnswer answerNothing(const TableRun& run, const Check& check, bool left_out) {
    CheckAnswer out;
    out.limit_text = check.reading.against.text;
    if (kindOf(check) == SubjectKind::driver && run.scene().job().drivers.empty()) {
        out.answer = Answer::cannot_tell;
        out.missing = "no driver is given";
        return out;
    }
    out.answer = check.none_fails ? Answer::fails : Answer::does_not_apply;
    out.missing = left_out ? "there is nothing of the sort to measure" : nothingThere(run, check);
    out.whole.relative = -1;
    return out;
}

void answerCount(const Check& check, CheckAnswer& out) {
    out.whole = judgeNumber(Measured::number(static_cast<double>(out.things.size())), check.reading.against,
                            Dimension::none);
    out.answer = out.whole.answer;
    out.limit_text = check.reading.against.text;
}

/// How many meet, between those that do and those that might.
void answerHowMany(const Check& check, CheckAnswer& out) {
    const auto count = [&](Answer a) {
        return static_cast<int>(std::count_if(out.things.begin(), out.things.end(),
                                              [&](const JudgedThing& t) { return t.judged.answer == a; }));
    };
    const int sure = count(Answer::meets), maybe = sure + count(Answer::cannot_tell);
    const HowMany& want = check.how_many;
    out.answer = Answer::cannot_tell;
    if (sure >= want.least && maybe <= want.greatest) out.answer = Answer::meets;
    if (maybe < want.least || sure > want.greatest) out.answer = Answer::fails;
    const auto best = std::max_element(
        out.things.begin(), out.things.end(),
        [](const JudgedThing& a, const JudgedThing& b) { return worse(a.judged, b.judged); });
    if (out.answer == Answer::cannot_tell) {
        const auto unknown = std::find_if(out.things.begin(), out.things.end(), [](const JudgedThing& t) {
            return t.judged.answer == Answer::cannot_tell;
        });
        out.chosen = static_cast<int>(unknown - out.things.begin());
        out.missing = unknown->judged.found;
    } else {
        out.chosen = static_cast<int>(best - out.things.begin());
    }
    out.limit_text = want.text + ": " + check.reading.against.text;
    out.whole.value = sure;
    out.whole.relative = out.answer == Answer::fails ? -1 : 1;
}

}  // namespace

CheckAnswer answerCheck(const TableRun& run, const Check& check, std::optional<Side> side) {
    CheckAnswer out;
    bool left_out = false;
    const std::vector<Subject>& subjects = run.subjects(kindOf(check), check.of);
    out.things.reserve(subjects.size());
    for (const Subject& what : subjects) {
        if (side && what.side != *side) continue;
        if (quantityOf(check).counts) {
            out.things.push_back({what, {}});
            continue;
        }
        JudgedThing thing{what, judge(run, check.reading, what)};
        if (thing.judged.answer == Answer::does_not_apply)
            left_out = true;
        else
            out.things.push_back(std::move(thing));
    }
    if (quantityOf(check).counts) {
        answerCount(check, out);
        return out;
    }
    if (out.things.empty()) return answerNothing(run, check, left_out);
    if (!check.how_many.all) {
        answerHowMany(check, out);
        return out;
    }
    const auto worst = std::min_element(
        out.things.begin(), out.things.end(),
        [](const JudgedThing& a, const JudgedThing& b) { return worse(a.judged, b.judged); });
    out.chosen = static_cast<int>(worst - out.things.begin());
    out.answer = worst->judged.answer;
    out.limit_text = check.reading.against.text;
    if (out.answer == Answer::cannot_tell) out.missing = worst->judged.found;
    return out;
}

void RuleRun::answer() {
    if (!applies()) return;
    if (!rule_.permits.empty())
        return addPlain(Answer::does_not_apply, "it permits, and asks for nothing: " + rule_.permits);
    if (!rule_.ask.empty()) return answerQuestion();
    if (!rule_.either.empty()) return answerEither();
    if (!rule_.check->per_side) return answerOne(*rule_.check, std::nullopt);
    for (Side side : {Side::left, Side::right}) answerOne(*rule_.check, side);
}

RuleApplies ruleApplies(const TableRun& run, const Rule& rule) {
    FactAnswer facts = holdAll(run, rule.when);
    if (facts.answer != Answer::meets) return {facts.answer, std::move(facts.missing)};
    for (const Check& condition : rule.only_if) {
        std::vector<CheckAnswer> sides;
        if (condition.per_side)
            for (Side side : {Side::left, Side::right}) sides.push_back(answerCheck(run, condition, side));
        else
            sides.push_back(answerCheck(run, condition, std::nullopt));
        for (CheckAnswer& one : sides) {
            if (one.answer == Answer::meets) continue;
            if (one.answer == Answer::cannot_tell) return {Answer::cannot_tell, std::move(one.missing)};
            return {Answer::does_not_apply,
                    "it applies only with " + quantityOf(condition).info.name + " " + one.limit_text};
        }
    }
    return exempt(run, rule);
}

/// False once it has said why not.
bool RuleRun::applies() {
    const RuleApplies now = ruleApplies(run_, rule_);
    if (now.answer != Answer::meets) addPlain(now.answer, now.missing);
    return now.answer == Answer::meets;
}

void RuleRun::answerOne(const Check& check, std::optional<Side> side) {
    CheckAnswer found = answerCheck(run_, check, side);
    if (check.how_many.all && !quantityOf(check).counts && !found.things.empty())
        return answerEach(check, std::move(found), side);
    out_.push_back(describe(check, found, side));
}

/// One finding for each that does not meet, one for all the rest.
void RuleRun::answerEach(const Check& check, CheckAnswer found, std::optional<Side> side) {
    CheckAnswer rest;
    rest.answer = Answer::meets;
    rest.limit_text = found.limit_text;
    for (const JudgedThing& thing : found.things) {
        if (thing.judged.answer == Answer::meets) continue;
        CheckAnswer one;
        one.answer = thing.judged.answer;
        one.things = {thing};
        one.chosen = 0;
        one.limit_text = found.limit_text;
        if (one.answer == Answer::cannot_tell) one.missing = thing.judged.found;
        out_.push_back(describe(check, one, side));
    }
    rest.things = std::move(found.things);
    std::erase_if(rest.things, [](const JudgedThing& t) { return t.judged.answer != Answer::meets; });
    if (rest.things.empty()) return;
    const auto least = std::min_element(
        rest.things.begin(), rest.things.end(),
        [](const JudgedThing& a, const JudgedThing& b) { return worse(a.judged, b.judged); });
    rest.chosen = static_cast<int>(least - rest.things.begin());
    out_.push_back(describe(check, rest, side));
}

void RuleRun::answerBar(int member) {
    if (ruleApplies(run_, rule_).answer == Answer::does_not_apply) return;
    if (!applies()) return;
    const CheckAnswer all = answerCheck(run_, *rule_.check, std::nullopt);
    for (const JudgedThing& thing : all.things) {
        if (thing.what.kind != SubjectKind::member || thing.what.first != member) continue;
        CheckAnswer one;
        one.answer = thing.judged.answer;
        one.things = {thing};
        one.chosen = 0;
        one.limit_text = all.limit_text;
        if (one.answer == Answer::cannot_tell) one.missing = thing.judged.found;
        out_.push_back(describe(*rule_.check, one, std::nullopt));
    }
}

void RuleRun::answerEither() {
    struct Tried {
        Answer answer = Answer::does_not_apply;
        int short_of = 0;  // checks that do not meet
        const Check* decides = nullptr;
        CheckAnswer found;
        const Rule::Alternative* which = nullptr;
    };
    std::optional<Tried> best;
    const auto rank = [](const Tried& t) {
        return t.answer == Answer::meets ? 0 : t.answer == Answer::cannot_tell ? 1 : 2;
    };
    for (const Rule::Alternative& alternative : rule_.either) {
        Tried now;
        now.which = &alternative;
        for (const Check& check : alternative.all) {
            const std::vector<std::optional<Side>> sides =
                check.per_side ? std::vector<std::optional<Side>>{Side::left, Side::right}
                               : std::vector<std::optional<Side>>{std::nullopt};
            for (const std::optional<Side>& side : sides) {
                CheckAnswer found = answerCheck(run_, check, side);
                // What is not there cannot be part of a layout that is there.
                const Answer answer = found.answer == Answer::does_not_apply ? Answer::fails : found.answer;
                if (answer != Answer::meets) ++now.short_of;
                if (!now.decides || answer < now.answer) {
                    now.answer = answer;
                    now.decides = &check;
                    now.found = std::move(found);
                }
            }
        }
        const bool better =
            !best || rank(now) < rank(*best) || (rank(now) == rank(*best) && now.short_of < best->short_of);
        if (better) best = std::move(now);
    }
    Finding finding = describe(*best->decides, best->found, std::nullopt);
    finding.answer = best->answer;
    finding.limit_text = best->which->name + ": " + finding.limit_text;
    if (best->answer == Answer::fails) {
        std::string names;
        for (const Rule::Alternative& alternative : rule_.either)
            names += (names.empty() ? "" : ", or ") + alternative.name;
        finding.found = "none of: " + names;
    }
    out_.push_back(std::move(finding));
}

void RuleRun::answerQuestion() {
    const std::vector<Subject>& things = run_.subjects(rule_.ask_each, rule_.ask_of);
    if (things.empty())
        return addPlain(Answer::does_not_apply, "there is no such " + std::string(kindWord(rule_.ask_each)));
    const Question question = questionOf(run_, rule_);
    if (question.text.empty()) return addPlain(Answer::cannot_tell, question.missing);
    for (const Subject& what : things) {
        Finding finding = blank();
        finding.answer = Answer::ask_person;
        finding.subject = run_.id(what);
        finding.subject_name = run_.name(what);
        finding.missing = question.text;
        if (what.kind != SubjectKind::cage) show(finding, {}, what);
        for (const PersonsAnswer& answer : run_.scene().job().cage.answers) {
            if (answer.table != run_.table().info.id || answer.rule != rule_.id ||
                answer.subject != finding.subject)
                continue;
            finding.answer = answer.good ? Answer::meets : Answer::fails;
            finding.found = std::string(answer.good ? "good" : "not good") + ", said " + answer.who + " on " +
                            answer.when + (answer.note.empty() ? "" : ": " + answer.note);
            if (const std::string lacking = evidenceLacking(rule_, answer); !lacking.empty()) {
                finding.answer = Answer::ask_person;
                finding.missing = question.text + " " + lacking;
            }
            finding.answered = PersonsWord{answer.who, answer.when, answer.note, answer.photo, answer.good};
        }
        if (finding.answer == Answer::fails) finding.way_out = rule_.way_out;
        out_.push_back(std::move(finding));
    }
}

}  // namespace hoopwright
