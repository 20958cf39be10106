#include <algorithm>
#include <ostream>

#include "app/commands/command_kit.h"
#include "app/commands/driver_json.h"
#include "app/commands/driver_text.h"
#include "app/commands/json_parts.h"
#include "app/commands/seat_option.h"
#include "core/base/text.h"
#include "core/files/yaml_map.h"
#include "core/model/resolve.h"
#include "rules/belt_band.h"
#include "rules/seat_effect.h"

namespace hoopwright {
namespace {

/// Everything the answer is made of.
struct Asked {
    const Job& job;
    const CageGeometry& cage;
    std::span<const RuleTableRef> tables;
    std::vector<const Driver*> drivers;
    std::optional<SeatMove> move;
};

void writeChanges(JsonWriter& json, const SeatEffect& effect) {
    const auto list = json.list("rules");
    for (const RuleChange& change : effect.changes) {
        const auto each = json.object();
        const auto finding = [](const CheckReport& report, int index) {
            return index < 0 ? nullptr : &report.findings[static_cast<std::size_t>(index)];
        };
        const Finding *before = finding(effect.rules_before, change.before),
                      *after = finding(effect.rules_after, change.after), *any = before ? before : after;
        json.text("table", any->table);
        json.text("rule", any->rule);
        json.text("title", any->title);
        json.text("subject", any->subject);
        json.text("limit_text", any->limit_text);
        for (const auto& [key, one] : {std::pair{"before", before}, std::pair{"after", after}}) {
            const auto object = json.object(key);
            json.text("answer", one ? answerKey(one->answer) : "");
            if (!one) continue;
            if (one->value) writeMeasure(json, "value", one->dimension, *one->value);
            if (one->margin) writeMeasure(json, "margin", one->dimension, *one->margin);
        }
    }
}

/// Returns what keeps the seat from moving so, or nothing.
std::optional<std::string> writeJson(std::ostream& out, const Asked& asked) {
    std::vector<std::optional<SeatEffect>> effects;
    for (const Driver* driver : asked.drivers) {
        effects.emplace_back();
        if (!asked.move) continue;
        Expected<SeatEffect> effect =
            seatEffect(asked.tables, asked.job, asked.cage, driver->id, *asked.move);
        if (!effect) return effect.reason();
        effects.back() = *std::move(effect);
    }
    JsonWriter json(out);
    const auto top = json.object();
    json.text("hoopwright", "clearance");
    json.whole("version", 1);
    json.text("cage", asked.job.cage.name);
    {
        const auto list = json.list("drivers");
        for (std::size_t i = 0; i < asked.drivers.size(); ++i) {
            const auto each = json.object();
            const Driver& driver = *asked.drivers[i];
            writeDriver(json, driver);
            writeDriverReport(json, reportOn(driver, asked.job.car, asked.cage), asked.cage);
            writeBeltBand(json, beltBand(asked.tables, asked.job, asked.cage, driver.id));
            const Expected<BeltSnap> snap = snapBeltBar(asked.tables, asked.job, driver.id);
            if (snap) {
                const auto object = json.object("belt_bar_snap");
                json.number("by_mm", snap->by_mm);
                json.number("bar_x_mm", snap->bar_at.x());
                json.number("bar_z_mm", snap->bar_at.y());
            } else {
                json.text("no_belt_bar_snap", snap.reason());
            }
            if (!effects[i]) continue;
            const auto moved = json.object("moved");
            json.number("slide_mm", asked.move->slide_mm);
            json.number("lift_mm", asked.move->lift_mm);
            json.number("recline_deg", degrees(asked.move->recline_rad));
            {
                const auto short_of = json.list("out_of_reach");
                for (const OutOfReach& one : effects[i]->moved.out_of_reach) {
                    const auto limb = json.object();
                    json.text("limb", one.limb == OutOfReach::Limb::arm ? "arm" : "leg");
                    json.text("side", one.side > 0 ? "left" : "right");
                    json.number("short_by_mm", one.short_by_mm);
                }
            }
            {
                const auto person = json.object("driver");
                writeDriver(json, effects[i]->moved.driver);
                writeDriverReport(json, effects[i]->after, asked.cage);
            }
            writeChanges(json, *effects[i]);
        }
    }
    writeGeometryProblems(json, asked.cage);
    return std::nullopt;
}

std::optional<std::string> writeText(std::ostream& out, const Asked& asked) {
    const LengthUnit unit = asked.job.cage.unit;
    out << asked.job.cage.name << "\n";
    for (const Driver* driver : asked.drivers) {
        writeDriverText(out, *driver, reportOn(*driver, asked.job.car, asked.cage), asked.cage, unit);
        out << "\n";
        writeBeltBandText(out, beltBand(asked.tables, asked.job, asked.cage, driver->id), unit);
        if (!asked.move) continue;
        const Expected<SeatEffect> effect =
            seatEffect(asked.tables, asked.job, asked.cage, driver->id, *asked.move);
        if (!effect) return effect.reason();
        out << "\n  With the seat moved: slide " << showLength(asked.move->slide_mm, {unit}) << ", lift "
            << showLength(asked.move->lift_mm, {unit}) << ", recline " << showAngle(asked.move->recline_rad)
            << "\n";
        writeSeatEffectText(out, *effect, asked.cage, unit);
    }
    if (!asked.cage.problems.empty()) out << "\nDoes not fit together\n";
    for (const GeometryProblem& problem : asked.cage.problems)
        out << wrapped(problem.text + (problem.remedy.empty() ? "" : " " + problem.remedy), 2);
    out << "\n" << wrapped(std::string(caution()), 0);
    return std::nullopt;
}

int runClearance(const CommandLine& line, Streams streams) {
    const std::optional<JobResult> opened = openJob(line.files()[0], streams);
    if (!opened) return kExitBadInput;
    const Job& job = *opened->job;
    const std::optional<std::vector<RuleTableRef>> tables = openTables(line, *opened, streams);
    if (!tables) return kExitBadInput;
    const CageGeometry cage = resolve(job);
    Asked asked{job, cage, *tables, {}, {}};
    std::vector<std::string> ids;
    for (const Driver& driver : job.drivers) {
        ids.push_back(driver.id);
        if (!line.has("--driver") || driver.id == line.value("--driver")) asked.drivers.push_back(&driver);
    }
    if (asked.drivers.empty()) {
        if (ids.empty())
            return refuse(streams, "clearance", "the cage names no driver; add one under `drivers:`");
        return refuse(
            streams, "clearance",
            "--driver: there is no driver '" + line.value("--driver") + "'; there is " + listed(ids));
    }
    if (line.has("--seat")) {
        const Expected<SeatMove> move = readSeatMove(line.value("--seat"), job.cage.unit);
        if (!move) return refuse(streams, "clearance", move.reason());
        asked.move = *move;
    }
    const std::optional<std::string> trouble =
        line.has("--json") ? writeJson(streams.out, asked) : writeText(streams.out, asked);
    if (trouble) return refuse(streams, "clearance", "--seat: " + *trouble);
    return kExitGood;
}

}  // namespace

Command clearanceCommand() {
    return {"clearance",
            {"CAGE"},
            "each driver to the bars, belts, sight and door; what a seat move does",
            "For every driver: each part of the body to the nearest bare and padded bar and to a "
            "straightedge over the "
            "outer bars, how far the helmet can go each way, the run and angle of the belts, where the rule "
            "tables let "
            "the belt bar be, what bars hide from the eye, and what they leave of the door. With --seat, all "
            "of it and "
            "every rule again as if the seat were moved: hands stay on the wheel, heels on the pedals.",
            "hoopwright clearance data/cages/hillclimb_saloon.yaml --seat slide=20,lift=-10,recline=2",
            {{"--driver", "ID", "this driver only"},
             {"--seat", "MOVE", "slide=20,lift=-10,recline=2: forward, up, back [degrees]"},
             {"--rules", "FILE", "with this table instead of those the cage names", true},
             {"--json", "", "for programs; every key says its unit (app/commands/JSON.md)"}},
            &runClearance};
}

}  // namespace hoopwright
