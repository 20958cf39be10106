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
/// inclusive, and turned round; each condition on a fact said otherwise; each word of a list, and each family
/// of metal, left out. Words for people are left alone.
std::vector<Mutant> mutants(const std::string& text);
/// The same of a head's tube tables, reference tubes and materials.
std::vector<Mutant> mutantsOfHead(const std::string& head);

}  // namespace hoopwright::test
