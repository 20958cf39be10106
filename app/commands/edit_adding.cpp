#include <algorithm>
#include <array>
#include <charconv>

#include "app/commands/edit_doing.h"
#include "core/base/text.h"
#include "core/edit/cage_edits.h"
#include "core/edit/drawn_bar.h"
#include "core/edit/new_bar.h"
#include "core/edit/tie_edits.h"
#include "core/edit/usual_sizes.h"
#include "core/files/yaml_map.h"
#include "core/model/role.h"
#include "core/model/sheet_shape.h"
#include "rules/check.h"

namespace hoopwright {
namespace {

Expected<double> lengthOf(const std::string& text, const EditReport& report) {
    return readMeasure(text, *unitNamed(report.before.cage.unit == LengthUnit::in ? "in" : "mm"));
}

std::vector<std::string> partsOf(const std::string& text, char between) {
    std::vector<std::string> out(1);
    for (const char c : text) {
        if (c == between) {
            out.emplace_back();
        } else {
            out.back() += c;
        }
    }
    return out;
}

/// "X,Y,Z" in the cage's unit.
Expected<Vec3> pointOf(const std::string& text, const EditReport& report) {
    const std::vector<std::string> parts = partsOf(text, ',');
    if (parts.size() != 3) return Reason{"'" + text + "' is no place: write X,Y,Z"};
    Vec3 at;
    for (int i = 0; i < 3; ++i) {
        const Expected<double> read = lengthOf(parts[static_cast<std::size_t>(i)], report);
        if (!read) return Reason{read.reason()};
        at[i] = *read;
    }
    return at;
}

/// "BAR@DISTANCE" from its first end, "BAR@40%".
Expected<DrawnPlace> onBar(const std::string& id, const std::string& far, const EditReport& report) {
    const int at = report.was.member(id);
    if (at < 0) {
        std::vector<std::string> ids;
        for (const ResolvedMember& member : report.was.members) ids.push_back(member.id);
        const std::string near = didYouMean(id, ids);
        return Reason{"the cage has no bar '" + id + "'" +
                      (near.empty() ? "; of a pair say .left or .right" : "; did you mean '" + near + "'?")};
    }
    const Centreline& line = report.was.members[static_cast<std::size_t>(at)].line;
    if (line.empty()) return Reason{"'" + id + "' has no shape"};
    const bool share = far.ends_with('%');
    const Expected<double> read =
        share ? readMeasure(far.substr(0, far.size() - 1), *unitNamed("")) : lengthOf(far, report);
    if (!read) return Reason{read.reason()};
    const double station = share ? *read / 100 * line.length_mm() : *read;
    if (station < 0 || station > line.length_mm())
        return Reason{"'" + far + "' is not on '" + id + "', which is " +
                      showLength(line.length_mm(), {report.before.cage.unit}) + " long"};
    return DrawnPlace{DrawnPlace::On::bar, id, line.point(station)};
}

Expected<DrawnPlace> placeOf(const std::string& text, const EditReport& report) {
    if (const auto cut = text.find('@'); cut != std::string::npos)
        return onBar(text.substr(0, cut), text.substr(cut + 1), report);
    if (text.find(',') != std::string::npos) {
        const Expected<Vec3> at = pointOf(text, report);
        if (!at) return Reason{at.reason()};
        return DrawnPlace{DrawnPlace::On::nothing, "", *at};
    }
    if (const int plate = report.was.plate(text); plate >= 0)
        return DrawnPlace{DrawnPlace::On::plate, text, report.was.plates[static_cast<std::size_t>(plate)].at};
    if (const CarPoint* point = report.before.car.point(text))
        return DrawnPlace{DrawnPlace::On::car_point, text, point->at};
    return Reason{"'" + text +
                  "' is no place: write BAR@DISTANCE, BAR@40%, a plate, a point of the car, or X,Y,Z"};
}

Expected<std::string> addBar(const CommandLine& line, EditReport& report) {
    const std::string role = line.value("--add"), tube = line.value("--of");
    if (std::ranges::find(knownRoles(), role, &Role::word) == knownRoles().end()) {
        std::vector<std::string> words;
        for (const Role& one : knownRoles()) words.push_back(one.word);
        const std::string near = didYouMean(role, words);
        return Reason{"--add: there is no role '" + role + "'" +
                      (near.empty() ? "" : "; did you mean '" + near + "'?")};
    }
    if (!tube.empty() && !report.before.stock.find(tube))
        return Reason{"--of: the stock list has no '" + tube + "'"};
    std::vector<DrawnPlace> places;
    for (const std::string& said : line.values("--at")) {
        const Expected<DrawnPlace> place = placeOf(said, report);
        if (!place) return Reason{"--at: " + place.reason()};
        places.push_back(*place);
    }
    if (places.size() < 2)
        return Reason{"--at PLACE is missing: say both ends, and bends between them in order"};
    Member bar = drawnBar(report.before, report.was, role, places);
    if (!tube.empty()) bar.stock = tube;
    const std::string name = shownName(bar);
    report.after.cage.members.push_back(std::move(bar));
    return "Added " + name + ".";
}

Expected<std::string> addPlate(const CommandLine& line, EditReport& report) {
    const Expected<Vec3> at = pointOf(line.value("--plate"), report);
    if (!at) return Reason{"--plate: " + at.reason()};
    Plate plate = newPlate(report.before, *at);
    if (line.has("--size")) {
        const std::vector<std::string> parts = partsOf(line.value("--size"), 'x');
        if (parts.size() != 3)
            return Reason{"--size: '" + line.value("--size") + "': write LENGTHxWIDTHxTHICKNESS"};
        const std::array<double*, 3> into = {&plate.length_mm, &plate.width_mm, &plate.thickness_mm};
        for (std::size_t i = 0; i < 3; ++i) {
            const Expected<double> read = lengthOf(parts[i], report);
            if (!read) return Reason{"--size: " + read.reason()};
            if (*read <= 0) return Reason{"--size: '" + parts[i] + "': it must be more than 0"};
            *into[i] = *read;
        }
    }
    plate.mirrored = std::abs(at->y()) > 1;
    if (plate.mirrored && at->y() < 0) return Reason{"--plate: say the left one of a pair: y above 0"};
    const std::string id = plate.id;
    report.after.cage.plates.push_back(std::move(plate));
    return "Added " + id + ".";
}

Expected<std::string> addGusset(const CommandLine& line, EditReport& report) {
    const std::string one = line.value("--gusset"), other = line.value("--with");
    if (other.empty()) return Reason{"--with ID is missing: say the other bar of the corner"};
    for (const std::string& id : {one, other})
        if (report.was.member(id) < 0)
            return Reason{"the cage has no bar '" + id + "'; of a pair say .left or .right"};
    Gusset gusset = newGusset(report.before, one, other);
    if (line.has("--leg")) {
        const Expected<double> read = lengthOf(line.value("--leg"), report);
        if (!read) return Reason{"--leg: " + read.reason()};
        if (*read <= 0) return Reason{"--leg: it must be more than 0"};
        gusset.leg_mm = *read;
    }
    gusset.formed = line.has("--formed");
    if (line.has("--hole")) {
        const Expected<double> read = lengthOf(line.value("--hole"), report);
        if (!read) return Reason{"--hole: " + read.reason()};
        if (*read <= 0) return Reason{"--hole: it must be more than 0"};
        gusset.hole_mm = *read;
    }
    report.after.cage.gussets.push_back(gusset);
    return "Added " + gusset.id + " between " + one + " and " + other + ".";
}

Expected<std::string> tie(const CommandLine& line, EditReport& report) {
    const std::string id = line.value("--tie");
    const Expected<MadeTie> made =
        tieToRail(report.after, report.was, id, line.has("--bolted") ? Fixing::bolted : Fixing::welded);
    if (!made) return Reason{made.reason()};
    return "Tied " + id + " to " + made->rail + (line.has("--bolted") ? ", bolted." : ", welded.");
}

Expected<std::string> raise(const CommandLine& line, EditReport& report) {
    const std::string id = line.value("--riser");
    Plate* plate = findPlate(report.after.cage, id);
    if (!plate) return Reason{"the cage has no plate '" + id + "'"};
    Riser riser = plate->riser.value_or(usualSizes(report.before.cage.unit).riser);
    if (line.has("--height")) {
        const Expected<double> read = lengthOf(line.value("--height"), report);
        if (!read) return Reason{"--height: " + read.reason()};
        if (*read < 0) return Reason{"--height: it must be 0 or more"};
        riser.height_mm = *read;
    }
    if (riser.height_mm == 0) {
        putOnRiser(*plate, std::nullopt);
        return "Took " + id + " off its riser.";
    }
    putOnRiser(*plate, riser);
    return "Put " + id + " on a riser, " + showLength(riser.height_mm, {report.before.cage.unit}) + " high.";
}

/// A flap on one edge of a plate, or off it.
Expected<std::string> foldFlap(const CommandLine& line, EditReport& report) {
    const std::string id = line.value("--flap"), edge = line.value("--edge");
    Plate* plate = findPlate(report.after.cage, id);
    if (!plate) return Reason{"the cage has no plate '" + id + "'"};
    constexpr std::array<std::pair<const char*, PlateEdge>, 4> kEdges = {{{"ahead", PlateEdge::ahead},
                                                                          {"behind", PlateEdge::behind},
                                                                          {"left", PlateEdge::left},
                                                                          {"right", PlateEdge::right}}};
    const auto which = std::ranges::find_if(kEdges, [&](const auto& one) { return edge == one.first; });
    if (which == kEdges.end())
        return Reason{"--edge: '" + edge + "' is no edge of a plate: say ahead, behind, left or right"};
    const LengthUnit unit = report.before.cage.unit;
    Flap flap = usualFlap(unit, which->second);
    for (const Flap& there : plate->flaps)
        if (there.edge == flap.edge) flap = there;
    if (line.has("--length")) {
        const Expected<double> read = lengthOf(line.value("--length"), report);
        if (!read) return Reason{"--length: " + read.reason()};
        if (*read < 0) return Reason{"--length: it must be 0 or more"};
        flap.length_mm = *read;
    }
    if (line.has("--angle")) {
        const Expected<double> read = readMeasure(line.value("--angle"), bareUnit(Dimension::angle, unit));
        if (!read) return Reason{"--angle: " + read.reason()};
        flap.angle_rad = *read;
    }
    std::erase_if(plate->flaps, [&](const Flap& there) { return there.edge == flap.edge; });
    if (flap.length_mm == 0) return "Took the flap " + edge + " off " + id + ".";
    plate->flaps.push_back(flap);
    if (const std::optional<SheetTrouble> trouble = flapTrouble(*plate))
        return Reason{id + " " + trouble->what + " " + trouble->remedy};
    return "Folded a flap " + edge + " of " + id + ", " + showLength(flap.length_mm, {unit}) + " long, by " +
           showAngle(flap.angle_rad) + ".";
}

Expected<std::string> keepReading(const CommandLine& line, EditReport& report) {
    BuiltReading reading;
    reading.of = line.value("--reading");
    reading.quantity = line.value("--quantity");
    reading.spot = line.value("--spot");
    reading.who = line.value("--who");
    reading.when = line.value("--when");
    if (report.was.member(reading.of) < 0 && report.was.plate(reading.of) < 0 &&
        std::ranges::find(report.before.drivers, reading.of, &Driver::id) == report.before.drivers.end())
        return Reason{"the job has no bar, plate or driver '" + reading.of +
                      "'; of a pair say .left or .right"};
    const auto known = std::ranges::find(quantities(), reading.quantity, &QuantityInfo::name);
    if (known == quantities().end()) {
        std::vector<std::string> names;
        for (const QuantityInfo& one : quantities()) names.push_back(one.name);
        const std::string near = didYouMean(reading.quantity, names);
        return Reason{
            "--quantity: there is no quantity '" + reading.quantity + "'" +
            (near.empty() ? "; hoopwright quantities lists them" : "; did you mean '" + near + "'?")};
    }
    reading.dimension = known->dimension;
    const LengthUnit unit = report.before.cage.unit;
    const Expected<double> value = readMeasure(line.value("--value"), bareUnit(known->dimension, unit));
    if (!value) return Reason{"--value: " + value.reason()};
    if (!reading.when.empty() && !isDate(reading.when))
        return Reason{"--when: '" + reading.when + "' is no day: write YYYY-MM-DD"};
    reading.value = *value;
    report.after.cage.readings.push_back(std::move(reading));
    return std::string("Kept the reading.");
}

Expected<std::string> keepCertificate(const CommandLine& line, EditReport& report) {
    const std::string id = line.value("--certificate");
    if (report.was.member(id) < 0)
        return Reason{"the cage has no bar '" + id + "'; of a pair say .left or .right"};
    const Certificate certificate{id, line.value("--heat"), line.value("--number"), line.value("--when")};
    if (!certificate.when.empty() && !isDate(certificate.when))
        return Reason{"--when: '" + certificate.when + "' is no day: write YYYY-MM-DD"};
    if (certificate.heat.empty() && certificate.number.empty())
        return Reason{"--heat or --number is missing: say what the paper is called"};
    std::vector<Certificate>& kept = report.after.cage.certificates;
    std::erase_if(kept, [&](const Certificate& one) { return one.of == id; });
    kept.push_back(certificate);
    return std::string("Kept the certificate.");
}

constexpr EditDoing kAdding[] = {{"--add", &addBar},          {"--plate", &addPlate},
                                 {"--gusset", &addGusset},    {"--tie", &tie},
                                 {"--riser", &raise},         {"--flap", &foldFlap},
                                 {"--reading", &keepReading}, {"--certificate", &keepCertificate},
                                 {"--paper", &keepPaper},     {"--inspection", &keepInspection}};

}  // namespace

std::span<const EditDoing> addingDoings() {
    return kAdding;
}

std::vector<OptionSpec> addingOptions() {
    return {
        {"--add", "ROLE", "a bar through the places of --at, last in build order"},
        {"--at", "PLACE",
         "with --add, an end or a bend: BAR@DISTANCE from its first end, BAR@40%, a plate, a point of "
         "the car, "
         "or X,Y,Z",
         true},
        {"--of", "ID", "with --add: a tube of the stock list; the usual one for its role unless said"},
        {"--plate", "X,Y,Z", "a foot plate there; off the centre a pair, said by its left one"},
        {"--size", "LxWxT", "with --plate: length, width and thickness"},
        {"--gusset", "ID", "in the corner of this bar and the one of --with"},
        {"--leg", "LENGTH", "with --gusset: along each bar"},
        {"--formed", "", "with --gusset: folded of one sheet, a cheek on each side of the tubes"},
        {"--hole", "LENGTH", "with --gusset: diameter of a round hole in it"},
        {"--tie", "ID",
         "a foot plate, or a bar on one, to the nearest rail; a return is added if it needs one"},
        {"--bolted", "", "with --tie: bolted, not welded"},
        {"--riser", "ID", "a plate on a box of sheet"},
        {"--height", "LENGTH", "with --riser: of the box; 0 takes it off"},
        {"--flap", "ID", "a strip of a plate folded along the edge of --edge"},
        {"--edge", "EDGE", "with --flap: ahead, behind, left or right, of the plate's own length and width"},
        {"--length", "LENGTH", "with --flap: over the outside of its fold; 0 takes it off"},
        {"--angle", "ANGLE", "with --flap: up positive, in degrees; 90 unless said"},
        {"--reading", "ID", "what was measured of a built bar, plate or driver"},
        {"--quantity", "NAME", "with --reading: of what; hoopwright quantities lists them"},
        {"--value", "MEASURE", "with --reading: the measure, in the cage's unit unless it says its own"},
        {"--spot", "WORDS", "with --reading: where on it"},
        {"--who", "NAME", "with --reading: who measured; with --inspection: the inspector"},
        {"--when", "DAY", "with --reading, --certificate, --inspection: YYYY-MM-DD"},
        {"--certificate", "ID", "where the metal of a bar came from"},
        {"--heat", "WORD", "with --certificate: the heat"},
        {"--number", "WORD", "with --certificate, --paper: of the paper"},
        {"--paper", "WHAT",
         "a paper or part with a date on it: belts, seat, log book; in place of the one called so"},
        {"--issued", "DAY", "with --paper: YYYY-MM-DD"},
        {"--due", "DAY", "with --paper: good until that day"},
        {"--inspection", "OUTCOME", "the cage was shown to an inspector, in their words"},
        {"--report", "FILE",
         "with --inspection: check --json of that day, named from the cage file's folder"},
        {"--note", "TEXT", "with --paper, --inspection: what else there is to say"}};
}

}  // namespace hoopwright
