// JSON.md and the answers themselves, held together both ways: every key stands in its section, and every
// word of a section is a key or a value some answer has.
#include <gmock/gmock.h>

#include <functional>
#include <map>
#include <regex>
#include <set>

#include "tests/app/commands/spoiled.h"
#include "tests/core/mesh/made_scan.h"
#include "tests/core/mesh/mesh_files.h"

using namespace hoopwright;

namespace {

using Words = std::set<std::string>;

/// Keys, and texts that could be named as what a key can hold.
struct Seen {
    Words keys, values;
    void add(const QJsonValue& value) {
        if (value.isString()) values.insert(value.toString().toStdString());
        for (const QJsonValue& item : value.toArray()) add(item);
        const QJsonObject object = value.toObject();
        for (auto each = object.begin(); each != object.end(); ++each) {
            keys.insert(each.key().toStdString());
            add(each.value());
        }
    }
};

/// What a finding measured has its unit behind it: value_mm, limit_deg.
std::string stemOf(const std::string& key) {
    for (const std::string stem : {"value", "limit", "margin", "was_margin", "low", "high", "planned_to",
                                   "planned", "measured_to", "measured", "drift"})
        if (key.starts_with(stem + "_") && key != "limit_text" && !key.ends_with("_open")) return stem;
    return key;
}

/// Words in backticks, by the heading they stand under; those before any under "".
std::map<std::string, Words> wordsOfThePage() {
    std::map<std::string, Words> out;
    std::string heading;
    std::istringstream lines(textOf(HOOPWRIGHT_SOURCE_DIR "/app/commands/JSON.md"));
    const std::regex word("`([^`]+)`");
    for (std::string line; std::getline(lines, line);) {
        if (line.starts_with("## ")) heading = line.substr(3);
        for (std::sregex_iterator at(line.begin(), line.end(), word), end; at != end; ++at) {
            std::string said = (*at)[1];
            if (said.ends_with("[]")) said.resize(said.size() - 2);
            out[heading].insert(said);
        }
    }
    return out;
}

/// A seat moved out of reach; straps on to anchors; a driver without straps in a car without a door.
void addClearances(const SpoiledFolder& folder, Seen& seen) {
    seen.add(run({"clearance", kSaloon, "--seat", "slide=-400", "--json"}).json());
    const std::string tall = textOf(dataFile("drivers/saloon_tall.yaml"));
    const auto seat = [&](const std::string& from, const std::string& to, const std::string& car) {
        std::string text = with(SpoiledFolder::cageText(), dataFile("drivers/saloon_tall.yaml"),
                                folder.write("tall.yaml", with(tall, from, to)));
        text = with(text, dataFile("cars/saloon.yaml"), folder.write("car.yaml", car));
        seen.add(run({"clearance", folder.write("seated.yaml", text), "--driver", "tall", "--json"}).json());
    };
    const std::string car = textOf(dataFile("cars/saloon.yaml"));
    seat("lap_anchors:", "shoulder_anchors: {left: [-600, 460, 100], right: [-600, 270, 100]}, lap_anchors:",
         car);
    seat("bar: belt_bar, ", "", with(car, "name: door_opening.left", "name: hatch.left"));
}

/// A question, a wall from memory, a count: and a year later.
const std::string kRecordTable =
    "hoopwright: rules\nversion: 1\nid: record\ntitle: T\nedition: '1'\nwritten_by: W\npublished: no\n"
    "units: mm\nadvice: A.\nrules:\n"
    "  - {id: wall, title: Wall, sentence: S., known: memory, measure: wall, of: {role: main_hoop}, "
    "at_least: 2}\n"
    "  - {id: seen, title: Seen, sentence: S., ask: 'Is it?'}\n"
    "  - {id: gone, title: Gone, sentence: S., measure: wall, at_least: 1}\n";
const std::string kNewsTable =
    "hoopwright: rules\nversion: 1\nid: record\ntitle: T\nedition: '2'\nwritten_by: W\npublished: no\n"
    "units: mm\nadvice: A.\nrules:\n"
    "  - {id: wall, title: Wall, sentence: S., known: second_hand, measure: wall, of: {role: main_hoop}, "
    "at_least: 3}\n"
    "  - {id: seen, title: Seen, sentence: S., ask: 'Is it?'}\n"
    "  - {id: fixed, title: Fixed, sentence: S., measure: fixing, one_of: [welded]}\n"
    "  - {id: thick, title: Thick, sentence: S., measure: plate_thickness, at_least: 2}\n"
    "  - {id: many, title: Many, sentence: S., measure: member_count, at_least: 3}\n";

/// The demo with all that is kept of a built cage: readings, a paper, an inspection, a question answered.
std::string recordedCage(const SpoiledFolder& folder) {
    folder.write("then.json", run({"check", kFaultySaloon, "--json"}).out);
    return folder.write(
        "recorded.yaml",
        SpoiledFolder::cageText() +
            "\nreadings:\n"
            "  - {of: main_hoop, quantity: measured_wall, spot: '1.0', value: 2.44 mm, who: A, when: "
            "2026-03-02}\n"
            "  - {of: rear_brace.left, quantity: angle_to_vertical, spot: side view, value: 40 deg}\n"
            "papers: [{what: Belts, number: B1, issued: 2021-01-01, due: 2026-12-31}]\n"
            "inspections: [{when: 2025-03-01, who: I, outcome: passed, report: then.json}]\n"
            "answers:\n  - {table: club_hillclimb, rule: welds_all_round, subject: '', good: true, who: A, "
            "when: 2026-03-02, photo: none.jpg}\n");
}

/// Answers of a command on the demos and on a cage that lacks this and that, so that each key is there once.
Seen answersOf(const std::string& command) {
    Seen seen;
    if (command == "quantities") {
        seen.add(run({"quantities", "--json"}).json());
        return seen;
    }
    if (command == "rules") {
        const SpoiledFolder tables;
        const std::string head =
            "hoopwright: rules\nversion: 1\nid: t\ntitle: T\nedition: '1'\nwritten_by: W\npublished: "
            "no\nunits: "
            "mm\nadvice: A.\ngroups:\n  idle: {role: main_hoop}\nrules:\n";
        const auto rule = [](const std::string& id, const std::string& says) {
            return "  - {id: " + id + ", title: T, sentence: S., " + says + "}\n";
        };
        const std::string remarks =
            head + rule("a", "measure: od, at_least: 50") + rule("b", "measure: od, at_most: 40") +
            rule("c", "measure: feet, at_least: 3") + rule("d", "measure: feet, at_most: 2") +
            rule("e", "measure: wall, of: {role: main_hoop, not: {role: main_hoop}}, at_least: 2");
        seen.add(run({"rules", tables.write("remarks.yaml", remarks), "--json"}).json());
        seen.add(run({"rules", tables.write("wrong.yaml", head + rule("a", "measure: odd, at_least: 50")),
                      "--json"})
                     .json());
        return seen;
    }
    if (command == "shop") {
        for (const char* shop : {"stock/shop_metric.yaml", "stock/shop_inch.yaml"})
            seen.add(run({"shop", dataFile(shop), "--json"}).json());
        return seen;
    }
    if (command == "fit") {
        const auto add = [&](std::vector<std::string> more) {
            std::vector<std::string> words = {"fit", kSaloon, "--json", "--member"};
            words.insert(words.end(), more.begin(), more.end());
            seen.add(run(words).json());
        };
        add({"main_hoop", "--bends", "fewest", "--mean-gap", "1"});
        add({"main_hoop", "--bent", "900, 75, 900, 75, 900"});
        add({"main_hoop", "--x", "doors"});
        add({"side_bar"});
        return seen;
    }
    if (command == "grip") {
        for (const char* part : {"belt_bar", "main_hoop", "hoop_foot.left"})
            seen.add(run({"grip", kSaloon, "--json", "--part", part}).json());
        seen.add(run({"grip", kSaloon, "--json", "--part", "belt_bar", "--take", "1", "--to", "700"}).json());
        const SpoiledFolder low;
        const std::string cage = low.cage("- {on: main_hoop, side: left, height: 515}",
                                          "- {on: main_hoop, side: left, height: 400}");
        seen.add(run({"grip", cage, "--json", "--part", "belt_bar"}).json());
        return seen;
    }
    if (command == "edit") {
        seen.add(run({"edit", kSaloon, "--json", "--make-cross", "hoop_diagonal"}).json());
        seen.add(run({"edit", kSaloon, "--json", "--refit", "side_bar"}).json());
        seen.add(run({"edit", kSaloon, "--json", "--delete", "main_hoop"}).json());
        return seen;
    }
    if (command == "mend") {
        for (const std::string& cage : {kFaultySaloon, dataFile("cages/faults/mile_pickup.yaml")})
            seen.add(run({"mend", cage, "--json", "--take", "1"}).json());
        return seen;
    }
    if (command == "answer" || command == "tick" || command == "editions") {
        const SpoiledFolder folder;
        const std::string table = folder.write("record.yaml", kRecordTable);
        const std::string kept = folder.path("kept.yaml"), news = folder.write("news.yaml", kNewsTable);
        std::vector<std::string> words{command, kSaloon};
        if (command != "editions") words.push_back(command == "answer" ? "seen" : "wall");
        for (const std::string word : {"--json", "--rules", table.c_str()}) words.push_back(word);
        if (command != "editions")
            for (const std::string word : {"--who", "A. Fitter"}) words.push_back(word);
        if (command == "answer") words.push_back("--good");
        seen.add(run(words).json());
        if (command != "editions") return seen;
        run({"editions", kSaloon, "--rules", table, "--keep", "--out", kept});
        seen.add(run({"editions", kept, "--rules", news, "--json"}).json());
        return seen;
    }
    if (command == "starter") {
        const auto ask = [&](std::vector<std::string> words) {
            words.insert(words.begin(), "starter");
            words.push_back("--json");
            seen.add(run(words).json());
        };
        ask({});
        ask({"full_side_bars", "--like", kSaloon, "--without", "dash_bar", "--tube", "main_hoop=45x2.5"});
        ask({"tied_side_bars", "--like", kSaloon});
        ask({"full_two_hoops", "--like", kPickup});
        ask({"full_side_bars", "--like", kSaloon, "--hoop", "-60"});
        return seen;
    }
    if (command == "export") {
        for (const char* cage : {kSaloon.c_str(), kFaultySaloon.c_str()})
            seen.add(run({command, cage, "--format", "csv", "--json"}).json());
        return seen;
    }
    const SpoiledFolder folder;
    const std::string short_sticks = folder.write(
        "stock.yaml", with(textOf(dataFile("stock/metric.yaml")), "sticks: [{length: 6000, price: 96.00}]",
                           "sticks: [{length: 2000, price: 40.00}]"));
    std::string text = with(SpoiledFolder::cageText(), dataFile("stock/metric.yaml"), short_sticks);
    // The belt bar lies along the hoop: no cut. The far half has no host: a problem.
    text = with(text, "- {on: hoop_diagonal, height: 515}\n\n",
                "- {on: main_hoop, side: left, height: 200}\n\n");
    text = with(text, "- {on: main_hoop, side: left, height: 515}",
                "- {on: main_hoop, side: left, height: 400}");
    const std::string spoiled = folder.write("cage.yaml", text);
    for (const std::string& cage : {kSaloon, kPickup, kFaultySaloon, spoiled})
        seen.add(run({command, cage, "--json"}).json());
    if (command == "clearance") addClearances(folder, seen);
    if (command == "geometry") {
        folder.write("cab.stl", stlBinary(madeScan(4, 5)));
        const std::string car =
            folder.write("car.yaml", textOf(dataFile("cars/saloon.yaml")) +
                                         "scans:\n  - file: cab.stl\n    pairs:\n"
                                         "      - {scan: [0, 0, 0], car: [1, 0, 0]}\n"
                                         "      - {scan: [1000, 0, 0], car: [1000, 0, 0]}\n"
                                         "      - {scan: [0, 1000, 0], car: [0, 1000, 0]}\n");
        const std::string scanned =
            folder.write("scanned.yaml", with(SpoiledFolder::cageText(), dataFile("cars/saloon.yaml"), car));
        seen.add(run({command, scanned, "--json"}).json());
        // Every kind of dimension over every datum, and a bar that may be left out.
        const std::string pinned =
            "dimensions:\n"
            "  - {id: a, kind: distance, from: [0, 0, 0], to: {on: main_hoop, end: first}}\n"
            "  - {id: b, kind: gap, bars: [main_hoop, belt_bar]}\n"
            "  - {id: c, kind: centres, bars: [main_hoop, gone]}\n"
            "  - {id: d, kind: angle, from: {on: main_hoop, distance: 300}, to: {on: belt_bar, distance: "
            "300}}\n"
            "  - {id: e, kind: height, from: {on: belt_bar, fraction: 0.5}}\n"
            "  - {id: f, kind: height, from: {on: belt_bar, fraction: 0.5}, over: sill}\n"
            "  - {id: g, kind: height, from: {on: belt_bar, fraction: 0.5}, over: floor}\n"
            "members:";
        std::string cage = with(SpoiledFolder::cageText(), "members:", pinned);
        cage = with(cage, "- id: belt_bar\n", "- id: belt_bar\n    optional: true\n");
        seen.add(run({command, folder.write("pinned.yaml", cage), "--json"}).json());
    }
    if (command == "geometry" || command == "sheets") {
        // The hoop stands across the fold of its foot.
        const std::string cage =
            with(with(SpoiledFolder::cageText(), "angle: 90 deg}]", "angle: 20 deg}]"),
                 "- {plate: hoop_foot.left}", "- {plate: hoop_foot.left, offset: [0, 50]}");
        seen.add(run({command, folder.write("folded.yaml", cage), "--json"}).json());
    }
    if (command == "geometry" || command == "order") {
        // A hoop bought bent, a bolted foot, a bar that cannot be built.
        const std::string bought = folder.path("bought.yaml");
        run({"fit", kSaloon, "--member", "main_hoop", "--bent", "900, 75, 900, 75, 900", "--out", bought});
        seen.add(run({command, bought, "--json"}).json());
        const std::string bolted = with(SpoiledFolder::cageText(), "fixing: welded, rail: sill.left",
                                        "fixing: bolted, rail: sill.left");
        seen.add(run({command, folder.write("bolted.yaml", bolted), "--json"}).json());
        const std::string high = with(SpoiledFolder::cageText(), "- {on: main_hoop, side: left, height: 515}",
                                      "- {on: main_hoop, side: left, height: 5150}");
        seen.add(run({command, folder.write("high.yaml", high), "--json"}).json());
    }
    if (command == "sheets") {
        // A hoop bought bent; a tube with a seam, and a shelf without hole saws.
        const std::string bought = folder.path("bought.yaml");
        run({"fit", kSaloon, "--member", "main_hoop", "--bent", "900, 75, 900, 75, 900", "--out", bought});
        seen.add(run({command, bought, "--json"}).json());
        const std::string seamed = folder.write(
            "seamed.yaml", with(textOf(dataFile("stock/metric.yaml")), "form: seamless", "form: welded"));
        const std::string bare =
            folder.write("shop.yaml", "hoopwright: shop\nversion: 1\nunits: mm\nname: S\nhole_saws: []\n");
        std::string cage = with(SpoiledFolder::cageText(), dataFile("stock/metric.yaml"), seamed);
        cage = with(cage, dataFile("stock/shop_metric.yaml"), bare);
        cage = with(cage, "- id: belt_bar\n", "- id: belt_bar\n    optional: true\n");
        seen.add(run({command, folder.write("seamed_cage.yaml", cage), "--json", "--out",
                      folder.path("sheets"), "--only", "order"})
                     .json());
    }
    if (command == "pack" || command == "check")
        seen.add(run({command, recordedCage(folder), "--json"}).json());
    if (command == "show") {
        // Bolted feet, and no shop.
        std::string cage =
            with(SpoiledFolder::cageText(), "fixing: welded, rail: sill.left",
                 "fixing: bolted, bolts: {count: 3, diameter: 8, grade: \"8.8\"}, rail: sill.left");
        cage = with(cage, "shop: " + dataFile("stock/shop_metric.yaml") + "\n", "");
        seen.add(run({command, folder.write("bolted.yaml", cage), "--json"}).json());
    }
    if (command == "nodes") {
        // A bar whose end misses a node, with a bend that nothing holds.
        const std::string stray =
            "members:\n  - {id: stray, role: roof_bar, stock: 38x2.5, path: [[-900, 0, 300], [300, 0, 300], "
            "[300, 500, 900]]}\n";
        seen.add(
            run({command, folder.write("stray.yaml", with(SpoiledFolder::cageText(), "members:\n", stray)),
                 "--json", "--near", "900"})
                .json());
    }
    if (command != "check") return seen;
    // A height band is asked for by no shipped table that fits a saloon.
    const std::string band = folder.write(
        "band.yaml",
        "hoopwright: rules\nversion: 1\nid: band\ntitle: T\nedition: '1'\nwritten_by: W\npublished: no\n"
        "units: mm\nadvice: A.\nrules:\n  - {id: b, title: T, sentence: S., measure: height, of: {role: "
        "belt_bar}, between: [400, 600]}\n");
    for (const std::string& table :
         {dataFile("rules/standing_mile.yaml"), band, dataFile("rules/student_formula_2024.yaml")})
        seen.add(run({"check", kSaloon, "--json", "--rules", table}).json());
    // Two tables, an earlier report, another class, an answer, a tick and a newer edition.
    const std::string first = folder.write("record.yaml", kRecordTable),
                      second = folder.write("news.yaml", kNewsTable);
    std::string other = with(kNewsTable, "id: record", "id: other");
    other = with(other, "at_least: 3", "at_most: 2");
    other = with(other, "member_count, at_least: 3", "member_count, at_least: 4");
    other = folder.write("other.yaml",
                         with(other, "plate_thickness, at_least: 2", "plate_thickness, at_most: 9"));
    const std::string said = folder.path("said.yaml"), ticked = folder.path("ticked.yaml"),
                      kept = folder.path("agreed.yaml");
    run({"answer", kSaloon, "seen", "--rules", first, "--good", "--who", "A. Fitter", "--out", said});
    run({"tick", said, "wall", "--rules", first, "--who", "A. Fitter", "--out", ticked});
    run({"editions", ticked, "--rules", first, "--keep", "--out", kept});
    const std::string report =
        folder.write("report.json", run({"check", kept, "--rules", first, "--json"}).out);
    seen.add(run({"check", kept, "--rules", first, "--json"}).json());
    seen.add(run({"check", kept, "--rules", second, "--rules", other, "--since", report, "--json"}).json());
    seen.add(run({"check", kept, "--as", second, "--json"}).json());
    const std::string worse = folder.write("worse.json", run({"check", kFaultySaloon, "--json"}).out);
    seen.add(run({"check", kFaultySaloon, "--as", dataFile("rules/standing_mile.yaml"), "--json"}).json());
    seen.add(run({"check",
                  folder.cage("- {on: main_hoop, side: left, height: 515}",
                              "- {on: main_hoop, side: left, height: 505}"),
                  "--since", worse, "--json"})
                 .json());
    return seen;
}

class JsonPage : public testing::TestWithParam<std::string> {};
INSTANTIATE_TEST_SUITE_P(Commands, JsonPage,
                         testing::Values("check", "clearance", "edit", "fit", "geometry", "grip", "nodes",
                                         "order", "pack", "quantities", "sheets", "show", "shop", "rules",
                                         "starter", "mend", "answer", "tick", "editions", "export"),
                         [](const auto& it) { return it.param; });

TEST_P(JsonPage, HasEveryKeyInTheSectionOfItsCommand) {
    const auto page = wordsOfThePage();
    const Seen seen = answersOf(GetParam());
    const bool few = std::set<std::string>{"quantities", "answer", "tick"}.contains(GetParam());
    EXPECT_GT(seen.keys.size(), few ? 4u : 10u);
    for (const std::string& key : seen.keys) {
        bool told = false;
        // A geometry's drivers are told of under clearance.
        const std::string also = GetParam() == "geometry" ? "clearance" : "problems";
        // A check tells of ways out and editions as their own commands do.
        const std::string third = GetParam() == "check" ? "mend" : GetParam();
        const std::string fourth = GetParam() == "check" ? "editions" : GetParam();
        for (const std::string& section :
             {std::string(), GetParam(), std::string("problems"), also, third, fourth})
            told |= page.at(section).contains(key) || page.at(section).contains(stemOf(key));
        EXPECT_TRUE(told) << "`" << key << "` is not described for " << GetParam();
    }
}

TEST_P(JsonPage, NamesNothingThatIsInNoAnswer) {
    const Seen seen = answersOf(GetParam());
    Words stems;
    for (const std::string& key : seen.keys) stems.insert(stemOf(key));
    const auto page = wordsOfThePage();
    for (const std::string& word : page.at(GetParam())) {
        if (word == "nodes" || word.starts_with('_')) continue;  // an index into it; a unit
        // Values may stand for others of their kind: one side of a pair, one part of a person.
        EXPECT_TRUE(seen.keys.contains(word) || stems.contains(word) || seen.values.contains(word))
            << "`" << word << "` is in no answer of " << GetParam();
    }
}

TEST(JsonPage, DescribesProblems) {
    const SpoiledFolder folder;
    const QJsonObject json = run({"check", folder.cage("stock: 38x2.5", "stock: gold"), "--json"}).json();
    const QJsonArray problems = json["problems"].toArray();
    ASSERT_EQ(problems.size(), 1);
    Words keys;
    for (const QString& key : problems[0].toObject().keys()) keys.insert(key.toStdString());
    Words said = wordsOfThePage().at("problems");
    EXPECT_EQ(keys, said);
}

TEST(JsonPage, SaysWhichUnitsKeysCanHave) {
    const Words intro = wordsOfThePage().at("");
    const std::regex unit("^[a-z_]*_(mm|mm2|mm3|mm4|deg|kg|mpa|m_per_s|s)$");
    Words ends;
    for (const std::string command : {"check", "clearance", "geometry", "order"}) {
        for (const std::string& key : answersOf(command).keys) {
            std::smatch match;
            if (std::regex_match(key, match, unit)) ends.insert("_" + match[1].str());
        }
    }
    EXPECT_TRUE(ends.contains("_mm") && ends.contains("_deg") && ends.contains("_kg") &&
                ends.contains("_mm2"));
    for (const std::string& end : ends) EXPECT_TRUE(intro.contains(end)) << end;
}

/// Keys that look like a length, an angle or a mass and do not say in what.
TEST(JsonPage, NoNumberOfALengthAnAngleOrAMassIsWithoutItsUnit) {
    const Words bare = {"version",        "rules",
                        "fails",          "cannot_tell",
                        "ask_person",     "meets",
                        "does_not_apply", "things",
                        "rank",           "meets_not_confirmed",
                        "stations",       "node",
                        "missed",         "end",
                        "members",        "joints",
                        "bends",          "sticks",
                        "price",          "value",
                        "limit",          "margin",
                        "axis",           "outward",
                        "inward",         "clock",
                        "along",          "across",
                        "normal",         "share",
                        "across_from",    "across_to",
                        "piece",          "windshield_hidden",
                        "spare",          "rack",
                        "stick",          "count",
                        "price_each",     "gap_ratio",
                        "off_cuts",       "different_lengths"};
    std::function<void(const QJsonValue&, const std::string&)> walk = [&](const QJsonValue& value,
                                                                          const std::string& key) {
        if (value.isDouble()) {
            const bool has_unit = key.find("_mm") != std::string::npos || key.ends_with("_deg") ||
                                  key.ends_with("_kg") || key.ends_with("_mpa");
            EXPECT_TRUE(has_unit || bare.contains(key)) << key;
        }
        for (const QJsonValue& item : value.toArray()) walk(item, key);
        const QJsonObject object = value.toObject();
        for (auto each = object.begin(); each != object.end(); ++each)
            walk(each.value(), each.key().toStdString());
    };
    for (const std::string command : {"check", "clearance", "geometry", "nodes", "order"}) {
        for (const std::string& cage : {kSaloon, kPickup}) walk(run({command, cage, "--json"}).json(), "");
    }
}

}  // namespace
