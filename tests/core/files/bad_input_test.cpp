// Whatever a file holds, reading it ends in a value or in sentences that say what is wrong, where, and what
// to do.
#include <gmock/gmock.h>

#include <filesystem>
#include <fstream>

#include "core/files/job_file.h"
#include "core/files/yaml_map.h"

using namespace hoopwright;
using testing::Contains;
using testing::ElementsAre;
using testing::HasSubstr;
using testing::IsEmpty;

namespace {

const std::string kHead = "hoopwright: dies\nversion: 1\nunits: mm\nname: Bender\n";

std::vector<std::string> problemsOf(const std::string& text) {
    std::vector<std::string> out;
    const ReadResult<DieList> read = readDiesText(text, "dies.yaml");
    for (const Problem& problem : read.problems) out.push_back(problem.text());
    EXPECT_EQ(read.value.has_value(), out.empty()) << "a wrong file never half-loads";
    return out;
}

/// Problems of a die file with one die, given the text behind its dash.
std::vector<std::string> problemsOfDie(const std::string& die) {
    return problemsOf(kHead + "dies:\n  - " + die + "\n");
}

TEST(AFileThatIsNoJobFile, Empty) {
    EXPECT_THAT(problemsOf(""),
                ElementsAre("dies.yaml: the file is empty (it should start with `hoopwright: KIND`)"));
    EXPECT_THAT(problemsOf("# only a comment\n"), ElementsAre(HasSubstr("the file is empty")));
}

TEST(AFileThatIsNoJobFile, Binary) {
    EXPECT_THAT(
        problemsOf(std::string("hoop\x7F\x45\x4C\x46", 8)),
        ElementsAre(
            "dies.yaml:1:5: a control character stands here; this is not a text file (take it out, or "
            "name the right file)"));
    EXPECT_THAT(problemsOf(std::string("ab\n\0", 4)),
                ElementsAre(HasSubstr("dies.yaml:2:1: a control character")));
}

TEST(AFileThatIsNoJobFile, EndOfFileCharacterDoesNotHideTheRest) {
    EXPECT_THAT(problemsOf(kHead + "\x04 nonsense: ["),
                ElementsAre(HasSubstr("dies.yaml:5:1: a control character")));
}

TEST(AFileThatIsNoJobFile, WrongEncoding) {
    EXPECT_THAT(problemsOf(kHead + "note: Gr\xF6\xDF"
                                   "e\n"),
                ElementsAre("dies.yaml:5:9: the file is not UTF-8 text from here (save it as UTF-8)"));
    const std::string utf16 = "dies.yaml:1:1: the file is in UTF-16 (save it as UTF-8)";
    EXPECT_THAT(problemsOf("\xFF\xFEh"), ElementsAre(utf16));
    EXPECT_THAT(problemsOf(std::string("h\0o\0", 4)), ElementsAre(utf16));
    EXPECT_THAT(problemsOf(std::string("\0h\0o", 4)), ElementsAre(utf16));
}

TEST(AFileThatIsNoJobFile, IllFormedUtf8OfEveryKind) {
    for (const char* wrong : {"\xC0\xAF", "\xE0\x80\xAF", "\xED\xA0\x80", "\xF4\x90\x80\x80",
                              "\xF8\x88\x80\x80", "\x80", "\xE2\x82", "\xF0\x80\x80\x80"}) {
        EXPECT_THAT(problemsOf(std::string("a: ") + wrong),
                    ElementsAre(HasSubstr(":1:4: the file is not UTF-8")));
    }
}

TEST(AFileThatIsNoJobFile, TooLarge) {
    EXPECT_THAT(problemsOf(std::string(kYamlGreatestSize + 1, '#')),
                ElementsAre(HasSubstr("larger than 4 MB")));
}

TEST(AFileThatIsNoJobFile, FiftyMegabytesAreNotEvenRead) {
    const std::filesystem::path file = std::filesystem::path(testing::TempDir()) / "fifty_megabytes.yaml";
    std::ofstream(file).put('a');
    std::filesystem::resize_file(file, 50u << 20);
    const ReadResult<DieList> read = readDies(file);
    std::filesystem::remove(file);
    ASSERT_EQ(read.problems.size(), 1u);
    EXPECT_THAT(read.problems[0].what, HasSubstr("larger than 4 MB"));
    EXPECT_EQ(read.problems[0].at.line, 1);
    EXPECT_EQ(read.problems[0].at.column, static_cast<int>(kYamlGreatestSize) + 1);
}

TEST(AFileThatIsNoJobFile, AFolderAndNothingAtAll) {
    EXPECT_THAT(readDies(testing::TempDir()).problems[0].what, "this is a folder, not a file");
    EXPECT_THAT(readDies("no_such_file.yaml").problems[0].text(),
                "no_such_file.yaml: there is no such file (check the name and the folder)");
    EXPECT_THAT(readDies("/dev/null").problems[0].what, "this is not an ordinary file");
}

TEST(AFileThatIsNoJobFile, NestedDeep) {
    const std::string deep(100'000, '[');
    EXPECT_THAT(problemsOf(kHead + "dies: " + deep),
                testing::Contains(HasSubstr("nested too deep (40 levels are read)")));
    const std::string forty_one = std::string(41, '[') + std::string(41, ']');
    EXPECT_THAT(problemsOf("a: " + forty_one),
                ElementsAre(HasSubstr("dies.yaml:1:43: lists and mappings are nested too deep")));
    std::string stairs;
    for (int i = 0; i < 1000; ++i) stairs += std::string(static_cast<std::size_t>(i), ' ') + "a:\n";
    EXPECT_THAT(problemsOf(stairs), testing::Contains(HasSubstr("nested too deep")));
}

TEST(AFileThatIsNoJobFile, AliasBombAndSelfAlias) {
    std::string bomb = "a: &a [x, x]\n";
    for (char c = 'b'; c < 'z'; ++c) {
        const std::string before(1, static_cast<char>(c - 1));
        bomb += std::string(1, c) + ": &" + c + " [*" + before + ", *" + before + "]\n";
    }
    const std::vector<std::string> problems = problemsOf(bomb);
    EXPECT_THAT(problems,
                testing::Contains(
                    "dies.yaml:1:4: anchors (&name) are not read (write the value out where it is used)"));
    EXPECT_THAT(problems,
                testing::Contains("dies.yaml:2:8: aliases (*name) are not read (write the value out)"));
    EXPECT_THAT(problemsOf("a: &x [1, *x]\n"),
                ElementsAre(HasSubstr(":1:4: anchors"), HasSubstr(":1:11: aliases")));
}

TEST(AFileThatIsNoJobFile, TagsAndASecondDocument) {
    EXPECT_THAT(problemsOf("a: !!python/object 5\n"),
                ElementsAre(HasSubstr(":1:4: tags (!name) are not read")));
    EXPECT_THAT(problemsOf(kHead + "---\na: 1\n"),
                ElementsAre("dies.yaml:5:1: a second document starts here (keep one document in a file)"));
}

TEST(AFileThatIsNoJobFile, AnotherKind) {
    EXPECT_THAT(
        problemsOf("hoopwright: car\nversion: 1\nunits: mm\n"),
        ElementsAre(
            "dies.yaml:1:13: hoopwright: this file says it is a 'car' file (a 'dies' file is wanted)"));
    EXPECT_THAT(problemsOf("[1, 2]\n"), ElementsAre(HasSubstr("the file: is not a mapping of keys")));
    EXPECT_THAT(problemsOf("a: 1\n"), testing::Contains(HasSubstr("the key 'hoopwright' is missing")));
}

TEST(AFileThatIsNoJobFile, AVersionFromTheFutureAndNone) {
    EXPECT_THAT(
        problemsOf("hoopwright: dies\nversion: 2\nunits: mm\nnew_key: 1\n"),
        ElementsAre("dies.yaml:2:10: version: this file is of a later version than this program reads (use a "
                    "newer program; this one reads 1)"));
    EXPECT_THAT(problemsOf("hoopwright: dies\nversion: 0\nunits: mm\nname: a\n"),
                ElementsAre(HasSubstr(":2:10: version: '0'")));
    EXPECT_THAT(problemsOf("hoopwright: dies\nversion: one\nunits: mm\nname: a\n"),
                ElementsAre(HasSubstr("version: 'one' is not a whole number")));
    EXPECT_THAT(problemsOf("hoopwright: dies\nunits: mm\nname: a\n"),
                ElementsAre(HasSubstr("the key 'version' is missing")));
}

TEST(WrongSyntax, IsSaidInPlainWords) {
    const auto one = [](const std::string& text) { return problemsOf(text).at(0); };
    EXPECT_THAT(one("a: [1, 2\nb: 3\n"), HasSubstr("dies.yaml:2:2: a [ opened before here is not closed"));
    EXPECT_THAT(one("a: {x: 1\n"), HasSubstr("a { opened before here is not closed"));
    EXPECT_THAT(one("a: 1\n b: 2\n"), HasSubstr("dies.yaml:2:3: a colon stands where no key can be"));
    EXPECT_THAT(one("a: 1\n- b\n"),
                HasSubstr("dies.yaml:2:1: this line does not fit the mapping it stands in"));
    EXPECT_THAT(one("a:\n\t- b\n"), HasSubstr("with spaces and not tabs"));
    EXPECT_THAT(one("a: @b\n"),
                HasSubstr("dies.yaml:1:4: a text starts with a character that has another meaning"));
    EXPECT_THAT(one("a: \"\\q\"\n"), HasSubstr("an unknown backslash sequence"));
    EXPECT_THAT(one("a: ]\n"), HasSubstr("a closing bracket has no opening one"));
    EXPECT_THAT(one("[a]: 1\n"), HasSubstr("a key must be a word"));
}

TEST(WrongSyntax, AQuoteTheEndOfTheFileWouldClose) {
    EXPECT_THAT(problemsOf("a: 1\nb: \"open\nc: 2\n"),
                ElementsAre("dies.yaml:2:4: a quote opens here and is never closed (close it)"));
    EXPECT_THAT(problemsOf("b: 'it''s open\n"), ElementsAre(HasSubstr(":1:4: a quote opens here")));
}

TEST(WrongSyntax, ColumnsCountCharactersNotBytes) {
    EXPECT_THAT(problemsOf("größe: &x 1\n"), ElementsAre(HasSubstr("dies.yaml:1:8: anchors")));
}

TEST(ATruncatedFile, IsFoundOutWhereverTheLastListIsCut) {
    const std::string whole =
        kHead + "dies:\n  - {id: \"d45\", od: 45, radius: 135, greatest_angle: 120 deg}\n";
    ASSERT_THAT(problemsOf(whole), ElementsAre());
    for (std::size_t length = 0; length + 1 < whole.size(); ++length) {
        const std::vector<std::string> problems = problemsOf(whole.substr(0, length));
        if (length > kHead.size()) {
            EXPECT_FALSE(problems.empty()) << whole.substr(0, length);
        }
    }
}

TEST(WrongKeys, UnknownTwiceAndMissing) {
    EXPECT_THAT(problemsOfDie("{id: d45, od: 45, raduis: 135}"),
                ElementsAre("dies.yaml:6:5: dies, item 1: the key 'radius' is missing (add it)",
                            "dies.yaml:6:23: dies, item 1: unknown key 'raduis' (did you mean 'radius'?)"));
    EXPECT_THAT(problemsOfDie("{id: d45, od: 45, od: 46, radius: 135}"),
                ElementsAre("dies.yaml:6:23: the key 'od' is given twice (keep one of them)"));
    EXPECT_THAT(problemsOf(kHead + "xyzzy: 1\n"),
                ElementsAre("dies.yaml:5:1: unknown key 'xyzzy' (known here: dies, "
                            "hoopwright, name, units, version)"));
}

TEST(WrongKeys, TheSameIdTwice) {
    EXPECT_THAT(
        problemsOf(kHead + "dies:\n  - {id: d45, od: 45, radius: 135}\n  - {id: d45, od: 45, radius: 90}\n"),
        ElementsAre("dies.yaml:7:10: id: 'd45' is used already, on line 6 (give each its own)"));
}

TEST(WrongNumbers, EachSaysWhatToWrite) {
    const auto one = [](const std::string& od) {
        const std::vector<std::string> problems = problemsOfDie("{id: d45, radius: 135, od: " + od + "}");
        return problems.size() == 1 ? problems[0] : "not one problem: " + std::to_string(problems.size());
    };
    EXPECT_EQ(one("\"45\""), "dies.yaml:6:32: od: \"45\" is a text, not a number (take the quotes off)");
    EXPECT_THAT(one("010"), HasSubstr("dies.yaml:6:32: od: '010' starts with a zero: write 10"));
    EXPECT_THAT(one(".nan"), HasSubstr("od: '.nan' is not a length"));
    EXPECT_THAT(one(".inf"), HasSubstr("od: '.inf' is not a length"));
    EXPECT_THAT(one("nan"), HasSubstr("od: 'nan' is not a length"));
    EXPECT_THAT(one("0x1F"), HasSubstr("od: '0x1F' is a hexadecimal number"));
    EXPECT_THAT(one("\"1,5\""), HasSubstr("od: '1,5' has a comma: write 1.5"));
    EXPECT_THAT(one("1e999"), HasSubstr("od: '1e999' is not a number this can hold"));
    EXPECT_THAT(one("45 kg"), HasSubstr("od: '45 kg' is a mass, not a length"));
    EXPECT_THAT(one("45 mn"), HasSubstr("od: 'mn' is not a unit"));
    EXPECT_THAT(one("-45"), HasSubstr("od: '-45' is not greater than 0"));
    EXPECT_THAT(one("0"), HasSubstr("od: '0' is not greater than 0"));
    EXPECT_THAT(one("[45]"), HasSubstr("od: is a list where a length is wanted"));
    EXPECT_THAT(one("{a: 1}"), HasSubstr("od: is a mapping of keys where a length is wanted"));
    EXPECT_THAT(one("~"), HasSubstr("od: is empty (write a length, or leave the key out)"));
    EXPECT_THAT(one("yes"), HasSubstr("od: 'yes' is not a length"));
}

TEST(WrongNumbers, AllOfAFileInOnePassUpToTwoHundred) {
    std::string text = kHead + "dies:\n";
    for (int i = 0; i < 300; ++i) text += "  - {id: d" + std::to_string(i) + ", od: x, radius: 100}\n";
    const std::vector<std::string> problems = problemsOf(text);
    ASSERT_EQ(problems.size(), 201u);
    EXPECT_THAT(problems.front(), HasSubstr("dies.yaml:6:"));
    EXPECT_EQ(problems.back(), "dies.yaml: and 100 more problems");
}

std::vector<std::string> problemsOfStock(const std::string& tube) {
    std::vector<std::string> out;
    const std::string text =
        "hoopwright: stock\nversion: 1\nunits: mm\nname: Rack\ncurrency: EUR\nkerf: 3\nmaterials:\n"
        "  - {id: s235, name: S235, family: mild_steel, density: 7850}\ntubes:\n  - " +
        tube + "\n";
    for (const Problem& problem : readStockText(text, "rack.yaml").problems) out.push_back(problem.text());
    return out;
}

TEST(WrongTubes, NegativeWallNoBoreAndAGradeNobodyHas) {
    EXPECT_THAT(problemsOfStock("{id: a, od: 45, wall: -2.5, material: s235, form: welded}"),
                ElementsAre("rack.yaml:10:27: wall: '-2.5' is not greater than 0 (write a positive value)"));
    EXPECT_THAT(
        problemsOfStock("{id: a, od: 45, wall: 22.5, material: s235, form: welded}"),
        ElementsAre(
            "rack.yaml:10:27: wall: the wall is half the outside diameter or more (a tube needs a bore)"));
    EXPECT_THAT(
        problemsOfStock("{id: a, od: 45, wall: 2.5, material: s253, form: welded}"),
        ElementsAre("rack.yaml:10:42: material: 's253' is not a known word here (did you mean 's235'?)"));
    EXPECT_THAT(
        problemsOfStock("{id: a, od: 45, wall: 2.5, material: s235, form: rolled}"),
        ElementsAre(HasSubstr(
            "form: 'rolled' is not a known word here (known here: seamless, drawn_over_mandrel, welded)")));
}

TEST(AHostileFile, OfFullSizeIsReadThroughAndCutShort) {
    std::string grades =
        "hoopwright: stock\nversion: 1\nunits: mm\nname: a\ncurrency: b\nkerf: 3\nmaterials:\n";
    for (int i = 0; i < 20'000; ++i) {
        grades += "- {id: g" + std::to_string(i) + ", name: n, family: f, density: 1}\n";
    }
    grades += "tubes:\n";
    for (int i = 0; i < 20'000; ++i) {
        grades += "- {id: t" + std::to_string(i) + ", od: 45, wall: 2, material: h" + std::to_string(i) +
                  ", form: welded}\n";
    }
    EXPECT_EQ(readStockText(grades, "rack.yaml").problems.size(), 201u);
    std::string keys = kHead;
    for (int i = 0; i < 100'000; ++i) keys += "k" + std::to_string(i) + ": 1\n";
    EXPECT_EQ(problemsOf(keys).size(), 201u);
    std::string numbers = kHead + "dies: [";
    for (int i = 0; i < 300'000; ++i) numbers += "1,";
    EXPECT_EQ(problemsOf(numbers + "1]\n").size(), 201u);
    EXPECT_EQ(problemsOf(std::string(3'000'000, '[')).size(), 2u) << "too deep, and then given up";
}

std::vector<std::string> problemsOfCage(const std::string& rest) {
    std::vector<std::string> out;
    const std::string text =
        "hoopwright: cage\nversion: 1\nunits: mm\nname: c\ncar: a\nstock: b\ndies: d\n" + rest;
    for (const Problem& problem : readCageText(text, "cage.yaml").problems) out.push_back(problem.text());
    return out;
}

std::vector<std::string> problemsOfPathPoint(const std::string& point) {
    return problemsOfCage("members:\n  - {id: a, role: roof_bar, stock: t, path: [" + point + "]}\n");
}

TEST(WrongPlaces, EachSaysWhatAPlaceCanBe) {
    EXPECT_THAT(problemsOfPathPoint("[1, 2]"),
                ElementsAre("cage.yaml:9:46: path, item 1: is a list of 2 where [x, y, z] is "
                            "wanted (write 3 lengths in [])"));
    EXPECT_THAT(problemsOfPathPoint("7"),
                ElementsAre(HasSubstr("path, item 1: is a single value where [x, y, z] is wanted")));
    EXPECT_THAT(problemsOfPathPoint("{on: b}"),
                ElementsAre(HasSubstr("one of these keys is missing: distance, from_end, "
                                      "fraction, height, x, y, end")));
    EXPECT_THAT(problemsOfPathPoint("{on: b, height: 1, x: 2}"),
                testing::Contains(HasSubstr("these keys exclude each other: height, x (keep one of them)")));
    EXPECT_THAT(problemsOfPathPoint("{on: b, fraction: 1.5}"),
                ElementsAre(HasSubstr("fraction: '1.5' is more than the whole")));
    EXPECT_THAT(problemsOfPathPoint("{on: b, end: middle}"),
                ElementsAre(HasSubstr("end: 'middle' is not a known word here")));
    EXPECT_THAT(problemsOfPathPoint("{on: b, height: 3, side: centre}"),
                ElementsAre(HasSubstr("side: 'centre'")));
    EXPECT_THAT(problemsOfPathPoint("{height: 3}"),
                ElementsAre(HasSubstr("one of these keys is missing: at, car, plate, on"),
                            HasSubstr("unknown key 'height'")));
    EXPECT_THAT(problemsOfPathPoint("[0, 0, 45 deg]"),
                ElementsAre(HasSubstr("path, item 1, item 3: '45 deg' is an angle")));
}

std::vector<std::string> problemsOfBent(const std::string& bent, const std::string& more = "") {
    return problemsOfCage("members:\n  - {id: a, role: main_hoop, stock: t, path: []" + more +
                          ", bent: " + bent + "}\n");
}

TEST(WrongBoughtTubes, EachSaysWhatIsMissingAndWhere) {
    EXPECT_THAT(problemsOfBent("{radius: 135, straights: [900, 1010, 900], angles: [75, 75]}"), IsEmpty());
    EXPECT_THAT(
        problemsOfBent("{radius: 135, straights: [900, 1010, 0], angles: [75, 75], rotations: [180]}"),
        IsEmpty());
    EXPECT_THAT(
        problemsOfBent("{radius: 135, straights: [900, 900], angles: [75, 75]}"),
        ElementsAre("cage.yaml:9:81: straights: 2 straights for 2 bends (write one more than there are "
                    "bends: both legs, and what lies between)"));
    EXPECT_THAT(problemsOfBent("{radius: 135, straights: [9, 9, 9], angles: [75, 75], rotations: [0, 180]}"),
                ElementsAre(HasSubstr("rotations: 2 rotations for 2 bends (write one fewer")));
    EXPECT_THAT(problemsOfBent("{radius: 135, straights: [9, 9], angles: [180]}"),
                ElementsAre("cage.yaml:9:98: angles, item 1: '180' is half a turn or more (write how far the "
                            "tube is bent, less than 180)"));
    EXPECT_THAT(problemsOfBent("{radius: 135, straights: [9], angles: []}"),
                ElementsAre(HasSubstr("angles: a tube bought bent has a bend")));
    EXPECT_THAT(problemsOfBent("{radius: 0, straights: [9, -9], angles: [0]}"),
                ElementsAre(HasSubstr("radius: '0'"), HasSubstr("straights, item 2: '-9'"),
                            HasSubstr("angles, item 1: '0'")));
    EXPECT_THAT(problemsOfBent("{straights: [9, 9 kg], angles: [x], turns: [3]}"),
                ElementsAre(HasSubstr("radius"), HasSubstr("'9 kg'"), HasSubstr("'x'"),
                            HasSubstr("unknown key 'turns'")));
    EXPECT_THAT(problemsOfBent("900, 75, 900"), Contains(HasSubstr("bent: ")));
    EXPECT_THAT(problemsOfBent("{radius: 135, straights: [9, 9], angles: [75]}", ", bend_radius: 120"),
                ElementsAre(HasSubstr("bend_radius: a tube bought bent has its own radius (leave it out")));
    EXPECT_THAT(
        problemsOfCage("members: [{id: a, role: r, stock: t, path: [{at: [0, 0, 0], bend_radius: 9}], "
                       "bent: {radius: 135, straights: [9, 9], angles: [75]}}]\n"),
        ElementsAre(HasSubstr("bend_radius: a tube bought bent has its own radius")));
}

TEST(WrongPlates, ARiserHasAHeightAndAWall) {
    const auto riser = [](const std::string& text) {
        return problemsOfCage("plates: [{id: p, at: [0, 0, 0], thickness: 3, riser: " + text + "}]\n");
    };
    EXPECT_THAT(riser("{height: 60, wall: 2}"), IsEmpty());
    EXPECT_THAT(riser("{height: 60}"), ElementsAre(HasSubstr("wall")));
    EXPECT_THAT(riser("{height: 0, wall: 2}"), ElementsAre(HasSubstr("height: '0'")));
    EXPECT_THAT(riser("60"), Contains(HasSubstr("riser: ")));
}

TEST(WrongCages, NamesDatesAndPairs) {
    EXPECT_THAT(problemsOfCage("members: [{id: Main, role: r, stock: t, path: []}]\n"),
                ElementsAre(HasSubstr("id: 'Main' is not a name (start with a small letter")));
    EXPECT_THAT(problemsOfCage("answers: [{table: t, rule: r, good: maybe, when: 2026-02-30}]\n"),
                ElementsAre(HasSubstr("good: 'maybe' is neither true nor false"),
                            HasSubstr("when: '2026-02-30' is not a date")));
    EXPECT_THAT(problemsOfCage("gussets: [{id: g, members: [a], leg: 90, thickness: 2}]\n"),
                ElementsAre(HasSubstr("members: names 1 members (name the two, as [a, b])")));
    EXPECT_THAT(problemsOfCage("plates: [{id: p, at: [0, 0, 0], normal: [0, 0, 0], thickness: 3}]\n"),
                ElementsAre(HasSubstr("normal: has no direction")));
    EXPECT_THAT(problemsOfCage("plates: [{id: p, at: {on: hoop, height: 3}, thickness: 3}]\n"),
                testing::Contains(HasSubstr("one of these keys is missing: at, car")));
    EXPECT_THAT(problemsOfCage("members: main_hoop\n"),
                ElementsAre(HasSubstr("members: is a single value where a list is wanted")));
    EXPECT_THAT(problemsOfCage("members:\n"), ElementsAre(HasSubstr("members: is empty")));
}

TEST(WrongDimensions, EachKindNeedsItsOwnKeysAndNoOther) {
    const auto of = [](const std::string& keys) {
        return problemsOfCage("dimensions: [{id: d, " + keys + "}]\n");
    };
    EXPECT_TRUE(of("kind: gap, bars: [a, b.left]").empty());
    EXPECT_TRUE(of("kind: height, from: {on: a, end: first}, over: floor").empty());
    EXPECT_THAT(of("kind: length, from: [0, 0, 0], to: [1, 1, 1]"),
                testing::Contains(HasSubstr("kind: 'length' is not a known word here")));
    EXPECT_THAT(of("kind: gap, bars: [a]"), ElementsAre(HasSubstr("bars: names 1 members")));
    EXPECT_THAT(of("kind: gap, from: [0, 0, 0], bars: [a, b]"), ElementsAre(HasSubstr("unknown key 'from'")));
    EXPECT_THAT(of("kind: distance, from: [0, 0, 0]"), ElementsAre(HasSubstr("'to' is missing")));
    EXPECT_THAT(of("kind: height, from: [0, 0, 0], over: roof"),
                ElementsAre(HasSubstr("over: 'roof' is not a known word here")));
    EXPECT_THAT(of("kind: distance, from: {on: a, end: first, bend_radius: 90}, to: [0, 0, 0]"),
                ElementsAre(HasSubstr("unknown key 'bend_radius'")));
    EXPECT_THAT(
        problemsOfCage(
            "dimensions:\n  - {id: d, kind: gap, bars: [a, b]}\n  - {id: d, kind: gap, bars: [a, c]}\n"),
        ElementsAre(HasSubstr("'d'")));
}

TEST(WrongFacts, NumbersThatAreNoneAreNotTakenForWords) {
    EXPECT_THAT(problemsOfCage("entry: {mass: 010}\n"),
                ElementsAre(HasSubstr("mass: '010' starts with an idle 0")));
    EXPECT_THAT(problemsOfCage("entry: {mass: .nan}\n"),
                ElementsAre(HasSubstr("mass: '.nan' is not a number")));
    EXPECT_THAT(problemsOfCage("entry:\n  mass: 1,5\n"),
                ElementsAre(HasSubstr("mass: '1,5' is not a number (write 1.5)")));
    EXPECT_THAT(problemsOfCage("entry: {mass: 1080 kilo}\n"),
                ElementsAre(HasSubstr("mass: '1080 kilo' starts as a number but is no measure")));
    EXPECT_THAT(problemsOfCage("entry: {mass: [1]}\n"),
                ElementsAre(HasSubstr("mass: is a list where a text is wanted")));
    EXPECT_THAT(problemsOfCage("entry: {Race Mass: 1}\n"),
                ElementsAre(HasSubstr("'Race Mass' is not a name for a fact")));
}

const std::string kDriver =
    "hoopwright: driver\nversion: 1\nid: tall\nname: Tall\nunits: mm\nhip: [300, 350, 60]\nback_angle: 20 "
    "deg\n"
    "shoulder: {left: [100, 490, 590], right: [100, 210, 590]}\nelbow: {left: [300, 590, 400], right: [300, "
    "110, 400]}\n"
    "hand: {left: [580, 510, 590], right: [580, 190, 590]}\nknee: {left: [740, 480, 320], right: [740, 220, "
    "320]}\n"
    "heel: {left: [1080, 430, -80], right: [1080, 270, -80]}\neye: [200, 350, 780]\n"
    "helmet: {centre: [130, 350, 770], length: 340, width: 265, height: 275}\n";

std::vector<std::string> problemsOfDriver(const std::string& was, const std::string& now) {
    std::string text = kDriver;
    text.replace(text.find(was), was.size(), now);
    std::vector<std::string> out;
    for (const Problem& problem : readDriverText(text, "d.yaml").problems) out.push_back(problem.text());
    return out;
}

TEST(ADriver, OfNoProblem) {
    EXPECT_TRUE(readDriverText(kDriver, "d.yaml").value);
    EXPECT_THAT(problemsOfDriver("heel: {left: [1080, 430", "heel: {left: [1080, 270"), testing::IsEmpty())
        << "heels may be together";
}

TEST(ADriver, WithAHelmetOfNoSize) {
    EXPECT_THAT(problemsOfDriver("width: 265", "width: 0"),
                ElementsAre(testing::AllOf(HasSubstr("d.yaml:14:"), HasSubstr("width"))));
}

TEST(ADriver, CrossedLeftAndRight) {
    const std::string what =
        ": left and right are crossed (y counts to the driver's left, so left has the greater y)";
    EXPECT_THAT(problemsOfDriver("{left: [740, 480, 320], right: [740, 220, 320]}",
                                 "{left: [740, 220, 320], right: [740, 480, 320]}"),
                ElementsAre("d.yaml:11:7: knee" + what));
    EXPECT_THAT(problemsOfDriver("eye:",
                                 "seat: {back_height: 600, width: 420, belt_slots: {left: [0, 200, 500], "
                                 "right: [0, 400, 500]}}\neye:"),
                ElementsAre(HasSubstr("belt_slots" + what)));
    EXPECT_THAT(problemsOfDriver(
                    "eye:", "belts: {shoulder_anchors: {left: [0, 200, 500], right: [0, 400, 500]}}\neye:"),
                ElementsAre(HasSubstr("shoulder_anchors" + what)));
}

TEST(ADriver, FromAFigureNobodyKnows) {
    EXPECT_THAT(problemsOfDriver("eye:", "figure: student_formula_59\neye:"),
                ElementsAre(HasSubstr("student_formula_95")));
}

TEST(ADriver, WithOneSlotOnlyAsItWasOnceWritten) {
    EXPECT_THAT(
        problemsOfDriver("eye:", "seat: {back_height: 600, width: 420, belt_slot: [0, 350, 500]}\neye:"),
        testing::Contains(HasSubstr("belt_slots")));
}

}  // namespace
