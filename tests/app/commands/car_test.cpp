// The measured car on the command line: its report, its sheet, its library.
#include <gmock/gmock.h>

#include <cstdlib>
#include <filesystem>
#include <fstream>
#include <sstream>

#include "core/files/job_file.h"
#include "core/survey/asymmetry.h"
#include "core/survey/survey.h"
#include "run.h"

using namespace hoopwright;
using testing::HasSubstr;
using testing::Not;
namespace fs = std::filesystem;

namespace {

class CarCommands : public testing::Test {
protected:
    void SetUp() override {
        fs::create_directories(folder_);
        ::setenv("XDG_DATA_HOME", (folder_ / "data").c_str(), 1);
    }
    void TearDown() override { fs::remove_all(folder_); }
    std::string write(const std::string& name, const std::string& text) const {
        std::ofstream(folder_ / name) << text;
        return (folder_ / name).string();
    }
    static std::string textOf(const fs::path& file) {
        std::ostringstream text;
        text << std::ifstream(file, std::ios::binary).rdbuf();
        return text.str();
    }
    const std::string car_ = dataFile("cars/saloon.yaml");
    const fs::path folder_ = fs::path(testing::TempDir()) / ("car_commands_" + std::to_string(::getpid()));
};

double numberAt(const QJsonValue& list, int i) {
    return list.toArray()[i].toDouble();
}

TEST_F(CarCommands, EveryPointAndTapeOfTheCarIsInTheJson) {
    const Car car = *readCar(car_).value;
    const Survey found = survey(car);
    const Ran ran = run({"car", car_, "--json"});
    EXPECT_EQ(ran.code, kExitGood) << ran.err;
    const QJsonObject json = ran.json();
    EXPECT_EQ(json["hoopwright"].toString(), "car");
    EXPECT_TRUE(json["symmetric"].toBool());
    const QJsonArray points = json["points"].toArray();
    ASSERT_EQ(static_cast<std::size_t>(points.size()), car.points.size());
    int tapes = 0;
    for (int i = 0; i < points.size(); ++i) {
        const QJsonObject point = points[i].toObject();
        const SurveyedPoint& said = found.points[static_cast<std::size_t>(i)];
        EXPECT_EQ(point["name"].toString().toStdString(), said.name);
        for (int axis = 0; axis < 3; ++axis) {
            EXPECT_EQ(numberAt(point["at_mm"], axis), said.at[axis]);
            EXPECT_EQ(numberAt(point["standard_error_mm"], axis), (*said.standardError_mm())[axis]);
        }
        EXPECT_EQ(point["good_to_mm"].toDouble(), *said.goodTo_mm());
        const QJsonArray list = point["tapes"].toArray();
        EXPECT_EQ(static_cast<std::size_t>(list.size()), said.tapes.size());
        for (int k = 0; k < list.size(); ++k, ++tapes) {
            const TapeResult& tape = said.tapes[static_cast<std::size_t>(k)];
            EXPECT_EQ(list[k]["residual_mm"].toDouble(), tape.residual_mm);
            EXPECT_EQ(list[k]["against_others_mm"].toDouble(), *tape.against_others_mm);
        }
    }
    EXPECT_GT(tapes, 20);
    const AsymmetryTable table = asymmetry(car, found);
    EXPECT_EQ(static_cast<std::size_t>(json["asymmetry"].toArray().size()), table.pairs.size());
    EXPECT_EQ(json["asymmetry"][2]["apart_mm"].toDouble(), table.pairs[2].apart_mm);
    EXPECT_EQ(static_cast<std::size_t>(json["lines"].toArray().size()), car.lines.size());
    EXPECT_EQ(json["lessons"].toArray().size(), 2);
    for (const QJsonValue& line : json["wanted_lines"].toArray())
        EXPECT_TRUE(line["there"].toBool()) << line["title"].toString().toStdString();
}

TEST_F(CarCommands, AMisreadTapeIsNamedAndEndsWithOne) {
    std::string text = textOf(car_);
    const std::string good = "{from: b_pillar_top.left, length: 1113}";
    ASSERT_NE(text.find(good), std::string::npos);
    text.replace(text.find(good), good.size(), "{from: b_pillar_top.left, length: 1153}");
    const Ran ran = run({"car", write("misread.yaml", text)});
    EXPECT_EQ(ran.code, kExitFallsShort);
    EXPECT_THAT(ran.out, HasSubstr("Look at again\n  a_pillar_foot.left: tape from b_pillar_top.left is "));
    EXPECT_THAT(ran.out, HasSubstr("long against the other four"));
    EXPECT_THAT(ran.out, HasSubstr("certifies nothing"));
}

TEST_F(CarCommands, ACarThatCannotBeIsRefusedWithItsPlace) {
    std::string text = textOf(car_);
    const std::string good = "{from: sill_b.left, length: 956.5}";
    text.replace(text.find(good), good.size(), "{from: sill_b.left, length: 95.65}");
    const Ran ran = run({"car", write("wrong.yaml", text)});
    EXPECT_EQ(ran.code, kExitBadInput);
    EXPECT_THAT(ran.err, testing::ContainsRegex(
                             "wrong.yaml:[0-9]+:[0-9]+: b_pillar_top.left: the tapes from .* cannot meet"));
    EXPECT_EQ(ran.out, "");
}

TEST_F(CarCommands, TheReportIsInTheUnitOfTheFile) {
    EXPECT_THAT(run({"car", car_}).out, HasSubstr("lengths in mm"));
    const Ran inches = run({"car", dataFile("cars/pickup.yaml")});
    EXPECT_THAT(inches.out, HasSubstr("lengths in inches"));
    EXPECT_THAT(inches.out, HasSubstr("33.000"));
}

TEST_F(CarCommands, TheSheetIsWrittenAsPdf) {
    const std::string file = (folder_ / "sheet.pdf").string();
    const Ran ran =
        run({"sheet", "measuring", "--body", "van", "--frame", "ladder", "--paper", "letter", "--out", file});
    EXPECT_EQ(ran.code, kExitGood) << ran.err;
    EXPECT_THAT(textOf(file), testing::StartsWith("%PDF"));
    EXPECT_EQ(run({"sheet", "measuring", car_, "--out", file}).code, kExitGood);
}

TEST_F(CarCommands, TheSheetSaysWhatItCannotDo) {
    const std::string file = (folder_ / "sheet.pdf").string();
    EXPECT_THAT(run({"sheet", "measuring"}).err, HasSubstr("--out PDF is missing"));
    EXPECT_THAT(run({"sheet", "cutting", "--out", file}).err, HasSubstr("there is no sheet 'cutting'"));
    EXPECT_THAT(run({"sheet", "measuring", "--out", "a.png"}).err, HasSubstr("does not end in .pdf"));
    EXPECT_THAT(run({"sheet", "measuring", "--body", "salon", "--out", file}).err,
                HasSubstr("--body: 'salon' is not known: did you mean saloon?"));
    EXPECT_THAT(run({"sheet", "measuring", "gone.yaml", "--out", file}).err,
                HasSubstr("there is no such file"));
    EXPECT_THAT(run({"sheet", "measuring", "--out", (folder_ / "no" / "sheet.pdf").string()}).err,
                HasSubstr("does not exist"));
}

TEST_F(CarCommands, TheLibraryKeepsACarForTheNextJob) {
    EXPECT_THAT(run({"library", "list"}).out, HasSubstr("No cars are kept yet"));
    EXPECT_EQ(run({"library", "add", car_}).out, "kept as saloon\n");
    const Ran again = run({"library", "add", car_});
    EXPECT_EQ(again.code, kExitBadInput);
    EXPECT_THAT(again.err, HasSubstr("there is a file of that name already"));
    EXPECT_EQ(run({"library", "add", car_, "--replace"}).code, kExitGood);
    EXPECT_EQ(run({"library", "add", car_, "--name", "two_door"}).code, kExitGood);
    EXPECT_THAT(run({"library", "list"}).out, HasSubstr("two_door  Two-door saloon  saloon, unibody"));
    const QJsonObject json = run({"library", "list", "--json"}).json();
    ASSERT_EQ(json["cars"].toArray().size(), 2);
    EXPECT_EQ(json["cars"][1]["name"].toString(), "two_door");
    EXPECT_EQ(json["cars"][1]["lessons"].toArray().size(), 2);
    const std::string out = (folder_ / "job.yaml").string();
    EXPECT_EQ(run({"library", "use", "two_door", "--out", out}).code, kExitGood);
    EXPECT_EQ(textOf(out), textOf(car_));
    EXPECT_EQ(run({"library", "use", "two_door", "--out", out}).code, kExitBadInput);
    EXPECT_THAT(run({"library", "use", "two_dor", "--out", out}).err, HasSubstr("did you mean 'two_door'?"));
    EXPECT_THAT(run({"library", "lend", "two_door"}).err, HasSubstr("'lend' is not known here"));
    EXPECT_THAT(run({"library", "use", "two_door"}).err, HasSubstr("--out FILE is missing"));
}

}  // namespace
