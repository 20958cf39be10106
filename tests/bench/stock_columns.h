// Cutting stock by column generation with libraries: the linear programme and the integers over its columns
// by GLPK, or the integers by CBC. Method: Gilmore and Gomory, Operations Research 9 (1961) and 11 (1963);
// from memory.
#pragma once

#ifdef HOOPWRIGHT_HAVE_GLPK
#include <glpk.h>
#ifdef HOOPWRIGHT_HAVE_CBC
#include <coin/Cbc_C_Interface.h>
#endif

#include <algorithm>
#include <cmath>
#include <map>
#include <numeric>
#include <vector>

#include "core/shop/nest.h"

namespace hoopwright {

enum class IntegerBy { glpk, cbc };

struct ColumnPlan {
    double cost = 0;
    bool proved =
        false;  ///< best among its columns, and no dearer than the programme rounded up to whole sticks
};

/// Lengths in whole millimetres, kerf between pieces.
class ColumnStock {
public:
    ColumnStock(const std::vector<Piece1d>& pieces, const std::vector<StickLength>& sticks, double kerf_mm,
                double limit_s)
        : limit_s_(limit_s) {
        std::map<int, int, std::greater<>> kinds;
        for (const Piece1d& piece : pieces) ++kinds[static_cast<int>(std::lround(piece.length_mm + kerf_mm))];
        for (const auto& [length, count] : kinds) {
            length_.push_back(length);
            wanted_.push_back(count);
        }
        for (const StickLength& stick : sticks) {
            room_.push_back(static_cast<int>(std::lround(stick.length_mm + kerf_mm)));
            cost_.push_back(stick.price);
        }
    }

    ColumnPlan solve(IntegerBy by) {
        const double bound = linear();
        ColumnPlan out;
        const bool done = by == IntegerBy::glpk ? wholeByGlpk(out.cost) : wholeByCbc(out.cost);
        long long step = 0;  // prices are whole, so costs go in steps of what they have in common
        for (const double cost : cost_) step = std::gcd(step, std::llround(cost));
        const auto in_steps = static_cast<double>(step);
        out.proved = done && out.cost <= std::ceil(bound / in_steps - 1e-6) * in_steps + 1e-6;
        return out;
    }

private:
    struct Column {
        int stick = 0;
        std::vector<int> counts;
    };

    /// Columns until none helps; the value of the programme.
    double linear() {
        const std::size_t longest =
            static_cast<std::size_t>(std::max_element(room_.begin(), room_.end()) - room_.begin());
        for (std::size_t k = 0; k < length_.size(); ++k) {
            Column alone{static_cast<int>(longest), std::vector<int>(length_.size(), 0)};
            alone.counts[k] = std::min(wanted_[k], room_[longest] / length_[k]);
            columns_.push_back(alone);
        }
        glp_prob* lp = glp_create_prob();
        glp_set_obj_dir(lp, GLP_MIN);
        glp_add_rows(lp, static_cast<int>(length_.size()));
        for (std::size_t k = 0; k < length_.size(); ++k)
            glp_set_row_bnds(lp, static_cast<int>(k) + 1, GLP_LO, wanted_[k], 0);
        for (const Column& column : columns_) add(lp, column);
        glp_smcp how;
        glp_init_smcp(&how);
        how.msg_lev = GLP_MSG_OFF;
        double value = 0;
        for (bool helped = true; helped;) {
            glp_simplex(lp, &how);
            value = glp_get_obj_val(lp);
            helped = false;
            std::vector<double> prices;
            for (std::size_t k = 0; k < length_.size(); ++k)
                prices.push_back(glp_get_row_dual(lp, static_cast<int>(k) + 1));
            for (std::size_t j = 0; j < room_.size(); ++j) {
                Column best{static_cast<int>(j), {}};
                if (fill(prices, room_[j], best.counts) <= cost_[j] + 1e-7) continue;
                add(lp, best);
                columns_.push_back(std::move(best));
                helped = true;
            }
        }
        glp_delete_prob(lp);
        return value;
    }

    /// The most valuable filling: dynamic programming over whole millimetres, at most what is wanted of each.
    double fill(const std::vector<double>& prices, int room, std::vector<int>& counts) const {
        const auto width = static_cast<std::size_t>(room) + 1;
        std::vector<double> best(width, 0);
        std::vector<std::vector<unsigned char>> took(length_.size(), std::vector<unsigned char>(width, 0));
        for (std::size_t k = 0; k < length_.size(); ++k) {
            if (prices[k] <= 0) continue;
            const std::vector<double> before = best;
            const int most = std::min({wanted_[k], room / length_[k], 255});
            for (int count = 1; count <= most; ++count)
                for (std::size_t r = static_cast<std::size_t>(count * length_[k]); r < width; ++r) {
                    const double worth =
                        before[r - static_cast<std::size_t>(count * length_[k])] + count * prices[k];
                    if (worth <= best[r] + 1e-12) continue;
                    best[r] = worth;
                    took[k][r] = static_cast<unsigned char>(count);
                }
        }
        counts.assign(length_.size(), 0);
        std::size_t left = width - 1;
        for (std::size_t k = length_.size(); k-- > 0;) {
            counts[k] = took[k][left];
            left -= static_cast<std::size_t>(counts[k] * length_[k]);
        }
        return best[width - 1];
    }

    void add(glp_prob* lp, const Column& column) const {
        const int at = glp_add_cols(lp, 1);
        glp_set_obj_coef(lp, at, cost_[static_cast<std::size_t>(column.stick)]);
        glp_set_col_bnds(lp, at, GLP_LO, 0, 0);
        std::vector<int> rows{0};
        std::vector<double> values{0};
        for (std::size_t k = 0; k < column.counts.size(); ++k) {
            if (column.counts[k] == 0) continue;
            rows.push_back(static_cast<int>(k) + 1);
            values.push_back(column.counts[k]);
        }
        glp_set_mat_col(lp, at, static_cast<int>(rows.size()) - 1, rows.data(), values.data());
    }

    bool wholeByGlpk(double& cost) const {
        glp_prob* lp = glp_create_prob();
        glp_set_obj_dir(lp, GLP_MIN);
        glp_add_rows(lp, static_cast<int>(length_.size()));
        for (std::size_t k = 0; k < length_.size(); ++k)
            glp_set_row_bnds(lp, static_cast<int>(k) + 1, GLP_LO, wanted_[k], 0);
        for (const Column& column : columns_) add(lp, column);
        for (int c = 1; c <= static_cast<int>(columns_.size()); ++c) glp_set_col_kind(lp, c, GLP_IV);
        glp_iocp how;
        glp_init_iocp(&how);
        how.presolve = GLP_ON;
        how.msg_lev = GLP_MSG_OFF;
        how.tm_lim = static_cast<int>(limit_s_ * 1000);
        const bool ended = glp_intopt(lp, &how) == 0;
        const bool best = ended && glp_mip_status(lp) == GLP_OPT;
        cost = glp_mip_obj_val(lp);
        glp_delete_prob(lp);
        return best;
    }

    bool wholeByCbc([[maybe_unused]] double& cost) const {
#ifdef HOOPWRIGHT_HAVE_CBC
        std::vector<CoinBigIndex> starts{0};
        std::vector<int> rows;
        std::vector<double> values, costs;
        for (const Column& column : columns_) {
            for (std::size_t k = 0; k < column.counts.size(); ++k) {
                if (column.counts[k] == 0) continue;
                rows.push_back(static_cast<int>(k));
                values.push_back(column.counts[k]);
            }
            starts.push_back(static_cast<CoinBigIndex>(rows.size()));
            costs.push_back(cost_[static_cast<std::size_t>(column.stick)]);
        }
        const std::vector<double> least(wanted_.begin(), wanted_.end());
        const auto count = static_cast<int>(columns_.size());
        Cbc_Model* model = Cbc_newModel();
        Cbc_loadProblem(model, count, static_cast<int>(length_.size()), starts.data(), rows.data(),
                        values.data(), nullptr, nullptr, costs.data(), least.data(), nullptr);
        for (int c = 0; c < count; ++c) Cbc_setInteger(model, c);
        Cbc_setLogLevel(model, 0);
        Cbc_setMaximumSeconds(model, limit_s_);
        Cbc_solve(model);
        const bool best = Cbc_isProvenOptimal(model) != 0;
        cost = Cbc_getObjValue(model);
        Cbc_deleteModel(model);
        return best;
#else
        return false;
#endif
    }

    std::vector<int> length_, wanted_, room_;
    std::vector<double> cost_;
    std::vector<Column> columns_;
    double limit_s_;
};

}  // namespace hoopwright
#endif
