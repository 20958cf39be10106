#include <ostream>

#include "app/commands/command_kit.h"
#include "app/commands/fit_report.h"
#include "app/commands/json_parts.h"

namespace hoopwright {
namespace {

std::string_view kindKey(FitLimit::Kind kind) {
    switch (kind) {
        case FitLimit::Kind::gap:
            return "gap";
        case FitLimit::Kind::line_gap:
            return "line_gap";
        case FitLimit::Kind::bend_radius:
            return "bend_radius";
        case FitLimit::Kind::least_straight:
            return "least_straight";
        case FitLimit::Kind::end_straight:
            return "end_straight";
        case FitLimit::Kind::greatest_angle:
            return "greatest_angle";
        case FitLimit::Kind::travel:
            break;
    }
    return "travel";
}

void writeGoodness(JsonWriter& json, std::string_view key, const FitGoodness& good) {
    const auto object = json.object(key);
    json.number("least_mm", good.least_mm);
    json.number("least_station_mm", good.least_station_mm);
    json.number("mean_mm", good.mean_mm);
    json.number("greatest_mm", good.greatest_mm);
    json.number("greatest_station_mm", good.greatest_station_mm);
    json.number("score_mm", good.score_mm);
    if (!good.lines) return json.nothing("to_lines");
    const auto lines = json.object("to_lines");
    json.number("least_mm", good.lines->least_mm);
    json.number("mean_mm", good.lines->mean_mm);
    json.number("greatest_mm", good.lines->greatest_mm);
}

void writePath(JsonWriter& json, std::string_view key, const std::vector<Vec3>& path) {
    const auto list = json.list(key);
    for (const Vec3& at : path) json.point("", at);
}

void writeLimits(JsonWriter& json, const std::vector<FitLimit>& limits) {
    const auto list = json.list("limits");
    for (const FitLimit& limit : limits) {
        const auto each = json.object();
        json.text("kind", kindKey(limit.kind));
        json.text("text", limit.text);
        json.number("station_mm", limit.station_mm);
        json.point("at_mm", limit.at);
        json.number("worth_mm_per_mm", limit.worth_mm_per_mm);
    }
}

void writePreBent(JsonWriter& json, const MemberFit& of) {
    const std::optional<PreBentFit>& fit = of.pre_bent;
    if (!fit) return json.nothing("bought_bent");
    const auto object = json.object("bought_bent");
    json.yesNo("fits", fit->fits);
    json.text("verdict", fit->verdict);
    if (of.member.bent) writeBentShape(json, *of.member.bent);
    json.number("saw_first_mm", of.saw_mm[0]);
    json.number("saw_last_mm", of.saw_mm[1]);
    json.number("trim_first_mm", fit->trim_mm[0]);
    json.number("trim_last_mm", fit->trim_mm[1]);
    json.number("first_foot_off_mm", fit->foot_off_mm[0]);
    json.number("last_foot_off_mm", fit->foot_off_mm[1]);
    json.number("short_by_mm", fit->short_by_mm);
    writeLimits(json, fit->limits);
    writePath(json, "path_mm", fit->path);
    writeGoodness(json, "placed", fit->placed);
    const auto list = json.list("stand_offs");
    for (const PieceStandOff& one : fit->pieces) {
        const auto each = json.object();
        json.text("piece", one.is_bend ? "bend" : "straight");
        json.whole("number", one.number);
        json.number("mean_mm", one.mean_mm);
        json.number("greatest_mm", one.greatest_mm);
        json.number("more_than_suited_mm", one.more_than_suited_mm);
    }
}

}  // namespace

void writeFitJson(std::ostream& out, const FitReport& report) {
    const MemberFit& fit = report.fit;
    JsonWriter json(out);
    const auto top = json.object();
    json.text("hoopwright", "fit");
    json.whole("version", 1);
    json.text("cage", report.job.cage.name);
    json.text("member", fit.member.id);
    json.text("fitted", fit.fitted);
    json.yesNo("hoop", fit.is_hoop);
    json.number("gap_mm", report.wish.least_gap_mm);
    json.number("od_mm", fit.tube.od_mm);
    json.number("bend_radius_mm", fit.tube.bend_radius_mm);
    json.number("least_straight_mm", fit.tube.least_straight_mm);
    json.number("greatest_angle_deg", degrees(fit.tube.greatest_angle_rad));
    json.texts("follows", fit.followed);
    json.whole("bends", fit.bar.line.bendCount());
    writePath(json, "path_mm", fit.bar.path);
    writeGoodness(json, "before", fit.bar.before);
    writeGoodness(json, "after", fit.bar.after);
    writeLimits(json, fit.bar.limits);
    json.number("short_by_mm", fit.bar.short_by_mm);
    json.text("trouble", fit.bar.trouble);
    if (report.stands.empty()) {
        json.nothing("stands");
    } else {
        const auto stands = json.object("stands");
        json.number("x_mm", fit.bar.path.front().x());
        json.text("holds", report.stands);
    }
    json.text("ends_note", fit.bar.ends_note);
    {
        const auto list = json.list("tried");
        for (const auto& [bends, mean_mm] : fit.mean_gaps_mm) {
            const auto each = json.object();
            json.whole("bends", bends);
            json.number("mean_mm", mean_mm);
        }
    }
    json.text("note", fit.note);
    writePreBent(json, fit);
    json.text("missing", report.car.missing());
    json.text("written", report.written);
    json.text("caution", caution());
}

}  // namespace hoopwright
