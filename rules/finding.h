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

/// How the number of a rule is known: read in the book, told by somebody, remembered.
enum class Known { read, second_hand, memory };
std::string_view knownKey(Known known);  ///< "read", "second_hand", "memory": as tables and --json say it

/// A person's word: their answer to a question, or that a number stands so in the book in force.
struct PersonsWord {
    std::string who, when;    ///< when: "YYYY-MM-DD"
    std::string note, photo;  ///< photo: a file, named from the cage file's folder; both may be empty
    bool good = true;         ///< of an answer
};

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
    Known known = Known::read;
    /// False: the number is known only second hand or from memory, and nobody has ticked it off against the
    /// book of this edition. What meets then is no pass: "meets, not confirmed".
    bool confirmed = true;
    std::optional<PersonsWord> ticked;    ///< who ticked it off, for the edition of the table
    std::optional<PersonsWord> answered;  ///< who answered the question
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

/// The answer as people read it: "meets, not confirmed" where nobody has ticked the number off.
std::string answerPhrase(const Finding& finding);

}  // namespace hoopwright
