#include "app/commands/check_report.h"
#include "app/commands/command_kit.h"
#include "app/commands/json_parts.h"
#include "app/commands/pack_report.h"
#include "app/commands/table_json.h"

namespace hoopwright {
namespace {

class ShapeWriter {
public:
    explicit ShapeWriter(JsonWriter& json) : json_(json) {}
    void operator()(const ShownPoint& point) const {
        json_.text("kind", "point");
        json_.point("at_mm", point.at);
    }
    void operator()(const ShownLine& line) const {
        json_.text("kind", line.dimension ? "dimension" : "line");
        json_.point("from_mm", line.from);
        json_.point("to_mm", line.to);
    }
    void operator()(const ShownAngle& angle) const {
        json_.text("kind", "angle");
        json_.point("apex_mm", angle.apex);
        json_.point("from_mm", angle.from);
        json_.point("to_mm", angle.to);
    }
    void operator()(const ShownPlane& plane) const {
        json_.text("kind", "plane");
        json_.point("at_mm", plane.at);
        json_.point("normal", plane.normal);
    }
    void operator()(const ShownBand& band) const {
        json_.text("kind", "band");
        json_.point("low_mm", band.low);
        json_.point("high_mm", band.high);
        json_.point("across_mm", band.across);
    }

private:
    JsonWriter& json_;
};

void writeEvidence(JsonWriter& json, const Evidence& evidence) {
    const auto object = json.object("evidence");
    json.texts("members", evidence.members);
    json.texts("plates", evidence.plates);
    json.text("driver", evidence.driver);
    json.point("look_at_mm", evidence.look_at);
    const auto shapes = json.list("shapes");
    for (const ShownShape& shape : evidence.shapes) {
        const auto each = json.object();
        std::visit(ShapeWriter(json), shape);
    }
}

void writeWord(JsonWriter& json, std::string_view key, const std::optional<PersonsWord>& word,
               const std::filesystem::path& folder) {
    if (!word) return json.nothing(key);
    const auto object = json.object(key);
    json.text("who", word->who);
    json.text("when", word->when);
    json.text("note", word->note);
    json.text("photo", word->photo);
    std::error_code failed;
    json.yesNo("photo_is_there",
               !word->photo.empty() && std::filesystem::is_regular_file(folder / word->photo, failed));
}

void writeFinding(JsonWriter& json, const Finding& finding, int rank, RestsOn rests,
                  const std::filesystem::path& folder) {
    const auto object = json.object();
    json.whole("rank", rank);
    json.text("answer", answerKey(finding.answer));
    json.text("table", finding.table);
    json.text("rule", finding.rule);
    json.text("clause", finding.clause);
    json.text("edition", finding.edition);
    json.text("title", finding.title);
    json.text("sentence", finding.sentence);
    json.text("severity", finding.severity == Severity::required ? "required" : "recommended");
    json.text("known", knownKey(finding.known));
    json.yesNo("confirmed", finding.confirmed);
    writeWord(json, "ticked", finding.ticked, folder);
    writeWord(json, "answered", finding.answered, folder);
    json.text("subject", finding.subject);
    json.text("subject_name", finding.subject_name);
    json.whole("things", finding.things);
    json.text("rests_on", restsOnKey(rests));
    json.text("found", finding.found);
    if (finding.value) writeMeasure(json, "value", finding.dimension, *finding.value);
    if (finding.limit) writeMeasure(json, "limit", finding.dimension, *finding.limit);
    if (finding.margin) writeMeasure(json, "margin", finding.dimension, *finding.margin);
    json.text("limit_text", finding.limit_text);
    json.text("missing", finding.missing);
    json.text("way_out", finding.way_out);
    json.text("beware", finding.beware);
    writeEvidence(json, finding.evidence);
}

void writeTables(JsonWriter& json, const CheckReport& report) {
    const auto list = json.list("tables");
    for (const RuleTableInfo& table : report.tables) {
        const auto each = json.object();
        writeTableInfo(json, table);
    }
}

}  // namespace

void writeCheckJson(std::ostream& out, const CheckedJob& checked) {
    JsonWriter json(out);
    const auto top = json.object();
    json.text("hoopwright", "check");
    json.whole("version", 1);
    json.text("cage", checked.job.cage.name);
    json.yesNo("all_meet", checked.report.allMeet());
    {
        const auto counts = json.object("counts");
        for (const Answer answer : {Answer::fails, Answer::cannot_tell, Answer::ask_person, Answer::meets,
                                    Answer::does_not_apply}) {
            json.whole(answerKey(answer), checked.report.count(answer));
        }
        json.whole("meets_not_confirmed", checked.report.unconfirmed());
    }
    writeTables(json, checked.report);
    {
        const auto findings = json.list("findings");
        std::vector<int> rank(checked.report.findings.size());
        int next = 0;
        for (const int i : worstFirst(checked.report)) rank[static_cast<std::size_t>(i)] = ++next;
        for (std::size_t i = 0; i < checked.report.findings.size(); ++i)
            writeFinding(json, checked.report.findings[i], rank[i],
                         i < checked.rests.size() ? checked.rests[i] : RestsOn::plan, checked.folder);
    }
    writeAsBuiltJson(json, checked.as_built, checked.job);
    writeSeveralJson(json, checked.several);
    writeEditionsJson(json, checked.editions);
    if (checked.since) writeSinceJson(json, *checked.since);
    if (checked.move) writeMoveJson(json, *checked.move, checked.job);
    writeGeometryProblems(json, checked.cage);
    json.text("caution", caution());
}

}  // namespace hoopwright
