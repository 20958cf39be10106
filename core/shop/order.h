// What to buy and what to cut.
#pragma once

#include <optional>
#include <string>
#include <utility>
#include <vector>

#include "core/model/cage_geometry.h"
#include "core/shop/joint_cope.h"
#include "core/shop/nest.h"

namespace hoopwright {

/// What is otherwise than the stock list, the shop's book and the cage say.
struct OrderWishes {
    std::optional<double> bend_long_mm;  ///< added to each blank that has bends; else the shop's, else 0
    std::optional<double> kerf_mm;       ///< else the stock list's
    std::optional<KerfAt> kerf_at;       ///< else the shop's
    std::optional<bool> off_cuts_first;  ///< else the shop's
    bool spares = true;                  ///< the cage's spare pieces are cut too
};

struct OrderPiece {
    int member = -1;  ///< index into CageGeometry::members
    CutLength cut;    ///< blank_mm: bend-long allowance added
    int bends = 0;
    double mass_kg = 0;  ///< of the finished piece, copes taken off
    int spare = 0;       ///< 0: the bar itself; else which spare of it
};
struct OrderTube {
    std::string stock;  ///< TubeStock::id
    std::vector<OrderPiece> pieces;
    double length_mm = 0;  ///< of all pieces, spare ones too
    double mass_kg = 0;    ///< of the cage's own bars
    NestPlan nest;
    std::vector<StickLength> sticks;  ///< what the nest's indices mean
    std::vector<RackPiece> owned;     ///< the same for what is owned
    std::vector<int> rack;            ///< index of each of `owned` into ShopBook::rack
    std::string trouble;              ///< why there is no nest; empty if there is one
    std::string note;                 ///< what is to be known about the nest; may be empty

    double stickLength_mm(const CutStick& stick) const;
    /// Bought, of each stick length, longest first; none that is not bought.
    std::vector<std::pair<StickLength, int>> toBuy() const;
};
/// A tube bought bent: not cut from a stick. What to saw off it is in its ResolvedMember::bought.
struct OrderBought {
    int member = -1;  ///< index into CageGeometry::members
    std::string stock;
    double bought_mm = 0;  ///< its centreline as bought
    double mass_kg = 0;    ///< of the finished piece, copes taken off
};
/// Where the metal of a bar, or of a spare of it, comes from.
struct TubeSource {
    enum class From { rack, cage, nowhere };  ///< heat as the rack says, as the cage's certificates say
    int member = -1;                          ///< index into CageGeometry::members
    int spare = 0;
    int tube = -1, stick = -1;  ///< indices into Order::tubes and its nest's sticks; -1: bought bent
    From from = From::nowhere;
    std::string heat, certificate, when;
    std::string trouble;  ///< rack and cage say different heats; or empty
};
/// Bars that must not come of one heat. A spare of such a bar is left to whoever uses it.
struct OrderApart {
    std::vector<int> members;  ///< indices into CageGeometry::members
    std::string note;          ///< of the cage
    std::string says;          ///< which sticks must be of different heats, one sentence
    std::string trouble;       ///< two of them are of the same heat; or empty
};
struct Order {
    std::vector<OrderTube> tubes;     ///< by stock, in the stock list's order
    std::vector<OrderBought> bought;  ///< in build order; not in the sums
    double length_mm = 0, mass_kg = 0, price = 0;
    int sticks = 0;                     ///< to be bought
    int off_cuts = 0;                   ///< of the rack, cut into
    bool legs_reach = true;             ///< no leg of a tube bought bent is too short
    std::vector<std::string> left_out;  ///< members without a stock or a shape, each with the reason
    std::vector<TubeSource> sources;    ///< of every piece, by tube and stick, then those bought bent
    std::vector<OrderApart> apart;
    std::vector<RackPiece> rack_after;  ///< the shop's rack once all is cut
    double kerf_mm = 0, bend_long_mm = 0;
    KerfAt kerf_at = KerfAt::between_pieces;
    bool off_cuts_first = false;
    std::optional<double> rack_from_mm;  ///< of the shop's book

    /// Every piece can be cut from what is to be bought, no leg of a tube bought bent is too short, and
    /// nothing that must not share a heat does.
    bool whole() const;
    /// What is left of a stick goes back to the rack.
    bool back(const CutStick& stick) const;
};

Order order(const Job& job, const CageGeometry& cage, const OrderWishes& wishes = {});
/// @param bend_long_mm added to each blank that has bends (bend long, trim after); none if it is no number
/// above 0
Order order(const Job& job, const CageGeometry& cage, double bend_long_mm);

/// "Main hoop", "Main hoop, spare", "Main hoop, spare 2".
std::string pieceName(const CageGeometry& cage, const OrderPiece& piece);

}  // namespace hoopwright
