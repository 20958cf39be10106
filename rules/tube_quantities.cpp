// What a bar is made of.
#include <cmath>

#include "rules/judged_section.h"
#include "rules/measuring.h"

namespace hoopwright {
namespace {

Measured shownAtMiddle(Measured value, const TableRun& run, const Subject& what, bool show) {
    return show ? std::move(value).with(shownPoint(middleOf(memberOf(run, what)))) : std::move(value);
}

/// Across the tube at its middle, from its outside inwards.
Measured shownAcross(Measured value, const TableRun& run, const Subject& what, double how_far_mm, bool show) {
    const ResolvedMember& m = memberOf(run, what);
    if (!show || m.line.empty()) return value;
    const Vec3 axis = m.line.tangent(m.line.length_mm() / 2);
    const Vec3 out = std::abs(axis.z()) < 0.9 ? Vec3(axis.cross(Vec3::UnitZ()).cross(axis).normalized())
                                              : Vec3(axis.unitOrthogonal());
    const Vec3 outside = middleOf(m) + m.radius_mm() * out;
    return std::move(value).with(shownLine(outside, outside - how_far_mm * out));
}

/// A figure of the nominal OD and the wall that is judged.
template <double (*figure)(const TubeSection&)>
Measured section(const TableRun& run, const Subject& what, const Arguments& with, bool show) {
    const JudgedSection judged = judgedSection(run, what.first, with.judged_wall);
    if (!judged.section) return Measured::unknown(judged.missing);
    return shownAtMiddle(Measured::number(figure(*judged.section)), run, what, show);
}
/// One that is a length across the tube.
template <double (*figure)(const TubeSection&)>
Measured across(const TableRun& run, const Subject& what, const Arguments& with, bool show) {
    const JudgedSection judged = judgedSection(run, what.first, with.judged_wall);
    if (!judged.section) return Measured::unknown(judged.missing);
    const double value = figure(*judged.section);
    return shownAcross(Measured::number(value), run, what, value, show);
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

template <WallKind kind>
Measured wallOf(const TableRun& run, const Subject& what, const Arguments&, bool show) {
    const JudgedSection judged = judgedSection(run, what.first, kind);
    if (!judged.section) return Measured::unknown(judged.missing);
    const double value = judged.section->wall_mm;
    return shownAcross(Measured::number(value), run, what, value, show);
}

/// The stock list and the layout know round tube only.
Measured sectionShape(const TableRun& run, const Subject& what, const Arguments&, bool show) {
    if (!factsOf(run, what).stock) return noStock(run, what.first);
    return shownAtMiddle(Measured::word("round"), run, what, show);
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

Measured yield(const TableRun& run, const Subject& what, const Arguments& with, bool show) {
    // What a weld leaves of a strength no stock list states: the table must say it.
    if (with.welded)
        return stated(run, what, &AssignedFigures::welded_yield_mpa, nullptr,
                      "welded yield strength (in the table's materials)", show);
    return stated(run, what, &AssignedFigures::yield_mpa, &Material::yield_mpa, "yield strength", show);
}
Measured tensile(const TableRun& run, const Subject& what, const Arguments& with, bool show) {
    if (with.welded)
        return stated(run, what, &AssignedFigures::welded_tensile_mpa, nullptr,
                      "welded tensile strength (in the table's materials)", show);
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
    const JudgedSection judged = judgedSection(run, what.first, with.judged_wall);
    if (!judged.section) return Measured::unknown(judged.missing);
    const double own = modulus.low * judged.section->inertia_mm4();
    return shownAtMiddle(Measured::number(own / (over.modulus_mpa * over.section.inertia_mm4())), run, what,
                         show);
}

Measured strengthOver(const TableRun& run, const Subject& what, const Arguments& with, bool show) {
    Measured strength = yield(run, what, with, false);
    if (strength.is != Measured::Is::number) return strength;
    const ReferenceTube& over = reference(run, with);
    const JudgedSection judged = judgedSection(run, what.first, with.judged_wall);
    if (!judged.section) return Measured::unknown(judged.missing);
    const double own = strength.low * judged.section->elastic_modulus_mm3();
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
    const auto judged_wall = only(Arg::judged_wall);
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
         across<od>,
         {}},
        {{"wall", Dimension::length, "member", "Wall; nominal if the rule does not say which it judges.",
          "stock"},
         m,
         num,
         0,
         judged_wall,
         across<wall>,
         {}},
        {{"least_wall", Dimension::length, "member",
          "The mill's least wall, as the stock list or the standard the tube is made to says.",
          "least wall in the stock list, or a size and form with a standard"},
         m,
         num,
         0,
         0,
         wallOf<WallKind::mill_least>,
         {}},
        {{"measured_wall", Dimension::length, "member",
          "The wall as gauged on the built bar, else on the rack.", "measured wall in the stock list"},
         m,
         num,
         0,
         0,
         wallOf<WallKind::measured>,
         {}},
        {{"area", Dimension::area, "member", "Area of metal of the section.", "stock"},
         m,
         num,
         0,
         judged_wall,
         section<area>,
         {}},
        {{"inertia", Dimension::inertia, "member", "Second moment of the section about a diameter.", "stock"},
         m,
         num,
         0,
         judged_wall,
         section<inertia>,
         {}},
        {{"elastic_modulus", Dimension::volume, "member", "Second moment over half the outside diameter.",
          "stock"},
         m,
         num,
         0,
         judged_wall,
         section<elasticModulus>,
         {}},
        {{"stiffness_over", Dimension::none, "member",
          "Modulus times second moment, over that of a reference tube.", "stock; modulus in the table"},
         m,
         num,
         reference_needed,
         judged_wall,
         stiffnessOver,
         {}},
        {{"strength_over", Dimension::none, "member",
          "Yield times elastic modulus, over that of a reference tube.", "stock; yield strength"},
         m,
         num,
         reference_needed,
         Arg::judged_wall | Arg::welded,
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
        {{"section_shape", Dimension::none, "member",
          "Shape of its section; always round: nothing else can be laid out.", "stock"},
         m,
         ValueKind::word,
         0,
         0,
         sectionShape,
         {}},
        {{"yield", Dimension::stress, "member",
          "Yield strength, as the table assigns or the stock list states.", "yield strength"},
         m,
         num,
         0,
         only(Arg::welded),
         yield,
         {}},
        {{"tensile", Dimension::stress, "member",
          "Tensile strength, as the table assigns or the stock list states.", "tensile strength"},
         m,
         num,
         0,
         only(Arg::welded),
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
