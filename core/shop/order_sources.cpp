#include "core/shop/order_sources.h"

#include <algorithm>
#include <map>

namespace hoopwright {

namespace {

int memberOf(const CageGeometry& cage, const std::string& id) {
    const auto found = std::ranges::find(cage.members, id, &ResolvedMember::id);
    return found == cage.members.end() ? -1 : static_cast<int>(found - cage.members.begin());
}
const ResolvedMember& barOf(const CageGeometry& cage, int member) {
    return cage.members[static_cast<std::size_t>(member)];
}

/// The heat the cage's certificates give for a bar, and what the rack says.
void settleHeat(TubeSource& source, const Job& job, const CageGeometry& cage, const RackPiece* rack) {
    if (rack && !(rack->heat.empty() && rack->certificate.empty())) {
        source.from = TubeSource::From::rack;
        source.heat = rack->heat;
        source.certificate = rack->certificate;
    }
    if (source.spare > 0) return;
    const ResolvedMember& bar = barOf(cage, source.member);
    const auto said = std::ranges::find(job.cage.certificates, bar.id, &Certificate::of);
    if (said == job.cage.certificates.end()) return;
    if (!source.heat.empty() && !said->heat.empty() && said->heat != source.heat) {
        source.trouble = bar.name + " would be cut from heat " + source.heat +
                         " of the rack, and the cage's certificates say " + said->heat +
                         "; put one of them right.";
        return;
    }
    source.from = TubeSource::From::cage;
    if (!said->heat.empty()) source.heat = said->heat;
    if (!said->number.empty()) source.certificate = said->number;
    source.when = said->when;
}

void addSources(Order& order, const Job& job, const CageGeometry& cage) {
    for (std::size_t t = 0; t < order.tubes.size(); ++t) {
        const OrderTube& tube = order.tubes[t];
        for (std::size_t s = 0; s < tube.nest.sticks.size(); ++s) {
            const CutStick& stick = tube.nest.sticks[s];
            const RackPiece* rack =
                stick.owned >= 0 ? &tube.owned[static_cast<std::size_t>(stick.owned)] : nullptr;
            for (const int piece : stick.pieces) {
                const OrderPiece& one = tube.pieces[static_cast<std::size_t>(piece)];
                TubeSource source;
                source.member = one.member;
                source.spare = one.spare;
                source.tube = static_cast<int>(t);
                source.stick = static_cast<int>(s);
                settleHeat(source, job, cage, rack);
                order.sources.push_back(std::move(source));
            }
        }
    }
    for (const OrderBought& one : order.bought) {
        TubeSource source;
        source.member = one.member;
        settleHeat(source, job, cage, nullptr);
        order.sources.push_back(std::move(source));
    }
}

const TubeSource* sourceOf(const Order& order, int member) {
    const auto found = std::ranges::find_if(
        order.sources, [&](const TubeSource& s) { return s.member == member && s.spare == 0; });
    return found == order.sources.end() ? nullptr : &*found;
}

/// "stick 2 of 45x2.5", "the rack's 45x2.5 of heat H4471".
std::string placeOf(const Order& order, const TubeSource& source) {
    if (source.tube < 0) return "bought bent";
    const OrderTube& tube = order.tubes[static_cast<std::size_t>(source.tube)];
    const CutStick& stick = tube.nest.sticks[static_cast<std::size_t>(source.stick)];
    if (stick.owned >= 0) {
        const std::string& heat = tube.owned[static_cast<std::size_t>(stick.owned)].heat;
        return "the rack's " + tube.stock +
               (heat.empty() ? " of a heat nobody wrote down" : " of heat " + heat);
    }
    return "stick " + std::to_string(source.stick + 1) + " of " + tube.stock +
           (source.heat.empty() ? "" : ", heat " + source.heat);
}

bool fromRack(const Order& order, const TubeSource& source) {
    return source.tube >= 0 && order.tubes[static_cast<std::size_t>(source.tube)]
                                       .nest.sticks[static_cast<std::size_t>(source.stick)]
                                       .owned >= 0;
}

OrderApart apartOf(const Order& order, const CageGeometry& cage, const ApartPieces& list) {
    OrderApart out;
    out.note = list.note;
    std::map<std::string, int> heats;
    for (const std::string& id : list.of) {
        const int member = memberOf(cage, id);
        if (member < 0) continue;
        out.members.push_back(member);
        const TubeSource* source = sourceOf(order, member);
        if (!source) continue;
        out.says +=
            (out.says.empty() ? "" : "; ") + barOf(cage, member).name + ": " + placeOf(order, *source);
        if (source->heat.empty() && fromRack(order, *source) && out.trouble.empty())
            out.trouble =
                barOf(cage, member).name +
                " must not share a heat, and the heat of what it is cut from on the rack is not known.";
        if (source->heat.empty()) continue;
        const auto [first, is_new] = heats.emplace(source->heat, member);
        if (!is_new && out.trouble.empty())
            out.trouble = barOf(cage, first->second).name + " and " + barOf(cage, member).name +
                          " must not share a heat, and both are of " + source->heat + ".";
    }
    if (!out.says.empty())
        out.says =
            "Each of another heat: " + out.says + (list.note.empty() ? "" : " (" + list.note + ")") + ".";
    return out;
}

/// A heat all pieces of a bought stick are entered with, for what is left of it.
RackPiece leftOver(const Order& order, int tube, int stick) {
    const OrderTube& of = order.tubes[static_cast<std::size_t>(tube)];
    const CutStick& cut = of.nest.sticks[static_cast<std::size_t>(stick)];
    if (cut.owned >= 0) {
        RackPiece piece = of.owned[static_cast<std::size_t>(cut.owned)];
        piece.length_mm = cut.left_mm;
        return piece;
    }
    RackPiece piece{of.stock, cut.left_mm, "", ""};
    bool first = true;
    for (const TubeSource& source : order.sources) {
        if (source.tube != tube || source.stick != stick || source.spare > 0) continue;
        if (!first && (source.heat != piece.heat || source.certificate != piece.certificate))
            return {of.stock, cut.left_mm, "", ""};
        piece.heat = source.heat;
        piece.certificate = source.certificate;
        first = false;
    }
    return piece;
}

void settleRack(Order& order, const ShopBook& book) {
    std::vector<bool> cut(book.rack.size(), false);
    for (const OrderTube& tube : order.tubes)
        for (const CutStick& stick : tube.nest.sticks)
            if (stick.owned >= 0)
                cut[static_cast<std::size_t>(tube.rack[static_cast<std::size_t>(stick.owned)])] = true;
    for (std::size_t i = 0; i < book.rack.size(); ++i)
        if (!cut[i]) order.rack_after.push_back(book.rack[i]);
    for (std::size_t t = 0; t < order.tubes.size(); ++t)
        for (std::size_t s = 0; s < order.tubes[t].nest.sticks.size(); ++s)
            if (order.back(order.tubes[t].nest.sticks[s]))
                order.rack_after.push_back(leftOver(order, static_cast<int>(t), static_cast<int>(s)));
}

/// Names in the job's record that are no bars of it.
void lookForNames(Order& order, const Job& job, const CageGeometry& cage, bool spares) {
    if (spares)
        for (const SparePiece& spare : job.cage.spares) {
            const int member = memberOf(cage, spare.of);
            if (member < 0)
                order.left_out.push_back("A spare of '" + spare.of +
                                         "' is wanted, and the cage has no such bar.");
            else if (barOf(cage, member).bought)
                order.left_out.push_back("A spare of " + barOf(cage, member).name +
                                         " is wanted; it is bought bent, so buy one more.");
        }
    for (const ApartPieces& list : job.cage.apart)
        for (const std::string& id : list.of)
            if (memberOf(cage, id) < 0)
                order.left_out.push_back(
                    "'" + id + "' must not share a heat with others, and the cage has no such bar.");
}

}  // namespace

void addSpares(OrderTube& tube, const std::vector<SparePiece>& spares, const CageGeometry& cage) {
    const std::vector<OrderPiece> own = tube.pieces;
    for (const OrderPiece& piece : own) {
        int number = 0;
        for (const SparePiece& spare : spares) {
            if (spare.of != barOf(cage, piece.member).id) continue;
            for (int i = 0; i < spare.count; ++i) {
                tube.pieces.push_back(piece);
                tube.pieces.back().spare = ++number;
            }
        }
    }
}

void takeRack(OrderTube& tube, const ShopBook& book) {
    for (std::size_t i = 0; i < book.rack.size(); ++i) {
        if (book.rack[i].stock != tube.stock) continue;
        tube.owned.push_back(book.rack[i]);
        tube.rack.push_back(static_cast<int>(i));
    }
}

std::vector<std::vector<int>> apartIn(const OrderTube& tube, const std::vector<ApartPieces>& lists,
                                      const CageGeometry& cage) {
    std::vector<std::vector<int>> out;
    for (const ApartPieces& list : lists) {
        std::vector<int>& pieces = out.emplace_back();
        for (std::size_t i = 0; i < tube.pieces.size(); ++i)
            if (tube.pieces[i].spare == 0 &&
                std::ranges::count(list.of, barOf(cage, tube.pieces[i].member).id) > 0)
                pieces.push_back(static_cast<int>(i));
    }
    return out;
}

void traceOrder(Order& order, const Job& job, const CageGeometry& cage, bool spares) {
    addSources(order, job, cage);
    for (const ApartPieces& list : job.cage.apart) order.apart.push_back(apartOf(order, cage, list));
    if (job.shop) settleRack(order, *job.shop);
    lookForNames(order, job, cage, spares);
}

}  // namespace hoopwright
