// Which bars there are, what they join, and the facts of the entry.
#include <regex>
#include <stdexcept>

#include "core/units/measure.h"
#include "tests/rules/vectors/bench.h"

namespace hoopwright::test {
namespace {

/// Uprights apart from each other, on the left, or one of a pair on each side.
void bars(Bench& bench, const Words& words, const std::string& value, bool both_sides) {
    removeBars(bench, words.at(0));
    for (int i = 0; i < whole(value); ++i)
        addBar(bench, words.at(0), {point(-300 - 90 * i, 400, 300), point(-300 - 90 * i, 400, 700)},
               both_sides);
}

/// Ties from a pair of bars of that role to plates on the floor, so many on each side.
void returns(Bench& bench, const Words& words, const std::string& value) {
    Member& host = addBar(bench, words.at(0), {point(0, 400, 0), point(0, 400, 1200)}, true);
    const std::string id = host.id;
    for (int i = 0; i < whole(value); ++i) {
        Plate p;
        p.id = p.name = "tie_" + std::to_string(i);
        p.mirrored = true;
        p.at = FixedPoint{{-300 - 200.0 * i, 400, 0}};
        p.length_mm = p.width_mm = 100;
        p.thickness_mm = 3;
        bench.job.cage.plates.push_back(p);
        addBar(bench, "frame_return", {atHeight(id, 200 + 150.0 * i), {OnPlate{p.id}, {}}}, true);
    }
}

/// A bar to join: the first of that role, or a pair of uprights.
std::string hostOf(Bench& bench, const std::string& role, double x) {
    if (const Member* there = firstOf(bench, role)) return there->mirrored ? there->id + ".left" : there->id;
    return addBar(bench, role, {point(x, 400, 0), point(x, 400, 1200)}, true).id + ".left";
}

/// So many bars of a role that join one of `from` with one of `to`, and one more that ends in the air. Where
/// the two roles are one, the bars run across.
void joins(Bench& bench, const Words& words, const std::string& value) {
    const std::string &role = words.at(0), &from_role = words.at(1), &to_role = words.at(2);
    const bool across = from_role == to_role;
    const std::string from = hostOf(bench, from_role, 0);
    const std::string to = across ? from.substr(0, from.find('.')) + ".right" : hostOf(bench, to_role, 700);
    const bool pairs = words.size() > 3 && words[3] == "pairs";
    const auto side = [&](const std::string& id) { return pairs ? id.substr(0, id.find('.')) : id; };
    const int count = value == "yes" ? 1 : value == "no" ? 0 : whole(value);
    for (int i = 0; i < count; ++i)
        addBar(bench, role,
               {atHeight(side(from), 200 + 120.0 * i, Side::left),
                atHeight(side(to), 200 + 120.0 * i, Side::left)},
               pairs);
    if (count == 0 || pairs)
        addBar(bench, role, {atHeight(side(from), 1000, Side::left), point(300, 700, 1000)}, pairs);
}

/// One bar that lands on the other role's upright, or stands beside it.
void landsOn(Bench& bench, const Words& words, const std::string& value) {
    const std::string host = addPost(bench, words.at(1));
    addBar(bench, words.at(0),
           {yes(value) ? atHeight(host, 600) : point(-100, 400, 600), point(-600, 400, 600)});
}

/// So many ends on plates of a bar that starts on the other role's upright.
void feet(Bench& bench, const Words& words, const std::string& value) {
    const std::string host = addPost(bench, words.at(1));
    Plate p;
    p.id = p.name = "foot";
    p.at = FixedPoint{{700, 400, 0}};
    p.length_mm = p.width_mm = 100;
    p.thickness_mm = 3;
    bench.job.cage.plates = {p};
    MemberPoint end = point(700, 400, 200);
    if (whole(value) == 1) end = {OnPlate{"foot"}, {}};
    addBar(bench, words.at(0), {atHeight(host, 800), end});
}

/// So many bars of one role that land on another of it, as the halves of a cross do.
void crossings(Bench& bench, const Words& words, const std::string& value) {
    const std::string host = addPost(bench, words.at(0));
    for (int i = 0; i < whole(value); ++i)
        addBar(bench, words.at(0), {atHeight(host, 300 + 120.0 * i), point(-500, 400, 300 + 120.0 * i)});
}

/// An upright of that role, and whether another of it carries on from its top.
void splices(Bench& bench, const Words& words, const std::string& value) {
    const std::string host = addPost(bench, words.at(0));
    if (whole(value) == 0) return;
    Landing end;
    end.host = host;
    end.by = Landing::By::end;
    end.from_last_end = true;
    addBar(bench, words.at(0), {{end, {}}, point(0, 400, 1900)});
}

/// An upright of that role, and whether another of it turns off square at its top.
void cutCorner(Bench& bench, const Words& words, const std::string& value) {
    const std::string host = addPost(bench, words.at(0));
    if (whole(value) == 0) return;
    Landing end;
    end.host = host;
    end.by = Landing::By::end;
    end.from_last_end = true;
    addBar(bench, words.at(0), {{end, {}}, point(0, -400, 1200)});
}

/// Two uprights of the first roles, an upper and a lower bar between them, and across the opening the last
/// role; or nothing: so many bays are open.
void openBay(Bench& bench, const Words& words, const std::string& value) {
    const std::string rear = addPost(bench, words.at(0), 0), front = addPost(bench, words.at(1), 700);
    addBar(bench, words.at(2), {atHeight(rear, 330), atHeight(front, 330)});
    addBar(bench, words.at(3), {atHeight(rear, 40), atHeight(front, 40)});
    if (whole(value) == 0) addBar(bench, words.at(4), {atHeight(rear, 310), atHeight(front, 60)});
}

void setFact(Bench& bench, const Words& words, const std::string& value) {
    const std::string& name = words.at(0);
    if (name == "frame") {
        for (auto f : {Car::Frame::unibody, Car::Frame::ladder, Car::Frame::perimeter})
            if (value == frameWord(f)) bench.job.car.frame = f;
        return;
    }
    if (name == "body") {
        for (auto b : {Car::Body::saloon, Car::Body::open, Car::Body::pickup})
            if (value == bodyWord(b)) bench.job.car.body = b;
        return;
    }
    Fact fact;
    fact.value = value;
    if (value == "yes" || value == "no") fact.value = value == "yes";
    if (!std::regex_match(value, std::regex(R"(\d{4}-\d\d-\d\d)"))) {
        for (auto d : {Dimension::none, Dimension::mass, Dimension::speed, Dimension::time}) {
            // A plain number is a count; a measure says its unit.
            if (d != Dimension::none && std::regex_match(value, std::regex(R"([\d.]+)"))) continue;
            if (const Expected<double> read = readMeasure(value, baseUnit(d))) fact = {*read, d};
        }
    }
    bench.job.cage.entry[name] = fact;
}

void setCarPoint(Bench& bench, const Words& words, const std::string& value) {
    const std::regex form(R"(([-\d.]+),([-\d.]+),([-\d.]+))");
    std::smatch parts;
    if (!std::regex_match(value, parts, form)) throw std::runtime_error("write x,y,z");
    bench.job.car.points.push_back(
        {words.at(0), {number(parts[1]), number(parts[2]), number(parts[3])}, 0, ""});
}

}  // namespace

Knobs countKnobs() {
    return {
        {"fact", setFact},
        {"car", setCarPoint},
        {"bars", [](Bench& b, const Words& w, const std::string& v) { bars(b, w, v, false); }},
        {"pairs", [](Bench& b, const Words& w, const std::string& v) { bars(b, w, v, true); }},
        {"returns", returns},
        {"joins", joins},
        {"crossings", crossings},
        {"splices", splices},
        {"cut_corner", cutCorner},
        {"open_bay", openBay},
        {"reading",
         [](Bench& b, const Words& w, const std::string& v) {
             BuiltReading one;
             one.of = firstOf(b, w.at(1))->id;
             one.quantity = w.at(0);
             const bool of_length = w.at(0) == "inspection_hole";
             one.value = of_length ? length(v) : number(v);
             if (of_length) one.dimension = Dimension::length;
             one.when = "2026-01-02";
             b.job.cage.readings = {one};
         }},
        {"lands_on", landsOn},
        {"feet", feet},
        // Of the bars there are.
        {"belts_on", [](Bench& b, const Words& w,
                        const std::string&) { b.job.drivers.front().belts.bar = firstOf(b, w.at(0))->id; }},
        {"optional",
         [](Bench& b, const Words& w, const std::string& v) {
             for (Member& m : b.job.cage.members)
                 if (m.role == w.at(0)) m.optional_bar = yes(v);
         }},
        {"passenger",
         [](Bench& b, const Words&, const std::string&) {
             Driver passenger = b.job.drivers.front();
             passenger.id = "passenger";
             passenger.occupant = Driver::Occupant::passenger;
             for (Vec3* p : {&passenger.hip, &passenger.eye, &passenger.helmet.centre}) p->y() -= 600;
             b.job.drivers.push_back(passenger);
         }},
        {"nobody", [](Bench& b, const Words&, const std::string&) { b.job.drivers.clear(); }},
    };
}

}  // namespace hoopwright::test
