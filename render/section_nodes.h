// The faces a section cuts: tubes, plates and solid parts of car and driver filled and outlined, skins as
// their line.
#pragma once

#include <osg/Group>
#include <vector>

#include "core/geometry/vec.h"
#include "render/colours.h"
#include "render/look.h"
#include "render/shaders.h"
#include "render/tube_nodes.h"

namespace hoopwright {

/// Where a plane cuts triangles: closed rings, counter-clockwise round what is solid as seen against
/// `outward`, and open lines where the surface has an edge.
struct CutLines {
    std::vector<std::vector<Vec3>> rings;  ///< the first point is not repeated
    std::vector<std::vector<Vec3>> open;
};
/// @param corners  three for each triangle, counter-clockwise seen from outside
CutLines cutTriangles(const std::vector<Vec3>& corners, const SectionCut& cut);

class SectionNodes {
public:
    SectionNodes(osg::Group* root, const Programs& programs);
    struct Parts {
        std::vector<TubeNodes::Solid> tubes;
        std::vector<osg::Node*> metal, body, skins;  ///< plates, rails and wheels; drivers; shell and scans
        bool dark = false;
    };
    void set(const std::optional<SectionCut>& cut, const Parts& parts);

private:
    void fill(const CutLines& lines, Rgb colour, const Vec3& normal);
    void outline(const CutLines& lines, float width_px, const osg::Vec4& ink);

    Programs programs_;
    osg::ref_ptr<osg::Group> root_;
};

}  // namespace hoopwright
