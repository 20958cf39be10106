// The same for programs.
#include <cmath>

#include "app/commands/check_report.h"
#include "app/commands/json_parts.h"

namespace hoopwright {

void writeSinceJson(JsonWriter& json, const SinceReport& since) {
    const auto object = json.object("since");
    json.text("file", since.file);
    json.text("since", since.since);
    const auto list = json.list("changes");
    for (const FindingChange& change : since.changes) {
        const auto each = json.object();
        json.text("kind", findingChangeKey(change.kind));
        json.text("table", change.table);
        json.text("rule", change.rule);
        json.text("subject", change.subject);
        json.text("subject_name", change.subject_name);
        json.text("title", change.title);
        json.text("was", change.was);
        json.text("is", change.is);
        if (change.was_margin) writeMeasure(json, "was_margin", change.dimension, *change.was_margin);
        if (change.margin) writeMeasure(json, "margin", change.dimension, *change.margin);
    }
}

void writeSeveralJson(JsonWriter& json, const std::vector<SharedLimit>& several) {
    const auto list = json.list("several");
    for (const SharedLimit& one : several) {
        const auto each = json.object();
        json.text("kind", sharedLimitKey(one.kind));
        json.text("quantity", one.quantity);
        json.texts("subjects", one.subjects);
        json.text("serves", one.serves);
        if (one.low && std::isfinite(*one.low)) writeMeasure(json, "low", one.dimension, *one.low);
        if (one.high && std::isfinite(*one.high)) writeMeasure(json, "high", one.dimension, *one.high);
        json.yesNo("low_open", one.low_open);
        json.yesNo("high_open", one.high_open);
        json.texts("words", one.words);
        json.text("says", one.says);
        const auto asks = json.list("asks");
        for (const TableAsk& ask : one.asks) {
            const auto of = json.object();
            json.text("table", ask.table);
            json.text("rule", ask.rule);
            json.text("clause", ask.clause);
            json.text("title", ask.title);
            json.text("limit_text", ask.limit_text);
        }
    }
}

void writeEditionsJson(JsonWriter& json, const std::vector<EditionNews>& editions) {
    const auto list = json.list("editions");
    for (const EditionNews& news : editions) {
        const auto each = json.object();
        json.text("table", news.table);
        json.text("title", news.title);
        json.text("edition", news.edition);
        json.yesNo("kept", news.kept);
        json.text("was_edition", news.was_edition);
        json.text("kept_when", news.kept_when);
        const auto changes = json.list("changes");
        for (const EditionChange& change : news.changes) {
            const auto one = json.object();
            json.text("kind", editionChangeKey(change.kind));
            json.text("rule", change.rule);
            json.text("title", change.title);
            json.text("was_says", change.was_says);
            json.text("says", change.says);
        }
    }
}

void writeMendJson(JsonWriter& json, const Mend& mend) {
    json.text("kind", mendKey(mend.kind));
    json.text("name", mend.name);
    json.text("says", mend.says);
    json.texts("parts", mend.parts);
    json.number("adds_kg", mend.adds_kg);
    if (mend.adds_price)
        json.number("adds_price", *mend.adds_price);
    else
        json.nothing("adds_price");
    json.number("moved_mm", mend.moved_mm);
    json.point("at_mm", mend.at);
    const auto meets = json.list("meets");
    for (const auto& [table, rule, subject] : mend.meets) {
        const auto each = json.object();
        json.text("table", table);
        json.text("rule", rule);
        json.text("subject", subject);
    }
}

void writeMoveJson(JsonWriter& json, const MendAll& move, const Job& job) {
    const auto object = json.object("move");
    json.number("adds_kg", move.adds_kg);
    if (move.adds_price)
        json.number("adds_price", *move.adds_price);
    else
        json.nothing("adds_price");
    json.text("currency", job.stock.currency);
    json.whole("fails", move.report.count(Answer::fails));
    json.yesNo("all_meet", move.report.allMeet());
    {
        const auto steps = json.list("steps");
        for (const MendAll::Step& step : move.steps) {
            const auto each = json.object();
            json.text("table", step.of.table);
            json.text("rule", step.of.rule);
            json.text("subject", step.of.subject);
            writeMendJson(json, step.mend);
        }
    }
    const auto list = json.list("left");
    for (const MendAll::Left& left : move.left) {
        const auto each = json.object();
        json.text("table", left.finding.table);
        json.text("rule", left.finding.rule);
        json.text("subject", left.finding.subject);
        json.text("title", left.finding.title);
        json.text("none", left.none);
    }
}

}  // namespace hoopwright
