// Files and words of every wrong kind, given to every command: each ends with 2, says in one sentence a
// problem where and what and what to do, prints nothing else, and takes nothing down.
#include <gmock/gmock.h>
#include <sys/stat.h>
#include <unistd.h>

#include <functional>

#include "tests/app/commands/spoiled.h"

using namespace hoopwright;
using testing::HasSubstr;
using testing::IsEmpty;
using testing::Not;
using testing::StartsWith;
namespace fs = std::filesystem;

namespace {

struct BadFile {
    const char* name;
    std::string (*make)(const SpoiledFolder&);  ///< path of the cage file
    const char* place;                          ///< behind the folder: "cage.yaml:4:1: "
    const char* says;
};
void PrintTo(const BadFile& bad, std::ostream* out) {
    *out << bad.name;
}

std::string cage(const SpoiledFolder& folder, const std::string& text) {
    return folder.write("cage.yaml", text);
}
const std::string kHead = "hoopwright: cage\nversion: 1\nunits: mm\n";

std::string utf16(const std::string& text) {
    std::string out = "\xFF\xFE";
    for (const char c : text) out += {c, '\0'};
    return out;
}

const BadFile kBadFiles[] = {
    {"Empty", [](const SpoiledFolder& f) { return cage(f, ""); },
     "cage.yaml: ", "the file is empty (it should start with `hoopwright: KIND`)"},
    {"Truncated",
     [](const SpoiledFolder& f) {
         const std::string text = SpoiledFolder::cageText();
         return cage(f, text.substr(0, text.find("side_bar") + 3));
     },
     "cage.yaml:", "the key 'path' is missing (add it)"},
    {"Binary",
     [](const SpoiledFolder& f) {
         std::string bytes;
         for (int i = 0; i < 4096; ++i) bytes += static_cast<char>(i * 7 % 256);
         return cage(f, bytes);
     },
     "cage.yaml:1:1: ", "a control character stands here; this is not a text file"},
    {"Picture", [](const SpoiledFolder& f) { return cage(f, textOf(dataFile("pictures/saloon.png"))); },
     "cage.yaml:1:1: ", "the file is not UTF-8 text from here (save it as UTF-8)"},
    {"FiftyMegabytes", [](const SpoiledFolder& f) { return cage(f, std::string(50'000'000, ' ')); },
     "cage.yaml:1:4", "the file is larger than 4 MB (a job file is never that large)"},
    {"NestedDeep",
     [](const SpoiledFolder& f) {
         return cage(f, kHead + "name: " + std::string(2000, '[') + std::string(2000, ']') + "\n");
     },
     "cage.yaml:4:", "nested too deep (40 levels are read)"},
    {"AliasBomb",
     [](const SpoiledFolder& f) {
         return cage(f, kHead + "a: &a [x, x]\nb: &b [*a, *a]\nc: [*b, *b, *b]\n");
     },
     "cage.yaml:4:", "aliases (*name) are not read (write the value out)"},
    {"Utf16", [](const SpoiledFolder& f) { return cage(f, utf16(SpoiledFolder::cageText())); },
     "cage.yaml:1:1: ", "the file is in UTF-16 (save it as UTF-8)"},
    {"Latin1",
     [](const SpoiledFolder& f) {
         return cage(f, with(SpoiledFolder::cageText(), "Hillclimb",
                             "Gr\xF6\xDF"
                             "e"));
     },
     "cage.yaml:3:9: ", "the file is not UTF-8 text from here (save it as UTF-8)"},
    {"LaterVersion", [](const SpoiledFolder& f) { return f.cage("version: 1", "version: 7"); },
     "cage.yaml:2:10: ", "this file is of a later version than this program reads"},
    {"AnotherKind", [](const SpoiledFolder& f) { return f.cage("hoopwright: cage", "hoopwright: car"); },
     "cage.yaml:1:13: ", "this file says it is a 'car' file (a 'cage' file is wanted)"},
    {"UnknownKey", [](const SpoiledFolder& f) { return f.cage("padding: 20", "paddin: 20"); },
     "cage.yaml:34:5: ", "unknown key 'paddin' (did you mean 'padding'?)"},
    {"KeyTwice", [](const SpoiledFolder& f) { return f.cage("units: mm", "units: mm\nunits: in"); },
     "cage.yaml:5:1: ", "the key 'units' is given twice (keep one of them)"},
    {"WrongType", [](const SpoiledFolder& f) { return f.cage("padding: 20", "padding: [20]"); },
     "cage.yaml:34:14: ", "padding: is a list where a length is wanted"},
    {"WrongUnit", [](const SpoiledFolder& f) { return f.cage("padding: 20", "padding: 20 kg"); },
     "cage.yaml:34:14: ", "'20 kg' is a mass, not a length"},
    {"NotANumber", [](const SpoiledFolder& f) { return f.cage("padding: 20", "padding: .nan"); },
     "cage.yaml:34:14: ", "'.nan' is not a length"},
    {"IdleZero", [](const SpoiledFolder& f) { return f.cage("padding: 20", "padding: 010"); },
     "cage.yaml:34:14: ", "'010' starts with a zero: write 10"},
    {"Comma", [](const SpoiledFolder& f) { return f.cage("padding: 20", "padding: '2,5'"); },
     "cage.yaml:34:14: ", "'2,5' has a comma: write 2.5 with a point"},
    {"TabIndent", [](const SpoiledFolder& f) { return f.cage("    role: main_hoop", "\trole: main_hoop"); },
     "cage.yaml:32:1: ", "a tab indents this line (indent with spaces)"},
    {"MissingStock",
     [](const SpoiledFolder& f) { return f.cage(dataFile("stock/metric.yaml"), "gone.yaml"); },
     "cage.yaml:7:8: ", "stock: there is no file '"},
    {"MissingDriver",
     [](const SpoiledFolder& f) { return f.cage(dataFile("drivers/saloon_short.yaml"), "gone.yaml"); },
     "cage.yaml:6:", "drivers: there is no file '"},
    {"NegativeWall",
     [](const SpoiledFolder& f) { return f.cageWithStock("od: 45, wall: 2.5", "od: 45, wall: -2.5"); },
     "stock.yaml:14:32: ", "wall: '-2.5' is not greater than 0 (write a positive value)"},
    {"WallOfHalfTheDiameter",
     [](const SpoiledFolder& f) { return f.cageWithStock("od: 45, wall: 2.5", "od: 45, wall: 22.5"); },
     "stock.yaml:14:32: ", "the wall is half the outside diameter or more (a tube needs a bore)"},
};

class BadFiles : public testing::TestWithParam<BadFile> {};
INSTANTIATE_TEST_SUITE_P(Kinds, BadFiles, testing::ValuesIn(kBadFiles),
                         [](const auto& it) { return std::string(it.param.name); });

TEST_P(BadFiles, EndWithTwoAndTheirSentenceInEveryCommand) {
    const SpoiledFolder folder;
    const std::string file = GetParam().make(folder);
    for (const std::string command : {"check", "clearance", "geometry", "order"}) {
        for (const bool json : {false, true}) {
            const Ran ran = json ? run({command, file, "--json"}) : run({command, file});
            EXPECT_EQ(ran.code, kExitBadInput) << command;
            EXPECT_THAT(ran.out, IsEmpty()) << command << ": no half an answer";
            EXPECT_THAT(ran.err, StartsWith(folder.path(GetParam().place))) << command;
            EXPECT_THAT(ran.err, HasSubstr(GetParam().says)) << command;
            EXPECT_EQ(ran.err.back(), '\n');
        }
    }
}

TEST(BadFiles, EveryProblemIsALineOfItsOwnThatStartsWithTheFile) {
    const SpoiledFolder folder;
    std::string text = with(SpoiledFolder::cageText(), "padding: 20", "paddin: 20");
    text = with(text, "height: 875", "heigt: 875");
    text = with(text, "thickness: 3", "thickness: three");
    const Ran ran = run({"check", folder.write("cage.yaml", text)});
    std::istringstream lines(ran.err);
    int count = 0;
    for (std::string line; std::getline(lines, line); ++count)
        EXPECT_THAT(line, testing::MatchesRegex(".*cage\\.yaml:[0-9]+:[0-9]+: .+"));
    EXPECT_GE(count, 3) << "all in one pass";
}

// A layout that cannot be is no wrong file: it is checked as far as it goes, and ends with 1.
struct BadLayout {
    const char* name;
    const char *from, *to;
    const char* says;
};
void PrintTo(const BadLayout& bad, std::ostream* out) {
    *out << bad.name;
}
const char* const kBeltOnHoop = "- {on: main_hoop, side: left, height: 515}";
const BadLayout kBadLayouts[] = {
    {"StockNobodyHas", "stock: 38x2.5", "stock: 38x2.6",
     "Hoop diagonal: is made of 38x2.6, which is not in the stock list."},
    {"LandsOnItself", kBeltOnHoop, "- {on: belt_bar, height: 515}", "Belt bar: lands on itself."},
    {"LoopOfLandings", "- {on: main_hoop, side: left, height: 875}", "- {on: belt_bar, y: 0}",
     "Landings go round in a loop: hoop_diagonal lands on belt_bar lands on hoop_diagonal."},
    {"PointsInOnePlace", "- [-130, 680, 570]", "- [-130, 680, 570]\n      - [-130, 680, 570]",
     "Main hoop: has points 2 and 3 of its path in one place."},
    {"StraightOfNothing", "- [-130, 525, 972]", "- [-130, 672, 590]\n      - [-130, 525, 972]",
     "Main hoop: bends too soon at point"},
    {"HalfTurn", "  - id: belt_bar_far\n",
     "  - {id: back, role: dash_bar, stock: 45x2.5, path: [[500, 0, 0], [500, 0, 500], [500, 0, 100]]}\n"
     "  - id: belt_bar_far\n",
     "Dash bar: turns straight back at point 2"},
    {"OnePoint", "      - {on: main_hoop, side: left, height: 515}\n", "",
     "Belt bar: has fewer than two places to go between"},
    {"FarAway", "[-130, 680, 570]", "[-130, 1e12, 570]",
     "Main hoop: point 2 of its path is not a place within a kilometre."},
    {"HostNobodyHas", kBeltOnHoop, "- {on: main_hop, side: left, height: 515}",
     "Belt bar: lands on main_hop, which is not in this cage."},
    {"HeightNeverReached", kBeltOnHoop, "- {on: main_hoop, side: left, height: 5000}",
     "lands on main_hoop at height 5000.0 mm"},
};

class BadLayouts : public testing::TestWithParam<BadLayout> {};
INSTANTIATE_TEST_SUITE_P(Kinds, BadLayouts, testing::ValuesIn(kBadLayouts),
                         [](const auto& it) { return std::string(it.param.name); });

TEST_P(BadLayouts, AreCheckedAsFarAsTheyGoAndEndWithOne) {
    const SpoiledFolder folder;
    const std::string file = folder.cage(GetParam().from, GetParam().to);
    const Ran ran = run({"check", file});
    EXPECT_EQ(ran.code, kExitFallsShort) << ran.err;
    EXPECT_THAT(ran.err, IsEmpty());
    std::string page;
    for (std::istringstream words(ran.out); words;) {
        std::string word;
        words >> word;
        page += word + " ";
    }
    EXPECT_THAT(page, HasSubstr(GetParam().says));
    const QJsonArray problems = run({"check", file, "--json"}).json()["problems"].toArray();
    bool told = false;
    for (const QJsonValue& problem : problems) {
        told |= problem["text"].toString().toStdString().find(GetParam().says) != std::string::npos;
        EXPECT_FALSE(problem["remedy"].toString().isEmpty()) << problem["text"].toString().toStdString();
    }
    EXPECT_TRUE(told);
    for (const std::string command : {"clearance", "geometry"})
        EXPECT_EQ(run({command, file}).code, kExitGood);
    const Ran order = run({"order", file, "--json"});
    const QJsonObject ordered = order.json();
    bool whole = ordered["left_out"].toArray().isEmpty();
    for (const QJsonValue& tube : ordered["tubes"].toArray())
        whole = whole && tube["trouble"].toString().isEmpty();
    EXPECT_EQ(order.code, whole ? kExitGood : kExitFallsShort);
}

TEST(BadPlaces, AFolderAPipeAndNothingAtAll) {
    const SpoiledFolder folder;
    const std::string pipe = folder.path("pipe");
    ASSERT_EQ(::mkfifo(pipe.c_str(), 0600), 0);
    for (const std::string command : {"check", "clearance", "geometry", "order", "rules"}) {
        EXPECT_EQ(run({command, folder.path("")}).code, kExitBadInput) << command;
        EXPECT_THAT(run({command, folder.path("")}).err,
                    HasSubstr("this is a folder, not a file (name a file in it)"));
        EXPECT_THAT(run({command, pipe}).err, HasSubstr("this is not an ordinary file (name a YAML file)"));
        EXPECT_THAT(run({command, "/dev/zero"}).err, HasSubstr("this is not an ordinary file"));
        EXPECT_EQ(run({command, folder.path("gone.yaml")}).err,
                  folder.path("gone.yaml") + ": there is no such file (check the name and the folder)\n");
        EXPECT_THAT(run({command, ""}).err,
                    StartsWith("hoopwright " + command + ": a name is empty: write the file's name\n"));
        EXPECT_EQ(run({command, ""}).code, kExitBadInput);
    }
}

TEST(BadPlaces, AFileNobodyMayRead) {
    const SpoiledFolder folder;
    const std::string file = folder.write("secret.yaml", SpoiledFolder::cageText());
    ASSERT_EQ(::chmod(file.c_str(), 0), 0);
    // Root may read every file: then nobody asks.
    const uid_t me = ::geteuid();
    ASSERT_EQ(::seteuid(me == 0 ? 65534 : me), 0);
    const Ran ran = run({"check", file});
    ASSERT_EQ(::seteuid(me), 0);
    EXPECT_EQ(ran.code, kExitBadInput);
    EXPECT_THAT(ran.err, StartsWith(file + ": "));
}

TEST(BadPlaces, ARuleTableThatIsNotThereIsNamedWhereTheCageNamesIt) {
    const SpoiledFolder folder;
    const std::string file = folder.cage("club_hillclimb.yaml", "gone.yaml");
    const Ran ran = run({"check", file});
    EXPECT_EQ(ran.code, kExitBadInput);
    EXPECT_THAT(ran.err, StartsWith(file + ":10:9: rules: there is no file '"));
    EXPECT_THAT(ran.err, HasSubstr("gone.yaml' (paths start at the cage file's folder)\n"));
    // Another table given on the command line takes its place; and nothing else asks for one.
    EXPECT_EQ(run({"check", file, "--rules", dataFile("rules/club_hillclimb.yaml")}).code, kExitGood);
    EXPECT_EQ(run({"order", file}).code, kExitGood);
}

struct BadWords {
    const char* name;
    std::vector<std::string> words;
    const char* says;
};
void PrintTo(const BadWords& bad, std::ostream* out) {
    *out << bad.name;
}
const BadWords kBadWords[] = {
    {"NoFile", {"check"}, "hoopwright check: no file is named: write one behind the command\n"},
    {"TwoFiles", {"check", "a", "b"}, "'b' is one word too many: put a name with spaces in quotes\n"},
    {"UnknownOption",
     {"order", "a", "--jsn"},
     "hoopwright order: unknown option '--jsn': did you mean --json?\n"},
    {"UnknownWord", {"ordr"}, "hoopwright: 'ordr' is neither a command nor a file; did you mean 'order'?\n"},
    {"UnknownProgramOption",
     {"--verson"},
     "hoopwright: '--verson' is not an option of the program; did you mean "
     "'--version'?\n"},
    {"OptionWithoutValue", {"geometry", "a", "--stations"}, "--stations needs N after it\n"},
    {"OptionWithEmptyValue", {"check", "a", "--rules", ""}, "--rules is given nothing: write its FILE\n"},
    {"SwitchWithValue", {"check", "a", "--json=1"}, "--json takes no value\n"},
    {"OptionTwice",
     {"geometry", "a", "--stations=8", "--stations=9"},
     "--stations is given twice: keep one\n"},
    {"TooFewStations", {"geometry", kSaloon, "--stations=7"}, "'7' is not a whole number from 8 to 3600\n"},
    {"StationsInWords", {"geometry", kSaloon, "--stations=many"}, "'many' is not a whole number"},
    {"AllowanceInWords", {"order", kSaloon, "--allowance=much"}, "--allowance: 'much' is not a length"},
    {"AllowanceOfWeight",
     {"order", kSaloon, "--allowance=2 kg"},
     "--allowance: '2 kg' is a mass, not a length"},
    {"NegativeAllowance", {"order", kSaloon, "--allowance=-3"}, "'-3' is negative: write 0 or more\n"},
    {"NoPictureFile", {"picture", kSaloon}, "--out PNG is missing: name the file to write\n"},
    {"NotAPng", {"picture", kSaloon, "--out=a.bmp"}, "'a.bmp' does not end in .png"},
    {"NoSuchView",
     {"picture", kSaloon, "--out=a.png", "--view=lft"},
     "'lft' is no view: did you mean left?\n"},
    {"NoSuchPaint",
     {"picture", kSaloon, "--out=a.png", "--paint=gaps"},
     "'gaps' is no way to paint: did you mean gap?"},
    {"NoPaintAtAll",
     {"picture", kSaloon, "--out=a.png", "--paint=red"},
     "one of place, role, state, tube, result, gap, steel"},
    {"NoSuchSize", {"picture", kSaloon, "--out=a.png", "--size=12"}, "'12' is no size: write WIDTHxHEIGHT"},
    {"SizeOfOnePart", {"picture", kSaloon, "--out=a.png", "--size=800x"}, "'' is not a whole number from 64"},
    {"WordBehindQuantities", {"quantities", "x"}, "'x' is one word too many"},
};

class BadCommandLines : public testing::TestWithParam<BadWords> {};
INSTANTIATE_TEST_SUITE_P(Kinds, BadCommandLines, testing::ValuesIn(kBadWords),
                         [](const auto& it) { return std::string(it.param.name); });

TEST_P(BadCommandLines, EndWithTwoAndTheirSentence) {
    const Ran ran = run(GetParam().words);
    EXPECT_EQ(ran.code, kExitBadInput);
    EXPECT_THAT(ran.out, IsEmpty());
    EXPECT_THAT(ran.err, StartsWith("hoopwright"));
    EXPECT_THAT(ran.err, HasSubstr(GetParam().says));
}

TEST(BadCommandLines, HelpIsGivenWhateverElseIsSaid) {
    for (const std::string command :
         {"check", "clearance", "driver", "geometry", "order", "picture", "rules", "quantities"}) {
        EXPECT_EQ(run({command, "--help"}).code, kExitGood);
        EXPECT_EQ(run({command, "-h"}).out, run({command, "--help"}).out);
        EXPECT_EQ(run({command, "a", "b", "c", "--help"}).out, run({command, "--help"}).out);
    }
}

TEST(BadRules, EveryProblemOfATableAtOnce) {
    const SpoiledFolder folder;
    std::string text = textOf(dataFile("rules/club_hillclimb.yaml"));
    text = with(text, "at_least:", "at_lest:");
    text = with(text, "severity:", "severty:");
    const std::string file = folder.write("table.yaml", text);
    const Ran read = run({"rules", file});
    EXPECT_EQ(read.code, kExitBadInput);
    EXPECT_THAT(read.out, IsEmpty());
    EXPECT_THAT(read.err, HasSubstr("'at_lest' (did you mean 'at_least'?)"));
    EXPECT_THAT(read.err, HasSubstr("'severty' (did you mean 'severity'?)"));
    EXPECT_EQ(run({"check", kSaloon, "--rules", file}).err, read.err);
}

}  // namespace
