// Small cages to test with, in the car's axes.
#pragma once

#include <string>
#include <vector>

#include "core/model/resolve.h"

namespace hoopwright::testing {

inline MemberPoint at(double x, double y, double z) {
    return {FixedPoint{{x, y, z}}, {}};
}

inline MemberPoint onHeight(std::string host, double z, Side side = Side::centre) {
    Landing landing;
    landing.host = std::move(host);
    landing.value = z;
    landing.side = side;
    return {landing, {}};
}

inline MemberPoint onBy(std::string host, Landing::By by, double value, bool from_last = false,
                        Side side = Side::centre) {
    Landing landing;
    landing.host = std::move(host);
    landing.by = by;
    landing.value = value;
    landing.from_last_end = from_last;
    landing.side = side;
    return {landing, {}};
}

inline MemberPoint onPlate(std::string plate, double u = 0, double v = 0) {
    return {OnPlate{std::move(plate), {u, v}}, {}};
}

inline Member bar(std::string id, std::vector<MemberPoint> path, std::string stock = "45x2.5") {
    Member member;
    member.id = id;
    member.role = std::move(id);
    member.stock = std::move(stock);
    member.path = std::move(path);
    return member;
}

inline Member pair(std::string id, std::vector<MemberPoint> path, std::string stock = "38x2.5") {
    Member member = bar(std::move(id), std::move(path), std::move(stock));
    member.mirrored = true;
    return member;
}

inline StockList metricRack() {
    StockList stock;
    stock.name = "Rack";
    stock.currency = "EUR";
    stock.materials.push_back(
        {"e355", "E355", "mild_steel", 355.0, 490.0, 22.0, 0.22, 7850, "made up for the test"});
    for (const auto& [id, od, wall] : {std::tuple{"45x2.5", 45.0, 2.5}, std::tuple{"38x2.5", 38.0, 2.5}}) {
        TubeStock tube;
        tube.id = id;
        tube.section = {od, wall};
        tube.material = "e355";
        tube.sticks = {{6000, 0}};
        stock.tubes.push_back(tube);
    }
    return stock;
}

inline DieList metricDies() {
    DieList dies;
    dies.dies.push_back({"d45", 45, 135, 90, 60, 2.1});
    dies.dies.push_back({"d38", 38, 115, 80, 50, 2.1});
    return dies;
}

/// A job with a rack and dies and no members.
inline Job emptyJob() {
    Job job;
    job.cage.name = "Test";
    job.stock = metricRack();
    job.dies = metricDies();
    return job;
}

inline Plate footPlate(std::string id, double x, double y, double z, bool is_mirrored = true) {
    Plate plate;
    plate.id = std::move(id);
    plate.mirrored = is_mirrored;
    plate.at = FixedPoint{{x, y, z}};
    plate.length_mm = 150;
    plate.width_mm = 120;
    plate.thickness_mm = 3;
    return plate;
}

/// A hoop on two plates, and a brace, a door bar and a belt bar landed on it.
inline Job hoopJob() {
    Job job = emptyJob();
    job.cage.plates = {footPlate("hoop_foot", -100, 600, 0), footPlate("brace_foot", -900, 450, 200)};
    job.cage.members = {
        bar("main_hoop",
            {onPlate("hoop_foot.left"), at(-60, 590, 900), at(-60, -590, 900), onPlate("hoop_foot.right")}),
        pair("rear_brace", {onHeight("main_hoop", 720, Side::left), onPlate("brace_foot")}),
        bar("belt_bar", {onHeight("main_hoop", 600, Side::left), onHeight("main_hoop", 600, Side::right)},
            "38x2.5"),
    };
    return job;
}

}  // namespace hoopwright::testing
