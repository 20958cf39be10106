// A person in the seat, drawn from the measured points: neutral, helmet on, belted.
#pragma once

#include "core/model/cage_geometry.h"
#include "core/model/driver.h"
#include "render/mesh.h"

namespace hoopwright {

/// Body, gloves, shoes and neck as one soft skin. Limb thickness is that of an ordinary adult, scaled with
/// the hip to shoulder length; only the measured points are meant to be exact.
/// `cell_mm`: how finely the skin is cut into triangles.
Mesh driverBody(const Driver& driver, double cell_mm = 15);
/// The helmet's measured ellipsoid, and its eye port and trim laid on it (2 mm proud).
Mesh helmetShell(const Driver& driver, int rows = 48);
Mesh helmetVisor(const Driver& driver);
/// A bucket seat to the measured back height and width; empty where no seat was measured.
Mesh seatShell(const Driver& driver);
/// Shoulder straps over the measured shoulders to the slots and on as core/driver/straps.h says they run:
/// taut to the belt bar and round it, or to their anchors; lap straps to theirs, and the buckle.
Mesh beltStraps(const Driver& driver, const CageGeometry& cage);
/// The measured steering wheel; without one, a rim through both hands (a hint), or nothing unless they are
/// 200 to 450 mm apart.
Mesh steeringWheel(const Driver& driver);

}  // namespace hoopwright
