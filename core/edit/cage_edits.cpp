#include "core/edit/cage_edits.h"

#include <algorithm>
#include <cctype>
#include <cmath>
#include <functional>

#include "core/model/sheet_shape.h"

namespace hoopwright {
namespace {

bool endsWith(std::string_view text, std::string_view tail) {
    return text.size() > tail.size() && text.substr(text.size() - tail.size()) == tail;
}

bool contains(const std::vector<std::string>& all, std::string_view one) {
    return std::find(all.begin(), all.end(), one) != all.end();
}

bool mentions(const std::vector<std::string>& ids, std::string_view reference) {
    return contains(ids, layoutId(reference));
}

/// Which of `ids` a path point rests on, if any.
bool restsOn(const Place3& place, const std::vector<std::string>& ids) {
    if (const auto* landing = std::get_if<Landing>(&place)) return mentions(ids, landing->host);
    if (const auto* foot = std::get_if<OnPlate>(&place)) return mentions(ids, foot->plate);
    return false;
}

void eraseMentions(std::vector<std::string>& list, const std::vector<std::string>& ids) {
    std::erase_if(list, [&](const std::string& reference) { return mentions(ids, reference); });
}

/// Calls `visit` with every text of a dimension that names a member or a plate.
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

/// Calls `visit` with every text of the job that names a member or a plate.
void eachReference(Job& job, const std::function<void(std::string&)>& visit) {
    for (Member& member : job.cage.members) {
        for (MemberPoint& point : member.path) {
            if (auto* landing = std::get_if<Landing>(&point.place)) {
                visit(landing->host);
                for (std::string& also : landing->also) visit(also);
            }
            if (auto* foot = std::get_if<OnPlate>(&point.place)) visit(foot->plate);
        }
        for (std::string& passed : member.passes) visit(passed);
    }
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

void moveOn(Place3& place, double by_mm) {
    if (auto* fixed = std::get_if<FixedPoint>(&place)) fixed->at.z() += by_mm;
    if (auto* at = std::get_if<AtCarPoint>(&place)) at->offset.z() += by_mm;
    if (auto* foot = std::get_if<OnPlate>(&place)) foot->offset.x() += by_mm;
    if (auto* landing = std::get_if<Landing>(&place)) {
        const bool by_length = landing->by == Landing::By::height || landing->by == Landing::By::distance;
        if (by_length) {
            landing->value += by_mm;
        } else {
            landing->offset.z() += by_mm;
        }
    }
}

constexpr double kCopyMovedBy_mm = 60;

}  // namespace

std::string layoutId(std::string_view resolved) {
    for (const std::string_view tail : {".left", ".right"}) {
        if (endsWith(resolved, tail)) resolved.remove_suffix(tail.size());
    }
    return std::string(resolved);
}

Side sideOf(std::string_view resolved) {
    if (endsWith(resolved, ".left")) return Side::left;
    return endsWith(resolved, ".right") ? Side::right : Side::centre;
}

std::vector<std::string> resolvedIds(std::string_view id, bool is_mirrored) {
    const std::string name(id);
    if (!is_mirrored) return {name};
    return {name + ".left", name + ".right"};
}

Member* findMember(CageLayout& cage, std::string_view id) {
    const auto found =
        std::find_if(cage.members.begin(), cage.members.end(), [&](const Member& m) { return m.id == id; });
    return found == cage.members.end() ? nullptr : &*found;
}

Plate* findPlate(CageLayout& cage, std::string_view id) {
    const auto found =
        std::find_if(cage.plates.begin(), cage.plates.end(), [&](const Plate& p) { return p.id == id; });
    return found == cage.plates.end() ? nullptr : &*found;
}

std::string freeId(const CageLayout& cage, std::string_view word) {
    std::string stem;
    for (const char c : word) {
        const auto u = static_cast<unsigned char>(c);
        if (std::isalnum(u) && u < 128) {
            stem += static_cast<char>(std::tolower(u));
        } else if (!stem.empty() && stem.back() != '_') {
            stem += '_';
        }
    }
    while (!stem.empty() && stem.back() == '_') stem.pop_back();
    if (stem.empty() || !std::isalpha(static_cast<unsigned char>(stem.front()))) stem = "bar" + stem;
    const auto taken = [&](const std::string& id) {
        const auto same = [&](const auto& part) { return part.id == id; };
        return std::any_of(cage.members.begin(), cage.members.end(), same) ||
               std::any_of(cage.plates.begin(), cage.plates.end(), same) ||
               std::any_of(cage.gussets.begin(), cage.gussets.end(), same);
    };
    if (!taken(stem)) return stem;
    int number = 2;
    while (taken(stem + "_" + std::to_string(number))) ++number;
    return stem + "_" + std::to_string(number);
}

std::string shownName(const Member& member) {
    return member.name.empty() ? roleOf(member.role).name : member.name;
}

std::string shownName(const Plate& plate) {
    if (!plate.name.empty()) return plate.name;
    std::string words = plate.id;
    std::replace(words.begin(), words.end(), '_', ' ');
    if (!words.empty()) words[0] = static_cast<char>(std::toupper(static_cast<unsigned char>(words[0])));
    return words;
}

Dependents dependents(const Job& job, const std::vector<std::string>& ids) {
    Dependents found;
    for (const Member& member : job.cage.members) {
        if (contains(ids, member.id)) continue;
        const auto rests = [&](const MemberPoint& point) { return restsOn(point.place, ids); };
        if (std::any_of(member.path.begin(), member.path.end(), rests)) found.members.push_back(member.id);
    }
    for (const Gusset& gusset : job.cage.gussets) {
        if (mentions(ids, gusset.member_a) || mentions(ids, gusset.member_b))
            found.gussets.push_back(gusset.id);
    }
    for (const Driver& driver : job.drivers) {
        if (!driver.belts.bar.empty() && mentions(ids, driver.belts.bar)) found.drivers.push_back(driver.id);
    }
    return found;
}

void deleteParts(Job& job, const CageGeometry& now, const std::vector<std::string>& ids, Orphans orphans) {
    std::vector<std::string> going = ids;
    if (orphans == Orphans::remove_too) {
        for (Dependents more = dependents(job, going); !more.members.empty(); more = dependents(job, going)) {
            going.insert(going.end(), more.members.begin(), more.members.end());
        }
    } else {
        const Job before = job;
        for (Member& member : job.cage.members) {
            const std::string resolved = resolvedIds(member.id, member.mirrored).front();
            for (std::size_t i = 0; i < member.path.size(); ++i) {
                if (restsOn(member.path[i].place, going)) {
                    member.path[i].place = FixedPoint{pathPointAt(before, now, resolved, i)};
                }
            }
        }
    }
    CageLayout& cage = job.cage;
    std::erase_if(cage.members, [&](const Member& m) { return contains(going, m.id); });
    std::erase_if(cage.plates, [&](const Plate& p) { return contains(going, p.id); });
    std::erase_if(cage.gussets, [&](const Gusset& g) {
        return contains(going, g.id) || mentions(going, g.member_a) || mentions(going, g.member_b);
    });
    for (Member& member : cage.members) {
        eraseMentions(member.passes, going);
        for (MemberPoint& point : member.path) {
            if (auto* landing = std::get_if<Landing>(&point.place)) eraseMentions(landing->also, going);
        }
    }
    for (Driver& driver : job.drivers) {
        if (mentions(going, driver.belts.bar)) driver.belts.bar.clear();
    }
    std::erase_if(cage.answers,
                  [&](const PersonsAnswer& a) { return !a.subject.empty() && mentions(going, a.subject); });
    std::erase_if(cage.readings, [&](const BuiltReading& r) { return mentions(going, r.of); });
    std::erase_if(cage.certificates, [&](const Certificate& c) { return mentions(going, c.of); });
    std::erase_if(cage.spares, [&](const SparePiece& s) { return mentions(going, s.of); });
    for (ApartPieces& apart : cage.apart) eraseMentions(apart.of, going);
    std::erase_if(cage.apart, [](const ApartPieces& a) { return a.of.size() < 2; });
}

std::string duplicateMember(Job& job, std::string_view id) {
    auto& members = job.cage.members;
    const auto original =
        std::find_if(members.begin(), members.end(), [&](const Member& m) { return m.id == id; });
    if (original == members.end()) return {};
    Member copy = *original;
    copy.id = freeId(job.cage, id);
    copy.name = shownName(*original) + ", copy";
    for (MemberPoint& point : copy.path) moveOn(point.place, kCopyMovedBy_mm);
    const std::string new_id = copy.id;
    members.insert(original + 1, std::move(copy));
    return new_id;
}

std::string duplicatePlate(Job& job, std::string_view id) {
    auto& plates = job.cage.plates;
    const auto original =
        std::find_if(plates.begin(), plates.end(), [&](const Plate& p) { return p.id == id; });
    if (original == plates.end()) return {};
    Plate copy = *original;
    copy.id = freeId(job.cage, id);
    if (!copy.name.empty()) copy.name += ", copy";
    if (auto* fixed = std::get_if<FixedPoint>(&copy.at)) fixed->at.x() += kCopyMovedBy_mm;
    if (auto* at = std::get_if<AtCarPoint>(&copy.at)) at->offset.x() += kCopyMovedBy_mm;
    const std::string new_id = copy.id;
    plates.insert(original + 1, std::move(copy));
    return new_id;
}

void renamePart(Job& job, std::string_view from, std::string_view to) {
    const auto rename = [&](auto& parts) {
        for (auto& part : parts) {
            if (part.id == from) part.id = std::string(to);
        }
    };
    rename(job.cage.members);
    rename(job.cage.plates);
    rename(job.cage.gussets);
    eachReference(job, [&](std::string& reference) {
        if (layoutId(reference) == from) reference = std::string(to) + reference.substr(from.size());
    });
}

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
        for (MemberPoint& point : member.path) {
            if (auto* landing = std::get_if<Landing>(&point.place)) {
                turn(landing->host);
                for (std::string& also : landing->also) turn(also);
            }
            if (auto* foot = std::get_if<OnPlate>(&point.place)) turn(foot->plate);
        }
        for (std::string& passed : member.passes) turn(passed);
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

void moveInOrder(Job& job, std::string_view id, int by) {
    auto& members = job.cage.members;
    const auto found =
        std::find_if(members.begin(), members.end(), [&](const Member& m) { return m.id == id; });
    if (found == members.end()) return;
    const auto from = found - members.begin();
    const auto last = static_cast<std::ptrdiff_t>(members.size()) - 1;
    const auto to = std::clamp<std::ptrdiff_t>(from + by, 0, last);
    if (to > from) std::rotate(members.begin() + from, members.begin() + from + 1, members.begin() + to + 1);
    if (to < from) std::rotate(members.begin() + to, members.begin() + from, members.begin() + from + 1);
}

Vec3 pathPointAt(const Job& job, const CageGeometry& now, std::string_view resolved, std::size_t index) {
    const Member* member = job.cage.member(layoutId(resolved));
    if (!member || index >= member->path.size()) return Vec3::Zero();
    const bool right = sideOf(resolved) == Side::right;
    const int at = now.member(resolved);
    if (at >= 0) {
        const ResolvedMember& made = now.members[static_cast<std::size_t>(at)];
        if (index == 0) return made.ends[0].at;
        if (index + 1 == member->path.size()) return made.ends[1].at;
        for (const Piece& piece : made.line.pieces()) {
            if (piece.kind == Piece::Kind::bend && piece.vertex == static_cast<int>(index)) {
                return piece.start + piece.tangent * piece.radius_mm * std::tan(piece.angle_rad / 2);
            }
        }
    }
    const Place3& place = member->path[index].place;
    std::optional<Vec3> own;
    if (const auto* fixed = std::get_if<FixedPoint>(&place)) own = fixed->at;
    if (const auto* car = std::get_if<AtCarPoint>(&place)) {
        if (const CarPoint* point = job.car.point(car->point)) own = Vec3(point->at + car->offset);
    }
    if (own) return right ? mirrored(*own) : *own;
    if (at < 0 || index == 0) return Vec3::Zero();
    const Centreline& line = now.members[static_cast<std::size_t>(at)].line;
    return line.point(line.length_mm() * double(index) / double(member->path.size() - 1));
}

}  // namespace hoopwright
