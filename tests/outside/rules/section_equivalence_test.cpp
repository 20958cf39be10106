// Stiffness and strength over those of a reference tube, as an off-road student formula asks (E I and Sy I/c;
// the clause from memory, its figures reckoned here), by a second method: the ring's second moment as the
// integral of pi r^3 over the wall, which Simpson's rule takes exactly.
#include <cmath>

#include "tests/rules/test_cage.h"

namespace hoopwright::test {
namespace {

/// Simpson's rule is exact for a cubic.
double inertiaByIntegral(double od, double wall) {
    const double inner = od / 2 - wall, outer = od / 2, middle = 0.5 * (inner + outer);
    const auto cube = [](double r) { return M_PI * r * r * r; };
    return (outer - inner) / 6 * (cube(inner) + 4 * cube(middle) + cube(outer));
}

struct Tube {
    double od, wall, yield;
};
constexpr Tube kReference{25.4, 3.05, 365};

/// The belt bar of that tube, held against the reference.
Job jobWith(const Tube& tube) {
    Job job = smallJob();
    job.stock.materials[0].yield_mpa = tube.yield;
    TubeStock own = job.stock.tubes[0];
    own.id = "own";
    own.section = {tube.od, tube.wall};
    job.stock.tubes.push_back(own);
    memberOf(job, "belt_bar").stock = "own";
    return job;
}

const std::string kSections =
    "materials:\n  - {family: mild_steel, modulus: 205000 MPa}\n"
    "reference_tubes:\n  plain: {od: 25.4, wall: 3.05, modulus: 205000 MPa, yield: 365 MPa}\n";

double ratio(const Tube& tube, bool strength) {
    const double own = inertiaByIntegral(tube.od, tube.wall),
                 over = inertiaByIntegral(kReference.od, kReference.wall);
    return strength ? tube.yield * own / (tube.od / 2) / (kReference.yield * over / (kReference.od / 2))
                    : own / over;
}

TEST(SectionEquivalence, ByASecondMethod) {
    for (const Tube& tube :
         {kReference, Tube{31.75, 1.57, 365}, Tube{25.4, 2.413, 670}, Tube{31.75, 1.651, 460},
          Tube{38.1, 2.413, 365}, Tube{45, 2.5, 355}, Tube{28.575, 2.108, 435}}) {
        const Job job = jobWith(tube);
        expectValue(job, "measure: stiffness_over\nof: {role: belt_bar}\nwith: {tube: plain}",
                    ratio(tube, false), 1e-6, "", kSections);
        expectValue(job, "measure: strength_over\nof: {role: belt_bar}\nwith: {tube: plain}",
                    ratio(tube, true), 1e-6, "", kSections);
    }
}

TEST(SectionEquivalence, StiffAloneOrStrongAloneIsNotEnough) {
    const std::string sections = kSections +
                                 "tubes:\n  t: {any_of: [{wall: 1.57, stiffness_over: {with: {tube: plain}, "
                                 "at_least: 1}, strength_over: {with: "
                                 "{tube: plain}, at_least: 1}}]}\n";
    const auto answer = [&](const Tube& tube) {
        return finding(jobWith(tube), "measure: tube\nof: {role: belt_bar}\nfits: t", sections).answer;
    };
    EXPECT_EQ(answer(kReference), Answer::meets);
    // Stiff enough and 0.2 % too weak; 1.57 times as strong and 15 % too soft.
    EXPECT_GT(ratio({31.75, 1.57, 365}, false), 1);
    EXPECT_NEAR(ratio({31.75, 1.57, 365}, true), 0.998, 0.0005);
    EXPECT_EQ(answer({31.75, 1.57, 365}), Answer::fails);
    EXPECT_NEAR(ratio({25.4, 2.413, 670}, true), 1.57, 0.005);
    EXPECT_NEAR(ratio({25.4, 2.413, 670}, false), 0.854, 0.0005);
    EXPECT_EQ(answer({25.4, 2.413, 670}), Answer::fails);
    EXPECT_EQ(answer({31.75, 1.651, 460}), Answer::meets);
}

}  // namespace
}  // namespace hoopwright::test
