// Rules held on their limit, one step inside, one step outside, and where they do not apply.
#pragma once

#include "core/base/text.h"
#include "tests/rules/test_cage.h"

namespace hoopwright::test {

/// One rule as a table says it; `at_limit` is what a strict limit changes.
struct HeldRule {
    std::string says, sections = {};
    Answer at_limit = Answer::meets;
};

/// The worst answer of all findings of the rule.
Answer worst(const Job& job, const HeldRule& rule);
/// All bars of a role taken away.
Job without(Job job, const std::string& role);
/// A person in the other seat, like the driver.
Job withPassenger(Job job);

/// Nothing but these bars.
Job onlyBars(std::vector<Member> members);
/// The bar has a tube of its own, of plain steel.
Job withTube(Job job, const std::string& id, const TubeSection& section, TubeForm form = TubeForm::seamless);
/// The end of a bar put on a host's end.
Landing onEndOf(const std::string& host, bool last);
/// A reading of the built cage, in base units.
Job withReading(Job job, const std::string& of, const std::string& quantity, double value,
                Dimension dimension);

/// `job_with(value)` is the small cage with the measured thing at that value.
template <class JobWith>
void expectLimit(const HeldRule& rule, JobWith job_with, double on, double inside, double outside) {
    EXPECT_EQ(worst(job_with(on), rule), rule.at_limit) << rule.says << "\non " << on;
    EXPECT_EQ(worst(job_with(inside), rule), Answer::meets) << rule.says << "\ninside " << inside;
    EXPECT_EQ(worst(job_with(outside), rule), Answer::fails) << rule.says << "\noutside " << outside;
}
inline void expectNotApplying(const HeldRule& rule, const Job& job) {
    EXPECT_EQ(worst(job, rule), Answer::does_not_apply) << rule.says;
}

}  // namespace hoopwright::test
