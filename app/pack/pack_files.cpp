#include "app/pack/pack_files.h"

#include <array>
#include <numbers>

#include "app/pack/pack_pages.h"
#include "core/base/text.h"

namespace hoopwright {
namespace {

std::string number(const std::optional<double>& value) {
    return value ? shortest(*value) : "";
}
std::string inDegrees(double rad) {
    return shortest(rad * 180 / std::numbers::pi);
}
/// In the unit JSON and CSV use of a dimension: angles in degrees, all else in base units.
std::string base(Dimension dimension, const std::optional<double>& value) {
    if (!value) return "";
    return dimension == Dimension::angle ? inDegrees(*value) : shortest(*value);
}
std::string unitOf(Dimension dimension) {
    return dimension == Dimension::angle ? "deg" : baseUnit(dimension).word;
}
std::string idOf(const InspectorPack& pack, int member) {
    return member < 0 ? "" : pack.cage->members[static_cast<std::size_t>(member)].id;
}

}  // namespace

PackRows tubeRows(const InspectorPack& pack) {
    PackRows rows = {{"number", "id", "name", "role", "stock", "material", "form", "od_mm", "wall_mm",
                      "read_od_mm", "read_wall_mm", "heat", "certificate", "certified", "length_mm", "bends",
                      "least_radius_mm", "mass_kg"}};
    for (const PackTube& tube : pack.tubes) {
        const ResolvedMember& m = pack.cage->members[static_cast<std::size_t>(tube.member)];
        rows.push_back({std::to_string(tube.number()), m.id, m.name, m.role, tube.stock, tube.material,
                        tube.form, shortest(m.section.od_mm), shortest(m.section.wall_mm),
                        number(tube.read_od_mm), number(tube.read_wall_mm), tube.heat, tube.certificate,
                        tube.certified, shortest(tube.length_mm), std::to_string(tube.bends),
                        tube.bends ? shortest(tube.least_radius_mm) : "", shortest(m.mass_kg)});
    }
    return rows;
}

PackRows weldRows(const InspectorPack& pack) {
    PackRows rows = {
        {"end", "tube", "welded_to", "angle_deg", "weld_mm", "under_30_deg_mm", "x_mm", "y_mm", "z_mm"}};
    for (const PackJoint& joint : pack.joints) {
        std::string onto;
        for (const std::string& name : joint.onto) onto += (onto.empty() ? "" : "; ") + name;
        rows.push_back({joint.number, idOf(pack, joint.member), onto, inDegrees(joint.angle_rad),
                        shortest(joint.weld_mm), shortest(joint.under_30_mm), shortest(joint.at.x()),
                        shortest(joint.at.y()), shortest(joint.at.z())});
    }
    return rows;
}

PackRows plateRows(const InspectorPack& pack) {
    PackRows rows = {{"number", "id", "name", "length_mm", "width_mm", "thickness_mm", "area_mm2", "fixing",
                      "bolts", "read_area_mm2"}};
    for (const PackPlate& plate : pack.plates) {
        const ResolvedPlate& p = pack.cage->plates[static_cast<std::size_t>(plate.plate)];
        const Plate& said = pack.job->cage.plates[static_cast<std::size_t>(p.layout)];
        rows.push_back({plate.number, p.id, p.name, shortest(plate.length_mm), shortest(plate.width_mm),
                        shortest(p.thickness_mm), shortest(p.area_mm2),
                        said.fixing == Fixing::welded ? "welded" : "bolted", std::to_string(said.bolts.count),
                        number(plate.read_area_mm2)});
    }
    return rows;
}

PackRows wallRows(const InspectorPack& pack) {
    PackRows rows = {{"spot", "tube", "where", "from_end_a_mm", "x_mm", "y_mm", "z_mm", "nominal_mm",
                      "expected_mm", "mill_least_mm", "limit_mm", "limit_rule", "read_mm", "read_by",
                      "trouble"}};
    for (const PackSpot& spot : pack.spots)
        rows.push_back({spot.number, idOf(pack, spot.member), spot.where, shortest(spot.station_mm),
                        shortest(spot.at.x()), shortest(spot.at.y()), shortest(spot.at.z()),
                        shortest(spot.nominal_mm), shortest(spot.expected_mm), number(spot.mill_least_mm),
                        spot.limit ? shortest(spot.limit->wall_mm) : "",
                        spot.limit ? spot.limit->table + ": " + spot.limit->rule : "", number(spot.read_mm),
                        spot.read_by, spotTrouble(spot)});
    return rows;
}

PackRows clearanceRows(const InspectorPack& pack) {
    PackRows rows = {{"driver", "part", "bare_bar", "bare_mm", "padded_bar", "padded_mm"}};
    for (const PackDriver& person : pack.drivers)
        for (const Clearance& part : person.report.clearances.parts)
            rows.push_back({pack.job->drivers[static_cast<std::size_t>(person.driver)].id, part.name,
                            idOf(pack, part.bare.member), shortest(part.bare.gap_mm),
                            idOf(pack, part.padded.member), shortest(part.padded.gap_mm)});
    return rows;
}

PackRows beltRows(const InspectorPack& pack) {
    PackRows rows = {{"driver", "strap", "bar", "angle_deg", "plan_angle_deg", "run_mm"}};
    for (const PackDriver& person : pack.drivers) {
        const Driver& driver = pack.job->drivers[static_cast<std::size_t>(person.driver)];
        const std::string& id = driver.id;
        if (person.report.straps)
            for (const ShoulderStrap& strap : person.report.straps->both)
                rows.push_back({id, strap.side > 0 ? "shoulder_left" : "shoulder_right",
                                idOf(pack, strap.bar), inDegrees(strap.angle_rad), inDegrees(strap.plan_rad),
                                shortest(strap.run_mm)});
        for (const LapStrap& strap : person.report.lap)
            rows.push_back({id, isLeft(strap, driver) ? "lap_left" : "lap_right", "",
                            inDegrees(strap.angle_rad), "", shortest(strap.run_mm)});
    }
    return rows;
}

PackRows checklistRows(const InspectorPack& pack) {
    PackRows rows = {{"table", "edition", "clause", "rule", "title", "subject", "answer", "confirmed",
                      "rests_on", "value", "limit", "margin", "unit", "limit_text", "found", "missing",
                      "answered_by", "answered_on"}};
    for (std::size_t i = 0; i < pack.report.findings.size(); ++i) {
        const Finding& f = pack.report.findings[i];
        rows.push_back({f.table, f.edition, f.clause, f.rule, f.title, f.subject,
                        std::string(answerKey(f.answer)), f.confirmed ? "yes" : "no",
                        std::string(restsOnKey(pack.rests[i])), base(f.dimension, f.value),
                        base(f.dimension, f.limit), base(f.dimension, f.margin),
                        f.value ? unitOf(f.dimension) : "", f.limit_text, f.found, f.missing,
                        f.answered ? f.answered->who : "", f.answered ? f.answered->when : ""});
    }
    return rows;
}

PackRows asBuiltRows(const InspectorPack& pack) {
    PackRows rows = {{"of", "quantity", "how", "planned", "planned_to", "measured", "measured_to", "drift",
                      "unit", "limits", "answer", "who", "when"}};
    for (const AsBuilt& one : pack.to_measure) {
        const BuiltReading* last =
            one.readings.empty() ? nullptr
                                 : &pack.job->cage.readings[static_cast<std::size_t>(one.readings.back())];
        rows.push_back({one.of, one.quantity, one.how, base(one.dimension, one.planned),
                        one.planned ? base(one.dimension, one.planned_to) : "", base(one.dimension, one.low),
                        base(one.dimension, one.high), base(one.dimension, one.drift), unitOf(one.dimension),
                        wantedWords(one), one.answer ? std::string(answerKey(*one.answer)) : "",
                        last ? last->who : "", last ? last->when : ""});
    }
    return rows;
}

PackRows dateRows(const InspectorPack& pack) {
    PackRows rows = {{"what", "number", "issued", "due", "days_left", "note"}};
    for (const PackDate& one : pack.dates)
        rows.push_back({one.what, one.number, one.issued, one.due,
                        one.days_left ? std::to_string(*one.days_left) : "", one.note});
    return rows;
}

PackRows changeRows(const InspectorPack& pack) {
    PackRows rows = {{"inspected", "table", "rule", "subject", "title", "kind", "was", "is"}};
    for (const PackInspection& one : pack.inspections)
        for (const FindingChange& change : one.changes)
            rows.push_back({one.was.when, change.table, change.rule, change.subject, change.title,
                            std::string(findingChangeKey(change.kind)), change.was, change.is});
    return rows;
}

std::vector<SheetFile> packFiles(const SheetHead& head, const InspectorPack& pack,
                                 const WorkProgress& progress) {
    const std::vector<PackPage> pages = packPages(head, pack, progress);
    if (pages.empty()) return {};
    QByteArray pdf = packPdf(pages, head.job + ", inspector's pack", progress);
    if (pdf.isEmpty()) return {};
    std::vector<SheetFile> out = {{"inspector.pdf", std::move(pdf)}};
    using Rows = PackRows (*)(const InspectorPack&);
    constexpr std::array<std::pair<const char*, Rows>, 10> kTables = {{{"tubes", &tubeRows},
                                                                       {"welds", &weldRows},
                                                                       {"plates", &plateRows},
                                                                       {"walls", &wallRows},
                                                                       {"clearances", &clearanceRows},
                                                                       {"belts", &beltRows},
                                                                       {"checklist", &checklistRows},
                                                                       {"as_built", &asBuiltRows},
                                                                       {"dates", &dateRows},
                                                                       {"changes", &changeRows}}};
    for (const auto& [name, rows] : kTables) out.push_back({std::string(name) + ".csv", csvOf(rows(pack))});
    return out;
}

}  // namespace hoopwright
