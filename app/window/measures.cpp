#include "app/window/measures.h"

#include <cmath>
#include <numbers>

#include "core/base/text.h"

namespace hoopwright {
namespace {

constexpr double kThin_mm = 10, kMetre_mm = 1000, kFoot_mm = 304.8;

/// Fewest decimals, from `least` to `most`, that show the value to half a unit of the last.
QString trimmed(double value, int least, int most) {
    for (int decimals = least; decimals < most; ++decimals) {
        const double scale = std::pow(10.0, decimals);
        if (std::abs(std::round(value * scale) / scale - value) < 0.5 * std::pow(10.0, -most)) {
            return QString::fromStdString(fixed(value, decimals));
        }
    }
    return QString::fromStdString(fixed(value, most));
}

bool hasUnit(const QString& text) {
    for (const QChar c : text) {
        if (c.isLetter() || c == QLatin1Char('"') || c == QLatin1Char('\'') || c == QChar(0x2033))
            return true;
    }
    return false;
}

const char* unitWord(Dimension dimension, bool inches) {
    switch (dimension) {
        case Dimension::none:
            return "";
        case Dimension::length:
            return inches ? "in" : "mm";
        case Dimension::angle:
            return "deg";
        case Dimension::area:
            return inches ? "in2" : "cm2";
        case Dimension::mass:
            return inches ? "lb" : "kg";
        case Dimension::stress:
            return inches ? "ksi" : "MPa";
        case Dimension::inertia:
            return inches ? "in4" : "mm4";
        case Dimension::speed:
            return inches ? "mph" : "km/h";
        case Dimension::time:
            return "s";
        case Dimension::volume:
            return inches ? "in3" : "cm3";
    }
    return "";
}

}  // namespace

Unit fieldUnit(Dimension dimension, UnitsShown shown) {
    const auto unit = unitNamed(unitWord(dimension, shown == UnitsShown::in));
    return unit ? *unit : Unit{"", dimension, 1.0};
}

QString fieldText(double base, Dimension dimension, UnitsShown shown) {
    const double value = base / fieldUnit(dimension, shown).to_base;
    if (dimension == Dimension::none) return trimmed(value, 0, 4);
    if (dimension == Dimension::length && shown == UnitsShown::in) return trimmed(value, 3, 5);
    return trimmed(value, 1, 3);
}

QString besideText(double base, Dimension dimension, UnitsShown shown) {
    if (dimension != Dimension::length || shown == UnitsShown::mm) return {};
    return QString::fromStdString(nearestFraction(base, 64).text);
}

QString measureText(double base, Dimension dimension, UnitsShown shown) {
    QString text = fieldText(base, dimension, shown);
    if (dimension == Dimension::length) {
        // For reading: a tenth is enough of a long thing, a wall needs its hundredths.
        const bool inches = shown == UnitsShown::in;
        const double value = base / fieldUnit(dimension, shown).to_base;
        const bool thin = std::abs(base) < kThin_mm;
        text = trimmed(value, inches ? 3 : 1, thin ? (inches ? 4 : 3) : (inches ? 3 : 1));
    }
    const QString word = unitSign(fieldUnit(dimension, shown).word);
    if (dimension == Dimension::angle) return text + QStringLiteral("°");
    if (!word.isEmpty()) text += QLatin1Char(' ') + word;
    if (dimension == Dimension::length && shown == UnitsShown::both) {
        text += QStringLiteral(", ") + besideText(base, dimension, shown);
    }
    return text;
}

QString longText(double mm, UnitsShown shown) {
    const QString metres = QString::fromStdString(fixed(mm / kMetre_mm, 1)) + QStringLiteral(" m");
    const QString feet = QString::fromStdString(fixed(mm / kFoot_mm, 1)) + QStringLiteral(" ft");
    if (shown == UnitsShown::both) return metres + QStringLiteral(", ") + feet;
    return shown == UnitsShown::in ? feet : metres;
}

QString massText(double kg, UnitsShown shown, int decimals) {
    const QString metric = QString::fromStdString(showMass(kg, LengthUnit::mm, decimals));
    const QString pounds = QString::fromStdString(showMass(kg, LengthUnit::in, decimals));
    if (shown == UnitsShown::both) return metric + QStringLiteral(", ") + pounds;
    return shown == UnitsShown::in ? pounds : metric;
}

QString unitSign(const std::string& word) {
    if (word == "deg") return QStringLiteral("°");
    QString sign = QString::fromStdString(word);
    if (sign.endsWith(QLatin1Char('2'))) sign.replace(sign.size() - 1, 1, QChar(0x00B2));
    if (sign.endsWith(QLatin1Char('3'))) sign.replace(sign.size() - 1, 1, QChar(0x00B3));
    if (sign.endsWith(QLatin1Char('4'))) sign.replace(sign.size() - 1, 1, QChar(0x2074));
    return sign;
}

Expected<double> readField(const QString& text, Dimension dimension, UnitsShown shown) {
    const QString typed = text.trimmed();
    const bool bare_fraction =
        dimension == Dimension::length && typed.contains(QLatin1Char('/')) && !hasUnit(typed);
    return readMeasure(typed.toStdString(), fieldUnit(dimension, bare_fraction ? UnitsShown::in : shown));
}

Expected<double> readChange(const QString& text, double now, Dimension dimension, UnitsShown shown) {
    const QString typed = text.trimmed();
    const QString less = QStringLiteral("less ");
    double sign = 0;
    QString rest;
    if (typed.startsWith(QLatin1Char('+'))) {
        sign = 1;
        rest = typed.mid(1);
    } else if (typed.startsWith(less, Qt::CaseInsensitive)) {
        sign = -1;
        rest = typed.mid(less.size());
    }
    if (sign == 0) return readField(typed, dimension, shown);
    const auto by = readField(rest, dimension, shown);
    if (!by) return by;
    return now + sign * *by;
}

}  // namespace hoopwright
