#include "core/model/resolve_names.h"

#include <algorithm>

namespace hoopwright::resolving {

SplitName splitName(std::string_view name) {
    const auto dot = name.rfind('.');
    if (dot == std::string_view::npos) return {name, Side::centre};
    const std::string_view side = name.substr(dot + 1);
    if (side == "left") return {name.substr(0, dot), Side::left};
    if (side == "right") return {name.substr(0, dot), Side::right};
    return {name, Side::centre};
}

Side otherSide(Side side) {
    if (side == Side::left) return Side::right;
    if (side == Side::right) return Side::left;
    return Side::centre;
}

std::string sidedId(std::string_view id, Side side) {
    std::string out(id);
    if (side != Side::centre) out.append(".").append(sideWord(side));
    return out;
}

bool SidedNames::add(std::string_view id, bool is_mirrored, int first_index) {
    return entries_.try_emplace(id, Entry{is_mirrored, first_index}).second;
}

Found SidedNames::find(std::string_view name, Side asking, Side wanted) const {
    const SplitName said = splitName(name);
    const auto it = entries_.find(said.base);
    if (it == entries_.end()) return {-1, Found::Miss::unknown};
    const Entry& entry = it->second;
    if (!entry.is_mirrored) {
        if (said.side != Side::centre) return {-1, Found::Miss::not_mirrored};
        return {entry.first_index, Found::Miss::none, true};
    }
    Side side = asking == Side::right ? otherSide(said.side) : said.side;
    if (side == Side::centre) side = asking != Side::centre ? asking : wanted;
    if (side == Side::centre) return {-1, Found::Miss::which_side};
    return {entry.first_index + (side == Side::right ? 1 : 0)};
}

std::vector<std::string> SidedNames::ids() const {
    std::vector<std::string> all;
    all.reserve(entries_.size());
    for (const auto& [id, entry] : entries_) all.emplace_back(id);
    std::sort(all.begin(), all.end());
    return all;
}

}  // namespace hoopwright::resolving
