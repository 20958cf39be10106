// A plain hoop of one tube, and bars on it.
#pragma once

#include <optional>
#include <string>
#include <vector>

#include "tests/core/edit/demo_job.h"

namespace hoopwright {

inline Landing landingOn(const std::string& host, Landing::By by, double value, Side side = Side::centre) {
    Landing out;
    out.host = host;
    out.by = by;
    out.value = value;
    out.side = side;
    return out;
}

inline void addBar(Job& job, const std::string& id, const std::string& role, std::vector<Place3> path) {
    Member bar = called<Member>(id);
    bar.role = role;
    bar.stock = "tube";
    bar.bend_radius_mm = 135;
    for (Place3& place : path) bar.path.push_back({std::move(place), std::nullopt});
    job.cage.members.push_back(std::move(bar));
}

/// A hoop "hoop" of 1200 by 1000 in the plane x = 0, of tube 40 x 2.5 bent to 135.
inline Job plainHoop() {
    Job job;
    job.stock.materials.push_back({});
    job.stock.materials.back().id = "steel";
    job.stock.tubes.push_back({});
    TubeStock& tube = job.stock.tubes.back();
    tube.id = "tube";
    tube.section = {40, 2.5};
    tube.material = "steel";
    job.dies.dies.push_back({"die", 40, 135});
    addBar(job, "hoop", "main_hoop",
           {FixedPoint{{0, 600, 0}}, FixedPoint{{0, 600, 1000}}, FixedPoint{{0, -600, 1000}},
            FixedPoint{{0, -600, 0}}});
    return job;
}

}  // namespace hoopwright
