#include "app/view/label_block.h"

#include <QFontMetricsF>
#include <QPainter>
#include <QPainterPath>
#include <QStringList>
#include <algorithm>
#include <cmath>

#include "app/view/finding_text.h"
#include "app/view/marks.h"

namespace hoopwright {
namespace {

/// What a line may be broken between: words, but a figure stays with its unit and a size such as 38 x 2.5 in
/// one piece.
QStringList unbroken(const QString& text) {
    static const QStringList kUnits = {QStringLiteral("mm"), QStringLiteral("cm"),  QStringLiteral("m"),
                                       QStringLiteral("in"), QStringLiteral("ft"),  QStringLiteral("kg"),
                                       QStringLiteral("lb"), QStringLiteral("mm²"), QStringLiteral("cm²"),
                                       QStringLiteral("in²")};
    static const QStringList kBy = {QStringLiteral("x"), QStringLiteral("×")};
    QStringList out;
    bool by = false;
    for (const QString& word : text.split(QLatin1Char(' '), Qt::SkipEmptyParts)) {
        QString bare = word;
        while (bare.size() > 1 && QStringLiteral(",.;:)").contains(bare.back())) bare.chop(1);
        const bool of_figure =
            !out.isEmpty() && out.back().back().isDigit() && (kUnits.contains(bare) || kBy.contains(bare));
        if (of_figure || by)
            out.back() += QLatin1Char(' ') + word;
        else
            out << word;
        by = of_figure && kBy.contains(bare);
    }
    return out;
}

/// Puts lines of text under each other and keeps the width they need.
class Writer {
public:
    Writer(LabelBlock& block, double left, double top) : block_(block), left_(left), y_(top) {}

    void line(const QString& text, const QFont& font, const QColor& colour, double indent = 0) {
        const QFontMetricsF metrics(font);
        block_.runs.push_back({QPointF(left_ + indent, y_ + metrics.ascent()), text, font, colour});
        width_ = std::max(width_, indent + metrics.horizontalAdvance(text));
        y_ += metrics.height();
    }

    /// Breaks at spaces so that no line is wider than `widest`; a longer word stands alone.
    void wrapped(const QString& text, const QFont& font, const QColor& colour, double widest,
                 double indent = 0) {
        const QFontMetricsF metrics(font);
        QString open;
        for (const QString& word : unbroken(text)) {
            const QString longer = open.isEmpty() ? word : open + QLatin1Char(' ') + word;
            if (!open.isEmpty() && metrics.horizontalAdvance(longer) > widest) {
                line(open, font, colour, indent);
                open = word;
            } else {
                open = longer;
            }
        }
        if (!open.isEmpty()) line(open, font, colour, indent);
    }

    void space(double by) { y_ += by; }
    double y() const { return y_; }
    double width() const { return width_; }

private:
    LabelBlock& block_;
    double left_, y_, width_ = 0;
};

// Relative luminance and contrast ratio as W3C, Web Content Accessibility Guidelines 2.2 (2023), define them.
double luminanceOf(const QColor& colour) {
    const auto linear = [](double v) {
        return v <= 0.04045 ? v / 12.92 : std::pow((v + 0.055) / 1.055, 2.4);
    };
    return 0.2126 * linear(colour.redF()) + 0.7152 * linear(colour.greenF()) +
           0.0722 * linear(colour.blueF());
}

bool hardlyShows(const QColor& colour, const QColor& paper) {
    const auto [dark, light] = std::minmax(luminanceOf(colour), luminanceOf(paper));
    return (light + 0.05) / (dark + 0.05) < 3;
}

QString words(const std::string& text) {
    return QString::fromStdString(text);
}

}  // namespace

LabelBlock nameBlock(const QString& text, const QString& sub_text, const QColor& chip, const Palette& palette,
                     double scale) {
    const QFont strong = typeFont(TypeSize::small, TypeWeight::strong, scale);
    const QFont plain = typeFont(TypeSize::small, TypeWeight::plain, scale);
    const QFontMetricsF strong_metrics(strong), plain_metrics(plain);
    LabelBlock block;
    block.corner = 5 * scale;
    const double height = 22 * scale, baseline = (height + strong_metrics.capHeight()) / 2;
    double x = 7 * scale;
    if (chip.isValid()) {
        block.chips.push_back({QRectF(x, height / 2 - 6 * scale, 4 * scale, 12 * scale), chip});
        x += 10 * scale;
    }
    block.runs.push_back({QPointF(x, baseline), text, strong, palette.ink});
    x += strong_metrics.horizontalAdvance(text);
    if (!sub_text.isEmpty()) {
        x += 7 * scale;
        block.runs.push_back({QPointF(x, baseline), sub_text, plain, palette.ink_soft});
        x += plain_metrics.horizontalAdvance(sub_text);
    }
    block.size = QSizeF(x + 8 * scale, height);
    return block;
}

LabelBlock noteBlock(const QString& head, const QString& sentence, const QColor& chip, const Palette& palette,
                     double scale, double widest) {
    LabelBlock block;
    block.corner = 5 * scale;
    const double side = 7 * scale, indent = chip.isValid() ? 10 * scale : 0;
    Writer writer(block, side, 4 * scale);
    if (!head.isEmpty())
        writer.line(head, typeFont(TypeSize::small, TypeWeight::strong, scale), palette.ink, indent);
    writer.wrapped(sentence, typeFont(TypeSize::small, TypeWeight::medium, scale), palette.ink,
                   widest * scale - indent - 2 * side, indent);
    block.size = QSizeF(writer.width() + 2 * side, writer.y() + 4 * scale);
    if (chip.isValid())
        block.chips.push_back({QRectF(side, 5 * scale, 4 * scale, block.size.height() - 10 * scale), chip});
    return block;
}

LabelBlock measureBlock(const QString& text, const Palette& palette, double scale) {
    const QFont font = typeFont(TypeSize::body, TypeWeight::strong, scale);
    const QFontMetricsF metrics(font);
    LabelBlock block;
    block.corner = 4 * scale;
    const double height = 22 * scale, side = 7 * scale;
    block.runs.push_back({QPointF(side, (height + metrics.capHeight()) / 2), text, font, palette.ink});
    block.size = QSizeF(metrics.horizontalAdvance(text) + 2 * side, height);
    block.edge = palette.accent_edge;
    block.edge_width = 1.2 * scale;
    return block;
}

LabelBlock findingBlock(const Finding& finding, const LengthStyle& style, const Palette& palette,
                        double scale, double widest) {
    const QFont strong = typeFont(TypeSize::body, TypeWeight::strong, scale);
    const QFont plain = typeFont(TypeSize::body, TypeWeight::plain, scale);
    const QFont small = typeFont(TypeSize::small, TypeWeight::plain, scale);
    const QColor colour = palette.of(finding.answer);
    LabelBlock block;
    block.corner = 6 * scale;
    const double side = 12 * scale, indent = 26 * scale, wide = widest * scale - indent - 2 * side;
    Writer writer(block, side, 9 * scale);
    block.mark = {QRectF(side, 10 * scale, 16 * scale, 16 * scale), finding.answer};
    const QString title = words(finding.title.empty() ? finding.sentence : finding.title);
    writer.wrapped(title, strong, palette.ink, wide, indent);
    if (!finding.subject_name.empty() && finding.subject_name != finding.title)
        writer.wrapped(words(finding.subject_name), small, palette.ink_soft, wide, indent);
    writer.space(3 * scale);
    writer.wrapped(words(withSigns(outcomeText(finding, style))), plain, palette.ink, wide, indent);
    const QString margin = words(withSigns(marginText(finding, style)));
    if (!margin.isEmpty()) writer.line(margin, strong, colour, indent);
    // A pass by the nominal wall alone is no comfort: it stands in the ink of what cannot be told.
    if (const QString beware = words(withSigns(bewareText(finding))); !beware.isEmpty())
        writer.wrapped(beware, plain, palette.of(Answer::cannot_tell), wide, indent);
    if (!finding.way_out.empty())
        writer.wrapped(words(withSigns(wayOutAlone(finding))), plain, palette.action, wide, indent);
    const QString clause = words(clauseText(finding));
    if (!clause.isEmpty()) {
        writer.space(3 * scale);
        writer.wrapped(clause, small, palette.ink_soft, wide, indent);
    }
    block.size = QSizeF(writer.width() + 2 * side, writer.y() + 9 * scale);
    block.edge = colour;
    block.edge_width = 1.5 * scale;
    return block;
}

void paintBlock(QPainter& painter, const LabelBlock& block, const QPointF& top_left, const Palette& palette) {
    painter.save();
    painter.setRenderHint(QPainter::Antialiasing);
    const QRectF box(top_left, block.size);
    QPainterPath shape;
    shape.addRoundedRect(box, block.corner, block.corner);
    painter.fillPath(shape.translated(0, block.corner * 0.3), QColor(15, 18, 24, 56));
    QColor paper = palette.card;
    paper.setAlpha(246);
    painter.fillPath(shape, paper);
    QColor hairline = palette.ink;
    hairline.setAlpha(48);
    painter.setBrush(Qt::NoBrush);
    painter.setPen(QPen(block.edge.isValid() ? block.edge : hairline, block.edge_width));
    painter.drawPath(shape);
    for (const auto& [chip, colour] : block.chips) {
        painter.setPen(hardlyShows(colour, palette.card) ? QPen(palette.ink_soft, chip.width() / 4)
                                                         : QPen(Qt::NoPen));
        painter.setBrush(colour);
        painter.drawRoundedRect(chip.translated(top_left), chip.width() / 2, chip.width() / 2);
    }
    if (block.mark) paintMark(painter, block.mark->first.translated(top_left), block.mark->second, palette);
    for (const auto& run : block.runs) {
        painter.setFont(run.font);
        painter.setPen(run.colour);
        painter.drawText(top_left + run.baseline, run.text);
    }
    painter.restore();
}

}  // namespace hoopwright
