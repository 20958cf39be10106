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
/// Shoulder straps over the shoulders to the slots and on to the belt bar, lap straps to their anchors, and
/// the buckle. `bar`: the belt bar, or null.
Mesh beltStraps(const Driver& driver, const ResolvedMember* bar);
/// The rim of a steering wheel through both hands (a hint, not measured); empty unless they are 200 to 450 mm
/// apart.
Mesh steeringWheel(const Driver& driver);

}  // namespace hoopwright
