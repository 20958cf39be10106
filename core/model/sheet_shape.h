// Flaps of foot plates and the sheet of gussets, where they are in space. Corners are sharp here: what a fold
// takes is the shop's business (core/shop/fold.h).
#pragma once

#include <array>
#include <optional>
#include <string>
#include <vector>

#include "core/model/cage_geometry.h"

namespace hoopwright {

/// Where two flaps are side by side each stops this many thicknesses of sheet short of the corner, and the
/// plate is notched as deep. Common practice, no source.
inline constexpr double kCornerRelief = 2.5;
/// A hole in a gusset leaves at least this many thicknesses of sheet all round. Common practice, no source.
inline constexpr double kHoleWeb = 4;

/// Why the flaps of a plate cannot be: "has two flaps on one edge." and what to do. Nothing if they can.
struct SheetTrouble {
    std::string what, remedy;
};
std::optional<SheetTrouble> flapTrouble(const Plate& said);

/// A rectangle with its notches between flaps; the left-hand or single plate's. @pre no outline of its own
std::vector<Vec2> notchedRectangle(const Plate& said);
/// The edge of this side's plate that a flap said for the left-hand one is on.
PlateEdge edgeOnSide(PlateEdge edge, Side side);

std::string edgeWord(PlateEdge edge);  ///< "ahead", "behind", "left", "right"

/// In the order they are said; none if they cannot be. @param said  the layout's plate of `plate`
std::vector<PlacedFlap> placedFlaps(const Plate& said, const ResolvedPlate& plate);
/// Sheet of all flaps on top of the flat plate's, corners sharp [mm3].
double flapsVolume_mm3(const Plate& said);
/// A place on the face towards the cage, `offset` from the plate's middle in its own axes; past the fold of a
/// flap along the flap.
Vec3 placeOnSheet(const ResolvedPlate& plate, const Vec2& offset);
/// And back, of a place on that face or next to it.
Vec2 offsetOnSheet(const ResolvedPlate& plate, const Vec3& place);
/// Sheet of the walls of a riser, each corner once [mm3]. Nothing if the walls fill it.
std::optional<double> riserVolume_mm3(const std::vector<Vec2>& outline, const Riser& riser);
/// The outline with each side moved in by its own distance, corner by corner. @pre as many as corners
std::vector<Vec2> movedIn(const std::vector<Vec2>& outline, const std::vector<double>& by_mm);

/// The sheet of a gusset. Flat coordinates: x along the first bar from the corner of the two centrelines,
/// y square to it towards the second.
struct GussetShape {
    Vec3 corner = Vec3::Zero();                          ///< car axes
    Eigen::Matrix3d axes = Eigen::Matrix3d::Identity();  ///< columns x, y, and out of the plane
    std::array<double, 2> radius_mm = {0, 0};            ///< of the two bars
    double angle_rad = 0;                                ///< between them
    std::array<Vec2, 3> centres;  ///< corner, then one leg along each centreline; counter-clockwise
    std::array<Vec2, 3> clear;    ///< the part of it between the two tubes, in the same order
    double between_mm = 0;        ///< formed: from cheek to cheek, the greater tube's diameter; else 0
    std::optional<Vec2> hole;     ///< its middle, if there is one that fits
    double hole_mm = 0;
    double greatest_hole_mm = 0;  ///< that would fit
    double area_mm2 = 0;          ///< of one face of all its sheet, corners sharp
    double volume_mm3 = 0;
    Vec3 at(const Vec2& p, double out = 0) const { return corner + axes * Vec3(p.x(), p.y(), out); }
};
/// Nothing if no sheet is left between the tubes. `a`, `b`: the bars' outer radii.
std::optional<GussetShape> gussetShape(const Gusset& said, const std::array<Vec3, 3>& corners, double a_mm,
                                       double b_mm);
/// Of a gusset that is there. @pre gusset is of that cage
GussetShape gussetShape(const CageGeometry& cage, const ResolvedGusset& gusset);

/// A place of a formed gusset's strip or fold where it comes to lie on a tube: how far along the open side
/// from the end of that bar's leg. `out`: out of the plane of the two bars; `deep`: from the open side
/// towards the corner. `sharp_rad`: the angle between open side and bar, (0, pi).
double stripStart_mm(double radius_mm, double sharp_rad, double out_mm, double deep_mm);
/// Angles of the triangle of centrelines at the end of the first and of the second leg.
std::array<double, 2> legAngles_rad(const GussetShape& shape);

}  // namespace hoopwright
