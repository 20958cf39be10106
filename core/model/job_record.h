// What people said and measured on a job, kept with the cage they said it of.
#pragma once

#include <memory>
#include <string>
#include <vector>

#include "core/geometry/vec.h"
#include "core/units/measure.h"

namespace hoopwright {

/// An answer a person gave to a question of a rule table.
struct PersonsAnswer {
    std::string table, rule, subject;  ///< which question; subject may be empty
    bool good = false;
    std::string who, when, note;  ///< when: "YYYY-MM-DD"
    std::string photo = {};       ///< file as written, relative to the cage file; may be empty
    friend bool operator==(const PersonsAnswer&, const PersonsAnswer&) = default;
};

/// A rule whose number the table does not vouch for, compared by a person with the book in force.
struct RuleTick {
    std::string table, rule;
    std::string edition;    ///< of the book that was compared; the tick counts for that edition only
    std::string who, when;  ///< when: "YYYY-MM-DD"
    friend bool operator==(const RuleTick&, const RuleTick&) = default;
};

/// A rule as a table said it when the job was last agreed.
struct FrozenRule {
    std::string rule;
    std::string says;  ///< what it judged and asked for, on one line
    friend bool operator==(const FrozenRule&, const FrozenRule&) = default;
};
/// The edition of a table the job was checked against.
struct FrozenTable {
    std::string table, edition;
    std::string when;  ///< "YYYY-MM-DD"
    std::vector<FrozenRule> rules;
    friend bool operator==(const FrozenTable&, const FrozenTable&) = default;
};

/// Something of the built cage that was measured.
struct BuiltReading {
    std::string of;        ///< resolved id of a bar, plate or driver
    std::string quantity;  ///< what was measured, by its name in the rule tables
    std::string spot;      ///< where on it, in a few words; may be empty
    double value = 0;      ///< in base units of `dimension`
    Dimension dimension = Dimension::none;
    std::string who, when, note;  ///< when: "YYYY-MM-DD"
    friend bool operator==(const BuiltReading&, const BuiltReading&) = default;
};

/// Where the metal of a bar came from.
struct Certificate {
    std::string of;  ///< resolved id of the bar
    std::string heat, number;
    std::string when = {};  ///< of the certificate; "YYYY-MM-DD" or empty
    friend bool operator==(const Certificate&, const Certificate&) = default;
};

/// A paper or a part with a date on it: belts, a seat, a log book.
struct DatedPaper {
    std::string what, number;
    std::string issued, due;  ///< "YYYY-MM-DD" or empty; due: good until that day
    std::string note;
    friend bool operator==(const DatedPaper&, const DatedPaper&) = default;
};

/// Tubes that are bought and cut once more than the cage needs them.
struct SparePiece {
    std::string of;  ///< resolved id of the bar
    int count = 1;   ///< >= 1
    friend bool operator==(const SparePiece&, const SparePiece&) = default;
};

/// Bars that must not come of the same heat.
struct ApartPieces {
    std::vector<std::string> of;  ///< resolved ids, two or more
    std::string note;
    friend bool operator==(const ApartPieces&, const ApartPieces&) = default;
};

/// Where a picture of the job was taken from, kept under a name.
struct SavedView {
    std::string name;
    Vec3 eye = Vec3::Zero(), target = Vec3::Zero();  ///< mm, car axes
    double orthographic_height_mm = 0;               ///< 0: perspective
    bool upright = false;                            ///< two-point perspective
    friend bool operator==(const SavedView&, const SavedView&) = default;
};

/// The cage was shown to an inspector.
struct Inspection {
    std::string when, who;  ///< when: "YYYY-MM-DD"
    std::string outcome;    ///< in the inspector's words
    std::string report;     ///< the check as it was then: file as written, relative to the cage file
    std::string note;
    friend bool operator==(const Inspection&, const Inspection&) = default;
};

struct ShopBook;
/// The shop's own book, shared because it never changes: a changed one is another. Equal where it is the very
/// same.
using ShopBookRef = std::shared_ptr<const ShopBook>;

}  // namespace hoopwright
