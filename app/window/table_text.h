// The text of a table being edited: line numbers, underlined places, words offered as one types.
#pragma once

#include <QPlainTextEdit>
#include <functional>
#include <vector>

#include "app/window/desk.h"
#include "app/window/table_words.h"

class QCompleter;
class QStandardItemModel;

namespace hoopwright {

class TableHighlighter;

/// A place of the text that something is said of. Line and column count from 1, columns in characters.
struct TextMark {
    int line = 0, column = 0;
    bool wrong = true;  ///< false: to be known, nothing is wrong
    QString words;
    friend bool operator==(const TextMark&, const TextMark&) = default;
};

class TableText : public QPlainTextEdit {
    Q_OBJECT
public:
    TableText(Desk& desk, QWidget* parent = nullptr);

    void setMarks(std::vector<TextMark> marks);
    const std::vector<TextMark>& marks() const { return marks_; }
    /// The names of the table as it last read, offered where they fit.
    void setKnown(TableOutline known) { known_ = std::move(known); }
    /// Puts the cursor there, in the middle of what is seen.
    void goTo(int line, int column);
    /// Puts another text in the place of the whole as one step of undo; what did not change stays where it
    /// is.
    void replaceAll(const QString& text);
    int line() const;    ///< of the cursor, from 1
    int column() const;  ///< of the cursor, from 1
    /// Bytes of UTF-8 before the cursor.
    std::size_t byte() const;
    void offerWords();  ///< the list of words that fit, whatever is typed
    bool offering() const;

    int gutterWidth() const;
    void paintGutter(QPainter& painter, const QRect& rect);

signals:
    void saveWanted();
    void saveAsWanted();

protected:
    bool event(QEvent* event) override;
    void keyPressEvent(QKeyEvent* event) override;
    void resizeEvent(QResizeEvent* event) override;

private:
    void underline();
    void dress();
    void fillWords(const WordsHere& here);
    void take(const QString& word);
    QTextCursor cursorAt(int line, int column) const;
    const TextMark* markAt(const QPoint& place) const;
    void newLine();

    Desk& desk_;
    QWidget* gutter_;
    TableHighlighter* colours_;
    QCompleter* completer_;
    QStandardItemModel* words_;
    std::vector<TextMark> marks_;
    TableOutline known_;
    bool keys_offered_ = false;
};

}  // namespace hoopwright
