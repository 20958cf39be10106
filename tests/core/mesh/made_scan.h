// A scan made up: the inside of a car's shell with ripples and a scanner's noise, and tubes inside it.
#pragma once

#include <cmath>
#include <numbers>
#include <random>
#include <vector>

#include "core/geometry/centreline.h"
#include "core/mesh/triangle_mesh.h"

namespace hoopwright {

/// Round a shape like a car's body, at a share of its size.
inline Vec3 onMadeShell(double x, double turn, double share, double ripple = 0) {
    const double swell = 0.6 + 0.4 * std::sin(std::numbers::pi * (x + 2100) / 4200);
    const auto rounded = [](double s) { return std::copysign(std::sqrt(std::abs(s)), s); };
    return {x, (850 * swell * share + ripple) * rounded(std::cos(turn)),
            (1300 * swell * share + ripple) * rounded(std::sin(turn)) - 200};
}

/// 2 x rows x columns triangles; about 4.2 x 1.7 x 1.3 m [mm], open below and at both ends.
inline TriangleMesh madeScan(int rows, int columns, double noise_mm = 0.6) {
    std::mt19937_64 random(1959);
    std::normal_distribution<double> noise(0, noise_mm);
    TriangleMesh mesh;
    for (int i = 0; i <= rows; ++i)
        for (int k = 0; k <= columns; ++k) {
            const double along = static_cast<double>(i) / rows;
            const double turn = std::numbers::pi * (1.1 * k / columns - 0.05);
            const double ripple = 6 * std::sin(40 * along) * std::cos(9 * turn);
            const Vec3 off(noise(random), noise(random), noise(random));
            mesh.vertices.push_back(onMadeShell(4200 * along - 2100, turn, 1, ripple) + off);
        }
    const auto at = [&](int i, int k) { return static_cast<std::uint32_t>(i * (columns + 1) + k); };
    for (int i = 0; i < rows; ++i)
        for (int k = 0; k < columns; ++k) {
            mesh.triangles.push_back({at(i, k), at(i + 1, k), at(i + 1, k + 1)});
            mesh.triangles.push_back({at(i, k), at(i + 1, k + 1), at(i, k + 1)});
        }
    return mesh;
}

/// As a binary STL can hold it.
inline TriangleMesh inFloats(TriangleMesh mesh) {
    for (Vec3& vertex : mesh.vertices)
        for (double& part : vertex) {
            // g++ 12 at -O3 drops both conversions in the last turns of a plain loop.
            const volatile float held = static_cast<float>(part);
            part = static_cast<double>(held);
        }
    return mesh;
}

/// Bent tubes of a metre or so that follow madeScan() some centimetres inside it.
inline std::vector<Centreline> tubesInScan(int count) {
    std::mt19937_64 random(77);
    std::uniform_real_distribution<double> along(-1400, 1400), share(0.86, 0.95), turn(0.3, 2.8),
        step(250, 450), swing(-0.35, 0.35);
    std::vector<Centreline> tubes;
    while (static_cast<int>(tubes.size()) < count) {
        std::vector<PathPoint> path;
        double x = along(random), phi = turn(random);
        const double way = x > 0 ? -1 : 1;
        for (int i = 0; i < 4; ++i) {
            path.push_back({onMadeShell(x, phi, share(random)), 135});
            x += way * step(random);
            phi += swing(random);
        }
        PathResult made = makeCentreline(path);
        if (made.problems.empty()) tubes.push_back(std::move(made.line));
    }
    return tubes;
}

}  // namespace hoopwright
