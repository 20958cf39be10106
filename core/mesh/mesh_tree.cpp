#include "core/mesh/mesh_tree.h"

#include <cmath>

#include "core/mesh/clip.h"
#include "core/mesh/triangle_distance.h"

namespace hoopwright {
namespace {

/// More than the rounding of a box's distance in floats, for coordinates up to 1.
constexpr double kFloatSlack = 2e-6;
/// Three more are put on at each step down, two hundred steps at most.
constexpr std::size_t kStack = 640;

using Lanes = Eigen::Array4f;
using BoxLanes = std::array<std::array<float, 4>, 3>;

std::array<Lanes, 3> lanes(const BoxLanes& four) {
    const auto axis = [&](std::size_t i) {
        return Eigen::Map<const Lanes, Eigen::Aligned16>(four[i].data());
    };
    return {axis(0), axis(1), axis(2)};
}

class FromPoint {
public:
    static constexpr bool kLong = false;
    FromPoint(const Vec3& p, double within) : p_(p), best_{within, {}, 0} {}
    Vec3 middle() const { return p_; }
    Vec3 half() const { return Vec3::Zero(); }
    struct Along {};
    Along along(const Vec3&) const { return {}; }
    double limit() const { return best_.distance; }
    void tryTriangle(const Triangle& t, std::uint32_t index) {
        const Vec3 at = nearestOnTriangle(p_, t);
        const double distance = (at - p_).norm();
        if (!(distance < best_.distance)) return;
        best_ = {distance, at, index};
        found_ = true;
    }
    std::optional<OnMesh> found() const { return found_ ? std::optional(best_) : std::nullopt; }

private:
    Vec3 p_;
    OnMesh best_;
    bool found_ = false;
};

/// Seen along a segment it is a point and a box a hexagon; whatever way the point lies off an edge of that,
/// the segment lies off the box in space. A box about both, by axes alone, would stand far out on a slope.
class AlongSegment {
public:
    /// @param along  of the segment; any length
    /// @param from_middle  of the tree to the segment
    AlongSegment(const Vec3& along, const Vec3& from_middle) {
        for (int axis = 0; axis < 3; ++axis) {
            const Vec3 n = along.cross(Vec3::Unit(axis));
            if (n.norm() <= kAligned * along.norm()) continue;
            normals_[count_] = n.normalized().cast<float>();
            at_[count_++] = static_cast<float>(n.normalized().dot(from_middle));
        }
    }
    /// Square of how far four boxes are off at least.
    Lanes squares(const std::array<Lanes, 3>& centre, const std::array<Lanes, 3>& half) const {
        Lanes most = Lanes::Zero();
        for (std::size_t i = 0; i < count_; ++i) {
            const Eigen::Vector3f &n = normals_[i], size = n.cwiseAbs();
            const Lanes off = (centre[0] * n[0] + centre[1] * n[1] + centre[2] * n[2] - at_[i]).abs();
            most = most.max(off - (half[0] * size[0] + half[1] * size[1] + half[2] * size[2]));
        }
        return most * most;
    }

private:
    static constexpr double kAligned = 1e-3;  ///< the other two ways then say as much
    std::array<Eigen::Vector3f, 3> normals_;
    std::array<float, 3> at_{};
    std::size_t count_ = 0;
};

class FromSegment {
public:
    static constexpr bool kLong = true;
    FromSegment(const Vec3& p0, const Vec3& p1, double within)
        : p0_(p0), p1_(p1), best_{{within, {}, 0}, 0} {}
    Vec3 middle() const { return (p0_ + p1_) / 2; }
    Vec3 half() const { return (p1_ - p0_).cwiseAbs() / 2; }
    double limit() const { return best_.nearest.distance; }
    AlongSegment along(const Vec3& middle) const { return {p1_ - p0_, p0_ - middle}; }
    void tryTriangle(const Triangle& t, std::uint32_t index) {
        const SegmentAndTriangle pair = nearestOfSegment(p0_, p1_, t, limit());
        if (!(pair.distance < limit())) return;
        best_ = {{pair.distance, pair.on_triangle, index}, pair.share};
        found_ = true;
    }
    std::optional<SegmentOnMesh> found() const { return found_ ? std::optional(best_) : std::nullopt; }

private:
    Vec3 p0_, p1_;
    SegmentOnMesh best_;
    bool found_ = false;
};

template <class Shape>
void tryKept(Shape& shape, const Triangle& t, std::uint32_t index, std::span<const HalfSpace> keep) {
    bool whole = true;
    for (const HalfSpace& side : keep)
        for (const Vec3* corner : {&t.a, &t.b, &t.c}) whole = whole && side.n.dot(*corner - side.p) >= 0;
    if (whole) return shape.tryTriangle(t, index);
    thread_local std::vector<Vec3> room;
    const auto part = keptPart(t, keep, room);
    for (std::size_t i = 2; i < part.size(); ++i) shape.tryTriangle({part[0], part[i - 1], part[i]}, index);
}

}  // namespace

template <class Shape>
void MeshTree::search(Shape& shape, std::span<const HalfSpace> keep, std::uint32_t first) const {
    if (nodes_.empty()) return;
    const auto tryTriangle = [&](const Corners& corners, std::uint32_t index) {
        const Triangle t{mesh_.vertices[corners[0]], mesh_.vertices[corners[1]], mesh_.vertices[corners[2]]};
        if (keep.empty()) return shape.tryTriangle(t, index);
        tryKept(shape, t, index, keep);
    };
    if (first != kNoTriangle) tryTriangle(mesh_.triangles[first], first);
    const Vec3 middle = shape.middle() - middle_, half = shape.half();
    const double slack = kFloatSlack * (reach_ + middle.cwiseAbs().maxCoeff() + half.maxCoeff());
    const auto limitSquare = [&] {
        const double limit = shape.limit() + slack;
        return static_cast<float>(std::min(limit * limit * (1 + 1e-6), 1e38));
    };
    const Eigen::Vector3f m = middle.cast<float>(), h = half.cast<float>();
    struct Open {
        float square;
        std::int32_t child, count;
    };
    std::array<Open, kStack> stack;
    std::size_t open = 0;
    stack[open++] = {0, 0, 0};
    const auto along = shape.along(middle_);
    float most = limitSquare();
    while (open > 0) {
        const Open here = stack[--open];
        if (here.square > most) continue;
        if (here.count > 0) {
            for (std::int32_t i = here.child; i < here.child + here.count; ++i) {
                const Leaf& leaf = leaves_[static_cast<std::size_t>(i)];
                tryTriangle(leaf.corners, leaf.triangle);
            }
            most = limitSquare();
            continue;
        }
        const Node& node = nodes_[static_cast<std::size_t>(here.child)];
        const std::array<Lanes, 3> centre = lanes(node.centre), size = lanes(node.half);
        Lanes sum = Lanes::Zero();
        for (int axis = 0; axis < 3; ++axis) {
            const auto k = static_cast<std::size_t>(axis);
            const Lanes apart = ((centre[k] - m[axis]).abs() - (size[k] + h[axis])).max(0.0f);
            sum += apart * apart;
        }
        if constexpr (Shape::kLong) sum = sum.max(along.squares(centre, size));
        // Farthest on first, so that the nearest is looked at next.
        const std::size_t bottom = open;
        for (std::size_t slot = 0; slot < 4; ++slot) {
            if (node.count[slot] < 0 || sum[static_cast<int>(slot)] > most) continue;
            const Open next{sum[static_cast<int>(slot)], node.child[slot], node.count[slot]};
            std::size_t at = open++;
            for (; at > bottom && stack[at - 1].square < next.square; --at) stack[at] = stack[at - 1];
            stack[at] = next;
        }
    }
}

std::optional<OnMesh> MeshTree::nearest(const Vec3& p, double within, std::span<const HalfSpace> keep,
                                        std::uint32_t first) const {
    FromPoint from(p, within);
    search(from, keep, first);
    return from.found();
}

std::optional<SegmentOnMesh> MeshTree::nearest(const Vec3& p0, const Vec3& p1, double within,
                                               std::span<const HalfSpace> keep, std::uint32_t first) const {
    FromSegment from(p0, p1, within);
    search(from, keep, first);
    return from.found();
}

}  // namespace hoopwright
