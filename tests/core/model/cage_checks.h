// Questions tests ask of a resolved cage.
#pragma once

#include <gtest/gtest.h>

#include <algorithm>
#include <string>

#include "core/model/cage_geometry.h"

namespace hoopwright::testing {

inline std::string allTexts(const CageGeometry& cage) {
    std::string all;
    for (const GeometryProblem& problem : cage.problems) all += problem.text + " (" + problem.remedy + ")\n";
    return all;
}

inline constexpr double kExact_mm = 1e-6;

inline const ResolvedMember& memberOf(const CageGeometry& cage, std::string_view id) {
    const int index = cage.member(id);
    EXPECT_GE(index, 0) << id << " is not there\n" << allTexts(cage);
    static const ResolvedMember none;
    return index < 0 ? none : cage.members[static_cast<std::size_t>(index)];
}

inline bool near(const Vec3& a, const Vec3& b, double tolerance = kExact_mm) {
    return (a - b).norm() <= tolerance;
}

inline bool has(const CageGeometry& cage, GeometryProblem::Kind kind, std::string_view words) {
    return std::any_of(cage.problems.begin(), cage.problems.end(), [&](const GeometryProblem& problem) {
        return problem.kind == kind && problem.text.find(words) != std::string::npos;
    });
}

}  // namespace hoopwright::testing
