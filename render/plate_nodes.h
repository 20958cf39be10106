// Plates and gussets in the scene.
#pragma once

#include <osg/Geode>
#include <osg/Group>
#include <string>
#include <vector>

#include "core/model/cage_geometry.h"
#include "render/ambient.h"
#include "render/scene.h"

namespace hoopwright {

class PlateNodes {
public:
    explicit PlateNodes(osg::Group* lit);
    void set(const CageLayout& layout, const CageGeometry& cage);
    /// What shades the plates changed.
    void tubesChanged() { unshaded_ = true; }
    /// Shade of the tubes on plates, if they or the tubes changed; false if not.
    bool bake(const std::vector<ShadeRod>& tubes, double ground_z_mm);
    void dress(const std::vector<std::string>& selected, const SceneLook& look);
    void show(bool plates);

    osg::Group* node() const { return plates_; }

private:
    struct Piece {
        std::string id;
        Mesh mesh;
        osg::ref_ptr<osg::Geometry> geometry;
        osg::ref_ptr<osg::Geode> node;
    };
    void add(const std::string& id, Mesh mesh);

    osg::ref_ptr<osg::Group> plates_;
    std::vector<Piece> pieces_;
    std::vector<double> print_;
    bool unshaded_ = false;
};

}  // namespace hoopwright
