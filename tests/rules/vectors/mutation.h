// A rule's text with one limit moved a step, or one comparison turned round.
#pragma once

#include <string>
#include <vector>

namespace hoopwright::test {

struct Mutant {
    std::string what;  ///< "at_least: 30 -> 31"
    std::string text;
};

/// Every number moved one unit of its last place each way, dates a day; and every comparison made strict or
/// inclusive, and turned round. Words for people are left alone.
std::vector<Mutant> mutants(const std::string& text);
/// The same of the numbers of a head's tube tables, reference tubes and materials.
std::vector<Mutant> mutantsOfHead(const std::string& head);

}  // namespace hoopwright::test
