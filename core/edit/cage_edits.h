// Changes to a cage that touch more than one value at once. Plain functions on a Job; no Qt.
#pragma once

#include <string>
#include <string_view>
#include <vector>

#include "core/model/cage_geometry.h"

namespace hoopwright {

/// "door_bar.left" -> "door_bar": the layout's id of a resolved one.
std::string layoutId(std::string_view resolved);
/// Side::left for "door_bar.left", Side::centre for "main_hoop".
Side sideOf(std::string_view resolved);
/// Ids a layout member or plate resolves to: {"x"} or {"x.left", "x.right"}.
std::vector<std::string> resolvedIds(std::string_view id, bool mirrored);

Member* findMember(CageLayout& cage, std::string_view id);
Plate* findPlate(CageLayout& cage, std::string_view id);
/// `word` made an id ([a-z][a-z0-9_]*), with _2, _3 ... behind it until no member, plate or gusset has it.
std::string freeId(const CageLayout& cage, std::string_view word);
/// The name people read for a layout member: its own, or its role's.
std::string shownName(const Member& member);
std::string shownName(const Plate& plate);

/// What would lose its footing if these members or plates went away. Layout ids; direct dependents only.
struct Dependents {
    std::vector<std::string> members;  ///< land on one, or stand on it
    std::vector<std::string> gussets;
    std::vector<std::string> drivers;  ///< their belts wrap over one (Driver::id)
    bool empty() const { return members.empty() && gussets.empty() && drivers.empty(); }
};
Dependents dependents(const Job& job, const std::vector<std::string>& ids);

/// What becomes of the ends that stood on something deleted.
enum class Orphans {
    remove_too,     ///< they go as well, and what stood on them
    keep_in_place,  ///< each such point becomes a fixed point where it is now
};
/// Takes members and plates (layout ids) out, and every mention of them. `now` is the geometry of `job`.
void deleteParts(Job& job, const CageGeometry& now, const std::vector<std::string>& ids, Orphans orphans);

/// A copy 60 mm on, right after the original in build order; its id. Empty if there is no such member.
std::string duplicateMember(Job& job, std::string_view id);
std::string duplicatePlate(Job& job, std::string_view id);

/// Gives the new id to a member or plate and to every mention of it. @pre `to` is free.
void renamePart(Job& job, std::string_view from, std::string_view to);

/// Moves a member `by` places later (or, negative, earlier) in build order, as far as there is room.
void moveInOrder(Job& job, std::string_view id, int by);

/// A point of the path in space, as resolved: an end, or the corner a bend rounds off. Side::right gives the
/// mirror's. What cannot be told from the geometry is taken from the point's own numbers, else from its
/// neighbours.
Vec3 pathPointAt(const Job& job, const CageGeometry& now, std::string_view resolved, std::size_t index);

}  // namespace hoopwright
