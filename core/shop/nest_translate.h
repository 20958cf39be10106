// From what is asked to whole numbers, and the way back. Used by nest().
#pragma once

#include <vector>

#include "core/shop/nest.h"
#include "core/shop/nest_problem.h"

namespace hoopwright::nesting {

// A saw does not know a micrometre; without it, inch sizes that fill a stick exactly would not fit.
inline constexpr double kFits_mm = 1e-3;

struct Translated {
    CutProblem problem;
    std::vector<std::vector<int>> pieces_of_kind;
    std::vector<int> asked_stick;                  ///< for each stick of the problem that is bought
    std::vector<std::vector<int>> owned_of_stick;  ///< for each stick of the problem
    std::vector<ApartBits> lists_of_piece;         ///< as asked
    NestPlan::Least least = NestPlan::Least::sticks;
    std::size_t different = 0;
    bool heats_repeat = false;  ///< owned sticks are barred only because another is of the same heat

    std::int64_t length(double piece_mm) const;
    std::int64_t room(double stick_mm) const;
    ApartBits barred(int owned) const;
    void letHeatsRepeat();

    double kerf_mm = 0;
    KerfAt kerf_at = KerfAt::between_pieces;
    std::vector<ApartBits> barred_owned;
    std::vector<ApartBits> barred_unknown;  ///< of them those whose heat is not known
};

/// @pre what nest() looks at first is right
Translated translate(const std::vector<Piece1d>& pieces, const NestWish& wish);

}  // namespace hoopwright::nesting
