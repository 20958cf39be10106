// Names of bars and plates as a layout says them: alone, with a side, or meaning "this side's". Used by
// resolve().
#pragma once

#include <array>
#include <string>
#include <string_view>
#include <unordered_map>
#include <vector>

#include "core/model/role.h"

namespace hoopwright::resolving {

/// "x.left" -> {"x", left}; a name without a side -> {name, centre}.
struct SplitName {
    std::string_view base;
    Side side = Side::centre;
};
SplitName splitName(std::string_view name);
/// left <-> right.
Side otherSide(Side side);
/// "x.left" for ("x", left).
std::string sidedId(std::string_view id, Side side);

/// What a name stands for.
struct Found {
    enum class Miss {
        none,
        unknown,      ///< no such id
        which_side,   ///< a mirrored one, asked for from the middle of the car without a side
        not_mirrored  ///< a side of something that has none
    };
    int index = -1;
    Miss miss = Miss::none;
    bool single = false;  ///< found, and not one of a pair
};

/// The single things and the sides of pairs, by name. Ids are held by view: the layout must outlive this.
class SidedNames {
public:
    /// False if the id is taken.
    bool add(std::string_view id, bool is_mirrored, int first_index);
    /// @param asking  side of the bar that asks: a name without a side means that side's; a name with a side
    /// is
    ///                turned into its other side when the right-hand copy asks
    /// @param wanted  for a single bar that asks: which side to take when the name does not say
    Found find(std::string_view name, Side asking, Side wanted = Side::centre) const;
    std::vector<std::string> ids() const;

private:
    struct Entry {
        bool is_mirrored = false;
        int first_index = -1;  ///< of a pair: the left one; the right one follows it
    };
    std::unordered_map<std::string_view, Entry> entries_;
};

}  // namespace hoopwright::resolving
