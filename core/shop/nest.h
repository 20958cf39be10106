// Which piece is cut from which stick: exact.
#pragma once

#include <string>
#include <vector>

#include "core/base/expected.h"
#include "core/model/shop_book.h"
#include "core/model/stock.h"

namespace hoopwright {

struct Piece1d {
    std::string name;
    double length_mm = 0;
};
/// A stick that is there already.
struct OwnedStick {
    double length_mm = 0;
    std::string heat;  ///< may be empty: not known
};
/// What pieces are cut from, and how.
struct NestWish {
    std::vector<StickLength> sticks;  ///< to be bought, as many as are needed
    double kerf_mm = 3;
    KerfAt kerf_at = KerfAt::between_pieces;
    std::vector<OwnedStick> owned;  ///< cut before anything is bought; cost nothing
    /// Indices of pieces that must not come from one heat: each then gets a stick of its own, no two of them
    /// come from owned sticks of one heat, and none from one whose heat is not known. 64 lists at most.
    std::vector<std::vector<int>> apart;
    long effort = 2'000'000;
};
struct CutStick {
    int stick = -1;           ///< index into the stick lengths asked for; -1: it is owned
    std::vector<int> pieces;  ///< indices into the pieces asked for, in the order they are cut: longest first
    double left_mm = 0;       ///< what is left over
    int owned = -1;           ///< index into the owned sticks; -1: it is bought
};
struct NestPlan {
    /// What is least: the number of sticks bought (all of one length), else their price (all priced), else
    /// their length.
    enum class Least { sticks, price, length };
    std::vector<CutStick> sticks;  ///< owned ones first, then as asked for; of one kind the fullest first
    double bought_mm = 0;
    double price = 0;  ///< of what is bought; 0 if no stick has a price
    Least least = Least::sticks;
    /// In sticks, or hundredths of price or mm: what the plan takes, and what none can do with less than.
    int cost = 0, lower_bound = 0;
    bool proved = false;  ///< the plan is proved best: cost is the lower bound
    int different = 0;    ///< lengths of pieces, equal ones counted once
    /// More than the least possible, at most: 0.02 is 2 in a hundred. 0 once proved.
    double gap() const;
    int bought() const;  ///< sticks
};

/// Past this many different lengths the search is not begun: the plan stands, with its gap.
inline constexpr int kMostDifferent = 200;

/// Least of what NestPlan::least says. Exact branch and bound with column generation; gives up proving after
/// `effort` and then says so in `proved` and `gap()`. Owned sticks that save nothing still take in what they
/// can of the pieces, longest first, so that more is left of what is bought. The reason names a piece longer
/// than every stick, a length that is not positive, a price below zero, or says that what there is does not
/// hold them all.
Expected<NestPlan> nest(const std::vector<Piece1d>& pieces, const NestWish& wish);
/// All bought, kerf between pieces: sum + (n - 1) kerf <= stick.
Expected<NestPlan> nest(const std::vector<Piece1d>& pieces, const std::vector<StickLength>& sticks,
                        double kerf_mm, long effort = 2'000'000);

}  // namespace hoopwright
