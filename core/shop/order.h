// What to buy and what to cut.
#pragma once

#include <string>
#include <vector>

#include "core/model/cage_geometry.h"
#include "core/shop/joint_cope.h"
#include "core/shop/nest.h"

namespace hoopwright {

struct OrderPiece {
    int member = -1;  ///< index into CageGeometry::members
    CutLength cut;
    int bends = 0;
    double mass_kg = 0;  ///< of the finished piece, copes taken off
};
struct OrderTube {
    std::string stock;  ///< TubeStock::id
    std::vector<OrderPiece> pieces;
    double length_mm = 0, mass_kg = 0;
    NestPlan nest;
    std::vector<StickLength> sticks;  ///< what the nest's indices mean
    std::string trouble;              ///< why there is no nest; empty if there is one
};
/// A tube bought bent: not cut from a stick. What to saw off it is in its ResolvedMember::bought.
struct OrderBought {
    int member = -1;  ///< index into CageGeometry::members
    std::string stock;
    double bought_mm = 0;  ///< its centreline as bought
    double mass_kg = 0;    ///< of the finished piece, copes taken off
};
struct Order {
    std::vector<OrderTube> tubes;     ///< by stock, in the stock list's order
    std::vector<OrderBought> bought;  ///< in fitting order; not in the sums
    double length_mm = 0, mass_kg = 0, price = 0;
    int sticks = 0;
    bool legs_reach = true;             ///< no leg of a tube bought bent is too short
    std::vector<std::string> left_out;  ///< members without a stock or a shape, each with the reason
    /// Every piece can be cut from what is to be bought, and no leg of a tube bought bent is too short.
    bool whole() const;
};

/// @param allowance_mm added to each blank that has bends (bend long, trim after).
Order order(const Job& job, const CageGeometry& cage, double allowance_mm = 0);

}  // namespace hoopwright
