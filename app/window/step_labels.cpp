#include "app/window/step_labels.h"

#include <set>

#include "app/window/findings.h"
#include "app/window/form_help.h"
#include "core/edit/cage_edits.h"
#include "core/skin/car_skin.h"

namespace hoopwright {
namespace {

/// Bars a step is about while nothing is chosen: those that fall short or cannot be built, and while the cage
/// is laid those that carry the others.
std::set<std::string> worthNaming(const Document& document, Step step) {
    constexpr int kCarriesMany = 3;
    std::set<std::string> ids;
    const CageGeometry& cage = document.geometry();
    std::vector<int> carried(cage.members.size());
    for (const Joint& joint : cage.joints) {
        if (joint.host >= 0) ++carried[std::size_t(joint.host)];
    }
    for (std::size_t i = 0; i < cage.members.size(); ++i) {
        const std::string& id = cage.members[i].id;
        const bool wrong =
            worstOf(document.report(), id) == Answer::fails || cannotBeBuilt(cage, layoutId(id));
        if (wrong || (step == Step::cage && carried[i] >= kCarriesMany)) ids.insert(id);
    }
    return ids;
}

std::vector<ViewLabel> pointLabels(const Desk& desk) {
    std::vector<ViewLabel> labels;
    const Thing* last = desk.selection.last();
    for (const CarPoint& point : desk.document.job().car.points) {
        const bool chosen = last && last->kind == Thing::Kind::car_point && last->id == point.name;
        ViewLabel label;
        label.at = point.at;
        label.text = titled(point.name);
        label.rank = chosen ? 0 : 10;
        label.even_hidden = chosen;
        if (!chosen)
            label.one_of = point.name.substr(0, point.name.find('.'));  // of left and right the nearer
        labels.push_back(label);
    }
    return labels;
}

/// The pairs of the chosen scan, where they lie on the car.
std::vector<ViewLabel> pairLabels(const Desk& desk) {
    std::vector<ViewLabel> labels;
    const Thing* last = desk.selection.last();
    if (!last || last->kind != Thing::Kind::car_scan) return labels;
    const Job& job = desk.document.job();
    for (const CarScan& scan : job.car.scans) {
        if (scan.file != last->id) continue;
        const auto mesh = job.scan_meshes.find(scan.file);
        const PlacedScan placed =
            placedScan(scan, mesh == job.scan_meshes.end() ? nullptr : mesh->second.get());
        for (std::size_t i = 0; i < scan.pairs.size(); ++i) {
            ViewLabel label;
            label.at = scan.pairs[i].car;
            label.text = QObject::tr("Pair %1").arg(i + 1);
            if (placed.fit) label.sub_text = desk.length(placed.fit->residuals_mm[i]);
            label.rank = 0;
            label.even_hidden = true;
            labels.push_back(label);
        }
    }
    return labels;
}

/// Bars and plates that are chosen, or lit by the chosen finding.
std::vector<std::string> chosenIds(const Desk& desk) {
    const Thing* last = desk.selection.last();
    if (last && last->kind == Thing::Kind::finding) {
        const Finding* finding = findFinding(desk.document.report(), last->id);
        return finding ? finding->evidence.members : std::vector<std::string>();
    }
    std::vector<std::string> ids = desk.selection.ids(Thing::Kind::member);
    const auto plates = desk.selection.ids(Thing::Kind::plate);
    ids.insert(ids.end(), plates.begin(), plates.end());
    return ids;
}

}  // namespace

std::vector<ViewLabel> stepLabels(const Desk& desk, Step step, LengthUnit unit) {
    const CageGeometry& cage = desk.document.geometry();
    const Thing* last = desk.selection.last();
    const bool finding = last && last->kind == Thing::Kind::finding;
    if (step == Step::car && !finding) {
        std::vector<ViewLabel> labels = pairLabels(desk);
        const std::vector<ViewLabel> points = pointLabels(desk);
        labels.insert(labels.end(), points.begin(), points.end());
        return labels;
    }
    const std::vector<std::string> chosen = chosenIds(desk);
    if (!chosen.empty()) return barLabels(cage, unit, chosen);
    if (finding || step == Step::car || step == Step::driver || step == Step::order) return {};
    std::vector<ViewLabel> labels = barLabels(cage, unit);
    const std::set<std::string> worth = worthNaming(desk.document, step);
    std::erase_if(labels, [&](const ViewLabel& label) { return worth.count(label.thing) == 0; });
    return labels;
}

}  // namespace hoopwright
