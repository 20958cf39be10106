#include "render/blend_field.h"

#include <algorithm>
#include <array>
#include <cmath>
#include <optional>

namespace hoopwright {
namespace {

constexpr int kBlock = 4;                     // cells a side of a block
constexpr std::uint32_t kNone = 0xFFFFFFFFu;  // a cell the skin does not pass

double limbDistance(const Limb& limb, const Vec3& p) {
    const Vec3 axis = limb.to - limb.from;
    const double length2 = axis.squaredNorm();
    const double share = length2 > 1e-12 ? std::clamp((p - limb.from).dot(axis) / length2, 0.0, 1.0) : 0.0;
    return (p - limb.from - share * axis).norm() -
           (limb.from_radius_mm + share * (limb.to_radius_mm - limb.from_radius_mm));
}

/// Polynomial smooth minimum: equal to min(a, b) where they differ by more than k.
double smoothMin(double a, double b, double k) {
    const double h = std::max(k - std::abs(a - b), 0.0) / k;
    return std::min(a, b) - h * h * k * 0.25;
}

/// Naive surface nets over a grid of corner values: one vertex a cell that the skin passes through.
/// Method: S. Gibson, "Constrained elastic surface nets", MICCAI 1998.
class SurfaceNet {
public:
    SurfaceNet(const BlendField& field, double cell) : field_(field), cell_(cell) {
        const Box box = field.bounds();
        origin_ = box.min() - Vec3::Constant(1.5 * cell);
        for (int i = 0; i < 3; ++i)
            size_[static_cast<std::size_t>(i)] = static_cast<int>(std::ceil(box.sizes()[i] / cell)) + 4;
        vertices_.assign(static_cast<std::size_t>(size_[0]) * static_cast<std::size_t>(size_[1]) *
                             static_cast<std::size_t>(size_[2]),
                         kNone);
        values_.assign(static_cast<std::size_t>(size_[0]) * static_cast<std::size_t>(size_[1]) *
                           static_cast<std::size_t>(size_[2]),
                       1e3f);
        sample();
    }

    Mesh mesh() {
        for (int z = 0; z + 1 < size_[2]; z += kBlock)
            for (int y = 0; y + 1 < size_[1]; y += kBlock)
                for (int x = 0; x + 1 < size_[0]; x += kBlock) addBlock(x, y, z);
        for (int z = 1; z + 1 < size_[2]; ++z)
            for (int y = 1; y + 1 < size_[1]; ++y)
                for (int x = 1; x + 1 < size_[0]; ++x) addFaces(x, y, z);
        return std::move(mesh_);
    }

private:
    std::size_t index(int x, int y, int z) const {
        return (static_cast<std::size_t>(z) * static_cast<std::size_t>(size_[1]) +
                static_cast<std::size_t>(y)) *
                   static_cast<std::size_t>(size_[0]) +
               static_cast<std::size_t>(x);
    }
    Vec3 place(double x, double y, double z) const { return origin_ + cell_ * Vec3(x, y, z); }

    /// Blocks that the skin cannot reach keep their far value.
    void sample() {
        for (int z = 0; z < size_[2]; z += kBlock)
            for (int y = 0; y < size_[1]; y += kBlock)
                for (int x = 0; x < size_[0]; x += kBlock) {
                    const Vec3 middle = blockMiddle(x, y, z);
                    const double value = field_.at(middle);
                    if (std::abs(value) > 1.8 * reach() + 10) {
                        fillBlock(x, y, z, value > 0 ? 1e3 : -1e3, nullptr);
                    } else {
                        const BlendField local = field_.near(middle, reach());
                        fillBlock(x, y, z, 0, &local);
                    }
                }
    }
    Vec3 blockMiddle(int x, int y, int z) const {
        constexpr double kHalf = 0.5 * kBlock;
        return place(x + kHalf, y + kHalf, z + kHalf);
    }
    double reach() const { return 0.5 * std::sqrt(3.0) * (kBlock + 1) * cell_; }

    void fillBlock(int x0, int y0, int z0, double far_value, const BlendField* exact) {
        for (int z = z0; z < std::min(z0 + kBlock, size_[2]); ++z)
            for (int y = y0; y < std::min(y0 + kBlock, size_[1]); ++y)
                for (int x = x0; x < std::min(x0 + kBlock, size_[0]); ++x)
                    values_[index(x, y, z)] =
                        static_cast<float>(exact ? exact->at(place(x, y, z)) : far_value);
    }

    void addBlock(int x0, int y0, int z0) {
        std::optional<BlendField> local;  // made only where the skin passes
        for (int z = z0; z < std::min(z0 + kBlock, size_[2] - 1); ++z)
            for (int y = y0; y < std::min(y0 + kBlock, size_[1] - 1); ++y)
                for (int x = x0; x < std::min(x0 + kBlock, size_[0] - 1); ++x)
                    addVertex(x, y, z, local, x0, y0, z0);
    }

    void addVertex(int x, int y, int z, std::optional<BlendField>& local, int x0, int y0, int z0) {
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
        if (!local) local = field_.near(blockMiddle(x0, y0, z0), reach());
        const Vec3 cell_point = sum / crossings;
        Vec3 p = place(cell_point.x(), cell_point.y(), cell_point.z());
        for (int step = 0; step < 2; ++step) p -= local->at(p) * local->gradient(p);
        MeshCorner corner;
        const Vec3 normal = local->gradient(p);
        corner.at = p.cast<float>();
        corner.normal = normal.cast<float>();
        corner.light = static_cast<float>(openness(p, normal));
        vertices_[index(x, y, z)] = mesh_.add(corner);
        mesh_.colours.push_back(local->colour(p));
    }

    /// How far the field falls short of growing as it would over open ground, sampled along the normal.
    double openness(const Vec3& p, const Vec3& normal) const {
        double shade = 0, weight = 1;
        for (const double step : {14.0, 34.0, 70.0, 130.0}) {
            shade += weight * std::max(0.0, step - field_.at(p + step * normal)) / step;
            weight *= 0.72;
        }
        return std::clamp(1 - 0.42 * shade, 0.12, 1.0);
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
    std::array<int, 3> size_{};
    std::vector<float> values_;
    std::vector<std::uint32_t> vertices_;
    Mesh mesh_;
};

}  // namespace

double BlendField::at(const Vec3& p) const {
    double least = 1e6;
    for (const Limb& limb : limbs_) least = smoothMin(least, limbDistance(limb, p), limb.blend_mm);
    return least;
}

Vec3 BlendField::gradient(const Vec3& p) const {
    constexpr double kStep = 0.5;
    Vec3 slope;
    for (int i = 0; i < 3; ++i) slope[i] = at(p + kStep * Vec3::Unit(i)) - at(p - kStep * Vec3::Unit(i));
    const double norm = slope.norm();
    return norm > 1e-9 ? Vec3(slope / norm) : Vec3::UnitZ();
}

Rgb BlendField::colour(const Vec3& p) const {
    constexpr double kSeam_mm = 2.5;
    double least = 1e6;
    for (const Limb& limb : limbs_) least = std::min(least, limbDistance(limb, p));
    float r = 0, g = 0, b = 0, total = 0;
    for (const Limb& limb : limbs_) {
        const auto weight = static_cast<float>(std::exp(-(limbDistance(limb, p) - least) / kSeam_mm));
        r += weight * limb.colour.r;
        g += weight * limb.colour.g;
        b += weight * limb.colour.b;
        total += weight;
    }
    return {r / total, g / total, b / total};
}

BlendField BlendField::near(const Vec3& p, double radius_mm) const {
    double least = 1e6;
    for (const Limb& limb : limbs_) least = std::min(least, limbDistance(limb, p));
    std::vector<Limb> some;
    // Every distance changes by no more than the way gone (a little more along a taper), and melting lowers
    // by blend / 4.
    for (const Limb& limb : limbs_)
        if (limbDistance(limb, p) <= least + 2.2 * radius_mm + limb.blend_mm) some.push_back(limb);
    return BlendField(std::move(some));
}

Box BlendField::bounds() const {
    Box box;
    for (const Limb& limb : limbs_) {
        const Vec3 from_r = Vec3::Constant(limb.from_radius_mm + 0.3 * limb.blend_mm);
        const Vec3 to_r = Vec3::Constant(limb.to_radius_mm + 0.3 * limb.blend_mm);
        box.extend(limb.from - from_r).extend(limb.from + from_r);
        box.extend(limb.to - to_r).extend(limb.to + to_r);
    }
    return box;
}

Mesh BlendField::mesh(double cell_mm) const {
    if (limbs_.empty()) return {};
    return SurfaceNet(*this, cell_mm).mesh();
}

}  // namespace hoopwright
