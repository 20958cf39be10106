// Small helpers between our meshes and the scene graph.
#pragma once

#include <osg/Geode>
#include <osg/Geometry>
#include <osg/ref_ptr>

#include "render/car_body.h"
#include "render/mesh.h"

namespace hoopwright {

inline osg::Vec3 toOsg(const Vec3& v) {
    return {static_cast<float>(v.x()), static_cast<float>(v.y()), static_cast<float>(v.z())};
}
inline osg::Vec3d toOsgDouble(const Vec3& v) {
    return {v.x(), v.y(), v.z()};
}

/// Vertex buffers of a mesh; texture coordinate 0 carries (light, weld distance, round, along). One colour,
/// unless the mesh has its own.
osg::ref_ptr<osg::Geometry> toGeometry(const Mesh& mesh, Rgb colour);
void setColour(osg::Geometry& geometry, Rgb colour);
/// Newly baked light into an existing geometry. @pre same number of corners.
void setLight(osg::Geometry& geometry, const Mesh& mesh);
std::size_t triangleCount(const osg::Geometry& geometry);

/// Lines as strips for the `line` program.
osg::ref_ptr<osg::Geometry> lineStrips(const std::vector<SmoothLine>& lines);

/// A geode with one drawable.
osg::ref_ptr<osg::Geode> geodeOf(osg::Drawable* drawable);

}  // namespace hoopwright
