#include "core/edit/cage_edits.h"

#include <algorithm>
#include <cctype>
#include <cmath>

#include "core/edit/references.h"

namespace hoopwright {
namespace {

bool endsWith(std::string_view text, std::string_view tail) {
    return text.size() > tail.size() && text.substr(text.size() - tail.size()) == tail;
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
