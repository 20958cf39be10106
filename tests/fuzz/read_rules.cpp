#include "round_trip.h"
#include "rules/check.h"

extern "C" int LLVMFuzzerTestOneInput(const std::uint8_t* data, std::size_t size) {
    using namespace hoopwright;
    const std::string text(reinterpret_cast<const char*>(data), size);
    const RuleTableResult result = readRuleTableText(text, "rules");
    demand((result.table != nullptr) == result.problems.empty(), "a table or problems, not both");
    for (const Problem& problem : result.problems) demand(!problem.text().empty(), "a problem has words");
    return 0;
}
