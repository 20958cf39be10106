#include "core/edit/pin.h"

#include <algorithm>
#include <cmath>

#include "core/edit/hand_grain.h"
#include "core/model/sheet_shape.h"

namespace hoopwright {
namespace {

Landing atEnd(const std::string& bar, int end) {
    Landing landing;
    landing.host = bar;
    landing.by = Landing::By::end;
    landing.from_last_end = end == 1;
    return landing;
}

}  // namespace

Place3 placeOnBar(const CageGeometry& now, int member, const Vec3& picked, double reach_mm, LengthUnit unit) {
    const ResolvedMember& bar = now.members[static_cast<std::size_t>(member)];
    const double length = bar.line.length_mm(), station = bar.line.nearestStation(picked);
    double nearest_mm = std::max(reach_mm, bar.section.od_mm);
    Landing found;
    const auto offer = [&](double at_mm, Landing landing) {
        if (std::abs(at_mm - station) > nearest_mm) return;
        nearest_mm = std::abs(at_mm - station);
        found = std::move(landing);
    };
    offer(0, atEnd(bar.id, 0));
    offer(length, atEnd(bar.id, 1));
    for (const Joint& joint : now.joints) {
        if (joint.host != member) continue;
        offer(joint.host_station_mm,
              atEnd(now.members[static_cast<std::size_t>(joint.branch)].id, joint.end));
    }
    if (!found.host.empty()) return found;
    found.host = bar.id;
    found.by = Landing::By::distance;
    found.from_last_end = station > length / 2;
    found.value = std::clamp(toGrain(found.from_last_end ? length - station : station, handGrain_mm(unit)),
                             0.0, length);
    return found;
}

Place3 placeOnPlate(const CageGeometry& now, int plate, const Vec3& picked, double reach_mm,
                    LengthUnit unit) {
    const ResolvedPlate& on = now.plates[static_cast<std::size_t>(plate)];
    const Vec2 local = offsetOnSheet(on, picked);
    const double grain = handGrain_mm(unit);
    OnPlate place{on.id, {toGrain(local.x(), grain), toGrain(local.y(), grain)}};
    if (place.offset.norm() <= reach_mm) place.offset = Vec2::Zero();
    return place;
}

std::string freeDimensionId(const CageLayout& cage, std::string_view word) {
    const auto taken = [&](const std::string& id) {
        return std::any_of(cage.dimensions.begin(), cage.dimensions.end(),
                           [&](const PinnedDimension& one) { return one.id == id; });
    };
    std::string id(word);
    for (int number = 2; taken(id); ++number) id = std::string(word) + "_" + std::to_string(number);
    return id;
}

PinnedDimension* findDimension(CageLayout& cage, std::string_view id) {
    const auto found = std::find_if(cage.dimensions.begin(), cage.dimensions.end(),
                                    [&](const PinnedDimension& one) { return one.id == id; });
    return found == cage.dimensions.end() ? nullptr : &*found;
}

}  // namespace hoopwright
