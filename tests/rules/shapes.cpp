#include "tests/rules/shapes.h"

#include <algorithm>

namespace hoopwright::test {

Answer worst(const Job& job, const HeldRule& rule) {
    Answer out = Answer::does_not_apply;
    for (const Finding& f : findings(job, rule.says, rule.sections)) out = std::min(out, f.answer);
    return out;
}

Job without(Job job, const std::string& role) {
    std::erase_if(job.cage.members, [&](const Member& m) { return m.role == role; });
    return job;
}

Job withPassenger(Job job) {
    Driver passenger = job.drivers.front();
    passenger.id = "passenger";
    passenger.occupant = Driver::Occupant::passenger;
    job.drivers.push_back(passenger);
    return job;
}

}  // namespace hoopwright::test
