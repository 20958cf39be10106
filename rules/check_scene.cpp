#include "rules/check_scene.h"

#include <algorithm>

namespace hoopwright {
namespace {

constexpr double kOffCentre_mm = 1;

void addOnce(std::vector<int>& list, int item) {
    if (item >= 0 && std::find(list.begin(), list.end(), item) == list.end()) list.push_back(item);
}

/// "belt_bar" names "belt_bar" and, of a mirrored pair, "belt_bar.left".
bool names(const std::string& said, const std::string& resolved) {
    return said == resolved ||
           (resolved.size() > said.size() && resolved.starts_with(said) && resolved[said.size()] == '.');
}

}  // namespace

Side other(Side side) {
    return side == Side::left ? Side::right : side == Side::right ? Side::left : Side::centre;
}

Side sideOf(const Box& box) {
    if (box.isEmpty()) return Side::centre;
    if (box.min().y() > kOffCentre_mm) return Side::left;
    return box.max().y() < -kOffCentre_mm ? Side::right : Side::centre;
}

CheckScene::CheckScene(const Job& job, const CageGeometry& cage)
    : job_(job), cage_(cage), facts_(cage.members.size()) {
    body_.value = std::string(bodyWord(job.car.body));
    frame_.value = std::string(frameWord(job.car.frame));
    for (int i = 0; i < memberCount(); ++i) fill(i);
    for (const Joint& joint : cage.joints) {
        if (joint.host >= 0)
            facts_[static_cast<std::size_t>(joint.host)].supports.push_back(joint.host_station_mm);
    }
    for (MemberFacts& f : facts_) std::sort(f.supports.begin(), f.supports.end());
}

void CheckScene::fill(int index) {
    const ResolvedMember& m = member(index);
    MemberFacts& f = facts_[static_cast<std::size_t>(index)];
    f.box = m.line.bounds();
    f.side = m.side != Side::centre ? m.side : hoopwright::sideOf(f.box);
    f.bends = m.line.bendCount();
    if (m.layout >= 0 && m.layout < static_cast<int>(job_.cage.members.size()))
        f.layout = &job_.cage.members[static_cast<std::size_t>(m.layout)];
    if (m.stock >= 0 && m.stock < static_cast<int>(job_.stock.tubes.size())) {
        f.stock = &job_.stock.tubes[static_cast<std::size_t>(m.stock)];
        f.material = job_.stock.material(f.stock->material);
    }
    f.supports = {0, m.line.length_mm()};
    for (std::size_t e = 0; e < 2; ++e) {
        const ResolvedEnd& end = m.ends[e];
        if (end.on == ResolvedEnd::On::member) addOnce(f.touches[e], end.host);
        if (end.on == ResolvedEnd::On::plate) ++f.feet;
        for (int also : end.also) addOnce(f.touches[e], also);
        if (end.node < 0) continue;
        for (int met : cage_.nodes[static_cast<std::size_t>(end.node)].members)
            if (met != index) addOnce(f.touches[e], met);
    }
    for (const Driver& driver : job_.drivers) {
        if (!driver.belts.bar.empty() && names(driver.belts.bar, m.id)) f.carries_belts = true;
    }
}

const Plate& CheckScene::plateLayout(const Subject& subject) const {
    return job_.cage.plates[static_cast<std::size_t>(plate(subject).layout)];
}

Side CheckScene::sideOf(Driver::Occupant occupant) const {
    for (const Driver& driver : job_.drivers) {
        if (driver.occupant != occupant) continue;
        if (driver.hip.y() > kOffCentre_mm) return Side::left;
        return driver.hip.y() < -kOffCentre_mm ? Side::right : Side::centre;
    }
    return Side::centre;
}

const CarSkin& CheckScene::skin() const {
    if (!skin_) skin_ = carSkin(job_.car, job_.scan_meshes);
    return *skin_;
}

const GapToSkin* CheckScene::gapToSkin(int member, SurfaceKinds kinds) const {
    const auto [kept, is_new] = gaps_.try_emplace({member, kinds});
    if (is_new)
        kept->second = hoopwright::gapToSkin(cage_.members[static_cast<std::size_t>(member)], skin(), kinds);
    return kept->second ? &*kept->second : nullptr;
}

const Fact* CheckScene::fact(std::string_view name) const {
    if (name == "body") return &body_;
    if (name == "frame") return &frame_;
    const std::string key(name);
    if (const auto at = job_.cage.entry.find(key); at != job_.cage.entry.end()) return &at->second;
    if (const auto at = job_.car.facts.find(key); at != job_.car.facts.end()) return &at->second;
    return nullptr;
}

}  // namespace hoopwright
