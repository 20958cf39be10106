#include "app/window/selection.h"

#include <algorithm>

#include "app/window/cage_edits.h"

namespace hoopwright {
namespace {

bool sided(std::string_view resolved, bool mirrored) {
    return mirrored == (sideOf(resolved) != Side::centre);
}

bool isIn(const Job& job, const Subject& subject) {
    const auto sameId = [&](const auto& one) { return one.id == subject.id; };
    switch (subject.kind) {
        case Subject::Kind::member: {
            const Member* member = job.cage.member(layoutId(subject.id));
            return member && sided(subject.id, member->mirrored);
        }
        case Subject::Kind::plate: {
            const Plate* plate = job.cage.plate(layoutId(subject.id));
            return plate && sided(subject.id, plate->mirrored);
        }
        case Subject::Kind::gusset:
            return std::any_of(job.cage.gussets.begin(), job.cage.gussets.end(), sameId);
        case Subject::Kind::driver:
            return std::any_of(job.drivers.begin(), job.drivers.end(), sameId);
        case Subject::Kind::car_point:
            return job.car.point(subject.id) != nullptr;
        case Subject::Kind::car_line:
            return job.car.line(subject.id) != nullptr;
        case Subject::Kind::car_facts:
        case Subject::Kind::finding:
            return true;
    }
    return false;
}

}  // namespace

bool Selection::has(const Subject& subject) const {
    return std::find(chosen_.begin(), chosen_.end(), subject) != chosen_.end();
}

std::vector<std::string> Selection::ids(Subject::Kind kind) const {
    std::vector<std::string> found;
    for (const Subject& subject : chosen_) {
        if (subject.kind == kind) found.push_back(subject.id);
    }
    return found;
}

std::vector<std::string> Selection::layoutIds(Subject::Kind kind) const {
    std::vector<std::string> found;
    for (const std::string& id : ids(kind)) {
        const std::string layout = layoutId(id);
        if (std::find(found.begin(), found.end(), layout) == found.end()) found.push_back(layout);
    }
    return found;
}

void Selection::set(std::vector<Subject> subjects) {
    if (subjects == chosen_) return;
    chosen_ = std::move(subjects);
    emit changed();
}

void Selection::toggle(const Subject& subject) {
    std::vector<Subject> next = chosen_;
    if (std::erase(next, subject) == 0) next.push_back(subject);
    set(std::move(next));
}

void Selection::keepOnly(const Job& job) {
    std::vector<Subject> next;
    for (Subject subject : chosen_) {
        if (!isIn(job, subject) && subject.kind == Subject::Kind::member) {
            // A bar that became a pair (or stopped being one) stays chosen.
            if (const Member* member = job.cage.member(layoutId(subject.id))) {
                subject.id = resolvedIds(member->id, member->mirrored).front();
            }
        }
        if (isIn(job, subject) && std::find(next.begin(), next.end(), subject) == next.end())
            next.push_back(subject);
    }
    set(std::move(next));
}

}  // namespace hoopwright
