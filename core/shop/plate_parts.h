// What is cut from sheet for a cage, as it lies flat on the cutting table.
#pragma once

#include <span>
#include <string>
#include <vector>

#include "core/model/cage_geometry.h"
#include "core/shop/cope_sheet.h"

namespace hoopwright {

/// Points of a part [mm] count from its datum corner: x to the right, y up, the part in the corner between.
struct PartHole {
    Vec2 at = Vec2::Zero();
    double diameter_mm = 0;  ///< 0: no size is known for it, so its middle is marked
    std::string what;        ///< "bolt M8"
};
/// Across the blank, in the middle of what the fold takes.
struct PartFold {
    Vec2 from = Vec2::Zero(), to = Vec2::Zero();
    double angle_rad = 0;  ///< (0, pi)
    bool towards = true;   ///< whoever looks at the blank as it is drawn; else away
    double radius_mm = 0, allowance_mm = 0;
    std::string what;  ///< "flap ahead"
};
/// One face of the finished part, measured over the outside of its folds (a gusset's: over the inside).
struct PartPlane {
    std::string what;  ///< "face", "flap ahead", "wall 1", "cheek", "strip"
    double area_mm2 = 0;
};
/// What of one plane of a plate lies on the rail the plate is tied to: its lower face, or the outer face of a
/// flap, no more than kLiesOn_mm off a side of the rail and within 15 degrees of it. The rail is straight
/// there.
struct PlateSupport {
    std::string plate, rail;  ///< resolved id; the rail's name, or empty
    std::string plane;        ///< "face", "flap left" of this plate
    double on_rail_mm2 = 0;
    double off_rail_mm2 = 0;  ///< on other sheet of the car, or on nothing: look
};
inline constexpr double kLiesOn_mm = 6;
struct FootWeld {
    int member = -1, end = 0;
    double weld_mm = 0;  ///< of the tube's end, as on its cope sheet
};

struct PlatePart {
    enum class Kind { foot, backing, riser, gusset };
    Kind kind = Kind::foot;
    std::string id;               ///< "hoop_foot", "hoop_foot.riser"
    std::string name;             ///< "Hoop foot, riser"
    std::vector<std::string> of;  ///< resolved ids of the plates or gussets it is cut for, one each
    double thickness_mm = 0;
    std::string material;       ///< Material::id; empty: not said
    std::string trouble;        ///< why there is no flat; then outline, holes and folds are empty
    std::vector<Vec2> outline;  ///< counter-clockwise; chords stray less than 0.01 mm from an arc
    std::vector<PartHole> holes;
    std::vector<PartFold> folds;
    Vec2 middle = Vec2::Zero();  ///< where the plate's middle comes to lie (feet and backing plates)
    /// Left and right differ: the right one is this blank turned over, then folded the way that is said.
    bool handed = false;
    std::vector<PartPlane> planes;
    double faces_mm2 = 0;  ///< all planes
    double blank_mm2 = 0;  ///< of the flat, holes taken off
    double blank_kg = 0;   ///< of one
    double weld_mm = 0;    ///< to weld it in, feet of tubes apart
    std::vector<PlateSupport> supports;
    std::vector<FootWeld> feet;
    std::vector<std::string> words;     ///< how it is made: seam, bolts, what is turned over
    std::vector<std::string> cautions;  ///< what does not fit
    int count() const { return static_cast<int>(of.size()); }
    Vec2 size_mm() const;  ///< of the box round the flat
};
std::string partKindWord(PlatePart::Kind kind);  ///< "foot", "backing", "riser", "gusset"

/// In the layout's order: of each plate its foot, backing plate and riser, then the gussets. Left and right
/// are one part where the same blank makes both. @param copes  welds of feet are taken from these
std::vector<PlatePart> plateParts(const Job& job, const CageGeometry& cage, std::span<const CopeSheet> copes);

}  // namespace hoopwright
