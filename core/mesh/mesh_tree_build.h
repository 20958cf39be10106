// How a tree over a mesh is built. Not for use outside core/mesh.
#pragma once

#include "core/mesh/mesh_tree.h"

namespace hoopwright {

/// Splits by the surface area of the boxes, counted in bins along their widest side.
class MeshTree::Builder {
public:
    explicit Builder(MeshTree& tree) : tree_(tree) {}
    void build();

private:
    using Lanes = Eigen::Array4f;  // x, y, z and one that is not used: it fits the machine's registers
    struct Item {
        Lanes low, high;
        float twice(int axis) const { return low[axis] + high[axis]; }
    };
    struct Bounds {
        Lanes low = Lanes::Constant(std::numeric_limits<float>::max());
        Lanes high = Lanes::Constant(-std::numeric_limits<float>::max());
        void add(const Lanes& l, const Lanes& h) {
            low = low.min(l);
            high = high.max(h);
        }
        float halfArea() const;
    };
    /// Items from `first` on, their box, and the box of twice their middles.
    struct Range {
        std::size_t first = 0, last = 0;
        Bounds box, middles;
        std::size_t size() const { return last - first; }
    };

    Range measured(std::size_t first, std::size_t last) const;
    std::pair<Range, Range> split(const Range& whole, int depth);
    std::int32_t node(const Range& whole, int depth);
    void setBox(Node& node, std::size_t slot, const Bounds& box) const;

    MeshTree& tree_;
    std::vector<Item> items_;
    std::vector<std::uint32_t> order_;  ///< triangle of each item
};

}  // namespace hoopwright
