#include "app/export/cage_csv.h"

#include <numbers>

#include "core/base/text.h"
#include "core/shop/joint_cope.h"

namespace hoopwright {
namespace {

using Rows = std::vector<std::vector<std::string>>;

std::string inDegrees(double rad) {
    return shortest(rad * 180 / std::numbers::pi);
}

Rows pointRows(const CageGeometry& cage) {
    Rows rows = {
        {"bar", "point", "what", "station_mm", "x_mm", "y_mm", "z_mm", "bend_radius_mm", "bend_angle_deg"}};
    for (const ResolvedMember& member : cage.members) {
        int count = 0;
        const auto add = [&](const char* what, double station, const Vec3& p, const Piece* bend) {
            rows.push_back({member.id, std::to_string(++count), what, shortest(station), shortest(p.x()),
                            shortest(p.y()), shortest(p.z()), bend ? shortest(bend->radius_mm) : "",
                            bend ? inDegrees(bend->angle_rad) : ""});
        };
        const auto pieces = member.line.pieces();
        add("end A", 0, member.line.start(), nullptr);
        for (const Piece& piece : pieces) {
            if (piece.kind == Piece::Kind::straight) continue;
            add("bend starts", piece.station_mm, piece.start, &piece);
            add("bend's middle", piece.station_mm + piece.length_mm / 2, piece.point(piece.length_mm / 2),
                &piece);
            add("bend ends", piece.station_mm + piece.length_mm, piece.end(), &piece);
        }
        add("end B", member.line.length_mm(), member.line.end(), nullptr);
    }
    return rows;
}

Rows barRows(const Job& job, const CageGeometry& cage) {
    Rows rows = {{"bar", "name", "role", "stock", "material", "od_mm", "wall_mm", "bends", "developed_mm",
                  "long_to_long_mm", "short_to_short_mm", "finished_volume_mm3", "finished_mass_kg"}};
    for (std::size_t i = 0; i < cage.members.size(); ++i) {
        const ResolvedMember& member = cage.members[i];
        const TubeStock* stock =
            member.stock < 0 ? nullptr : &job.stock.tubes[static_cast<std::size_t>(member.stock)];
        const CutLength cut = cutLength(cage, static_cast<int>(i));
        rows.push_back({member.id, member.name, member.role, stock ? stock->id : "",
                        stock ? stock->material : "", shortest(member.section.od_mm),
                        shortest(member.section.wall_mm), std::to_string(member.line.bendCount()),
                        shortest(cut.centre_mm), shortest(cut.long_to_long_mm),
                        shortest(cut.short_to_short_mm), shortest(member.section.area_mm2() * cut.mean_mm),
                        shortest(member.mass_kg)});
    }
    return rows;
}

Rows bendTableRows(const CageGeometry& cage) {
    Rows rows = {{"bar", "bend", "straight_before_mm", "rotation_deg", "angle_deg", "radius_mm", "arc_mm",
                  "starts_mm", "ends_mm"}};
    for (const ResolvedMember& member : cage.members) {
        int count = 0;
        for (const BendRow& bend : bendTable(member.line).rows)
            rows.push_back({member.id, std::to_string(++count), shortest(bend.straight_before_mm),
                            inDegrees(bend.rotation_rad), inDegrees(bend.angle_rad), shortest(bend.radius_mm),
                            shortest(bend.arc_mm), shortest(bend.mark_start_mm), shortest(bend.mark_end_mm)});
    }
    return rows;
}

Rows jointRows(const CageGeometry& cage) {
    Rows rows = {{"bar", "end", "on", "station_of_on_mm", "angle_deg", "offset_mm", "on_bend", "weld_mm",
                  "x_mm", "y_mm", "z_mm"}};
    for (const Joint& joint : cage.joints) {
        const Expected<CopeProfile> cope = jointCope(cage, joint.branch, joint.end, 36);
        rows.push_back({cage.members[static_cast<std::size_t>(joint.branch)].id, joint.end == 0 ? "A" : "B",
                        cage.members[static_cast<std::size_t>(joint.host)].id,
                        shortest(joint.host_station_mm), inDegrees(joint.angle_rad),
                        shortest(joint.offset_mm), joint.on_bend ? "yes" : "no",
                        cope ? shortest(cope->edge_length_mm) : "", shortest(joint.at.x()),
                        shortest(joint.at.y()), shortest(joint.at.z())});
    }
    return rows;
}

Rows plateRows(const CageGeometry& cage) {
    Rows rows = {{"plate", "name", "area_mm2", "thickness_mm", "mass_kg", "x_mm", "y_mm", "z_mm"}};
    for (const ResolvedPlate& plate : cage.plates)
        rows.push_back({plate.id, plate.name, shortest(plate.area_mm2), shortest(plate.thickness_mm),
                        shortest(plate.mass_kg), shortest(plate.at.x()), shortest(plate.at.y()),
                        shortest(plate.at.z())});
    for (const ResolvedGusset& gusset : cage.gussets) {
        const Vec3 middle = (gusset.corners[0] + gusset.corners[1] + gusset.corners[2]) / 3;
        rows.push_back({gusset.id, "Gusset", shortest(gusset.area_mm2), shortest(gusset.thickness_mm),
                        shortest(gusset.mass_kg), shortest(middle.x()), shortest(middle.y()),
                        shortest(middle.z())});
    }
    return rows;
}

}  // namespace

std::string tableWord(CageTable table) {
    switch (table) {
        case CageTable::points:
            return "points";
        case CageTable::bars:
            return "bars";
        case CageTable::bends:
            return "bends";
        case CageTable::joints:
            return "joints";
        case CageTable::plates:
            break;
    }
    return "plates";
}

std::vector<CageTable> allCageTables() {
    return {CageTable::points, CageTable::bars, CageTable::bends, CageTable::joints, CageTable::plates};
}

std::vector<std::vector<std::string>> cageRows(CageTable table, const Job& job, const CageGeometry& cage) {
    switch (table) {
        case CageTable::points:
            return pointRows(cage);
        case CageTable::bars:
            return barRows(job, cage);
        case CageTable::bends:
            return bendTableRows(cage);
        case CageTable::joints:
            return jointRows(cage);
        case CageTable::plates:
            break;
    }
    return plateRows(cage);
}

}  // namespace hoopwright
