// People and bars to measure between.
#pragma once

#include <numbers>
#include <random>
#include <string>
#include <vector>

#include "core/model/cage_geometry.h"
#include "core/model/driver.h"

namespace hoopwright::testing {

inline constexpr double kDeg = std::numbers::pi / 180;

/// Round numbers, sitting on the left.
inline Driver someone() {
    Driver d;
    d.id = "someone";
    d.name = "Someone";
    d.hip = {300, 350, 100};
    d.back_angle_rad = 20 * kDeg;
    d.shoulder_left = {100, 490, 650};
    d.shoulder_right = {100, 210, 650};
    d.elbow_left = {350, 590, 430};
    d.elbow_right = {350, 110, 430};
    d.hand_left = {580, 510, 590};
    d.hand_right = {580, 190, 590};
    d.knee_left = {740, 480, 320};
    d.knee_right = {740, 220, 320};
    d.heel_left = {1080, 430, -80};
    d.heel_right = {1080, 270, -80};
    d.eye = {215, 350, 845};
    d.helmet = {{140, 350, 835}, 340, 265, 275};
    d.belts.bar = "belt_bar";
    d.belts.spacing_mm = 200;
    d.belts.lap_anchors = {{220, 560, -60}, {220, 140, -60}};
    return d;
}

inline ResolvedMember tube(const std::string& id, const std::vector<PathPoint>& path, double od_mm = 40,
                           double padding_mm = 0) {
    ResolvedMember m;
    m.id = m.name = m.role = id;
    m.section = {od_mm, 2};
    m.line = makeCentreline(path).line;
    m.padding_mm = padding_mm;
    return m;
}
inline ResolvedMember straight(const std::string& id, const Vec3& from, const Vec3& to, double od_mm = 40,
                               double padding_mm = 0) {
    return tube(id, {{from, 0}, {to, 0}}, od_mm, padding_mm);
}
inline CageGeometry cageOf(std::vector<ResolvedMember> members) {
    CageGeometry cage;
    cage.members = std::move(members);
    return cage;
}

/// A hoop, two roof rails and a windshield bar round `someone`, and a belt bar.
inline CageGeometry smallCage() {
    return cageOf({
        tube("main_hoop",
             {{{-80, 680, -100}, 0},
              {{-80, 620, 1060}, 150},
              {{-80, -620, 1060}, 150},
              {{-80, -680, -100}, 0}},
             45, 20),
        straight("roof_left", {-80, 560, 1040}, {600, 540, 980}),
        straight("roof_right", {-80, -560, 1040}, {600, -540, 980}),
        straight("windshield_bar", {600, 540, 980}, {600, -540, 980}, 38, 15),
        straight("belt_bar", {-80, 660, 570}, {-80, -660, 570}, 38),
        straight("door_bar", {-80, 670, 500}, {1100, 690, 60}, 38),
    });
}

class Dice {
public:
    explicit Dice(unsigned seed) : random_(seed) {}
    double between(double low, double high) {
        return std::uniform_real_distribution<double>(low, high)(random_);
    }
    Vec3 point(double reach) {
        return {between(-reach, reach), between(-reach, reach), between(-reach, reach)};
    }
    Vec3 way() {
        for (;;) {
            const Vec3 v = point(1);
            if (v.norm() > 0.1 && v.norm() < 1) return v.normalized();
        }
    }

private:
    std::mt19937 random_;
};

}  // namespace hoopwright::testing
