// A scan made up: the inside of a car's shell with ripples and a scanner's noise, and tubes inside it.
#pragma once

#include <cmath>
#include <numbers>
#include <random>
#include <vector>

#include "core/geometry/centreline.h"
#include "core/mesh/triangle_mesh.h"

namespace hoopwright {

/// 2 x rows x columns triangles; about 4.2 x 1.7 x 1.3 m [mm], open below and at both ends.
inline TriangleMesh madeScan(int rows, int columns, double noise_mm = 0.6) {
    std::mt19937_64 random(1959);
    std::normal_distribution<double> noise(0, noise_mm);
    TriangleMesh mesh;
    for (int i = 0; i <= rows; ++i)
        for (int k = 0; k <= columns; ++k) {
            const double along = static_cast<double>(i) / rows;
            const double turn = std::numbers::pi * (1.1 * k / columns - 0.05);
            const double swell = 0.6 + 0.4 * std::sin(std::numbers::pi * along);
            const auto rounded = [](double s) { return std::copysign(std::sqrt(std::abs(s)), s); };
            const double ripple = 6 * std::sin(40 * along) * std::cos(9 * turn);
            mesh.vertices.emplace_back(
                4200 * along - 2100 + noise(random),
                (850 * swell + ripple) * rounded(std::cos(turn)) + noise(random),
                (1300 * swell + ripple) * rounded(std::sin(turn)) - 200 + noise(random));
        }
    const auto at = [&](int i, int k) { return static_cast<std::uint32_t>(i * (columns + 1) + k); };
    for (int i = 0; i < rows; ++i)
        for (int k = 0; k < columns; ++k) {
            mesh.triangles.push_back({at(i, k), at(i + 1, k), at(i + 1, k + 1)});
            mesh.triangles.push_back({at(i, k), at(i + 1, k + 1), at(i, k + 1)});
        }
    return mesh;
}

/// Bent tubes of a metre or so, most of them within some centimetres of madeScan() somewhere.
inline std::vector<Centreline> tubesInScan(int count) {
    std::mt19937_64 random(77);
    std::uniform_real_distribution<double> along(-1400, 1400), share(0.55, 0.9), turn(0.15, 3.0),
        step(250, 450);
    std::vector<Centreline> tubes;
    while (static_cast<int>(tubes.size()) < count) {
        std::vector<PathPoint> path;
        double x = along(random), phi = turn(random);
        const double way = x > 0 ? -1 : 1;
        for (int i = 0; i < 4; ++i) {
            const double size = share(random);
            path.push_back({{x, 700 * size * std::cos(phi), 1050 * size * std::sin(phi) - 200}, 135});
            x += way * step(random);
            phi += 0.3 * (turn(random) - 1.5);
        }
        PathResult made = makeCentreline(path);
        if (made.problems.empty()) tubes.push_back(std::move(made.line));
    }
    return tubes;
}

}  // namespace hoopwright
