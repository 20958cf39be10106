#include "app/window/desk.h"

#include <utility>

namespace hoopwright {

Desk::Desk(QObject* parent) : QObject(parent) {
    connect(&document, &Document::changed, this, [this](Document::Change change) {
        if (change != Document::Change::saved) nodes_.reset();
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
    sight_taker_ = nullptr;
    emit pickChanged();
}

void Desk::wantSight(const QString& asks, SightTaker taker) {
    asks_ = asks;
    sight_taker_ = std::move(taker);
    taker_ = nullptr;
    emit pickChanged();
}

void Desk::dropPick() {
    if (!picking()) return;
    taker_ = nullptr;
    sight_taker_ = nullptr;
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

LengthStyle Desk::lengthStyle() const {
    LengthStyle style;
    style.unit = units_ == UnitsShown::in ? LengthUnit::in : LengthUnit::mm;
    return style;
}

const CarReport& Desk::carReport() const {
    const Car& car = document.job().car;
    const LengthUnit unit = lengthStyle().unit;
    if (!car_report_ || car_report_->unit != unit || car_report_->car != car)
        car_report_ = hoopwright::carReport(car, unit);
    return *car_report_;
}

const NodeReport& Desk::nodes() const {
    if (!nodes_) nodes_ = nodeReport(document.geometry());
    return *nodes_;
}

bool Desk::takeSight(const LineOfSight& sight) {
    if (!sight_taker_) return false;
    const SightTaker taker = std::exchange(sight_taker_, nullptr);
    asks_.clear();
    taker(sight);  // may want another at once
    emit pickChanged();
    return true;
}

}  // namespace hoopwright
