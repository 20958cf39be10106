// What a customer is told of a cage: worked out once, the same on paper and in --json.
#pragma once

#include <optional>
#include <span>
#include <string>
#include <vector>

#include "core/driver/driver_report.h"
#include "core/edit/leave_out.h"
#include "core/shop/quote.h"
#include "rules/check.h"

namespace hoopwright {

/// A rule that was held against a bar.
struct RuleOfBar {
    std::string table, rule, clause, title;
    Answer answer = Answer::cannot_tell;
    bool confirmed = true;  ///< false: its number is not confirmed by anybody
};

/// A bar as the customer knows it: both of a mirrored pair are one.
struct ShownBar {
    std::string id;            ///< of the layout
    std::vector<int> members;  ///< indices into CageGeometry::members; their numbers are one more
    std::string name;          ///< without the side
    std::string purpose;       ///< a sentence; of a role nobody knows, the note; may be empty
    Place place = Place::other;
    bool may_be_left_out = false;
    double length_mm = 0, mass_kg = 0;  ///< of all of them
    std::vector<RuleOfBar> rules;       ///< each once, with the worst answer
};

/// What matters of one driver when a bar comes or goes. Nothing: not known, or no bar in the way.
struct DriverRoom {
    std::optional<double> door_round_mm;  ///< largest round through the door
    std::optional<double> door_knee_mm;   ///< clear across level with the knee
    std::optional<double> above_mm;       ///< helmet straight up to bare metal; nothing: no bar over it
    std::optional<double> helmet_mm;      ///< helmet to the nearest bare metal
};
DriverRoom roomOf(const DriverReport& report);

struct RoomChange {
    std::string driver;  ///< Driver::id
    std::string name;
    DriverRoom with, without;
};

/// A bar the customer may leave out, and what that does.
struct ShownOption {
    std::string id;  ///< of the layout
    std::string name, purpose;
    std::vector<std::string> goes_too;  ///< names of bars that stand on it
    double mass_kg = 0;                 ///< it adds, with those
    std::optional<double> price;        ///< it adds; nothing: the shop's book does not say
    std::vector<RoomChange> drivers;
    std::vector<std::string> then_falls_short;  ///< rules that meet with it and do not without: their titles
};

/// Something done to the car for it.
struct ShownCut {
    enum class Kind { hole, ground, drilled };
    Kind kind = Kind::ground;
    std::string thing;     ///< resolved id of the bar or plate
    std::string part;      ///< of the car; may be empty
    double size_mm = 0;    ///< of a hole: diameter; drilled: of the bolts
    double area_mm2 = 0;   ///< ground: of the plate
    int count = 1;         ///< holes
    std::string sentence;  ///< "Front return, left: through firewall, a hole of 40 mm."
};

struct ShownDriver {
    int index = 0;  ///< into Job::drivers
    DriverReport report;
};

struct CustomerFacts {
    const Job* job = nullptr;            ///< not owned; outlives this
    const CageGeometry* cage = nullptr;  ///< not owned
    CheckReport check;
    std::vector<ShownBar> bars;  ///< by place, then in build order
    std::vector<ShownOption> options;
    std::vector<ShownDriver> drivers;
    std::vector<ShownCut> cuts;
    std::optional<Quote> quote;
    std::string no_quote;               ///< why there is none
    std::vector<std::string> cautions;  ///< sentences
};
CustomerFacts customerFacts(const Job& job, const CageGeometry& cage, std::span<const RuleTableRef> tables);

std::string_view cutKey(ShownCut::Kind kind);  ///< "hole", "ground", "drilled"

}  // namespace hoopwright
