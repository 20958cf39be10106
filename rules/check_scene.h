// What rules ask of a cage again and again, worked out once for a check.
#pragma once

#include <array>
#include <map>
#include <optional>
#include <string>
#include <vector>

#include "core/model/cage_geometry.h"
#include "core/model/cage_layout.h"
#include "core/skin/gap_to_skin.h"
#include "rules/subject.h"

namespace hoopwright {

struct MemberFacts {
    Side side = Side::centre;            ///< as given; else the side all of it lies on
    const TubeStock* stock = nullptr;    ///< null: not in the stock list
    const Material* material = nullptr;  ///< null: not in the stock list
    const Member* layout = nullptr;
    int bends = 0;
    Box box;                       ///< of the centreline
    std::vector<double> supports;  ///< stations where something holds it, ascending: ends, and joints on it
    std::array<std::vector<int>, 2> touches;  ///< members each end lands on or meets at its node
    int feet = 0;                             ///< ends on plates
    bool carries_belts = false;
};

/// Borrows the job and the cage; both must outlive it. Lives for one check and keeps what it has worked out,
/// so it is not to be shared between threads.
class CheckScene {
public:
    CheckScene(const Job& job, const CageGeometry& cage);

    const Job& job() const { return job_; }
    const CageGeometry& cage() const { return cage_; }
    const ResolvedMember& member(int index) const { return cage_.members[static_cast<std::size_t>(index)]; }
    const MemberFacts& facts(int member) const { return facts_[static_cast<std::size_t>(member)]; }
    int memberCount() const { return static_cast<int>(cage_.members.size()); }
    const Driver& driver(const Subject& subject) const {
        return job_.drivers[static_cast<std::size_t>(subject.first)];
    }
    const ResolvedPlate& plate(const Subject& subject) const {
        return cage_.plates[static_cast<std::size_t>(subject.first)];
    }
    const Plate& plateLayout(const Subject& subject) const;
    const Joint& joint(const Subject& subject) const {
        return cage_.joints[static_cast<std::size_t>(subject.first)];
    }
    /// Side the first such person sits on; centre if there is none or in the middle.
    Side sideOf(Driver::Occupant occupant) const;
    /// The car's skin, and the gap from a member to its surfaces of these kinds (null: there is nothing of
    /// them). Worked out when first asked for.
    const CarSkin& skin() const;
    const GapToSkin* gapToSkin(int member, SurfaceKinds kinds) const;
    /// A fact of the entry, or else of the car; null if not given.
    const Fact* fact(std::string_view name) const;

private:
    const Job& job_;
    const CageGeometry& cage_;
    std::vector<MemberFacts> facts_;
    Fact body_, frame_;
    mutable std::optional<CarSkin> skin_;
    mutable std::map<std::pair<int, SurfaceKinds>, std::optional<GapToSkin>> gaps_;

    void fill(int index);
};

/// The other side; centre stays.
Side other(Side side);
/// The side all of the box lies on (more than 1 mm off the centre plane), else centre.
Side sideOf(const Box& box);

}  // namespace hoopwright
