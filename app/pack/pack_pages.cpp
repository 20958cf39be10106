#include "app/pack/pack_pages.h"

#include <algorithm>
#include <array>
#include <cmath>

#include "app/view/finding_text.h"
#include "app/view/palette.h"
#include "core/base/text.h"
#include "core/model/measure_dimension.h"

namespace hoopwright {

const char* const kPackSays =
    "This is a check of a plan. It is no certificate and no approval: it knows nothing of the welds, of the "
    "tube "
    "that was used, or of what the inspector will say. Only what was measured on the built cage speaks for "
    "it.";

std::string PackInHand::bare(double mm, int decimals) const {
    return showLength(mm, {style.unit, decimals, 0, false});
}

namespace {

constexpr std::array<double, 14> kPackScales = {4, 5, 8, 10, 12, 15, 20, 25, 30, 40, 50, 75, 100, 200};

double scaleFor(double needed) {
    for (const double scale : kPackScales)
        if (scale >= needed) return scale;
    return std::ceil(needed);
}

std::string plural(int count, const std::string& word) {
    return std::to_string(count) + " " + word + (count == 1 ? "" : "s");
}

/// A scale for what has no size too: a cage without a bar.
double scaleOf(double needed) {
    return needed > 0 ? needed : 1;
}

/// A bar of a round length of the cage, so that a print can be trusted or not.
void scaleBar(PackInHand& in, double scale, const Vec2& at) {
    const bool inch = in.style.unit == LengthUnit::in;
    // Of a small cage a shorter one, or its words would run off the paper.
    constexpr double kRoom_mm = 90;
    const double unit = inch ? 25.4 : 1;
    const double usual = unit * (inch ? 10 : 250), step = 2 * usual / scale <= kRoom_mm ? usual : usual / 5;
    const double wide = 2 * step / scale;
    in.pages.ink({{at, at + Vec2(wide, 0)}, 0.5});
    for (const int i : {0, 1, 2}) {
        const Vec2 p = at + Vec2(i * step / scale, 0);
        in.pages.ink({{p + Vec2(0, -1.1), p + Vec2(0, 1.1)}, 0.25});
    }
    in.pages.sheet().text(at + Vec2(wide + 2, 0.9),
                          "1:" + shortest(scale) + "; this bar is " + shortest(2 * step / unit) +
                              (inch ? " in" : " mm") + " of the cage, and " +
                              showLength(wide, {in.style.unit, 1}) + " on this page",
                          7.5, DrawnText::Align::left, false, true);
}

void caption(PackInHand& in, const PlacedView& at) {
    in.pages.sheet().text(at.corner + Vec2(0, -2.6), at.view.name, 8.5, DrawnText::Align::left, true);
}

/// The dimensions that are pinned, each in the view that shows it longest.
void drawPinned(PackInHand& in, const std::vector<PlacedView>& here) {
    for (const PinnedDimension& one : in.pack.job->cage.dimensions) {
        const MeasuredDimension read = measureDimension(*in.pack.job, *in.pack.cage, one);
        if (!read || read.dimension == Dimension::angle) continue;
        const std::string best = viewShowing(read.from, read.to).name;
        for (const PlacedView& at : here)
            if (at.view.name == best)
                in.drawer.pinned(in.pages, at, read.from, read.to, in.length(read.value));
    }
}

void tubeSchedule(PackInHand& in) {
    const InspectorPack& pack = in.pack;
    const auto right = DrawnText::Align::right;
    const std::string u = in.unitWord();
    in.pages.page(
        "Tubes",
        "OD, wall, heat and certificate are what was read and kept; an empty box is to be filled in");
    in.pages.table({{"No", 0.04, right},
                    {"Tube", 0.22},
                    {"Stock", 0.17},
                    {"Length " + u, 0.075, right},
                    {"Bends", 0.055, right},
                    {"Radius " + u, 0.07, right},
                    {"OD read " + u, 0.08, right, true},
                    {"Wall read " + u, 0.08, right, true},
                    {"Heat", 0.1, DrawnText::Align::left, true},
                    {"Certificate", 0.11, DrawnText::Align::left, true}},
                   7.5);
    for (const PackTube& tube : pack.tubes) {
        const ResolvedMember& m = in.member(tube.member);
        in.pages.row({std::to_string(tube.number()), m.name,
                      tubeText(m.section, in.style.unit) + " " + tube.material + ", " + tube.form,
                      in.bare(tube.length_mm, 0), std::to_string(tube.bends),
                      tube.bends ? in.bare(tube.least_radius_mm, 1) : "", in.bare(tube.read_od_mm, 2),
                      in.bare(tube.read_wall_mm, 2) + (tube.wall_of_rack ? " *" : ""), tube.heat,
                      tube.certificate + (tube.certified.empty() ? "" : " of " + tube.certified)});
    }
    if (std::ranges::any_of(pack.tubes, &PackTube::wall_of_rack))
        in.pages.sheet().words("* gauged on the rack, before it was bent; not yet on this bar", 8, false,
                               true);
}

void weldSchedule(PackInHand& in) {
    const InspectorPack& pack = in.pack;
    const auto right = DrawnText::Align::right;
    const std::string u = in.unitWord();
    in.pages.page(
        "Welds", "One row for each tube end; a photograph's number and the inspector's mark go in the boxes");
    in.pages.table({{"End", 0.06, right},
                    {"Tube", 0.24},
                    {"Welded to", 0.3},
                    {"Angle", 0.07, right},
                    {"Weld " + u, 0.08, right},
                    {"Photo", 0.125, DrawnText::Align::left, true},
                    {"Seen", 0.125, DrawnText::Align::left, true}},
                   7.5);
    double weld = 0;
    for (const PackJoint& joint : pack.joints) {
        std::string onto;
        for (const std::string& name : joint.onto) onto += (onto.empty() ? "" : ", ") + name;
        if (joint.under_30_mm > 1)
            onto += "; " + in.length(joint.under_30_mm) + " of it under 30°, where no torch reaches the root";
        weld += joint.weld_mm;
        in.pages.row({joint.number, in.member(joint.member).name,
                      joint.trouble.empty() ? onto : onto + "; " + joint.trouble,
                      joint.angle_rad > 0 ? showAngle(joint.angle_rad, 0) : "",
                      joint.weld_mm > 0 ? in.bare(joint.weld_mm, 0) : "", "", ""});
    }
    in.pages.sheet().gap(1);
    in.pages.sheet().words(
        "In all " + in.length(weld) +
            " of weld round the tubes. End A is a tube's first end, "
            "B its last. A weld all the way round is as long as said; the back and the top of it "
            "count.",
        8.5, false, true);
}

void plateSchedule(PackInHand& in) {
    const InspectorPack& pack = in.pack;
    const auto right = DrawnText::Align::right;
    const std::string u = in.unitWord();
    if (pack.plates.empty()) return;
    in.pages.page("Plates", "Area of the face as planned; what lies on the car is measured");
    in.pages.table({{"No", 0.06, right},
                    {"Plate", 0.26},
                    {"Size " + u, 0.14, right},
                    {"Thick " + u, 0.08, right},
                    {"Area", 0.12, right},
                    {"Held by", 0.14},
                    {"Area read", 0.1, right, true},
                    {"Seen", 0.1, DrawnText::Align::left, true}},
                   8);
    for (const PackPlate& plate : pack.plates) {
        const ResolvedPlate& p = pack.cage->plates[static_cast<std::size_t>(plate.plate)];
        const Plate& said = pack.job->cage.plates[static_cast<std::size_t>(p.layout)];
        std::string held = said.fixing == Fixing::welded ? "welded" : "bolted";
        if (said.bolts.count > 0)
            held = std::to_string(said.bolts.count) + " bolts " + in.length(said.bolts.diameter_mm) +
                   (said.bolts.grade.empty() ? "" : ", " + said.bolts.grade);
        in.pages.row({plate.number, p.name, in.bare(plate.length_mm, 0) + " × " + in.bare(plate.width_mm, 0),
                      in.bare(p.thickness_mm, 1), withSigns(showArea(p.area_mm2, in.style.unit)), held,
                      plate.read_area_mm2 ? showArea(*plate.read_area_mm2, in.style.unit) : "", ""});
    }
}

void wallReadings(PackInHand& in) {
    SheetPages& sheet = in.pages.sheet();
    const std::string u = in.unitWord();
    const auto right = DrawnText::Align::right;
    in.pages.page("Wall readings",
                  "With an ultrasonic gauge set on a piece of the same tube; paint off, three readings, the "
                  "least counts");
    sheet.words(
        "Expected: the nominal wall, and outside a bend what the bend leaves of it, t R / (R + D/2), the "
        "centreline's length and the metal's volume kept. Mill least: the same of the least wall its "
        "standard lets the mill deliver; empty where none is known. Limit: the thickest wall the tables ask "
        "of the tube; n: of its nominal wall, as ordered, not of a reading.",
        8, false, true);
    sheet.gap(1.5);
    in.pages.table({{"Spot", 0.06, right},
                    {"Tube", 0.19},
                    {"Where", 0.15},
                    {"From end A " + u, 0.085, right},
                    {"Nominal " + u, 0.075, right},
                    {"Expected " + u, 0.08, right},
                    {"Mill least " + u, 0.075, right},
                    {"Limit " + u, 0.09, right},
                    {"Read " + u, 0.09, right, true},
                    {"By", 0.105, DrawnText::Align::left, true}},
                   7.5);
    const QColor thin = paletteOf(Tone::light).of(Answer::ask_person);
    for (const PackSpot& spot : in.pack.spots) {
        std::string limit;
        if (spot.limit) {
            limit = in.bare(spot.limit->wall_mm, 2);
            if (spot.limit->judged == "nominal wall") limit += " n";
        }
        const std::string trouble = spotTrouble(spot);
        in.pages.row(
            {spot.number, in.member(spot.member).name, spot.where + (trouble.empty() ? "" : "; " + trouble),
             in.bare(spot.station_mm, 0), in.bare(spot.nominal_mm, 2), in.bare(spot.expected_mm, 2),
             in.bare(spot.mill_least_mm, 2), limit, in.bare(spot.read_mm, 2), spot.read_by},
            false, trouble.empty() ? QColor() : thin);
    }
}

}  // namespace

void addCover(PackInHand& in) {
    const InspectorPack& pack = in.pack;
    const CheckReport& report = pack.report;
    SheetPages& sheet = in.pages.sheet();
    in.pages.page(pack.job->cage.name, "Made on " + pack.made + ", for the inspector");
    sheet.gap(2);
    sheet.words(kPackSays, 11, true);
    sheet.gap(3);
    PlacedView at = in.drawer.placed(lineViews().back());
    const Vec2 span = at.high - at.low;
    at.scale = scaleOf(std::max(span.x() / (sheet.width() * 0.82), span.y() / 92));
    at.corner = Vec2(sheet.left() + (sheet.width() - span.x() / at.scale) / 2, sheet.y() + 2);
    in.drawer.cage(in.pages, at);
    sheet.gap(span.y() / at.scale + 8);

    in.pages.table({{"The cage", 0.34}, {"", 0.66}}, 9);
    in.pages.row({"Car", pack.job->car.name});
    in.pages.row({"Tubes", plural(static_cast<int>(pack.tubes.size()), "tube") + ", " +
                               plural(pack.cage->totals.bends, "bend") + ", " +
                               plural(static_cast<int>(pack.joints.size()), "welded end") + ", " +
                               plural(static_cast<int>(pack.plates.size()), "plate")});
    in.pages.row({"Mass", showMass(pack.cage->totals.tube_mass_kg, in.style.unit) + " of tube, " +
                              showMass(pack.cage->totals.plate_mass_kg, in.style.unit) + " of plate"});
    in.pages.row({"Over all tubes", in.length(pack.outside_mm[0]) + " long, " +
                                        in.length(pack.outside_mm[1]) + " wide, " +
                                        in.length(pack.outside_mm[2]) + " high"});
    in.pages.row({"Over tubes and plates",
                  in.length(pack.with_plates_mm[0]) + " long, " + in.length(pack.with_plates_mm[1]) +
                      " wide, " + in.length(pack.with_plates_mm[2]) + " high, as the drawings have it"});
    for (const Driver& driver : pack.job->drivers) in.pages.row({"Planned round", driver.name});
    sheet.gap(3);
    in.pages.table({{"Held against", 0.34}, {"", 0.66}}, 9);
    for (const RuleTableInfo& table : report.tables)
        in.pages.row({table.title + ", edition " + table.edition,
                      table.advice.empty() ? "Written by " + table.written_by : table.advice});
    if (report.tables.empty()) in.pages.row({"No class table", "The job names none: nothing was checked."});
    const auto count = [&](Answer answer) { return std::to_string(report.count(answer)); };
    in.pages.row({"Answers", count(Answer::fails) + " fail, " + count(Answer::cannot_tell) +
                                 " can't be told, " + count(Answer::ask_person) + " ask a person, " +
                                 count(Answer::meets) + " meet, " + std::to_string(report.unconfirmed()) +
                                 " of these by a number nobody has held against the book"});
    in.pages.row({"They rest on", std::to_string(pack.resting(RestsOn::measured)) + " on measurement, " +
                                      std::to_string(pack.resting(RestsOn::plan)) + " on the plan alone, " +
                                      std::to_string(pack.resting(RestsOn::person)) + " on a person's word"});
}

void addViews(PackInHand& in) {
    SheetPages& sheet = in.pages.sheet();
    const auto& all = lineViews();
    std::vector<PlacedView> v;
    for (const std::size_t i : {std::size_t{0}, std::size_t{2}, std::size_t{1}, std::size_t{3}})
        v.push_back(in.drawer.placed(all[i]));
    const auto span = [&](std::size_t i) { return Vec2(v[i].high - v[i].low); };
    const std::string under = "Hidden lines left out; each tube has its number of the schedule";
    in.pages.page("From the left and from above", under);
    if (in.pack.tubes.empty() && in.pack.plates.empty())
        return sheet.words("There is no bar and no plate to draw yet.", 10);
    const double wide = sheet.width() - 14, high = sheet.bottom() - sheet.y();
    // Under each view its length and its words, and the scale at the foot.
    const double scale = scaleFor(
        std::max({span(0).x() / wide, span(1).x() / wide, (span(0).y() + span(1).y()) / (high - 48)}));
    const double across = scaleFor(std::max((span(2).x() + span(3).x()) / (wide - 14), span(2).y() / 90));
    v[0].scale = v[1].scale = scale;
    v[2].scale = v[3].scale = across;
    v[0].corner = Vec2(sheet.left() + 2, sheet.y() + 8);
    v[1].corner = v[0].corner + Vec2(0, v[0].size_mm().y() + 22);
    for (const std::size_t i : {std::size_t{0}, std::size_t{1}}) {
        in.drawer.cage(in.pages, v[i]);
        caption(in, v[i]);
        const auto extent = [&](bool upright) { return in.length(upright ? span(i).y() : span(i).x()); };
        in.drawer.overall(in.pages, v[i], false, 6, extent(false));
        in.drawer.overall(in.pages, v[i], true, 7, extent(true));
    }
    drawPinned(in, {v[0], v[1]});
    for (const std::size_t i : {std::size_t{0}, std::size_t{1}}) {
        in.drawer.numbers(in.pages, v[i], false);
        in.drawer.plateNumbers(in.pages, v[i]);
    }
    scaleBar(in, scale, Vec2(sheet.left() + 2, sheet.bottom() - 3));

    in.pages.page("From the front and from behind", under);
    v[2].corner = Vec2(sheet.left() + 2, sheet.y() + 8);
    v[3].corner = v[2].corner + Vec2(v[2].size_mm().x() + 14, 0);
    for (const std::size_t i : {std::size_t{2}, std::size_t{3}}) {
        in.drawer.cage(in.pages, v[i]);
        caption(in, v[i]);
        in.drawer.overall(in.pages, v[i], false, 6, in.length(span(i).x()));
    }
    in.drawer.overall(in.pages, v[3], true, 7, in.length(span(3).y()));
    drawPinned(in, {v[2]});
    for (const std::size_t i : {std::size_t{2}, std::size_t{3}}) {
        in.drawer.numbers(in.pages, v[i], false);
        in.drawer.plateNumbers(in.pages, v[i]);
    }
    PlacedView aslant = in.drawer.placed(all.back());
    const Vec2 size = aslant.high - aslant.low;
    const double top = v[2].corner.y() + std::max(v[2].size_mm().y(), v[3].size_mm().y()) + 22;
    aslant.scale =
        scaleOf(std::max(size.x() / (sheet.width() * 0.9), size.y() / (sheet.bottom() - 10 - top)));
    aslant.corner = Vec2(sheet.left() + (sheet.width() - size.x() / aslant.scale) / 2, top);
    in.drawer.cage(in.pages, aslant);
    aslant.view.name = all.back().name;
    in.pages.sheet().text(Vec2(sheet.left() + 2, top - 2.6), aslant.view.name + ", not to scale", 8.5,
                          DrawnText::Align::left, true);
    in.drawer.numbers(in.pages, aslant, true);
    in.drawer.plateNumbers(in.pages, aslant);
    scaleBar(in, across, Vec2(sheet.left() + 2, sheet.bottom() - 3));
}

void addSchedules(PackInHand& in) {
    in.pages.closingUp([&in] { tubeSchedule(in); });
    in.pages.closingUp([&in] { weldSchedule(in); });
    plateSchedule(in);
}

void addWallSheet(PackInHand& in) {
    SheetPages& sheet = in.pages.sheet();
    in.pages.page("Wall readings: where",
                  "3.0 is on the straight of tube 3, 3.1 on the outside of its first bend");
    std::vector<PlacedView> views = {
        in.drawer.placed(lineViews().back()),
        in.drawer.placed(viewFrom("From behind and above", Vec3(-1, -0.8, 0.7)))};
    const double top = sheet.y() + 6, each = (sheet.bottom() - top) / 2 - 6;
    for (std::size_t i = 0; i < views.size(); ++i) {
        const Vec2 size = views[i].high - views[i].low;
        views[i].scale = scaleOf(std::max(size.x() / (sheet.width() - 16), size.y() / each));
        views[i].corner = Vec2(sheet.left() + (sheet.width() - size.x() / views[i].scale) / 2,
                               top + static_cast<double>(i) * (each + 11));
    }
    for (std::size_t i = 0; i < views.size(); ++i) {
        in.drawer.cage(in.pages, views[i]);
        caption(in, views[i]);
        in.drawer.spots(in.pages, views, i);
    }
    in.pages.closingUp([&in] { wallReadings(in); });
}

std::vector<PackPage> packPages(const SheetHead& head, const InspectorPack& pack,
                                const WorkProgress& progress) {
    using Part = void (*)(PackInHand&);
    constexpr std::array<std::pair<const char*, Part>, 11> kParts = {{{"cover", &addCover},
                                                                      {"views", &addViews},
                                                                      {"schedules", &addSchedules},
                                                                      {"wall readings", &addWallSheet},
                                                                      {"drivers", &addPeople},
                                                                      {"checklist", &addChecklist},
                                                                      {"pictures", &addFindingPictures},
                                                                      {"as built", &addAsBuilt},
                                                                      {"history", &addHistory},
                                                                      {"photographs", &addPhotos},
                                                                      {"declaration", &addDeclaration}}};
    PackPages pages(head);
    PackDrawer drawer(pack);
    PackInHand in{pages, drawer, pack, {head.unit}};
    for (std::size_t i = 0; i < kParts.size(); ++i) {
        if (!goOn(progress, static_cast<int>(i), static_cast<int>(kParts.size()), kParts[i].first)) return {};
        kParts[i].second(in);
    }
    return pages.take();
}

}  // namespace hoopwright
