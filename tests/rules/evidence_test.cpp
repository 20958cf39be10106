// What every quantity shows lies where its value says: a line as long as it, an angle as wide, as many marks.
#include "tests/rules/evidence.h"

#include <gtest/gtest.h>

#include <cmath>
#include <map>

#include "rules/quantity.h"

namespace hoopwright::test::evidence {
namespace {

const char* const kSections =
    "reference_tubes:\n  plain: {od: 25.4, wall: 3.05, modulus: 205000 MPa, yield: 365 MPa}\n"
    "materials:\n  - {family: [mild_steel, chrome_moly], modulus: 205000 MPa}\n"
    "tubes:\n  any: {any_of: [{od: 30, wall: 1}]}\n"
    "places:\n  hoop_top: {top_of: {role: main_hoop}}\n  screen_bar: {top_of: {role: windshield_bar}}\n"
    "  nose: {car: nose}\n  hand: {driver: hand}\n  foot: {foot_of: {role: main_hoop}}\n"
    "  mirror: {car: mirror}\n  rail: {foot_of: {role: rear_brace}}\n  sill: {car: sill}\n  beam: {car: "
    "beam}\n"
    "  brace_top: {meeting: [{role: main_hoop}, {role: rear_brace}]}\n";

/// The small cage with something of everything.
Job everything() {
    Job job = smallJob();
    for (Plate& plate : job.cage.plates) {
        plate.fixing = Fixing::bolted;
        plate.bolts = {4, 8, "8.8", 60.0, 15.0};
        plate.backing = BackingPlate{140, 90, 2};
        plate.rail = "rocker";
    }
    Gusset gusset;
    gusset.id = "gusset";
    gusset.member_a = "belt_bar";
    gusset.member_b = "main_hoop";
    gusset.leg_mm = 90;
    gusset.thickness_mm = 2;
    job.cage.gussets = {gusset};
    job.car.points.push_back({"mirror", {1000, 800, 700}, 0, ""});
    job.car.points.push_back({"sill", {300, 700, 100}, 0, ""});
    job.car.points.push_back({"beam", {300, 0, 1100}, 0, ""});
    job.car.lines.push_back({"windshield",
                             CarLine::Kind::glass,
                             {{1000, 500, 700}, {1000, -500, 700}, {900, -500, 1000}, {900, 500, 1000}},
                             true});
    job.car.lines.push_back({"door_opening.left",
                             CarLine::Kind::opening,
                             {{100, 700, 100}, {700, 700, 100}, {700, 700, 700}, {100, 700, 700}},
                             true});
    const std::vector<Vec2> outline = {{700, -200}, {700, 500},  {700, 1098}, {700, 1100},
                                       {698, 1100}, {350, 1100}, {0, 1100}};
    job.car.shell = {{"rear", -2000, outline}, {"front", 2000, outline}};
    job.cage.members.push_back(straight("pillar", "pillar_brace", {900, 500, 0}, {950, 450, 1200}));
    for (int i = 0; i < 3; ++i) {
        const double z = 250 + 100 * i + 20 * (i == 2);
        job.cage.members.push_back(
            straight("door_" + std::to_string(i), "door_bar", {100, 620, z}, {750, 640, z + 15}));
        job.cage.members.back().padding_mm = 12;
    }
    Member roof = straight("roof", "roof_bar", {-200, 300, 1050}, {900, 300, 1060});
    roof.padding_mm = 12;
    job.cage.members.push_back(roof);
    Driver& driver = job.drivers[0];
    driver.shoulder_width_mm = 440;
    driver.seat = Seat{700, 500, {150, 350, 640}, {150, 250, 640}};
    for (const auto& [name, value, dimension] : {std::tuple{"bend_roundness", 0.95, Dimension::none},
                                                 {"gauged_bent_wall", 2.3, Dimension::length},
                                                 {"inspection_hole", 5.0, Dimension::length},
                                                 {"hole_from_weld", 80.0, Dimension::length},
                                                 {"weld_share", 1.0, Dimension::none}})
        job = withReading(job, "main_hoop", name, value, dimension);
    job = withReading(job, "hoop_foot.left", "contact_area", 13000, Dimension::area);
    Certificate paper;
    paper.of = "main_hoop";
    job.cage.certificates = {paper};
    return job;
}

/// A bar in a shallow bend, held off its middle.
Job bowed() {
    Job job = everything();
    Member bar = straight("bowed", "sill_bar", {0, -640, 200}, {1000, -640, 200});
    bar.path.insert(bar.path.begin() + 1, {FixedPoint{{500, -640, 320}}, 135.0});
    job.cage.members.push_back(bar);
    Landing on;
    on.host = "bowed";
    on.value = 250;
    on.by = Landing::By::distance;
    Member prop = straight("prop", "roof_diagonal", {}, {250, -300, 200});
    prop.path[0].place = on;
    job.cage.members.push_back(prop);
    return job;
}

/// Two halves of a hoop, butted in the middle of its top.
Job halves() {
    Job job = smallJob();
    std::erase_if(job.cage.members, [](const Member& m) { return m.id != "main_hoop"; });
    Member& hoop = job.cage.members.front();
    hoop.path.resize(3);
    hoop.path[2].place = FixedPoint{{0, 0, 1000}};
    Member second = straight("second", "main_hoop", {}, {0, -600, 1000});
    second.path[0].place = onEndOf("main_hoop", true);
    job.cage.members.push_back(second);
    return job;
}

/// A branch whose axis passes its host's 6 mm away.
Job offAxis() {
    Job job = onlyBars({straight("host", "main_hoop", {0, 600, 0}, {0, 600, 1000})});
    Member branch = straight("branch", "door_bar", {}, {700, 606, 500});
    Landing on;
    on.host = "host";
    on.value = 500;
    on.offset = {0, 6, 0};
    branch.path[0].place = on;
    job.cage.members.push_back(branch);
    return job;
}

const std::string kHoop = "of: {role: main_hoop}", kBraceLeft = "of: {role: rear_brace, side: left}",
                  kDiagonal = "of: {role: hoop_diagonal}",
                  kFoot = "of: {under: {role: main_hoop}, side: left}",
                  kSideBar = "of: {role: side_bar, side: left}";

Holds outlineTimesOd(double od) {
    return [=](const Seen& seen) {
        return onPlate(seen) && std::abs(outlined_mm2(seen) - seen.value() * od) < 1e-3;
    };
}

const std::vector<Row>& rows() {
    static const std::vector<Row> kRows = {
        {"tube", kHoop, onBar},
        {"od", kHoop, line},
        {"wall", kHoop, line},
        {"least_wall", kHoop, line},
        {"measured_wall", kHoop, line},
        {"area", kHoop, onBar},
        {"inertia", kHoop, onBar},
        {"elastic_modulus", kHoop, onBar},
        {"stiffness_over", kHoop + "\nwith: {tube: plain}", onBar},
        {"strength_over", kHoop + "\nwith: {tube: plain}", onBar},
        {"family", kHoop, onBar},
        {"form", kHoop, onBar},
        {"material", kHoop, onBar},
        {"section_shape", kHoop, onBar},
        {"yield", kHoop, onBar},
        {"tensile", kHoop, onBar},
        {"carbon", kHoop, onBar},
        {"elongation", kHoop, onBar},
        {"mass", kHoop, onBar},
        {"certificate", kHoop, onBar},
        {"bend_roundness", kHoop, onBar},
        {"gauged_bent_wall", kHoop, onBar},
        {"inspection_hole", kHoop, onBar},
        {"hole_from_weld", kHoop, onBar},
        {"weld_share", kHoop, onBar},
        {"bend_count", kHoop, marks},
        {"bend_sum", kHoop, angle},
        {"greatest_bend", kSideBar + "\nwith: {view: side}", angle},
        {"bend_radius_over_od", kHoop, lineTimes(45)},
        {"bow", "of: {role: sill_bar}", line, bowed},
        {"out_of_plane", kHoop,
         [](const Seen& seen) {
             const std::vector<ShownPlane> planes = all<ShownPlane>(seen);
             if (planes.size() != 1) return false;
             double most = 0;
             for (double s : seen.bar().line.sampleStations(0.1))
                 most = std::max(most,
                                 std::abs((seen.bar().line.point(s) - planes[0].at).dot(planes[0].normal)));
             return std::abs(most - seen.value()) < 1e-3;
         }},
        {"support_from_bow", "of: {role: sill_bar}", run, bowed},
        {"support_from_bend", kSideBar + "\nwith: {members: {role: windshield_bar}}", run},
        {"length", kHoop, run},
        {"unsupported_length", kHoop, run},
        {"low_to_low", kHoop,
         [](const Seen& seen) {
             return all<ShownPoint>(seen).size() == 2 &&
                    all<ShownPoint>(seen)[0].at == seen.bar().line.start() &&
                    all<ShownPoint>(seen)[1].at == seen.bar().line.end();
         }},
        {"splices", kHoop, marks, halves},
        {"butted_ends", kHoop + "\nwith: {members: {role: main_hoop}}", marks, halves},
        {"crossed_by", kHoop, marks},
        {"angle_to_vertical", kBraceLeft, angle},
        {"angle_to_horizontal", kBraceLeft, angle},
        {"angle_to_fore_aft", kBraceLeft, angle},
        {"lean", "of: {role: pillar_brace}", angle},
        {"height", "of: {role: door_bar, having: {measure: top_height, at_most: 290}}\nwith: {above: sill}",
         line},
        {"top_height", kHoop, line},
        {"height_at",
         "of: {role: door_bar, having: {measure: top_height, at_most: 290}}\nwith: {place: sill}", line},
        {"ahead_of", kSideBar + "\nwith: {place: nose}", reaching},
        {"behind", kSideBar + "\nwith: {place: nose}", reaching},
        {"rear_face_ahead", kHoop + "\nwith: {place: nose}", line},
        {"inside_width", kHoop + "\nwith: {height: 400}", line},
        {"gap_to_line", kHoop + "\nwith: {line: roof_rail.left}", line},
        {"end_to_place", kDiagonal + "\nwith: {place: brace_top, end: upper}", line},
        {"end_below_place", kDiagonal + "\nwith: {place: hoop_top, end: upper}", line},
        {"end_above_place", kDiagonal + "\nwith: {place: sill, end: upper}", line},
        {"connects", kDiagonal + "\nwith: {from: {role: main_hoop}, to: {role: main_hoop}}",
         [](const Seen& seen) {
             return all<ShownPoint>(seen).size() == 2 &&
                    all<ShownPoint>(seen)[0].at == seen.bar().ends[0].at &&
                    all<ShownPoint>(seen)[1].at == seen.bar().ends[1].at;
         }},
        {"feet", kHoop, marks},
        {"height_share", kHoop + "\nwith: {from: sill, to: beam}",
         [](const Seen& seen) {
             const std::vector<ShownBand> bands = all<ShownBand>(seen);
             return bands.size() == 1 &&
                    among(figures(seen), seen.value() * (bands[0].high - bands[0].low).norm(), 1e-3);
         }},
        {"seen_inside_line", "of: {role: pillar_brace}\nwith: {line: windshield}", line},
        {"same_tube_as", kDiagonal + "\nwith: {members: {role: belt_bar}}", onEachOfTwo},
        {"mirror_difference", kBraceLeft, line},
        {"gap_to_skin", "of: {role: roof_bar}\nwith: {surface: shell}", line},
        // Where the gap is least; the mean is no one place.
        {"mean_gap_to_skin", "of: {role: roof_bar}\nwith: {surface: shell}",
         [](const Seen& seen) {
             const std::vector<ShownLine> lines = all<ShownLine>(seen);
             if (lines.size() != 1 || lengthOf(lines[0]) > seen.value()) return false;
             const Centreline& bar = seen.bar().line;
             const double off = (bar.point(bar.nearestStation(lines[0].from)) - lines[0].from).norm();
             return std::abs(off - seen.bar().radius_mm()) < 1e-3;
         }},
        {"joint_angle", "of: {branch: {role: hoop_diagonal}}", angle},
        {"joint_offset", "of: {branch: {role: door_bar}}", line, offAxis},
        {"gussets_at_joint",
         "of: {branch: {role: belt_bar}, having: {measure: gussets_at_joint, at_least: 1}}",
         [](const Seen& seen) {
             return static_cast<double>(all<ShownLine>(seen).size()) == 3 * seen.value();
         }},
        {"gap", "of: {first: {role: belt_bar}, second: {role: windshield_bar}}", line},
        {"included_angle", "of: {first: {role: belt_bar}, second: {role: hoop_diagonal}}", angle},
        {"same_tube", "of: {first: {role: belt_bar}, second: {role: hoop_diagonal}}", onEachOfTwo},
        {"angle_to_plane", "of: {first: {role: pillar_brace}, second: {role: main_hoop}}",
         [](const Seen& seen) { return angle(seen) && all<ShownPlane>(seen).size() == 1; }},
        {"same_side_of_vertical",
         "of: {first: {role: pillar_brace}, second: {role: windshield_bar}}\nwith: {place: hoop_top}",
         [](const Seen& seen) {
             const std::vector<ShownPlane> planes = all<ShownPlane>(seen);
             const std::vector<ShownPoint> points = all<ShownPoint>(seen);
             if (planes.size() != 1 || points.size() != 2) return false;
             const auto side = [&](const ShownPoint& p) {
                 return (p.at - planes[0].at).dot(planes[0].normal) > 0;
             };
             return (side(points[0]) == side(points[1])) == (seen.finding.found == "yes");
         }},
        {"plate_area", kFoot, outline},
        {"plate_thickness", kFoot, line},
        {"plate_least_side", kFoot, line},
        {"plate_greatest_side", kFoot, line},
        {"plate_area_over_od", kFoot, outlineTimesOd(45)},
        {"plate_side_over_od", kFoot, lineTimes(45)},
        {"fixing", kFoot, onPlate},
        {"bolt_count", kFoot, onPlate},
        {"bolt_diameter", kFoot, onPlate},
        {"bolt_grade", kFoot, onPlate},
        {"bolt_area", kFoot, onPlate},
        {"bolt_area_over", kFoot + "\nwith: {members: {role: rear_brace}}",
         [](const Seen& seen) {
             return all<ShownPoint>(seen).size() == 2 && all<ShownPoint>(seen)[0].at == seen.plate().at;
         }},
        {"bolt_pitch", kFoot, onPlate},
        {"bolt_edge", kFoot, onPlate},
        {"bolt_edge_over_diameter", kFoot, onPlate},
        {"backing_area", kFoot, outline},
        {"backing_thickness", kFoot, line},
        {"tied_to_rail", kFoot, onPlate},
        {"contact_area", kFoot, onPlate},
        {"plate_developed_area", kFoot, outline},
        {"plate_least_plane", kFoot, outline},
        {"plate_planes", kFoot,
         [](const Seen& seen) {
             return static_cast<double>(all<ShownLine>(seen).size()) == 4 * seen.value();
         }},
        {"riser_area", kFoot, onPlate},
        {"gusset_formed", "", [](const Seen& seen) { return all<ShownLine>(seen).size() == 3; }},
        // Its diameter across it; a mark where there is none.
        {"gusset_hole", "",
         [](const Seen& seen) { return seen.value() > 0 ? line(seen) : all<ShownPoint>(seen).size() == 1; }},
        {"gusset_thickness", "", line},
        {"gusset_leg", "", line},
        {"gusset_leg_over_od", "", lineTimes(45)},
        {"clearance", "with: {part: helmet}", line},
        {"least_padding", "with: {part: helmet, within: 300}", line},
        {"line_clearance", "with: {part: helmet, from: hoop_top, to: screen_bar}", line},
        {"inside_envelope", "with: {part: helmet}",
         [](const Seen& seen) { return line(seen) && all<ShownPlane>(seen).size() == 1; }},
        {"bar_above_helmet", "with: {members: {role: main_hoop}}", line},
        {"bar_behind_helmet", "with: {members: {role: main_hoop}}", line},
        {"helmet_ahead_of_rear_face", "with: {members: {role: main_hoop}}", line},
        {"helmet_travel", "with: {direction: up}", line},
        {"back_angle", "", angle},
        {"belt_angle", "", angle},
        {"belt_plan_angle", "", angle},
        {"belt_bar_below_shoulder", "", line},
        {"belt_run", "", line},
        {"belt_behind_seat", "", line},
        {"belt_spacing", "", line},
        {"lap_angle", "", angle},
        {"sight_gap", "with: {place: mirror}", angle},
        {"windshield_hidden", "",
         [](const Seen& seen) {
             return all<ShownPoint>(seen).size() == 1 && all<ShownLine>(seen).size() == 4 &&
                    all<ShownPoint>(seen)[0].at == seen.job.drivers[0].eye;
         }},
        {"clear_opening", "with: {line: door_opening}", line},
        {"figure", "", atDriver},
        {"part_to_place", "with: {part: hand, place: nose}", line},
        {"width_over_shoulders", "with: {members: {role: main_hoop}}",
         [](const Seen& seen) {
             const std::vector<double> wide = figures(seen);
             return wide.size() == 2 && std::abs(wide[0] - wide[1] - seen.value()) < 1e-6;
         }},
        {"middle_to_outside", "with: {members: {role: main_hoop}}", line},
        {"belt_gap", "", line},
        {"open_bay_count", "with: {members: {role: [main_hoop, side_bar, windshield_bar]}}",
         [](const Seen& seen) {
             return seen.value() >= 1 && static_cast<double>(all<ShownLine>(seen).size()) >= 4 * seen.value();
         }},
        {"free_height_at", "with: {place: sill, members: {role: [door_bar, roof_bar, sill_bar]}}", line,
         [] {
             Job job = everything();
             job.cage.members.push_back(straight("low", "sill_bar", {-100, 640, 0}, {1000, 640, 0}));
             return job;
         }},
        {"free_length_at", "with: {place: sill, members: {role: [main_hoop, pillar_brace]}}", line},
        {"uneven_spacing", "with: {members: {role: door_bar}}",
         [](const Seen& seen) {
             const std::vector<double> spaces = figures(seen);
             if (spaces.size() != 2) return false;
             const auto [least, greatest] = std::minmax_element(spaces.begin(), spaces.end());
             return std::abs(*greatest - *least - seen.value()) < 1e-6;
         }},
        {"member_count", "", marks},
        {"joint_count", "", marks},
        {"pair_count", "of: {first: {role: belt_bar}, second: {role: [windshield_bar, hoop_diagonal]}}",
         marks},
        {"plate_count", "", marks},
        {"gusset_count", "", marks},
        {"driver_count", "", marks},
        // At the middle of all metal: the small cage's is about its centre plane.
        {"tube_mass", "",
         [](const Seen& seen) {
             return all<ShownPoint>(seen).size() == 1 && std::abs(all<ShownPoint>(seen)[0].at.y()) < 20;
         },
         smallJob},
        {"whole_mass", "",
         [](const Seen& seen) {
             return all<ShownPoint>(seen).size() == 1 && std::abs(all<ShownPoint>(seen)[0].at.y()) < 20;
         },
         smallJob},
    };
    return kRows;
}

/// What any value of the quantity meets.
std::string anyValue(const Quantity& quantity) {
    if (quantity.value == ValueKind::tube) return "fits: any";
    if (quantity.value == ValueKind::word) return "is_not: nothing_of_the_sort";
    if (quantity.value == ValueKind::yes_no) return "how_many: any\nis: yes";
    return "at_least: -1000000";
}

Seen seenOf(const Row& row, const Quantity& quantity) {
    Seen out;
    out.job = row.job ? row.job() : everything();
    out.cage = resolve(out.job);
    std::string says = "measure: " + row.quantity + (row.rest.empty() ? "" : "\n" + row.rest);
    if (quantity.value == ValueKind::yes_no) {
        // Either answer will do: of the two, the one that is given.
        for (const char* is : {"yes", "no"}) {
            out.finding = findings(out.job, says + "\nis: " + is, kSections).at(0);
            if (out.finding.answer == Answer::meets) break;
        }
        return out;
    }
    out.finding = findings(out.job, says + "\n" + anyValue(quantity), kSections).at(0);
    return out;
}

TEST(EvidenceOfAQuantity, LiesWhereItsValueSays) {
    std::map<std::string, const Row*> of;
    for (const Row& row : rows()) of[row.quantity] = &row;
    for (const Quantity& quantity : allQuantities()) {
        const auto row = of.find(quantity.info.name);
        if (row == of.end()) {
            ADD_FAILURE() << quantity.info.name << " has no evidence held to its value";
            continue;
        }
        SCOPED_TRACE(quantity.info.name);
        const Seen seen = seenOf(*row->second, quantity);
        EXPECT_EQ(seen.finding.answer, Answer::meets) << seen.finding.missing << seen.finding.found;
        if (quantity.value == ValueKind::number) {
            EXPECT_TRUE(seen.finding.value);
        }
        EXPECT_FALSE(seen.shapes().empty());
        EXPECT_TRUE(row->second->holds(seen))
            << "value " << seen.value() << ", lines: " << testing::PrintToString(figures(seen)) << ", all "
            << sumOfLines(seen);
        of.erase(row);
    }
    for (const auto& [name, row] : of) ADD_FAILURE() << name << " is no quantity";
}

}  // namespace
}  // namespace hoopwright::test::evidence
