#include "rules/measuring.h"

#include <cmath>

namespace hoopwright {
namespace {

constexpr double kEndOn = 1e-6;  // a direction shorter than this share of itself in a view has no angle there

}  // namespace

Vec3 seen(const Vec3& v, View view) {
    switch (view) {
        case View::side:
            return {v.x(), 0, v.z()};
        case View::front:
            return {0, v.y(), v.z()};
        case View::plan:
            return {v.x(), v.y(), 0};
        case View::in_space:
            break;
    }
    return v;
}

std::string viewWords(View view) {
    switch (view) {
        case View::side:
            return "in side view";
        case View::front:
            return "in front view";
        case View::plan:
            return "in plan";
        case View::in_space:
            break;
    }
    return "";
}

std::optional<double> angleToAxis(const Vec3& direction, const Vec3& axis, View view) {
    const Vec3 d = seen(direction, view);
    if (!(d.norm() > kEndOn * direction.norm())) return std::nullopt;
    return std::atan2(d.cross(axis).norm(), std::abs(d.dot(axis)));
}

std::optional<double> angleBetween(const Vec3& a, const Vec3& b, View view) {
    const Vec3 p = seen(b, view);
    if (!(p.norm() > kEndOn * b.norm())) return std::nullopt;
    return angleToAxis(a, p, view);
}

double levelHalfWidth_y(double radius_mm, const Vec3& t) {
    return radius_mm * std::sqrt(std::max(0.0, 1 - t.x() * t.x())) / std::abs(t.z());
}

double levelHalfWidth_x(double radius_mm, const Vec3& t) {
    return radius_mm * std::sqrt(std::max(0.0, 1 - t.y() * t.y())) / std::abs(t.z());
}

Shown shownLine(const Vec3& from, const Vec3& to) {
    return {{ShownLine{from, to, true}}, {}, 0.5 * (from + to)};
}

Shown shownAngle(const Vec3& apex, const Vec3& from, const Vec3& to) {
    return {{ShownAngle{apex, from, to}}, {}, apex};
}

Shown shownPoint(const Vec3& at) {
    return {{ShownPoint{at}}, {}, at};
}

const ResolvedMember& memberOf(const TableRun& run, const Subject& what) {
    return run.scene().member(what.first);
}
const MemberFacts& factsOf(const TableRun& run, const Subject& what) {
    return run.scene().facts(what.first);
}

Measured noStock(const TableRun& run, int member) {
    const MemberFacts& f = run.scene().facts(member);
    if (f.stock) return Measured::unknown("the stock list has no material '" + f.stock->material + "'");
    const std::string said = f.layout ? f.layout->stock : std::string();
    return Measured::unknown(said.empty() ? "no tube is chosen for it"
                                          : "the stock list has no tube '" + said + "'");
}

}  // namespace hoopwright
