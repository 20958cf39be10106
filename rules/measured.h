// What a quantity found on one thing.
#pragma once

#include <memory>
#include <string>
#include <vector>

#include "core/geometry/shown_shape.h"

namespace hoopwright {

/// What a measurement was taken on, for people to look at.
struct Shown {
    std::vector<ShownShape> shapes;
    std::vector<int> members;  ///< indices, besides the subject itself
    Vec3 look_at = Vec3::Zero();
};

/// A number may be a stretch from least to greatest (the height of a whole bar): a comparison must hold for
/// both.
struct Measured {
    enum class Is { number, word, yes_no, unknown, left_out };
    Is is = Is::left_out;      ///< left out: the quantity means nothing for this thing (the bend radius of a
                               ///< straight bar)
    double low = 0, high = 0;  ///< base units of the quantity's dimension
    bool yes = false;
    std::string
        text;  ///< the word; or, unknown: what is missing, as a clause ("the stock list has no tube 45x2")
    std::unique_ptr<Shown> shown;  ///< only when asked for

    static Measured number(double value) { return stretch(value, value); }
    static Measured stretch(double least, double greatest);
    static Measured word(std::string text);
    static Measured yesNo(bool yes);
    static Measured unknown(std::string what_is_missing);
    static Measured leftOut() { return {}; }

    Measured with(Shown what) &&;
};

}  // namespace hoopwright
