#include "core/edit/references.h"

#include <algorithm>

#include "core/edit/cage_edits.h"

namespace hoopwright {

bool contains(const std::vector<std::string>& all, std::string_view one) {
    return std::find(all.begin(), all.end(), one) != all.end();
}

bool mentions(const std::vector<std::string>& ids, std::string_view reference) {
    return contains(ids, layoutId(reference));
}

void eachReference(PinnedDimension& pinned, const std::function<void(std::string&)>& visit) {
    for (Place3* place : {&pinned.from, &pinned.to}) {
        if (auto* landing = std::get_if<Landing>(place)) {
            visit(landing->host);
            for (std::string& also : landing->also) visit(also);
        }
        if (auto* foot = std::get_if<OnPlate>(place)) visit(foot->plate);
    }
    visit(pinned.bar_a);
    visit(pinned.bar_b);
}

void eachReference(Member& member, const std::function<void(std::string&)>& visit) {
    for (MemberPoint& point : member.path) {
        if (auto* landing = std::get_if<Landing>(&point.place)) {
            visit(landing->host);
            for (std::string& also : landing->also) visit(also);
        }
        if (auto* foot = std::get_if<OnPlate>(&point.place)) visit(foot->plate);
    }
    for (std::string& passed : member.passes) visit(passed);
}

void eachReference(Job& job, const std::function<void(std::string&)>& visit) {
    for (Member& member : job.cage.members) eachReference(member, visit);
    for (Gusset& gusset : job.cage.gussets) {
        visit(gusset.member_a);
        visit(gusset.member_b);
    }
    for (PinnedDimension& pinned : job.cage.dimensions) eachReference(pinned, visit);
    for (Driver& driver : job.drivers) visit(driver.belts.bar);
    for (PersonsAnswer& answer : job.cage.answers) visit(answer.subject);
    for (BuiltReading& reading : job.cage.readings) visit(reading.of);
    for (Certificate& certificate : job.cage.certificates) visit(certificate.of);
    for (SparePiece& spare : job.cage.spares) visit(spare.of);
    for (ApartPieces& apart : job.cage.apart) std::ranges::for_each(apart.of, visit);
}

}  // namespace hoopwright
