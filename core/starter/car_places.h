// Where things of a car are, as a starter asks. Left side only. Not for use outside core/starter.
#pragma once

#include <optional>
#include <string>
#include <vector>

#include "core/fit/fit_car.h"
#include "core/model/cage_layout.h"
#include "core/skin/shell.h"

namespace hoopwright::starting {

/// The upper face of a rail at one place.
struct RailTop {
    std::string rail;
    Vec3 at = Vec3::Zero();
    Vec3 normal = Vec3::UnitZ(), along = Vec3::UnitX();  ///< unit
    std::string point;                                   ///< the car's point measured there; empty: none
};

/// The car must outlive it.
class CarPlaces {
public:
    CarPlaces(const Car& car, const ScanMeshes& meshes);

    /// A sentence that names what is not measured; empty where all is.
    const std::string& missing() const { return missing_; }
    /// @pre missing() is empty, and the point is one of the needed ones
    Vec3 point(const std::string& name) const { return *car_.pointAt(name); }
    const Car& car() const { return car_; }
    /// Shell, glass and scans.
    const FitCar& skin() const { return skin_; }
    /// The nearest measured point of a side and how far from it a place is, so that what stands there follows
    /// the point when it is measured anew.
    AtCarPoint anchorOf(const Vec3& at, bool right = false) const;
    /// Where the mirror image of a place on the left comes to be, as far from the right point as it is from
    /// the left one.
    Vec3 onTheRight(const Vec3& left) const;

    /// Height of the closed line of floor under a place, the highest below `under_z`.
    std::optional<double> floorAt(double x, double y, double under_z) const;
    /// y of the sill's inner face.
    double sillInner(double x) const;
    /// The sill's rail at that place, or empty.
    std::string sillRail(double x) const;
    /// Tops of the rails other than sills where a point was measured on them, and at each of these x.
    std::vector<RailTop> railTops(const std::vector<double>& at_x) const;
    /// The driver's face of the tunnel on the left: its middle there and the way it faces; nothing if it was
    /// not measured.
    struct TunnelFace {
        Vec3 at = Vec3::Zero(), normal = Vec3::UnitY();
    };
    std::optional<TunnelFace> tunnelAt(double x) const;
    /// Height of the belt line.
    double beltAt(double x) const;

private:
    std::optional<Vec3> lineAt(const std::string& name, double x) const;
    std::optional<RailTop> topOf(const FrameRail& rail, double x) const;

    const Car& car_;
    FitCar skin_;
    std::string missing_;
};

}  // namespace hoopwright::starting
