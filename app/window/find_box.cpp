#include "app/window/find_box.h"

#include <QApplication>
#include <QKeyEvent>
#include <QPainter>
#include <QRegularExpression>
#include <QStandardItemModel>
#include <QStyledItemDelegate>
#include <algorithm>
#include <utility>

#include "app/window/style.h"

namespace hoopwright {
namespace {

constexpr int kMostShown = 10, kFoundHeight = 30;

class FoundDelegate : public QStyledItemDelegate {
public:
    FoundDelegate(const Desk& desk, QObject* parent) : QStyledItemDelegate(parent), desk_(desk) {}
    QSize sizeHint(const QStyleOptionViewItem&, const QModelIndex&) const override {
        return {10, kFoundHeight};
    }
    void paint(QPainter* painter, const QStyleOptionViewItem& option,
               const QModelIndex& index) const override {
        const Palette& p = desk_.palette();
        const bool chosen = option.state & QStyle::State_Selected;
        painter->fillRect(option.rect, chosen ? p.chosen : p.card);
        const QRectF box = QRectF(option.rect).adjusted(12, 0, -12, 0);
        const QString kind = index.data(Qt::UserRole).toString();
        painter->setFont(typeFont(TypeSize::small));
        painter->setPen(p.ink_soft);
        painter->drawText(box, Qt::AlignRight | Qt::AlignVCenter, kind);
        const int taken = painter->fontMetrics().horizontalAdvance(kind) + 12;
        painter->setFont(typeFont(TypeSize::body, chosen ? TypeWeight::medium : TypeWeight::plain));
        painter->setPen(p.ink);
        const QString words = painter->fontMetrics().elidedText(index.data().toString(), Qt::ElideRight,
                                                                int(box.width()) - taken);
        painter->drawText(box, Qt::AlignLeft | Qt::AlignVCenter, words);
    }

private:
    const Desk& desk_;
};

}  // namespace

int findScore(const QString& typed, const QString& words) {
    int score = 0;
    // What is typed is taken apart as the words are: "Tie to the frame, bolted" finds itself.
    static const QRegularExpression kBetween(QStringLiteral("[^\\w]+|_"));
    const QStringList parts = words.toLower().split(kBetween, Qt::SkipEmptyParts);
    for (const QString& wanted : typed.toLower().split(kBetween, Qt::SkipEmptyParts)) {
        int best = -1;
        for (int i = 0; i < parts.size(); ++i) {
            if (!parts[i].startsWith(wanted)) continue;
            const int cost = i * 4 + int(parts[i].size() - wanted.size());
            if (best < 0 || cost < best) best = cost;
        }
        if (best < 0) return -1;
        score += best;
    }
    return score;
}

FindBox::FindBox(Desk& desk, std::function<std::vector<Findable>()> all, QWidget* parent)
    : QLineEdit(parent), all_(std::move(all)), list_(new QListView), model_(new QStandardItemModel(this)) {
    setPlaceholderText(tr("Find a bar, rule, point or command"));
    setAccessibleName(tr("Find anything"));
    setClearButtonEnabled(false);
    list_->setWindowFlags(Qt::ToolTip);
    list_->setFocusPolicy(Qt::NoFocus);
    list_->setFocusProxy(this);
    list_->setModel(model_);
    list_->setItemDelegate(new FoundDelegate(desk, list_));
    list_->setEditTriggers(QAbstractItemView::NoEditTriggers);
    list_->setVerticalScrollBarPolicy(Qt::ScrollBarAlwaysOff);
    list_->setAccessibleName(tr("Found"));
    connect(this, &QLineEdit::textEdited, this, &FindBox::search);
    connect(list_, &QListView::clicked, this, [this](const QModelIndex& index) { take(index.row()); });
}

FindBox::~FindBox() {
    delete list_;
}

bool FindBox::event(QEvent* event) {
    if (event->type() == QEvent::ShortcutOverride &&
        static_cast<QKeyEvent*>(event)->key() == Qt::Key_Escape) {
        event->accept();
        return true;
    }
    return QLineEdit::event(event);
}

void FindBox::search() {
    model_->clear();
    shown_.clear();
    std::vector<std::pair<int, Findable>> found;
    if (!text().trimmed().isEmpty()) {
        for (Findable& one : all_()) {
            const int score = findScore(text(), one.words);
            if (score >= 0) found.emplace_back(score, std::move(one));
        }
    }
    std::stable_sort(found.begin(), found.end(),
                     [](const auto& a, const auto& b) { return a.first < b.first; });
    for (auto& [score, one] : found) {
        if (int(shown_.size()) == kMostShown) break;
        auto* item = new QStandardItem(one.words);
        item->setData(one.kind, Qt::UserRole);
        item->setAccessibleText(one.words + QStringLiteral(", ") + one.kind);
        model_->appendRow(item);
        shown_.push_back(std::move(one));
    }
    if (shown_.empty()) {
        list_->hide();
        return;
    }
    list_->setCurrentIndex(model_->index(0, 0));
    list_->setGeometry(QRect(mapToGlobal(QPoint(0, height() + 4)),
                             QSize(std::max(width(), 360), kFoundHeight * int(shown_.size()) + 4)));
    list_->show();
}

void FindBox::take(int row) {
    if (row < 0 || row >= int(shown_.size())) return;
    const auto go = shown_[std::size_t(row)].go;
    clear();
    list_->hide();
    leave();
    go();
}

void FindBox::keyPressEvent(QKeyEvent* event) {
    const int row = list_->currentIndex().row();
    switch (event->key()) {
        case Qt::Key_Down:
        case Qt::Key_Up: {
            const int to = std::clamp(row + (event->key() == Qt::Key_Down ? 1 : -1), 0,
                                      std::max(0, model_->rowCount() - 1));
            list_->setCurrentIndex(model_->index(to, 0));
            return;
        }
        case Qt::Key_Return:
        case Qt::Key_Enter:
            if (list_->isVisible()) take(row);
            return;
        case Qt::Key_Escape:
            clear();
            list_->hide();
            leave();
            return;
        default:
            QLineEdit::keyPressEvent(event);
    }
}

void FindBox::leave() {
    if (before_ && before_->isVisible()) {
        before_->setFocus(Qt::OtherFocusReason);
    } else {
        clearFocus();
    }
}

void FindBox::begin() {
    if (!hasFocus()) before_ = QApplication::focusWidget();
    setFocus(Qt::ShortcutFocusReason);
    selectAll();
}

void FindBox::focusOutEvent(QFocusEvent* event) {
    list_->hide();
    QLineEdit::focusOutEvent(event);
}

}  // namespace hoopwright
