#include <cmath>
#include <numbers>

#include "core/files/bent_file.h"
#include "core/files/file_text.h"
#include "core/files/place_file.h"

namespace hoopwright {
namespace {

const Words<Fixing> kFixings = {{"welded", Fixing::welded}, {"bolted", Fixing::bolted}};
const Words<PinnedDimension::Kind> kDimensionKinds = {{"distance", PinnedDimension::Kind::distance},
                                                      {"gap", PinnedDimension::Kind::gap},
                                                      {"centres", PinnedDimension::Kind::centres},
                                                      {"angle", PinnedDimension::Kind::angle},
                                                      {"height", PinnedDimension::Kind::height}};
const Words<PinnedDimension::Over> kOvers = {{"ground", PinnedDimension::Over::ground},
                                             {"sill", PinnedDimension::Over::sill},
                                             {"floor", PinnedDimension::Over::floor}};

const Words<PlateEdge> kPlateEdges = {{"ahead", PlateEdge::ahead},
                                      {"behind", PlateEdge::behind},
                                      {"left", PlateEdge::left},
                                      {"right", PlateEdge::right}};
constexpr double kSteepestFlap_rad = 120 * std::numbers::pi / 180;

struct ReadNumber {
    double value = 0;
    Dimension dimension = Dimension::none;
};

/// Its unit says what it is a measure of.
ReadNumber readNumber(const YamlValue& value) {
    const Dimension dimension = dimensionOf(value.text());
    return {dimension == Dimension::none ? value.number() : value.measure(baseUnit(dimension)), dimension};
}

OutNode outNumberRead(const ReadNumber& read, LengthUnit unit) {
    return read.dimension == Dimension::none ? outNumber(read.value)
                                             : outMeasureWithUnit(read.value, read.dimension, unit);
}

/// A radius of the shop's for a tube the shop does not bend.
void checkBendRadius(YamlMap& map, const Member& member) {
    if (!member.bent) return;
    if (const YamlValue radius = map.find("bend_radius"))
        radius.problem("a tube bought bent has its own radius", "leave it out: bent says it");
    for (const YamlValue& point : map.find("path").list())
        if (const YamlValue radius = point.peek("bend_radius"))
            radius.problem("a tube bought bent has its own radius", "leave it out: bent says it");
}

/// Flaps a plate cannot have.
void checkFlaps(YamlMap& map, const Plate& plate) {
    const YamlValue list = map.find("flaps");
    if (!plate.flaps.empty() && !plate.outline.empty())
        list.problem("a plate with an outline of its own has no straight edges to fold",
                     "leave out flaps or outline");
    const std::vector<YamlValue> items = list.list();
    for (std::size_t i = 0; i < items.size() && i < plate.flaps.size(); ++i) {
        const double angle = std::abs(plate.flaps[i].angle_rad);
        if (angle == 0 || angle >= kSteepestFlap_rad)
            items[i].problem("a flap cannot be folded by that angle",
                             "write an angle between 0 and 120 deg either way");
    }
}

}  // namespace

template <class Io>
void fields(Io& io, Flap& flap) {
    io.word("edge", flap.edge, kPlateEdges);
    io.measure("length", flap.length_mm, Dimension::length, Range::positive);
    io.measure("angle", flap.angle_rad, Dimension::angle, Range::any);
}

template <class Io>
void fields(Io& io, Bolts& bolts) {
    io.whole("count", bolts.count, 0, 1000);
    io.measure("diameter", bolts.diameter_mm, Dimension::length, Range::positive);
    io.textIf("grade", bolts.grade);
    io.measureIf("pitch", bolts.pitch_mm, Dimension::length, Range::positive);
    io.measureIf("edge", bolts.edge_mm, Dimension::length, Range::positive);
}

template <class Io>
void fields(Io& io, BackingPlate& backing) {
    io.measure("length", backing.length_mm, Dimension::length, Range::positive);
    io.measure("width", backing.width_mm, Dimension::length, Range::positive);
    io.measure("thickness", backing.thickness_mm, Dimension::length, Range::positive);
}

template <class Io>
void fields(Io& io, Riser& riser) {
    io.measure("height", riser.height_mm, Dimension::length, Range::positive);
    io.measure("wall", riser.wall_mm, Dimension::length, Range::positive);
}

template <class Io>
void fields(Io& io, Plate& plate) {
    io.identifier("id", plate.id);
    io.textIf("name", plate.name);
    io.flagIf("mirrored", plate.mirrored);
    io.special("at", plate.at, readPlatePlace, outPlace);
    io.directionIf("normal", plate.normal, Vec3::UnitZ());
    io.directionIf("along", plate.along, Vec3::UnitX());
    io.measureIf("length", plate.length_mm, Dimension::length, 0, Range::not_negative);
    io.measureIf("width", plate.width_mm, Dimension::length, 0, Range::not_negative);
    io.pairsIf("outline", plate.outline);
    io.measure("thickness", plate.thickness_mm, Dimension::length, Range::positive);
    io.listIf("flaps", plate.flaps, Layout::one_a_line, "edge");
    io.textIf("material", plate.material);
    io.wordIf("fixing", plate.fixing, kFixings);
    io.partIf("bolts", plate.bolts);
    io.partIf("backing", plate.backing);
    io.partIf("riser", plate.riser);
    io.textIf("rail", plate.rail);
    io.textIf("note", plate.note);
    if constexpr (std::is_same_v<Io, FieldReader>) checkFlaps(io.map(), plate);
}

template <class Io>
void fields(Io& io, Member& member) {
    io.identifier("id", member.id);
    io.identifier("role", member.role);
    io.textIf("name", member.name);
    io.text("stock", member.stock);
    io.measureIf("bend_radius", member.bend_radius_mm, Dimension::length, Range::positive);
    io.specialIf("bent", member.bent, readBent, outBent);
    io.flagIf("mirrored", member.mirrored);
    io.flagIf("optional", member.optional_bar);
    io.measureIf("padding", member.padding_mm, Dimension::length, 0, Range::not_negative);
    io.textsIf("passes", member.passes);
    io.specials("path", member.path, Layout::block, readMemberPoint, outMemberPoint);
    io.textIf("note", member.note);
    if constexpr (std::is_same_v<Io, FieldReader>) checkBendRadius(io.map(), member);
}

template <class Io>
void fields(Io& io, Gusset& gusset) {
    io.identifier("id", gusset.id);
    io.flagIf("mirrored", gusset.mirrored);
    std::pair<std::string, std::string> members{gusset.member_a, gusset.member_b};
    io.special("members", members, readTwoNames, outTwoNames);
    gusset.member_a = members.first;
    gusset.member_b = members.second;
    io.measure("leg", gusset.leg_mm, Dimension::length, Range::positive);
    io.measure("thickness", gusset.thickness_mm, Dimension::length, Range::positive);
    io.flagIf("formed", gusset.formed);
    io.measureIf("hole", gusset.hole_mm, Dimension::length, Range::positive);
}

template <class Io>
void fields(Io& io, PinnedDimension& pinned) {
    using Kind = PinnedDimension::Kind;
    io.identifier("id", pinned.id);
    io.textIf("name", pinned.name);
    io.word("kind", pinned.kind, kDimensionKinds);
    if (pinned.kind == Kind::gap || pinned.kind == Kind::centres) {
        std::pair<std::string, std::string> bars{pinned.bar_a, pinned.bar_b};
        io.special("bars", bars, readTwoNames, outTwoNames);
        pinned.bar_a = bars.first;
        pinned.bar_b = bars.second;
        return;
    }
    io.special("from", pinned.from, readAnyPlace, outPlace);
    if (pinned.kind == Kind::height) return io.wordIf("over", pinned.over, kOvers);
    io.special("to", pinned.to, readAnyPlace, outPlace);
}

template <class Io>
void fields(Io& io, PersonsAnswer& answer) {
    io.text("table", answer.table);
    io.text("rule", answer.rule);
    io.textIf("subject", answer.subject);
    io.flag("good", answer.good);
    io.textIf("who", answer.who);
    io.dateIf("when", answer.when);
    io.textIf("note", answer.note);
    io.textIf("photo", answer.photo);
}

template <class Io>
void fields(Io& io, RuleTick& tick) {
    io.text("table", tick.table);
    io.text("rule", tick.rule);
    io.text("edition", tick.edition);
    io.textIf("who", tick.who);
    io.dateIf("when", tick.when);
}

template <class Io>
void fields(Io& io, FrozenRule& frozen) {
    io.text("rule", frozen.rule);
    io.text("says", frozen.says);
}

template <class Io>
void fields(Io& io, FrozenTable& frozen) {
    io.text("table", frozen.table);
    io.text("edition", frozen.edition);
    io.dateIf("when", frozen.when);
    io.listIf("rules", frozen.rules, Layout::one_a_line, "rule");
}

template <class Io>
void fields(Io& io, BuiltReading& reading) {
    io.text("of", reading.of);
    io.text("quantity", reading.quantity);
    io.textIf("spot", reading.spot);
    ReadNumber number{reading.value, reading.dimension};
    io.special("value", number, readNumber, outNumberRead);
    reading.value = number.value;
    reading.dimension = number.dimension;
    io.textIf("who", reading.who);
    io.dateIf("when", reading.when);
    io.textIf("note", reading.note);
}

template <class Io>
void fields(Io& io, Certificate& certificate) {
    io.text("of", certificate.of);
    io.textIf("heat", certificate.heat);
    io.textIf("number", certificate.number);
    io.dateIf("when", certificate.when);
}

template <class Io>
void fields(Io& io, DatedPaper& paper) {
    io.text("what", paper.what);
    io.textIf("number", paper.number);
    io.dateIf("issued", paper.issued);
    io.dateIf("due", paper.due);
    io.textIf("note", paper.note);
}

template <class Io>
void fields(Io& io, SparePiece& spare) {
    io.text("of", spare.of);
    io.whole("count", spare.count, 1, 100);
}

template <class Io>
void fields(Io& io, ApartPieces& apart) {
    io.textsIf("of", apart.of);
    io.textIf("note", apart.note);
    if constexpr (std::is_same_v<Io, FieldReader>) {
        if (apart.of.size() < 2)
            io.map().need("of").problem("one bar alone is of one heat", "name two bars or more");
    }
}

template <class Io>
void fields(Io& io, SavedView& view) {
    io.text("name", view.name);
    io.point("eye", view.eye);
    io.point("target", view.target);
    io.measureIf("orthographic_height", view.orthographic_height_mm, Dimension::length, 0,
                 Range::not_negative);
    io.flagIf("upright", view.upright);
    if constexpr (std::is_same_v<Io, FieldReader>) {
        if (view.eye == view.target)
            io.map().need("eye").problem("the view looks from a point at that same point",
                                         "move eye off target");
    }
}

template <class Io>
void fields(Io& io, Inspection& inspection) {
    io.dateIf("when", inspection.when);
    io.textIf("who", inspection.who);
    io.textIf("outcome", inspection.outcome);
    io.textIf("report", inspection.report);
    io.textIf("note", inspection.note);
}

template <class Io>
void fields(Io& io, CageLayout& cage) {
    io.text("name", cage.name);
    io.text("car", cage.car_file);
    io.textsIf("drivers", cage.driver_files);
    io.text("stock", cage.stock_file);
    io.text("dies", cage.dies_file);
    io.textIf("shop", cage.shop_file);
    io.textsIf("rules", cage.rule_files);
    io.measureIf("node_reach", cage.node_reach_mm, Dimension::length, CageLayout().node_reach_mm,
                 Range::not_negative);
    io.factsIf("entry", cage.entry);
    io.flagIf("body_stays", cage.body_stays);
    io.listIf("plates", cage.plates, Layout::one_a_line, "id");
    io.listIf("members", cage.members, Layout::block, "id");
    io.listIf("gussets", cage.gussets, Layout::one_a_line, "id");
    io.listIf("dimensions", cage.dimensions, Layout::one_a_line, "id");
    io.listIf("answers", cage.answers, Layout::one_a_line);
    io.listIf("ticks", cage.ticks, Layout::one_a_line);
    io.listIf("frozen", cage.frozen, Layout::block, "table");
    io.listIf("readings", cage.readings, Layout::one_a_line);
    io.listIf("certificates", cage.certificates, Layout::one_a_line);
    io.listIf("papers", cage.papers, Layout::one_a_line);
    io.listIf("spares", cage.spares, Layout::one_a_line, "of");
    io.listIf("apart", cage.apart, Layout::one_a_line);
    io.listIf("views", cage.views, Layout::one_a_line, "name");
    io.listIf("inspections", cage.inspections, Layout::one_a_line);
    io.textIf("notes", cage.notes);
}

ReadResult<CageLayout> readCage(const std::filesystem::path& file) {
    return readFileAs<CageLayout>("cage", file);
}
ReadResult<CageLayout> readCageText(std::string text, const std::string& name) {
    return readAs<CageLayout>("cage", std::move(text), name);
}
std::string writeCage(const CageLayout& cage, const FileTextRef& was) {
    return writeAs("cage", cage, was, cage.unit);
}

}  // namespace hoopwright
