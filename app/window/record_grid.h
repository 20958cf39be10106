// A list of records that are typed into, row by row.
#pragma once

#include <QStringList>
#include <QTableWidget>
#include <functional>
#include <initializer_list>
#include <utility>
#include <vector>

class QHBoxLayout;

namespace hoopwright {

class RecordGrid : public QTableWidget {
public:
    struct Column {
        QString title;
        bool typed = false;   ///< the person may type into it
        bool figure = false;  ///< stands right
        int stretch = 1;      ///< share of the width that is left once no figure is broken
        QString sample = {};  ///< it has room for these words, also while it is empty: no column moves
    };
    /// Takes what was typed; a sentence if it will not do, and then the old words stand again.
    using Set = std::function<QString(int row, int column, const QString& words)>;

    /// `name`: for assistive tools. `say` is given the sentence, or nothing when all is well.
    RecordGrid(const QString& name, std::vector<Column> columns, Set set,
               std::function<void(const QString&)> say, QWidget* parent = nullptr);
    /// Rows as they are now; the place of the keyboard stays.
    void fill(const std::vector<QStringList>& rows);
    int chosenRow() const { return currentRow(); }

protected:
    void resizeEvent(QResizeEvent* event) override;
    /// Enter goes on to the next row, as in a list that is worked down.
    void closeEditor(QWidget* editor, QAbstractItemDelegate::EndEditHint hint) override;

private:
    void take(int row, int column);
    void shareWidth();
    int wordsWidth(int column) const;  ///< on one line, with the room beside them
    std::vector<Column> columns_;
    Set set_;
    std::function<void(const QString&)> say_;
    std::vector<QStringList> shown_;
    bool filling_ = false, refused_ = false;
};

/// What is wrong with a day that was typed; empty: nothing, or nothing was typed.
QString dayTrouble(const QString& words);
/// A row of buttons under a grid.
QHBoxLayout* buttonRow(QWidget* parent,
                       std::initializer_list<std::pair<QString, std::function<void()>>> list);

}  // namespace hoopwright
