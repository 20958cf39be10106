// The cage, the car and the driver as a scene graph. No Qt here; no window is needed to build one.
#pragma once

#include <memory>
#include <osg/Group>
#include <osg/ref_ptr>
#include <string>
#include <vector>

#include "core/model/cage_geometry.h"
#include "render/colours.h"
#include "render/gap_scale.h"
#include "render/look.h"
#include "render/pick.h"
#include "render/view.h"

namespace hoopwright {

/// What may be shown, hidden or picked as a class: node mask bits.
enum Layer : unsigned {
    kBackdrop = 1u << 0,
    kGround = 1u << 1,
    kTubes = 1u << 2,
    kPlates = 1u << 3,
    kDriver = 1u << 4,
    kShell = 1u << 5,
    kOutline = 1u << 6,
    kEvidence = 1u << 7,
    kWelds = 1u << 8,
    kCarLines = 1u << 9,
    kSection = 1u << 10,
};

/// A scene that follows edits: set() rebuilds only what changed. Build and set on the thread that draws.
/// All lengths in mm in car axes; ground at Car::ground_z_mm.
class CageScene {
public:
    CageScene();
    ~CageScene();
    CageScene(const CageScene&) = delete;
    CageScene& operator=(const CageScene&) = delete;

    /// New geometry. Members whose shape did not change keep their meshes. Full baking (ambient shadow,
    /// ground shadow) is put off until the first full-quality frame.
    void set(const Job& job, const CageGeometry& cage);
    void setLook(const SceneLook& look);
    void setMarks(std::vector<Mark> marks);      ///< per resolved member
    void setGaps(std::vector<GapProfile> gaps);  ///< per resolved member, for Colouring::by_gap
    /// Per resolved member, for every other colouring: in place of the colour the scene would choose.
    void setPaints(std::vector<BarPaint> paints);
    void setSelected(std::vector<std::string> ids);  ///< resolved member or plate ids
    void setQuality(Quality quality);
    /// Device pixels; line widths are `line_px` times those of a plain screen (its device pixel ratio).
    void setViewport(int width_px, int height_px, double line_px = 1);
    /// After setViewport() of a part: the height of the whole picture, and how much of it lies below the
    /// part. For pictures drawn in parts.
    void setPart(int below_px, int whole_px);
    /// Does the baking that a full-quality frame needs and was put off; true if anything was done.
    bool bake();
    /// A new OpenGL context: drop cached textures and draw the shadow map anew.
    void contextRecreated();

    osg::Group* root() const;
    osg::Group* evidence() const;  ///< drawn over everything; filled by render/evidence.h users
    Box bounds() const;            ///< of cage and car
    Box boundsOfScan(const std::string& file) const;  ///< as it stands, in car axes; empty: no such scan
    std::size_t triangles() const;

private:
    struct Parts;
    std::unique_ptr<Parts> parts_;
};

}  // namespace hoopwright
