#include "core/drawing/line_view.h"

#include <cmath>

namespace hoopwright {

LineView viewFrom(std::string name, const Vec3& towards) {
    const Vec3 out = towards.normalized();
    LineView view;
    view.name = std::move(name);
    view.right =
        std::abs(out.z()) > 1 - 1e-12 ? Vec3(-Vec3::UnitX()) : Vec3(Vec3::UnitZ().cross(out).normalized());
    view.up = out.cross(view.right);
    return view;
}

const std::vector<LineView>& lineViews() {
    static const std::vector<LineView> kViews = {
        viewFrom("From the left", Vec3::UnitY()),   viewFrom("From the front", Vec3::UnitX()),
        viewFrom("From above", Vec3::UnitZ()),      viewFrom("From behind", -Vec3::UnitX()),
        viewFrom("From the right", -Vec3::UnitY()), viewFrom("From ahead and above", Vec3(1, 0.8, 0.7))};
    return kViews;
}

const LineView& viewShowing(const Vec3& from, const Vec3& to) {
    const std::vector<LineView>& all = lineViews();
    std::size_t best = 0;
    double longest = -1;
    for (std::size_t v = 0; v < 3; ++v) {
        const double length = (all[v].flat(to) - all[v].flat(from)).norm();
        if (length > longest + 1e-9) longest = length, best = v;
    }
    return longest > 1 ? all[best] : all.back();
}

}  // namespace hoopwright
