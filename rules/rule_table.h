// A rule table, read and compiled: names are indices, limits are in base units.
#pragma once

#include <limits>
#include <map>
#include <optional>
#include <string>
#include <vector>

#include "core/model/stock.h"
#include "core/units/measure.h"
#include "rules/arguments.h"
#include "rules/check.h"
#include "rules/subject.h"

namespace hoopwright {

/// One of the numbers a limit is the smaller or larger of: `times` the fact, and `plus`.
struct LimitPart {
    std::string fact;  ///< empty: `plus` alone
    double times = 1, plus = 0;
    friend bool operator==(const LimitPart&, const LimitPart&) = default;
};

/// What a measurement is held against. Every comparison of numbers is a stretch with open or closed ends.
struct Comparison {
    enum class By { stretch, numbers, parts, words, not_words, yes_no, tube_table };
    By by = By::stretch;
    double low = -std::numeric_limits<double>::infinity();
    double high = std::numeric_limits<double>::infinity();
    bool low_open = false, high_open = false;
    double tolerance = 0;
    std::vector<double> numbers;     ///< any of these
    std::vector<std::string> words;  ///< any, or none, of these
    bool yes = true;
    int tube_table = -1;
    /// By::parts: the limit is the smaller (larger) of these, and `low` and `high` say only which end it is:
    /// 0 there, infinite elsewhere.
    std::vector<LimitPart> parts;
    bool larger = false;
    Unit unit;         ///< the unit the table speaks in
    std::string text;  ///< "at least 30 deg"
    friend bool operator==(const Comparison&, const Comparison&) = default;
};

/// One measurement of one thing and its limit.
struct Reading {
    int quantity = -1;  ///< index into allQuantities()
    Arguments with;
    Comparison against;
    friend bool operator==(const Reading&, const Reading&) = default;
};

struct Selector {
    enum class Relative { no, same_side, other_side };
    SubjectKind kind = SubjectKind::member;
    std::vector<std::string> roles;
    std::vector<int> groups;  ///< selectors; any of them
    std::vector<Side> sides;
    bool drivers_side = false, passengers_side = false;
    Relative relative = Relative::no;
    std::optional<bool> bent, optional_bar, carries_belts, on_plate;
    int lands_on = -1, not_these = -1;
    std::vector<Reading> having;
    int branch = -1, host = -1;   ///< joints
    int first = -1, second = -1;  ///< pairs; gussets: the two members
    std::optional<double> within_mm;
    bool same_side_pair = false;
    int under = -1;  ///< plates
    std::optional<bool> welded;
    std::optional<bool> passenger;  ///< drivers
    std::string words;              ///< how to call it in a sentence: "role rear_brace"
    friend bool operator==(const Selector&, const Selector&) = default;
};

/// A place is one or several points; see PlacePoint.
struct NamedPlace {
    enum class Is { top, bottom, front, rear, feet, ends, corners, meeting, car_point, body_part };
    std::string name;
    Is is = Is::top;
    std::vector<int> selectors;
    std::string point;
    BodyPart part = BodyPart::hip;
};

/// A condition on one fact.
struct FactTest {
    std::string fact;
    Dimension dimension = Dimension::none;
    std::vector<std::string> words;  ///< any of these; with `negated`, none
    bool negated = false;
    std::optional<bool> yes;
    bool number = false, date = false;
    double low = -std::numeric_limits<double>::infinity(), high = std::numeric_limits<double>::infinity();
    std::string first_day, last_day;  ///< dates; empty = no end
    bool low_open = false, high_open = false;
    std::string text;  ///< "race_mass over 1000 kg"
};

/// A fact a table asks for.
struct FactWanted {
    enum class Kind { measure, word, yes_no, date };
    std::string name, meaning;
    Kind kind = Kind::word;
    Dimension dimension = Dimension::none;
    std::vector<std::string> words;
    std::vector<std::pair<std::string, std::string>> stated_as;
};

struct TubeAlternative {
    std::vector<Reading> all;
    std::string text;  ///< "od 40 mm, wall 2 mm"
};
struct TubeRow {
    std::optional<FactTest> bracket;
    std::vector<FactTest> when;
    int for_bars = -1;  ///< selector
    std::vector<TubeAlternative> any_of;
};
struct TubeTable {
    std::string name;
    std::string by;  ///< fact, or empty
    std::vector<TubeRow> rows;
};

/// Strengths [MPa] the book says to reckon with.
struct AssignedFigures {
    std::vector<std::string> families;
    std::vector<TubeForm> forms;  ///< empty: any
    std::optional<double> modulus_mpa, yield_mpa, tensile_mpa;
    std::optional<double> welded_yield_mpa, welded_tensile_mpa;  ///< beside a weld
};
struct ReferenceTube {
    std::string name;
    TubeSection section;
    double modulus_mpa = 0, yield_mpa = 0;
};

/// How many of the things selected must meet.
struct HowMany {
    bool all = true;
    int least = 0, greatest = std::numeric_limits<int>::max();
    std::string text;  ///< "any", "at least 2"
};

struct Check {
    Reading reading;
    int of = -1;
    HowMany how_many;
    bool per_side = false;
    bool none_fails = false;
};

/// The load a question is about: a force, or so many times a weight.
struct LoadCase {
    double force_n = 0;  ///< where no fact is named
    std::string of;      ///< the fact of kind mass whose weight it is
    double times = 1;    ///< of that weight
    double plus_kg = 0;  ///< added to that mass first
    std::string on;      ///< "straight down on a pad of 200 mm"; may be empty
};

struct Rule {
    struct Alternative {
        std::string name;
        std::vector<Check> all;
    };
    std::string id, clause, title, sentence, source, way_out;
    std::vector<FactTest> when;
    std::vector<Check> only_if;
    std::vector<Check> unless;  ///< where all of these meet, the rule asks for nothing
    std::optional<Check> check;
    std::vector<Alternative> either;
    std::string permits;  ///< what the book allows; nothing is judged
    std::string ask;
    std::vector<std::string> evidence;  ///< what an answer must be kept with: photo, paper, reading, sample
    std::optional<LoadCase> load;
    SubjectKind ask_each = SubjectKind::cage;
    int ask_of = -1;
    Severity severity = Severity::required;
    Known known = Known::read;
    std::string written;  ///< all that decides, as the table has it, on one line
};

class RuleTable {
public:
    RuleTableInfo info;
    std::vector<FactWanted> facts;
    std::vector<Selector> selectors;
    std::vector<std::pair<std::string, int>> groups;
    std::vector<NamedPlace> places;
    int ignored = -1;  ///< selector of bars no rule sees
    std::vector<AssignedFigures> materials;
    std::vector<ReferenceTube> reference_tubes;
    std::vector<TubeTable> tubes;
    std::vector<Rule> rules;
    /// What names of the table stand for, as it has them, on one line: groups, places, tubes.
    std::map<std::string, std::string, std::less<>> written;
    const FactWanted* fact(std::string_view name) const;
};

}  // namespace hoopwright
