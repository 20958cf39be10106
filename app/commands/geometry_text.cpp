#include <ostream>

#include "app/commands/command_kit.h"
#include "app/commands/driver_text.h"
#include "app/commands/geometry_report.h"
#include "app/commands/scan_report.h"
#include "app/commands/text_table.h"
#include "app/view/finding_text.h"
#include "core/model/measure_dimension.h"
#include "core/shop/joint_cope.h"
#include "core/skin/gap_to_skin.h"

namespace hoopwright {
namespace {

class GeometryPage {
public:
    GeometryPage(std::ostream& out, const Job& job, const CageGeometry& cage, int stations)
        : out_(out), job_(job), cage_(cage), stations_(stations) {
        bare_.unit = job.cage.unit;
        bare_.with_unit = false;
    }

    void write() {
        const std::string unit = bare_.unit == LengthUnit::in ? "in" : "mm";
        out_ << wrapped(job_.cage.name + ": " + std::to_string(cage_.totals.members) + " bars, " +
                            std::to_string(cage_.totals.bends) + " bends, " +
                            std::to_string(cage_.totals.joints) + " joints, " +
                            length(cage_.totals.tube_length_mm) + " " + unit + " of tube, " +
                            mass(cage_.totals.tube_mass_kg),
                        0)
             << wrapped(
                    "Lengths in " + unit +
                        ". A mark is where a bend starts, from the tube's first end along its centreline; "
                        "a turn is of the bend's plane since the bend before.",
                    0);
        for (std::size_t i = 0; i < cage_.members.size(); ++i) writeBar(static_cast<int>(i));
        writeJoints();
        writeDimensions();
        writeScans();
        writeGaps();
        writeClearances();
        writeTies();
        writeProblems();
    }

private:
    std::string length(double mm) const { return showLength(mm, bare_); }
    std::string mass(double kg) const { return showMass(kg, bare_.unit); }

    void writeBar(int index) {
        const ResolvedMember& bar = cage_.members[static_cast<std::size_t>(index)];
        out_ << "\n"
             << bar.name << " (" << bar.id << ")  " << tubeText(bar.section, bare_.unit) << "  centreline "
             << length(bar.line.length_mm()) << "  saw " << length(cutLength(cage_, index).blank_mm) << "  "
             << mass(bar.mass_kg) << "\n";
        if (bar.bought)
            out_ << wrapped("bought bent: " + shownBentShape(bar.bought->shape, bare_.unit) + ", radius " +
                                length(bar.bought->shape.bend_radius_mm) + "; saw " +
                                length(bar.bought->saw_mm[0]) + " off its first leg, " +
                                length(bar.bought->saw_mm[1]) + " off its last",
                            2);
        const BendTable table = bendTable(bar.line);
        if (table.rows.empty()) return;
        TextTable rows(std::vector<Align>(6, Align::right));
        rows.add({"bend", "straight", "turn", "angle", "radius", "mark"});
        for (std::size_t i = 0; i < table.rows.size(); ++i) {
            const BendRow& row = table.rows[i];
            rows.add({std::to_string(i + 1), length(row.straight_before_mm), showAngle(row.rotation_rad),
                      showAngle(row.angle_rad), length(row.radius_mm), length(row.mark_start_mm)});
        }
        rows.add({"end", length(table.last_straight_mm), "", "", "", ""});
        out_ << rows.text(2);
    }

    void writeJoints() {
        if (cage_.joints.empty()) return;
        TextTable rows({Align::left, Align::left, Align::right, Align::right, Align::right, Align::right});
        rows.add({"end of", "on", "angle", "offset", "deepest cut", "grind"});
        for (const Joint& joint : cage_.joints) {
            const ResolvedMember& branch = cage_.members[static_cast<std::size_t>(joint.branch)];
            const ResolvedMember& host = cage_.members[static_cast<std::size_t>(joint.host)];
            const Expected<CopeProfile> cope = jointCope(cage_, joint.branch, joint.end, stations_);
            rows.add({branch.id + (joint.end == 0 ? ", first" : ", last"), host.id,
                      showAngle(joint.angle_rad), length(joint.offset_mm),
                      cope ? length(cope->outer.greatest_mm - cope->outer.least_mm) : "none",
                      cope ? length(cope->grind_mm) : ""});
        }
        out_ << "\nJoints\n" << rows.text(2);
    }

    void writeDimensions() {
        if (job_.cage.dimensions.empty()) return;
        TextTable rows({Align::left, Align::left, Align::right});
        rows.add({"dimension", "", "reads"});
        std::vector<std::string> troubles;
        for (const PinnedDimension& pinned : job_.cage.dimensions) {
            const MeasuredDimension read = measureDimension(job_, cage_, pinned);
            rows.add({shownName(pinned, cage_), std::string(dimensionKindWord(pinned.kind)),
                      !read                                ? "nothing"
                      : read.dimension == Dimension::angle ? showAngle(read.value)
                                                           : length(read.value)});
            if (!read) troubles.push_back(pinned.id + ": " + read.trouble);
        }
        out_ << "\nDimensions\n" << rows.text(2);
        for (const std::string& trouble : troubles) out_ << wrapped(trouble, 2);
    }

    void writeScans() {
        for (std::size_t i = 0; i < job_.car.scans.size(); ++i)
            out_ << (i == 0 ? "\nScans of the car\n" : "")
                 << wrapped(placedScanWords(job_.car.scans[i], job_.scan_meshes, skin_.scans[i], bare_.unit),
                            2);
    }

    void writeGaps() {
        if (skin_.surfaces.empty()) return;
        TextTable rows({Align::left, Align::right, Align::right, Align::right, Align::right, Align::left});
        rows.add({"", "least", "at", "mean", "greatest", "nearest surface"});
        for (const ResolvedMember& bar : cage_.members) {
            const std::optional<GapToSkin> to_skin = gapToSkin(bar, skin_);
            if (!to_skin) continue;
            rows.add({bar.id, length(to_skin->gap.least_mm), length(to_skin->gap.least_station_mm),
                      length(to_skin->gap.mean_mm), length(to_skin->gap.greatest_mm), to_skin->part});
        }
        out_ << "\nGap to the skin of the car\n" << rows.text(2);
        if (const std::string missing = skin_.missing(); !missing.empty())
            out_ << wrapped("Without: " + missing + ".", 2);
    }

    void writeClearances() {
        for (const Driver& driver : job_.drivers) {
            out_ << "\n"
                 << driver.name << ": to the nearest bar\n"
                 << clearanceTable(clearances(driver, cage_), cage_, bare_).text(2);
        }
    }

    /// Plates on a rail, and of those on a frame what must be bolted for the body to come off again.
    void writeTies() {
        TextTable rows({Align::left, Align::left, Align::left, Align::left});
        rows.add({"", "rail", "fixing", ""});
        bool any = false;
        for (const ResolvedPlate& plate : cage_.plates) {
            if (plate.rail < 0) continue;
            any = true;
            const Plate& said = job_.cage.plates[static_cast<std::size_t>(plate.layout)];
            rows.add({plate.id, job_.car.rails[static_cast<std::size_t>(plate.rail)].name,
                      said.fixing == Fixing::bolted ? "bolted" : "welded",
                      plate.must_be_bolted ? "must be bolted for the body to come off"
                      : plate.on_frame     ? "frame"
                                           : ""});
        }
        if (any) out_ << "\nTies to the rails\n" << rows.text(2);
        if (cage_.notes.empty()) return;
        out_ << "\nTo know\n";
        for (const LayoutNote& note : cage_.notes) out_ << wrapped(note.text + " " + note.remedy, 2);
    }

    void writeProblems() {
        if (cage_.problems.empty()) return;
        out_ << "\nDoes not fit together\n";
        for (const GeometryProblem& problem : cage_.problems) {
            out_ << wrapped(problem.text + (problem.remedy.empty() ? "" : " " + problem.remedy), 2);
        }
    }

    std::ostream& out_;
    const Job& job_;
    const CageGeometry& cage_;
    int stations_;
    LengthStyle bare_;
    CarSkin skin_ = carSkin(job_.car, job_.scan_meshes);
};

}  // namespace

void writeGeometryText(std::ostream& out, const Job& job, const CageGeometry& cage, int stations) {
    GeometryPage(out, job, cage, stations).write();
}

}  // namespace hoopwright
