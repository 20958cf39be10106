#include "render/ambient.h"

#include <algorithm>
#include <cmath>

namespace hoopwright {

std::vector<ShadeRod> shadeRodsOf(const Centreline& line, double radius_mm, int owner) {
    std::vector<ShadeRod> capsules;
    constexpr double kStep_rad = 0.35;
    for (const Piece& piece : line.pieces()) {
        const int parts = piece.kind == Piece::Kind::bend
                              ? std::max(1, static_cast<int>(std::ceil(piece.angle_rad / kStep_rad)))
                              : 1;
        Vec3 from = piece.point(0);
        for (int i = 1; i <= parts; ++i) {
            const Vec3 to = piece.point(piece.length_mm * i / parts);
            capsules.push_back({from.cast<float>(), to.cast<float>(), static_cast<float>(radius_mm), owner});
            from = to;
        }
    }
    return capsules;
}

namespace {

/// Light let past one capsule at a point with a normal.
float past(const ShadeRod& c, const Vec3f& at, const Vec3f& normal) {
    const Vec3f axis = c.to - c.from, arm = at - c.from;
    const float share = std::clamp(arm.dot(axis) / std::max(1e-6f, axis.squaredNorm()), 0.0f, 1.0f);
    const Vec3f towards = share * axis - arm;
    const float d2 = towards.squaredNorm();
    if (d2 > kShadeReach_mm * kShadeReach_mm) return 1;
    const float d = std::sqrt(d2), cosine = normal.dot(towards) / std::max(d, 1e-3f);
    // A sphere that straddles the horizon is still partly seen.
    const float sine = std::min(1.0f, c.radius_mm / std::max(d, 1e-3f));
    const float seen = std::clamp(0.5f * (cosine / std::max(sine, 1e-3f) + 1), 0.0f, 1.0f);
    const float facing = seen * std::max(cosine, 0.25f * sine);
    const float fade = 1 - d2 / (kShadeReach_mm * kShadeReach_mm);
    return 1 - std::min(0.80f, 1.15f * facing * sine * sine * fade);
}

}  // namespace

void shade(Mesh& mesh, std::uint32_t first_corner, std::uint32_t corners, int owner,
           const std::vector<ShadeRod>& near, double ground_z_mm) {
    const auto ground = static_cast<float>(ground_z_mm);
    for (std::uint32_t i = first_corner; i < first_corner + corners; ++i) {
        MeshCorner& corner = mesh.corners[i];
        float light = 1;
        for (const ShadeRod& capsule : near)
            if (capsule.owner != owner) light *= past(capsule, corner.at, corner.normal);
        const float above = std::max(0.0f, corner.at.z() - ground);
        const float down = std::max(0.0f, -corner.normal.z()) * std::exp(-above / 260.0f);
        // In the corner by a weld the host hides what no single capsule tells.
        light *= 1 - 0.30f * std::exp(-std::max(0.0f, corner.weld_mm) / 11.0f);
        corner.light = std::clamp(light * (1 - 0.55f * down), 0.08f, 1.0f);
    }
}

namespace {

constexpr double kPixel_mm = 8;
constexpr double kLampSpread = 0.21;  // half width of the lamp, seen from the ground, as a slope

/// Share of a soft disc of radius 1 that lies left of x, for x in (-1, 1): smooth and cheap.
float softStep(float x) {
    const float t = std::clamp(0.5f * (x + 1), 0.0f, 1.0f);
    return t * t * (3 - 2 * t);
}

class ShadowPlane {
public:
    ShadowPlane(const Box& covers, double ground, const Vec3& light) : ground_(ground), light_(light) {
        shadow_.x_mm = covers.min().x();
        shadow_.y_mm = covers.min().y();
        shadow_.width = std::clamp(static_cast<int>(covers.sizes().x() / kPixel_mm), 16, 1024);
        shadow_.height = std::clamp(static_cast<int>(covers.sizes().y() / kPixel_mm), 16, 1024);
        shadow_.length_mm = covers.sizes().x();
        shadow_.breadth_mm = covers.sizes().y();
        const auto count = static_cast<std::size_t>(shadow_.width) * static_cast<std::size_t>(shadow_.height);
        key_.assign(count, 1.0f);
        around_.assign(count, 1.0f);
        layer_.assign(count, 0.0f);
    }

    /// All capsules of one owner make one shadow: where its stretches meet they add up to a whole, never to
    /// more.
    void cast(const std::vector<ShadeRod>& capsules, std::size_t from, std::size_t to) {
        Patch touched;
        for (std::size_t i = from; i < to; ++i) addStretch(capsules[i], touched);
        for (int y = touched.y0; y <= touched.y1; ++y)
            for (int x = touched.x0; x <= touched.x1; ++x) {
                float& density = layer_[index(x, y)];
                key_[index(x, y)] *= 1 - 0.92f * std::min(1.0f, density);
                density = 0;
            }
        for (std::size_t i = from; i < to; ++i) contact(capsules[i]);
    }

    void dim(const Footprint& f) {
        const double reach = 2.2 * f.height_mm + 60;
        const Patch patch = covering(f.x0 - reach, f.x1 + reach, f.y0 - reach, f.y1 + reach);
        const auto soft = static_cast<float>(1.3 * f.height_mm + 40);
        for (int y = patch.y0; y <= patch.y1; ++y)
            for (int x = patch.x0; x <= patch.x1; ++x) {
                const Eigen::Vector2f p = place(x, y);
                const auto edge = [&](double low, double high, float v) {
                    return softStep((v - static_cast<float>(low)) / soft) *
                           softStep((static_cast<float>(high) - v) / soft);
                };
                around_[index(x, y)] *=
                    1 - static_cast<float>(f.strength) * edge(f.x0, f.x1, p.x()) * edge(f.y0, f.y1, p.y());
            }
    }

    GroundShadow finish() {
        shadow_.pixels.resize(2 * key_.size());
        for (std::size_t i = 0; i < key_.size(); ++i) {
            shadow_.pixels[2 * i] = static_cast<std::uint8_t>(255.0f * key_[i] + 0.5f);
            shadow_.pixels[2 * i + 1] = static_cast<std::uint8_t>(255.0f * around_[i] + 0.5f);
        }
        return std::move(shadow_);
    }

private:
    struct Patch {
        int x0 = 1 << 20, x1 = -1, y0 = 1 << 20, y1 = -1;
    };

    std::size_t index(int x, int y) const {
        return static_cast<std::size_t>(y) * static_cast<std::size_t>(shadow_.width) +
               static_cast<std::size_t>(x);
    }
    Eigen::Vector2f place(int x, int y) const {
        return {static_cast<float>(shadow_.x_mm + (x + 0.5) * shadow_.length_mm / shadow_.width),
                static_cast<float>(shadow_.y_mm + (y + 0.5) * shadow_.breadth_mm / shadow_.height)};
    }
    Patch covering(double x0, double x1, double y0, double y1) const {
        const auto column = [&](double x) {
            return static_cast<int>((x - shadow_.x_mm) / shadow_.length_mm * shadow_.width);
        };
        const auto row = [&](double y) {
            return static_cast<int>((y - shadow_.y_mm) / shadow_.breadth_mm * shadow_.height);
        };
        return {std::clamp(column(x0), 0, shadow_.width), std::clamp(column(x1), -1, shadow_.width - 1),
                std::clamp(row(y0), 0, shadow_.height), std::clamp(row(y1), -1, shadow_.height - 1)};
    }

    /// Where a point's shadow falls, and how wide its edge is.
    Eigen::Vector2f fall(const Vec3f& p) const {
        const auto above = static_cast<float>(p.z() - ground_);
        return {p.x() - above * static_cast<float>(light_.x() / light_.z()),
                p.y() - above * static_cast<float>(light_.y() / light_.z())};
    }
    float blur(const Vec3f& p) const {
        return static_cast<float>(kPixel_mm + kLampSpread * std::max(0.0, p.z() - ground_));
    }

    void addStretch(const ShadeRod& c, Patch& touched) {
        const Eigen::Vector2f a = fall(c.from), b = fall(c.to), along = b - a;
        const float length = std::max(along.norm(), 1e-3f), r = c.radius_mm;
        const Eigen::Vector2f unit = along / length;
        const float blur_a = blur(c.from), blur_b = blur(c.to), reach = r + std::max(blur_a, blur_b);
        const Patch patch = covering(std::min(a.x(), b.x()) - reach, std::max(a.x(), b.x()) + reach,
                                     std::min(a.y(), b.y()) - reach, std::max(a.y(), b.y()) + reach);
        for (int y = patch.y0; y <= patch.y1; ++y)
            for (int x = patch.x0; x <= patch.x1; ++x) {
                const Eigen::Vector2f arm = place(x, y) - a;
                const float run = arm.dot(unit), off = std::abs(arm.x() * unit.y() - arm.y() * unit.x());
                const float w = blur_a + std::clamp(run / length, 0.0f, 1.0f) * (blur_b - blur_a);
                if (off > r + w || run < -w || run > length + w) continue;
                const float across = softStep((r - off) / w) - softStep((-r - off) / w);
                const float lengthwise = softStep(run / w) - softStep((run - length) / w);
                layer_[index(x, y)] += across * lengthwise;
            }
        touched.x0 = std::min(touched.x0, patch.x0);
        touched.x1 = std::max(touched.x1, patch.x1);
        touched.y0 = std::min(touched.y0, patch.y0);
        touched.y1 = std::max(touched.y1, patch.y1);
    }

    /// Surroundings hidden by a stretch close to the ground.
    void contact(const ShadeRod& c) {
        constexpr float kReach_mm = 330;
        const Vec3f axis = c.to - c.from;
        if (std::min(c.from.z(), c.to.z()) - static_cast<float>(ground_) > kReach_mm) return;
        const Patch patch =
            covering(std::min(c.from.x(), c.to.x()) - kReach_mm, std::max(c.from.x(), c.to.x()) + kReach_mm,
                     std::min(c.from.y(), c.to.y()) - kReach_mm, std::max(c.from.y(), c.to.y()) + kReach_mm);
        for (int y = patch.y0; y <= patch.y1; ++y)
            for (int x = patch.x0; x <= patch.x1; ++x) {
                const Eigen::Vector2f flat = place(x, y);
                const Vec3f arm = Vec3f(flat.x(), flat.y(), static_cast<float>(ground_)) - c.from;
                const float share =
                    std::clamp(arm.dot(axis) / std::max(1e-6f, axis.squaredNorm()), 0.0f, 1.0f);
                const Vec3f towards = share * axis - arm;
                const float d = towards.norm();
                if (d > kReach_mm) continue;
                const float fade = 1 - d / kReach_mm,
                            cosine = std::max(0.0f, towards.z()) / std::max(d, 1.0f);
                around_[index(x, y)] *=
                    1 - std::min(0.55f, 0.34f * fade * cosine *
                                            std::min(1.0f, 2.2f * c.radius_mm / std::max(d, 1.0f)));
            }
    }

    double ground_;
    Vec3 light_;
    GroundShadow shadow_;
    std::vector<float> key_, around_, layer_;
};

}  // namespace

GroundShadow groundShadow(const std::vector<ShadeRod>& capsules, const std::vector<Footprint>& footprints,
                          double ground_z_mm, const Vec3& light) {
    Box covers;
    for (const ShadeRod& c : capsules)
        for (const Vec3f& p : {c.from, c.to}) {
            const double above = std::max(0.0, p.z() - ground_z_mm),
                         reach = kLampSpread * above + c.radius_mm + 60;
            const Vec3 fall = p.cast<double>() - above / light.z() * light;
            covers.extend(fall - Vec3::Constant(reach)).extend(fall + Vec3::Constant(reach));
            covers.extend(p.cast<double>() - Vec3::Constant(350))
                .extend(p.cast<double>() + Vec3::Constant(350));
        }
    for (const Footprint& f : footprints) {
        const double reach = 2.2 * f.height_mm + 60;
        covers.extend(Vec3(f.x0 - reach, f.y0 - reach, 0)).extend(Vec3(f.x1 + reach, f.y1 + reach, 0));
    }
    if (covers.isEmpty()) return {};
    ShadowPlane plane(covers, ground_z_mm, light);
    for (std::size_t i = 0; i < capsules.size();) {
        std::size_t end = i + 1;
        while (end < capsules.size() && capsules[end].owner == capsules[i].owner) ++end;
        plane.cast(capsules, i, end);
        i = end;
    }
    for (const Footprint& f : footprints) plane.dim(f);
    return plane.finish();
}

}  // namespace hoopwright
