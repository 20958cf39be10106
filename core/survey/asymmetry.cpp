#include "core/survey/asymmetry.h"

#include <algorithm>
#include <cmath>

namespace hoopwright {
namespace {

struct Pair {
    std::string name;
    const SurveyedPoint* left = nullptr;
    const SurveyedPoint* right = nullptr;
};

std::optional<double> together(std::initializer_list<const SurveyedPoint*> points) {
    double square = 0;
    for (const SurveyedPoint* point : points) {
        const std::optional<double> good = point->goodTo_mm();
        if (!good) return std::nullopt;
        square += *good * *good;
    }
    return std::sqrt(square);
}

Evenness judged(double differs_mm, const std::optional<double>& tolerance_mm) {
    if (!tolerance_mm) return Evenness::cannot_tell;
    return std::abs(differs_mm) <= *tolerance_mm ? Evenness::within : Evenness::beyond;
}

std::vector<TapePair> tapePairs(const SurveyedPoint& left, const SurveyedPoint& right) {
    std::vector<TapePair> out;
    for (const TapeResult& tape : left.tapes) {
        const auto other = std::ranges::find(right.tapes, otherSide(tape.from), &TapeResult::from);
        if (other != right.tapes.end()) out.push_back({tape.from, tape.length_mm, other->length_mm});
    }
    return out;
}

Asymmetry compared(const Pair& pair) {
    Asymmetry out;
    out.name = pair.name;
    const Vec3 &left = pair.left->at, &right = pair.right->at;
    out.differs_mm = left - mirrored(right);
    out.apart_mm = out.differs_mm.norm();
    out.tapes = tapePairs(*pair.left, *pair.right);
    out.tolerance_mm = together({pair.left, pair.right});
    out.evenness = judged(out.apart_mm, out.tolerance_mm);
    return out;
}

Diagonal crossed(const Pair& a, const Pair& b) {
    Diagonal out;
    out.first = a.name;
    out.second = b.name;
    out.left_to_right_mm = (a.left->at - b.right->at).norm();
    out.right_to_left_mm = (a.right->at - b.left->at).norm();
    out.tolerance_mm = together({a.left, a.right, b.left, b.right});
    out.evenness = judged(out.differs_mm(), out.tolerance_mm);
    return out;
}

}  // namespace

AsymmetryTable asymmetry(const Car& car, const Survey& survey) {
    AsymmetryTable out;
    std::vector<Pair> pairs;
    for (const CarPoint& point : car.points) {
        const std::string other = otherSide(point.name);
        if (other == point.name) continue;
        if (!car.point(other)) {
            out.one_side.push_back(point.name);
            continue;
        }
        const bool is_left = point.name.ends_with(".left");
        const SurveyedPoint *here = survey.point(point.name), *there = survey.point(other);
        if (!is_left || !here || !there) continue;
        pairs.push_back(
            {point.name.substr(0, point.name.size() - std::string_view(".left").size()), here, there});
    }
    for (const Pair& pair : pairs) out.pairs.push_back(compared(pair));
    for (std::size_t i = 1; i < pairs.size(); ++i) out.diagonals.push_back(crossed(pairs[i - 1], pairs[i]));
    return out;
}

}  // namespace hoopwright
