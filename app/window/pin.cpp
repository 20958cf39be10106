#include "app/window/pin.h"

#include <algorithm>
#include <utility>

#include "app/window/form_help.h"
#include "core/edit/pin.h"
#include "core/model/measure_dimension.h"
#include "render/pick.h"

namespace hoopwright {
namespace {

using PinKind = PinnedDimension::Kind;

void add(Desk& desk, PinnedDimension pinned) {
    pinned.id = freeDimensionId(desk.document.job().cage, dimensionKindWord(pinned.kind));
    const QString name = text(shownName(pinned, desk.document.geometry()));
    desk.document.edit(QObject::tr("Pin %1").arg(name),
                       [&](Job& job) { job.cage.dimensions.push_back(pinned); });
    desk.selection.set({Thing::Kind::dimension, pinned.id});
    const MeasuredDimension read = measureDimension(desk.document.job(), desk.document.geometry(), pinned);
    emit desk.say(read ? QObject::tr("Pinned: it follows the cage.") : text(read.trouble));
}

/// What the line of sight meets: a bar, a plate or a point of the car.
std::optional<Place3> placeSeen(const Desk& desk, const LineOfSight& sight, bool bars_only) {
    const CageGeometry& now = desk.document.geometry();
    Picked met = pick(now, sight.from, sight.way);
    if (!met && sight.car_point.empty()) met = pick(now, sight.from, sight.way, 8);
    const LengthUnit unit = desk.document.job().cage.unit;
    if (met.member >= 0) return placeOnBar(now, met.member, met.at, bars_only ? 0 : 30, unit);
    if (bars_only) return std::nullopt;
    if (met.plate >= 0) return placeOnPlate(now, met.plate, met.at, 15, unit);
    if (!sight.car_point.empty()) return AtCarPoint{sight.car_point, Vec3::Zero()};
    return std::nullopt;
}

void askPlace(Desk& desk, const QString& asks, bool bars_only, std::function<void(const Place3&)> then) {
    desk.wantSight(asks, [&desk, asks, bars_only, then](const LineOfSight& sight) {
        if (const auto place = placeSeen(desk, sight, bars_only)) return then(*place);
        emit desk.say(bars_only
                          ? QObject::tr("There is no bar: click a bar, or Esc.")
                          : QObject::tr("There is nothing: click a bar, a plate or a car point, or Esc."));
        askPlace(desk, asks, bars_only, then);
    });
}

}  // namespace

void pinDimension(Desk& desk, PinKind kind) {
    PinnedDimension pinned;
    pinned.kind = kind;
    if (kind == PinKind::gap || kind == PinKind::centres) {
        const auto chosen = desk.selection.ids(Thing::Kind::member);
        if (chosen.size() == 2) {
            pinned.bar_a = chosen[0];
            pinned.bar_b = chosen[1];
            return add(desk, pinned);
        }
        desk.wantPick(
            QObject::tr("Click the first bar"), [&desk, pinned](const std::string& one, const Vec3&) {
                PinnedDimension next = pinned;
                next.bar_a = one;
                desk.wantPick(QObject::tr("Click the second bar"), [&desk, next](const std::string& other,
                                                                                 const Vec3&) {
                    PinnedDimension whole = next;
                    whole.bar_b = other;
                    if (other == whole.bar_a)
                        return emit desk.say(QObject::tr("That is the same bar: nothing was pinned."));
                    add(desk, whole);
                });
            });
        return;
    }
    const bool angle = kind == PinKind::angle;
    const QString first = angle ? QObject::tr("Click the first bar, on the straight that is meant")
                          : kind == PinKind::height
                              ? QObject::tr("Click the place whose height is to be shown")
                              : QObject::tr("Click where the dimension begins");
    askPlace(desk, first, angle, [&desk, pinned, angle](const Place3& from) {
        PinnedDimension next = pinned;
        next.from = from;
        if (next.kind == PinKind::height) return add(desk, next);
        askPlace(desk,
                 angle ? QObject::tr("Click the second bar, on the straight that is meant")
                       : QObject::tr("Click where it ends"),
                 angle, [&desk, next](const Place3& to) {
                     PinnedDimension whole = next;
                     whole.to = to;
                     if (whole.to == whole.from)
                         return emit desk.say(QObject::tr("That is the same place: nothing was pinned."));
                     add(desk, whole);
                 });
    });
}

void deleteDimension(Desk& desk, const std::string& id) {
    desk.document.edit(QObject::tr("Delete dimension"), [&](Job& job) {
        std::erase_if(job.cage.dimensions, [&](const PinnedDimension& one) { return one.id == id; });
    });
}

}  // namespace hoopwright
