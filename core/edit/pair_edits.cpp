#include "core/edit/pair_edits.h"

#include <algorithm>

#include "core/edit/cage_edits.h"
#include "core/edit/references.h"
#include "core/model/sheet_shape.h"

namespace hoopwright {
namespace {

/// The same path on the other side of the car, sides of references turned round.
Place3 otherHand(Place3 place) {
    if (auto* fixed = std::get_if<FixedPoint>(&place)) fixed->at = mirrored(fixed->at);
    if (auto* at = std::get_if<AtCarPoint>(&place)) {
        at->point = otherSide(at->point);
        at->offset = mirrored(at->offset);
    }
    if (auto* landing = std::get_if<Landing>(&place)) {
        landing->host = otherSide(landing->host);
        landing->offset = mirrored(landing->offset);
        if (landing->by == Landing::By::across_y) landing->value = -landing->value;
        if (landing->side == Side::left) {
            landing->side = Side::right;
        } else if (landing->side == Side::right) {
            landing->side = Side::left;
        }
        for (std::string& also : landing->also) also = otherSide(also);
    }
    if (auto* foot = std::get_if<OnPlate>(&place)) foot->plate = otherSide(foot->plate);
    return place;
}

}  // namespace

void makePair(Job& job, std::string_view id) {
    Member* member = findMember(job.cage, id);
    if (!member || member->mirrored) return;
    member->mirrored = true;
    const std::string left = std::string(id) + ".left";
    for (Member& other : job.cage.members) {
        if (other.mirrored) continue;
        for (MemberPoint& point : other.path) {
            auto* landing = std::get_if<Landing>(&point.place);
            if (!landing) continue;
            if (landing->host == id) landing->host = left;
            std::replace(landing->also.begin(), landing->also.end(), std::string(id), left);
        }
    }
    for (Gusset& gusset : job.cage.gussets) {
        if (gusset.mirrored) continue;
        if (gusset.member_a == id) gusset.member_a = left;
        if (gusset.member_b == id) gusset.member_b = left;
    }
    for (PinnedDimension& pinned : job.cage.dimensions) {
        eachReference(pinned, [&](std::string& reference) {
            if (reference == id) reference = left;
        });
    }
    for (Driver& driver : job.drivers) {
        if (driver.belts.bar == id) driver.belts.bar = left;
    }
}

std::vector<std::string> breakPair(Job& job, std::string_view id) {
    std::vector<std::string> made;
    std::vector<std::string> broken;
    std::vector<std::string> waiting{std::string(id)};
    while (!waiting.empty()) {
        const std::string next = waiting.back();
        waiting.pop_back();
        const Member* found = findMember(job.cage, next);
        if (!found || !found->mirrored || contains(broken, next)) continue;
        broken.push_back(next);
        for (const std::string& on_it : dependents(job, {next}).members) waiting.push_back(on_it);
    }
    const auto rightOf = [&](const std::string& left) {
        return made.at(
            static_cast<std::size_t>(std::find(broken.begin(), broken.end(), left) - broken.begin()));
    };
    for (const std::string& left : broken) {
        Member* member = findMember(job.cage, left);
        member->mirrored = false;
        Member right = *member;
        right.id = freeId(job.cage, left + "_right");
        right.name = shownName(*member) + ", right";
        member->name = shownName(*member) + ", left";
        for (MemberPoint& point : right.path) point.place = otherHand(point.place);
        if (right.bent) right.bent = mirrored(*right.bent);
        made.push_back(right.id);
        job.cage.members.insert(job.cage.members.begin() + (member - job.cage.members.data()) + 1,
                                std::move(right));
    }
    // "x" and "x.left" are now x, "x.right" is the new member; within a right-hand copy "x" is the right one.
    for (Member& member : job.cage.members) {
        const bool right_hand = contains(made, member.id);
        const auto turn = [&](std::string& reference) {
            const std::string base = layoutId(reference);
            if (contains(broken, base)) {
                const bool right = reference == base ? right_hand : sideOf(reference) == Side::right;
                reference = right ? rightOf(base) : base;
            } else if (contains(broken, member.id) || right_hand) {
                // A pair that stays a pair must be named with its side from a member that is one no longer.
                const Member* pair = job.cage.member(base);
                const Plate* plate = job.cage.plate(base);
                const bool is_pair = (pair && pair->mirrored) || (plate && plate->mirrored);
                if (is_pair && reference == base) reference += right_hand ? ".right" : ".left";
            }
        };
        eachReference(member, turn);
    }
    std::vector<Gusset> right_gussets;
    // A pair that stays one is named with its side by a gusset that is one no longer.
    const auto oneOf = [&](const std::string& reference, bool right_hand) {
        const std::string base = layoutId(reference);
        const bool right = reference == base ? right_hand : sideOf(reference) == Side::right;
        if (contains(broken, base)) return right ? rightOf(base) : base;
        const Member* pair = job.cage.member(base);
        return pair && pair->mirrored ? base + (right ? ".right" : ".left") : reference;
    };
    for (Gusset& gusset : job.cage.gussets) {
        if (!mentions(broken, gusset.member_a) && !mentions(broken, gusset.member_b)) continue;
        if (gusset.mirrored) {
            Gusset right = gusset;
            right.id = freeId(job.cage, gusset.id + "_right");
            right.mirrored = gusset.mirrored = false;
            right.member_a = oneOf(gusset.member_a, true);
            right.member_b = oneOf(gusset.member_b, true);
            right_gussets.push_back(right);
        }
        gusset.member_a = oneOf(gusset.member_a, false);
        gusset.member_b = oneOf(gusset.member_b, false);
    }
    job.cage.gussets.insert(job.cage.gussets.end(), right_gussets.begin(), right_gussets.end());
    const auto turnIfBroken = [&](std::string& reference) {
        if (mentions(broken, reference)) reference = oneOf(reference, false);
    };
    for (PinnedDimension& pinned : job.cage.dimensions) eachReference(pinned, turnIfBroken);
    for (Driver& driver : job.drivers) turnIfBroken(driver.belts.bar);
    for (PersonsAnswer& answer : job.cage.answers) turnIfBroken(answer.subject);
    for (BuiltReading& reading : job.cage.readings) turnIfBroken(reading.of);
    for (Certificate& certificate : job.cage.certificates) turnIfBroken(certificate.of);
    for (SparePiece& spare : job.cage.spares) turnIfBroken(spare.of);
    for (ApartPieces& apart : job.cage.apart) std::ranges::for_each(apart.of, turnIfBroken);
    return made;
}

void makePlatePair(Job& job, std::string_view id) {
    Plate* plate = findPlate(job.cage, id);
    if (!plate || plate->mirrored) return;
    plate->mirrored = true;
    for (Member& member : job.cage.members) {
        if (member.mirrored) continue;
        for (MemberPoint& point : member.path) {
            if (auto* foot = std::get_if<OnPlate>(&point.place); foot && foot->plate == id)
                foot->plate += ".left";
        }
    }
    for (PinnedDimension& pinned : job.cage.dimensions) {
        for (Place3* place : {&pinned.from, &pinned.to}) {
            if (auto* foot = std::get_if<OnPlate>(place); foot && foot->plate == id) foot->plate += ".left";
        }
    }
}

std::string breakPlatePair(Job& job, std::string_view id) {
    Plate* plate = findPlate(job.cage, id);
    if (!plate || !plate->mirrored) return {};
    plate->mirrored = false;
    Plate right = *plate;
    right.id = freeId(job.cage, std::string(id) + "_right");
    right.name = shownName(*plate) + ", right";
    plate->name = shownName(*plate) + ", left";
    right.at = otherHand(right.at);
    right.normal = mirrored(right.normal);
    right.along = mirrored(right.along);
    for (Vec2& corner : right.outline) corner.y() = -corner.y();
    std::reverse(right.outline.begin(), right.outline.end());
    for (Flap& flap : right.flaps) flap.edge = edgeOnSide(flap.edge, Side::right);
    const std::string made = right.id;
    job.cage.plates.insert(job.cage.plates.begin() + (plate - job.cage.plates.data()) + 1, std::move(right));
    eachReference(job, [&](std::string& reference) {
        if (layoutId(reference) != id) return;
        reference = sideOf(reference) == Side::right ? made : std::string(id);
    });
    return made;
}

}  // namespace hoopwright
