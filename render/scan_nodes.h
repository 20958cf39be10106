// The scans of a car in the scene: one clear skin each, through which the tubes are seen.
#pragma once

#include <osg/Group>
#include <osg/MatrixTransform>
#include <vector>

#include "core/geometry/vec.h"
#include "core/mesh/scan_mesh.h"
#include "core/skin/car_skin.h"
#include "render/scene.h"
#include "render/shaders.h"

namespace hoopwright {

class ScanNodes {
public:
    ScanNodes(osg::Group* root, const Programs& programs);
    /// Thinned and clipped anew only where the mesh or what is kept of it changed.
    void set(const Car& car, const ScanMeshes& meshes);
    /// A chosen scan (by its file) is drawn closer, so that places on it can be made out.
    void dress(const std::vector<std::string>& selected, bool dark);
    void show(bool scans);
    void setQuality(Quality quality);
    const Box& bounds() const { return bounds_; }
    Box boundsOf(const std::string& file) const;
    std::size_t triangles() const;  ///< of the fine ones

    osg::Group* node() const { return root_; }

private:
    struct Scan {
        std::string file;
        ScanMeshRef mesh;
        MeshPlacement placement;
        std::vector<HalfSpace> keep;  // in the mesh's own numbers
        osg::ref_ptr<osg::MatrixTransform> place;
        osg::ref_ptr<osg::Group> fine, coarse;
        Box box;  // in car axes
        std::size_t triangles = 0;
    };
    void make(Scan& scan) const;

    Programs programs_;
    osg::ref_ptr<osg::Group> root_;
    std::vector<Scan> scans_;
    Quality quality_ = Quality::full;
    Box bounds_;
};

}  // namespace hoopwright
