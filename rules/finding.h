// What a rule said of one thing, and what shows it.
#pragma once

#include <optional>
#include <string>
#include <string_view>
#include <vector>

#include "core/geometry/shown_shape.h"
#include "core/units/measure.h"

namespace hoopwright {

/// Silence is never a pass: what could not be judged says so and says what is missing.
enum class Answer { fails, cannot_tell, ask_person, meets, does_not_apply };
std::string_view answerWord(
    Answer answer);  ///< "fails", "can't tell", "ask a person", "meets", "does not apply"
std::string_view answerKey(Answer answer);  ///< "fails", "cannot_tell", ... for files and --json

enum class Severity { required, recommended };

/// The geometry a quantity was measured on.
struct Evidence {
    std::vector<ShownShape> shapes;
    std::vector<std::string> members;  ///< resolved member ids to light up
    std::vector<std::string> plates;
    std::string driver;           ///< Driver::id, or empty
    Vec3 look_at = Vec3::Zero();  ///< where to fly to
};

struct Finding {
    std::string table;  ///< RuleTable::id
    std::string rule;   ///< Rule id, unique in its table
    std::string clause;
    std::string edition;
    std::string title;     ///< short: "Belt bar height against shoulder"
    std::string sentence;  ///< plain sentence of what the rule wants
    Answer answer = Answer::cannot_tell;
    Severity severity = Severity::required;
    bool confirmed = true;  ///< false: the rule's number is known only second hand or from memory
    std::string
        subject;  ///< what it was judged on: "belt_bar", "foot_rear.left", "tall"; empty: the whole cage
    std::string subject_name;  ///< "Belt bar"
    int things =
        1;  ///< how many things it speaks for: of many that meet, the one with least to spare stands for all
    std::string found;             ///< what was found where that is no number: "welded", "no", the tube
    std::optional<double> value;   ///< in base units of `dimension`
    std::optional<double> limit;   ///< the nearer limit
    std::optional<double> margin;  ///< >= 0 inside; how much is to spare, or (negative) lacking
    Dimension dimension = Dimension::none;
    Unit unit;               ///< the unit the table speaks in
    std::string limit_text;  ///< "at least 120 cm2", "0 to 100 mm"
    std::string missing;     ///< cannot_tell: what is missing; ask_person: the question; does_not_apply: why
    std::string way_out;     ///< what would meet it, in words; may be empty
    /// It meets, and yet: the nominal wall passes where a gauge may not. Or it fails by the difference of an
    /// inch and a millimetre size. May be empty.
    std::string beware;
    Evidence evidence;
};

}  // namespace hoopwright
