// Findings as the window shows and names them.
#pragma once

#include <QString>
#include <optional>
#include <string>
#include <vector>

#include "app/window/measures.h"
#include "app/window/selection.h"
#include "rules/check.h"

namespace hoopwright {

/// "table/rule/subject": the same finding after the next check has the same key.
std::string findingKey(const Finding& finding);
/// Null if the report has no such finding (any more).
const Finding* findFinding(const CheckReport& report, std::string_view key);

/// Words and figures of one finding in the person's units.
struct FindingWords {
    QString title;     ///< "Belt bar height against shoulder, belt bar"
    QString value;     ///< "131 mm"; empty if there is none
    QString limit;     ///< "0 to 100 mm", in the person's unit as well where the table speaks another
    QString by;        ///< "31 mm too much", "12.0 cm² short", "4 mm to spare"; empty if there is none
    QString sentence;  ///< all of it, for reading out
};
FindingWords wordsOf(const Finding& finding, UnitsShown units);
/// Text of a table or rule as people read it: signs of print, no underscores.
QString printed(std::string words);
/// What the table wants, in its own unit and in the person's where that is another; empty if there is no
/// limit.
QString limitWords(const Finding& finding, UnitsShown units);
/// What to do, without the amount that stands beside it in the list already.
QString shortWayOut(const Finding& finding);
QString answerWords(Answer answer);

/// The worst answer over findings about the resolved id; nothing if no rule is about it.
std::optional<Answer> worstOf(const CheckReport& report, std::string_view thing);
/// True if a geometry problem names this layout member or plate.
bool cannotBeBuilt(const CageGeometry& geometry, std::string_view layout_id);

}  // namespace hoopwright
