#include "core/shop/order.h"

#include <algorithm>
#include <cmath>

#include "core/shop/order_sources.h"

namespace hoopwright {

namespace {

OrderPiece pieceOf(const CageGeometry& cage, int member, double bend_long_mm) {
    OrderPiece piece;
    piece.member = member;
    piece.cut = cutLength(cage, member);
    piece.bends = cage.members[static_cast<std::size_t>(member)].line.bendCount();
    if (piece.bends > 0) piece.cut.blank_mm += bend_long_mm;
    piece.mass_kg = cage.members[static_cast<std::size_t>(member)].mass_kg;
    return piece;
}

bool boughtBent(const Job& job, const ResolvedMember& made) {
    return job.cage.members[static_cast<std::size_t>(made.layout)].bent.has_value();
}

/// Everything cut from one stock, or nothing to cut.
OrderTube orderTube(const Job& job, const CageGeometry& cage, int stock, const OrderWishes& wishes) {
    const TubeStock& bought = job.stock.tubes[static_cast<std::size_t>(stock)];
    OrderTube tube;
    tube.stock = bought.id;
    tube.sticks = bought.sticks;
    for (std::size_t m = 0; m < cage.members.size(); ++m) {
        if (cage.members[m].stock != stock || boughtBent(job, cage.members[m])) continue;
        tube.pieces.push_back(pieceOf(cage, static_cast<int>(m), *wishes.bend_long_mm));
        tube.mass_kg += tube.pieces.back().mass_kg;
    }
    if (wishes.spares) addSpares(tube, job.cage.spares, cage);
    for (const OrderPiece& piece : tube.pieces) tube.length_mm += piece.cut.blank_mm;
    return tube;
}

void nestTube(OrderTube& tube, const Job& job, const CageGeometry& cage, const OrderWishes& wishes) {
    NestWish wish;
    wish.sticks = tube.sticks;
    wish.kerf_mm = *wishes.kerf_mm;
    wish.kerf_at = *wishes.kerf_at;
    if (*wishes.off_cuts_first) takeRack(tube, *job.shop);
    for (const RackPiece& piece : tube.owned) wish.owned.push_back({piece.length_mm, piece.heat});
    if (tube.sticks.empty() && tube.owned.empty()) {
        tube.trouble = "The stock list gives no stick length for " + tube.stock + "; add one.";
        return;
    }
    wish.apart = apartIn(tube, job.cage.apart, cage);
    std::vector<Piece1d> pieces;
    pieces.reserve(tube.pieces.size());
    for (const OrderPiece& piece : tube.pieces)
        pieces.push_back({pieceName(cage, piece), piece.cut.blank_mm});
    Expected<NestPlan> plan = nest(pieces, wish);
    if (!plan) {
        tube.trouble = plan.reason();
        return;
    }
    tube.nest = *std::move(plan);
    if (tube.nest.different > kMostDifferent)
        tube.note = "There are " + std::to_string(tube.nest.different) + " different lengths of " +
                    tube.stock + "; past " + std::to_string(kMostDifferent) +
                    " the best cut is not searched for.";
}

/// Members of the layout that are not in the geometry, and those without a tube.
std::vector<std::string> leftOut(const Job& job, const CageGeometry& cage) {
    std::vector<std::string> out;
    for (std::size_t i = 0; i < job.cage.members.size(); ++i) {
        const Member& member = job.cage.members[i];
        int found = 0;
        for (const ResolvedMember& made : cage.members) found += made.layout == static_cast<int>(i) ? 1 : 0;
        if (found < (member.mirrored ? 2 : 1)) {
            out.push_back(member.id + (found == 1 ? ", one side" : "") +
                          " has no shape; see the problems of the layout.");
        }
    }
    for (const ResolvedMember& made : cage.members) {
        if (made.stock < 0) out.push_back(made.name + " has no tube; choose one of the stock list.");
        if (boughtBent(job, made) && !made.bought)
            out.push_back(made.name + " does not lie as it was bought; see the problems of the layout.");
    }
    return out;
}

std::vector<OrderBought> boughtOf(const Job& job, const CageGeometry& cage) {
    std::vector<OrderBought> out;
    for (std::size_t m = 0; m < cage.members.size(); ++m) {
        const ResolvedMember& made = cage.members[m];
        if (!made.bought || made.stock < 0) continue;
        const TubeStock& stock = job.stock.tubes[static_cast<std::size_t>(made.stock)];
        out.push_back({static_cast<int>(m), stock.id, made.bought->shape.developed_mm(), made.mass_kg});
    }
    return out;
}

}  // namespace

Order order(const Job& job, const CageGeometry& cage, const OrderWishes& asked) {
    OrderWishes wishes = asked;
    const ShopBook* book = job.shop.get();
    if (!wishes.bend_long_mm) wishes.bend_long_mm = book ? book->bend_long_mm : 0;
    if (!(std::isfinite(*wishes.bend_long_mm) && *wishes.bend_long_mm > 0)) wishes.bend_long_mm = 0;
    if (!wishes.kerf_mm) wishes.kerf_mm = job.stock.kerf_mm;
    if (!wishes.kerf_at) wishes.kerf_at = book ? book->kerf_at : KerfAt::between_pieces;
    if (!wishes.off_cuts_first) wishes.off_cuts_first = book && book->off_cuts_first;
    Order out;
    out.left_out = leftOut(job, cage);
    if (*wishes.off_cuts_first && !book) {
        wishes.off_cuts_first = false;
        out.left_out.push_back(
            "Off-cuts first: the cage names no shop's book, so there is no rack to cut from; add shop: "
            "FILE.");
    }
    out.kerf_mm = *wishes.kerf_mm;
    out.kerf_at = *wishes.kerf_at;
    out.bend_long_mm = *wishes.bend_long_mm;
    out.off_cuts_first = *wishes.off_cuts_first;
    if (book) out.rack_from_mm = book->rack_from_mm;
    for (std::size_t i = 0; i < job.stock.tubes.size(); ++i) {
        OrderTube tube = orderTube(job, cage, static_cast<int>(i), wishes);
        if (tube.pieces.empty()) continue;
        nestTube(tube, job, cage, wishes);
        out.length_mm += tube.length_mm;
        out.mass_kg += tube.mass_kg;
        out.price += tube.nest.price;
        out.sticks += tube.nest.bought();
        out.off_cuts += static_cast<int>(tube.nest.sticks.size()) - tube.nest.bought();
        out.tubes.push_back(std::move(tube));
    }
    out.bought = boughtOf(job, cage);
    for (const OrderBought& one : out.bought) {
        const auto& saw = cage.members[static_cast<std::size_t>(one.member)].bought->saw_mm;
        out.legs_reach = out.legs_reach && std::min(saw[0], saw[1]) >= -kTaped_mm;
    }
    traceOrder(out, job, cage, wishes.spares);
    return out;
}

Order order(const Job& job, const CageGeometry& cage, double bend_long_mm) {
    OrderWishes wishes;
    wishes.bend_long_mm = bend_long_mm;
    return order(job, cage, wishes);
}

std::string pieceName(const CageGeometry& cage, const OrderPiece& piece) {
    const std::string& name = cage.members[static_cast<std::size_t>(piece.member)].name;
    if (piece.spare == 0) return name;
    return name + ", spare" + (piece.spare > 1 ? " " + std::to_string(piece.spare) : "");
}

double OrderTube::stickLength_mm(const CutStick& stick) const {
    return stick.owned >= 0 ? owned[static_cast<std::size_t>(stick.owned)].length_mm
                            : sticks[static_cast<std::size_t>(stick.stick)].length_mm;
}

std::vector<std::pair<StickLength, int>> OrderTube::toBuy() const {
    std::vector<std::pair<StickLength, int>> out;
    for (std::size_t k = 0; k < sticks.size(); ++k) {
        const auto count = std::ranges::count(nest.sticks, static_cast<int>(k), &CutStick::stick);
        if (count > 0) out.emplace_back(sticks[k], static_cast<int>(count));
    }
    std::ranges::stable_sort(
        out, [](const auto& a, const auto& b) { return a.first.length_mm > b.first.length_mm; });
    return out;
}

bool Order::back(const CutStick& stick) const {
    return rack_from_mm && stick.left_mm >= *rack_from_mm;
}

bool Order::whole() const {
    return left_out.empty() && legs_reach &&
           std::ranges::all_of(tubes, &std::string::empty, &OrderTube::trouble) &&
           std::ranges::all_of(apart, &std::string::empty, &OrderApart::trouble);
}

}  // namespace hoopwright
