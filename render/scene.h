// The cage, the car and the driver as a scene graph. No Qt here; no window is needed to build one.
#pragma once

#include <osg/Group>
#include <osg/ref_ptr>
#include <string>
#include <vector>

#include "core/model/cage_geometry.h"
#include "render/view.h"

namespace hoopwright {

/// What may be shown, hidden or picked as a class: node mask bits.
enum Layer : unsigned {
    kBackdrop = 1u << 0, kGround = 1u << 1, kTubes = 1u << 2, kPlates = 1u << 3, kDriver = 1u << 4, kShell = 1u << 5,
    kOutline = 1u << 6, kEvidence = 1u << 7, kWelds = 1u << 8, kCarLines = 1u << 9,
};

/// Draft: no outline, no welds, fewer sides, no shell fill; for while something moves. Full: everything.
enum class Quality { draft, full };
enum class Colouring { by_place, by_result, by_stock, steel };

/// State a result colouring needs: one entry per resolved member.
enum class Mark { none, meets, fails, ask, cannot_tell };

struct Rgb {
    float r = 0, g = 0, b = 0;
};
/// Working colour of a place in the car: distinct for colour-blind eyes, never a result colour.
Rgb placeColour(Place place);
Rgb markColour(Mark mark);

struct SceneLook {
    Colouring colouring = Colouring::by_place;
    bool show_car = true, show_drivers = true, show_plates = true, show_ground = true, dark = false;
    std::vector<std::string> hidden_members;
    bool x_ray = false;                  ///< tubes not selected are drawn see-through
};

/// A scene that follows edits: set() rebuilds only what changed. Build and set on the thread that draws.
/// All lengths in mm in car axes; ground at Car::ground_z_mm.
class CageScene {
public:
    CageScene();
    ~CageScene();
    CageScene(const CageScene&) = delete;
    CageScene& operator=(const CageScene&) = delete;

    /// New geometry. Members whose shape did not change keep their meshes. Full baking (ambient shadow, ground shadow)
    /// is put off until the first full-quality frame.
    void set(const Job& job, const CageGeometry& cage);
    void setLook(const SceneLook& look);
    void setMarks(std::vector<Mark> marks);               ///< per resolved member
    void setSelected(std::vector<std::string> ids);       ///< resolved member or plate ids
    void setQuality(Quality quality);
    void setViewport(int width_px, int height_px);        ///< device pixels, for line widths
    /// Does the baking that a full-quality frame needs and was put off; true if anything was done.
    bool bake();
    /// A new OpenGL context: drop cached textures and draw the shadow map anew.
    void contextRecreated();

    osg::Group* root() const;
    osg::Group* evidence() const;                         ///< drawn over everything; filled by render/evidence.h users
    Box bounds() const;                                   ///< of cage and car
    std::size_t triangles() const;

private:
    struct Parts;
    Parts* parts_;
};

/// What a ray meets first among tubes and plates.
struct Picked {
    int member = -1;           ///< index into CageGeometry::members
    int plate = -1;
    Vec3 at = Vec3::Zero();
    double station_mm = 0;     ///< on the member's centreline
    explicit operator bool() const { return member >= 0 || plate >= 0; }
};
/// Exact on the geometry itself (capsules and arcs, plates), not on triangles; `slack_mm` widens thin tubes for the hand.
Picked pick(const CageGeometry& cage, const Vec3& origin, const Vec3& direction, double slack_mm = 0);

}  // namespace hoopwright
