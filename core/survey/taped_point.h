// One taped point: where its tapes meet, which of the two places is meant, which tape disagrees.
#pragma once

#include <array>
#include <string>
#include <vector>

#include "core/survey/influence.h"
#include "core/survey/survey.h"
#include "core/survey/survey_words.h"
#include "core/survey/tape_fit.h"

namespace hoopwright {

/// A datum as it came out.
struct Datum {
    Vec3 at = Vec3::Zero();
    const Influence* influence = nullptr;  ///< null: the tapes that placed it are blind in some direction
};

class TapedPoint {
public:
    /// @param datums one per tape, in the tapes' order
    TapedPoint(const CarPoint& point, std::vector<Datum> datums, const SurveyWords& words);

    /// Fills `out` and the influence. @param first_reading the number of its first tape among all readings
    /// Returns false after having filled `problem`.
    bool place(SurveyedPoint& out, Influence& influence, int first_reading, SurveyProblem& problem);

private:
    bool datumsInLine(SurveyProblem& problem) const;
    bool cannotMeet(SurveyProblem& problem) const;
    bool threeMissOneAnother(const TapePlace& best, SurveyProblem& problem) const;
    /// Index into places_, or -1 after a problem.
    int meantPlace(SurveyedPoint& out, SurveyProblem& problem) const;
    int byWord(const std::array<int, 2>& candidates, SurveyProblem& problem) const;
    void againstOthers(SurveyedPoint& out) const;
    void judge(SurveyedPoint& out) const;
    std::string sentenceOf(const TapeResult& tape) const;
    /// Variance of a tape against a place that hangs on the readings in `place`.
    double misfitVariance(std::size_t tape, const Vec3& at, const Influence& place) const;
    Influence influenceOf(const TapePlace& place, const std::vector<std::size_t>& tapes,
                          int first_reading) const;

    const CarPoint& point_;
    const ByTapes& taken_;
    std::vector<Datum> datums_;
    const SurveyWords& words_;
    std::vector<double> tape_sigma_mm_;  ///< of the reading alone
    std::vector<TapeEnd> ends_;          ///< sigma with the datum's own error along the tape
    std::vector<TapePlace> places_;
    std::vector<double> rest_misfit_;
};

/// Tolerance of a reading: its own, or the point's, or the usual one.
double toleranceOf(const CarPoint& point, const Tape& tape);

}  // namespace hoopwright
