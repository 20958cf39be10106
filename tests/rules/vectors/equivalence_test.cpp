// Equivalence to a reference tube, by a second method: the section cut into thin level strips. The student
// off-road reference tube is 25.4 x 3.05 of 365 MPa (from memory; here only arithmetic is checked).
#include <gtest/gtest.h>

#include <cmath>

#include "tests/rules/test_cage.h"
#include "tests/rules/vectors/vectors.h"

namespace hoopwright::test {
namespace {

/// Second moment of a ring about its level axis [mm4]: the sum over strips of width times z squared.
double inertiaByStrips(double od, double wall) {
    constexpr int kStrips = 400000;
    const double outer = od / 2, inner = outer - wall, step = od / kStrips;
    double sum = 0;
    for (int i = 0; i < kStrips; ++i) {
        const double z = -outer + (i + 0.5) * step;
        const double hole = std::abs(z) < inner ? 2 * std::sqrt(inner * inner - z * z) : 0;
        sum += (2 * std::sqrt(outer * outer - z * z) - hole) * z * z * step;
    }
    return sum;
}

struct Tube {
    double od, wall, yield;
    bool stiff, strong;
};

class Equivalence : public testing::TestWithParam<Tube> {};
void PrintTo(const Tube& tube, std::ostream* out) {
    *out << tube.od << " x " << tube.wall << " of " << tube.yield << " MPa";
}
// The third passes in stiffness and fails in strength by 0.2 percent; the fourth is strong and not stiff.
INSTANTIATE_TEST_SUITE_P(Tubes, Equivalence,
                         testing::Values(Tube{25.4, 3.05, 365, true, true},
                                         Tube{31.75, 1.65, 365, true, true},
                                         Tube{31.75, 1.57, 365, true, false},
                                         Tube{25.4, 2.413, 670, false, true}, Tube{28, 2, 460, true, true},
                                         Tube{25.4, 1.57, 365, false, false}));

TEST_P(Equivalence, IsWhatTheStripsSay) {
    const Tube& tube = GetParam();
    const double reference = inertiaByStrips(25.4, 3.05), own = inertiaByStrips(tube.od, tube.wall);
    const double stiffness = own / reference;
    const double strength = (tube.yield * own / (tube.od / 2)) / (365 * reference / 12.7);
    EXPECT_EQ(stiffness > 1 - 1e-6, tube.stiff);
    EXPECT_EQ(strength > 1 - 1e-6, tube.strong);

    Bench bench = emptyBench();
    turn(bench, "tube main_hoop", std::to_string(tube.od) + "x" + std::to_string(tube.wall));
    turn(bench, "yield main_hoop", std::to_string(tube.yield));
    const std::string sections =
        "materials:\n  - {family: mild_steel, modulus: 205000 MPa}\n"
        "reference_tubes:\n  plain: {od: 25.4, wall: 3.05, modulus: 205000 MPa, yield: 365 MPa}\n";
    for (const auto& [name, wanted] : {std::pair{"stiffness_over", stiffness}, {"strength_over", strength}}) {
        const std::string rule =
            std::string("measure: ") + name + "\nof: {role: main_hoop}\nwith: {tube: plain}\nat_least: 1";
        const Finding found = finding(bench.job, rule, sections);
        EXPECT_NEAR(found.value.value_or(0), wanted, 1e-6) << name;
        EXPECT_EQ(found.answer, wanted > 1 - 1e-9 ? Answer::meets : Answer::fails) << name;
    }
    turn(bench, "carbon main_hoop", "0.18");
    for (const TableText& table : shippedTables()) {
        if (table.id != "student_offroad_frame") continue;
        Held held{nullptr, "", bench.job, resolve(bench.job), Answer::meets};
        EXPECT_EQ(answerOf(readOne(table.head, table.rule("primary_tube")), held),
                  tube.stiff && tube.strong ? Answer::meets : Answer::fails);
    }
}

}  // namespace
}  // namespace hoopwright::test
