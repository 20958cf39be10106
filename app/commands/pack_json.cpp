#include <algorithm>

#include "app/commands/command_kit.h"
#include "app/commands/json_parts.h"
#include "app/commands/pack_report.h"

namespace hoopwright {
namespace {

void orNull(JsonWriter& json, std::string_view key, const std::optional<double>& value) {
    if (value) {
        json.number(key, *value);
    } else {
        json.nothing(key);
    }
}

class PackJson {
public:
    PackJson(JsonWriter& json, const InspectorPack& pack) : json_(json), pack_(pack) {}

    void write() {
        tubes();
        welds();
        plates();
        walls();
        drivers();
        checklist();
        writeAsBuiltJson(json_, pack_.to_measure, *pack_.job);
        dates();
        inspections();
        photos();
    }

private:
    std::string id(int member) const {
        return member < 0 ? "" : pack_.cage->members[static_cast<std::size_t>(member)].id;
    }

    void tubes() {
        const auto list = json_.list("tubes");
        for (const PackTube& tube : pack_.tubes) {
            const ResolvedMember& m = pack_.cage->members[static_cast<std::size_t>(tube.member)];
            const auto each = json_.object();
            json_.whole("number", tube.number());
            json_.text("id", m.id);
            json_.text("name", m.name);
            json_.text("role", m.role);
            json_.text("stock", tube.stock);
            json_.text("material", tube.material);
            json_.text("form", tube.form);
            json_.number("od_mm", m.section.od_mm);
            json_.number("wall_mm", m.section.wall_mm);
            orNull(json_, "read_od_mm", tube.read_od_mm);
            orNull(json_, "read_wall_mm", tube.read_wall_mm);
            json_.yesNo("read_wall_is_the_racks", tube.wall_of_rack);
            json_.text("heat", tube.heat);
            json_.text("certificate", tube.certificate);
            json_.text("certified", tube.certified);
            json_.number("length_mm", tube.length_mm);
            json_.whole("bends", tube.bends);
            json_.number("least_radius_mm", tube.least_radius_mm);
            json_.number("mass_kg", m.mass_kg);
        }
    }

    void welds() {
        const auto list = json_.list("welds");
        for (const PackJoint& joint : pack_.joints) {
            const auto each = json_.object();
            json_.text("end", joint.number);
            json_.text("tube", id(joint.member));
            json_.texts("welded_to", joint.onto);
            json_.number("angle_deg", degrees(joint.angle_rad));
            json_.number("weld_mm", joint.weld_mm);
            json_.number("under_30_deg_mm", joint.under_30_mm);
            json_.point("at_mm", joint.at);
            json_.text("trouble", joint.trouble);
        }
    }

    void plates() {
        const auto list = json_.list("plates");
        for (const PackPlate& plate : pack_.plates) {
            const ResolvedPlate& p = pack_.cage->plates[static_cast<std::size_t>(plate.plate)];
            const auto each = json_.object();
            json_.text("number", plate.number);
            json_.text("id", p.id);
            json_.text("name", p.name);
            json_.number("length_mm", plate.length_mm);
            json_.number("width_mm", plate.width_mm);
            json_.number("thickness_mm", p.thickness_mm);
            json_.number("area_mm2", p.area_mm2);
            orNull(json_, "read_area_mm2", plate.read_area_mm2);
        }
    }

    void walls() {
        const auto list = json_.list("wall_spots");
        for (const PackSpot& spot : pack_.spots) {
            const auto each = json_.object();
            json_.text("spot", spot.number);
            json_.text("tube", id(spot.member));
            json_.text("where", spot.where);
            json_.number("from_end_a_mm", spot.station_mm);
            json_.point("at_mm", spot.at);
            json_.number("nominal_mm", spot.nominal_mm);
            json_.number("expected_mm", spot.expected_mm);
            orNull(json_, "mill_least_mm", spot.mill_least_mm);
            if (spot.limit) {
                const auto limit = json_.object("limit");
                json_.number("wall_mm", spot.limit->wall_mm);
                json_.text("judged", spot.limit->judged);
                json_.text("table", spot.limit->table);
                json_.text("rule", spot.limit->rule);
                json_.text("clause", spot.limit->clause);
            } else {
                json_.nothing("limit");
            }
            orNull(json_, "read_mm", spot.read_mm);
            json_.text("read_by", spot.read_by);
            json_.text("read_trouble", spotTrouble(spot));
        }
    }

    void drivers() {
        const auto list = json_.list("drivers");
        for (const PackDriver& person : pack_.drivers) {
            const auto each = json_.object();
            const Driver& driver = pack_.job->drivers[static_cast<std::size_t>(person.driver)];
            json_.text("id", driver.id);
            {
                const auto parts = json_.list("clearances");
                for (const Clearance& part : person.report.clearances.parts) {
                    const auto one = json_.object();
                    json_.text("part", part.name);
                    json_.text("bare_bar", id(part.bare.member));
                    json_.number("bare_mm", part.bare.gap_mm);
                    json_.text("padded_bar", id(part.padded.member));
                    json_.number("padded_mm", part.padded.gap_mm);
                }
            }
            const auto straps = json_.list("belts");
            if (person.report.straps)
                for (const ShoulderStrap& strap : person.report.straps->both) {
                    const auto one = json_.object();
                    json_.text("strap", strap.side > 0 ? "shoulder_left" : "shoulder_right");
                    json_.text("bar", id(strap.bar));
                    json_.number("angle_deg", degrees(strap.angle_rad));
                    json_.number("plan_angle_deg", degrees(strap.plan_rad));
                    json_.number("run_mm", strap.run_mm);
                }
            for (const LapStrap& strap : person.report.lap) {
                const auto one = json_.object();
                json_.text("strap", isLeft(strap, driver) ? "lap_left" : "lap_right");
                json_.text("bar", "");
                json_.number("angle_deg", degrees(strap.angle_rad));
                json_.number("run_mm", strap.run_mm);
            }
        }
    }

    void checklist() {
        const std::vector<int> pictured = pack_.pictured();
        const auto list = json_.list("checklist");
        for (std::size_t i = 0; i < pack_.report.findings.size(); ++i) {
            const Finding& f = pack_.report.findings[i];
            const auto each = json_.object();
            json_.text("table", f.table);
            json_.text("edition", f.edition);
            json_.text("clause", f.clause);
            json_.text("rule", f.rule);
            json_.text("title", f.title);
            json_.text("subject", f.subject);
            json_.text("answer", answerKey(f.answer));
            json_.yesNo("confirmed", f.confirmed);
            json_.text("rests_on", restsOnKey(pack_.rests[i]));
            if (f.value) writeMeasure(json_, "value", f.dimension, *f.value);
            if (f.limit) writeMeasure(json_, "limit", f.dimension, *f.limit);
            if (f.margin) writeMeasure(json_, "margin", f.dimension, *f.margin);
            json_.text("limit_text", f.limit_text);
            json_.text("found", f.found);
            json_.text("missing", f.missing);
            json_.yesNo("pictured", std::ranges::find(pictured, static_cast<int>(i)) != pictured.end());
        }
    }

    void dates() {
        const auto list = json_.list("dates");
        for (const PackDate& one : pack_.dates) {
            const auto each = json_.object();
            json_.text("what", one.what);
            json_.text("number", one.number);
            json_.text("issued", one.issued);
            json_.text("due", one.due);
            if (one.days_left) {
                json_.whole("days_left", *one.days_left);
            } else {
                json_.nothing("days_left");
            }
            json_.text("note", one.note);
        }
    }

    void inspections() {
        const auto list = json_.list("inspections");
        for (const PackInspection& one : pack_.inspections) {
            const auto each = json_.object();
            json_.text("when", one.was.when);
            json_.text("who", one.was.who);
            json_.text("outcome", one.was.outcome);
            json_.text("report", one.was.report);
            json_.text("trouble", one.trouble);
            const auto changes = json_.list("changes");
            for (const FindingChange& change : one.changes) {
                const auto each_change = json_.object();
                json_.text("kind", findingChangeKey(change.kind));
                json_.text("table", change.table);
                json_.text("rule", change.rule);
                json_.text("subject", change.subject);
                json_.text("title", change.title);
                json_.text("was", change.was);
                json_.text("is", change.is);
            }
        }
    }

    void photos() {
        const auto list = json_.list("photos");
        for (const PackPhoto& photo : pack_.photos) {
            const auto each = json_.object();
            json_.text("file", photo.file);
            json_.text("of", photo.of);
            json_.text("says", photo.says);
            json_.yesNo("there", photo.there);
        }
    }

    JsonWriter& json_;
    const InspectorPack& pack_;
};

}  // namespace

void writeAsBuiltJson(JsonWriter& json, const std::vector<AsBuilt>& all, const Job& job) {
    const auto list = json.list("as_built");
    for (const AsBuilt& one : all) {
        const auto each = json.object();
        json.text("of", one.of);
        json.text("name", one.of_name);
        json.text("quantity", one.quantity);
        json.text("how", one.how);
        if (one.planned) {
            writeMeasure(json, "planned", one.dimension, *one.planned);
            writeMeasure(json, "planned_to", one.dimension, one.planned_to);
        }
        if (one.low) {
            writeMeasure(json, "measured", one.dimension, *one.low);
            writeMeasure(json, "measured_to", one.dimension, *one.high);
        }
        if (one.drift) writeMeasure(json, "drift", one.dimension, *one.drift);
        json.texts("rules", one.rules);
        json.texts("limits", one.limits);
        if (one.answer) json.text("answer", answerKey(*one.answer));
        if (one.margin) writeMeasure(json, "margin", one.dimension, *one.margin);
        const auto readings = json.list("readings");
        for (const int r : one.readings) {
            const BuiltReading& kept = job.cage.readings[static_cast<std::size_t>(r)];
            const auto reading = json.object();
            json.text("spot", kept.spot);
            writeMeasure(json, "value", kept.dimension, kept.value);
            json.text("who", kept.who);
            json.text("when", kept.when);
            json.text("note", kept.note);
        }
    }
}

void writePackJson(std::ostream& out, const InspectorPack& pack, const std::string& revision,
                   const std::vector<std::string>& files) {
    JsonWriter json(out);
    const auto top = json.object();
    json.text("hoopwright", "pack");
    json.whole("version", 1);
    json.text("cage", pack.job->cage.name);
    json.text("revision", revision);
    json.text("made", pack.made);
    {
        const auto tables = json.list("tables");
        for (const RuleTableInfo& table : pack.report.tables) {
            const auto each = json.object();
            json.text("id", table.id);
            json.text("title", table.title);
            json.text("edition", table.edition);
        }
    }
    {
        const auto counts = json.object("rest_on");
        for (const RestsOn what : {RestsOn::plan, RestsOn::measured, RestsOn::person, RestsOn::nothing})
            json.whole(restsOnKey(what), pack.resting(what));
    }
    json.number("long_mm", pack.outside_mm[0]);
    json.number("wide_mm", pack.outside_mm[1]);
    json.number("high_mm", pack.outside_mm[2]);
    json.number("long_with_plates_mm", pack.with_plates_mm[0]);
    json.number("wide_with_plates_mm", pack.with_plates_mm[1]);
    json.number("high_with_plates_mm", pack.with_plates_mm[2]);
    PackJson(json, pack).write();
    json.texts("files", files);
    json.text("caution", caution());
}

}  // namespace hoopwright
