// All the papers for the inspector say, worked out once. A pack is a plan check; it certifies nothing.
#pragma once

#include <array>
#include <filesystem>
#include <optional>
#include <span>
#include <string>
#include <vector>

#include "core/driver/driver_report.h"
#include "core/model/cage_layout.h"
#include "core/units/measure.h"
#include "rules/as_built.h"
#include "rules/report_changes.h"

namespace hoopwright {

/// A tube as the schedule has it. Its number is its place in build order, from 1, as on pictures.
struct PackTube {
    int member = -1;  ///< index into CageGeometry::members
    std::string stock, material, form;
    std::optional<double> read_od_mm, read_wall_mm;  ///< least that was read on the bar
    bool wall_of_rack = false;                       ///< read_wall_mm is the rack's, none was read on the bar
    std::string heat, certificate, certified;        ///< certified: "YYYY-MM-DD" or empty
    double length_mm = 0;                            ///< developed, of the centreline
    int bends = 0;
    double least_radius_mm = 0;  ///< of the centreline; 0 without bends
    int number() const { return member + 1; }
};

/// The weld round one end of a tube.
struct PackJoint {
    std::string number;  ///< "7A": tube and end
    int member = -1, end = 0;
    std::vector<std::string> onto;  ///< names of what it is welded to
    double angle_rad = 0;           ///< to the first of them
    double weld_mm = 0;             ///< round the outside of the tube
    double under_30_mm = 0;         ///< of that, where the walls meet so sharply that a torch cannot reach
    std::string trouble;            ///< why it has no weld length
    Vec3 at = Vec3::Zero();
};

struct PackPlate {
    std::string number;  ///< "P3"
    int plate = -1;      ///< index into CageGeometry::plates
    double length_mm = 0, width_mm = 0;
    std::optional<double> read_area_mm2;  ///< contact area, as read
};

/// A place where the wall is read.
struct PackSpot {
    std::string number;  ///< "3.0" on the straight, "3.1" outside the tube's first bend
    int member = -1, bend = 0;
    std::string where;                            ///< "straight", "outside of bend 1"
    double station_mm = 0;                        ///< from end A along the centreline
    Vec3 at = Vec3::Zero(), out = Vec3::UnitZ();  ///< on the outside of the tube; the way out of it there
    double nominal_mm = 0;                        ///< of the tube as ordered
    double expected_mm = 0;                       ///< of the nominal wall, what the bend leaves
    std::optional<double> mill_least_mm;          ///< the same of the least wall the mill may deliver
    std::optional<WallAsked> limit;               ///< what the tables ask of the tube
    std::optional<double> read_mm;                ///< least reading of that spot
    std::string read_by;                          ///< who took it
};

struct PackDriver {
    int driver = -1;  ///< index into Job::drivers
    DriverReport report;
};

/// Is a lap strap the person's left one?
bool isLeft(const LapStrap& strap, const Driver& driver);

struct PackPhoto {
    std::string file;      ///< as written, relative to the cage file
    std::string of, says;  ///< what was asked; who, when, what was said
    bool there = false;
};

/// A date that runs out: of a paper kept with the job, of a tube's certificate, of an inspection.
struct PackDate {
    std::string what, number, issued, due, note;
    std::optional<long long> days_left;  ///< to `due`, from the day the pack is made; negative: run out
};

struct PackInspection {
    Inspection was;
    std::string trouble;  ///< why its report cannot be held against today's
    std::vector<FindingChange> changes;
};

struct InspectorPack {
    const Job* job = nullptr;            ///< not owned; outlives this
    const CageGeometry* cage = nullptr;  ///< not owned
    std::filesystem::path folder;        ///< the cage file's
    std::string made;                    ///< "YYYY-MM-DD"
    CheckReport report;
    std::vector<RestsOn> rests;  ///< of each finding
    std::vector<PackTube> tubes;
    std::vector<PackJoint> joints;
    std::vector<PackPlate> plates;
    std::vector<PackSpot> spots;
    std::vector<PackDriver> drivers;
    std::vector<AsBuilt> to_measure;          ///< what can be taped, with what was
    std::vector<PackInspection> inspections;  ///< the last first
    std::vector<PackDate> dates;
    std::vector<PackPhoto> photos;
    std::array<double, 3> outside_mm = {0, 0, 0};      ///< length, width and height over all tubes
    std::array<double, 3> with_plates_mm = {0, 0, 0};  ///< over all that is drawn
    Box outside;

    int resting(RestsOn what) const;  ///< how many findings do
    /// Worth a picture: it fails, asks a person about a thing, or meets with less than a twentieth of its
    /// limit to spare; and there is something to show. Indices into report.findings, in its order.
    std::vector<int> pictured() const;
};

/// What is measured, in the words of the rule that asks for it: "Tops of the braces: end below place, to hoop
/// top".
std::string measureWords(const AsBuilt& one);
/// A value of it as paper and window print it; a length under 100 mm is read to a hundredth.
std::string measuredText(const AsBuilt& one, double value, const LengthStyle& style);
/// What the rules ask of it, each once.
std::string wantedWords(const AsBuilt& one);
/// What is wrong with a wall that was read: "thinner than the limit"; empty: nothing.
std::string spotTrouble(const PackSpot& spot);

/// Days from one day to another, both "YYYY-MM-DD"; nothing if either is no day.
std::optional<long long> daysLeft(const std::string& due, const std::string& today);
/// "12 days left", "runs out today", "RUN OUT 3 days ago"; nothing of nothing.
std::string timeLeftWords(const std::optional<long long>& days_left);

/// The spots of every tube, straight first, in build order.
std::vector<PackSpot> wallSpots(const Job& job, const CageGeometry& cage,
                                std::span<const RuleTableRef> tables);

/// `folder`: the cage file's, for photos and saved reports. `made`: the day, "YYYY-MM-DD".
InspectorPack inspectorPack(const Job& job, const CageGeometry& cage, std::span<const RuleTableRef> tables,
                            const std::filesystem::path& folder, const std::string& made);

}  // namespace hoopwright
