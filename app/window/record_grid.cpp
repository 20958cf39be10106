#include "app/window/record_grid.h"

#include <QFontMetrics>
#include <QHBoxLayout>
#include <QHeaderView>
#include <QPushButton>
#include <QResizeEvent>
#include <algorithm>

#include "core/files/yaml_map.h"

namespace hoopwright {
namespace {

constexpr int kCellRoom = 14;  ///< beside a cell's words
constexpr int kRowHigh = 28, kRowAir = 6;

}  // namespace

QString dayTrouble(const QString& words) {
    return words.isEmpty() || isDate(words.toStdString())
               ? QString()
               : QObject::tr("'%1' is no day: write it as 2026-03-02.").arg(words);
}

QHBoxLayout* buttonRow(QWidget* parent,
                       std::initializer_list<std::pair<QString, std::function<void()>>> list) {
    auto* row = new QHBoxLayout;
    for (const auto& [words, run] : list) {
        auto* button = new QPushButton(words, parent);
        QObject::connect(button, &QPushButton::clicked, parent, run);
        row->addWidget(button);
    }
    row->addStretch();
    return row;
}

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
    horizontalHeader()->setHighlightSections(false);
    // Heads stand over the words under them.
    horizontalHeader()->setStyleSheet(QStringLiteral("QHeaderView::section { padding: 2px 3px; }"));
    verticalHeader()->hide();
    setSelectionMode(QAbstractItemView::SingleSelection);
    setEditTriggers(QAbstractItemView::DoubleClicked | QAbstractItemView::AnyKeyPressed |
                    QAbstractItemView::SelectedClicked | QAbstractItemView::EditKeyPressed);
    setShowGrid(false);
    setAlternatingRowColors(true);
    setWordWrap(true);
    verticalHeader()->setMinimumSectionSize(kRowHigh);
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
            one->setData(Qt::ForegroundRole, {});
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
    refused_ = !wrong.isEmpty();
    if (!refused_) return;
    filling_ = true;
    item(row, column)->setText(was);
    filling_ = false;
}

void RecordGrid::closeEditor(QWidget* editor, QAbstractItemDelegate::EndEditHint hint) {
    QTableWidget::closeEditor(editor, hint);
    const bool enter = hint == QAbstractItemDelegate::SubmitModelCache;
    if (enter && !refused_ && currentRow() >= 0 && currentRow() + 1 < rowCount())
        setCurrentCell(currentRow() + 1, currentColumn());
    refused_ = false;
}

void RecordGrid::resizeEvent(QResizeEvent* event) {
    QTableWidget::resizeEvent(event);
    shareWidth();
}

int RecordGrid::wordsWidth(int column) const {
    const Column& one = columns_[std::size_t(column)];
    const QFontMetrics metrics(font());
    if (!one.sample.isEmpty()) return metrics.horizontalAdvance(one.sample) + kCellRoom;
    int wide = metrics.horizontalAdvance(one.figure ? QStringLiteral("-0000.00 mm") : QString());
    for (const QStringList& row : shown_) wide = std::max(wide, metrics.horizontalAdvance(row.value(column)));
    return wide + kCellRoom;
}

void RecordGrid::shareWidth() {
    // No head is cut off and no figure is broken: such a column keeps what it needs. Words may wrap, so they
    // share what is left; none takes more than its longest while another has too little.
    const auto count = std::size_t(columnCount());
    std::vector<int> wide(count, 0), wanted(count, 0);
    int room = viewport()->width();
    for (std::size_t c = 0; c < count; ++c) {
        const int head = horizontalHeader()->sectionSizeHint(int(c));
        wanted[c] = std::max(head, wordsWidth(int(c)));
        // A column with a sample stays as wide as that, whatever comes to stand in it.
        const bool sampled = !columns_[c].figure && !columns_[c].sample.isEmpty();
        wide[c] = sampled || columns_[c].figure ? wanted[c] : head;
        room -= wide[c];
    }
    const auto give = [&](const auto& most) {
        for (bool again = true; again && room > 0;) {
            again = false;
            int all = 0;
            for (std::size_t c = 0; c < count; ++c)
                if (wide[c] < most(c)) all += columns_[c].stretch;
            const int now = room;
            for (std::size_t c = 0; c < count && all > 0; ++c) {
                if (wide[c] >= most(c)) continue;
                const int more = std::min(most(c) - wide[c], now * columns_[c].stretch / all);
                wide[c] += more;
                room -= more;
                again = again || more > 0;
            }
        }
    };
    give([&](std::size_t c) { return wanted[c]; });
    give([](std::size_t) { return 1 << 20; });
    for (std::size_t c = 0; c < count; ++c) setColumnWidth(int(c), wide[c]);
    resizeRowsToContents();
    for (int r = 0; r < rowCount(); ++r)
        if (rowHeight(r) > kRowHigh) setRowHeight(r, rowHeight(r) + kRowAir);
}

}  // namespace hoopwright
