// Ties to a frame that the body lifts off.
#include <numeric>
#include <set>

#include "core/model/resolver.h"

namespace hoopwright::resolving {

namespace {

/// Which bars are welded together.
class Welded {
public:
    explicit Welded(const CageGeometry& cage) : root_(cage.members.size()) {
        std::iota(root_.begin(), root_.end(), std::size_t{0});
        for (const Joint& joint : cage.joints) join(joint.branch, joint.host);
        for (const ResolvedGusset& gusset : cage.gussets) join(gusset.member_a, gusset.member_b);
        for (const ResolvedMember& tube : cage.members)
            for (const ResolvedEnd& end : tube.ends)
                for (const int also : end.also) join(static_cast<int>(&tube - cage.members.data()), also);
        // Feet are welded to their plate, however it is fixed.
        for (const ResolvedPlate& plate : cage.plates)
            for (const auto& foot : plate.feet) join(plate.feet.front().first, foot.first);
    }
    std::size_t groupOf(int member) {
        auto at = static_cast<std::size_t>(member);
        while (root_[at] != at) at = root_[at] = root_[root_[at]];
        return at;
    }

private:
    void join(int one, int other) {
        if (one >= 0 && other >= 0) root_[groupOf(one)] = groupOf(other);
    }
    std::vector<std::size_t> root_;
};

}  // namespace

/// A frame that shall come out from under its body again may hold bars that stand on the body by bolts only.
void Resolver::noteTies() {
    if (!job_.car.bodyLiftsOff() || job_.cage.body_stays) return;
    Welded welded(cage_);
    std::set<std::size_t> on_body;
    for (const ResolvedPlate& plate : cage_.plates)
        if (!plate.on_frame && !plate.feet.empty()) on_body.insert(welded.groupOf(plate.feet.front().first));
    int last = -1;
    for (std::size_t p = 0; p < cage_.plates.size(); ++p) {
        ResolvedPlate& plate = cage_.plates[p];
        if (!plate.on_frame || plate.feet.empty()) continue;
        plate.must_be_bolted = on_body.contains(welded.groupOf(plate.feet.front().first));
        const Plate& said = job_.cage.plates[static_cast<std::size_t>(plate.layout)];
        if (!plate.must_be_bolted || said.fixing == Fixing::bolted) continue;
        // The two of a pair stand one behind the other, and one bolt list puts both right.
        const bool second = last == plate.layout;
        last = plate.layout;
        if (second) cage_.notes.pop_back();
        const std::string base = said.name.empty() ? roleOf(said.id).name : said.name;
        const ResolvedMember& tube = cage_.members[static_cast<std::size_t>(plate.feet.front().first)];
        cage_.notes.push_back(
            {LayoutNote::Kind::tie_holds_body,
             (second ? base + ", left and right: are" : plate.name + ": is") +
                 " welded to the frame, and the bars on " + (second ? "them" : "it") +
                 " stand on the body too, so the body does not come off its frame again.",
             (second ? "bolt them" : "bolt it") + std::string(", or say that the body stays on its frame"),
             job_.cage.members[static_cast<std::size_t>(tube.layout)].id, said.id,
             second ? cage_.plates[p - 1].at : plate.at});
    }
}

}  // namespace hoopwright::resolving
