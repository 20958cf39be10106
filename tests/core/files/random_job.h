// Seeded random values of every kind of file, with everything a file can say, in numbers as people write
// them.
#pragma once

#include <cmath>
#include <numbers>
#include <random>
#include <string>

#include "core/model/cage_layout.h"
#include "core/survey/survey.h"

namespace hoopwright {

class RandomJob {
public:
    RandomJob(unsigned seed, LengthUnit unit) : random_(seed), unit_(unit) {}

    bool coin() { return below(2) == 1; }
    int below(int n) { return std::uniform_int_distribution<int>(0, n - 1)(random_); }
    /// A length as typed: millimetres to a tenth, inches to a 64th or a thousandth.
    double length() {
        const double mm = std::round(std::uniform_real_distribution<double>(-30000, 30000)(random_)) / 10;
        if (unit_ == LengthUnit::mm) return mm;
        return (coin() ? std::round(mm * 64 / 25.4) / 64 : std::round(mm * 1000 / 25.4) / 1000) * 25.4;
    }
    double positive() { return std::abs(length()) + (unit_ == LengthUnit::mm ? 0.1 : 25.4); }
    /// As a drag leaves it: any double.
    double dragged() { return std::uniform_real_distribution<double>(-2000, 2000)(random_); }
    Vec3 point() {
        return coin() ? Vec3(length(), length(), length()) : Vec3(dragged(), dragged(), dragged());
    }
    Vec2 pair() { return {length(), dragged()}; }
    Vec3 direction() {
        const Vec3 unit[] = {Vec3::UnitX(), Vec3::UnitY(), -Vec3::UnitZ(), Vec3(0.6, 0, 0.8),
                             point().normalized()};
        return unit[below(5)];
    }
    /// A reader wants left and right not crossed.
    static void leftFirst(Vec3& left, Vec3& right) {
        if (left.y() < right.y()) std::swap(left, right);
    }
    std::string name(const std::string& stem, int n) { return stem + "_" + std::to_string(n); }
    std::string text() {
        const std::string known[] = {"Hoop, front",
                                     "45x2.5",
                                     "yes",
                                     "12",
                                     "12 mm",
                                     "a: b",
                                     "# no",
                                     "tab\there",
                                     "null",
                                     "it's",
                                     "say \"so\"",
                                     "Größe µ",
                                     "two\nlines",
                                     "two\nlines\n",
                                     " padded ",
                                     "~",
                                     "C:\\cage",
                                     "- dash",
                                     "line\n\n  indented\nlast",
                                     "&x",
                                     "010",
                                     "1,5",
                                     "ends:",
                                     "[x]",
                                     "\x01",
                                     "2026-03-02",
                                     "'quoted'",
                                     ".5",
                                     "x #y",
                                     "\r\n",
                                     "-3"};
        return known[below(static_cast<int>(std::size(known)))];
    }
    template <class Make>
    auto several(int most, Make make) {
        std::vector<decltype(make(0))> out;
        for (int i = below(most + 1); i > 0; --i) out.push_back(make(static_cast<int>(out.size())));
        return out;
    }
    Facts facts() {
        Facts out;
        if (coin())
            out["race_mass"] = {unit_ == LengthUnit::mm ? 1080.0 : 2300 * 0.45359237, Dimension::mass};
        if (coin()) out["roof"] = {std::string("closed")};
        if (coin()) out["homologated"] = {std::string("2004-05-01")};
        if (coin()) out["crew"] = {double(below(4))};
        if (coin()) out["glass"] = {coin()};
        if (coin()) out["note"] = {text()};
        if (coin()) out["speed"] = {dragged(), Dimension::speed};
        if (coin()) out["opening"] = {positive(), Dimension::length};
        return out;
    }
    ByOffsets offsets(const std::string& plane) {
        ByOffsets by;
        by.height_mm = length();
        by.from = coin() ? ByOffsets::From::sill : ByOffsets::From::ground;
        by.out_mm = positive();
        by.ahead_mm = coin() ? length() : dragged();
        if (coin()) by.plane = plane;
        return by;
    }
    /// Tapes that meet at some place, read to a hair, from four datums well spread.
    ByTapes tapes(const std::vector<CarPoint>& datums) {
        ByTapes by;
        const Vec3 at(dragged() / 4, dragged() / 4, 800 + std::abs(dragged()));
        for (const CarPoint& datum : datums) {
            by.tapes.push_back(
                {datum.name, std::round((datum.at - at).norm() * 100) / 100, coin() ? 0.5 + below(8) : 0});
        }
        if (coin()) {
            by.near = at;
        } else {
            by.lies = ByTapes::Lies::above;
        }
        return by;
    }
    std::vector<LineCorner> corners(const std::vector<Vec3>& points, const std::vector<CarPoint>& known) {
        std::vector<LineCorner> out;
        for (std::size_t i = 0; i < points.size() && !known.empty(); ++i) {
            const auto which = static_cast<std::size_t>(below(static_cast<int>(known.size())));
            if (coin())
                out.push_back({known[which].name, coin() ? point() : Vec3::Zero()});
            else
                out.emplace_back();
        }
        return out;
    }
    CarScan scan(int i) {
        CarScan scan;
        scan.file = name("scans/cab", i) + ".stl";
        scan.unit = static_cast<ScanUnit>(below(6));
        scan.pairs = several(4, [&](int) { return PickedPair{{dragged(), dragged(), dragged()}, point()}; });
        if (coin()) scan.box = ScanBox{point(), point()};
        scan.cuts = several(2, [&](int) { return ScanCut{point(), direction()}; });
        if (coin()) scan.how = text();
        return scan;
    }
    Car car() {
        Car car;
        car.name = text();
        car.body = static_cast<Car::Body>(below(5));
        car.frame = static_cast<Car::Frame>(below(3));
        car.facts = facts();
        car.ground_z_mm = length();
        car.points = several(5, [&](int i) {
            return CarPoint{name("point", i) + ".left", point(), coin() ? positive() : 0,
                            coin() ? text() : ""};
        });
        car.lines = several(4, [&](int i) {
            return CarLine{name("line", i), static_cast<CarLine::Kind>(below(4)),
                           several(4, [&](int) { return point(); }), coin()};
        });
        car.shell = several(3, [&](int i) {
            return ShellStation{name("station", i), length(), several(6, [&](int) { return pair(); })};
        });
        car.rails = several(3, [&](int i) {
            FrameRail rail{name("rail", i), several(4, [&](int) { return point(); }), positive(), positive(),
                           positive()};
            rail.of = static_cast<FrameRail::Of>(below(3));
            return rail;
        });
        car.wheels = several(4, [&](int) { return Wheel{point(), positive(), positive()}; });
        car.scans = several(3, [&](int i) { return scan(i); });
        if (coin()) car.notes = text();
        survey(car);
        return car;
    }
    /// What a tape and a square say of the car, and a word from the builder.
    void survey(Car& car) {
        car.symmetric = coin();
        car.planes = several(3, [&](int i) {
            return DatumPlane{name("plane", i), length(), coin() ? positive() : 0};
        });
        const std::string plane = car.planes.empty() ? std::string(kDoorEdge) : car.planes.front().name;
        for (int i = below(3); i > 0; --i) {
            CarPoint point{name("square", i) + ".right", Vec3::Zero(), coin() ? positive() : 0, ""};
            point.taken = offsets(plane);
            car.points.push_back(point);
        }
        if (coin()) {
            const Vec3 at[] = {{0, 630, 0}, {1090, 630, 0}, {0, -630, 0}, {1090, -630, 0}};
            std::vector<CarPoint> datums;
            for (const Vec3& each : at)
                datums.push_back({name("datum", static_cast<int>(datums.size())), each, 0, ""});
            CarPoint taped{"taped", Vec3::Zero(), coin() ? 2.0 : 0, coin() ? text() : ""};
            taped.taken = tapes(datums);
            car.points.insert(car.points.begin(), taped);
            car.points.insert(car.points.end(), datums.begin(), datums.end());
        }
        for (CarLine& line : car.lines) line.corners = corners(line.points, car.points);
        for (FrameRail& rail : car.rails) rail.corners = corners(rail.line, car.points);
        car.lessons = several(2, [&](int i) {
            return Lesson{coin() ? name("point", i) + ".left" : "", coin() ? "2026-03-02" : "", text()};
        });
        settle(car);
    }
    Driver driver() {
        Driver d;
        d.id = name("driver", below(9));
        d.name = text();
        d.occupant = coin() ? Driver::Occupant::driver : Driver::Occupant::passenger;
        d.back_angle_rad = coin() ? below(40) * std::numbers::pi / 180 : dragged() / 1000;
        for (Vec3* each :
             {&d.hip, &d.shoulder_left, &d.shoulder_right, &d.elbow_left, &d.elbow_right, &d.hand_left,
              &d.hand_right, &d.knee_left, &d.knee_right, &d.heel_left, &d.heel_right, &d.eye}) {
            *each = point();
        }
        for (const PointPair& pair : pointPairs()) leftFirst(d.*pair.left, d.*pair.right);
        if (coin()) d.figure = "student_formula_95";
        if (coin()) d.shoulder_width_mm = positive();
        if (coin()) d.note = text();
        d.helmet = {point(), positive(), positive(), positive()};
        if (coin()) {
            d.seat = Seat{positive(), positive(), point(), point()};
            leftFirst(d.seat->slot_left, d.seat->slot_right);
        }
        if (coin()) d.steering_wheel = SteeringWheel{point(), positive(), below(60) * std::numbers::pi / 180};
        if (coin()) {
            d.belts = {coin() ? "belt_bar" : "", positive(), positive(), {}, several(2, [&](int) {
                           return point();
                       })};
            if (coin()) {
                d.belts.shoulder_anchors = StrapAnchors{point(), point()};
                leftFirst(d.belts.shoulder_anchors->left, d.belts.shoulder_anchors->right);
            }
        }
        return d;
    }
    StockList stock() {
        StockList s;
        s.name = text();
        s.currency = "EUR";
        s.kerf_mm = positive();
        s.materials = {{"e355_n", text(), "mild_steel", 355.0, {}, 22.0, {}, 7850, text()},
                       {"4130", "4130", "chrome_moly", {}, dragged() + 3000, {}, 0.3, 7850, ""}};
        s.tubes = several(6, [&](int i) {
            const double wall = positive() / 100;
            return TubeStock{name("tube", i),
                             {wall * (3 + below(30)), wall},
                             coin() ? "e355_n" : "4130",
                             static_cast<TubeForm>(below(3)),
                             several(2,
                                     [&](int) {
                                         return StickLength{positive(), coin() ? 92.5 : 0};
                                     }),
                             coin() ? std::optional(wall * 0.9) : std::nullopt,
                             coin() ? std::optional(positive()) : std::nullopt,
                             coin() ? text() : "",
                             coin() ? "EN 10305-1" : ""};
        });
        return s;
    }
    DieList dies() {
        return {text(), several(4, [&](int i) {
                    return Die{name("die", i),
                               positive(),
                               positive(),
                               coin() ? positive() : 0,
                               coin() ? positive() : 0,
                               coin() ? 2.0944 : Die().greatest_angle_rad,
                               coin() ? std::optional(length()) : std::nullopt,
                               coin() ? std::optional(positive()) : std::nullopt,
                               coin() ? std::optional(positive()) : std::nullopt};
                })};
    }
    Place3 place(bool of_plate) {
        switch (below(of_plate ? 2 : 4)) {
            case 0:
                return FixedPoint{point()};
            case 1:
                return AtCarPoint{"sill_b.left", coin() ? point() : Vec3::Zero()};
            case 2:
                return OnPlate{"plate_0", coin() ? pair() : Vec2::Zero()};
            default:
                return landing();
        }
    }
    Landing landing() {
        Landing l;
        l.host = "member_0";
        l.by = static_cast<Landing::By>(below(6));
        if (l.by == Landing::By::fraction) l.value = below(100) / 99.0;
        if (l.by != Landing::By::fraction && l.by != Landing::By::end)
            l.value = coin() ? length() : dragged();
        l.from_last_end = (l.by == Landing::By::distance || l.by == Landing::By::end) && coin();
        l.side = static_cast<Side>(below(3));
        if (coin()) l.offset = point();
        l.also = several(2, [&](int i) { return name("member", i); });
        return l;
    }
    BentShape bentShape() {
        const auto degrees = [&](int n) { return (1 + below(n)) * std::numbers::pi / 180; };
        BentShape out;
        out.bend_radius_mm = positive();
        for (int i = 1 + below(4); i > 0; --i)
            out.bends.push_back({coin() ? degrees(178) : std::abs(dragged()) / 1000,
                                 out.bends.empty() || coin() ? 0 : dragged() / 1000});
        for (std::size_t i = 0; i <= out.bends.size(); ++i)
            out.straights_mm.push_back(coin() ? positive() : 0);
        return out;
    }
    Member member(int i) {
        Member m;
        m.id = name("member", i);
        m.role = "roof_bar";
        if (coin()) m.name = text();
        m.stock = "45x2.5";
        m.path = several(5, [&](int) {
            return MemberPoint{place(false), below(4) == 0 ? std::optional(positive()) : std::nullopt};
        });
        if (coin()) m.bend_radius_mm = positive();
        if (below(3) == 0) {
            m.bent = bentShape();
            m.bend_radius_mm.reset();
            for (MemberPoint& point : m.path) point.bend_radius_mm.reset();
        }
        m.mirrored = coin();
        m.optional_bar = coin();
        if (coin()) m.padding_mm = positive();
        m.passes = several(2, [&](int k) { return name("member", k); });
        if (coin()) m.note = text();
        return m;
    }
    PinnedDimension dimension(int i) {
        using Kind = PinnedDimension::Kind;
        PinnedDimension d;
        d.id = name("dimension", i);
        if (coin()) d.name = text();
        d.kind = static_cast<Kind>(below(5));
        if (d.kind == Kind::gap || d.kind == Kind::centres) {
            d.bar_a = "member_0";
            d.bar_b = "member_1.left";
            return d;
        }
        d.from = place(false);
        if (d.kind == Kind::height) {
            d.over = static_cast<PinnedDimension::Over>(below(3));
        } else {
            d.to = place(false);
        }
        return d;
    }
    Plate plate(int i) {
        Plate p;
        p.id = name("plate", i);
        p.mirrored = coin();
        p.at = place(true);
        p.normal = direction();
        p.along = direction();
        if (coin()) {
            p.length_mm = positive();
            p.width_mm = positive();
            if (coin())
                p.flaps = {{static_cast<PlateEdge>(below(4)), positive(),
                            (1 + below(119)) * (coin() ? 1 : -1) * std::numbers::pi / 180}};
        } else {
            p.outline = several(5, [&](int) { return pair(); });
        }
        p.thickness_mm = positive();
        if (coin()) p.material = text();
        p.fixing = coin() ? Fixing::welded : Fixing::bolted;
        if (coin())
            p.bolts = {below(9), positive(), coin() ? "8.8" : "",
                       coin() ? std::optional(positive()) : std::nullopt,
                       coin() ? std::optional(positive()) : std::nullopt};
        if (coin()) p.backing = BackingPlate{positive(), positive(), positive()};
        if (coin()) p.riser = Riser{positive(), positive()};
        if (coin()) p.rail = "sill.left";
        if (coin()) p.note = text();
        return p;
    }
    CageLayout cage() {
        CageLayout c;
        c.name = text();
        c.unit = unit_;
        c.car_file = "../cars/saloon.yaml";
        c.stock_file = "../stock/rack.yaml";
        c.dies_file = coin() ? text() : "dies.yaml";
        if (coin()) c.shop_file = "shop.yaml";
        c.driver_files = several(3, [&](int i) { return name("driver", i); });
        c.rule_files = several(2, [&](int i) { return name("rules", i); });
        c.entry = facts();
        if (coin()) c.node_reach_mm = positive();
        c.body_stays = coin();
        c.members = several(8, [&](int i) { return member(i); });
        c.plates = several(5, [&](int i) { return plate(i); });
        c.gussets = several(3, [&](int i) {
            return Gusset{
                name("gusset", i), coin(),     "member_0", "member_1",
                positive(),        positive(), coin(),     coin() ? std::optional(positive()) : std::nullopt};
        });
        c.dimensions = several(4, [&](int i) { return dimension(i); });
        c.answers = several(3, [&](int) {
            return PersonsAnswer{"club",
                                 "welds",
                                 coin() ? "hoop" : "",
                                 coin(),
                                 coin() ? text() : "",
                                 coin() ? "2026-03-02" : "",
                                 coin() ? text() : "",
                                 coin() ? "photos/hoop.jpg" : ""};
        });
        c.ticks = several(2, [&](int i) {
            return RuleTick{"club", name("rule", i), text(), coin() ? text() : "",
                            coin() ? "2026-03-02" : ""};
        });
        c.frozen = several(2, [&](int i) {
            return FrozenTable{name("table", i), text(), coin() ? "2026-03-02" : "", several(3, [&](int n) {
                                   return FrozenRule{name("rule", n), text()};
                               })};
        });
        c.readings = several(3, [&](int i) {
            BuiltReading r;
            r.of = name("member", i);
            r.quantity = "measured_wall";
            if (coin()) r.spot = text();
            r.dimension = coin() ? Dimension::length : coin() ? Dimension::none : Dimension::area;
            r.value = r.dimension == Dimension::area ? 12500 : length();
            if (coin()) r.who = text();
            if (coin()) r.when = "2026-05-04";
            if (coin()) r.note = text();
            return r;
        });
        c.certificates = several(2, [&](int i) {
            return Certificate{name("member", i), coin() ? text() : "", coin() ? text() : "",
                               coin() ? "2026-02-03" : ""};
        });
        c.papers = several(2, [&](int) {
            return DatedPaper{text(), coin() ? text() : "", coin() ? "2024-05-01" : "",
                              coin() ? "2029-12-31" : "", coin() ? text() : ""};
        });
        c.spares = several(2, [&](int i) { return SparePiece{name("member", i), 1 + below(4)}; });
        c.apart = several(2, [&](int) {
            return ApartPieces{{"member_0", "member_1.left"}, coin() ? text() : ""};
        });
        c.views = several(2, [&](int i) {
            return SavedView{name("view", i), point(), point() + Vec3(1, 0, 0), coin() ? positive() : 0,
                             coin()};
        });
        c.inspections = several(2, [&](int) {
            return Inspection{"2026-06-01", coin() ? text() : "", coin() ? text() : "",
                              coin() ? "reports/june.json" : "", coin() ? text() : ""};
        });
        if (coin()) c.notes = text();
        return c;
    }

private:
    std::mt19937 random_;
    LengthUnit unit_;
};

}  // namespace hoopwright
