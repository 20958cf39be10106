// One named, documented measurement: the only things a rule table can ask for.
#pragma once

#include <optional>
#include <vector>

#include "rules/arguments.h"
#include "rules/check.h"
#include "rules/measured.h"
#include "rules/subject.h"

namespace hoopwright {

class TableRun;

enum class ValueKind { number, word, yes_no, tube };

/// Measures `what`; fills Measured::shown only if `show`. Pure.
using MeasureFunction = Measured (*)(const TableRun& run, const Subject& what, const Arguments& with,
                                     bool show);

struct Quantity {
    QuantityInfo info;
    SubjectKind kind = SubjectKind::member;
    ValueKind value = ValueKind::number;
    ArgSet needs = 0;  ///< arguments that must be given
    ArgSet may = 0;    ///< arguments that may be left out
    MeasureFunction measure = nullptr;
    std::optional<SubjectKind>
        counts;  ///< the quantity is how many of these are selected; measure is then null
};

/// Every quantity, by subject.
const std::vector<Quantity>& allQuantities();
/// Index into allQuantities(), or -1.
int quantityIndex(std::string_view name);

// The parts of the list; one file each.
std::vector<Quantity> tubeQuantities();
std::vector<Quantity> bendQuantities();
std::vector<Quantity> routeQuantities();
std::vector<Quantity> angleQuantities();
std::vector<Quantity> positionQuantities();
std::vector<Quantity> endQuantities();
std::vector<Quantity> shareQuantities();
std::vector<Quantity> likenessQuantities();
std::vector<Quantity> jointQuantities();
std::vector<Quantity> pairQuantities();
std::vector<Quantity> planeQuantities();
std::vector<Quantity> plateQuantities();
std::vector<Quantity> boltQuantities();
std::vector<Quantity> gussetQuantities();
std::vector<Quantity> sheetQuantities();
std::vector<Quantity> skinQuantities();
std::vector<Quantity> clearanceQuantities();
std::vector<Quantity> helmetQuantities();
std::vector<Quantity> beltQuantities();
std::vector<Quantity> viewQuantities();
std::vector<Quantity> personQuantities();
std::vector<Quantity> openingQuantities();
std::vector<Quantity> builtQuantities();
std::vector<Quantity> cageQuantities();

}  // namespace hoopwright
