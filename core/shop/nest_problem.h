// The cutting problem in whole numbers, so that "it fits" and "none can do with less" are exact. Used by
// nest().
#pragma once

#include <cstdint>
#include <utility>
#include <vector>

namespace hoopwright::nesting {

/// One bit for each list of pieces that must not come from one heat.
using ApartBits = std::uint64_t;

/// Lengths in hundred-thousandths of a millimetre, each piece with one kerf added, each stick too where none
/// is lost behind its last piece: then a stick holds a set of pieces when their sum is no more than its room.
struct CutProblem {
    std::vector<std::int64_t> length;  ///< of each kind of piece, longest first
    std::vector<int> wanted;           ///< how many of each kind
    std::vector<ApartBits> apart;      ///< per kind; a stick holds one piece of each list at most
    struct Stick {
        std::int64_t room = 0;
        std::int64_t cost = 0;  ///< whole numbers; what is to be least
        int owned = kBought;    ///< how many there are, for nothing; else as many as are bought
        ApartBits barred = 0;   ///< lists no piece of which may be cut from it
    };
    static constexpr int kBought = -1;
    std::vector<Stick> sticks;  ///< those bought first, no two of them with the same room

    std::size_t kinds() const { return length.size(); }
    std::size_t boughtSticks() const;  ///< how many of `sticks`
    std::int64_t longestRoom() const;
    int pieces() const;
};

/// What of apart lists a stick has taken in. The problem outlives it.
class ApartKeeper {
public:
    explicit ApartKeeper(const CutProblem& problem, int stick)
        : problem_(&problem), taken_(problem.sticks[static_cast<std::size_t>(stick)].barred) {}
    /// How many of a kind it may still take, of `count`.
    int allowed(std::size_t kind, int count) const {
        const ApartBits lists = problem_->apart[kind];
        return lists == 0 ? count : (lists & taken_) != 0 ? 0 : count < 1 ? count : 1;
    }
    void take(std::size_t kind) { taken_ |= problem_->apart[kind]; }

private:
    const CutProblem* problem_;
    ApartBits taken_;
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
