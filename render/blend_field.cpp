#include "render/blend_field.h"

#include <algorithm>
#include <array>
#include <cmath>
#include <optional>

namespace hoopwright {
namespace {

constexpr int kBlock = 4;  // cells a side of a block
constexpr std::size_t kCells = std::size_t{kBlock} * kBlock * kBlock;
constexpr std::array kFeelers_mm = {14.0, 34.0, 70.0, 130.0};  // how far openness is felt for
constexpr std::uint32_t kNone = 0xFFFFFFFFu;                   // a cell the skin does not pass

/// How far b is from having no say in the smooth minimum of a and b: 0 where it has none.
double melt(double a, double b, double k) {
    return std::max(k - std::abs(a - b), 0.0) / k;
}

/// Polynomial smooth minimum: equal to min(a, b) where they differ by more than k.
double smoothMin(double a, double b, double k) {
    if (b >= a + k) return a;  // most often
    const double h = melt(a, b, k);
    return std::min(a, b) - h * h * k * 0.25;
}

/// Naive surface nets over a grid of corner values: one vertex a cell that the skin passes through.
/// Method: S. Gibson, "Constrained elastic surface nets", MICCAI 1998. The grid is kept in blocks; all blocks
/// that the skin cannot reach share two.
class SurfaceNet {
public:
    SurfaceNet(const BlendField& field, double cell) : field_(field), cell_(cell) {
        const Box box = field.bounds();
        origin_ = box.min() - Vec3::Constant((kBlock + 1.5) * cell);
        for (int i = 0; i < 3; ++i)
            blocks_[static_cast<std::size_t>(i)] =
                (static_cast<int>(std::ceil(box.sizes()[i] / cell)) + 4) / kBlock + 3;  // one more all round
        sample();
    }

    Mesh mesh() {
        for (const auto& [x, y, z] : near_) addBlock(x, y, z);
        for (const auto& [x, y, z] : near_) addBlockFaces(x, y, z);
        return std::move(mesh_);
    }

private:
    static constexpr std::size_t kOutside = 0, kInside = 1;  // the shared blocks

    /// Of a corner of the grid, in values_ and vertices_.
    std::size_t index(int x, int y, int z) const {
        const auto in = [](int i) { return static_cast<std::size_t>(i % kBlock); };
        return block_[blockIndex(x / kBlock, y / kBlock, z / kBlock)] * kCells +
               (in(z)*kBlock + in(y)) * kBlock + in(x);
    }
    std::size_t blockIndex(int x, int y, int z) const {
        return static_cast<std::size_t>((z * blocks_[1] + y) * blocks_[0] + x);
    }
    Vec3 place(double x, double y, double z) const { return origin_ + cell_ * Vec3(x, y, z); }

    void sample() {
        values_.assign(kCells, 1e3f);
        values_.resize(2 * kCells, -1e3f);
        for (int z = 0; z < blocks_[2]; ++z)
            for (int y = 0; y < blocks_[1]; ++y)
                for (int x = 0; x < blocks_[0]; ++x)
                    block_.push_back(sampleBlock(x * kBlock, y * kBlock, z * kBlock));
        vertices_.assign(values_.size(), kNone);
    }
    std::size_t sampleBlock(int x0, int y0, int z0) {
        for (std::size_t i = 0; i < 3; ++i) {
            const int first = std::array{x0, y0, z0}[i];
            if (first == 0 || first + kBlock == blocks_[i] * kBlock) return kOutside;
        }
        const Vec3 middle = blockMiddle(x0, y0, z0);
        const double value = field_.at(middle);
        if (std::abs(value) > 1.8 * reach() + 10) return value > 0 ? kOutside : kInside;
        const BlendField local = field_.near(middle, reach());
        for (int z = z0; z < z0 + kBlock; ++z)
            for (int y = y0; y < y0 + kBlock; ++y)
                for (int x = x0; x < x0 + kBlock; ++x)
                    values_.push_back(static_cast<float>(local.at(place(x, y, z))));
        near_.push_back({x0, y0, z0});
        return values_.size() / kCells - 1;
    }
    Vec3 blockMiddle(int x, int y, int z) const {
        constexpr double kHalf = 0.5 * kBlock;
        return place(x + kHalf, y + kHalf, z + kHalf);
    }
    double reach() const { return 0.5 * std::sqrt(3.0) * (kBlock + 1) * cell_; }

    /// The limbs that matter in a block, and those that matter as far round it as feelers reach.
    struct Neighbourhood {
        BlendField skin, around;
    };

    void addBlock(int x0, int y0, int z0) {
        std::optional<Neighbourhood> local;  // made only where the skin passes
        for (int z = z0; z < z0 + kBlock; ++z)
            for (int y = y0; y < y0 + kBlock; ++y)
                for (int x = x0; x < x0 + kBlock; ++x) addVertex(x, y, z, local, x0, y0, z0);
    }

    void addVertex(int x, int y, int z, std::optional<Neighbourhood>& local, int x0, int y0, int z0) {
        Vec3 sum = Vec3::Zero();
        int crossings = 0;
        const auto edge = [&](int dx, int dy, int dz, int axis) {
            const float a = values_[index(x + dx, y + dy, z + dz)];
            const float b = values_[index(x + dx + (axis == 0), y + dy + (axis == 1), z + dz + (axis == 2))];
            if ((a < 0) == (b < 0)) return;
            Vec3 p(x + dx, y + dy, z + dz);
            p[axis] += a / (a - b);
            sum += p;
            ++crossings;
        };
        for (int i = 0; i < 2; ++i)
            for (int j = 0; j < 2; ++j) {
                edge(0, i, j, 0);
                edge(i, 0, j, 1);
                edge(i, j, 0, 2);
            }
        if (crossings == 0) return;
        if (!local) {
            const Vec3 middle = blockMiddle(x0, y0, z0);
            local = {field_.near(middle, reach()), field_.near(middle, reach() + kFeelers_mm.back())};
        }
        const BlendField& skin = local->skin;
        const Vec3 cell_point = sum / crossings;
        Vec3 p = place(cell_point.x(), cell_point.y(), cell_point.z());
        for (int step = 0; step < 2; ++step) p -= skin.at(p) * skin.gradient(p);
        MeshCorner corner;
        const Vec3 normal = skin.gradient(p);
        corner.at = p.cast<float>();
        corner.normal = normal.cast<float>();
        corner.light = static_cast<float>(openness(local->around, p, normal));
        vertices_[index(x, y, z)] = mesh_.add(corner);
        mesh_.colours.push_back(skin.colour(p));
    }

    /// How far the field falls short of growing as it would over open ground, sampled along the normal.
    static double openness(const BlendField& around, const Vec3& p, const Vec3& normal) {
        double shade = 0, weight = 1;
        for (const double step : kFeelers_mm) {
            shade += weight * std::max(0.0, step - around.at(p + step * normal)) / step;
            weight *= 0.72;
        }
        return std::clamp(1 - 0.42 * shade, 0.12, 1.0);
    }

    void addBlockFaces(int x0, int y0, int z0) {
        for (int z = z0; z < z0 + kBlock; ++z)
            for (int y = y0; y < y0 + kBlock; ++y)
                for (int x = x0; x < x0 + kBlock; ++x) addFaces(x, y, z);
    }

    void addFaces(int x, int y, int z) {
        const bool inside = values_[index(x, y, z)] < 0;
        for (int axis = 0; axis < 3; ++axis) {
            const bool next_inside = values_[index(x + (axis == 0), y + (axis == 1), z + (axis == 2))] < 0;
            if (inside == next_inside) continue;
            const int u = (axis + 1) % 3, v = (axis + 2) % 3;
            std::array<std::uint32_t, 4> q{};
            bool whole = true;
            for (int k = 0; k < 4; ++k) {
                std::array<int, 3> c = {x, y, z};
                c[static_cast<std::size_t>(u)] -= k == 0 || k == 3;
                c[static_cast<std::size_t>(v)] -= k == 0 || k == 1;
                q[static_cast<std::size_t>(k)] = vertices_[index(c[0], c[1], c[2])];
                whole = whole && q[static_cast<std::size_t>(k)] != kNone;
            }
            if (!whole) continue;
            if (inside)
                mesh_.quad(q[0], q[1], q[2], q[3]);
            else
                mesh_.quad(q[0], q[3], q[2], q[1]);
        }
    }

    const BlendField& field_;
    double cell_;
    Vec3 origin_;
    std::array<int, 3> blocks_{};           // along each axis
    std::vector<std::size_t> block_;        // which block of values a block of the grid has
    std::vector<std::array<int, 3>> near_;  // first cell of the blocks that the skin can reach
    std::vector<float> values_;             // block by block
    std::vector<std::uint32_t> vertices_;   // of the mesh, likewise
    Mesh mesh_;
};

}  // namespace

BlendField::Cone::Cone(const Limb& limb)
    : from(limb.from),
      axis(limb.to - limb.from),
      over_length2(axis.squaredNorm() > 1e-12 ? 1 / axis.squaredNorm() : 0),
      from_radius_mm(limb.from_radius_mm),
      taper_mm(over_length2 > 0 ? limb.to_radius_mm - limb.from_radius_mm : 0),
      blend_mm(limb.blend_mm),
      colour(limb.colour) {}

double BlendField::Cone::share(const Vec3& p) const {
    return std::clamp((p - from).dot(axis) * over_length2, 0.0, 1.0);
}

double BlendField::Cone::distance(const Vec3& p) const {
    const double along = share(p);
    return (p - from - along * axis).norm() - (from_radius_mm + along * taper_mm);
}

Vec3 BlendField::Cone::slope(const Vec3& p) const {
    const double along = share(p);
    Vec3 out = (p - from - along * axis).stableNormalized();
    if (along > 0 && along < 1) out -= taper_mm * over_length2 * axis;
    return out;
}

BlendField::BlendField(const std::vector<Limb>& limbs) : cones_(limbs.begin(), limbs.end()) {}

double BlendField::at(const Vec3& p) const {
    double least = 1e6;
    for (const Cone& cone : cones_) least = smoothMin(least, cone.distance(p), cone.blend_mm);
    return least;
}

Vec3 BlendField::gradient(const Vec3& p) const {
    double least = 1e6;
    Vec3 slope = Vec3::Zero();
    for (const Cone& cone : cones_) {
        const double distance = cone.distance(p);
        if (distance >= least + cone.blend_mm) continue;
        // The smaller of the two has 1 - h / 2 of the smooth minimum's slope, the larger h / 2.
        const double half = 0.5 * melt(least, distance, cone.blend_mm);
        const double share = distance < least ? 1 - half : half;
        slope = (1 - share) * slope + share * cone.slope(p);
        least = smoothMin(least, distance, cone.blend_mm);
    }
    const double norm = slope.norm();
    return norm > 1e-9 ? Vec3(slope / norm) : Vec3::UnitZ();
}

Rgb BlendField::colour(const Vec3& p) const {
    constexpr double kSeam_mm = 2.5;
    double least = 1e6;
    for (const Cone& cone : cones_) least = std::min(least, cone.distance(p));
    float r = 0, g = 0, b = 0, total = 0;
    for (const Cone& cone : cones_) {
        const auto weight = static_cast<float>(std::exp(-(cone.distance(p) - least) / kSeam_mm));
        r += weight * cone.colour.r;
        g += weight * cone.colour.g;
        b += weight * cone.colour.b;
        total += weight;
    }
    return {r / total, g / total, b / total};
}

BlendField BlendField::near(const Vec3& p, double radius_mm) const {
    double least = 1e6;
    for (const Cone& cone : cones_) least = std::min(least, cone.distance(p));
    BlendField some;
    // Every distance changes by no more than the way gone (a little more along a taper), and melting lowers
    // by blend / 4.
    for (const Cone& cone : cones_)
        if (cone.distance(p) <= least + 2.2 * radius_mm + cone.blend_mm) some.cones_.push_back(cone);
    return some;
}

Box BlendField::bounds() const {
    Box box;
    for (const Cone& cone : cones_) {
        const Vec3 around = Vec3::Constant(cone.from_radius_mm + 0.3 * cone.blend_mm);
        const Vec3 around_end = around + Vec3::Constant(cone.taper_mm), end = cone.from + cone.axis;
        box.extend(cone.from - around).extend(cone.from + around);
        box.extend(end - around_end).extend(end + around_end);
    }
    return box;
}

Mesh BlendField::mesh(double cell_mm) const {
    if (cones_.empty()) return {};
    return SurfaceNet(*this, cell_mm).mesh();
}

}  // namespace hoopwright
