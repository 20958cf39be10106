// The clearance and driver commands end to end.
#include <gmock/gmock.h>

#include <cmath>
#include <filesystem>
#include <fstream>

#include "app/commands/seat_option.h"
#include "core/files/job_file.h"
#include "run.h"
#include "tests/degrees.h"

using namespace hoopwright;
using testing::HasSubstr;
namespace fs = std::filesystem;

namespace {

QJsonObject driverOf(const Ran& ran, int i = 0) {
    return ran.json()["drivers"].toArray()[i].toObject();
}
QJsonObject partOf(const QJsonObject& driver, const char* part) {
    for (const auto& one : driver["clearances"].toArray())
        if (one.toObject()["part"].toString() == QLatin1String(part)) return one.toObject();
    return {};
}
Vec3 point(const QJsonValue& value) {
    const QJsonArray list = value.toArray();
    return {list[0].toDouble(), list[1].toDouble(), list[2].toDouble()};
}

TEST(ClearanceCommand, SaysAllOfEveryDriver) {
    const Ran ran = run({"clearance", kSaloon});
    EXPECT_EQ(ran.code, kExitGood) << ran.err;
    for (const char* words : {"Tall driver", "Short driver", "helmet can go",
                              "Shoulder strap, left, to belt_bar", "Lap strap", "Sight of mirror.left",
                              "Door, seen from the side", "There it may be from z", "it certifies nothing"})
        EXPECT_THAT(ran.out, HasSubstr(words));
}

TEST(ClearanceCommand, JsonHoldsTogether) {
    const Ran ran = run({"clearance", kSaloon, "--json"});
    EXPECT_EQ(ran.code, kExitGood) << ran.err;
    EXPECT_EQ(ran.json()["hoopwright"].toString(), "clearance");
    ASSERT_EQ(ran.json()["drivers"].toArray().size(), 2);
    const QJsonObject tall = driverOf(ran);
    EXPECT_EQ(tall["id"].toString(), "tall");
    for (const auto& each : tall["clearances"].toArray()) {
        const QJsonObject part = each.toObject();
        EXPECT_NEAR((point(part["on_person_mm"]) - point(part["on_bar_mm"])).norm(),
                    std::abs(part["bare_mm"].toDouble()), 1e-3)
            << part["part"].toString().toStdString();
        EXPECT_LE(part["padded_mm"].toDouble(), part["bare_mm"].toDouble() + 1e-9);
    }
    const QJsonArray straps = tall["shoulder_straps"].toArray();
    ASSERT_EQ(straps.size(), 2);
    EXPECT_EQ(straps[0].toObject()["bar"].toString(), "belt_bar");
    EXPECT_NEAR(straps[0].toObject()["angle_deg"].toDouble(),
                (std::atan2(64.0, 228.0) - std::asin(19 / std::hypot(64, 228))) / kDegree, 1e-6);
    const QJsonObject band = tall["belt_band"].toObject();
    EXPECT_TRUE(band["allowed_now"].toBool());
    EXPECT_GT(band["columns"].toArray().size(), 5);
    EXPECT_EQ(tall["belt_bar_snap"].toObject()["by_mm"].toDouble(-1), 0);
    EXPECT_GT(tall["door"].toObject()["clear_round_mm"].toDouble(), 200);
    const double hidden = tall["sight"].toObject()["windshield_hidden"].toDouble(-1);
    EXPECT_GE(hidden, 0);
    EXPECT_LT(hidden, 0.5);
    EXPECT_EQ(tall["sight"].toObject()["mirrors"].toArray().size(), 3);
    EXPECT_FALSE(tall.contains("moved"));
}

TEST(ClearanceCommand, GeometrySaysTheSame) {
    const QJsonObject one = driverOf(run({"clearance", kPickup, "--json"})),
                      other = driverOf(run({"geometry", kPickup, "--json"}));
    for (const char* key :
         {"clearances", "helmet_travel", "top_lines", "shoulder_straps", "lap_straps", "sight", "points"})
        EXPECT_EQ(one[QLatin1String(key)], other[QLatin1String(key)]) << key;
}

TEST(ClearanceCommand, MovesTheSeat) {
    const Ran ran =
        run({"clearance", kSaloon, "--driver", "tall", "--seat", "slide=20,lift=-10,recline=2", "--json"});
    EXPECT_EQ(ran.code, kExitGood) << ran.err;
    ASSERT_EQ(ran.json()["drivers"].toArray().size(), 1);
    const QJsonObject tall = driverOf(ran), moved = tall["moved"].toObject(),
                      after = moved["driver"].toObject();
    EXPECT_NEAR((point(after["points"].toObject()["hip_mm"]) - point(tall["points"].toObject()["hip_mm"]) -
                 Vec3(20, 0, -10))
                    .norm(),
                0, 1e-9);
    EXPECT_EQ(after["points"].toObject()["hand_left_mm"], tall["points"].toObject()["hand_left_mm"]);
    EXPECT_NEAR(after["back_angle_deg"].toDouble(), tall["back_angle_deg"].toDouble() + 2, 1e-9);
    EXPECT_NE(partOf(after, "helmet")["bare_mm"], partOf(tall, "helmet")["bare_mm"]);
    EXPECT_GT(moved["rules"].toArray().size(), 3);
    const Ran text = run({"clearance", kSaloon, "--driver=tall", "--seat=lift=60"});
    EXPECT_THAT(text.out, HasSubstr("With the seat moved: slide 0.0 mm, lift 60.0 mm, recline 0.0°"));
    EXPECT_THAT(text.out, HasSubstr("fails"));
}

TEST(ClearanceCommand, RefusesWhatItCannotDo) {
    EXPECT_THAT(run({"clearance", kSaloon, "--driver", "nobody"}).err,
                HasSubstr("--driver: there is no driver 'nobody'; there is tall, short"));
    EXPECT_THAT(run({"clearance", kSaloon, "--seat", "tilt=3"}).err,
                HasSubstr("--seat: 'tilt=3' is no move: write any of slide=20,lift=-10,recline=2"));
    const Ran far = run({"clearance", kSaloon, "--seat", "recline=80"});
    EXPECT_EQ(far.code, kExitBadInput);
    EXPECT_THAT(far.err, HasSubstr("--seat: the back would lean at"));
}

TEST(SeatOption, IsReadInTheJobsUnit) {
    const SeatMove inches = *readSeatMove("slide=1-1/2,lift=10 mm,recline=-3", LengthUnit::in);
    EXPECT_NEAR(inches.slide_mm, 38.1, 1e-9);
    EXPECT_NEAR(inches.lift_mm, 10, 1e-9);
    EXPECT_NEAR(inches.recline_rad, -3 * kDegree, 1e-12);
    EXPECT_EQ(readSeatMove("slide=1,slide=2", LengthUnit::mm).reason(), "--seat: slide is given twice");
    EXPECT_THAT(readSeatMove("lift=up", LengthUnit::mm).reason(), HasSubstr("--seat: lift: "));
    EXPECT_FALSE(readSeatMove("", LengthUnit::mm));
}

class DriverCommand : public testing::Test {
protected:
    void SetUp() override { fs::create_directories(folder_); }
    void TearDown() override { fs::remove_all(folder_); }
    std::string file(const char* name) const { return (folder_ / name).string(); }
    const fs::path folder_ = fs::path(testing::TempDir()) / ("driver_" + std::to_string(::getpid()));
};

TEST_F(DriverCommand, WritesAFigure) {
    const Ran ran = run({"driver", "new", "--figure", "student_formula_95", "--hip", "310,365,55", "--back",
                         "22", "--out", file("d.yaml")});
    EXPECT_EQ(ran.code, kExitGood) << ran.err;
    EXPECT_THAT(QString::fromStdString(ran.out).simplified().toStdString(),
                HasSubstr("Formula SAE Rules 2024 v1.0, F.5.6.4"));
    const ReadResult<Driver> read = readDriver(file("d.yaml"));
    ASSERT_TRUE(read.value) << read.problems.front().text();
    EXPECT_EQ(read.value->hip, Vec3(310, 365, 55));
    EXPECT_EQ(read.value->figure, "student_formula_95");
    EXPECT_NEAR(read.value->back_angle_rad, 22 * kDegree, 1e-9);
    const Ran inches =
        run({"driver", "new", "--unit", "in", "--hip", "14,16,8", "--back", "70", "--out", file("in.yaml")});
    EXPECT_EQ(inches.code, kExitGood) << inches.err;
    EXPECT_NEAR(readDriver(file("in.yaml")).value->hip.x(), 14 * 25.4, 1e-9);
}

TEST_F(DriverCommand, RefusesWhatItCannotDo) {
    const auto err = [&](std::vector<std::string> words) {
        words.insert(words.begin(), "driver");
        const Ran ran = run(words);
        EXPECT_EQ(ran.code, kExitBadInput);
        return ran.err;
    };
    EXPECT_THAT(err({"new"}), HasSubstr("--out FILE is missing"));
    EXPECT_THAT(err({"old", "--out", file("x.yaml")}), HasSubstr("write: driver new"));
    EXPECT_THAT(err({"new", "--figure", "student_formula_59", "--out", file("x.yaml")}),
                HasSubstr("did you mean student_formula_95?"));
    EXPECT_THAT(err({"new", "--hip", "1,2", "--out", file("x.yaml")}), HasSubstr("--hip: '1,2' is no point"));
    EXPECT_THAT(err({"new", "--hip", "1,2,3,4", "--out", file("x.yaml")}), HasSubstr("is no point"));
    EXPECT_THAT(err({"new", "--back", "95", "--out", file("x.yaml")}),
                HasSubstr("--back: a back at 95.0° cannot sit"));
    EXPECT_THAT(err({"new", "--unit", "cm", "--out", file("x.yaml")}), HasSubstr("neither mm nor in"));
    EXPECT_FALSE(fs::exists(file("x.yaml")));
    std::ofstream(file("there.yaml")) << "mine";
    EXPECT_THAT(err({"new", "--out", file("there.yaml")}), HasSubstr("there is already a file"));
}

}  // namespace
