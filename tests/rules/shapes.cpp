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

Job onlyBars(std::vector<Member> members) {
    Job job = smallJob();
    job.cage.members = std::move(members);
    return job;
}

Job withTube(Job job, const std::string& id, const TubeSection& section, TubeForm form) {
    TubeStock own = job.stock.tubes[0];
    own.id = "own";
    own.section = section;
    own.form = form;
    own.least_wall_mm.reset();
    own.measured_wall_mm.reset();
    job.stock.tubes.push_back(own);
    memberOf(job, id).stock = "own";
    return job;
}

Landing onEndOf(const std::string& host, bool last) {
    Landing out;
    out.host = host;
    out.by = Landing::By::end;
    out.from_last_end = last;
    return out;
}

Job withReading(Job job, const std::string& of, const std::string& quantity, double value,
                Dimension dimension) {
    BuiltReading reading;
    reading.of = of;
    reading.quantity = quantity;
    reading.value = value;
    reading.dimension = dimension;
    job.cage.readings.push_back(reading);
    return job;
}

}  // namespace hoopwright::test
