#include "core/survey/survey_words.h"

#include <array>
#include <cmath>

namespace hoopwright {

std::string SurveyWords::longOrShort(double by_mm) const {
    return length(std::abs(by_mm)) + (by_mm >= 0 ? " long" : " short");
}

std::string SurveyWords::place(const Vec3& at) const {
    LengthStyle plain = style_;
    plain.with_unit = false;
    plain.fraction = 0;
    return "[" + showLength(at.x(), plain) + ", " + showLength(at.y(), plain) + ", " +
           showLength(at.z(), plain) + "]";
}

std::string countWord(std::size_t n) {
    static constexpr std::array<const char*, 10> kWords = {"no",   "one", "two",   "three", "four",
                                                           "five", "six", "seven", "eight", "nine"};
    return n < kWords.size() ? kWords[n] : std::to_string(n);
}

std::string listedAnd(const std::vector<std::string>& words) {
    std::string out;
    for (std::size_t i = 0; i < words.size(); ++i) {
        const bool last = i + 1 == words.size();
        out += (i == 0 ? "" : last ? " and " : ", ") + words[i];
    }
    return out;
}

}  // namespace hoopwright
