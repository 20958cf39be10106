#include "app/window/selection.h"

#include <algorithm>

#include "core/edit/cage_edits.h"

namespace hoopwright {
namespace {

bool sided(std::string_view resolved, bool mirrored) {
    return mirrored == (sideOf(resolved) != Side::centre);
}

bool isIn(const Job& job, const Thing& thing) {
    const auto sameId = [&](const auto& one) { return one.id == thing.id; };
    switch (thing.kind) {
        case Thing::Kind::member: {
            const Member* member = job.cage.member(layoutId(thing.id));
            return member && sided(thing.id, member->mirrored);
        }
        case Thing::Kind::plate: {
            const Plate* plate = job.cage.plate(layoutId(thing.id));
            return plate && sided(thing.id, plate->mirrored);
        }
        case Thing::Kind::gusset:
            return std::any_of(job.cage.gussets.begin(), job.cage.gussets.end(), sameId);
        case Thing::Kind::driver:
            return std::any_of(job.drivers.begin(), job.drivers.end(), sameId);
        case Thing::Kind::car_point:
            return job.car.point(thing.id) != nullptr;
        case Thing::Kind::car_line:
            return job.car.line(thing.id) != nullptr;
        case Thing::Kind::car_scan:
            return std::any_of(job.car.scans.begin(), job.car.scans.end(),
                               [&](const CarScan& scan) { return scan.file == thing.id; });
        case Thing::Kind::dimension:
            return std::any_of(job.cage.dimensions.begin(), job.cage.dimensions.end(), sameId);
        case Thing::Kind::car_facts:
        case Thing::Kind::finding:
        case Thing::Kind::node:
            return true;
    }
    return false;
}

}  // namespace

bool Selection::has(const Thing& thing) const {
    return std::find(chosen_.begin(), chosen_.end(), thing) != chosen_.end();
}

std::vector<std::string> Selection::ids(Thing::Kind kind) const {
    std::vector<std::string> found;
    for (const Thing& thing : chosen_) {
        if (thing.kind == kind) found.push_back(thing.id);
    }
    return found;
}

std::vector<std::string> Selection::layoutIds(Thing::Kind kind) const {
    std::vector<std::string> found;
    for (const std::string& id : ids(kind)) {
        const std::string layout = layoutId(id);
        if (std::find(found.begin(), found.end(), layout) == found.end()) found.push_back(layout);
    }
    return found;
}

void Selection::set(std::vector<Thing> subjects) {
    if (subjects == chosen_) return;
    chosen_ = std::move(subjects);
    emit changed();
}

void Selection::toggle(const Thing& thing) {
    std::vector<Thing> next = chosen_;
    if (std::erase(next, thing) == 0) next.push_back(thing);
    set(std::move(next));
}

void Selection::keepOnly(const Job& job) {
    std::vector<Thing> next;
    for (Thing thing : chosen_) {
        if (!isIn(job, thing) && thing.kind == Thing::Kind::member) {
            // A bar that became a pair (or stopped being one) stays chosen.
            if (const Member* member = job.cage.member(layoutId(thing.id))) {
                thing.id = resolvedIds(member->id, member->mirrored).front();
            }
        }
        if (isIn(job, thing) && std::find(next.begin(), next.end(), thing) == next.end())
            next.push_back(thing);
    }
    set(std::move(next));
}

}  // namespace hoopwright
