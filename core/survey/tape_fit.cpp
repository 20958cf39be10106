#include "core/survey/tape_fit.h"

#include <Eigen/Dense>
#include <algorithm>
#include <cmath>

namespace hoopwright {
namespace {

constexpr double kSamePlace_mm = 1e-3;
constexpr std::size_t kMostTriples = 20;

Eigen::VectorXd residuals(std::span<const TapeEnd> tapes, const Vec3& at) {
    Eigen::VectorXd out(static_cast<Eigen::Index>(tapes.size()));
    for (std::size_t i = 0; i < tapes.size(); ++i) {
        const TapeEnd& tape = tapes[i];
        out[static_cast<Eigen::Index>(i)] = ((at - tape.from).norm() - tape.length_mm) / tape.sigma_mm;
    }
    return out;
}

/// A row per tape: its direction over its sigma.
Eigen::MatrixX3d directions(std::span<const TapeEnd> tapes, const Vec3& at) {
    Eigen::MatrixX3d out(static_cast<Eigen::Index>(tapes.size()), 3);
    for (std::size_t i = 0; i < tapes.size(); ++i) {
        const Vec3 along = at - tapes[i].from;
        const double length = along.norm();
        const Vec3 unit = length > 0 ? Vec3(along / length) : Vec3(Vec3::Zero());
        out.row(static_cast<Eigen::Index>(i)) = unit.transpose() / tapes[i].sigma_mm;
    }
    return out;
}

/// Sine of the sharpest corner's opening: 0 for three in a line.
double spread(const Vec3& a, const Vec3& b, const Vec3& c) {
    const double longest = std::max({(b - a).norm(), (c - a).norm(), (c - b).norm()});
    return longest > 0 ? (b - a).cross(c - a).norm() / (longest * longest) : 0;
}

struct Triple {
    std::size_t a, b, c;
    double spread;
};

/// Triples of tapes, widest first. Of many tapes only those near in the list are looked at.
std::vector<Triple> triples(std::span<const TapeEnd> tapes) {
    std::vector<Triple> out;
    const std::size_t n = tapes.size(), reach = n > 12 ? 4 : n;
    for (std::size_t a = 0; a < n; ++a) {
        for (std::size_t b = a + 1; b < std::min(n, a + reach); ++b) {
            for (std::size_t c = b + 1; c < std::min(n, b + reach); ++c) {
                out.push_back({a, b, c, spread(tapes[a].from, tapes[b].from, tapes[c].from)});
            }
        }
    }
    // Far in the list but wide: the two ends and the middle.
    if (n > 12) out.push_back({0, n / 2, n - 1, spread(tapes[0].from, tapes[n / 2].from, tapes[n - 1].from)});
    std::stable_sort(out.begin(), out.end(),
                     [](const Triple& x, const Triple& y) { return x.spread > y.spread; });
    if (out.size() > kMostTriples) out.resize(kMostTriples);
    std::erase_if(out, [](const Triple& one) { return one.spread < 1e-6; });
    return out;
}

/// The change of the place with each length, unless the first-order answer is no answer: in the plane of the
/// datums a tape's length does not change with the step across it.
std::optional<Eigen::Matrix<double, 3, Eigen::Dynamic>> movesAt(std::span<const TapeEnd> tapes,
                                                                const Vec3& at) {
    const Eigen::MatrixX3d rows = directions(tapes, at);
    const Eigen::Matrix3d normal = rows.transpose() * rows;
    const Eigen::SelfAdjointEigenSolver<Eigen::Matrix3d> eigen(normal);
    const double weakest = eigen.eigenvalues()[0];
    if (!(weakest > 0)) return std::nullopt;
    const double error_mm = 1 / std::sqrt(weakest);
    // Where a step of that error across the weak direction bends the tapes by more than it stretches them,
    // the straight-line answer is worthless: compare with the lever the datums give.
    const Vec3 weak = eigen.eigenvectors().col(0);
    double lever = 0;
    for (const TapeEnd& tape : tapes) lever = std::max(lever, std::abs((at - tape.from).dot(weak)));
    if (error_mm > 0.5 * lever) return std::nullopt;
    Eigen::Matrix<double, 3, Eigen::Dynamic> out = normal.inverse() * rows.transpose();
    for (std::size_t i = 0; i < tapes.size(); ++i) out.col(static_cast<Eigen::Index>(i)) /= tapes[i].sigma_mm;
    return out;
}

}  // namespace

TwoPlaces trilaterate(const std::array<Vec3, 3>& centres, const std::array<double, 3>& lengths_mm) {
    const auto& [a, b, c] = centres;
    const double d = (b - a).norm();
    const Vec3 ex = (b - a) / d;
    const double i = ex.dot(c - a);
    const Vec3 off = c - a - i * ex;
    const double j = off.norm();
    const Vec3 ey = off / j;
    const Vec3 ez = ex.cross(ey);
    const auto square = [](double v) { return v * v; };
    const double x = (square(lengths_mm[0]) - square(lengths_mm[1]) + d * d) / (2 * d);
    const double y = (square(lengths_mm[0]) - square(lengths_mm[2]) + i * i + j * j) / (2 * j) - i * x / j;
    const double height2 = square(lengths_mm[0]) - x * x - y * y;
    const Vec3 foot = a + x * ex + y * ey;
    const double height = std::sqrt(std::max(0.0, height2));
    return {foot + height * ez, foot - height * ez, std::max(0.0, -height2)};
}

TapePlace fitTapes(std::span<const TapeEnd> tapes, const Vec3& start) {
    Vec3 at = start;
    Eigen::VectorXd wrong = residuals(tapes, at);
    double misfit = wrong.squaredNorm(), damping = 1e-6;
    for (int step = 0; step < 200; ++step) {
        const Eigen::MatrixX3d rows = directions(tapes, at);
        const Eigen::Matrix3d normal = rows.transpose() * rows;
        const Vec3 slope = rows.transpose() * wrong;
        const double scale = std::max(normal.trace() / 3, 1e-12);
        const Vec3 move = (normal + damping * scale * Eigen::Matrix3d::Identity()).ldlt().solve(-slope);
        if (!move.allFinite()) break;
        const Vec3 next = at + move;
        const Eigen::VectorXd wrong_next = residuals(tapes, next);
        const double misfit_next = wrong_next.squaredNorm();
        if (misfit_next <= misfit) {
            at = next;
            wrong = wrong_next;
            misfit = misfit_next;
            damping = std::max(damping / 10, 1e-12);
            if (move.norm() < 1e-10) break;
        } else {
            damping *= 10;
            if (damping > 1e12) break;
        }
    }
    return {at, misfit, movesAt(tapes, at)};
}

std::vector<TapePlace> placesOfTapes(std::span<const TapeEnd> tapes) {
    std::vector<TapePlace> out;
    const auto keep = [&](const Vec3& start) {
        TapePlace place = fitTapes(tapes, start);
        if (!place.at.allFinite() || !std::isfinite(place.misfit)) return;
        for (TapePlace& known : out) {
            if ((known.at - place.at).norm() > kSamePlace_mm) continue;
            if (place.misfit < known.misfit) known = std::move(place);
            return;
        }
        out.push_back(std::move(place));
    };
    for (const Triple& one : triples(tapes)) {
        const TwoPlaces two =
            trilaterate({tapes[one.a].from, tapes[one.b].from, tapes[one.c].from},
                        {tapes[one.a].length_mm, tapes[one.b].length_mm, tapes[one.c].length_mm});
        keep(two.first);
        if (two.lacking_mm2 == 0) keep(two.second);
    }
    std::stable_sort(out.begin(), out.end(),
                     [](const TapePlace& a, const TapePlace& b) { return a.misfit < b.misfit; });
    return out;
}

double widthAcrossLine(std::span<const Vec3> points) {
    if (points.size() < 3) return 0;
    Vec3 middle = Vec3::Zero();
    for (const Vec3& p : points) middle += p;
    middle /= static_cast<double>(points.size());
    Eigen::Matrix3d spread_about = Eigen::Matrix3d::Zero();
    for (const Vec3& p : points) spread_about += (p - middle) * (p - middle).transpose();
    const Vec3 along = Eigen::SelfAdjointEigenSolver<Eigen::Matrix3d>(spread_about).eigenvectors().col(2);
    double widest = 0;
    for (const Vec3& p : points) {
        const Vec3 off = p - middle;
        widest = std::max(widest, (off - off.dot(along) * along).norm());
    }
    return widest;
}

}  // namespace hoopwright
