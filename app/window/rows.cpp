#include "app/window/rows.h"

#include <QAbstractItemView>
#include <QItemSelectionModel>
#include <QPainter>
#include <QResizeEvent>
#include <algorithm>
#include <functional>
#include <utility>

#include "app/view/marks.h"
#include "app/window/style.h"

namespace hoopwright {
namespace {
constexpr int kRowHeight = 28, kHeaderHeight = 30, kTwoLines = 44, kMarkRoom = 24;

/// Has a row whose name must stay whole no room for the detail beside it? Measured at the weight of a chosen
/// row, so that choosing moves nothing.
bool takesTwoLines(const Row& row, double width) {
    if (!row.name_first || row.detail.isEmpty()) return false;
    const double room = width - 4 * kGrid - (row.mark ? kMarkRoom : 0);
    const QFontMetricsF name(typeFont(TypeSize::body, TypeWeight::medium));
    return name.horizontalAdvance(row.title) + kGrid + figuresWidth(typeFont(TypeSize::small), row.detail) >
           room;
}

/// Tells when a list is as wide as it was no more: the rows' heights hang on it, and a list that runs down
/// looks at its own height alone.
class WidthWatch : public QObject {
public:
    WidthWatch(QWidget* watched, std::function<void()> changed)
        : QObject(watched), changed_(std::move(changed)) {
        watched->installEventFilter(this);
    }

protected:
    bool eventFilter(QObject*, QEvent* event) override {
        if (event->type() != QEvent::Resize) return false;
        const auto* resize = static_cast<QResizeEvent*>(event);
        if (resize->size().width() != resize->oldSize().width()) changed_();
        return false;
    }

private:
    std::function<void()> changed_;
};
}  // namespace

void RowsModel::setRows(std::vector<Row> rows) {
    const auto sameThing = [](const Row& a, const Row& b) {
        return a.header == b.header && a.thing == b.thing;
    };
    if (std::equal(rows.begin(), rows.end(), rows_.begin(), rows_.end(), sameThing)) {
        if (rows == rows_) return;
        rows_ = std::move(rows);
        if (!rows_.empty()) emit dataChanged(index(0), index(int(rows_.size()) - 1));
        return;
    }
    beginResetModel();
    rows_ = std::move(rows);
    endResetModel();
}

int RowsModel::indexOf(const Thing& thing) const {
    const auto found =
        std::find_if(rows_.begin(), rows_.end(), [&](const Row& row) { return row.thing == thing; });
    return found == rows_.end() ? -1 : int(found - rows_.begin());
}

int RowsModel::rowCount(const QModelIndex& parent) const {
    return parent.isValid() ? 0 : int(rows_.size());
}

QVariant RowsModel::data(const QModelIndex& index, int role) const {
    if (!index.isValid()) return {};
    const Row& one = row(index.row());
    switch (role) {
        case Qt::DisplayRole:
            return one.title;
        case Qt::ToolTipRole:
            return one.tip.isEmpty() ? QVariant() : one.tip;
        case Qt::AccessibleTextRole: {
            QString words = one.title;
            if (one.mark) {
                const std::string_view answer = answerWord(*one.mark);
                words += QStringLiteral(", ") + QString::fromUtf8(answer.data(), qsizetype(answer.size()));
            }
            return one.detail.isEmpty() ? words : words + QStringLiteral(", ") + one.detail;
        }
        default:
            return {};
    }
}

Qt::ItemFlags RowsModel::flags(const QModelIndex& index) const {
    if (!index.isValid() || row(index.row()).header || !row(index.row()).thing) return Qt::NoItemFlags;
    return Qt::ItemIsEnabled | Qt::ItemIsSelectable;
}

QSize RowsDelegate::sizeHint(const QStyleOptionViewItem&, const QModelIndex& index) const {
    const Row& row = static_cast<const RowsModel*>(index.model())->row(index.row());
    if (row.header) return {10, kHeaderHeight};
    const auto* view = qobject_cast<const QAbstractItemView*>(parent());
    return {10, view && takesTwoLines(row, view->viewport()->width()) ? kTwoLines : kRowHeight};
}

void RowsDelegate::paint(QPainter* painter, const QStyleOptionViewItem& option,
                         const QModelIndex& index) const {
    const Row& row = static_cast<const RowsModel*>(index.model())->row(index.row());
    const Palette& p = desk_.palette();
    painter->save();
    painter->setRenderHint(QPainter::Antialiasing);
    QRectF box = QRectF(option.rect).adjusted(kGrid, 0, -kGrid, 0);
    if (row.header) {
        QFont font = typeFont(TypeSize::small, TypeWeight::medium);
        painter->setFont(font);
        painter->setPen(p.ink_soft);
        const QRectF head = box.adjusted(kGrid, 0, -kGrid, -4);
        const double taken =
            row.detail.isEmpty() ? 0 : figuresWidth(typeFont(TypeSize::small), row.detail) + kGrid;
        const QString title =
            painter->fontMetrics().elidedText(row.title, Qt::ElideRight, int(head.width() - taken));
        painter->drawText(head, Qt::AlignLeft | Qt::AlignBottom, title);
        painter->setFont(typeFont(TypeSize::small));
        drawFigures(*painter, head, Qt::AlignRight | Qt::AlignBottom, row.detail);
        painter->restore();
        return;
    }
    const bool chosen = option.state & QStyle::State_Selected;
    const bool hover = option.state & QStyle::State_MouseOver;
    if (chosen || (hover && row.thing)) {
        painter->setPen(Qt::NoPen);
        painter->setBrush(chosen ? p.chosen : p.field);
        painter->drawRoundedRect(box.adjusted(0, 1, 0, -1), 6, 6);
    }
    if ((option.state & QStyle::State_HasFocus) && chosen) {
        painter->setPen(p.accent_edge);
        painter->setBrush(Qt::NoBrush);
        painter->drawRoundedRect(box.adjusted(0.5, 1.5, -0.5, -1.5), 6, 6);
    }
    box.adjust(kGrid, 0, -kGrid, 0);
    if (row.mark) paintMark(*painter, QRectF(box.left(), box.center().y() - 7, 14, 14), *row.mark, p);
    box.setLeft(box.left() + (row.mark ? kMarkRoom : 0));
    const QFont small = typeFont(TypeSize::small);
    painter->setFont(typeFont(TypeSize::body, chosen ? TypeWeight::medium : TypeWeight::plain));
    painter->setPen(row.faint ? p.ink_soft : p.ink);
    double detail = row.detail.isEmpty() ? 0 : std::min(figuresWidth(small, row.detail), box.width() * 0.6);
    // The detail goes under a name it has no room beside.
    const bool two_lines = box.height() > kRowHeight + 1;
    if (two_lines) detail = box.width();
    const QRectF left = two_lines ? box.adjusted(0, 4, 0, -box.height() / 2)
                                  : box.adjusted(0, 0, detail > 0 ? -detail - kGrid : 0, 0);
    // The end tells left from right: what does not fit loses its middle.
    painter->drawText(left, Qt::AlignLeft | Qt::AlignVCenter,
                      painter->fontMetrics().elidedText(row.title, Qt::ElideMiddle, int(left.width())));
    painter->setFont(small);
    painter->setPen(p.ink_soft);
    const QRectF right = two_lines ? box.adjusted(0, box.height() / 2 - 1, 0, -4)
                                   : box.adjusted(box.width() - detail, 0, 0, 0);
    const QString words =
        painter->fontMetrics().elidedText(row.detail, Qt::ElideRight, int(right.width()) + 8);
    const Qt::Alignment side = two_lines ? Qt::AlignLeft : Qt::AlignRight;
    if (detail > 0) drawFigures(*painter, right, side | Qt::AlignVCenter, words);
    painter->restore();
}

RowsView::RowsView(Desk& desk, const QString& name, QWidget* parent)
    : QListView(parent), desk_(desk), rows_(new RowsModel(this)) {
    setAccessibleName(name);
    setModel(rows_);
    setItemDelegate(new RowsDelegate(desk, this));
    setSelectionMode(QAbstractItemView::ExtendedSelection);
    setVerticalScrollMode(QAbstractItemView::ScrollPerPixel);
    setHorizontalScrollBarPolicy(Qt::ScrollBarAlwaysOff);
    setMouseTracking(true);
    new WidthWatch(viewport(), [this] { scheduleDelayedItemsLayout(); });
    setEditTriggers(QAbstractItemView::NoEditTriggers);
    connect(selectionModel(), &QItemSelectionModel::selectionChanged, this, &RowsView::pushSelection);
    connect(&desk_.selection, &Selection::changed, this, &RowsView::pullSelection);
    connect(&desk_, &Desk::paletteChanged, this, [this] { viewport()->update(); });
    connect(this, &QListView::activated, this, [this](const QModelIndex& index) {
        if (const auto& thing = rows_->row(index.row()).thing) emit entered(*thing);
    });
}

void RowsView::setRows(std::vector<Row> rows) {
    pulling_ = true;
    rows_->setRows(std::move(rows));
    pulling_ = false;
    pullSelection();
}

void RowsView::pushSelection() {
    if (pulling_) return;
    std::vector<Thing> now;
    for (const QModelIndex& index : selectionModel()->selectedIndexes()) {
        if (const auto& thing = rows_->row(index.row()).thing) now.push_back(*thing);
    }
    // Keep the order of choosing: what was chosen before stays before what is new.
    std::vector<Thing> ordered;
    for (const Thing& thing : desk_.selection.all()) {
        if (std::find(now.begin(), now.end(), thing) != now.end()) ordered.push_back(thing);
    }
    for (const Thing& thing : now) {
        if (std::find(ordered.begin(), ordered.end(), thing) == ordered.end()) ordered.push_back(thing);
    }
    desk_.selection.set(std::move(ordered));
}

void RowsView::pullSelection() {
    if (pulling_) return;
    pulling_ = true;
    QItemSelection wanted;
    QModelIndex last;
    for (const Thing& thing : desk_.selection.all()) {
        const int at = rows_->indexOf(thing);
        if (at < 0) continue;
        last = rows_->index(at);
        wanted.select(last, last);
    }
    if (wanted != selectionModel()->selection()) {
        selectionModel()->select(wanted, QItemSelectionModel::ClearAndSelect);
        if (last.isValid()) {
            selectionModel()->setCurrentIndex(last, QItemSelectionModel::NoUpdate);
            scrollTo(last);
        }
    }
    pulling_ = false;
}

}  // namespace hoopwright
