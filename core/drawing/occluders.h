// What can stand between a point and whoever looks. Used by lineDrawing().
#pragma once

#include <array>
#include <limits>
#include <vector>

#include "core/drawing/line_view.h"
#include "core/drawing/sheet_look.h"
#include "core/model/cage_geometry.h"

namespace hoopwright {

/// Tubes as chains of rods, sheet as triangles, sorted into a grid on the paper. Coordinates of the view:
/// x right, y up, z towards whoever looks [mm].
class Occluders {
public:
    Occluders(const CageGeometry& cage, const LineView& view);
    /// Is any metal in front of `p` (car axes)? Metal that ends within 0.02 mm of it is not.
    bool hides(const Vec3& p) const;

private:
    struct Rod {
        Vec3 from, along;
        double length = 0, radius = 0;
        double extra_from = 0, extra_to = 0;  ///< how far it goes on, so that chords close at bends
        /// Metal only where normal . p >= offset, of all cuts or of any.
        struct Cut {
            Vec3 normal;
            double offset;
        };
        std::vector<Cut> cuts = {};
        bool before_any = false;
    };
    struct Triangle {
        std::array<Vec3, 3> corners;
    };
    void addTube(const CageGeometry& cage, const ResolvedMember& member);
    void addSheet(const SheetLook& sheet);
    void sort();
    Vec3 inView(const Vec3& p) const { return {view_.right.dot(p), view_.up.dot(p), towards_.dot(p)}; }
    static bool hides(const Rod& rod, const Vec3& p);
    static bool hides(const Triangle& triangle, const Vec3& p);
    template <typename Visit>
    void eachCell(const Vec2& low, const Vec2& high, Visit visit);

    LineView view_;
    Vec3 towards_;
    std::vector<Rod> rods_;
    std::vector<Triangle> triangles_;
    Vec2 low_ = Vec2::Constant(std::numeric_limits<double>::infinity()),
         high_ = Vec2::Constant(-std::numeric_limits<double>::infinity());
    double cell_mm_ = 1;
    int wide_ = 1, high_cells_ = 1;
    std::vector<std::vector<int>> cell_rods_, cell_triangles_;
};

}  // namespace hoopwright
