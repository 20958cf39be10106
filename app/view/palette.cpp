#include "app/view/palette.h"

#include <QFontDatabase>
#include <QGuiApplication>
#include <QPalette>
#include <algorithm>

namespace hoopwright {
namespace {

Palette lightSet() {
    Palette p;
    p.tone = Tone::light;
    p.paper = QColor(0xF7, 0xF4, 0xEE);
    p.card = QColor(0xFF, 0xFE, 0xFB);
    p.field = QColor(0xF1, 0xED, 0xE5);
    p.line = QColor(0xE2, 0xDB, 0xCF);
    p.ink = QColor(0x1D, 0x21, 0x27);
    p.ink_soft = QColor(0x5F, 0x62, 0x69);
    p.rail = QColor(0x24, 0x28, 0x30);
    p.rail_ink = QColor(0xF2, 0xEF, 0xE8);
    p.rail_soft = QColor(0xA6, 0xAC, 0xB6);
    p.accent = QColor(0xEA, 0xBE, 0x4F);
    p.accent_ink = QColor(0x33, 0x29, 0x0C);
    p.accent_edge = QColor(0x9A, 0x71, 0x0A);
    p.chosen = QColor(0xF7, 0xE8, 0xC8);
    p.action = QColor(0x1E, 0x57, 0x7D);
    p.meets = QColor(0x0A, 0x77, 0x62);
    p.fails = QColor(0xB5, 0x3A, 0x1E);
    p.ask = QColor(0x96, 0x65, 0x06);
    p.cannot_tell = QColor(0x66, 0x69, 0x70);
    p.does_not_apply = QColor(0x6B, 0x6D, 0x72);
    return p;
}

Palette darkSet() {
    Palette p;
    p.tone = Tone::dark;
    p.paper = QColor(0x1C, 0x1E, 0x22);
    p.card = QColor(0x26, 0x29, 0x2E);
    p.field = QColor(0x31, 0x34, 0x3A);
    p.line = QColor(0x3E, 0x42, 0x49);
    p.ink = QColor(0xF1, 0xEE, 0xE7);
    p.ink_soft = QColor(0xB4, 0xB5, 0xB6);
    p.rail = QColor(0x14, 0x16, 0x1A);
    p.rail_ink = QColor(0xF1, 0xEE, 0xE7);
    p.rail_soft = QColor(0x9D, 0xA3, 0xAC);
    p.accent = QColor(0xE3, 0xB5, 0x46);
    p.accent_ink = QColor(0x2B, 0x22, 0x08);
    p.accent_edge = QColor(0xE3, 0xB5, 0x46);
    p.chosen = QColor(0x4A, 0x40, 0x27);
    p.action = QColor(0x8F, 0xC4, 0xE8);
    p.meets = QColor(0x52, 0xC4, 0xA6);
    p.fails = QColor(0xF4, 0x8A, 0x6C);
    p.ask = QColor(0xE2, 0xB0, 0x55);
    p.cannot_tell = QColor(0xB0, 0xB2, 0xB6);
    p.does_not_apply = QColor(0xA9, 0xAB, 0xAF);
    return p;
}

QFont::Weight weightOf(TypeWeight weight) {
    switch (weight) {
        case TypeWeight::plain:
            return QFont::Normal;
        case TypeWeight::medium:
            return QFont::Medium;
        case TypeWeight::strong:
            return QFont::DemiBold;
    }
    return QFont::Normal;
}

}  // namespace

QColor Palette::of(Answer answer) const {
    switch (answer) {
        case Answer::fails:
            return fails;
        case Answer::cannot_tell:
            return cannot_tell;
        case Answer::ask_person:
            return ask;
        case Answer::meets:
            return meets;
        case Answer::does_not_apply:
            return does_not_apply;
    }
    return cannot_tell;
}

Palette paletteOf(Tone tone) {
    return tone == Tone::dark ? darkSet() : lightSet();
}

Tone desktopTone() {
    const QPalette desktop = QGuiApplication::palette();
    const bool light_text =
        desktop.color(QPalette::WindowText).lightness() > desktop.color(QPalette::Window).lightness();
    return light_text ? Tone::dark : Tone::light;
}

QFont typeFont(TypeSize size, TypeWeight weight, double scale) {
    QFont font = QGuiApplication::font();
    // Asked once: the list of families is long, and labels are measured in every frame.
    static const bool has_inter = QFontDatabase::hasFamily(QStringLiteral("Inter"));
    if (has_inter)
        font.setFamily(QStringLiteral("Inter"));
    else
        font.setStyleHint(QFont::SansSerif);
    font.setPixelSize(std::max(1, qRound(static_cast<int>(size) * scale)));
    font.setWeight(weightOf(weight));
    return font;
}

}  // namespace hoopwright
