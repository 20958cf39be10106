#include "app/commands/json.h"

#include <gmock/gmock.h>

#include <cmath>
#include <locale>

#include "app/commands/command_line.h"
#include "app/commands/text_table.h"
#include "run.h"

using namespace hoopwright;
using testing::ElementsAre;
using testing::HasSubstr;

namespace {

TEST(Json, IsLaidOutWithItsKeysInTheOrderGiven) {
    std::ostringstream out;
    JsonWriter json(out);
    {
        const auto top = json.object();
        json.text("b", "x");
        json.whole("a", -3);
        {
            const auto list = json.list("bars");
            const auto bar = json.object();
            json.yesNo("bent", true);
            json.point("at_mm", Vec3(1, 2.5, -3));
        }
        { const auto none = json.list("none"); }
        json.texts("ids", {"p", "q"});
        json.nothing("nothing");
    }
    EXPECT_EQ(out.str(),
              "{\n  \"b\": \"x\",\n  \"a\": -3,\n  \"bars\": [\n    {\n      \"bent\": true,\n      "
              "\"at_mm\": [1, 2.5, -3]\n"
              "    }\n  ],\n  \"none\": [],\n  \"ids\": [\"p\", \"q\"],\n  \"nothing\": null\n}\n");
}

TEST(Json, NumbersReadBackAsTheSameDoubles) {
    for (const double value :
         {0.1, 1e-300, 1.7976931348623157e308, -41.275, 1.0 / 3, 5e-324, 812.4000000000001}) {
        std::ostringstream out;
        JsonWriter json(out);
        {
            const auto top = json.object();
            json.number("x", value);
        }
        const QJsonDocument read = QJsonDocument::fromJson(QByteArray::fromStdString(out.str()));
        EXPECT_EQ(read.object()["x"].toDouble(), value) << out.str();
    }
}

TEST(Json, NumbersThatAreNoneAreNull) {
    std::ostringstream out;
    JsonWriter json(out);
    {
        const auto top = json.object();
        json.number("a", std::nan(""));
        json.numbers("b", {1, HUGE_VAL});
    }
    EXPECT_EQ(out.str(), "{\n  \"a\": null,\n  \"b\": [1, null]\n}\n");
}

TEST(Json, AnyTextReadsBackAndBrokenUtf8IsMended) {
    const std::string odd = "a\"b\\c\nd\te\x01\x1f größe \xFF.";
    std::ostringstream out;
    JsonWriter json(out);
    {
        const auto top = json.object();
        json.text("x", odd);
    }
    const QJsonDocument read = QJsonDocument::fromJson(QByteArray::fromStdString(out.str()));
    EXPECT_EQ(read.object()["x"].toString().toStdString(), "a\"b\\c\nd\te\x01\x1f größe \xEF\xBF\xBD.");
}

TEST(TextTable, LinesColumnsUpByCharactersAndTrimsLineEnds) {
    TextTable table({Align::left, Align::right, Align::left});
    table.add({"Ø45", "1", "x"});
    table.add({"a", "12.5", ""});
    EXPECT_EQ(table.text(2), "  Ø45     1  x\n  a    12.5\n");
}

TEST(Wrapped, BreaksAtSpacesAndNeverInsideAWord) {
    EXPECT_EQ(wrapped("one two three", 2, 9), "  one two\n  three\n");
    EXPECT_EQ(wrapped("averylongword b", 0, 5), "averylongword\nb\n");
    EXPECT_EQ(wrapped("", 3), "");
}

const std::vector<OptionSpec> kOptions = {
    {"--rules", "FILE", "", true}, {"--json", "", ""}, {"--size", "WxH", ""}};

std::string refusal(const std::vector<std::string>& words) {
    const Expected<CommandLine> read = readCommandLine(words, kOptions, {1, 1});
    return read ? "" : read.reason();
}

TEST(CommandLine, TakeValuesBehindASpaceOrAnEqualsSign) {
    const std::vector<std::string> words = {"--rules", "a.yaml", "cage.yaml", "--rules=b.yaml", "--json"};
    const Expected<CommandLine> read = readCommandLine(words, kOptions, {1, 1});
    ASSERT_TRUE(read) << read.reason();
    EXPECT_THAT(read->files(), ElementsAre("cage.yaml"));
    EXPECT_THAT(read->values("--rules"), ElementsAre("a.yaml", "b.yaml"));
    EXPECT_TRUE(read->has("--json"));
    EXPECT_EQ(read->value("--size", "none"), "none");
}

TEST(CommandLine, TakeAFileThatStartsWithADashAfterTwoDashes) {
    const std::vector<std::string> words = {"--", "--json"};
    const Expected<CommandLine> read = readCommandLine(words, kOptions, {1, 1});
    ASSERT_TRUE(read) << read.reason();
    EXPECT_THAT(read->files(), ElementsAre("--json"));
    EXPECT_FALSE(read->has("--json"));
}

TEST(CommandLine, SayWhatIsWrongWithThem) {
    EXPECT_EQ(refusal({"c", "--jsno"}), "unknown option '--jsno': did you mean --json?");
    EXPECT_EQ(refusal({"c", "--zzzzzz"}),
              "unknown option '--zzzzzz': known here: --help, --rules, --json, --size");
    EXPECT_EQ(refusal({"c", "--rules"}), "--rules needs FILE after it");
    EXPECT_EQ(refusal({"c", "--json=yes"}), "--json takes no value");
    EXPECT_EQ(refusal({"c", "--json", "--json"}), "--json is given twice: keep one");
    EXPECT_EQ(refusal({}), "no file is named: write one behind the command");
    EXPECT_EQ(refusal({""}), "a name is empty: write the file's name");
    EXPECT_EQ(refusal({"c", "--size="}), "--size is given nothing: write its WxH");
    EXPECT_EQ(refusal({"c", "d"}), "'d' is one word too many: put a name with spaces in quotes");
}

TEST(WholeNumber, KeepsToItsRange) {
    EXPECT_EQ(*wholeNumber("--stations", "72", 8, 100), 72);
    EXPECT_FALSE(wholeNumber("--stations", "7", 8, 100));
    EXPECT_FALSE(wholeNumber("--stations", "12x", 8, 100));
    EXPECT_EQ(wholeNumber("--stations", "", 8, 100).reason(),
              "--stations: '' is not a whole number from 8 to 100");
}

}  // namespace
