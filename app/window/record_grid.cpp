#include "app/window/record_grid.h"

#include <QHeaderView>
#include <QResizeEvent>

namespace hoopwright {

RecordGrid::RecordGrid(const QString& name, std::vector<Column> columns, Set set,
                       std::function<void(const QString&)> say, QWidget* parent)
    : QTableWidget(0, int(columns.size()), parent),
      columns_(std::move(columns)),
      set_(std::move(set)),
      say_(std::move(say)) {
    setAccessibleName(name);
    QStringList titles;
    for (const Column& column : columns_) titles << column.title;
    setHorizontalHeaderLabels(titles);
    for (int c = 0; c < columnCount(); ++c)
        horizontalHeaderItem(c)->setTextAlignment(
            (columns_[std::size_t(c)].figure ? Qt::AlignRight : Qt::AlignLeft) | Qt::AlignVCenter);
    horizontalHeader()->setSectionResizeMode(QHeaderView::Interactive);
    verticalHeader()->hide();
    setSelectionMode(QAbstractItemView::SingleSelection);
    setEditTriggers(QAbstractItemView::DoubleClicked | QAbstractItemView::AnyKeyPressed |
                    QAbstractItemView::SelectedClicked | QAbstractItemView::EditKeyPressed);
    setShowGrid(false);
    setAlternatingRowColors(true);
    setWordWrap(false);
    setTabKeyNavigation(true);
    connect(this, &QTableWidget::cellChanged, this, [this](int row, int column) { take(row, column); });
}

void RecordGrid::fill(const std::vector<QStringList>& rows) {
    filling_ = true;
    shown_ = rows;
    setRowCount(int(rows.size()));
    for (int r = 0; r < rowCount(); ++r) {
        for (int c = 0; c < columnCount(); ++c) {
            const Column& column = columns_[std::size_t(c)];
            QTableWidgetItem* one = item(r, c);
            if (!one) {
                one = new QTableWidgetItem;
                setItem(r, c, one);
            }
            one->setText(rows[std::size_t(r)].value(c));
            one->setToolTip(rows[std::size_t(r)].value(c));
            one->setTextAlignment((column.figure ? Qt::AlignRight : Qt::AlignLeft) | Qt::AlignVCenter);
            one->setFlags(column.typed ? Qt::ItemIsEnabled | Qt::ItemIsSelectable | Qt::ItemIsEditable
                                       : Qt::ItemIsEnabled | Qt::ItemIsSelectable);
        }
    }
    filling_ = false;
    shareWidth();
}

void RecordGrid::take(int row, int column) {
    if (filling_ || std::size_t(row) >= shown_.size()) return;
    const QString was = shown_[std::size_t(row)].value(column), words = item(row, column)->text().trimmed();
    if (words == was) return;
    const QString wrong = set_(row, column, words);
    say_(wrong);
    if (wrong.isEmpty()) return;
    filling_ = true;
    item(row, column)->setText(was);
    filling_ = false;
}

void RecordGrid::resizeEvent(QResizeEvent* event) {
    QTableWidget::resizeEvent(event);
    shareWidth();
}

void RecordGrid::shareWidth() {
    // No head is cut off: a column whose share is too little for its own keeps what it needs.
    const auto count = std::size_t(columnCount());
    std::vector<int> held(count, 0);
    int room = viewport()->width(), all = 0;
    for (const Column& column : columns_) all += column.stretch;
    for (bool again = true; again && all > 0;) {
        again = false;
        for (std::size_t c = 0; c < count && all > 0; ++c) {
            const int least = horizontalHeader()->sectionSizeHint(int(c));
            if (held[c] > 0 || room * columns_[c].stretch / all >= least) continue;
            held[c] = least;
            room -= least;
            all -= columns_[c].stretch;
            again = true;
        }
    }
    for (std::size_t c = 0; c < count; ++c)
        setColumnWidth(int(c), held[c] > 0 ? held[c] : room * columns_[c].stretch / std::max(1, all));
}

}  // namespace hoopwright
