// What the commands print for people: no line wider than the page, nothing at line ends, figures with their
// unit, and the same as the answer for programs.
#include <gmock/gmock.h>

#include <algorithm>
#include <cmath>

#include "app/commands/text_table.h"
#include "core/base/text.h"
#include "tests/app/commands/spoiled.h"

using namespace hoopwright;
using testing::HasSubstr;
using testing::Not;

namespace {

std::vector<std::string> linesOf(const std::string& page) {
    std::vector<std::string> lines;
    std::istringstream in(page);
    for (std::string line; std::getline(in, line);) lines.push_back(line);
    return lines;
}

/// Characters, not bytes.
int widthOf(const std::string& line) {
    return static_cast<int>(
        std::ranges::count_if(line, [](char c) { return (static_cast<unsigned char>(c) & 0xC0) != 0x80; }));
}

void expectPage(const std::string& page, const std::string& what) {
    ASSERT_FALSE(page.empty()) << what;
    EXPECT_EQ(page.back(), '\n') << what;
    EXPECT_THAT(page, Not(HasSubstr("\n\n\n"))) << what;
    EXPECT_THAT(page, Not(HasSubstr("nan"))) << what;
    EXPECT_THAT(page, Not(HasSubstr("-0.0 "))) << what;
    for (const std::string& line : linesOf(page)) {
        EXPECT_LE(widthOf(line), kPageWidth) << what << ":\n" << line;
        EXPECT_FALSE(line.ends_with(' ')) << what << ":\n" << line;
        EXPECT_EQ(line.find('\t'), std::string::npos) << what << ":\n" << line;
    }
}

const std::string kFaultyPickup = dataFile("cages/faults/mile_pickup.yaml");

class Pages : public testing::TestWithParam<std::string> {};
INSTANTIATE_TEST_SUITE_P(Demos, Pages,
                         testing::Values("hillclimb_saloon", "mile_pickup", "faults/hillclimb_saloon",
                                         "faults/mile_pickup"),
                         [](const auto& it) {
                             std::string name = it.param;
                             std::ranges::replace(name, '/', '_');
                             return name;
                         });

TEST_P(Pages, FitTheWidthOfAPage) {
    const std::string cage = dataFile("cages/" + GetParam() + ".yaml");
    expectPage(run({"clearance", cage, "--seat", "slide=15,recline=3"}).out,
               "clearance --seat " + GetParam());
    for (const std::string command : {"check", "clearance", "geometry", "order"})
        expectPage(run({command, cage}).out, command + " " + GetParam());
    for (const std::string part : {"main_hoop", "side_bar.left", "belt_bar"})
        expectPage(run({"grip", cage, "--part", part}).out, "grip " + part + " " + GetParam());
    for (const std::string member : {"main_hoop", "side_bar"})
        expectPage(run({"fit", cage, "--member", member}).out, "fit " + member + " " + GetParam());
    expectPage(run({"edit", cage, "--refit", "side_bar"}).out, "edit --refit " + GetParam());
}

TEST_P(Pages, OfTheCheckCountWhatTheAnswerForProgramsCounts) {
    const std::string cage = dataFile("cages/" + GetParam() + ".yaml");
    const std::string page = run({"check", cage}).out;
    const QJsonObject counts = run({"check", cage, "--json"}).json()["counts"].toObject();
    const auto said = [&](const char* key) { return std::to_string(counts[key].toInt()); };
    std::string joined;
    for (const std::string& line : linesOf(page).size() > 2
                                       ? std::vector<std::string>{linesOf(page)[0], linesOf(page)[1]}
                                       : linesOf(page))
        joined += line + " ";
    EXPECT_THAT(joined, HasSubstr(said("fails") + " fail, " + said("cannot_tell") + " can't tell, " +
                                  said("ask_person") + " to ask, " + said("meets") + " meet"));
    const int unconfirmed = counts["meets_not_confirmed"].toInt();
    if (unconfirmed > 0) {
        EXPECT_THAT(joined, HasSubstr("(" + std::to_string(unconfirmed) + " of them not confirmed)"));
        EXPECT_THAT(page, HasSubstr("MEETS, NOT CONFIRMED (" + std::to_string(unconfirmed) + ")"));
    }
    if (counts["meets"].toInt() > unconfirmed) {
        EXPECT_THAT(page, HasSubstr("MEETS (" + std::to_string(counts["meets"].toInt() - unconfirmed) + ")"));
    }
}

TEST_P(Pages, OfTheCheckShowEachMarginBesideWhatItIsOf) {
    const std::string cage = dataFile("cages/" + GetParam() + ".yaml");
    const auto lines = linesOf(run({"check", cage}).out);
    const auto heading =
        std::ranges::find_if(lines, [](const std::string& line) { return line.starts_with("MEETS ("); });
    ASSERT_NE(heading, lines.end());
    int column = 0, rows = 0;
    for (auto line = heading + 1; line != lines.end() && !line->empty(); ++line) {
        const std::size_t margin = line->find("to spare  ");
        if (margin == std::string::npos) continue;
        // What stands behind the margin starts in one column.
        const int here = widthOf(line->substr(0, margin));
        if (column == 0) column = here;
        EXPECT_EQ(here, column) << *line;
        ++rows;
    }
    EXPECT_GE(rows, 20);
}

TEST_P(Pages, OfTheOrderBuyWhatTheAnswerForProgramsBuys) {
    const std::string cage = dataFile("cages/" + GetParam() + ".yaml");
    const std::string page = run({"order", cage}).out;
    const QJsonObject json = run({"order", cage, "--json"}).json();
    EXPECT_THAT(page, HasSubstr(std::to_string(json["totals"].toObject()["sticks"].toInt()) + " sticks, "));
    std::string on_one_line = page;  // a long line is broken at a blank
    std::replace(on_one_line.begin(), on_one_line.end(), '\n', ' ');
    EXPECT_THAT(on_one_line, HasSubstr(fixed(json["totals"].toObject()["price"].toDouble(), 2) + " " +
                                       json["currency"].toString().toStdString()));
    for (const QJsonValue& tube : json["tubes"].toArray())
        EXPECT_THAT(page, HasSubstr("\n" + tube["stock"].toString().toStdString() + ": "));
}

TEST(Pages, OfTheGeometrySayTheirUnit) {
    EXPECT_THAT(run({"geometry", kSaloon}).out, HasSubstr("\nLengths in mm. "));
    EXPECT_THAT(run({"geometry", kPickup}).out, HasSubstr("\nLengths in in. "));
}

TEST(Pages, OfHelpFitTheWidthToo) {
    for (const std::string command : {"check", "clearance", "driver", "edit", "fit", "geometry", "grip",
                                      "order", "picture", "quantities", "rules", "scan", "show"}) {
        const std::string page = run({command, "--help"}).out;
        expectPage(page, command);
        EXPECT_THAT(page, HasSubstr("Usage: hoopwright " + command)) << command;
    }
    expectPage(run({"--help"}).out, "--help");
    expectPage(run({"quantities"}).out, "quantities");
    for (const char* table : {"club_hillclimb", "standing_mile", "student_formula_2024"})
        expectPage(run({"rules", dataFile("rules/") + table + ".yaml"}).out, table);
}

TEST(Pages, OfHelpNameEveryOptionInTheUsageAndBelow) {
    for (const std::string command :
         {"check", "edit", "fit", "geometry", "grip", "order", "picture", "show"}) {
        const std::string page = run({command, "--help"}).out;
        std::size_t options = 0;
        for (const std::string& line : linesOf(page)) {
            if (!line.starts_with("  --") || line.starts_with("  --help")) continue;
            const std::string option = line.substr(2, line.find(' ', 2) - 2);
            const std::string usage = page.substr(0, page.find("\n\n"));
            EXPECT_THAT(usage, HasSubstr("[" + option)) << command;
            ++options;
        }
        EXPECT_GE(options, 2u) << command;
    }
}

TEST(Pages, SayWhatDoesNotFitTogetherBeforeAnythingElse) {
    const SpoiledFolder folder;
    const std::string cage = folder.cage("- {on: main_hoop, side: left, height: 515}",
                                         "- {on: main_hop, side: left, height: 515}");
    const Ran ran = run({"check", cage});
    EXPECT_EQ(ran.code, kExitFallsShort);
    expectPage(ran.out, "check");
    EXPECT_THAT(ran.out, HasSubstr("DOES NOT FIT TOGETHER (1)\n  Belt bar: lands on main_hop, which is "
                                   "not in this cage.\n      did you mean main_hoop?\n"));
    EXPECT_LT(ran.out.find("DOES NOT FIT TOGETHER"), ran.out.find("MEETS ("));
    const std::string geometry = run({"geometry", cage}).out;
    expectPage(geometry, "geometry");
    EXPECT_THAT(geometry, HasSubstr("Does not fit together\n"));
    const std::string order = run({"order", cage}).out;
    expectPage(order, "order");
    EXPECT_THAT(order, HasSubstr("Left out\n  belt_bar has no shape; see the problems of the layout."));
}

TEST(Pages, OfTheOrderSayWhyThereAreNoSticks) {
    const SpoiledFolder folder;
    const std::string cage = folder.cageWithStock("sticks: [{length: 6000, price: 96.00}]",
                                                  "sticks: [{length: 2000, price: 40.00}]");
    const Ran ran = run({"order", cage});
    EXPECT_EQ(ran.code, kExitFallsShort);
    EXPECT_THAT(ran.out, HasSubstr("No sticks: Main hoop is "));
    EXPECT_THAT(ran.out, HasSubstr("get longer"));
    const QJsonObject json = run({"order", cage, "--json"}).json();
    EXPECT_THAT(json["tubes"].toArray()[0].toObject()["trouble"].toString().toStdString(),
                HasSubstr("the longest stick is 2350.0 mm; get longer sticks."));
}

TEST(Pages, OfTheOrderSayWhichPieceCouldNotBeCutToFit) {
    const SpoiledFolder folder;
    // The belt bar would lie along the hoop's leg.
    const std::string cage = folder.write(
        "cage.yaml",
        with(with(SpoiledFolder::cageText(), "- {on: hoop_diagonal, height: 515}\n\n",
                  "- {on: main_hoop, side: left, height: 200}\n\n"),
             "- {on: main_hoop, side: left, height: 515}", "- {on: main_hoop, side: left, height: 400}"));
    const QJsonObject json = run({"order", cage, "--json"}).json();
    bool told = false;
    for (const QJsonValue& tube : json["tubes"].toArray()) {
        for (const QJsonValue& piece : tube["pieces"].toArray()) {
            if (!piece["no_cut"].isString()) continue;
            told = true;
            EXPECT_EQ(piece["member"].toString().toStdString(), "belt_bar");
            EXPECT_THAT(run({"order", cage}).out,
                        HasSubstr("Not cut to fit, so too long: Belt bar, first end: "));
        }
    }
    EXPECT_TRUE(told);
}

TEST(Wrapped, HangsTheLinesAfterTheFirst) {
    EXPECT_EQ(wrapped("one two three four", 2, 11, 3), "  one two\n     three\n     four\n");
    EXPECT_EQ(wrappedBehind("no: ", "one two three", 11), "no: one two\n    three\n");
    EXPECT_EQ(wrappedBehind("Ø45: ", "one two", 12), "Ø45: one two\n") << "characters are counted, not bytes";
    EXPECT_EQ(wrappedBehind("none", ""), "none\n");
}

}  // namespace
