#include "app/window/measuring_walk.h"

#include <QApplication>
#include <QLabel>
#include <QTimer>
#include <QVBoxLayout>
#include <algorithm>

#include "app/window/fields.h"
#include "app/window/form_help.h"
#include "app/window/stage_sketch.h"
#include "app/window/style.h"

namespace hoopwright {
namespace {

constexpr int kRoomForSketch = 440;

QWidget* stageHead(const MeasuringStage& stage, QWidget* parent) {
    auto* head = new QWidget(parent);
    auto* column = new QVBoxLayout(head);
    column->setContentsMargins(2 * kGrid, 2 * kGrid, 2 * kGrid, kGrid / 2);
    column->setSpacing(2);
    auto* title = new QLabel(text(stage.title), head);
    title->setFont(typeFont(TypeSize::head, TypeWeight::strong));
    title->setWordWrap(true);
    auto* about = new QLabel(text(stage.about), head);
    about->setFont(typeFont(TypeSize::small));
    about->setProperty("role", "soft");
    about->setWordWrap(true);
    column->addWidget(title);
    column->addWidget(about);
    return head;
}

}  // namespace

MeasuringWalk::MeasuringWalk(Desk& desk, QWidget* parent)
    : QWidget(parent), desk_(desk), sketch_(new StageSketch(desk, this)), scroll_(new QScrollArea(this)) {
    setAccessibleName(tr("Measuring walk"));
    auto* column = new QVBoxLayout(this);
    column->setContentsMargins(0, 0, 0, 0);
    column->setSpacing(0);
    column->addWidget(sketch_);
    column->addWidget(scroll_, 1);
    scroll_->setObjectName(QStringLiteral("card"));
    scroll_->setWidgetResizable(true);
    scroll_->setFrameShape(QFrame::NoFrame);
    scroll_->setHorizontalScrollBarPolicy(Qt::ScrollBarAlwaysOff);
    scroll_->setFocusPolicy(Qt::NoFocus);
    connect(&desk_.document, &Document::changed, this, [this](Document::Change change) {
        const Car& car = desk_.document.job().car;
        if (change == Document::Change::replaced || car.body != body_ || car.frame != frame_) stale_ = true;
        if (isVisible()) refresh();
    });
    connect(&desk_, &Desk::unitsChanged, this, [this] {
        if (isVisible()) refresh();
    });
    connect(&desk_.selection, &Selection::changed, this, &MeasuringWalk::followSelection);
    connect(sketch_, &StageSketch::wanted, this, [this](int number) {
        if (MeasuringRow* wanted = row(number); wanted && !wanted->boxes().empty())
            focusBox(*wanted->boxes().front());
    });
}

void MeasuringWalk::showEvent(QShowEvent*) {
    refresh();
    followSelection();
}

void MeasuringWalk::resizeEvent(QResizeEvent*) {
    sketch_->setVisible(height() >= kRoomForSketch);
}

void MeasuringWalk::rebuild() {
    stale_ = false;
    const Car& car = desk_.document.job().car;
    body_ = car.body;
    frame_ = car.frame;
    walk_ = std::make_shared<const std::vector<MeasuringStage>>(measuringWalk(body_, frame_));
    rows_.clear();
    current_ = nullptr;
    auto* page = new QWidget;
    page->setObjectName(QStringLiteral("page"));
    auto* column = new QVBoxLayout(page);
    column->setContentsMargins(0, 0, 0, 2 * kGrid);
    column->setSpacing(0);
    for (const MeasuringStage& stage : *walk_) {
        column->addWidget(stageHead(stage, page));
        for (const MeasuringItem& item : stage.items) {
            auto* row = new MeasuringRow(desk_, walk_, item, MeasuringRow::Dress::whole, page);
            column->addWidget(row);
            rows_.push_back(row);
            connect(row, &MeasuringRow::entered, this, [this, row] { setCurrent(row, true); });
            connect(row, &MeasuringRow::wantsNext, this, [this, row] { goNext(*row); });
            connect(row, &MeasuringRow::reshaped, this, &MeasuringWalk::orderTabs);
        }
    }
    column->addStretch(1);
    scroll_->setWidget(page);  // the old page goes with it
    setCurrent(rows_.front(), false);
}

void MeasuringWalk::refresh() {
    if (stale_) {
        rebuild();
        return;
    }
    for (MeasuringRow* row : rows_) row->refresh();
}

std::vector<ValueField*> MeasuringWalk::boxes() const {
    std::vector<ValueField*> all;
    for (const MeasuringRow* row : rows_) all.insert(all.end(), row->boxes().begin(), row->boxes().end());
    return all;
}

/// Boxes made anew come last in Qt's order: they go back to their place.
void MeasuringWalk::orderTabs() {
    const std::vector<ValueField*> all = boxes();
    for (std::size_t i = 1; i < all.size(); ++i) QWidget::setTabOrder(all[i - 1], all[i]);
}

MeasuringRow* MeasuringWalk::row(int number) const {
    const auto found =
        std::ranges::find_if(rows_, [&](const MeasuringRow* one) { return one->item().number == number; });
    return found == rows_.end() ? nullptr : *found;
}

void MeasuringWalk::setCurrent(MeasuringRow* row, bool choose) {
    if (row != current_) {
        if (current_) current_->setCurrent(false);
        current_ = row;
        row->setCurrent(true);
        for (const MeasuringStage& stage : *walk_) {
            for (const MeasuringItem& item : stage.items) {
                if (item.number == row->item().number) sketch_->showStage(body_, frame_, stage, item.number);
            }
        }
    }
    // Once its words have their room.
    QTimer::singleShot(0, row, [this, row] { scroll_->ensureWidgetVisible(row, 0, kGrid); });
    if (!choose) return;
    choosing_ = true;
    const MeasuringItem& item = row->item();
    if (item.kind == MeasuringItem::Kind::point && desk_.document.job().car.point(item.name)) {
        desk_.selection.set({Thing::Kind::car_point, item.name});
    } else {
        desk_.selection.clear();
    }
    choosing_ = false;
}

void MeasuringWalk::followSelection() {
    if (choosing_ || !isVisible()) return;
    const Thing* last = desk_.selection.last();
    if (!last || last->kind != Thing::Kind::car_point) return;
    const MeasuringItem* item = itemOf(*walk_, last->id);
    if (!item) return;
    if (MeasuringRow* chosen = row(item->number)) setCurrent(chosen, false);
}

void MeasuringWalk::focusBox(ValueField& box) {
    box.setFocus(Qt::TabFocusReason);
}

void MeasuringWalk::goNext(MeasuringRow& row) {
    const std::vector<ValueField*> all = boxes();
    const auto own = std::ranges::find_if(row.boxes(), [](const ValueField* box) { return box->hasFocus(); });
    if (own == row.boxes().end()) return;
    auto at = std::ranges::find(all, *own);
    if (at == all.end()) return;
    if (++at != all.end()) {
        focusBox(**at);
    } else {
        emit desk_.say(tr("That was the last figure of the walk."));
    }
}

void MeasuringWalk::goToBlank(int by) {
    if (stale_ || rows_.empty()) refresh();
    std::vector<std::pair<ValueField*, bool>> all;
    for (const MeasuringRow* row : rows_) {
        for (std::size_t i = 0; i < row->boxes().size(); ++i)
            all.emplace_back(row->boxes()[i], row->isBlank(i));
    }
    const int count = int(all.size());
    int at = by > 0 ? -1 : count;
    for (int i = 0; i < count; ++i) {
        if (all[std::size_t(i)].first->hasFocus()) at = i;
    }
    for (int n = 1; n <= count; ++n) {
        const auto& [box, blank] = all[std::size_t(((at + n * by) % count + count) % count)];
        if (!blank) continue;
        focusBox(*box);
        return;
    }
    emit desk_.say(tr("Every figure of the walk is read."));
}

void MeasuringWalk::focusFirst() {
    if (current_ && current_ != rows_.front() && !current_->boxes().empty()) {
        focusBox(*current_->boxes().front());
        return;
    }
    for (const MeasuringRow* row : rows_) {
        for (std::size_t i = 0; i < row->boxes().size(); ++i) {
            if (!row->isBlank(i)) continue;
            focusBox(*row->boxes()[i]);
            return;
        }
    }
    if (!rows_.empty() && !rows_.front()->boxes().empty()) focusBox(*rows_.front()->boxes().front());
}

void MeasuringWalk::askWay() {
    if (current_) current_->askWay();
}

}  // namespace hoopwright
