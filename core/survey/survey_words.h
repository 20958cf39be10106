// The sentences of a survey.
#pragma once

#include <string>
#include <vector>

#include "core/model/car.h"

namespace hoopwright {

class SurveyWords {
public:
    explicit SurveyWords(const LengthStyle& style) : style_(style) {}
    std::string length(double mm) const { return showLength(mm, style_); }
    /// "14.0 mm long", "9.2 mm short".
    std::string longOrShort(double by_mm) const;
    std::string place(const Vec3& at) const;

private:
    LengthStyle style_;
};

/// "three", "12".
std::string countWord(std::size_t n);
/// "a, b and c".
std::string listedAnd(const std::vector<std::string>& words);

}  // namespace hoopwright
