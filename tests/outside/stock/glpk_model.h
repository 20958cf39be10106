// Cutting stock written as an assignment problem and solved by GLPK's branch and bound.
#pragma once

#ifdef HOOPWRIGHT_HAVE_GLPK
#include <glpk.h>
#include <gtest/gtest.h>

#include <utility>
#include <vector>

#include "core/shop/nest.h"

namespace hoopwright {

/// One row or column at a time; GLPK counts from 1.
class Model {
public:
    Model() : lp_(glp_create_prob()) { glp_set_obj_dir(lp_, GLP_MIN); }
    ~Model() { glp_delete_prob(lp_); }
    Model(const Model&) = delete;
    Model& operator=(const Model&) = delete;
    int yesOrNo(double cost) {
        const int column = glp_add_cols(lp_, 1);
        glp_set_col_kind(lp_, column, GLP_BV);
        glp_set_obj_coef(lp_, column, cost);
        return column;
    }
    void atMost(const std::vector<std::pair<int, double>>& terms, double bound) { row(terms, GLP_UP, bound); }
    void exactly(const std::vector<std::pair<int, double>>& terms, double bound) {
        row(terms, GLP_FX, bound);
    }
    double least() {
        glp_iocp how;
        glp_init_iocp(&how);
        how.presolve = GLP_ON;
        how.msg_lev = GLP_MSG_OFF;
        EXPECT_EQ(glp_intopt(lp_, &how), 0);
        EXPECT_EQ(glp_mip_status(lp_), GLP_OPT);
        return glp_mip_obj_val(lp_);
    }

private:
    void row(const std::vector<std::pair<int, double>>& terms, int kind, double bound) {
        const int index = glp_add_rows(lp_, 1);
        glp_set_row_bnds(lp_, index, kind, bound, bound);
        std::vector<int> columns{0};
        std::vector<double> values{0};
        for (const auto& [column, value] : terms) {
            columns.push_back(column);
            values.push_back(value);
        }
        glp_set_mat_row(lp_, index, static_cast<int>(terms.size()), columns.data(), values.data());
    }
    glp_prob* lp_;
};

/// Least cost: each piece in one bin, each bin one stick or none; or in an owned stick, for nothing.
inline double leastCost(const std::vector<Piece1d>& pieces, const std::vector<StickLength>& sticks,
                        const std::vector<double>& cost, double kerf_mm, std::size_t bins,
                        const std::vector<OwnedStick>& owned = {}, KerfAt kerf_at = KerfAt::between_pieces) {
    const double behind = kerf_at == KerfAt::between_pieces ? kerf_mm : 0;
    Model model;
    std::vector<std::vector<std::pair<int, double>>> in_one(pieces.size());
    for (std::size_t b = 0; b < bins; ++b) {
        std::vector<std::pair<int, double>> room, one_stick;
        for (std::size_t j = 0; j < sticks.size(); ++j) {
            const int chosen = model.yesOrNo(cost[j]);
            room.emplace_back(chosen, -(sticks[j].length_mm + behind));
            one_stick.emplace_back(chosen, 1);
        }
        for (std::size_t i = 0; i < pieces.size(); ++i) {
            const int here = model.yesOrNo(0);
            room.emplace_back(here, pieces[i].length_mm + kerf_mm);
            in_one[i].emplace_back(here, 1);
        }
        model.atMost(room, 0);
        model.atMost(one_stick, 1);
    }
    for (const OwnedStick& stick : owned) {
        std::vector<std::pair<int, double>> room;
        for (std::size_t i = 0; i < pieces.size(); ++i) {
            const int here = model.yesOrNo(0);
            room.emplace_back(here, pieces[i].length_mm + kerf_mm);
            in_one[i].emplace_back(here, 1);
        }
        model.atMost(room, stick.length_mm + behind);
    }
    for (const auto& terms : in_one) model.exactly(terms, 1);
    return model.least();
}

}  // namespace hoopwright
#endif
