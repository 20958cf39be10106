// What of an order comes from where: spare pieces, the rack, heats. Used by order().
#pragma once

#include <vector>

#include "core/shop/order.h"

namespace hoopwright {

/// Copies of the pieces that are cut more than once.
void addSpares(OrderTube& tube, const std::vector<SparePiece>& spares, const CageGeometry& cage);
/// What of the rack is of that tube.
void takeRack(OrderTube& tube, const ShopBook& book);
/// Each list of bars that must not share a heat as indices into the tube's pieces; as many lists as given.
std::vector<std::vector<int>> apartIn(const OrderTube& tube, const std::vector<ApartPieces>& lists,
                                      const CageGeometry& cage);
/// Fills sources, apart, rack_after, and in left_out names that the cage does not have.
void traceOrder(Order& order, const Job& job, const CageGeometry& cage, bool spares);

}  // namespace hoopwright
