#include "app/window/desk.h"

#include <utility>

namespace hoopwright {

Desk::Desk(QObject* parent) : QObject(parent) {
    connect(&document, &Document::changed, this, [this](Document::Change change) {
        if (change == Document::Change::replaced) {
            selection.clear();
            putOnTape({});
            dropPick();
        }
        selection.keepOnly(document.job());
    });
}

void Desk::setUnits(UnitsShown units) {
    if (units == units_) return;
    units_ = units;
    emit unitsChanged();
}

void Desk::setTone(Tone tone) {
    if (tone == palette_.tone) return;
    palette_ = paletteOf(tone);
    emit paletteChanged();
}

void Desk::putOnTape(OnTape value) {
    tape_ = std::move(value);
    emit tapeChanged();
}

void Desk::wantPick(const QString& asks, PickTaker taker) {
    asks_ = asks;
    taker_ = std::move(taker);
    emit pickChanged();
}

void Desk::dropPick() {
    if (!taker_) return;
    taker_ = nullptr;
    asks_.clear();
    emit pickChanged();
}

bool Desk::takePick(const std::string& member, const Vec3& at) {
    if (!taker_) return false;
    const PickTaker taker = std::exchange(taker_, nullptr);
    asks_.clear();
    taker(member, at);  // may want a second pick at once
    emit pickChanged();
    return true;
}

}  // namespace hoopwright
