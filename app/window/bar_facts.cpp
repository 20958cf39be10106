#include "app/window/bar_facts.h"

#include <algorithm>
#include <numbers>

#include "app/window/driver_facts.h"
#include "app/window/findings.h"
#include "app/window/form_help.h"
#include "core/driver/body.h"
#include "core/edit/cage_edits.h"
#include "core/geometry/distance.h"
#include "core/shop/joint_cope.h"

namespace hoopwright {
namespace {

const ResolvedMember* resolved(const Desk& desk, const std::string& id) {
    const CageGeometry& now = desk.document.geometry();
    const int at = now.member(id);
    return at < 0 || now.members[std::size_t(at)].line.empty() ? nullptr : &now.members[std::size_t(at)];
}

QString angle(double rad) {
    return text(showAngle(rad));
}

/// What of the skin: "shell", "windshield"; a scan as its file is called.
QString skinName(const CarSkin& skin, int surface, const std::string& part) {
    return skin.surfaces[std::size_t(surface)].kind == SurfaceKind::scan ? text(part) : spoken(part);
}

/// Every part but the helmet, which has a line of its own.
std::vector<BodySolid> bodyBelowTheHead(const Driver& driver) {
    std::vector<BodySolid> out;
    for (const BodyPart part : allBodyParts()) {
        if (part == BodyPart::helmet || part == BodyPart::eye || part == BodyPart::heel) continue;
        for (BodySolid& one : solidsOf(driver, part)) out.push_back(std::move(one));
    }
    return out;
}

}  // namespace

std::vector<FactLine> barLines(Desk& desk, const std::string& id) {
    const ResolvedMember* bar = resolved(desk, id);
    if (!bar) return {{QObject::tr("It cannot be drawn: see what falls short"), {}}};
    const CageGeometry& now = desk.document.geometry();
    const CutLength cut = cutLength(now, now.member(id));
    std::vector<FactLine> lines;
    lines.push_back({QObject::tr("Blank to saw"), desk.length(cut.blank_mm)});
    lines.push_back({QObject::tr("Long point to long point"), desk.length(cut.long_to_long_mm)});
    lines.push_back({QObject::tr("Short to short"), desk.length(cut.short_to_short_mm)});
    lines.push_back({QObject::tr("Centreline, developed"), desk.length(cut.centre_mm)});
    lines.push_back({QObject::tr("Mass"), massText(bar->mass_kg, desk.units())});
    return lines;
}

std::vector<FactLine> bendLines(Desk& desk, const std::string& id) {
    const ResolvedMember* bar = resolved(desk, id);
    if (!bar || bar->line.bendCount() == 0) return {{QObject::tr("None: a straight tube"), {}}};
    const BendTable table = bendTable(bar->line);
    std::vector<FactLine> lines;
    for (std::size_t i = 0; i < table.rows.size(); ++i) {
        const BendRow& row = table.rows[i];
        QString figure = angle(row.angle_rad) + QObject::tr(" at ") + desk.length(row.mark_start_mm);
        lines.push_back({QObject::tr("Bend %1").arg(i + 1), figure});
        if (i > 0) lines.push_back({QObject::tr("   turned since bend %1").arg(i), angle(row.rotation_rad)});
        lines.push_back({QObject::tr("   radius"), desk.length(row.radius_mm)});
    }
    lines.push_back({QObject::tr("Last straight"), desk.length(table.last_straight_mm)});
    return lines;
}

std::vector<FactLine> jointLines(Desk& desk, const std::string& id) {
    const CageGeometry& now = desk.document.geometry();
    const int self = now.member(id);
    std::vector<FactLine> lines;
    for (const Joint& joint : now.joints) {
        if (joint.branch != self && joint.host != self) continue;
        const int other = joint.branch == self ? joint.host : joint.branch;
        if (other < 0) continue;
        const ResolvedMember& bar = now.members[std::size_t(other)];
        QString figure = angle(joint.angle_rad);
        if (joint.offset_mm > 0.05)
            figure += QObject::tr(", %1 off centre").arg(desk.length(joint.offset_mm));
        if (joint.on_bend) figure += QObject::tr(", on a bend");
        const QString words = joint.branch == self ? QObject::tr("on %1").arg(text(bar.name))
                                                   : QObject::tr("carries %1").arg(text(bar.name));
        lines.push_back({words, figure, {}, [&desk, to = bar.id] {
                             desk.selection.set({Thing::Kind::member, to});
                         }});
    }
    if (self >= 0) {
        for (const ResolvedEnd& end : now.members[std::size_t(self)].ends) {
            if (end.on != ResolvedEnd::On::plate || end.plate < 0) continue;
            const ResolvedPlate& plate = now.plates[std::size_t(end.plate)];
            lines.push_back(
                {QObject::tr("stands on %1").arg(text(plate.name)), {}, {}, [&desk, to = plate.id] {
                     desk.selection.set({Thing::Kind::plate, to});
                 }});
        }
    }
    if (lines.empty()) lines.push_back({QObject::tr("None: both ends are free"), {}});
    return lines;
}

std::vector<FactLine> driverLines(Desk& desk, const std::string& id) {
    const ResolvedMember* bar = resolved(desk, id);
    std::vector<FactLine> lines;
    if (!bar) return lines;
    for (const Driver& driver : desk.document.job().drivers) {
        const double helmet = nearest(bar->line, driver.helmet.ellipsoid()).distance_mm - bar->radius_mm();
        lines.push_back({QObject::tr("Helmet, %1").arg(text(driver.name).toLower()), desk.length(helmet)});
        if (bar->padding_mm > 0)
            lines.push_back({QObject::tr("   to the padding"), desk.length(helmet - bar->padding_mm)});
        const std::vector<BodySolid> body = bodyBelowTheHead(driver);
        const auto gap = [&](const BodySolid& one) {
            return nearest(bar->line, one.solid).distance_mm - bar->radius_mm();
        };
        const auto least = std::min_element(
            body.begin(), body.end(),
            [&](const BodySolid& one, const BodySolid& other) { return gap(one) < gap(other); });
        lines.push_back({partTitle(least->part, least->side), desk.length(gap(*least))});
    }
    if (lines.empty()) lines.push_back({QObject::tr("No driver in this job"), {}});
    return lines;
}

std::vector<FactLine> skinLines(Desk& desk, const std::string& id) {
    const MeasuredGapsRef known = desk.skin_gaps.ask();
    const GapToSkin* to_skin = known ? known->of(id) : nullptr;
    if (!to_skin) {
        if (known && known->skin->surfaces.empty())
            return {{QObject::tr("The car has no skin: no shell, glass, floor or scan"), {}}};
        return {{desk.skin_gaps.current() ? QObject::tr("Cannot be measured") : QObject::tr("Being measured"),
                 {}}};
    }
    const TubeGap& gap = to_skin->gap;
    const int bar = known->cage.member(id);
    const Centreline& line = known->cage.members[std::size_t(bar)].line;
    const QString part = skinName(*known->skin, to_skin->surface, to_skin->part);
    const auto goTo = [&desk](const Vec3& at) { return [&desk, at] { emit desk.flyTo(at); }; };
    const auto showLeast = [&desk, from = gap.on_tube, to = gap.on_mesh, apart = gap.least_mm > 0] {
        std::vector<ShownShape> shapes{ShownPoint{from}};
        if (apart) shapes = {ShownLine{from, to, true}};
        emit desk.showMeasure(shapes, from);
    };
    std::vector<FactLine> lines;
    if (gap.least_mm > 0) {
        lines.push_back({QObject::tr("Least, to %1").arg(part), desk.length(gap.least_mm), {}, showLeast});
    } else {
        lines.push_back({QObject::tr("Touches, or goes through, %1").arg(part),
                         QObject::tr("by %1").arg(desk.length(-gap.least_mm)),
                         {},
                         showLeast});
    }
    lines.push_back({QObject::tr("Greatest"),
                     desk.length(gap.greatest_mm),
                     {},
                     goTo(line.point(gap.greatest_station_mm))});
    lines.push_back({QObject::tr("Mean along it"), desk.length(gap.mean_mm)});
    if (to_skin->surfaces.size() > 1) {
        for (const GapToSkin::OfSurface& of : to_skin->surfaces)
            lines.push_back({QObject::tr("   least to %1").arg(skinName(*known->skin, of.surface, of.part)),
                             desk.length(of.least_mm),
                             {},
                             goTo(line.point(of.station_mm))});
    }
    if (const std::string missing = known->skin->missing(); !missing.empty())
        lines.push_back({text(missing), {}});
    return lines;
}

std::vector<FactLine> ruleLines(Desk& desk, const std::string& id) {
    const CheckReport& report = desk.document.report();
    std::vector<FactLine> lines;
    for (const int index : worstFirst(report)) {
        const Finding& finding = report.findings[std::size_t(index)];
        const auto& lit = finding.evidence.members;
        const auto& feet = finding.evidence.plates;
        const bool about = finding.subject == id || std::find(lit.begin(), lit.end(), id) != lit.end() ||
                           std::find(feet.begin(), feet.end(), id) != feet.end();
        if (!about || finding.answer == Answer::does_not_apply) continue;
        const FindingWords words = wordsOf(finding, desk.units());
        lines.push_back({text(finding.title), words.by.isEmpty() ? words.value : words.by, finding.answer,
                         [&desk, key = findingKey(finding)] {
                             desk.selection.set({Thing::Kind::finding, key});
                         }});
    }
    if (lines.empty()) lines.push_back({QObject::tr("No rule in use is about it"), {}});
    return lines;
}

std::vector<FactLine> togetherLines(Desk& desk) {
    double length = 0, kg = 0;
    const std::vector<std::string> ids = desk.selection.ids(Thing::Kind::member);
    std::vector<const ResolvedMember*> bars;
    for (const std::string& id : ids) {
        if (const ResolvedMember* bar = resolved(desk, id)) {
            bars.push_back(bar);
            length += bar->line.length_mm();
            kg += bar->mass_kg;
        }
    }
    std::vector<FactLine> lines{{QObject::tr("Length"), desk.length(length)},
                                {QObject::tr("Mass"), massText(kg, desk.units())}};
    if (bars.size() == 2) {
        const double gap =
            nearest(bars[0]->line, bars[1]->line).distance_mm - bars[0]->radius_mm() - bars[1]->radius_mm();
        lines.push_back(
            {QObject::tr("Gap between them"), gap > 0 ? desk.length(gap) : QObject::tr("none, they touch")});
    }
    return lines;
}

std::vector<FactLine> jobLines(Desk& desk) {
    const CageTotals& totals = desk.document.geometry().totals;
    return {{QObject::tr("Bars"), QString::number(totals.members)},
            {QObject::tr("Joints"), QString::number(totals.joints)},
            {QObject::tr("Bends"), QString::number(totals.bends)},
            {QObject::tr("Tube"), longText(totals.tube_length_mm, desk.units())},
            {QObject::tr("Tube mass"), massText(totals.tube_mass_kg, desk.units())},
            {QObject::tr("Plate mass"), massText(totals.plate_mass_kg, desk.units())}};
}

}  // namespace hoopwright
