// Where the points of a car are, however they were measured, and how far each can be trusted.
//
// A tolerance is what a reading is good to, in plain shop words; it is taken as two standard deviations (the
// usual coverage factor 2, about 95 % of readings; JCGM 100:2008, 6.3.3, from memory). A reading without one
// is taken to be good to kUnstatedTolerance_mm.
#pragma once

#include <Eigen/Core>
#include <optional>
#include <string>
#include <vector>

#include "core/base/problem.h"
#include "core/model/car.h"

namespace hoopwright {

/// A tape or a square read with care (common practice, no source).
inline constexpr double kUnstatedTolerance_mm = 3;
/// A tape that misses by more than this many of its own standard deviations disagrees.
inline constexpr double kDisagrees = 3;

/// What one tape says against where the point came out.
struct TapeResult {
    std::string from;
    double length_mm = 0;     ///< as read
    double tolerance_mm = 0;  ///< stated for it, or for the point, or kUnstatedTolerance_mm
    double residual_mm = 0;   ///< read less true distance: positive, the tape is long
    /// Four tapes or more: read less what the others alone lead to. Not there where they lead nowhere.
    std::optional<double> against_others_mm;
    /// The same over its standard deviation; beyond kDisagrees it cannot be chance.
    double times_sigma = 0;
};

/// One point as measured.
struct SurveyedPoint {
    std::string name;
    int index = -1;  ///< in Car::points
    Vec3 at = Vec3::Zero();
    bool tolerance_assumed = false;  ///< a reading it rests on states none
    /// Of x, y, z against the datum, from every reading it rests on and those of its datums [mm2]. Not there
    /// where the tapes are blind in some direction.
    std::optional<Eigen::Matrix3d> covariance_mm2;
    std::vector<TapeResult> tapes;    ///< only of a taped point
    std::optional<Vec3> other_place;  ///< the mirror place that was not meant
    /// What to look at again, a sentence each; empty is no promise where only three tapes were taken.
    std::vector<std::string> doubts;
    /// What the readings can and cannot show, when there is nothing to doubt: "three tapes: ...".
    std::string remark;

    /// One standard deviation of each coordinate [mm].
    std::optional<Vec3> standardError_mm() const;
    /// What the point is good to: twice its error in its worst direction [mm].
    std::optional<double> goodTo_mm() const;
};

/// What keeps a reading from being used, and which one it is.
struct SurveyProblem {
    enum class Part { point, plane, line, rail };
    Part part = Part::point;
    int index = -1;    ///< in Car::points, planes, lines or rails
    std::string key;   ///< the key of the file concerned: "tapes", "offsets", "points"; may be empty
    int item = -1;     ///< which tape of it, or which corner of the line; -1: none
    std::string what;  ///< a sentence: "b_pillar_top.left is taped from itself"
    std::string remedy;
};

struct Survey {
    std::vector<SurveyedPoint> points;  ///< those that could be placed, in the car's order
    std::vector<SurveyProblem> problems;
    const SurveyedPoint* point(std::string_view called) const;
};

/// Places every point from its readings, in whatever order they were given; lengths in sentences as `style`
/// has them. Reads no CarPoint::at but of points by coordinates.
Survey survey(const Car& car, const LengthStyle& style = {});

/// Puts CarPoint::at, and the corners of lines and rails that follow a point, where the readings say. With
/// any problem the car stays as it was. This is the one place that does it: files call it when a car is read,
/// the window when one is edited.
std::vector<SurveyProblem> settle(Car& car, const LengthStyle& style = {});

/// "by coordinates", "by offsets", "by 4 tapes".
std::string takenWords(const CarPoint& point);
/// The word of a file for a place: "above"; "" for not said.
std::string_view liesWord(ByTapes::Lies lies);

/// Calls a point something else, in every tape and line that names it. @pre no point is called `to`
void renamePoint(Car& car, const std::string& from, const std::string& to);
/// Takes a point out; what was taped from it or hung on it stays where it is, by coordinates.
void removePoint(Car& car, const std::string& name);

}  // namespace hoopwright
