// The words a rule table can say: what each means, and which fit at a place of a text.
#pragma once

#include <QString>
#include <vector>

#include "rules/table_outline.h"

namespace hoopwright {

struct TableWord {
    QString word;
    QString meaning;  ///< one sentence; may be empty
};

/// What may stand where the cursor is.
struct WordsHere {
    std::vector<TableWord> words;
    QString begun;          ///< the letters of the word that are typed already, before the cursor
    bool are_keys = false;  /// keys want a colon behind them
};
/// `position` counts characters of the text; `known` are the names of the table as it last read. Works on a
/// text that does not read: it looks at indents, brackets and the keys before the cursor alone.
WordsHere wordsAt(const QString& text, int position, const TableOutline& known);

/// What a key or a quantity means; empty if it is neither.
QString meaningOf(const QString& word);
/// The keys that compare: at_least, between, ...
bool isComparison(const QString& key);
bool isQuantity(const QString& word);
/// Where in a line a remark begins: the place of its `#`, or -1.
int remarkStart(const QString& line);

}  // namespace hoopwright
