#include "core/shop/nest_fill.h"

#include <algorithm>
#include <numeric>

namespace hoopwright::nesting {

namespace {

constexpr std::int64_t kCoarse_cells = 2048;   ///< where lengths have no common measure
constexpr std::int64_t kMost_cells = 8192;     ///< where they have one
constexpr std::int64_t kGood_steps = 2'000;    ///< of one search that has found something
constexpr std::int64_t kMost_steps = 200'000;  ///< of one that has not; past it the table's bound stands

/// Adds up to `limit` pieces of one kind to a layer.
void addKind(std::vector<std::int32_t>& row, int cells, std::int32_t value, int limit) {
    const int width = static_cast<int>(row.size());
    if (cells == 0) {  // shorter than a cell: the grid cannot tell how many fit
        for (std::int32_t& entry : row) entry += value * limit;
        return;
    }
    // One, two, four ... of it at a time make every number up to the limit.
    for (int batch = 1, left = std::min(limit, (width - 1) / cells); left > 0; batch *= 2) {
        const int take = std::min(batch, left);
        left -= take;
        const int weight = take * cells;
        const std::int32_t worth = take * value;
        const std::vector<std::int32_t> before(row.begin(), row.end() - weight);
        std::int32_t* to = row.data() + weight;
        for (std::size_t c = 0; c < before.size(); ++c) to[c] = std::max(to[c], before[c] + worth);
    }
}

}  // namespace

std::int64_t CutProblem::longestRoom() const {
    std::int64_t longest = 0;
    for (const Stick& stick : sticks) longest = std::max(longest, stick.room);
    return longest;
}

std::size_t CutProblem::boughtSticks() const {
    return static_cast<std::size_t>(
        std::count_if(sticks.begin(), sticks.end(), [](const Stick& s) { return s.owned == kBought; }));
}

int CutProblem::pieces() const {
    return std::accumulate(wanted.begin(), wanted.end(), 0);
}

FillTable::FillTable(const CutProblem& problem) : problem_(problem) {
    std::int64_t measure = 0;
    for (std::int64_t length : problem.length) measure = std::gcd(measure, length);
    const std::int64_t longest = problem.longestRoom();
    const bool fine = measure > 0 && longest / measure <= kMost_cells;
    cell_ = fine ? measure : std::max<std::int64_t>(1, longest / kCoarse_cells);
    width_ = static_cast<std::size_t>(longest / cell_) + 1;
}

double FillTable::mostOf(const std::vector<double>& values, const std::vector<int>& limits) const {
    double dearest = 0, dust = 0;
    for (std::size_t k = 0; k < problem_.kinds(); ++k) {
        const auto cells = static_cast<double>(problem_.length[k] / cell_);
        if (cells > 0) {
            dearest = std::max(dearest, values[k] / cells);
        } else {
            dust += values[k] * limits[k];
        }
    }
    return dearest * static_cast<double>(width_) + dust;
}

void FillTable::price(const std::vector<std::int32_t>& values, const std::vector<int>& limits,
                      Effort& effort) {
    priced_.clear();
    for (std::size_t k = 0; k < problem_.kinds(); ++k) {
        if (values[k] <= 0 || limits[k] <= 0) continue;
        const std::int64_t length = problem_.length[k];
        priced_.push_back(
            {static_cast<int>(k), length, static_cast<int>(length / cell_), values[k], limits[k]});
    }
    const std::size_t depth = priced_.size();
    table_.assign((depth + 1) * width_, 0);
    std::vector<std::int32_t> row(width_, 0);
    for (std::size_t k = depth; k-- > 0;) {
        addKind(row, priced_[k].cells, priced_[k].value, priced_[k].limit);
        std::copy(row.begin(), row.end(), table_.begin() + static_cast<std::ptrdiff_t>(k * width_));
    }
    effort.use(static_cast<std::int64_t>(depth * width_ / 400 + 1));
}

struct FillTable::Search {
    std::int64_t best = 0;
    bool found = false, cut_short = false;
    std::vector<int> taken, best_taken;
    std::int64_t steps = 0;
};

void FillTable::descend(Search& search, std::size_t depth, std::int64_t room, std::int64_t value) const {
    if (++search.steps > (search.found ? kGood_steps : kMost_steps)) {
        search.cut_short = true;
        return;
    }
    if (value > search.best) {
        search.best = value;
        search.best_taken = search.taken;
        search.found = true;
    }
    if (depth == priced_.size()) return;
    const Kind& kind = priced_[depth];
    const auto fits = static_cast<int>(std::min<std::int64_t>(kind.limit, room / kind.length));
    for (int count = fits; count >= 0 && !search.cut_short; --count) {
        const std::int64_t left = room - count * kind.length;
        const std::int64_t gained = value + std::int64_t{count} * kind.value;
        if (gained + layer(depth + 1)[left / cell_] <= search.best) continue;
        search.taken[depth] = count;
        descend(search, depth + 1, left, gained);
        search.taken[depth] = 0;
    }
}

BestFilling FillTable::best(std::int64_t room, std::int64_t floor, Effort& effort) const {
    Search search;
    search.best = floor;
    search.taken.assign(priced_.size(), 0);
    const std::int64_t promise = layer(0)[room / cell_];
    if (promise > floor) descend(search, 0, room, 0);
    effort.use(search.steps / 16 + 1);
    BestFilling out;
    out.bound = search.cut_short ? promise : search.best;
    if (!search.found) return out;
    for (std::size_t k = 0; k < priced_.size(); ++k) {
        if (search.best_taken[k] > 0) out.pieces.emplace_back(priced_[k].kind, search.best_taken[k]);
    }
    return out;
}

}  // namespace hoopwright::nesting
