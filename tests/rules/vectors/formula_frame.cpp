#include "tests/rules/vectors/formula_frame.h"

#include <cmath>

namespace hoopwright::test {
namespace {

constexpr double kRad = M_PI / 180;

MemberPoint on(const std::string& host, double height, Side side = Side::left) {
    Landing l;
    l.host = host;
    l.value = height;
    l.side = side;
    return {l, {}};
}
MemberPoint along(const std::string& host, double distance, bool from_last) {
    Landing l;
    l.host = host;
    l.by = Landing::By::distance;
    l.value = distance;
    l.from_last_end = from_last;
    return {l, {}};
}
MemberPoint at(double x, double y, double z) {
    return {FixedPoint{{x, y, z}}, {}};
}

Member bar(const std::string& id, const std::string& role, const std::string& stock,
           std::vector<MemberPoint> path, bool mirrored) {
    Member m;
    m.id = m.name = id;
    m.role = role;
    m.stock = stock;
    m.path = std::move(path);
    m.mirrored = mirrored;
    return m;
}

void addDriver(Job& job, const FormulaFrame& f) {
    Driver d;
    d.id = d.name = "template";
    d.back_angle_rad = f.back_deg * kRad;
    d.hip = {300, 0, 100};
    const double fall = f.belt_fall_deg * kRad;
    const double bar_x = 500 * -std::tan(f.lean_deg * kRad);
    // 200 mm of strap that touches the bar.
    const double r = f.main.od_mm / 2;
    d.shoulder_left = {bar_x - r * std::sin(fall) + 200 * std::cos(fall), f.belt_spacing / 2,
                       500 + r * std::cos(fall) + 200 * std::sin(fall)};
    d.shoulder_right = mirrored(d.shoulder_left);
    d.belts.bar = "belt_bar";
    d.belts.spacing_mm = f.belt_spacing;
    const double lap = 100 * std::tan(f.lap_deg * kRad);
    d.belts.lap_anchors = {{200, 200, 100 - lap}, {200, -200, 100 - lap}};
    // The head is a circle of 300 mm (F.5.6.4), under the line over both hoops' tops.
    const Vec3 from(0, 0, 1012.7), to(700, 0, 612.7);
    const Vec3 down = Vec3(to.z() - from.z(), 0, -(to.x() - from.x())).normalized();
    d.helmet = {from + 0.3 * (to - from) + f.helmet_under_line * down, 300, 300, 300};
    job.drivers = {d};
}

}  // namespace

Job jobOf(const FormulaFrame& f) {
    Job job;
    job.stock.materials = {{"steel", "Steel", "mild_steel", 305, 365, 20, 0.2, 7850, "a test"}};
    const std::pair<const char*, TubeSection> tubes[] = {
        {"main", f.main}, {"front", f.front}, {"brace", f.brace}, {"side", f.side}, {"support", f.support}};
    for (const auto& [id, section] : tubes) {
        TubeStock t;
        t.id = id;
        t.section = section;
        t.material = "steel";
        job.stock.tubes.push_back(t);
    }
    const double w = f.half_width, x = -1000 * std::tan(f.lean_deg * kRad),
                 fx = 700 - 600 * std::tan(f.front_lean_deg * kRad);
    Member main_hoop = bar("main_hoop", "main_hoop", "main",
                           {at(0, w, 0), at(x, w, 1000), at(x, -w, 1000), at(0, -w, 0)}, false);
    Member front_hoop = bar("front_hoop", "front_hoop", "front",
                            {at(700, 250, 0), at(fx, 250, 600), at(fx, -250, 600), at(700, -250, 0)}, false);
    main_hoop.bend_radius_mm = front_hoop.bend_radius_mm = f.radius;
    const double off = f.brace_off_deg * kRad, brace_x = -f.brace_height * std::tan(f.lean_deg * kRad);
    Member brace = bar("brace", "rear_brace", "brace",
                       {on("main_hoop", f.brace_height),
                        at(brace_x - 800 * std::sin(off), w, f.brace_height - 800 * std::cos(off))},
                       true);
    if (f.brace_bends > 0) brace.path.insert(brace.path.begin() + 1, at(-250, w, 700));
    brace.bend_radius_mm = 90;
    job.cage.members = {
        main_hoop,
        front_hoop,
        bar("upper", "upper_side_impact", "side",
            {on("main_hoop", f.upper_side_height), on("front_hoop", f.upper_side_height)}, true),
        bar("lower", "lower_side_impact", "side",
            {on("main_hoop", f.lower_height), on("front_hoop", f.lower_height)}, true),
        bar("cross", "side_impact_diagonal", "side", {along("upper", 20, false), along("lower", 20, true)},
            true),
        brace,
        bar("belt_bar", "belt_bar", "main", {on("main_hoop", 500), on("main_hoop", 500, Side::right)}, false),
        bar("front_brace", "front_hoop_brace", "side",
            {on("front_hoop", f.front_brace_height), at(1300, 200, 300)}, true),
        bar("bulkhead", "front_bulkhead", "side", {at(1300, 200, 300), at(1300, -200, 300)}, false),
        bar("support_1", "bulkhead_support", "support", {at(1300, 200, 300), at(700, 250, 330)}, true),
        bar("support_2", "bulkhead_support", "support", {at(1300, 200, 100), at(700, 250, 40)}, true),
        bar("support_3", "bulkhead_support", "support", {at(1300, 200, 280), at(700, 250, 60)}, true),
        bar("carry_1", "brace_support", "support", {along("brace", 10, true), on("main_hoop", 330)}, true),
        bar("carry_2", "brace_support", "support",
            {along("brace", 60, true), on("main_hoop", f.lower_height)}, true),
    };
    job.cage.entry["brace_direction"] = {std::string("rearward"), Dimension::none};
    job.car.points = {{"steering_wheel_top", {400, 0, 590}, 0, ""},
                      {"steering_wheel_front", {460, 0, 500}, 0, ""}};
    addDriver(job, f);
    return job;
}

}  // namespace hoopwright::test
