#include "rules/accepted.h"

#include <algorithm>
#include <cmath>

#include "rules/quantity_of.h"
#include "rules/table_reader.h"

namespace hoopwright {
namespace {

constexpr double kInfinite = std::numeric_limits<double>::infinity();

bool isEmpty(const NumberSpan& s) {
    return s.low > s.high || (s.low == s.high && (s.low_open || s.high_open));
}

bool holdsWhole(const NumberSpan& s) {
    if (!std::isfinite(s.low) || !std::isfinite(s.high)) return true;
    double first = std::ceil(s.low);
    if (s.low_open && first == s.low) first += 1;
    return first < s.high || (first == s.high && !s.high_open);
}

NumberSpan common(const NumberSpan& a, const NumberSpan& b) {
    NumberSpan out;
    out.low = std::max(a.low, b.low);
    out.high = std::min(a.high, b.high);
    out.low_open = (a.low == out.low && a.low_open) || (b.low == out.low && b.low_open);
    out.high_open = (a.high == out.high && a.high_open) || (b.high == out.high && b.high_open);
    return out;
}

bool isThere(const NumberSpan& s, bool whole) {
    return !isEmpty(s) && (!whole || holdsWhole(s));
}

std::vector<NumberSpan> numbersOf(const Comparison& against) {
    const double give = against.tolerance;
    if (against.by == Comparison::By::stretch)
        return {{against.low - give, against.high + give, against.low_open, against.high_open}};
    std::vector<NumberSpan> out;
    for (double number : against.numbers) out.push_back({number - give, number + give, false, false});
    return out;
}

bool contains(const std::vector<std::string>& words, const std::string& word) {
    return std::find(words.begin(), words.end(), word) != words.end();
}

/// Is there a word both let through, of those there can be (none given: any)?
bool shareWord(const Accepted& a, const Accepted& b, const std::vector<std::string>& possible) {
    const auto lets = [](const Accepted& one, const std::string& word) {
        return contains(one.words, word) != one.words_left_out;
    };
    std::vector<std::string> asked = possible;
    if (asked.empty()) {
        if (a.words_left_out && b.words_left_out) return true;
        asked = a.words_left_out ? b.words : a.words;
    }
    return std::any_of(asked.begin(), asked.end(),
                       [&](const std::string& word) { return lets(a, word) && lets(b, word); });
}

bool isNumber(const Reading& reading) {
    return reading.against.by == Comparison::By::stretch || reading.against.by == Comparison::By::numbers;
}
bool isWord(const Reading& reading) {
    return reading.against.by == Comparison::By::words || reading.against.by == Comparison::By::not_words;
}

}  // namespace

Accepted acceptedBy(const Reading& reading) {
    Accepted out;
    if (reading.quantity < 0) return out;
    const QuantityRange range = rangeOf(quantityOf(reading));
    out.whole = range.whole;
    if (isNumber(reading))
        for (const NumberSpan& one : numbersOf(reading.against))
            if (const NumberSpan left = common(one, {range.low, range.high, false, false});
                isThere(left, out.whole))
                out.numbers.push_back(left);
    out.words = reading.against.words;
    out.words_left_out = reading.against.by == Comparison::By::not_words;
    return out;
}

bool lacksAll(const Reading& reading) {
    if (reading.quantity < 0) return false;
    if (isNumber(reading)) return acceptedBy(reading).numbers.empty();
    if (!isWord(reading)) return false;
    const Accepted own = acceptedBy(reading);
    return !shareWord(own, {{}, false, {}, true}, wordsPossible(quantityOf(reading)));
}

bool takesAll(const Reading& reading) {
    if (reading.quantity < 0 || reading.against.by != Comparison::By::stretch) return false;
    const QuantityRange range = rangeOf(quantityOf(reading));
    if (!std::isfinite(range.low) && !std::isfinite(range.high)) return false;
    const NumberSpan own = numbersOf(reading.against).front();
    const bool from = own.low < range.low || (own.low == range.low && !own.low_open);
    const bool to = own.high > range.high || (own.high == range.high && !own.high_open);
    return from && to;
}

bool apart(const Reading& a, const Reading& b) {
    if (isNumber(a) && isNumber(b)) {
        const Accepted one = acceptedBy(a), two = acceptedBy(b);
        for (const NumberSpan& x : one.numbers)
            for (const NumberSpan& y : two.numbers)
                if (isThere(common(x, y), one.whole)) return false;
        return true;
    }
    if (isWord(a) && isWord(b)) return !shareWord(acceptedBy(a), acceptedBy(b), wordsPossible(quantityOf(a)));
    const bool yes_no = a.against.by == Comparison::By::yes_no && b.against.by == Comparison::By::yes_no;
    return yes_no && a.against.yes != b.against.yes;
}

bool apart(const FactTest& a, const FactTest& b, const std::vector<std::string>& words) {
    if (a.yes && b.yes) return *a.yes != *b.yes;
    if (a.number && b.number)
        return isEmpty(
            common({a.low, a.high, a.low_open, a.high_open}, {b.low, b.high, b.low_open, b.high_open}));
    if (a.date && b.date) {
        const auto after = [](const FactTest& early, const FactTest& late) {
            if (early.last_day.empty() || late.first_day.empty()) return false;
            const bool touching = early.high_open || late.low_open;
            return touching ? early.last_day <= late.first_day : early.last_day < late.first_day;
        };
        return after(a, b) || after(b, a);
    }
    if (a.words.empty() || b.words.empty()) return false;
    return !shareWord({{}, false, a.words, a.negated}, {{}, false, b.words, b.negated}, words);
}

bool lacksAll(const FactTest& test, const std::vector<std::string>& words) {
    return !test.words.empty() && !words.empty() &&
           !shareWord({{}, false, test.words, test.negated}, {{}, false, {}, true}, words);
}

std::string rangeWords(const Reading& reading) {
    const Quantity& quantity = quantityOf(reading);
    const std::vector<std::string> words = wordsPossible(quantity);
    if (!words.empty()) {
        std::string out;
        for (const std::string& word : words) out += (out.empty() ? "" : " or ") + word;
        return out;
    }
    const QuantityRange range = rangeOf(quantity);
    Unit bare = reading.against.unit;
    bare.word.clear();
    if (range.high < kInfinite)
        return (range.whole ? "whole, " : "") + inUnit(range.low, bare) + " to " +
               inUnit(range.high, reading.against.unit);
    return (range.whole ? "whole, " : "") + inUnit(range.low, reading.against.unit) + " or more";
}

}  // namespace hoopwright
