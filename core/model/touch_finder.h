// Pairs of tubes that come inside each other, and what is to be made of each. Used by resolve().
#pragma once

#include <utility>
#include <vector>

#include "core/model/cage_geometry.h"
#include "core/model/tube_body.h"

namespace hoopwright::resolving {

bool contains(const std::vector<int>& list, int value);

/// What becomes of one stretch where a later tube meets an earlier one.
struct Touch {
    enum class Verdict {
        fine,         ///< a joint, or metal that is cut away anyway
        coped,        ///< the later one's end is to be coped around the earlier one too
        runs_into,    ///< a clash
        stops_short,  ///< the end cannot reach what it lands on
        runs_along,   ///< side by side, inside each other
        free_end      ///< the later one ends inside the earlier one and lands on nothing
    };
    Verdict verdict = Verdict::fine;
    int end = -1;  ///< of the later tube
    double depth_mm = 0;
    Vec3 at = Vec3::Zero();
};

/// Later is the tube that is coped, earlier the one that runs through: by landing, else by build order.
class TouchFinder {
public:
    /// @param cage  not copied; hosts and `also` are read as they stand at each call
    explicit TouchFinder(const CageGeometry& cage);
    /// (later, earlier) of every pair whose boxes meet, sorted.
    std::vector<std::pair<int, int>> nearPairs() const;
    /// Stretches of the later tube near the earlier one; some may turn out not to touch.
    std::vector<Span> stretches(int later, int earlier) const;
    Touch judge(int later, int earlier, Span stretch) const;

private:
    const TubeBody& body(int i) const { return bodies_[static_cast<std::size_t>(i)]; }
    const ResolvedMember& member(int i) const { return cage_.members[static_cast<std::size_t>(i)]; }
    std::vector<const TubeBody*> cutters(int later, int earlier) const;
    int endNear(int later, Span stations) const;
    Touch judgeEnd(int later, int earlier, int end, Span stretch, const Overlap& overlap) const;
    Touch measured(Touch::Verdict verdict, int end, int later, int earlier, Span stations) const;

    const CageGeometry& cage_;
    std::vector<TubeBody> bodies_;
};

}  // namespace hoopwright::resolving
