#include "core/mesh/mesh_tree_build.h"

#include <algorithm>
#include <cmath>

namespace hoopwright {
namespace {

constexpr std::size_t kMostBins = 16;
constexpr std::size_t kMostInLeaf = 3;
/// Below here a range is halved by number: no shape of mesh makes the tree deeper than this and the binary
/// logarithm of its size.
constexpr int kDeepest = 40;

float below(double x) {
    const auto near = static_cast<float>(x);
    return static_cast<double>(near) <= x ? near
                                          : std::nextafter(near, -std::numeric_limits<float>::infinity());
}
float above(double x) {
    return -below(-x);
}

}  // namespace

float MeshTree::Builder::Bounds::halfArea() const {
    const Lanes size = high - low;
    return size[0] * size[1] + size[1] * size[2] + size[2] * size[0];
}

MeshTree::MeshTree(TriangleMesh mesh) : mesh_(std::move(mesh)), bounds_(mesh_.bounds()) {
    if (mesh_.triangles.empty()) return;
    middle_ = bounds_.center();
    reach_ = (bounds_.sizes() / 2).maxCoeff();
    Builder(*this).build();
}

void MeshTree::Builder::build() {
    const TriangleMesh& mesh = tree_.mesh_;
    const std::size_t count = mesh.triangles.size();
    items_.resize(count);
    order_.resize(count);
    Range whole;
    whole.last = count;
    for (std::size_t i = 0; i < count; ++i) {
        const Corners& corners = mesh.triangles[i];
        const Vec3 a = mesh.vertices[corners[0]] - tree_.middle_,
                   b = mesh.vertices[corners[1]] - tree_.middle_,
                   c = mesh.vertices[corners[2]] - tree_.middle_;
        const Vec3 low = a.cwiseMin(b).cwiseMin(c), high = a.cwiseMax(b).cwiseMax(c);
        items_[i].low = {below(low.x()), below(low.y()), below(low.z()), 0};
        items_[i].high = {above(high.x()), above(high.y()), above(high.z()), 0};
        order_[i] = static_cast<std::uint32_t>(i);
        whole.box.add(items_[i].low, items_[i].high);
        const Lanes twice = items_[i].low + items_[i].high;
        whole.middles.add(twice, twice);
    }
    tree_.nodes_.reserve(count / 2 + 1);
    tree_.leaves_.reserve(count);
    node(whole, 0);
    tree_.nodes_.shrink_to_fit();
}

MeshTree::Builder::Range MeshTree::Builder::measured(std::size_t first, std::size_t last) const {
    Range out;
    out.first = first;
    out.last = last;
    for (std::size_t i = first; i < last; ++i) {
        out.box.add(items_[i].low, items_[i].high);
        const Lanes twice = items_[i].low + items_[i].high;
        out.middles.add(twice, twice);
    }
    return out;
}

std::pair<MeshTree::Builder::Range, MeshTree::Builder::Range> MeshTree::Builder::split(const Range& whole,
                                                                                       int depth) {
    const Lanes width = whole.middles.high - whole.middles.low;
    int axis = 0;
    for (int i = 1; i < 3; ++i)
        if (width[i] > width[axis]) axis = i;
    const float start = whole.middles.low[axis];
    const std::size_t bins = std::min(kMostBins, whole.size());
    const float scale = static_cast<float>(bins) / width[axis];
    if (!(width[axis] > 0) || !std::isfinite(scale) || depth > kDeepest) {
        const std::size_t middle = whole.first + whole.size() / 2;
        return {measured(whole.first, middle), measured(middle, whole.last)};
    }
    const auto binOf = [&](const Item& item) {
        const auto bin = static_cast<int>((item.twice(axis) - start) * scale);
        return static_cast<std::size_t>(std::clamp(bin, 0, static_cast<int>(bins) - 1));
    };
    std::array<Bounds, kMostBins> boxes;
    std::array<std::size_t, kMostBins> counts{};
    for (std::size_t i = whole.first; i < whole.last; ++i) {
        const std::size_t bin = binOf(items_[i]);
        boxes[bin].add(items_[i].low, items_[i].high);
        ++counts[bin];
    }
    std::array<float, kMostBins> cost_above{};
    Bounds box;
    std::size_t count = 0;
    for (std::size_t bin = bins - 1; bin > 0; --bin) {
        box.add(boxes[bin].low, boxes[bin].high);
        count += counts[bin];
        cost_above[bin] = count > 0 ? box.halfArea() * static_cast<float>(count) : 0;
    }
    box = {};
    count = 0;
    std::size_t best = 0;
    float least = std::numeric_limits<float>::infinity();
    for (std::size_t bin = 0; bin + 1 < bins; ++bin) {
        box.add(boxes[bin].low, boxes[bin].high);
        count += counts[bin];
        if (count == 0 || count == whole.size()) continue;
        const float cost = box.halfArea() * static_cast<float>(count) + cost_above[bin + 1];
        if (cost < least) {
            least = cost;
            best = bin + 1;
        }
    }
    // The first and the last bin hold one each at least, so there is always a best.
    Range left, right;
    left.first = whole.first;
    right.last = whole.last;
    std::size_t i = whole.first, end = whole.last;
    while (i < end) {
        const bool goes_left = binOf(items_[i]) < best;
        Range& side = goes_left ? left : right;
        side.box.add(items_[i].low, items_[i].high);
        const Lanes twice = items_[i].low + items_[i].high;
        side.middles.add(twice, twice);
        if (goes_left) {
            ++i;
        } else {
            --end;
            std::swap(items_[i], items_[end]);
            std::swap(order_[i], order_[end]);
        }
    }
    left.last = right.first = i;
    return {left, right};
}

void MeshTree::Builder::setBox(Node& node, std::size_t slot, const Bounds& box) const {
    for (std::size_t axis = 0; axis < 3; ++axis) {
        const double low = box.low[static_cast<int>(axis)], high = box.high[static_cast<int>(axis)];
        const auto centre = static_cast<float>((low + high) / 2);
        node.centre[axis][slot] = centre;
        node.half[axis][slot] = above(std::max(high - centre, centre - low));
    }
}

std::int32_t MeshTree::Builder::node(const Range& whole, int depth) {
    std::array<Range, 4> parts;
    parts[0] = whole;
    std::size_t count = 1;
    while (count < parts.size()) {
        std::size_t widest = parts.size();
        for (std::size_t i = 0; i < count; ++i) {
            if (parts[i].size() <= kMostInLeaf) continue;
            if (widest == parts.size() || parts[i].box.halfArea() > parts[widest].box.halfArea()) widest = i;
        }
        if (widest == parts.size()) break;
        std::tie(parts[widest], parts[count]) = split(parts[widest], depth);
        ++count;
    }
    const auto index = static_cast<std::int32_t>(tree_.nodes_.size());
    tree_.nodes_.emplace_back();
    for (std::size_t slot = 0; slot < parts.size(); ++slot) {
        const Range& part = parts[slot];
        const bool inner = slot < count && part.size() > kMostInLeaf;
        const std::int32_t child =
            inner ? node(part, depth + 1) : static_cast<std::int32_t>(tree_.leaves_.size());
        Node& here = tree_.nodes_[static_cast<std::size_t>(index)];  // may have moved
        here.child[slot] = child;
        here.count[slot] = inner ? 0 : slot < count ? static_cast<std::int32_t>(part.size()) : -1;
        if (slot >= count) {
            for (std::size_t axis = 0; axis < 3; ++axis) here.centre[axis][slot] = here.half[axis][slot] = 0;
            continue;
        }
        setBox(here, slot, part.box);
        if (inner) continue;
        for (std::size_t i = part.first; i < part.last; ++i)
            tree_.leaves_.push_back({tree_.mesh_.triangles[order_[i]], order_[i]});
    }
    return index;
}

}  // namespace hoopwright
