// The cutting problem in whole numbers, so that "it fits" and "none can do with less" are exact. Used by
// nest().
#pragma once

#include <cstdint>
#include <utility>
#include <vector>

namespace hoopwright::nesting {

/// Lengths in millionths of a millimetre, each piece with one kerf added, each stick too: then a stick holds
/// a set of pieces when their sum is no more than its room.
struct CutProblem {
    std::vector<std::int64_t> length;  ///< of each kind of piece, longest first, no two the same
    std::vector<int> wanted;           ///< how many of each kind
    struct Stick {
        std::int64_t room = 0;
        std::int64_t cost = 0;  ///< whole numbers; what is to be least
    };
    std::vector<Stick> sticks;  ///< no two with the same room

    std::size_t kinds() const { return length.size(); }
    std::int64_t longestRoom() const;
};

/// One way to fill one stick: (kind, how many), kinds ascending.
struct Filling {
    int stick = 0;
    std::vector<std::pair<int, int>> pieces;
    friend bool operator==(const Filling&, const Filling&) = default;
};

/// How many sticks of each length.
using StickCounts = std::vector<int>;

/// Work done, in steps of about a quarter of a microsecond, and how much is allowed.
struct Effort {
    std::int64_t left = 0;
    bool spent() const { return left <= 0; }
    void use(std::int64_t steps) { left -= steps; }
};

}  // namespace hoopwright::nesting
