#include "core/survey/survey.h"

#include <Eigen/Eigenvalues>
#include <algorithm>
#include <cmath>
#include <map>

#include "core/base/text.h"
#include "core/survey/survey_order.h"
#include "core/survey/survey_words.h"
#include "core/survey/taped_point.h"

namespace hoopwright {
namespace {

/// Longest tape and farthest distance read [mm]: a hundred metres.
constexpr double kLongest_mm = 100'000;
/// Farther than this from the datum nothing of a car lies: a kilometre.
constexpr double kFarthest_mm = 1e6;
constexpr std::size_t kMostTapes = 12;
/// More taped points than any car has; beyond it the chain of errors would take too long.
constexpr std::size_t kMostTaped = 300;
constexpr std::size_t kMostCompared = 1000;

class Surveyor {
public:
    Surveyor(const Car& car, const LengthStyle& style) : car_(car), words_(style) {
        for (std::size_t i = 0; i < car.points.size(); ++i)
            index_.try_emplace(car.points[i].name, static_cast<int>(i));
        for (const DatumPlane& one : car.planes) planes_.try_emplace(one.name, &one);
        places_.resize(car.points.size());
    }

    Survey made() {
        checkPlanes();
        std::vector<std::vector<int>> datums(car_.points.size());
        good_.assign(car_.points.size(), true);
        std::size_t taped = 0;
        for (std::size_t i = 0; i < car_.points.size(); ++i) {
            const CarPoint& point = car_.points[i];
            if (const auto* by = std::get_if<ByTapes>(&point.taken)) {
                if (++taped > kMostTaped) {
                    wrong(i, "tapes", -1,
                          point.name + " is one taped point too many: " + std::to_string(kMostTaped) +
                              " are read",
                          "give some by coordinates");
                    break;
                }
                datums[i] = datumsOf(i, *by);
            } else if (const auto* offsets = std::get_if<ByOffsets>(&point.taken)) {
                checkOffsets(i, *offsets);
            }
        }
        if (taped > kMostTaped) return std::move(out_);
        const SurveyOrder order = surveyOrder(datums);
        for (const std::vector<int>& loop : order.loops) reportLoop(loop);
        for (const int i : order.order)
            place(static_cast<std::size_t>(i), datums[static_cast<std::size_t>(i)]);
        std::ranges::sort(out_.points, {}, &SurveyedPoint::index);
        return std::move(out_);
    }

private:
    struct Placed {
        bool known = false;
        bool blind = false;    ///< its error is not known in some direction
        bool assumed = false;  ///< rests on a reading without a tolerance
        Vec3 at = Vec3::Zero();
        Influence influence;
    };

    void wrong(std::size_t i, std::string key, int item, std::string what, std::string remedy) {
        SurveyProblem problem;
        problem.index = static_cast<int>(i);
        problem.key = std::move(key);
        problem.item = item;
        problem.what = std::move(what);
        problem.remedy = std::move(remedy);
        out_.problems.push_back(std::move(problem));
        good_[i] = false;
    }

    std::string meant(const std::string& word, bool plane) const {
        std::vector<std::string> known;
        if (std::max(car_.points.size(), car_.planes.size()) > kMostCompared || out_.problems.size() > 200)
            return "name one of the car's";
        if (plane) {
            known.emplace_back(kDoorEdge);
            for (const DatumPlane& one : car_.planes) known.push_back(one.name);
        } else {
            for (const CarPoint& one : car_.points) known.push_back(one.name);
        }
        const std::string near = didYouMean(word, known);
        if (!near.empty()) return "did you mean '" + near + "'?";
        return plane ? "name it under planes, with its x" : "measure it, or name a point of the car";
    }

    void checkPlanes() {
        for (std::size_t i = 0; i < car_.planes.size(); ++i) {
            if (car_.planes[i].name != kDoorEdge) continue;
            SurveyProblem problem;
            problem.part = SurveyProblem::Part::plane;
            problem.index = static_cast<int>(i);
            problem.key = "name";
            problem.what = "the plane door_edge is x = 0 and every car has it already";
            problem.remedy = "give this one another name";
            out_.problems.push_back(std::move(problem));
        }
    }

    const DatumPlane* plane(const std::string& name) const {
        const auto found = planes_.find(name);
        return found == planes_.end() ? nullptr : found->second;
    }

    void checkOffsets(std::size_t i, const ByOffsets& by) {
        const CarPoint& point = car_.points[i];
        const bool named = otherSide(point.name) != point.name;
        if (by.plane != kDoorEdge && !plane(by.plane)) {
            wrong(i, "offsets", -1,
                  point.name + " is squared off from '" + by.plane + "', which is no plane of this car",
                  meant(by.plane, true));
        }
        if (!named && by.toward == ByOffsets::Toward::by_name && by.out_mm != 0) {
            wrong(i, "offsets", -1,
                  point.name + " lies " + words_.length(by.out_mm) +
                      " out from the centreline, and to which side is not said",
                  "add toward: left or right, or end its name in .left or .right");
        }
        if (named && by.toward != ByOffsets::Toward::by_name) {
            wrong(i, "offsets", -1, point.name + " says its side twice",
                  "leave toward out; the name says it");
        }
        const DatumPlane* from = plane(by.plane);
        for (const double mm :
             {by.height_mm, by.out_mm, by.ahead_mm, car_.ground_z_mm, from ? from->x_mm : 0}) {
            if (std::abs(mm) <= kFarthest_mm) continue;
            wrong(i, "offsets", -1, point.name + " lies more than a kilometre off",
                  "check the unit of its offsets");
            return;
        }
        if (by.out_mm < 0) {
            wrong(i, "offsets", -1,
                  point.name + " lies " + words_.length(by.out_mm) + " out, less than nothing",
                  "write how far out from the centreline, 0 or more; the side is said apart");
        }
    }

    /// The points it is taped from; its problems are then reported.
    std::vector<int> datumsOf(std::size_t i, const ByTapes& by) {
        const CarPoint& point = car_.points[i];
        if (by.tapes.size() < 3) {
            wrong(i, "tapes", -1,
                  point.name + " has " + countWord(by.tapes.size()) +
                      (by.tapes.size() == 1 ? " tape" : " tapes") + "; three are the least",
                  "tape it from three known points, better four");
            return {};
        }
        if (by.tapes.size() > kMostTapes) {
            wrong(i, "tapes", static_cast<int>(kMostTapes),
                  point.name + " has " + std::to_string(by.tapes.size()) + " tapes; at most " +
                      std::to_string(kMostTapes) + " are read",
                  "keep the best");
            return {};
        }
        std::vector<int> out;
        for (std::size_t k = 0; k < by.tapes.size(); ++k) {
            const Tape& tape = by.tapes[k];
            const auto item = static_cast<int>(k);
            const auto found = index_.find(tape.from);
            if (tape.from == point.name) {
                wrong(i, "tapes", item, point.name + " is taped from itself",
                      "name the point the tape is hooked on");
            } else if (found == index_.end()) {
                wrong(i, "tapes", item,
                      point.name + " is taped from '" + tape.from + "', which is no point of this car",
                      meant(tape.from, false));
            } else if (std::ranges::find(out, found->second) != out.end()) {
                wrong(i, "tapes", item, point.name + " is taped from " + tape.from + " twice",
                      "keep one of the two, or write their mean");
            } else {
                out.push_back(found->second);
            }
            if (!(tape.length_mm > 0)) {
                wrong(i, "tapes", item,
                      point.name + ": the tape from " + tape.from + " is " + words_.length(tape.length_mm) +
                          " long",
                      "write the length read on the tape, more than 0");
            } else if (tape.length_mm > kLongest_mm) {
                wrong(i, "tapes", item, point.name + ": the tape from " + tape.from + " is longer than 100 m",
                      "check its unit");
            }
        }
        return good_[i] ? out : std::vector<int>{};
    }

    void reportLoop(const std::vector<int>& loop) {
        const auto first = static_cast<std::size_t>(*std::ranges::min_element(loop));
        std::vector<std::string> names;
        const auto start = std::ranges::find(loop, static_cast<int>(first));
        for (std::size_t k = 0; k < loop.size() && k < 8; ++k) {
            const std::size_t at = (static_cast<std::size_t>(start - loop.begin()) + k) % loop.size();
            names.push_back(car_.points[static_cast<std::size_t>(loop[at])].name);
        }
        std::string ring = names.front() + " is taped from ";
        for (std::size_t k = 1; k < names.size(); ++k) ring += names[k] + ", which is taped from ";
        ring += loop.size() > names.size() ? "others, and so on back to " + names.front() : names.front();
        wrong(first, "tapes", -1, ring, "measure one of them by other means");
    }

    int newReading() { return readings_++; }

    void place(std::size_t i, const std::vector<int>& datums) {
        if (!good_[i]) return;
        const CarPoint& point = car_.points[i];
        SurveyedPoint out;
        out.name = point.name;
        out.index = static_cast<int>(i);
        Placed& placed = places_[i];
        if (const auto* by = std::get_if<ByTapes>(&point.taken)) {
            if (!placeByTapes(i, *by, datums, out)) return;
        } else {
            placeByAxes(point, placed);
            out.covariance_mm2 = covarianceOf(placed.influence);
            if (const auto* offsets = std::get_if<ByOffsets>(&point.taken))
                placed.at = atOffsets(point, *offsets);
        }
        placed.known = true;
        if (std::holds_alternative<ByTapes>(point.taken)) placed.at = out.at;
        out.at = placed.at;
        out.tolerance_assumed = placed.assumed;
        out_.points.push_back(std::move(out));
    }

    /// Three readings, one along each axis.
    void placeByAxes(const CarPoint& point, Placed& placed) {
        const double tolerance = point.tolerance_mm > 0 ? point.tolerance_mm : kUnstatedTolerance_mm;
        placed.assumed = !(point.tolerance_mm > 0);
        placed.at = point.at;
        for (int axis = 0; axis < 3; ++axis)
            placed.influence[newReading()] = Vec3::Unit(axis) * (tolerance / 2);
        const auto* by = std::get_if<ByOffsets>(&point.taken);
        const DatumPlane* from = by ? plane(by->plane) : nullptr;
        if (!from) return;
        const auto [known, is_new] = plane_reading_.try_emplace(from->name, -1);
        if (is_new) known->second = newReading();
        const double off = from->tolerance_mm > 0 ? from->tolerance_mm : kUnstatedTolerance_mm;
        placed.assumed |= !(from->tolerance_mm > 0);
        placed.influence[known->second] = Vec3::UnitX() * (off / 2);
    }

    Vec3 atOffsets(const CarPoint& point, const ByOffsets& by) const {
        const DatumPlane* from = plane(by.plane);
        const bool right = by.toward == ByOffsets::Toward::right ||
                           (by.toward == ByOffsets::Toward::by_name && point.name.ends_with(".right"));
        const double y = right ? -by.out_mm : by.out_mm;
        const double floor_z = by.from == ByOffsets::From::ground ? car_.ground_z_mm : 0;
        return {(from ? from->x_mm : 0) + by.ahead_mm, y, floor_z + by.height_mm};
    }

    bool placeByTapes(std::size_t i, const ByTapes& by, const std::vector<int>& datums, SurveyedPoint& out) {
        const CarPoint& point = car_.points[i];
        Placed& placed = places_[i];
        std::vector<Datum> from;
        for (const int datum : datums) {
            const Placed& there = places_[static_cast<std::size_t>(datum)];
            if (!there.known) return false;  // its own problem is reported
            if (!(there.at.cwiseAbs().maxCoeff() <= kFarthest_mm)) {
                const std::string& datum_name = car_.points[static_cast<std::size_t>(datum)].name;
                wrong(i, "tapes", -1,
                      point.name + " is taped from " + datum_name + ", more than a kilometre off",
                      "check where " + datum_name + " is");
                return false;
            }
            from.push_back({there.at, there.blind ? nullptr : &there.influence});
            placed.assumed |= there.assumed;
        }
        for (const Tape& tape : by.tapes)
            placed.assumed |= !(tape.tolerance_mm > 0) && !(point.tolerance_mm > 0);
        const int first_reading = readings_;
        readings_ += static_cast<int>(by.tapes.size());
        SurveyProblem problem;
        problem.index = static_cast<int>(i);
        if (!TapedPoint(point, std::move(from), words_)
                 .place(out, placed.influence, first_reading, problem)) {
            out_.problems.push_back(std::move(problem));
            return false;
        }
        placed.blind = !out.covariance_mm2;
        return true;
    }

    const Car& car_;
    SurveyWords words_;
    std::map<std::string, int, std::less<>> index_;
    std::map<std::string, const DatumPlane*, std::less<>> planes_;
    std::vector<bool> good_;
    std::vector<Placed> places_;
    std::map<std::string, int> plane_reading_;
    int readings_ = 0;
    Survey out_;
};

}  // namespace

std::optional<Vec3> SurveyedPoint::standardError_mm() const {
    if (!covariance_mm2) return std::nullopt;
    return Vec3(covariance_mm2->diagonal().cwiseMax(0).cwiseSqrt());
}

std::optional<double> SurveyedPoint::goodTo_mm() const {
    if (!covariance_mm2) return std::nullopt;
    const Eigen::SelfAdjointEigenSolver<Eigen::Matrix3d> eigen(*covariance_mm2, Eigen::EigenvaluesOnly);
    return 2 * std::sqrt(std::max(0.0, eigen.eigenvalues()[2]));
}

const SurveyedPoint* Survey::point(std::string_view called) const {
    const auto found = std::ranges::find(points, called, &SurveyedPoint::name);
    return found == points.end() ? nullptr : &*found;
}

Survey survey(const Car& car, const LengthStyle& style) {
    return Surveyor(car, style).made();
}

std::string takenWords(const CarPoint& point) {
    if (const auto* by = std::get_if<ByTapes>(&point.taken))
        return "by " + countWord(by->tapes.size()) + (by->tapes.size() == 1 ? " tape" : " tapes");
    return std::holds_alternative<ByOffsets>(point.taken) ? "by offsets" : "by coordinates";
}

std::string_view liesWord(ByTapes::Lies lies) {
    switch (lies) {
        case ByTapes::Lies::inboard:
            return "inboard";
        case ByTapes::Lies::outboard:
            return "outboard";
        case ByTapes::Lies::above:
            return "above";
        case ByTapes::Lies::below:
            return "below";
        case ByTapes::Lies::ahead:
            return "ahead";
        case ByTapes::Lies::behind:
            return "behind";
        case ByTapes::Lies::not_said:
            break;
    }
    return "";
}

}  // namespace hoopwright
