// The programs of the picture: GLSL 1.20 in a compatibility profile, so that every driver and the software
// renderer draw the same. A small photo studio is written into them: a dome, four soft boxes, a pale floor.
#pragma once

#include <osg/Program>
#include <osg/ref_ptr>

#include "core/geometry/vec.h"

namespace hoopwright {

/// Towards the key light; the shader, the shadow map and the baked ground shadow share it.
inline const Vec3 kKeyLight = Vec3(0.30, 0.52, 0.80).normalized();

/// Where colours along a tube are bound, as `strip_map`.
inline constexpr int kStripUnit = 2;

struct Programs {
    osg::ref_ptr<osg::Program> surface;  ///< metal and paint, full quality
    osg::ref_ptr<osg::Program> draft;    ///< the same surfaces, cheap
    osg::ref_ptr<osg::Program> outline;  ///< inverted hull
    osg::ref_ptr<osg::Program> ground, draft_ground, backdrop;
    osg::ref_ptr<osg::Program> shell;     ///< car skin and panes
    osg::ref_ptr<osg::Program> line;      ///< lines of constant width in pixels
    osg::ref_ptr<osg::Program> depth;     ///< shadow map
    osg::ref_ptr<osg::Program> flat;      ///< evidence: plain colour with a little form
    osg::ref_ptr<osg::Program> cut_face;  ///< the same for what a section cuts
};
/// With the define kCutDefine set on a node, everything below it but ground, backdrop and evidence is left
/// out where dot(section, (place, 1)) > 0: `section` is a plane in car axes, mm.
inline constexpr const char* kCutDefine = "CUT";
Programs makePrograms();

}  // namespace hoopwright
