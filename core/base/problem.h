// What is wrong with something a person gave us, and where.
#pragma once

#include <string>
#include <vector>

namespace hoopwright {

/// A place in a hand-written file. Line and column count from 1, as an editor shows them; 0 = not known.
struct FileMark {
    std::string file;
    int line = 0;
    int column = 0;
    friend bool operator==(const FileMark&, const FileMark&) = default;
};

struct Problem {
    FileMark at;
    std::string what;    ///< what was found, as a sentence: "wall: '2,5' is not a length"
    std::string remedy;  ///< what to do: "write 2.5"; may be empty
    /// "cage.yaml:12:9: wall: '2,5' is not a length (write 2.5)"
    std::string text() const;
};
using Problems = std::vector<Problem>;

}  // namespace hoopwright
