// Plates, gussets and padding: the least size that does.
#include <algorithm>
#include <cmath>
#include <functional>

#include "core/edit/cage_edits.h"
#include "rules/mend_trial.h"

namespace hoopwright {
namespace {

/// One size of something, and how it is set.
struct Size {
    std::string name;  ///< "length"
    double now = 0;
    double step = 1;  ///< sizes are whole numbers of these
    double most = 0;
    std::function<void(CageLayout&, double)> set;
    Dimension dimension = Dimension::length;
};

/// The first size up or down from now, step by step, that does. Few steps, so none is passed over.
std::optional<std::pair<Mend, double>> leastSize(MendTrial& trial, const RuleKey& asked, const Size& size) {
    const double first = std::floor(size.now / size.step);
    const int steps = static_cast<int>(std::ceil((size.most - size.now) / size.step));
    for (int i = 1; i <= steps; ++i) {
        for (const double value :
             {(first + i) * size.step, (std::ceil(size.now / size.step) - i) * size.step}) {
            if (value <= 0 || std::abs(value - size.now) < 1e-9) continue;
            CageLayout cage = trial.job().cage;
            size.set(cage, value);
            if (std::optional<Mend> mend = trial.offer(cage, asked))
                return std::pair{*std::move(mend), value};
        }
    }
    return std::nullopt;
}

std::string shown(const Size& size, double value, LengthUnit unit) {
    if (size.dimension == Dimension::length) return showLength(value, {unit});
    return std::to_string(static_cast<int>(std::lround(value)));
}

/// The change of one size, put in words; the lightest of all in front.
void addSizes(MendTrial& trial, const Finding& finding, const std::string& part, Mend::Kind kind,
              const std::vector<Size>& sizes, Mends& out) {
    std::vector<Mend> found;
    const LengthUnit unit = trial.job().cage.unit;
    for (const Size& size : sizes) {
        auto least = leastSize(trial, keyOf(finding), size);
        if (!least) continue;
        Mend mend = std::move(least->first);
        mend.kind = kind;
        mend.parts = {part};
        mend.says = partName(mend.cage, part) + ": " + size.name + " " + shown(size, least->second, unit) +
                    " in place of " + shown(size, size.now, unit);
        mend.at = finding.evidence.look_at;
        found.push_back(std::move(mend));
    }
    std::ranges::stable_sort(found, {}, &Mend::adds_kg);
    for (Mend& mend : found) {
        mend.name = out.ways.empty() ? "Least size" : "Another size";
        out.ways.push_back(std::move(mend));
    }
}

double sideStep(const Job& job) {
    return job.cage.unit == LengthUnit::in ? 25.4 / 8 : 5;
}
double sheetStep(const Job& job) {
    return job.cage.unit == LengthUnit::in ? 25.4 / 32 : 0.5;
}

std::vector<Size> sizesOf(const MendTrial& trial, const Plate& plate) {
    constexpr double kGrows_mm = 300, kSheet_mm = 12, kBolts = 12, kBolt_mm = 16;
    std::vector<Size> out;
    const std::string id = plate.id;
    const double step = sideStep(trial.job());
    const auto add = [&](std::string name, double now, double by, double most,
                         std::function<void(Plate&, double)> set, Dimension dimension = Dimension::length) {
        out.push_back({std::move(name), now, by, most,
                       [id, set](CageLayout& cage, double value) { set(*findPlate(cage, id), value); },
                       dimension});
    };
    if (plate.outline.empty()) {
        add("length", plate.length_mm, step, plate.length_mm + kGrows_mm,
            [](Plate& p, double value) { p.length_mm = value; });
        add("width", plate.width_mm, step, plate.width_mm + kGrows_mm,
            [](Plate& p, double value) { p.width_mm = value; });
        add("length and width, each by as much; length", plate.length_mm, step, plate.length_mm + kGrows_mm,
            [](Plate& p, double value) {
                p.width_mm += value - p.length_mm;
                p.length_mm = value;
            });
    }
    add("thickness", plate.thickness_mm, sheetStep(trial.job()), std::max(kSheet_mm, plate.thickness_mm),
        [](Plate& p, double value) { p.thickness_mm = value; });
    if (plate.fixing != Fixing::bolted) return out;
    add(
        "bolts", plate.bolts.count, 1, kBolts,
        [](Plate& p, double value) { p.bolts.count = static_cast<int>(std::lround(value)); },
        Dimension::none);
    add("bolt diameter", plate.bolts.diameter_mm, trial.job().cage.unit == LengthUnit::in ? 25.4 / 16 : 2,
        kBolt_mm, [](Plate& p, double value) { p.bolts.diameter_mm = value; });
    if (!plate.backing) return out;
    add("backing plate's length", plate.backing->length_mm, step, plate.backing->length_mm + kGrows_mm,
        [](Plate& p, double value) { p.backing->length_mm = value; });
    add("backing plate's thickness", plate.backing->thickness_mm, sheetStep(trial.job()), kSheet_mm,
        [](Plate& p, double value) { p.backing->thickness_mm = value; });
    return out;
}

/// A bolted plate with nothing behind it: one of its own size there, if that does.
void addBacking(MendTrial& trial, const Finding& finding, const Plate& plate, Mends& out) {
    if (plate.fixing != Fixing::bolted || plate.backing || !plate.outline.empty()) return;
    CageLayout cage = trial.job().cage;
    findPlate(cage, plate.id)->backing = BackingPlate{plate.length_mm, plate.width_mm, plate.thickness_mm};
    std::optional<Mend> mend = trial.offer(cage, keyOf(finding));
    if (!mend) return;
    mend->kind = Mend::Kind::plate;
    mend->name = "Backing plate";
    mend->parts = {plate.id};
    mend->says = partName(cage, plate.id) + ": a backing plate of its own size";
    mend->at = finding.evidence.look_at;
    out.ways.push_back(*std::move(mend));
}

}  // namespace

void addPlateMends(MendTrial& trial, const Finding& finding, Mends& out) {
    for (const std::string& id : platesOf(trial, finding)) {
        const Plate* plate = trial.job().cage.plate(id);
        if (!plate) continue;
        addBacking(trial, finding, *plate, out);
        addSizes(trial, finding, id, Mend::Kind::plate, sizesOf(trial, *plate), out);
    }
    if (out.ways.empty()) out.none = "No size of the plate alone meets it.";
}

void addGussetMends(MendTrial& trial, const Finding& finding, Mends& out) {
    constexpr double kLegGrows_mm = 200, kSheet_mm = 10;
    const std::string id = layoutId(finding.subject);
    for (const Gusset& gusset : trial.job().cage.gussets) {
        if (gusset.id != id) continue;
        const auto set = [id](CageLayout& cage, const std::function<void(Gusset&)>& change) {
            for (Gusset& one : cage.gussets)
                if (one.id == id) change(one);
        };
        const std::vector<Size> sizes{
            {"legs", gusset.leg_mm, sideStep(trial.job()), gusset.leg_mm + kLegGrows_mm,
             [set](CageLayout& cage, double v) { set(cage, [v](Gusset& g) { g.leg_mm = v; }); },
             Dimension::length},
            {"thickness", gusset.thickness_mm, sheetStep(trial.job()), kSheet_mm,
             [set](CageLayout& cage, double v) { set(cage, [v](Gusset& g) { g.thickness_mm = v; }); },
             Dimension::length}};
        addSizes(trial, finding, id, Mend::Kind::gusset, sizes, out);
    }
    if (out.ways.empty()) out.none = "No size of a gusset alone meets it: add one by hand, or move the bars.";
}

void addPadding(MendTrial& trial, const Finding& finding, Mends& out) {
    constexpr double kStep_mm = 5, kMost_mm = 80;
    std::vector<std::string> bars;
    for (const std::string& id : finding.evidence.members)
        if (std::ranges::find(bars, layoutId(id)) == bars.end()) bars.push_back(layoutId(id));
    for (double thick = kStep_mm; thick <= kMost_mm && !bars.empty(); thick += kStep_mm) {
        CageLayout cage = trial.job().cage;
        std::string names;
        for (const std::string& id : bars) {
            Member* member = findMember(cage, id);
            if (!member || member->padding_mm >= thick) continue;
            member->padding_mm = thick;
            names += (names.empty() ? "" : "; ") + partName(cage, id);
        }
        if (names.empty()) continue;
        std::optional<Mend> mend = trial.offer(cage, keyOf(finding));
        if (!mend) continue;
        mend->kind = Mend::Kind::padding;
        mend->name = "Least padding";
        mend->parts = bars;
        mend->says = names + ": padding of " + showLength(thick, {trial.job().cage.unit});
        mend->at = finding.evidence.look_at;
        out.ways.push_back(*std::move(mend));
        return;
    }
    out.none = "No padding up to " + showLength(kMost_mm, {trial.job().cage.unit}) + " alone meets it.";
}

}  // namespace hoopwright
