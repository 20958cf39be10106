// Colours for the text of a rule table.
#pragma once

#include <QSyntaxHighlighter>

#include "app/view/palette.h"

namespace hoopwright {

/// The colours of words on a card, each 4.5:1 or more on it (WCAG 2.2, 1.4.3).
struct TableColours {
    QColor key, comparison, quantity, number, name, remark;
};
TableColours tableColoursOf(Tone tone);

class TableHighlighter : public QSyntaxHighlighter {
    Q_OBJECT
public:
    TableHighlighter(QTextDocument* document, Tone tone);
    void setTone(Tone tone);

protected:
    void highlightBlock(const QString& line) override;

private:
    void colourWords(const QString& line);
    void colourKeys(const QString& line);
    TableColours colours_;
};

}  // namespace hoopwright
