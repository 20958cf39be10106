#include "core/survey/taped_point.h"

#include <algorithm>
#include <cmath>
#include <functional>
#include <numeric>

namespace hoopwright {
namespace {

/// Two places nearer than this need not be told apart.
constexpr double kSame_mm = 2;

double sidewaysOf(ByTapes::Lies lies, const Vec3& at) {
    switch (lies) {
        case ByTapes::Lies::inboard:
            return -std::abs(at.y());
        case ByTapes::Lies::outboard:
            return std::abs(at.y());
        case ByTapes::Lies::above:
            return at.z();
        case ByTapes::Lies::below:
            return -at.z();
        case ByTapes::Lies::ahead:
            return at.x();
        case ByTapes::Lies::behind:
            return -at.x();
        case ByTapes::Lies::not_said:
            break;
    }
    return 0;
}

/// The pair of words that tells two places apart best.
std::string tellingWords(const Vec3& a, const Vec3& b) {
    const double x = std::abs(a.x() - b.x()), y = std::abs(std::abs(a.y()) - std::abs(b.y())),
                 z = std::abs(a.z() - b.z());
    if (z >= x && z >= y && z > kSame_mm) return "lies: above or below";
    if (y >= x && y > kSame_mm) return "lies: inboard or outboard";
    if (x > kSame_mm) return "lies: ahead or behind";
    return "near: [x, y, z], a rough place";
}

Vec3 unitFrom(const Vec3& from, const Vec3& to) {
    const double length = (to - from).norm();
    return length > 0 ? Vec3((to - from) / length) : Vec3(Vec3::Zero());
}

/// Greatest misfit chance gives so many spare tapes: chi squared at three standard deviations. Source: E. B.
/// Wilson and M. M. Hilferty, "The distribution of chi-square", Proc. Natl. Acad. Sci. 17 (1931) 684-688
/// (from memory).
double usualMisfit(std::size_t spare) {
    const auto k = static_cast<double>(spare);
    return k * std::pow(1 - 2 / (9 * k) + kDisagrees * std::sqrt(2 / (9 * k)), 3);
}

}  // namespace

double toleranceOf(const CarPoint& point, const Tape& tape) {
    if (tape.tolerance_mm > 0) return tape.tolerance_mm;
    return point.tolerance_mm > 0 ? point.tolerance_mm : kUnstatedTolerance_mm;
}

TapedPoint::TapedPoint(const CarPoint& point, std::vector<Datum> datums, const SurveyWords& words)
    : point_(point), taken_(std::get<ByTapes>(point.taken)), datums_(std::move(datums)), words_(words) {
    for (std::size_t i = 0; i < taken_.tapes.size(); ++i) {
        const Tape& tape = taken_.tapes[i];
        tape_sigma_mm_.push_back(toleranceOf(point, tape) / 2);
        ends_.push_back({datums_[i].at, tape.length_mm, tape_sigma_mm_.back()});
    }
}

bool TapedPoint::datumsInLine(SurveyProblem& problem) const {
    std::vector<Vec3> at;
    double loosest = 0;
    std::vector<std::string> names;
    for (std::size_t i = 0; i < datums_.size(); ++i) {
        at.push_back(datums_[i].at);
        loosest = std::max(loosest, 2 * tape_sigma_mm_[i]);
        names.push_back(taken_.tapes[i].from);
    }
    double longest = 0;
    for (const Vec3& p : at) longest = std::max(longest, (p - at.front()).norm());
    const double width = widthAcrossLine(at);
    if (width > std::max(3 * loosest, 0.01 * longest)) return false;
    problem.what = point_.name + " is taped from " + listedAnd(names) + ", which stand in a line to within " +
                   words_.length(width) + ": no tape tells where round that line it is";
    problem.remedy = "take one of the tapes from a point well off the line";
    return true;
}

bool TapedPoint::cannotMeet(SurveyProblem& problem) const {
    for (std::size_t i = 0; i < ends_.size(); ++i) {
        for (std::size_t j = i + 1; j < ends_.size(); ++j) {
            const double apart = (ends_[i].from - ends_[j].from).norm();
            const double slack = kDisagrees * std::hypot(ends_[i].sigma_mm, ends_[j].sigma_mm);
            const double lacking = apart - ends_[i].length_mm - ends_[j].length_mm;
            const double over = std::abs(ends_[i].length_mm - ends_[j].length_mm) - apart;
            const std::string& a = taken_.tapes[i].from;
            const std::string& b = taken_.tapes[j].from;
            problem.item = static_cast<int>(j);
            if (lacking > slack) {
                problem.what = point_.name + ": the tapes from " + a + " and " + b +
                               " cannot meet: the two are " + words_.length(apart) +
                               " apart and the tapes reach " +
                               words_.length(ends_[i].length_mm + ends_[j].length_mm) + ", " +
                               words_.length(lacking) + " too little";
            } else if (over > slack) {
                const bool first = ends_[i].length_mm > ends_[j].length_mm;
                problem.what = point_.name + ": the tapes from " + a + " and " + b +
                               " cannot meet: that from " + (first ? a : b) + " is " +
                               words_.length(std::abs(ends_[i].length_mm - ends_[j].length_mm)) +
                               " the longer and the two are only " + words_.length(apart) + " apart, " +
                               words_.length(over) + " too little";
            } else {
                continue;
            }
            problem.remedy = "measure both again";
            return true;
        }
    }
    problem.item = -1;
    return false;
}

bool TapedPoint::threeMissOneAnother(const TapePlace& best, SurveyProblem& problem) const {
    double worst = 0;
    std::vector<std::string> misses;
    for (std::size_t i = 0; i < ends_.size(); ++i) {
        const double residual = ends_[i].length_mm - (best.at - ends_[i].from).norm();
        worst = std::max(worst, std::abs(residual) / ends_[i].sigma_mm);
        misses.push_back("that from " + taken_.tapes[i].from + " is " + words_.longOrShort(residual));
    }
    if (worst <= kDisagrees) return false;
    problem.what =
        point_.name + ": its three tapes cannot meet: where they come nearest, " + listedAnd(misses);
    problem.remedy = "measure them again; a fourth tape would tell which is wrong";
    return true;
}

int TapedPoint::byWord(const std::array<int, 2>& candidates, SurveyProblem& problem) const {
    const auto at = [&](int k) -> const Vec3& { return places_[static_cast<std::size_t>(k)].at; };
    const Vec3 &a = at(candidates[0]), &b = at(candidates[1]);
    if (taken_.near) {
        return (a - *taken_.near).norm() <= (b - *taken_.near).norm() ? candidates[0] : candidates[1];
    }
    if ((a - b).norm() <= kSame_mm) return candidates[0];
    if (taken_.lies == ByTapes::Lies::not_said) {
        problem.what =
            point_.name + ": its tapes meet in two places, " + words_.place(a) + " and " + words_.place(b);
        problem.remedy = "say which with " + tellingWords(a, b);
        return -1;
    }
    const double of_a = sidewaysOf(taken_.lies, a), of_b = sidewaysOf(taken_.lies, b);
    if (std::abs(of_a - of_b) <= kSame_mm) {
        problem.key = "lies";
        problem.what = point_.name + ": its tapes meet in two places, " + words_.place(a) + " and " +
                       words_.place(b) + ", of which neither lies " + std::string(liesWord(taken_.lies)) +
                       " the other";
        if (taken_.lies == ByTapes::Lies::inboard || taken_.lies == ByTapes::Lies::outboard) {
            problem.what = point_.name + ": its tapes meet in two places, " + words_.place(a) + " and " +
                           words_.place(b) + ", as far out as each other";
        }
        problem.remedy = "say which with " + tellingWords(a, b);
        return -1;
    }
    return of_a > of_b ? candidates[0] : candidates[1];
}

int TapedPoint::meantPlace(SurveyedPoint& out, SurveyProblem& problem) const {
    if (places_.size() == 1) return 0;
    // Who says which of two places it is stands before the car and is right, even where the tapes fit the
    // other somewhat better: datums nearly in a plane cannot tell the two apart.
    const bool told = taken_.near || taken_.lies != ByTapes::Lies::not_said;
    constexpr double kMuchWorse = kDisagrees * kDisagrees;
    const double worse = places_[1].misfit - places_[0].misfit;
    if (!told && worse > kMuchWorse) return 0;
    const int meant = byWord({0, 1}, problem);
    if (meant < 0) return -1;
    const TapePlace &other = places_[meant == 0 ? 1 : 0], &place = places_[static_cast<std::size_t>(meant)];
    if (meant == 1 && worse > kMuchWorse) {
        out.doubts.push_back("the tapes fit " + words_.place(other.at) +
                             " better, and that is not the place " +
                             (taken_.near ? std::string("meant") : std::string(liesWord(taken_.lies))) +
                             ", " + words_.place(place.at));
    }
    if (worse <= kMuchWorse || meant == 1) out.other_place = other.at;
    return meant;
}

Influence TapedPoint::influenceOf(const TapePlace& place, const std::vector<std::size_t>& tapes,
                                  int first_reading) const {
    Influence out;
    for (std::size_t k = 0; k < tapes.size(); ++k) {
        const std::size_t i = tapes[k];
        const Vec3 per_mm = place.moves->col(static_cast<Eigen::Index>(k));
        out.try_emplace(first_reading + static_cast<int>(i), Vec3::Zero()).first->second +=
            per_mm * tape_sigma_mm_[i];
        // A datum that stands off by d makes its tape as much longer as d points along it.
        const Eigen::Matrix3d through = per_mm * unitFrom(datums_[i].at, place.at).transpose();
        addInfluence(out, *datums_[i].influence, through);
    }
    return out;
}

double TapedPoint::misfitVariance(std::size_t tape, const Vec3& at, const Influence& place) const {
    const Vec3 along = unitFrom(datums_[tape].at, at);
    std::map<int, double> sum;
    for (const auto& [reading, moves] : place) sum[reading] += along.dot(moves);
    for (const auto& [reading, moves] : *datums_[tape].influence) sum[reading] -= along.dot(moves);
    double variance = tape_sigma_mm_[tape] * tape_sigma_mm_[tape];
    for (const auto& [reading, mm] : sum) variance += mm * mm;
    return variance;
}

void TapedPoint::againstOthers(SurveyedPoint& out) const {
    const bool errors_known = std::ranges::all_of(datums_, [](const Datum& one) { return one.influence; });
    for (std::size_t left_out = 0; left_out < ends_.size(); ++left_out) {
        std::vector<TapeEnd> rest;
        std::vector<std::size_t> which;
        for (std::size_t i = 0; i < ends_.size(); ++i) {
            if (i == left_out) continue;
            rest.push_back(ends_[i]);
            which.push_back(i);
        }
        const TapePlace place = fitTapes(rest, out.at);
        if (!place.moves || !place.at.allFinite()) continue;
        TapeResult& tape = out.tapes[left_out];
        tape.against_others_mm = tape.length_mm - (place.at - ends_[left_out].from).norm();
        if (!errors_known) continue;
        // Numbers of readings only tell them apart here; those of the tapes go below every other.
        const Influence influence = influenceOf(place, which, -static_cast<int>(ends_.size()));
        tape.times_sigma =
            std::abs(*tape.against_others_mm) / std::sqrt(misfitVariance(left_out, place.at, influence));
    }
}

std::string TapedPoint::sentenceOf(const TapeResult& tape) const {
    return "tape from " + tape.from + " is " + words_.longOrShort(*tape.against_others_mm) +
           " against the other " + countWord(taken_.tapes.size() - 1);
}

void TapedPoint::judge(SurveyedPoint& out) const {
    const std::size_t count = ends_.size();
    if (!out.covariance_mm2) {
        out.doubts.push_back(
            "it lies so near the plane of its datums that the tapes are blind across it: give its height by "
            "offsets, or "
            "tape from a point off that plane");
    }
    if (count == 3) {
        out.remark = "three tapes: that they meet is all they can show; a fourth would check them";
        return;
    }
    std::vector<const TapeResult*> suspects;
    for (const TapeResult& tape : out.tapes) {
        if (tape.against_others_mm && tape.times_sigma > kDisagrees) suspects.push_back(&tape);
    }
    if (suspects.empty()) {
        out.remark = countWord(count) + " tapes that agree";
        return;
    }
    // The tape without which the rest agree best is the one to name.
    std::vector<double> rest(count, HUGE_VAL);
    for (std::size_t i = 0; i < count; ++i) {
        std::vector<TapeEnd> others = ends_;
        others.erase(others.begin() + static_cast<std::ptrdiff_t>(i));
        rest[i] = fitTapes(others, out.at).misfit;
    }
    const auto restOf = [&](const TapeResult* tape) {
        return rest[static_cast<std::size_t>(tape - out.tapes.data())];
    };
    std::ranges::stable_sort(suspects, [&](const TapeResult* a, const TapeResult* b) {
        if (count > 4) return restOf(a) < restOf(b);
        return std::abs(*a->against_others_mm) < std::abs(*b->against_others_mm);
    });
    const double usual = usualMisfit(count - 4);
    std::erase_if(suspects, [&](const TapeResult* tape) { return count > 4 && restOf(tape) > usual; });
    if (suspects.empty()) {
        out.doubts.push_back(
            "the " + countWord(count) +
            " tapes disagree and leaving out any one does not mend it: measure them all again");
    } else if (suspects.size() == 1) {
        out.doubts.push_back(sentenceOf(*suspects[0]));
    } else {
        std::string either;
        for (const TapeResult* tape : suspects) either += (either.empty() ? "" : "; or ") + sentenceOf(*tape);
        out.doubts.push_back(either + (count == 4
                                           ? ": one of these; four tapes cannot tell which, a fifth would"
                                           : ": one of these; another tape would tell which"));
    }
}

bool TapedPoint::place(SurveyedPoint& out, Influence& influence, int first_reading, SurveyProblem& problem) {
    problem.key = "tapes";
    if (datumsInLine(problem)) return false;
    // A first fit shows which way each tape points; then its datum's own error along it counts too.
    const auto found = [&] {
        places_ = placesOfTapes(ends_);
        if (!places_.empty()) return true;
        problem.what = point_.name + ": no place fits its tapes";
        problem.remedy = "check the tapes and the points they start from";
        return false;
    };
    if (!found()) return false;
    for (std::size_t i = 0; i < ends_.size(); ++i) {
        if (!datums_[i].influence) continue;
        const Vec3 along = unitFrom(datums_[i].at, places_[0].at);
        double variance = tape_sigma_mm_[i] * tape_sigma_mm_[i];
        variance += along.dot(covarianceOf(*datums_[i].influence) * along);
        ends_[i].sigma_mm = std::sqrt(variance);
    }
    if (cannotMeet(problem) || !found()) return false;
    if (ends_.size() == 3 && threeMissOneAnother(places_[0], problem)) return false;
    const int meant = meantPlace(out, problem);
    if (meant < 0) return false;
    const TapePlace& place = places_[static_cast<std::size_t>(meant)];
    out.at = place.at;
    for (std::size_t i = 0; i < ends_.size(); ++i) {
        const Tape& tape = taken_.tapes[i];
        TapeResult result;
        result.from = tape.from;
        result.length_mm = tape.length_mm;
        result.tolerance_mm = toleranceOf(point_, tape);
        result.residual_mm = tape.length_mm - (place.at - ends_[i].from).norm();
        out.tapes.push_back(result);
    }
    const bool errors_known = std::ranges::all_of(datums_, [](const Datum& one) { return one.influence; });
    if (place.moves && errors_known) {
        std::vector<std::size_t> all(ends_.size());
        std::iota(all.begin(), all.end(), std::size_t{0});
        influence = influenceOf(place, all, first_reading);
        out.covariance_mm2 = covarianceOf(influence);
    }
    if (ends_.size() > 3) againstOthers(out);
    judge(out);
    return true;
}

}  // namespace hoopwright
