// Things a driver can get wrong only together with the car and the cage: sitting outside it, or behind the
// hoop.
#include <algorithm>
#include <array>
#include <utility>

#include "core/model/resolver.h"

namespace hoopwright::resolving {

namespace {

/// Of the measured skin; empty where there is too little of it to tell inside from outside.
Box carBox(const Car& car) {
    Box box;
    if (car.shell.size() < 2) return box;
    for (const ShellStation& station : car.shell)
        for (const Vec2& p : station.outline)
            for (const double side : {1.0, -1.0}) box.extend(Vec3(station.x_mm, side * p.x(), p.y()));
    if (!box.isEmpty()) box.extend(Vec3(box.center().x(), 0, car.ground_z_mm));
    return box;
}

/// "ahead of" and how far [mm], for the way it is farthest out; 0 inside.
std::pair<const char*, double> outsideBy(const Box& box, const Vec3& p) {
    std::pair<const char*, double> worst{"", 0};
    const auto offer = [&](const char* words, double by) {
        if (by > worst.second) worst = {words, by};
    };
    offer("ahead of", p.x() - box.max().x());
    offer("behind", box.min().x() - p.x());
    offer("to the left of", p.y() - box.max().y());
    offer("to the right of", box.min().y() - p.y());
    offer("above", p.z() - box.max().z());
    offer("below", box.min().z() - p.z());
    return worst;
}

/// Where the rear of a bar is at a height; the bar's rearmost point where it does not pass there.
double rearAt(const ResolvedMember& bar, double z) {
    double x = bar.line.bounds().min().x();
    const std::vector<double> stations = bar.line.crossings({0, 0, z}, Vec3::UnitZ());
    for (std::size_t i = 0; i < stations.size(); ++i) {
        const double here = bar.line.point(stations[i]).x();
        x = i == 0 ? here : std::min(x, here);
    }
    return x - bar.radius_mm();
}

}  // namespace

void Resolver::checkDrivers() {
    const Box box = carBox(job_.car);
    for (const Driver& driver : job_.drivers) {
        checkInside(driver, box);
        checkAheadOfHoop(driver);
    }
}

void Resolver::checkInside(const Driver& driver, const Box& box) {
    if (box.isEmpty()) return;
    const std::array<std::pair<const char*, Vec3>, 2> points = {
        {{"hip point", driver.hip}, {"middle of the shoulders", driver.shoulders()}}};
    for (const auto& [name, at] : points) {
        const auto [words, by] = outsideBy(box, at);
        if (by <= 0) continue;
        add({Kind::driver_outside,
             driver.name + ": the " + name + " is " + length(by) + " " + words + " the car.",
             "Check its three coordinates against the car's points.", "", "", at, driver.id});
        return;
    }
}

void Resolver::checkAheadOfHoop(const Driver& driver) {
    if (driver.occupant != Driver::Occupant::driver) return;
    double rear = 0;
    bool any = false;
    for (const ResolvedMember& bar : cage_.members) {
        if (bar.role != "main_hoop") continue;
        const double here = rearAt(bar, driver.hip.z());
        rear = any ? std::min(rear, here) : here;
        any = true;
    }
    if (!any || driver.hip.x() >= rear) return;
    add({Kind::seat_behind_hoop,
         driver.name + ": the seat is behind the main hoop, the hip point by " +
             length(rear - driver.hip.x()) + ".",
         "Move the seat ahead of the hoop, or the hoop back.", "", "", driver.hip, driver.id});
}

}  // namespace hoopwright::resolving
