#include "app/window/table_highlighter.h"

#include <QRegularExpression>

#include "app/window/table_words.h"

namespace hoopwright {

TableColours tableColoursOf(Tone tone) {
    const Palette p = paletteOf(tone);
    if (tone == Tone::dark)
        return {
            p.action,  QColor(0xD9, 0xA9, 0xEC), QColor(0x6F, 0xD0, 0xC0), QColor(0xE8, 0xB4, 0x7E), p.ink,
            p.ink_soft};
    return {p.action,  QColor(0x7A, 0x2C, 0x8C), QColor(0x0B, 0x66, 0x5C), QColor(0x8A, 0x46, 0x0C), p.ink,
            p.ink_soft};
}

TableHighlighter::TableHighlighter(QTextDocument* document, Tone tone)
    : QSyntaxHighlighter(document), colours_(tableColoursOf(tone)) {}

void TableHighlighter::setTone(Tone tone) {
    colours_ = tableColoursOf(tone);
    rehighlight();
}

void TableHighlighter::highlightBlock(const QString& line) {
    const int remark = remarkStart(line);
    const QString said = remark < 0 ? line : line.left(remark);
    colourWords(said);
    colourKeys(said);
    if (remark < 0) return;
    QTextCharFormat soft;
    soft.setForeground(colours_.remark);
    soft.setFontItalic(true);
    setFormat(remark, int(line.size()) - remark, soft);
}

void TableHighlighter::colourWords(const QString& line) {
    // A number with its unit; a quantity's name; the rest is left as it is.
    static const QRegularExpression kNumber(QStringLiteral(
        "(?<![\\w.-])-?\\d[\\d./-]*(?:\\s*(?:mm4|mm3|mm2|cm2|mm|cm|in4|in3|in2|in|ft|deg|kg|lb|MPa|"
        "ksi|km/h|mph|m/s|s|\")(?!\\w))?"));
    QTextCharFormat number, quantity;
    number.setForeground(colours_.number);
    quantity.setForeground(colours_.quantity);
    for (auto each = kNumber.globalMatch(line); each.hasNext();) {
        const auto match = each.next();
        setFormat(int(match.capturedStart()), int(match.capturedLength()), number);
    }
    static const QRegularExpression kMeasured(QStringLiteral("\\bmeasure\\s*:\\s*([A-Za-z_]\\w*)"));
    for (auto each = kMeasured.globalMatch(line); each.hasNext();) {
        const auto match = each.next();
        if (isQuantity(match.captured(1)))
            setFormat(int(match.capturedStart(1)), int(match.capturedLength(1)), quantity);
    }
}

void TableHighlighter::colourKeys(const QString& line) {
    // Prose has colons too: a key begins a line or an item.
    static const QRegularExpression kKey(
        QStringLiteral("(?:^[\\s-]*|[{\\[,]\\s*)([A-Za-z_]\\w*)(?=\\s*:(?:\\s|$))"));
    static const QRegularExpression kId(QStringLiteral("^[\\s{-]*id\\s*:\\s*([A-Za-z_]\\w*)"));
    static const QRegularExpression kProse(QStringLiteral(
        "^[\\s-]*(?:title|sentence|way_out|advice|ask|source|meaning|edition|written_by)\\s*:"));
    const bool prose = kProse.match(line).hasMatch();
    for (auto each = kKey.globalMatch(line); each.hasNext();) {
        const auto match = each.next();
        QTextCharFormat format;
        const bool compares = isComparison(match.captured(1));
        format.setForeground(compares ? colours_.comparison : colours_.key);
        if (compares) format.setFontWeight(QFont::DemiBold);
        setFormat(int(match.capturedStart(1)), int(match.capturedLength(1)), format);
        if (!prose) continue;
        QTextCharFormat plain;
        plain.setForeground(colours_.name);
        const int from = int(match.capturedEnd(1)) + 1;
        setFormat(from, int(line.size()) - from, plain);
        return;
    }
    if (const auto match = kId.match(line); match.hasMatch()) {
        QTextCharFormat format;
        format.setForeground(colours_.name);
        format.setFontWeight(QFont::DemiBold);
        setFormat(int(match.capturedStart(1)), int(match.capturedLength(1)), format);
    }
}

}  // namespace hoopwright
