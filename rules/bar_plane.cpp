#include "rules/bar_plane.h"

#include <Eigen/Eigenvalues>
#include <algorithm>
#include <vector>

namespace hoopwright {

BarPlane planeOf(const Centreline& line) {
    std::vector<Vec3> points;
    for (double station : line.sampleStations(0.1)) points.push_back(line.point(station));
    BarPlane out;
    for (const Vec3& p : points) out.middle += p / static_cast<double>(points.size());
    Eigen::Matrix3d spread = Eigen::Matrix3d::Zero();
    for (const Vec3& p : points) spread += (p - out.middle) * (p - out.middle).transpose();
    const Eigen::SelfAdjointEigenSolver<Eigen::Matrix3d> axes(spread);
    out.normal = axes.eigenvectors().col(0);
    // A bar bent by less than a hair has no plane of its own.
    out.decided = axes.eigenvalues()(1) > 1e-6 * axes.eigenvalues()(2);
    double low = 0, high = 0;
    for (const Vec3& p : points) {
        low = std::min(low, out.normal.dot(p - out.middle));
        high = std::max(high, out.normal.dot(p - out.middle));
    }
    out.off_mm = std::max(high, -low);
    return out;
}

}  // namespace hoopwright
