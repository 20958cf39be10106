#include "app/commands/driver_json.h"

#include <limits>

#include "app/commands/json_parts.h"

namespace hoopwright {
namespace {

constexpr double kNone = std::numeric_limits<double>::quiet_NaN();

class ReportWriter {
public:
    ReportWriter(JsonWriter& json, const CageGeometry& cage) : json_(json), cage_(cage) {}

    void write(const DriverReport& report) {
        writeClearances(report.clearances);
        writeRoom(report.room);
        writeTopLines(report.top_lines);
        writeStraps(report);
        writeSight(report.sight);
        writeDoor(report.door);
    }

private:
    std::string id(int member) const {
        return member < 0 ? "" : cage_.members[static_cast<std::size_t>(member)].id;
    }
    std::vector<std::string> ids(const std::vector<int>& members) const {
        std::vector<std::string> out;
        for (const int member : members) out.push_back(id(member));
        return out;
    }

    void writeClearances(const Clearances& all) {
        const auto list = json_.list("clearances");
        for (const Clearance& one : all.parts) {
            const auto each = json_.object();
            json_.text("part", one.name);
            json_.text("member", id(one.bare.member));
            json_.number("bare_mm", one.bare.gap_mm);
            json_.point("on_person_mm", one.bare.on_person);
            json_.point("on_bar_mm", one.bare.on_bar);
            json_.text("padded_member", id(one.padded.member));
            json_.number("padded_mm", one.padded.gap_mm);
            json_.point("padded_on_person_mm", one.padded.on_person);
            json_.point("on_padding_mm", one.padded.on_bar);
            json_.number("inside_envelope_mm", one.inside_mm);
            if (!all.enclosed) continue;
            json_.point("envelope_on_person_mm", one.on_body);
            json_.point("on_envelope_mm", one.on_sheet);
        }
    }

    void writeTravel(std::string_view key, const Travel& travel) {
        const auto object = json_.object(key);
        json_.text("member", id(travel.member));
        json_.number("bare_mm", travel.member < 0 ? kNone : travel.bare_mm);
        json_.text("padded_member", id(travel.padded_member));
        json_.number("padded_mm", travel.padded_member < 0 ? kNone : travel.padded_mm);
        if (travel.member < 0) return;
        json_.point("on_person_mm", travel.on_person);
        json_.point("on_bar_mm", travel.on_bar);
    }
    void writeRoom(const HelmetRoom& room) {
        const auto object = json_.object("helmet_travel");
        writeTravel("up", room.above);
        writeTravel("back", room.behind);
        writeTravel("ahead", room.ahead);
        writeTravel("left", room.left);
        writeTravel("right", room.right);
    }

    void writeTopLines(const std::vector<TopLine>& lines) {
        const auto list = json_.list("top_lines");
        for (const TopLine& line : lines) {
            const auto each = json_.object();
            json_.text("from", id(line.from));
            json_.text("to", id(line.to));
            json_.point("from_mm", line.from_at);
            json_.point("to_mm", line.to_at);
            json_.number("helmet_mm", line.helmet.gap_mm);
            json_.point("on_line_mm", line.helmet.on_edge);
            json_.point("on_person_mm", line.helmet.on_person);
        }
    }

    void writeStrap(const ShoulderStrap& strap) {
        const auto each = json_.object();
        json_.text("side", strap.side > 0 ? "left" : "right");
        json_.point("shoulder_mm", strap.shoulder);
        json_.point("support_mm", strap.support);
        json_.text("bar", id(strap.bar));
        json_.number("angle_deg", degrees(strap.angle_rad));
        json_.number("plan_deg", degrees(strap.plan_rad));
        json_.number("run_mm", strap.run_mm);
        json_.number("behind_seat_mm", strap.behind_seat_mm);
        json_.number("over_slot_mm", strap.over_slot_mm);
        if (strap.bar >= 0) {
            json_.point("bar_top_mm", strap.bar_top);
            json_.number("wrap_deg", degrees(strap.wrap_rad));
            if (strap.leaves) json_.point("leaves_mm", *strap.leaves);
        }
        if (strap.anchor) json_.point("anchor_mm", *strap.anchor);
    }
    void writeStraps(const DriverReport& report) {
        if (report.straps) {
            {
                const auto list = json_.list("shoulder_straps");
                for (const ShoulderStrap& strap : report.straps->both) writeStrap(strap);
            }
            json_.number("strap_spread_mm", report.straps->spread_mm);
        } else {
            json_.text("no_shoulder_straps", report.straps.reason());
        }
        const auto list = json_.list("lap_straps");
        for (const LapStrap& strap : report.lap) {
            const auto each = json_.object();
            json_.point("anchor_mm", strap.anchor);
            json_.number("angle_deg", degrees(strap.angle_rad));
            json_.number("run_mm", strap.run_mm);
            json_.yesNo("behind", strap.behind);
        }
    }

    void writeSight(const Sight& sight) {
        const auto object = json_.object("sight");
        {
            const auto list = json_.list("mirrors");
            for (const SightTo& mirror : sight.mirrors) {
                const auto each = json_.object();
                json_.text("point", mirror.name);
                json_.point("at_mm", mirror.at);
                json_.text("member", id(mirror.member));
                json_.number("clear_deg", mirror.member < 0 ? kNone : degrees(mirror.clear_rad));
                if (mirror.member >= 0) json_.point("on_bar_mm", mirror.on_bar);
            }
        }
        if (sight.ahead) {
            const auto ahead = json_.object("ahead");
            json_.text("line", sight.ahead->line);
            json_.point("over_mm", sight.ahead->over);
            json_.number("down_deg", degrees(sight.ahead->down_rad));
            json_.number("ground_ahead_mm", sight.ahead->ground_ahead_mm.value_or(kNone));
        }
        {
            const auto list = json_.list("hidden_at_eye_height");
            for (const HiddenStretch& stretch : sight.hidden) {
                const auto each = json_.object();
                json_.text("member", id(stretch.member));
                json_.number("from_deg", degrees(stretch.from_rad));
                json_.number("to_deg", degrees(stretch.to_rad));
            }
        }
        json_.number("windshield_hidden", sight.windshield_hidden.value_or(kNone));
        const auto list = json_.list("windshield_bars");
        for (const HiddenShare& bar : sight.windshield_bars) {
            const auto each = json_.object();
            json_.text("member", id(bar.member));
            json_.number("share", bar.share);
        }
    }

    void writeDoor(const Expected<Doorway>& door) {
        if (!door) return json_.text("no_door", door.reason());
        const auto object = json_.object("door");
        json_.text("line", door->line);
        json_.number("clear_round_mm", door->clear_round_mm);
        json_.point("round_at_mm", door->round_at);
        json_.texts("round_members", ids(door->round_members));
        json_.number("shoulder_width_mm", door->shoulder_width_mm);
        json_.number("chest_mm", door->chest_mm);
        const auto list = json_.list("spans");
        for (const ClearSpan& span : door->spans) {
            const auto each = json_.object();
            json_.text("at", span.at);
            json_.text("way", span.upright ? "up" : "level");
            json_.number("length_mm", span.there ? span.length_mm : kNone);
            if (!span.there) continue;
            json_.point("from_mm", span.from);
            json_.point("to_mm", span.to);
            json_.text("from_member", id(span.from_member));
            json_.text("to_member", id(span.to_member));
        }
    }

    JsonWriter& json_;
    const CageGeometry& cage_;
};

void writeRules(JsonWriter& json, std::string_view key, const std::vector<BandRule>& rules) {
    const auto list = json.list(key);
    for (const BandRule& rule : rules) {
        const auto each = json.object();
        json.text("table", rule.table);
        json.text("rule", rule.rule);
        json.text("title", rule.title);
    }
}

}  // namespace

void writeDriver(JsonWriter& json, const Driver& driver) {
    json.text("id", driver.id);
    json.text("name", driver.name);
    json.text("occupant", driver.occupant == Driver::Occupant::driver ? "driver" : "passenger");
    json.text("figure", driver.figure);
    {
        const auto points = json.object("points");
        json.point("hip_mm", driver.hip);
        for (const PointPair& pair : pointPairs()) {
            json.point(std::string(pair.name) + "_left_mm", driver.*pair.left);
            json.point(std::string(pair.name) + "_right_mm", driver.*pair.right);
        }
        json.point("eye_mm", driver.eye);
        json.point("helmet_centre_mm", driver.helmet.centre);
    }
    json.number("back_angle_deg", degrees(driver.back_angle_rad));
    if (!driver.steering_wheel) return;
    const auto wheel = json.object("steering_wheel");
    json.point("centre_mm", driver.steering_wheel->centre);
    json.number("diameter_mm", driver.steering_wheel->diameter_mm);
    json.number("tilt_deg", degrees(driver.steering_wheel->tilt_rad));
}

void writeDriverReport(JsonWriter& json, const DriverReport& report, const CageGeometry& cage) {
    ReportWriter(json, cage).write(report);
}

void writeBeltBand(JsonWriter& json, const Expected<BeltBand>& band) {
    if (!band) return json.text("no_belt_band", band.reason());
    const auto object = json.object("belt_band");
    json.number("bar_x_mm", band->bar_at.x());
    json.number("bar_z_mm", band->bar_at.y());
    json.number("bar_radius_mm", band->bar_radius_mm);
    json.yesNo("allowed_now", band->allowed_now);
    writeRules(json, "rules", band->rules);
    writeRules(json, "failing_now", band->failing_now);
    writeRules(json, "silent", band->silent);
    {
        const auto columns = json.list("columns");
        for (const BandColumn& column : band->columns) {
            const auto each = json.object();
            json.number("x_mm", column.x_mm);
            const auto heights = json.list("heights");
            for (const BandStretch& stretch : column.heights) {
                const auto one = json.object();
                const auto rule = [&](int i) {
                    return i < 0 ? "" : band->rules[static_cast<std::size_t>(i)].rule;
                };
                json.number("low_z_mm", stretch.low_mm);
                json.number("high_z_mm", stretch.high_mm);
                json.text("low_rule", rule(stretch.low_rule));
                json.text("high_rule", rule(stretch.high_rule));
            }
        }
    }
    const auto outlines = json.list("outlines_mm");
    for (const std::vector<Vec2>& outline : band->outlines) {
        const auto points = json.list();
        for (const Vec2& p : outline) json.numbers("", {p.x(), p.y()});
    }
}

}  // namespace hoopwright
