// A list of records that are typed into, row by row.
#pragma once

#include <QStringList>
#include <QTableWidget>
#include <functional>
#include <vector>

namespace hoopwright {

class RecordGrid : public QTableWidget {
public:
    struct Column {
        QString title;
        bool typed = false;   ///< the person may type into it
        bool figure = false;  ///< stands right
        int stretch = 1;      ///< share of the width
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

private:
    void take(int row, int column);
    void shareWidth();
    std::vector<Column> columns_;
    Set set_;
    std::function<void(const QString&)> say_;
    std::vector<QStringList> shown_;
    bool filling_ = false;
};

}  // namespace hoopwright
