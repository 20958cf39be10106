// Measured points of a car file: every way to say one, what is refused and where, what a save leaves alone.
#include <gmock/gmock.h>

#include "core/files/job_file.h"

using namespace hoopwright;
using testing::ElementsAre;
using testing::HasSubstr;

namespace {

const std::string kCarHead =
    "hoopwright: car\nversion: 2\nname: C\nunits: mm\nbody: saloon\nframe: unibody\nground: -330\n";
const std::string kSills =
    "points:\n"
    "  - {name: sill_b.left, at: [0, 630, 0], tolerance: 2}\n"
    "  - {name: sill_b.right, at: [0, -630, 0], tolerance: 2}\n"
    "  - {name: sill_a.left, at: [1090, 630, 0], tolerance: 2}\n"
    "  - {name: sill_a.right, at: [1090, -630, 0], tolerance: 2}\n";

std::vector<std::string> problemsOfCar(const std::string& text) {
    std::vector<std::string> out;
    const ReadResult<Car> read = readCarText(text, "car.yaml");
    for (const Problem& problem : read.problems) out.push_back(problem.text());
    EXPECT_EQ(read.value.has_value(), out.empty()) << "a wrong file never half-loads";
    return out;
}
/// Of a file with these points behind the four sills; they start on line 13.
std::vector<std::string> problemsOfPoints(const std::string& points) {
    return problemsOfCar(kCarHead + kSills + points);
}

TEST(APointOfACarFile, IsGivenInOneOfThreeWays) {
    const auto read = readCarText(
        kCarHead + "planes: [{name: rear_axle, x: -1000}]\n" + kSills +
            "  - {name: leg.left, offsets: {height: 235, out: 488, plane: rear_axle, ahead: 100}}\n"
            "  - {name: tank, offsets: {height: 400, from: ground, out: 120, toward: right, ahead: -700}}\n"
            "  - {name: top.left, lies: above, tapes: [{from: sill_b.left, length: 956.6}, {from: "
            "sill_a.left, "
            "length: 1450}, {from: sill_b.right, length: 1537.7, tolerance: 5}]}\n",
        "car.yaml");
    ASSERT_TRUE(read.value) << read.problems[0].text();
    EXPECT_EQ(read.value->point("leg.left")->at, Vec3(-900, 488, 235));
    EXPECT_EQ(read.value->point("tank")->at, Vec3(-700, -120, 70));
    EXPECT_NEAR(read.value->point("top.left")->at.z(), 955, 1);
    const auto& by = std::get<ByTapes>(read.value->point("top.left")->taken);
    EXPECT_EQ(by.tapes[2].tolerance_mm, 5);
}

TEST(APointOfACarFile, IsRefusedWithItsPlace) {
    EXPECT_THAT(
        problemsOfPoints("  - {name: top, at: [0, 0, 0], tapes: []}\n"),
        ElementsAre(
            "car.yaml:13:5: points, item 5: these keys exclude each other: at, tapes (keep one of them)"));
    EXPECT_THAT(problemsOfPoints("  - {name: top, tolerance: 2}\n"),
                ElementsAre("car.yaml:13:5: points, item 5: one of these keys is missing: at, offsets, tapes "
                            "(add one of them)"));
    EXPECT_THAT(problemsOfPoints("  - {name: top, at: [0, 0, 0], lies: above}\n"),
                ElementsAre(HasSubstr("car.yaml:13:32: points, item 5: unknown key 'lies'")));
    EXPECT_THAT(problemsOfPoints("  - {name: top, tapes: [], lies: uphill}\n"),
                ElementsAre(HasSubstr("car.yaml:13:34: lies: 'uphill' is not a known word here")));
    EXPECT_THAT(
        problemsOfPoints("  - {name: top, tapes: [], lies: above, near: [0, 0, 9]}\n"),
        ElementsAre(HasSubstr("car.yaml:13:47: near: 'lies' and 'near' both say which place is meant")));
    EXPECT_THAT(problemsOfPoints("  - {name: t.left, offsets: {height: 1, out: 2, ahead: 3, up: 4}}\n"),
                ElementsAre(HasSubstr("offsets: unknown key 'up'")));
}

TEST(Tapes, AreRefusedAtTheTapeConcerned) {
    EXPECT_THAT(
        problemsOfPoints("  - name: top\n    lies: above\n    tapes:\n"
                         "      - {from: sill_b.left, length: 500}\n"
                         "      - {from: sill_b.right, length: 500}\n"
                         "      - {from: sill_a.left, length: 900}\n"),
        ElementsAre(
            "car.yaml:17:9: top: the tapes from sill_b.left and sill_b.right cannot meet: the two are "
            "1260.0 mm apart and the tapes reach 1000.0 mm, 260.0 mm too little (measure both again)"));
    EXPECT_THAT(
        problemsOfPoints("  - name: top\n    tapes:\n"
                         "      - {from: top, length: 500}\n"
                         "      - {from: sil_b.right, length: 0}\n"
                         "      - {from: sill_a.left, length: -3}\n"),
        ElementsAre(
            "car.yaml:15:9: top is taped from itself (name the point the tape is hooked on)",
            "car.yaml:16:9: top is taped from 'sil_b.right', which is no point of this car (did you mean "
            "'sill_b.right'?)",
            "car.yaml:16:9: top: the tape from sil_b.right is 0.0 mm long (write the length read on the "
            "tape, more than 0)",
            "car.yaml:17:9: top: the tape from sill_a.left is -3.0 mm long (write the length read on the "
            "tape, more than 0)"));
    EXPECT_THAT(
        problemsOfPoints("  - {name: top, tapes: [{from: sill_b.left, length: 900}]}\n"),
        ElementsAre("car.yaml:13:24: top has one tape; three are the least (tape it from three known points, "
                    "better four)"));
    EXPECT_THAT(problemsOfPoints(
                    "  - {name: m.left, at: [500, 630, 0]}\n"
                    "  - {name: top, tapes: [{from: sill_b.left, length: 900}, {from: m.left, length: 900}, "
                    "{from: sill_a.left, length: 900}]}\n"),
                ElementsAre(HasSubstr(
                    "car.yaml:14:24: top is taped from sill_b.left, m.left and sill_a.left, which stand in "
                    "a line")));
}

TEST(Tapes, InInchesAreRefusedInInches) {
    const std::string head =
        "hoopwright: car\nversion: 2\nname: C\nunits: in\nbody: pickup\nframe: ladder\nground: -19\n"
        "points:\n  - {name: a, at: [0, 33, 0]}\n  - {name: b, at: [0, -33, 0]}\n  - {name: c, at: [40, 33, "
        "0]}\n";
    EXPECT_THAT(
        problemsOfCar(head + "  - {name: top, tapes: [{from: a, length: 20}, {from: b, length: 2' 6\"}, "
                             "{from: c, length: 50}]}\n"),
        ElementsAre(
            HasSubstr("the two are 66.000 in apart and the tapes reach 50.000 in, 16.000 in too little")));
}

TEST(ALoopOfTapes, IsNamedAtItsFirstPoint) {
    const std::string others = "{from: sill_b.left, length: 900}, {from: sill_a.left, length: 900}]}\n";
    EXPECT_THAT(
        problemsOfPoints("  - {name: p, tapes: [{from: q, length: 900}, " + others +
                         "  - {name: q, tapes: [{from: p, length: 900}, " + others),
        ElementsAre(
            "car.yaml:13:22: p is taped from q, which is taped from p (measure one of them by other means)"));
}

TEST(ALine, GoesThroughPointsByName) {
    const std::string text = kCarHead + kSills +
                             "lines:\n"
                             "  - {name: sill.left, points: [sill_b.left, [500, 640, 1], {point: "
                             "sill_a.left, offset: [0, 5, 0]}]}\n";
    const auto read = readCarText(text, "car.yaml");
    ASSERT_TRUE(read.value) << read.problems[0].text();
    EXPECT_THAT(read.value->lines[0].points,
                ElementsAre(Vec3(0, 630, 0), Vec3(500, 640, 1), Vec3(1090, 635, 0)));
    EXPECT_EQ(writeCar(*read.value, read.text), text);
    EXPECT_THAT(
        problemsOfCar(kCarHead + kSills + "lines:\n  - {name: a, points: [sill_b.left, sill_x.left]}\n"),
        ElementsAre(
            "car.yaml:14:37: a goes through 'sill_x.left', which is no point of this car (did you mean "
            "'sill_b.left'?)"));
    EXPECT_THAT(
        problemsOfCar(kCarHead + kSills +
                      "rails:\n  - {name: r, line: [{point: nothing}], width: 1, height: 1, wall: 1}\n"),
        ElementsAre(HasSubstr("car.yaml:14:22: r goes through 'nothing'")));
}

TEST(ATapeThatChanges, ChangesOnlyItsOwnDigits) {
    const std::string text = kCarHead + kSills +
                             "  # under the rail, inside\n"
                             "  - name: top.left   # ours\n"
                             "    tapes:\n"
                             "      - {from: sill_b.left, length: 956.6}   # read twice\n"
                             "      - {from: sill_a.left, length: 1450}\n"
                             "      - {from: sill_b.right, length: 1537.7}\n"
                             "    lies: above\n";
    const auto read = readCarText(text, "car.yaml");
    ASSERT_TRUE(read.value) << read.problems[0].text();
    Car car = *read.value;
    std::get<ByTapes>(car.points[4].taken).tapes[0].length_mm = 957;
    // Where the point is follows from the tapes; a reader works it out again.
    std::string wanted = text;
    wanted.replace(wanted.find("956.6"), 5, "957");
    const auto again = readCarText(wanted, "car.yaml");
    ASSERT_TRUE(again.value);
    car.points[4].at = again.value->points[4].at;
    EXPECT_EQ(writeCar(car, read.text), wanted);
}

TEST(AFileOfVersionOne, StaysSymmetricAndKeepsItsVersion) {
    std::string old = kCarHead + kSills;
    old.replace(old.find("version: 2"), 10, "version: 1");
    const auto read = readCarText(old, "car.yaml");
    ASSERT_TRUE(read.value);
    EXPECT_TRUE(read.value->symmetric);
    EXPECT_FALSE(readCarText(kCarHead + kSills, "car.yaml").value->symmetric);
    Car car = *read.value;
    car.points[0].tolerance_mm = 4;
    EXPECT_THAT(writeCar(car, read.text), HasSubstr("version: 1\n"));
    EXPECT_THAT(writeCar(car, read.text), testing::Not(HasSubstr("symmetric")));
    car.symmetric = false;
    const std::string told = writeCar(car, read.text);
    EXPECT_THAT(told, HasSubstr("version: 1\n"));
    EXPECT_THAT(told, HasSubstr("symmetric: false\n"));
    EXPECT_EQ(*readCarText(told, "car.yaml").value, car);
    EXPECT_THAT(writeCar(car), HasSubstr("version: 2\n"));
}

TEST(AFileOfAVersionToCome, IsNotRead) {
    std::string text = kCarHead;
    text.replace(text.find("version: 2"), 10, "version: 3");
    EXPECT_THAT(
        problemsOfCar(text),
        ElementsAre(
            "car.yaml:2:10: version: this file is of a later version than this program reads (use a newer "
            "program; this one reads 1 to 2)"));
}

TEST(Lessons, AreKeptPerPointAndPerCar) {
    const std::string text = kCarHead +
                             "lessons:\n  - {note: level it first}\n"
                             "  - {about: sill_b.left, when: 2026-03-02, note: sealer 4 mm thick}\n";
    const auto read = readCarText(text, "car.yaml");
    ASSERT_TRUE(read.value) << read.problems[0].text();
    EXPECT_EQ(read.value->lessons[1], (Lesson{"sill_b.left", "2026-03-02", "sealer 4 mm thick"}));
    EXPECT_THAT(problemsOfCar(kCarHead + "lessons:\n  - {when: yesterday, note: x}\n"),
                ElementsAre(HasSubstr("'yesterday' is not a date")));
}

}  // namespace
