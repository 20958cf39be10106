// What a surface of the car was made from.
#pragma once

#include <string_view>

namespace hoopwright {

/// The cross-sections; closed lines of glass; closed lines of floor; a scan.
enum class SurfaceKind { shell, glass, floor, scan };
std::string_view surfaceKindWord(SurfaceKind kind);

/// Kinds of surface, as bits.
using SurfaceKinds = unsigned;
constexpr SurfaceKinds bitOf(SurfaceKind kind) {
    return 1u << static_cast<unsigned>(kind);
}
inline constexpr SurfaceKinds kAllSurfaces = 0xf;

}  // namespace hoopwright
