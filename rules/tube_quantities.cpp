// What a bar is made of.
#include "rules/measuring.h"

namespace hoopwright {
namespace {

Vec3 middle(const ResolvedMember& m) {
    return m.line.empty() ? Vec3(Vec3::Zero()) : m.line.point(m.line.length_mm() / 2);
}

Measured shownAtMiddle(Measured value, const TableRun& run, const Subject& what, bool show) {
    return show ? std::move(value).with(shownPoint(middle(memberOf(run, what)))) : std::move(value);
}

/// A figure of the nominal section.
template <double (*figure)(const TubeSection&)>
Measured section(const TableRun& run, const Subject& what, const Arguments&, bool show) {
    const MemberFacts& f = factsOf(run, what);
    if (!f.stock) return noStock(run, what.first);
    return shownAtMiddle(Measured::number(figure(f.stock->section)), run, what, show);
}
double od(const TubeSection& s) {
    return s.od_mm;
}
double wall(const TubeSection& s) {
    return s.wall_mm;
}
double area(const TubeSection& s) {
    return s.area_mm2();
}
double inertia(const TubeSection& s) {
    return s.inertia_mm4();
}
double elasticModulus(const TubeSection& s) {
    return s.elastic_modulus_mm3();
}

Measured leastWall(const TableRun& run, const Subject& what, const Arguments&, bool show) {
    const MemberFacts& f = factsOf(run, what);
    if (!f.stock) return noStock(run, what.first);
    if (!f.stock->least_wall_mm)
        return Measured::unknown("the stock list states no least wall for '" + f.stock->id + "'");
    return shownAtMiddle(Measured::number(*f.stock->least_wall_mm), run, what, show);
}

Measured measuredWall(const TableRun& run, const Subject& what, const Arguments&, bool show) {
    const MemberFacts& f = factsOf(run, what);
    if (!f.stock) return noStock(run, what.first);
    if (!f.stock->measured_wall_mm)
        return Measured::unknown("no measured wall is noted for '" + f.stock->id + "'");
    return shownAtMiddle(Measured::number(*f.stock->measured_wall_mm), run, what, show);
}

Measured family(const TableRun& run, const Subject& what, const Arguments&, bool show) {
    const MemberFacts& f = factsOf(run, what);
    return f.material ? shownAtMiddle(Measured::word(f.material->family), run, what, show)
                      : noStock(run, what.first);
}

Measured material(const TableRun& run, const Subject& what, const Arguments&, bool show) {
    const MemberFacts& f = factsOf(run, what);
    return f.material ? shownAtMiddle(Measured::word(f.material->id), run, what, show)
                      : noStock(run, what.first);
}

Measured form(const TableRun& run, const Subject& what, const Arguments&, bool show) {
    const MemberFacts& f = factsOf(run, what);
    if (!f.stock) return noStock(run, what.first);
    return shownAtMiddle(Measured::word(std::string(formWord(f.stock->form))), run, what, show);
}

/// A figure the table assigns, or else the stock list states.
Measured stated(const TableRun& run, const Subject& what, std::optional<double> AssignedFigures::*assigned,
                std::optional<double> Material::*own, std::string_view called, bool show) {
    const MemberFacts& f = factsOf(run, what);
    if (!f.material) return noStock(run, what.first);
    const AssignedFigures* figures = assigned ? run.assigned(what.first) : nullptr;
    std::optional<double> value = figures ? figures->*assigned : std::nullopt;
    if (!value && own) value = f.material->*own;
    if (!value)
        return Measured::unknown("no " + std::string(called) + " is stated for material '" + f.material->id +
                                 "'");
    return shownAtMiddle(Measured::number(*value), run, what, show);
}

Measured yield(const TableRun& run, const Subject& what, const Arguments&, bool show) {
    return stated(run, what, &AssignedFigures::yield_mpa, &Material::yield_mpa, "yield strength", show);
}
Measured tensile(const TableRun& run, const Subject& what, const Arguments&, bool show) {
    return stated(run, what, &AssignedFigures::tensile_mpa, &Material::tensile_mpa, "tensile strength", show);
}
Measured carbon(const TableRun& run, const Subject& what, const Arguments&, bool show) {
    return stated(run, what, nullptr, &Material::carbon_percent, "carbon content", show);
}
Measured elongation(const TableRun& run, const Subject& what, const Arguments&, bool show) {
    return stated(run, what, nullptr, &Material::elongation_percent, "elongation", show);
}

const ReferenceTube& reference(const TableRun& run, const Arguments& with) {
    return run.table().reference_tubes[static_cast<std::size_t>(with.reference_tube)];
}

Measured stiffnessOver(const TableRun& run, const Subject& what, const Arguments& with, bool show) {
    Measured modulus = stated(run, what, &AssignedFigures::modulus_mpa, nullptr,
                              "modulus (in the table's materials)", false);
    if (modulus.is != Measured::Is::number) return modulus;
    const ReferenceTube& over = reference(run, with);
    const double own = modulus.low * factsOf(run, what).stock->section.inertia_mm4();
    return shownAtMiddle(Measured::number(own / (over.modulus_mpa * over.section.inertia_mm4())), run, what,
                         show);
}

Measured strengthOver(const TableRun& run, const Subject& what, const Arguments& with, bool show) {
    Measured strength = yield(run, what, with, false);
    if (strength.is != Measured::Is::number) return strength;
    const ReferenceTube& over = reference(run, with);
    const double own = strength.low * factsOf(run, what).stock->section.elastic_modulus_mm3();
    return shownAtMiddle(Measured::number(own / (over.yield_mpa * over.section.elastic_modulus_mm3())), run,
                         what, show);
}

/// Held against a tube table, never alone; this shows where.
Measured tube(const TableRun& run, const Subject& what, const Arguments&, bool show) {
    return shownAtMiddle(Measured::word(factsOf(run, what).stock ? factsOf(run, what).stock->id : ""), run,
                         what, show);
}

}  // namespace

std::vector<Quantity> tubeQuantities() {
    constexpr auto m = SubjectKind::member;
    constexpr auto num = ValueKind::number;
    const auto reference_needed = only(Arg::reference_tube);
    return {
        {{"tube", Dimension::none, "member", "The bar's tube, held against a tube table.", "stock"},
         m,
         ValueKind::tube,
         0,
         0,
         tube,
         {}},
        {{"od", Dimension::length, "member", "Nominal outside diameter.", "stock"},
         m,
         num,
         0,
         0,
         section<od>,
         {}},
        {{"wall", Dimension::length, "member", "Nominal wall.", "stock"}, m, num, 0, 0, section<wall>, {}},
        {{"least_wall", Dimension::length, "member", "The mill's least wall.",
          "least wall in the stock list"},
         m,
         num,
         0,
         0,
         leastWall,
         {}},
        {{"measured_wall", Dimension::length, "member", "The wall gauged on the rack.",
          "measured wall in the stock list"},
         m,
         num,
         0,
         0,
         measuredWall,
         {}},
        {{"area", Dimension::area, "member", "Area of metal of the nominal section.", "stock"},
         m,
         num,
         0,
         0,
         section<area>,
         {}},
        {{"inertia", Dimension::inertia, "member", "Second moment of the nominal section about a diameter.",
          "stock"},
         m,
         num,
         0,
         0,
         section<inertia>,
         {}},
        {{"elastic_modulus", Dimension::volume, "member", "Second moment over half the outside diameter.",
          "stock"},
         m,
         num,
         0,
         0,
         section<elasticModulus>,
         {}},
        {{"stiffness_over", Dimension::none, "member",
          "Modulus times second moment, over that of a reference tube.", "stock; modulus in the table"},
         m,
         num,
         reference_needed,
         0,
         stiffnessOver,
         {}},
        {{"strength_over", Dimension::none, "member",
          "Yield times elastic modulus, over that of a reference tube.", "stock; yield strength"},
         m,
         num,
         reference_needed,
         0,
         strengthOver,
         {}},
        {{"family", Dimension::none, "member", "Family of its material.", "material in the stock list"},
         m,
         ValueKind::word,
         0,
         0,
         family,
         {}},
        {{"form", Dimension::none, "member", "How the tube was made.", "stock"},
         m,
         ValueKind::word,
         0,
         0,
         form,
         {}},
        {{"material", Dimension::none, "member", "Its material in the stock list.",
          "material in the stock list"},
         m,
         ValueKind::word,
         0,
         0,
         material,
         {}},
        {{"yield", Dimension::stress, "member",
          "Yield strength, as the table assigns or the stock list states.", "yield strength"},
         m,
         num,
         0,
         0,
         yield,
         {}},
        {{"tensile", Dimension::stress, "member",
          "Tensile strength, as the table assigns or the stock list states.", "tensile strength"},
         m,
         num,
         0,
         0,
         tensile,
         {}},
        {{"carbon", Dimension::none, "member", "Carbon content in percent.", "carbon in the stock list"},
         m,
         num,
         0,
         0,
         carbon,
         {}},
        {{"elongation", Dimension::none, "member", "Elongation at break in percent.",
          "elongation in the stock list"},
         m,
         num,
         0,
         0,
         elongation,
         {}},
    };
}

}  // namespace hoopwright
