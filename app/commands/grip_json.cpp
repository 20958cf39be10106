#include <ostream>

#include "app/commands/command_kit.h"
#include "app/commands/grip_report.h"
#include "app/commands/json_parts.h"

namespace hoopwright {
namespace {

void writeNumbers(JsonWriter& json, std::string_view key, const std::vector<GripNumber>& numbers) {
    const auto list = json.list(key);
    for (const GripNumber& one : numbers) {
        const auto each = json.object();
        json.text("name", one.name);
        writeMeasure(json, "value", one.dimension, one.value);
    }
}

void writeLimit(JsonWriter& json, std::string_view key, const GripLimit& limit,
                const std::vector<GripNumber>& numbers) {
    const auto object = json.object(key);
    json.point("at_mm", limit.at);
    writeNumbers(json, "numbers", numbers);
    json.text("why", limit.why);
}

}  // namespace

std::string_view gripKey(Grip::Kind kind) {
    switch (kind) {
        case Grip::Kind::landing:
            return "landing";
        case Grip::Kind::node:
            return "node";
        case Grip::Kind::corner:
            return "corner";
        case Grip::Kind::bar:
            return "bar";
        case Grip::Kind::lean:
            return "lean";
        case Grip::Kind::plate:
            break;
    }
    return "plate";
}

void writeGripJson(std::ostream& out, const GripReport& report) {
    JsonWriter json(out);
    const auto top = json.object();
    json.text("hoopwright", "grip");
    json.whole("version", 1);
    json.text("cage", report.job.cage.name);
    json.text("part", report.part);
    {
        const auto list = json.list("grips");
        for (const GripReport::Line& one : report.grips) {
            const auto each = json.object();
            json.text("kind", gripKey(one.grip.kind));
            json.text("host", one.grip.host);
            json.point("at_mm", one.grip.at);
            writeNumbers(json, "numbers", one.numbers);
            if (!one.range) {
                json.nothing("range");
                continue;
            }
            const auto range = json.object("range");
            writeLimit(json, "low", one.range->low, one.low);
            writeLimit(json, "high", one.range->high, one.high);
            const auto mends = json.list("mends");
            for (std::size_t i = 0; i < one.mends.size(); ++i) {
                const auto mend = json.object();
                json.point("at_mm", one.range->mends[i].at);
                writeNumbers(json, "numbers", one.mends[i]);
                json.text("rule", one.range->mends[i].why);
            }
        }
    }
    if (report.taken > 0) {
        const auto pull = json.object("pulled");
        json.whole("take", report.taken);
        json.point("at_mm", report.pulled_at);
        writeNumbers(json, "numbers", report.pulled_to);
        json.texts("worse", report.worse);
    } else {
        json.nothing("pulled");
    }
    json.text("written", report.written);
    json.text("caution", caution());
}

}  // namespace hoopwright
