#include "core/files/file_text.h"

namespace hoopwright {
namespace {

const Words<TubeForm> kForms = {{"seamless", TubeForm::seamless},
                                {"drawn_over_mandrel", TubeForm::drawn_over_mandrel},
                                {"welded", TubeForm::welded}};

/// A wall that leaves no bore, and a grade the list does not have, can only be told with more than one key in
/// hand.
void checkTubes(YamlMap& top, const StockList& stock) {
    std::vector<std::string> grades;
    for (const Material& material : stock.materials) grades.push_back(material.id);
    const std::set<std::string> known(grades.begin(), grades.end());
    const std::vector<YamlValue> items = top.find("tubes").list();
    for (std::size_t i = 0; i < items.size() && i < stock.tubes.size(); ++i) {
        const TubeSection& section = stock.tubes[i].section;
        if (section.od_mm > 0 && section.wall_mm > 0 && !section.valid()) {
            items[i].peek("wall").problem("the wall is half the outside diameter or more",
                                          "a tube needs a bore");
        }
        if (const YamlValue grade = items[i].peek("material"); grade.isScalar()) {
            if (!known.contains(grade.text())) grade.wordIndex(grades);
        }
    }
}

}  // namespace

template <class Io>
void fields(Io& io, Material& material) {
    io.text("id", material.id);
    io.text("name", material.name);
    io.text("family", material.family);
    io.measureIf("yield", material.yield_mpa, Dimension::stress, Range::positive);
    io.measureIf("tensile", material.tensile_mpa, Dimension::stress, Range::positive);
    io.measureIf("elongation", material.elongation_percent, Dimension::none, Range::not_negative);
    io.measureIf("carbon", material.carbon_percent, Dimension::none, Range::not_negative);
    io.measure("density", material.density_kg_per_m3, Dimension::none, Range::positive);
    io.textIf("source", material.source);
}

template <class Io>
void fields(Io& io, StickLength& stick) {
    io.measure("length", stick.length_mm, Dimension::length, Range::positive);
    io.measureIf("price", stick.price, Dimension::none, 0, Range::not_negative);
}

template <class Io>
void fields(Io& io, TubeStock& tube) {
    io.text("id", tube.id);
    io.measure("od", tube.section.od_mm, Dimension::length, Range::positive);
    io.measure("wall", tube.section.wall_mm, Dimension::length, Range::positive);
    io.text("material", tube.material);
    io.word("form", tube.form, kForms);
    io.measureIf("least_wall", tube.least_wall_mm, Dimension::length, Range::positive);
    io.measureIf("measured_wall", tube.measured_wall_mm, Dimension::length, Range::positive);
    io.listIf("sticks", tube.sticks, Layout::one_a_line);
    io.textIf("note", tube.note);
    io.textIf("standard", tube.standard);
}

template <class Io>
void fields(Io& io, StockList& stock) {
    io.text("name", stock.name);
    io.text("currency", stock.currency);
    io.measure("kerf", stock.kerf_mm, Dimension::length, Range::not_negative);
    io.listIf("materials", stock.materials, Layout::one_a_line, "id");
    io.listIf("tubes", stock.tubes, Layout::one_a_line, "id");
    if constexpr (std::is_same_v<Io, FieldReader>) checkTubes(io.map(), stock);
}

template <class Io>
void fields(Io& io, Die& die) {
    io.text("id", die.id);
    io.measure("od", die.od_mm, Dimension::length, Range::positive);
    io.measure("radius", die.radius_mm, Dimension::length, Range::positive);
    io.measureIf("least_straight", die.least_straight_mm, Dimension::length, 0, Range::not_negative);
    io.measureIf("least_end_straight", die.least_end_straight_mm, Dimension::length, 0, Range::not_negative);
    io.measureIf("greatest_angle", die.greatest_angle_rad, Dimension::angle, std::numbers::pi,
                 Range::positive);
    io.measureIf("mark_to_tangent", die.mark_to_tangent_mm, Dimension::length, Range::any);
    io.measureIf("follower", die.follower_mm, Dimension::length, Range::positive);
    io.measureIf("clamp", die.clamp_mm, Dimension::length, Range::positive);
}

template <class Io>
void fields(Io& io, DieList& list) {
    io.text("name", list.name);
    io.listIf("dies", list.dies, Layout::one_a_line, "id");
}

ReadResult<StockList> readStock(const std::filesystem::path& file) {
    return readFileAs<StockList>("stock", file);
}
ReadResult<StockList> readStockText(std::string text, const std::string& name) {
    return readAs<StockList>("stock", std::move(text), name);
}
std::string writeStock(const StockList& stock, const FileTextRef& was, LengthUnit unit) {
    return writeAs("stock", stock, was, unit);
}

ReadResult<DieList> readDies(const std::filesystem::path& file) {
    return readFileAs<DieList>("dies", file);
}
ReadResult<DieList> readDiesText(std::string text, const std::string& name) {
    return readAs<DieList>("dies", std::move(text), name);
}
std::string writeDies(const DieList& dies, const FileTextRef& was, LengthUnit unit) {
    return writeAs("dies", dies, was, unit);
}

}  // namespace hoopwright
