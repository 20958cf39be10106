#include "rules/measured.h"

#include <utility>

namespace hoopwright {

Measured Measured::stretch(double least, double greatest) {
    Measured out;
    out.is = Is::number;
    out.low = least;
    out.high = greatest;
    return out;
}

Measured Measured::word(std::string text) {
    Measured out;
    out.is = Is::word;
    out.text = std::move(text);
    return out;
}

Measured Measured::yesNo(bool yes) {
    Measured out;
    out.is = Is::yes_no;
    out.yes = yes;
    return out;
}

Measured Measured::unknown(std::string what_is_missing) {
    Measured out;
    out.is = Is::unknown;
    out.text = std::move(what_is_missing);
    return out;
}

Measured Measured::with(Shown what) && {
    shown = std::make_unique<Shown>(std::move(what));
    return std::move(*this);
}

}  // namespace hoopwright
