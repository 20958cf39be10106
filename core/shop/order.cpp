#include "core/shop/order.h"

#include <algorithm>
#include <cmath>

namespace hoopwright {

namespace {

constexpr double kSteel_kg_per_m3 = 7850;
constexpr double kMm_per_m = 1000;

OrderPiece pieceOf(const CageGeometry& cage, int member, double kg_per_m, double allowance_mm) {
    OrderPiece piece;
    piece.member = member;
    piece.cut = cutLength(cage, member);
    piece.bends = cage.members[static_cast<std::size_t>(member)].line.bendCount();
    if (piece.bends > 0) piece.cut.blank_mm += allowance_mm;
    piece.mass_kg = piece.cut.mean_mm / kMm_per_m * kg_per_m;
    return piece;
}

void nestTube(OrderTube& tube, const CageGeometry& cage, double kerf_mm) {
    if (tube.sticks.empty()) {
        tube.trouble = "The stock list gives no stick length for " + tube.stock + "; add one.";
        return;
    }
    std::vector<Piece1d> pieces;
    pieces.reserve(tube.pieces.size());
    for (const OrderPiece& piece : tube.pieces) {
        pieces.push_back({cage.members[static_cast<std::size_t>(piece.member)].name, piece.cut.blank_mm});
    }
    Expected<NestPlan> plan = nest(pieces, tube.sticks, kerf_mm);
    if (plan) {
        tube.nest = std::move(*plan);
    } else {
        tube.trouble = plan.reason();
    }
}

double kgPerMetre(const Job& job, const TubeStock& stock) {
    const Material* material = job.stock.material(stock.material);
    return stock.section.mass_kg_per_m(material ? material->density_kg_per_m3 : kSteel_kg_per_m3);
}

bool boughtBent(const Job& job, const ResolvedMember& made) {
    return job.cage.members[static_cast<std::size_t>(made.layout)].bent.has_value();
}

/// Everything cut from one stock, or nothing to cut.
OrderTube orderTube(const Job& job, const CageGeometry& cage, int stock, double allowance_mm) {
    const TubeStock& bought = job.stock.tubes[static_cast<std::size_t>(stock)];
    const double kg_per_m = kgPerMetre(job, bought);
    OrderTube tube;
    tube.stock = bought.id;
    tube.sticks = bought.sticks;
    for (std::size_t m = 0; m < cage.members.size(); ++m) {
        if (cage.members[m].stock != stock || boughtBent(job, cage.members[m])) continue;
        tube.pieces.push_back(pieceOf(cage, static_cast<int>(m), kg_per_m, allowance_mm));
        tube.length_mm += tube.pieces.back().cut.blank_mm;
        tube.mass_kg += tube.pieces.back().mass_kg;
    }
    if (!tube.pieces.empty()) nestTube(tube, cage, job.stock.kerf_mm);
    return tube;
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
        const double finished_mm = cutLength(cage, static_cast<int>(m)).mean_mm;
        out.push_back({static_cast<int>(m), stock.id, made.bought->shape.developed_mm(),
                       finished_mm / kMm_per_m * kgPerMetre(job, stock)});
    }
    return out;
}

}  // namespace

Order order(const Job& job, const CageGeometry& cage, double allowance_mm) {
    const double allowance = std::isfinite(allowance_mm) && allowance_mm > 0 ? allowance_mm : 0;
    Order out;
    for (std::size_t i = 0; i < job.stock.tubes.size(); ++i) {
        OrderTube tube = orderTube(job, cage, static_cast<int>(i), allowance);
        if (tube.pieces.empty()) continue;
        out.length_mm += tube.length_mm;
        out.mass_kg += tube.mass_kg;
        out.price += tube.nest.price;
        out.sticks += static_cast<int>(tube.nest.sticks.size());
        out.tubes.push_back(std::move(tube));
    }
    out.bought = boughtOf(job, cage);
    for (const OrderBought& one : out.bought) {
        const auto& saw = cage.members[static_cast<std::size_t>(one.member)].bought->saw_mm;
        out.legs_reach = out.legs_reach && std::min(saw[0], saw[1]) >= -kTaped_mm;
    }
    out.left_out = leftOut(job, cage);
    return out;
}

bool Order::whole() const {
    return left_out.empty() && legs_reach &&
           std::ranges::all_of(tubes, &std::string::empty, &OrderTube::trouble);
}

}  // namespace hoopwright
