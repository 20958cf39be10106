#include "app/view/gap_legend.h"

#include <QFontMetricsF>
#include <QPainter>
#include <QPainterPath>
#include <algorithm>
#include <cmath>

#include "app/view/legend_card.h"
#include "app/view/rgb.h"
#include "core/base/text.h"
#include "core/units/inch.h"

namespace hoopwright {
namespace {

constexpr double kBandRow = 19, kBandSwatch = 16, kWidest = 210;

QString edgeWords(double mm, LengthUnit unit) {
    if (unit == LengthUnit::mm) return QString::fromStdString(shortest(mm));
    return QString::fromStdString(nearestFraction(mm, 8).text).remove(QLatin1Char('"'));
}

LengthStyle plainStyle(const OverlayScene& scene) {
    LengthStyle style = scene.lengths;
    style.fraction = 0;
    return style;
}

/// One line of the legend; without a band it is plain text.
struct LegendLine {
    QString text;
    int band = -1;
    bool soft = false, no_gap = false;
    double below = 0;  // more room after it
};

QFont fontOf(const LegendLine& line, bool first, double scale) {
    if (first) return typeFont(TypeSize::body, TypeWeight::strong, scale);
    return typeFont(line.soft ? TypeSize::small : TypeSize::body, TypeWeight::plain, scale);
}

QStringList brokenAt(const QString& words, const QFont& font, double wide) {
    const QFontMetricsF metrics(font);
    QStringList lines{QString()};
    for (const QString& word : words.split(QLatin1Char(' '))) {
        const QString longer = lines.back().isEmpty() ? word : lines.back() + QLatin1Char(' ') + word;
        if (!lines.back().isEmpty() && metrics.horizontalAdvance(longer) > wide) {
            lines << word;
        } else {
            lines.back() = longer;
        }
    }
    return lines;
}

std::vector<LegendLine> linesOf(const OverlayScene& scene) {
    const BarGaps& gaps = *scene.gaps;
    std::vector<LegendLine> lines{{QStringLiteral("Gap to the skin"), -1, false, false, 3}};
    const std::vector<QString> words = gapBandWords(scene.lengths.unit);
    for (std::size_t band = 0; band < words.size(); ++band) lines.push_back({words[band], int(band)});
    const bool none = std::any_of(gaps.along.begin(), gaps.along.end(),
                                  [](const GapProfile& one) { return one.stations_mm.empty(); });
    if (none) lines.push_back({QStringLiteral("not measured"), -1, false, true});
    lines.back().below = 4;
    const auto soft = [&](const QString& sentence) {
        const QFont font = typeFont(TypeSize::small, TypeWeight::plain, scene.scale);
        for (const QString& one : brokenAt(sentence, font, kWidest * scene.scale))
            lines.push_back({one, -1, true});
    };
    if (gaps.least_mm) {
        const QString mm = QString::fromStdString(showLength(std::abs(*gaps.least_mm), plainStyle(scene)));
        const QString bar = QString::fromStdString(gaps.least_bar),
                      part = QString::fromStdString(gaps.least_part);
        soft(*gaps.least_mm > 0 ? QStringLiteral("Least: %1 to %2, %3").arg(mm, part, bar)
                                : QStringLiteral("Deepest: %1 into %2, %3").arg(mm, part, bar));
    }
    if (gaps.missing.empty()) return lines;
    const QString missing = QString::fromStdString(gaps.missing);
    soft(missing.left(1).toUpper() + missing.mid(1));
    return lines;
}

double rowOf(const LegendLine& line, double scale) {
    return ((line.soft ? 15 : kBandRow) + line.below) * scale;
}

/// As on the tube: rings of two colours for what touches.
void paintSwatch(QPainter& painter, const QRectF& box, int band) {
    painter.fillRect(box, colourOf(gapColour(band)));
    if (band != 0) return;
    const double ring = box.width() / 4;
    for (int i = 0; i < 2; ++i)
        painter.fillRect(QRectF(box.left() + (2 * i + 1) * ring, box.top(), ring, box.height()),
                         colourOf(touchRingColour()));
}

}  // namespace

std::vector<QString> gapBandWords(LengthUnit unit) {
    const QString sign = unit == LengthUnit::mm ? QStringLiteral(" mm") : QStringLiteral(" in");
    std::vector<QString> words{QStringLiteral("touching, or through it")};
    const auto& edges = gapScale(unit).edges_mm;
    for (std::size_t i = 0; i < edges.size(); ++i) {
        const QString upper = edgeWords(edges[i], unit) + sign;
        words.push_back(i == 0 ? QStringLiteral("up to %1").arg(upper)
                               : QStringLiteral("%1 to %2").arg(edgeWords(edges[i - 1], unit), upper));
    }
    words.push_back(QStringLiteral("over %1").arg(edgeWords(edges.back(), unit) + sign));
    return words;
}

ViewLabel withGap(ViewLabel label, const OverlayScene& scene) {
    const int member = scene.cage ? scene.cage->member(label.thing) : -1;
    if (member < 0) return label;
    label.chip = colourOf(noGapColour());
    label.sub_text.clear();
    const auto i = static_cast<std::size_t>(member);
    if (i >= scene.gaps->along.size() || scene.gaps->along[i].gaps_mm.empty()) return label;
    const double least = *std::ranges::min_element(scene.gaps->along[i].gaps_mm);
    label.chip = colourOf(gapColour(gapScale(scene.lengths.unit).bandOf(least)));
    label.sub_text =
        least > 0 ? QString::fromStdString(showLength(least, plainStyle(scene))) : QStringLiteral("touches");
    return label;
}

QRectF gapLegendPlace(const OverlayScene& scene) {
    const double k = scene.scale;
    double width = 0, height = 0;
    bool first = true;
    for (const LegendLine& line : linesOf(scene)) {
        const double indent = line.band >= 0 || line.no_gap ? (kBandSwatch + 9) * k : 0;
        width = std::max(width, indent + QFontMetricsF(fontOf(line, first, k)).horizontalAdvance(line.text));
        height += rowOf(line, k);
        first = false;
    }
    return legendPlace(scene, width, height);
}

void paintGapLegend(QPainter& painter, const OverlayScene& scene) {
    if (!scene.gaps) return;
    const double k = scene.scale;
    const QRectF place = gapLegendPlace(scene);
    painter.save();
    painter.setRenderHint(QPainter::Antialiasing);
    paintLegendCard(painter, scene, place);
    double y = place.top() + 9 * k;
    const double x = place.left() + kLegendSide * k;
    bool first = true;
    for (const LegendLine& line : linesOf(scene)) {
        const double row = rowOf(line, k), middle = y + (row - line.below * k) / 2;
        const QRectF swatch(x, y, kBandSwatch * k, row - line.below * k);
        if (line.band >= 0) paintSwatch(painter, swatch, line.band);
        if (line.no_gap) painter.fillRect(swatch.adjusted(0, 3 * k, 0, 0), colourOf(noGapColour()));
        const double indent = line.band >= 0 || line.no_gap ? (kBandSwatch + 9) * k : 0;
        painter.setFont(fontOf(line, first, k));
        painter.setPen(line.soft ? scene.palette.ink_soft : scene.palette.ink);
        painter.drawText(QPointF(x + indent, middle + QFontMetricsF(painter.font()).capHeight() / 2),
                         line.text);
        y += row;
        first = false;
    }
    painter.restore();
}

}  // namespace hoopwright
