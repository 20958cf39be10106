#include "core/mesh/mesh_tree.h"

#include <cmath>

#include "core/mesh/clip.h"
#include "core/mesh/triangle_distance.h"

namespace hoopwright {
namespace {

/// More than the rounding of a box's distance in floats, for coordinates up to 1.
constexpr double kFloatSlack = 1e-6;
/// Three more are put on at each step down, two hundred steps at most.
constexpr std::size_t kStack = 640;

class FromPoint {
public:
    FromPoint(const Vec3& p, double within) : p_(p), best_{within, {}, 0} {}
    Vec3 middle() const { return p_; }
    Vec3 half() const { return Vec3::Zero(); }
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

class FromSegment {
public:
    FromSegment(const Vec3& p0, const Vec3& p1, double within)
        : p0_(p0), p1_(p1), best_{{within, {}, 0}, 0} {}
    Vec3 middle() const { return (p0_ + p1_) / 2; }
    Vec3 half() const { return (p1_ - p0_).cwiseAbs() / 2; }
    double limit() const { return best_.nearest.distance; }
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
void MeshTree::search(Shape& shape, std::span<const HalfSpace> keep) const {
    using Lanes = Eigen::Array4f;
    if (nodes_.empty()) return;
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
    float most = limitSquare();
    while (open > 0) {
        const Open here = stack[--open];
        if (here.square > most) continue;
        if (here.count > 0) {
            for (std::int32_t i = here.child; i < here.child + here.count; ++i) {
                const Leaf& leaf = leaves_[static_cast<std::size_t>(i)];
                const Triangle t{mesh_.vertices[leaf.corners[0]], mesh_.vertices[leaf.corners[1]],
                                 mesh_.vertices[leaf.corners[2]]};
                if (keep.empty()) {
                    shape.tryTriangle(t, leaf.triangle);
                } else {
                    tryKept(shape, t, leaf.triangle, keep);
                }
            }
            most = limitSquare();
            continue;
        }
        const Node& node = nodes_[static_cast<std::size_t>(here.child)];
        Lanes sum = Lanes::Zero();
        for (int axis = 0; axis < 3; ++axis) {
            const auto k = static_cast<std::size_t>(axis);
            const Lanes centre = Eigen::Map<const Lanes, Eigen::Aligned16>(node.centre[k].data());
            const Lanes size = Eigen::Map<const Lanes, Eigen::Aligned16>(node.half[k].data());
            const Lanes apart = ((centre - m[axis]).abs() - (size + h[axis])).max(0.0f);
            sum += apart * apart;
        }
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

std::optional<OnMesh> MeshTree::nearest(const Vec3& p, double within, std::span<const HalfSpace> keep) const {
    FromPoint from(p, within);
    search(from, keep);
    return from.found();
}

std::optional<SegmentOnMesh> MeshTree::nearest(const Vec3& p0, const Vec3& p1, double within,
                                               std::span<const HalfSpace> keep) const {
    FromSegment from(p0, p1, within);
    search(from, keep);
    return from.found();
}

}  // namespace hoopwright
