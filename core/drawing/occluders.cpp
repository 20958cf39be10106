#include "core/drawing/occluders.h"

#include <algorithm>
#include <cmath>

#include "core/model/end_hosts.h"

namespace hoopwright {
namespace {

constexpr double kChordError_mm = 0.02, kBehind_mm = 0.02;
constexpr double kGridCells = 96;
constexpr double kGridStep_mm = 60;  // a long rod that lies aslant is put into cells bit by bit

}  // namespace

Occluders::Occluders(const CageGeometry& cage, const LineView& view) : view_(view), towards_(view.towards()) {
    for (const ResolvedMember& member : cage.members)
        if (member.radius_mm() > 0) addTube(cage, member);
    for (const ResolvedPlate& plate : cage.plates) addSheet(lookOf(plate));
    for (const ResolvedGusset& gusset : cage.gussets) addSheet(lookOf(cage, gusset));
    sort();
}

void Occluders::addTube(const CageGeometry& cage, const ResolvedMember& member) {
    const std::size_t first = rods_.size();
    for (const Piece& piece : member.line.pieces()) {
        const bool bend = piece.kind == Piece::Kind::bend;
        int chords = 1;
        if (bend) {
            const double turn = 2 * std::acos(1 - std::min(1.0, kChordError_mm / piece.radius_mm));
            chords = std::max(1, static_cast<int>(std::ceil(piece.angle_rad / turn)));
        }
        const double extra = bend ? member.radius_mm() * std::tan(piece.angle_rad / chords / 2) : 0;
        for (int i = 0; i < chords; ++i) {
            const Vec3 a = inView(piece.point(piece.length_mm * i / chords)),
                       b = inView(piece.point(piece.length_mm * (i + 1) / chords));
            Rod rod;
            rod.from = a;
            rod.length = (b - a).norm();
            if (rod.length < 1e-9) continue;
            rod.along = (b - a) / rod.length;
            rod.radius = member.radius_mm();
            rod.extra_from = i > 0 ? extra : 0;
            rod.extra_to = i + 1 < chords ? extra : 0;
            rods_.push_back(rod);
        }
    }
    if (rods_.size() == first) return;
    // On a plate the tube ends at its face; on a tube the rest lies inside that tube.
    for (const int end : {0, 1}) {
        const ResolvedEnd& e = member.ends[static_cast<std::size_t>(end)];
        if (e.on != ResolvedEnd::On::plate || e.plate < 0) continue;
        const std::vector<int> faces = facesOf(e);
        Rod& rod = end == 0 ? rods_[first] : rods_.back();
        (end == 0 ? rod.extra_from : rod.extra_to) = 2 * member.radius_mm();
        const ResolvedPlate& plate = cage.plates[static_cast<std::size_t>(e.plate)];
        for (const CopePlane& face : planesOf(plate, faces))
            rod.cuts.push_back({inView(face.normal), face.normal.dot(face.point)});
        // Over a fold folded down there is metal before either face.
        rod.before_any = faces.size() == 2 && !plate.flaps[static_cast<std::size_t>(faces[1])].up();
    }
}

void Occluders::addSheet(const SheetLook& sheet) {
    for (const auto& [a, b, c] : sheet.triangles) triangles_.push_back({{inView(a), inView(b), inView(c)}});
}

template <typename Visit>
void Occluders::eachCell(const Vec2& low, const Vec2& high, Visit visit) {
    const auto index = [&](double value, double from, int most) {
        return std::clamp(static_cast<int>(std::floor((value - from) / cell_mm_)), 0, most - 1);
    };
    const int x0 = index(low.x(), low_.x(), wide_), x1 = index(high.x(), low_.x(), wide_);
    const int y0 = index(low.y(), low_.y(), high_cells_), y1 = index(high.y(), low_.y(), high_cells_);
    for (int y = y0; y <= y1; ++y)
        for (int x = x0; x <= x1; ++x)
            visit(static_cast<std::size_t>(y) * static_cast<std::size_t>(wide_) +
                  static_cast<std::size_t>(x));
}

void Occluders::sort() {
    const auto widen = [&](const Vec3& p, double by) {
        low_ = low_.cwiseMin(Vec2(p.head<2>() - Vec2::Constant(by)));
        high_ = high_.cwiseMax(Vec2(p.head<2>() + Vec2::Constant(by)));
    };
    for (const Rod& rod : rods_)
        for (const double end : {-rod.extra_from, rod.length + rod.extra_to})
            widen(rod.from + rod.along * end, rod.radius);
    for (const Triangle& one : triangles_)
        for (const Vec3& p : one.corners) widen(p, 0);
    if (low_.x() > high_.x()) return;
    cell_mm_ = std::max(1.0, (high_ - low_).maxCoeff() / kGridCells);
    wide_ = static_cast<int>((high_.x() - low_.x()) / cell_mm_) + 1;
    high_cells_ = static_cast<int>((high_.y() - low_.y()) / cell_mm_) + 1;
    const std::size_t cells = static_cast<std::size_t>(wide_) * static_cast<std::size_t>(high_cells_);
    cell_rods_.resize(cells);
    cell_triangles_.resize(cells);
    for (std::size_t r = 0; r < rods_.size(); ++r) {
        const Rod& rod = rods_[r];
        const double from = -rod.extra_from, whole = rod.length + rod.extra_to - from;
        const int bits = std::max(1, static_cast<int>(std::ceil(whole / kGridStep_mm)));
        for (int i = 0; i < bits; ++i) {
            const Vec2 a = (rod.from + rod.along * (from + whole * i / bits)).head<2>(),
                       b = (rod.from + rod.along * (from + whole * (i + 1) / bits)).head<2>();
            const Vec2 by = Vec2::Constant(rod.radius);
            eachCell(a.cwiseMin(b) - by, a.cwiseMax(b) + by, [&](std::size_t at) {
                std::vector<int>& there = cell_rods_[at];
                if (there.empty() || there.back() != static_cast<int>(r))
                    there.push_back(static_cast<int>(r));
            });
        }
    }
    for (std::size_t t = 0; t < triangles_.size(); ++t) {
        const auto& c = triangles_[t].corners;
        const Vec2 a = c[0].head<2>(), b = c[1].head<2>(), d = c[2].head<2>();
        eachCell(a.cwiseMin(b).cwiseMin(d), a.cwiseMax(b).cwiseMax(d),
                 [&](std::size_t at) { cell_triangles_[at].push_back(static_cast<int>(t)); });
    }
}

bool Occluders::hides(const Rod& rod, const Vec3& p) {
    // The line of sight p + t z against the rod: a stretch of t inside it.
    const Vec3 q = p - rod.from;
    const double at = q.dot(rod.along), rate = rod.along.z();
    const Vec3 across = q - at * rod.along, way = Vec3::UnitZ() - rate * rod.along;
    const double a = way.squaredNorm(), b = across.dot(way),
                 c = across.squaredNorm() - rod.radius * rod.radius;
    double from = -1e300, to = 1e300;
    if (a < 1e-14) {
        if (c >= 0) return false;
    } else {
        const double root = b * b - a * c;
        if (root <= 0) return false;
        from = (-b - std::sqrt(root)) / a;
        to = (-b + std::sqrt(root)) / a;
    }
    const auto clip = [&](double value, double slope) {  // keeps value + slope t >= 0
        if (std::abs(slope) < 1e-14) {
            if (value < 0) to = from - 1;
        } else if (slope > 0) {
            from = std::max(from, -value / slope);
        } else {
            to = std::min(to, -value / slope);
        }
    };
    clip(at + rod.extra_from, rate);
    clip(rod.length + rod.extra_to - at, -rate);
    if (!rod.before_any || rod.cuts.size() < 2) {
        for (const Rod::Cut& cut : rod.cuts) clip(cut.normal.dot(p) - cut.offset, cut.normal.z());
        return to > from && to > kBehind_mm;
    }
    const double whole_from = from, whole_to = to;
    for (const Rod::Cut& cut : rod.cuts) {
        from = whole_from, to = whole_to;
        clip(cut.normal.dot(p) - cut.offset, cut.normal.z());
        if (to > from && to > kBehind_mm) return true;
    }
    return false;
}

bool Occluders::hides(const Triangle& triangle, const Vec3& p) {
    const auto& c = triangle.corners;
    const Vec3 n = (c[1] - c[0]).cross(c[2] - c[0]);
    if (std::abs(n.z()) < 1e-9) return false;  // seen on edge
    const double t = n.dot(c[0] - p) / n.z();
    if (t <= kBehind_mm) return false;
    const double turn = n.z() > 0 ? 1 : -1;
    for (std::size_t i = 0; i < 3; ++i) {
        const Vec2 a = c[i].head<2>(), b = c[(i + 1) % 3].head<2>(), q = p.head<2>();
        if (turn * ((b.x() - a.x()) * (q.y() - a.y()) - (b.y() - a.y()) * (q.x() - a.x())) < 0) return false;
    }
    return true;
}

bool Occluders::hides(const Vec3& at) const {
    const Vec3 p = inView(at);
    if (cell_rods_.empty() || p.x() < low_.x() || p.y() < low_.y() || p.x() > high_.x() || p.y() > high_.y())
        return false;
    const int x = std::clamp(static_cast<int>((p.x() - low_.x()) / cell_mm_), 0, wide_ - 1),
              y = std::clamp(static_cast<int>((p.y() - low_.y()) / cell_mm_), 0, high_cells_ - 1);
    const std::size_t cell =
        static_cast<std::size_t>(y) * static_cast<std::size_t>(wide_) + static_cast<std::size_t>(x);
    return std::ranges::any_of(cell_rods_[cell],
                               [&](int r) { return hides(rods_[static_cast<std::size_t>(r)], p); }) ||
           std::ranges::any_of(cell_triangles_[cell],
                               [&](int t) { return hides(triangles_[static_cast<std::size_t>(t)], p); });
}

}  // namespace hoopwright
