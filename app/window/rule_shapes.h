// The common shapes of a rule, as fields of a form; written as the keys of one rule and read back from them.
#pragma once

#include <QString>
#include <QStringList>
#include <optional>
#include <vector>

#include "rules/table_outline.h"

namespace hoopwright {

enum class RuleShape { tube, bar_there, angle, distance, plate, question };
const std::vector<RuleShape>& ruleShapes();
QString shapeTitle(RuleShape shape);  ///< "Limit of an angle"

/// What the form of a shape holds, each as it is written in the file; lists of roles are words with commas.
struct RuleDraft {
    RuleShape shape = RuleShape::bar_there;
    QString id, clause, title, sentence, way_out;
    QString known = QStringLiteral("read");
    bool recommended = false;
    QString of;       ///< roles: "main_hoop, side_bar"; or a whole selector in braces; empty: all
    QString measure;  ///< of angle, distance, plate
    QString with;     ///< what stands in the braces: "view: side"
    QString comparison = QStringLiteral("at_least");
    QString value;          ///< "30 deg"; with between: "10, 20"
    bool per_side = false;  ///< of bars there must be
    QString fits;           ///< name of the tube table
    QString tubes;          ///< of a new tube table: "40 x 2, 38 x 2.5"
    QString ask, each;
    friend bool operator==(const RuleDraft&, const RuleDraft&) = default;
};

/// Quantities a shape is about, by name; empty for those that have one or none.
QStringList quantitiesOf(RuleShape shape);
/// "place: , end: ": what a quantity needs under `with`, to be filled in; empty: nothing.
QString neededWith(const QString& quantity);
/// What is not filled in yet: a sentence, or empty.
QString whatLacks(const RuleDraft& draft, const TableOutline& known);

/// The keys of the rule, in the order they are read aloud.
RuleKeys keysOf(const RuleDraft& draft);
/// The rule as a form, if it is one of the shapes and says nothing the form has no field for.
std::optional<RuleDraft> draftOf(const RuleKeys& keys);
/// The tube table a draft makes: "{any_of: [{od: 40, wall: 2}]}"; empty if its tubes are none.
std::string tubeTableText(const RuleDraft& draft);

/// The text with the rule put in behind `after` (-1: at the end), with its tube table where that is new.
QString withDraft(const QString& text, const RuleDraft& draft, int after);
/// The text with the rule changed from what it was: only what the two drafts differ in is touched.
QString withChangedDraft(const QString& text, int rule, const RuleDraft& was, const RuleDraft& now);
/// An id no rule of the table has, from a few words: "Rear brace angle" -> "rear_brace_angle".
QString freeRuleId(const QString& words, const TableOutline& known);

}  // namespace hoopwright
