// The units of the inch shops, exact by definition.
#pragma once

namespace hoopwright {

/// An inch is 25.4 mm, a pound 0.45359237 kg (international yard and pound agreement of 1959; NIST SP 811,
/// appendix B.8, from memory).
inline constexpr double kInch_mm = 25.4;
inline constexpr double kPound_kg = 0.45359237;

}  // namespace hoopwright
