#include "app/commands/json_parts.h"

#include <numbers>

#include "core/model/measure_dimension.h"

namespace hoopwright {

double degrees(double rad) {
    return rad * 180 / std::numbers::pi;
}

void writeMeasure(JsonWriter& json, const std::string& key, Dimension dimension, double base_value) {
    switch (dimension) {
        case Dimension::none:
            return json.number(key, base_value);
        case Dimension::length:
            return json.number(key + "_mm", base_value);
        case Dimension::angle:
            return json.number(key + "_deg", degrees(base_value));
        case Dimension::area:
            return json.number(key + "_mm2", base_value);
        case Dimension::mass:
            return json.number(key + "_kg", base_value);
        case Dimension::stress:
            return json.number(key + "_mpa", base_value);
        case Dimension::inertia:
            return json.number(key + "_mm4", base_value);
        case Dimension::speed:
            return json.number(key + "_m_per_s", base_value);
        case Dimension::time:
            return json.number(key + "_s", base_value);
        case Dimension::volume:
            return json.number(key + "_mm3", base_value);
    }
}

void writeGeometryProblems(JsonWriter& json, const CageGeometry& cage) {
    {
        const auto notes = json.list("notes");
        for (const LayoutNote& note : cage.notes) {
            const auto each = json.object();
            json.text("text", note.text);
            json.text("remedy", note.remedy);
            json.text("member", note.member);
            json.text("plate", note.plate);
            json.point("at_mm", note.at);
        }
    }
    const auto list = json.list("problems");
    for (const GeometryProblem& problem : cage.problems) {
        const auto each = json.object();
        json.text("text", problem.text);
        json.text("remedy", problem.remedy);
        json.text("member", problem.member);
        json.text("plate", problem.plate);
        json.text("driver", problem.driver);
        json.point("at_mm", problem.at);
    }
}

void writeBentShape(JsonWriter& json, const BentShape& shape) {
    std::vector<double> angles, rotations;
    for (const TapedBend& bend : shape.bends) {
        angles.push_back(degrees(bend.angle_rad));
        if (angles.size() > 1) rotations.push_back(degrees(bend.rotation_rad));
    }
    json.number("radius_mm", shape.bend_radius_mm);
    json.numbers("straights_mm", shape.straights_mm);
    json.numbers("angles_deg", angles);
    json.numbers("rotations_deg", rotations);
}

void writeDimensions(JsonWriter& json, const Job& job, const CageGeometry& cage) {
    const auto list = json.list("dimensions");
    for (const PinnedDimension& pinned : job.cage.dimensions) {
        const MeasuredDimension read = measureDimension(job, cage, pinned);
        const auto each = json.object();
        json.text("id", pinned.id);
        json.text("name", shownName(pinned, cage));
        json.text("kind", dimensionKindWord(pinned.kind));
        if (pinned.kind == PinnedDimension::Kind::height) json.text("over", overWord(pinned.over));
        json.texts("members", read.members);
        json.text("trouble", read.trouble);
        const bool angle = pinned.kind == PinnedDimension::Kind::angle;
        if (!read) {
            json.nothing(angle ? "value_deg" : "value_mm");
            continue;
        }
        writeMeasure(json, "value", read.dimension, read.value);
        json.point("from_mm", read.from);
        json.point("to_mm", read.to);
        if (angle) json.point("apex_mm", read.apex);
    }
}

std::string_view sideKey(Side side) {
    return side == Side::centre ? "centre" : sideWord(side);
}

}  // namespace hoopwright
