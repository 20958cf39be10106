#include <cmath>

#include "app/commands/driver_json.h"
#include "app/commands/geometry_report.h"
#include "app/commands/json_parts.h"
#include "app/commands/scan_report.h"
#include "app/view/bar_groups.h"
#include "core/model/end_hosts.h"
#include "core/model/sheet_shape.h"
#include "core/shop/joint_cope.h"
#include "core/skin/gap_to_skin.h"

namespace hoopwright {
namespace {

class GeometryWriter {
public:
    GeometryWriter(std::ostream& out, const Job& job, const CageGeometry& cage, int stations)
        : json_(out), job_(job), cage_(cage), stations_(stations) {}

    void write() {
        const auto top = json_.object();
        json_.text("hoopwright", "geometry");
        json_.whole("version", 1);
        json_.text("cage", job_.cage.name);
        json_.whole("stations", stations_);
        writeScans();
        writeMembers();
        writeJoints();
        writePlates();
        writeNodes();
        writeGussets();
        writeDimensions(json_, job_, cage_);
        writeDrivers();
        writeTotals();
        writeGeometryProblems(json_, cage_);
    }

private:
    std::string memberId(int member) const {
        return member < 0 ? "" : cage_.members[static_cast<std::size_t>(member)].id;
    }
    std::string plateId(int plate) const {
        return plate < 0 ? "" : cage_.plates[static_cast<std::size_t>(plate)].id;
    }
    std::vector<std::string> memberIds(const std::vector<int>& members) const {
        std::vector<std::string> ids;
        for (const int member : members) ids.push_back(memberId(member));
        return ids;
    }

    void writeMembers() {
        const auto list = json_.list("members");
        for (std::size_t i = 0; i < cage_.members.size(); ++i) {
            const auto each = json_.object();
            writeMember(static_cast<int>(i), cage_.members[i]);
        }
    }

    void writeMember(int index, const ResolvedMember& member) {
        json_.text("id", member.id);
        json_.text("name", member.name);
        json_.text("role", member.role);
        json_.text("side", sideKey(member.side));
        json_.text("place", places_.groupOf(static_cast<std::size_t>(index)).key);
        json_.text("state", states_.groupOf(static_cast<std::size_t>(index)).key);
        const TubeStock* stock =
            member.stock < 0 ? nullptr : &job_.stock.tubes[static_cast<std::size_t>(member.stock)];
        json_.text("stock", stock ? stock->id : "");
        json_.text("material", stock ? stock->material : "");
        json_.number("od_mm", member.section.od_mm);
        json_.number("wall_mm", member.section.wall_mm);
        json_.number("padding_mm", member.padding_mm);
        json_.number("mass_kg", member.mass_kg);
        const CutLength cut = cutLength(cage_, index);
        json_.number("developed_mm", member.line.length_mm());
        json_.number("cut_long_to_long_mm", cut.long_to_long_mm);
        json_.number("cut_short_to_short_mm", cut.short_to_short_mm);
        json_.number("blank_mm", cut.blank_mm);
        writeBought(member);
        writePieces(member.line);
        writeBendTable(member.line);
        writeEnds(index, member);
        writeGapToSkin(member);
    }

    void writeBought(const ResolvedMember& member) {
        if (!member.bought) return json_.nothing("bought_bent");
        const auto object = json_.object("bought_bent");
        writeBentShape(json_, member.bought->shape);
        json_.number("saw_first_mm", member.bought->saw_mm[0]);
        json_.number("saw_last_mm", member.bought->saw_mm[1]);
        json_.number("off_mm", member.bought->off_mm);
        json_.number("off_deg", degrees(member.bought->off_rad));
    }

    void writeGapToSkin(const ResolvedMember& member) {
        const std::optional<GapToSkin> to_skin = gapToSkin(member, skin_);
        if (!to_skin) return json_.nothing("gap_to_skin");
        const TubeGap& gap = to_skin->gap;
        const auto object = json_.object("gap_to_skin");
        json_.number("least_mm", gap.least_mm);
        json_.number("greatest_mm", gap.greatest_mm);
        json_.number("mean_mm", gap.mean_mm);
        json_.number("least_station_mm", gap.least_station_mm);
        json_.number("greatest_station_mm", gap.greatest_station_mm);
        json_.point("on_bar_mm", gap.on_tube);
        json_.point("on_skin_mm", gap.on_mesh);
        json_.text("surface", surfaceKey(to_skin->surface));
        json_.text("part", to_skin->part);
        {
            const auto list = json_.list("surfaces");
            for (const GapToSkin::OfSurface& of : to_skin->surfaces) {
                const auto each = json_.object();
                json_.text("surface", surfaceKey(of.surface));
                json_.text("part", of.part);
                json_.number("least_mm", of.least_mm);
                json_.number("least_station_mm", of.station_mm);
            }
        }
        json_.numbers("stations_mm", gap.stations_mm);
        json_.numbers("gaps_mm", gap.gaps_mm);
    }

    std::string_view surfaceKey(int surface) const {
        return surfaceKindWord(skin_.surfaces[static_cast<std::size_t>(surface)].kind);
    }

    void writeScans() {
        const auto list = json_.list("scans");
        for (std::size_t i = 0; i < job_.car.scans.size(); ++i) {
            const auto each = json_.object();
            writePlacedScan(json_, job_.car.scans[i], job_.scan_meshes, skin_.scans[i]);
        }
    }

    void writePieces(const Centreline& line) {
        const auto list = json_.list("pieces");
        for (const Piece& piece : line.pieces()) {
            const auto each = json_.object();
            const bool bend = piece.kind == Piece::Kind::bend;
            json_.text("kind", bend ? "bend" : "straight");
            json_.number("station_mm", piece.station_mm);
            json_.number("length_mm", piece.length_mm);
            json_.point("start_mm", piece.start);
            json_.point("end_mm", piece.end());
            if (!bend) continue;
            json_.point("centre_mm", piece.centre);
            json_.point("axis", piece.axis);
            json_.number("radius_mm", piece.radius_mm);
            json_.number("angle_deg", degrees(piece.angle_rad));
        }
    }

    void writeBendTable(const Centreline& line) {
        const BendTable table = bendTable(line);
        {
            const auto list = json_.list("bends");
            for (const BendRow& row : table.rows) {
                const auto each = json_.object();
                json_.number("straight_before_mm", row.straight_before_mm);
                json_.number("rotation_deg", degrees(row.rotation_rad));
                json_.number("angle_deg", degrees(row.angle_rad));
                json_.number("radius_mm", row.radius_mm);
                json_.number("arc_mm", row.arc_mm);
                json_.number("mark_start_mm", row.mark_start_mm);
                json_.number("mark_end_mm", row.mark_end_mm);
            }
        }
        json_.number("last_straight_mm", table.last_straight_mm);
    }

    void writeEnds(int index, const ResolvedMember& member) {
        const auto list = json_.list("ends");
        for (int end = 0; end < 2; ++end) {
            const ResolvedEnd& at = member.ends[static_cast<std::size_t>(end)];
            const auto each = json_.object();
            json_.point("at_mm", at.at);
            json_.point("outward", at.outward);
            json_.text("on", at.on == ResolvedEnd::On::member  ? "member"
                             : at.on == ResolvedEnd::On::plate ? "plate"
                                                               : "");
            json_.text("host", memberId(at.host));
            json_.text("plate", plateId(at.plate));
            if (at.on == ResolvedEnd::On::plate) json_.texts("faces", facesUnder(at));
            json_.texts("also", memberIds(at.also));
            json_.whole("node", at.node);
            if (at.on != ResolvedEnd::On::nothing) writeCut(index, end);
        }
    }

    std::vector<std::string> facesUnder(const ResolvedEnd& at) const {
        const ResolvedPlate& plate = cage_.plates[static_cast<std::size_t>(at.plate)];
        std::vector<std::string> words;
        for (const int face : facesOf(at))
            words.push_back(face < 0 ? "flat"
                                     : "flap " + edgeWord(plate.flaps[static_cast<std::size_t>(face)].edge));
        return words;
    }

    void writeCut(int member, int end) {
        const Expected<CopeProfile> cope = jointCope(cage_, member, end, stations_);
        if (!cope) return json_.text("no_cut", cope.reason());
        const auto object = json_.object("cut");
        json_.numbers("outer_mm", cope->outer.s_mm);
        json_.numbers("bore_mm", cope->bore.s_mm);
        json_.numbers("to_full_wall_mm", cope->to_full_wall_mm);
        json_.whole("missed", cope->outer.missedCount());
        json_.number("least_mm", cope->outer.least_mm);
        json_.number("least_at_deg", degrees(cope->outer.least_phi_rad));
        json_.number("greatest_mm", cope->outer.greatest_mm);
        json_.number("greatest_at_deg", degrees(cope->outer.greatest_phi_rad));
        json_.number("grind_mm", cope->grind_mm);
        json_.number("grind_at_deg", degrees(cope->grind_phi_rad));
        json_.number("weld_length_mm", cope->edge_length_mm);
        json_.number("least_dihedral_deg", degrees(cope->least_dihedral_rad));
        const CopeEnd from = copeEnd(cage_, member, end);
        json_.point("foot_mm", from.foot);
        json_.point("inward", from.inward);
        json_.point("clock", from.clock);
    }

    void writeJoints() {
        const auto list = json_.list("joints");
        for (const Joint& joint : cage_.joints) {
            const auto each = json_.object();
            json_.text("branch", memberId(joint.branch));
            json_.whole("end", joint.end);
            json_.text("host", memberId(joint.host));
            json_.number("host_station_mm", joint.host_station_mm);
            json_.number("angle_deg", degrees(joint.angle_rad));
            json_.number("offset_mm", joint.offset_mm);
            json_.yesNo("on_bend", joint.on_bend);
            json_.point("at_mm", joint.at);
            json_.whole("node", joint.node);
        }
    }

    void writePlates() {
        const auto list = json_.list("plates");
        for (const ResolvedPlate& plate : cage_.plates) {
            const auto each = json_.object();
            json_.text("id", plate.id);
            json_.text("name", plate.name);
            json_.text("side", sideKey(plate.side));
            json_.point("at_mm", plate.at);
            json_.point("along", plate.axes.col(0));
            json_.point("across", plate.axes.col(1));
            json_.point("normal", plate.axes.col(2));
            {
                const auto outline = json_.list("outline_mm");
                for (const Vec2& corner : plate.outline) json_.numbers("", {corner.x(), corner.y()});
            }
            json_.number("area_mm2", plate.area_mm2);
            writeFlaps(plate);
            json_.number("thickness_mm", plate.thickness_mm);
            json_.number("mass_kg", plate.mass_kg);
            json_.number("riser_height_mm", plate.riser_height_mm);
            json_.number("riser_area_mm2", plate.riser_area_mm2);
            json_.text("rail",
                       plate.rail < 0 ? "" : job_.car.rails[static_cast<std::size_t>(plate.rail)].name);
            const bool bolted =
                job_.cage.plates[static_cast<std::size_t>(plate.layout)].fixing == Fixing::bolted;
            json_.text("fixing", bolted ? "bolted" : "welded");
            json_.yesNo("on_frame", plate.on_frame);
            json_.yesNo("must_be_bolted", plate.must_be_bolted);
            const auto feet = json_.list("feet");
            for (const auto& [member, end] : plate.feet) {
                const auto foot = json_.object();
                json_.text("member", memberId(member));
                json_.whole("end", end);
            }
        }
    }

    void writeFlaps(const ResolvedPlate& plate) {
        const auto list = json_.list("flaps");
        for (const PlacedFlap& flap : plate.flaps) {
            const auto each = json_.object();
            json_.text("edge", edgeWord(flap.edge));
            json_.number("length_mm", flap.length_mm);
            json_.number("width_mm", flap.width_mm);
            json_.number("angle_deg", degrees(flap.angle_rad));
            json_.number("area_mm2", flap.area_mm2());
            json_.point("from_mm", flap.from);
            json_.point("to_mm", flap.to);
            json_.point("along", flap.along);
        }
    }

    void writeNodes() {
        const auto list = json_.list("nodes");
        for (const Node& node : cage_.nodes) {
            const auto each = json_.object();
            json_.point("at_mm", node.at);
            json_.texts("members", memberIds(node.members));
            json_.text("plate", plateId(node.plate));
            json_.number("spread_mm", node.spread_mm);
        }
    }

    void writeGussets() {
        const auto list = json_.list("gussets");
        for (const ResolvedGusset& gusset : cage_.gussets) {
            const auto each = json_.object();
            json_.text("id", gusset.id);
            json_.texts("members", memberIds({gusset.member_a, gusset.member_b}));
            {
                const auto corners = json_.list("corners_mm");
                for (const Vec3& corner : gusset.corners) json_.point("", corner);
            }
            json_.number("area_mm2", gusset.area_mm2);
            json_.number("thickness_mm", gusset.thickness_mm);
            json_.number("mass_kg", gusset.mass_kg);
            const GussetShape shape = gussetShape(cage_, gusset);
            json_.number("between_cheeks_mm", shape.between_mm);
            json_.number("hole_mm", shape.hole_mm);
            if (shape.hole) json_.point("hole_at_mm", shape.at(*shape.hole));
        }
    }

    void writeDrivers() {
        const auto list = json_.list("drivers");
        for (const Driver& driver : job_.drivers) {
            const auto each = json_.object();
            writeDriver(json_, driver);
            writeDriverReport(json_, reportOn(driver, job_.car, cage_), cage_);
        }
    }

    void writeTotals() {
        const auto object = json_.object("totals");
        json_.whole("members", cage_.totals.members);
        json_.whole("joints", cage_.totals.joints);
        json_.whole("bends", cage_.totals.bends);
        json_.number("tube_length_mm", cage_.totals.tube_length_mm);
        json_.number("tube_mass_kg", cage_.totals.tube_mass_kg);
        json_.number("plate_mass_kg", cage_.totals.plate_mass_kg);
    }

    JsonWriter json_;
    const Job& job_;
    const CageGeometry& cage_;
    int stations_;
    CarSkin skin_ = carSkin(job_.car, job_.scan_meshes);
    BarGroups places_ = barGroups(Colouring::by_place, job_, cage_, {}),
              states_ = barGroups(Colouring::by_state, job_, cage_, {});
};

}  // namespace

void writeGeometryJson(std::ostream& out, const Job& job, const CageGeometry& cage, int stations) {
    GeometryWriter(out, job, cage, stations).write();
}

}  // namespace hoopwright
