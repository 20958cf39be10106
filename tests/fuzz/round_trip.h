// What must hold of any bytes given to the reader of a file: it ends in a value or in problems, never in
// both; a value writes back to the same bytes, and as a new file to text that reads as the same value.
#pragma once

#include <cstdint>
#include <cstdio>
#include <cstdlib>
#include <string>

namespace hoopwright {

inline void demand(bool holds, const char* what) {
    if (holds) return;
    std::fprintf(stderr, "does not hold: %s\n", what);
    std::abort();
}

template <class Read, class Write>
int roundTrip(const std::uint8_t* data, std::size_t size, Read read, Write write) {
    const std::string text(reinterpret_cast<const char*>(data), size);
    const auto first = read(text);
    demand(first.value.has_value() == first.problems.empty(), "a value or problems, not both");
    for (const auto& problem : first.problems) demand(!problem.text().empty(), "a problem has words");
    if (!first.value) return 0;
    demand(write(*first.value, first.text) == text, "an unchanged value keeps every byte");
    const auto again = read(write(*first.value, nullptr));
    demand(again.value.has_value(), "a new file reads back");
    demand(*again.value == *first.value, "a new file reads back the same");
    return 0;
}

}  // namespace hoopwright
