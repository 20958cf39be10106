// How left and right differ. A shell is not symmetric until it has been measured to be.
#pragma once

#include <optional>
#include <string>
#include <vector>

#include "core/survey/survey.h"

namespace hoopwright {

/// Is a difference more than the readings' tolerances explain?
enum class Evenness { within, beyond, cannot_tell };

/// The same tape on both sides.
struct TapePair {
    std::string from;  ///< the left tape's datum
    double left_mm = 0, right_mm = 0;
    double differs_mm() const { return left_mm - right_mm; }
};

/// Left against right, mirrored, of one pair of points.
struct Asymmetry {
    std::string name;                ///< without its side
    Vec3 differs_mm = Vec3::Zero();  ///< left less right: how much farther ahead, farther out, higher
    double apart_mm = 0;             ///< from the left point to the right one mirrored, as a tape would read
    std::vector<TapePair> tapes;     ///< where both were taped from the same or from mirrored points
    std::optional<double> tolerance_mm;         ///< what the two are good to together
    Evenness evenness = Evenness::cannot_tell;  ///< of apart_mm
};

/// Two tapes crossed from side to side; equal where the shell is square.
struct Diagonal {
    std::string first, second;  ///< the two pairs
    double left_to_right_mm = 0, right_to_left_mm = 0;
    std::optional<double> tolerance_mm;
    Evenness evenness = Evenness::cannot_tell;
    double differs_mm() const { return left_to_right_mm - right_to_left_mm; }
};

struct AsymmetryTable {
    std::vector<Asymmetry> pairs;       ///< in the car's order
    std::vector<Diagonal> diagonals;    ///< of each pair with the next
    std::vector<std::string> one_side;  ///< points with a side whose other side was not measured
};
AsymmetryTable asymmetry(const Car& car, const Survey& survey);

}  // namespace hoopwright
