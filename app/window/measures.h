// Numbers as the person at the desk reads and types them.
#pragma once

#include <QString>

#include "core/base/expected.h"
#include "core/units/measure.h"

namespace hoopwright {

/// What the person works in. `both` types millimetres and shows inches beside them.
enum class UnitsShown { mm, in, both };

/// The unit a bare number in a field is in.
Unit fieldUnit(Dimension dimension, UnitsShown shown);
/// The number alone, as a field shows it: no more decimals than it needs, at most 3 (inches 5).
QString fieldText(double base, Dimension dimension, UnitsShown shown);
/// What stands small behind a length: `31-63/64"` in `in` and `both`, nothing in `mm` or for other
/// dimensions.
QString besideText(double base, Dimension dimension, UnitsShown shown);
/// With its unit, for reading, to a tenth (thin things to what they have): "812.4 mm", `31.984 in`, `812.4
/// mm, 31-63/64"`.
QString measureText(double base, Dimension dimension, UnitsShown shown);
/// A long run of tube: "27.2 m", "89.2 ft", "27.2 m, 89.2 ft".
QString longText(double mm, UnitsShown shown);
/// "56.52 kg", "124.6 lb" or both.
QString massText(double kg, UnitsShown shown, int decimals = 2);
/// A unit as people write it: "cm2" is "cm²". "deg" is "°".
QString unitSign(const std::string& word);

/// Reads what was typed. A fraction without a unit ("31 63/64") is inches, whatever the person works in:
/// there are no fractions of a millimetre in a shop. Base units; the reason says what would be read.
Expected<double> readField(const QString& text, Dimension dimension, UnitsShown shown);
/// The same, and "+1/16" adds to `now`, "less 1/16" takes away.
Expected<double> readChange(const QString& text, double now, Dimension dimension, UnitsShown shown);

}  // namespace hoopwright
