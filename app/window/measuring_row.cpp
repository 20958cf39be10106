#include "app/window/measuring_row.h"

#include <QAction>
#include <QGridLayout>
#include <QHBoxLayout>
#include <QKeyEvent>
#include <QLabel>
#include <QMenu>
#include <QPainter>
#include <QPointer>
#include <QRegularExpression>
#include <QStyle>
#include <QTimer>
#include <QToolButton>
#include <QVBoxLayout>
#include <algorithm>

#include "app/view/marks.h"
#include "app/window/fields.h"
#include "app/window/form_help.h"
#include "app/window/style.h"
#include "app/window/words.h"
#include "core/survey/survey.h"
#include "core/survey/walk_lines.h"

namespace hoopwright {
namespace {

constexpr int kBadge = 22, kBox = 112, kResidual = 46;

QLabel* wordsLabel(TypeSize size, TypeWeight weight, const char* role, QWidget* parent) {
    auto* label = new QLabel(parent);
    label->setFont(typeFont(size, weight));
    label->setWordWrap(true);
    if (role) label->setProperty("role", role);
    return label;
}

void say(QLabel& label, const QString& words) {
    label.setText(words);
    label.setVisible(!words.isEmpty());
}

void dress(QWidget& widget, const char* property, const QVariant& value) {
    if (widget.property(property) == value) return;
    widget.setProperty(property, value);
    widget.style()->unpolish(&widget);
    widget.style()->polish(&widget);
}

}  // namespace

MeasuringRow::MeasuringRow(Desk& desk, Walk walk, const MeasuringItem& item, Dress dress, QWidget* parent)
    : QWidget(parent),
      desk_(desk),
      walk_(std::move(walk)),
      dress_(dress),
      item_(item),
      title_(wordsLabel(TypeSize::body, TypeWeight::medium, nullptr, this)),
      hook_(wordsLabel(TypeSize::small, TypeWeight::plain, "soft", this)),
      caution_(wordsLabel(TypeSize::small, TypeWeight::plain, nullptr, this)),
      good_to_(wordsLabel(TypeSize::small, TypeWeight::plain, "soft", this)),
      said_(wordsLabel(TypeSize::small, TypeWeight::plain, "wrong", this)),
      way_(new QToolButton(this)) {
    auto* column = new QVBoxLayout(this);
    const bool whole = dress_ == Dress::whole;
    if (whole) {
        column->setContentsMargins(2 * kGrid, kGrid, 2 * kGrid, kGrid);
    } else {
        column->setContentsMargins(0, 0, 0, 0);
    }
    column->setSpacing(4);
    auto* words = new QVBoxLayout;
    words->setContentsMargins(kBadge + kGrid, 2, 0, 0);
    words->setSpacing(1);
    words->addWidget(title_);
    words->addWidget(hook_);
    words->addWidget(caution_);
    column->addLayout(words);
    figures_ = new QWidget(this);
    column->addWidget(figures_);
    foot_ = new QWidget(this);
    auto* last = new QHBoxLayout(foot_);
    last->setContentsMargins(0, 0, 0, 0);
    last->setSpacing(kGrid / 2);
    last->addWidget(way_);
    last->addWidget(good_to_, 1);
    column->addWidget(foot_);
    column->addWidget(said_);
    title_->setText(text(item_.title));
    hook_->setText(text(item_.hook));
    say(*caution_, text(item_.caution));
    for (QLabel* one : {title_, hook_, caution_}) one->setVisible(whole && !one->text().isEmpty());
    good_to_->setWordWrap(false);
    good_to_->setAlignment(Qt::AlignRight | Qt::AlignVCenter);
    // In the walk Tab goes from box to box: the way is asked for by its key.
    way_->setFocusPolicy(whole ? Qt::ClickFocus : Qt::TabFocus);
    way_->setAccessibleName(text(item_.title) + tr(", way of giving"));
    way_->setFont(typeFont(TypeSize::small));
    way_->setToolTip(tr("Give it another way (F2)"));
    way_->setPopupMode(QToolButton::InstantPopup);
    way_->setProperty("flush", true);
    if (item_.kind == MeasuringItem::Kind::point) {
        auto* menu = new QMenu(way_);
        for (const auto& [label, way] :
             {std::pair{tr("by coordinates"), PointWay::coordinates},
              std::pair{tr("by offsets"), PointWay::offsets}, std::pair{tr("by tapes"), PointWay::tapes}}) {
            connect(menu->addAction(label), &QAction::triggered, this, [this, way = way] { askAs(way); });
        }
        way_->setMenu(menu);
    } else {
        foot_->hide();
    }
    setAccessibleName(text(item_.title));
    buildBoxes();
}

bool MeasuringRow::isBlank(std::size_t box) const {
    return !typedOrRead(box);
}

std::optional<double> MeasuringRow::typedOrRead(std::size_t box) const {
    if (const auto typed = typed_.find(box); typed != typed_.end()) return typed->second;
    if (box >= asked_.figures.size()) return std::nullopt;
    return figureRead(desk_.document.job().car, asked_, asked_.figures[box]);
}

void MeasuringRow::buildBoxes() {
    rebuilding_ = false;
    const Car& car = desk_.document.job().car;
    asked_ = other_way_ ? asAsked(car, *walk_, item_, *other_way_) : asGiven(car, *walk_, item_);
    int had_focus = -1;
    for (std::size_t i = 0; i < boxes_.size(); ++i) {
        if (boxes_[i]->hasFocus()) had_focus = int(i);
    }
    const bool again = !boxes_.empty();
    qDeleteAll(boxes_);
    qDeleteAll(labels_);
    qDeleteAll(residuals_);
    boxes_.clear();
    labels_.clear();
    residuals_.clear();
    delete figures_->layout();
    auto* grid = new QGridLayout(figures_);
    grid->setContentsMargins(0, 2, 0, 0);
    grid->setHorizontalSpacing(6);
    grid->setVerticalSpacing(3);
    grid->setColumnStretch(0, 1);
    for (std::size_t i = 0; i < asked_.figures.size(); ++i) {
        const MeasuringFigure& figure = asked_.figures[i];
        ValueField::Value value;
        value.label = text(item_.title) + QStringLiteral(", ") + text(figure.label);
        value.get = [self = QPointer(this), i] {
            return self ? self->typedOrRead(i) : std::optional<double>();
        };
        value.set = [self = QPointer(this), i](std::optional<double> to, const QByteArray& key) {
            if (self) self->take(i, to, key);
        };
        value.may_be_empty = true;
        auto* box = new ValueField(desk_, std::move(value), figures_);
        box->setFixedWidth(kBox);
        box->installEventFilter(this);
        connect(box, &ValueField::complained, this, [this](const QString& sentence) {
            lacking_ = sentence;
            unfinished_ = false;
            refreshWords();
        });
        auto* label = wordsLabel(TypeSize::small, TypeWeight::plain, "soft", figures_);
        label->setText(text(figure.label));
        label->setBuddy(box);
        const int row = int(i);
        grid->addWidget(label, row, 0);
        grid->addWidget(box, row, 1);
        labels_.push_back(label);
        boxes_.push_back(box);
        if (figure.key != MeasuringFigure::Key::tape) continue;
        auto* residual = wordsLabel(TypeSize::small, TypeWeight::plain, "soft", figures_);
        residual->setWordWrap(false);
        residual->setFixedWidth(kResidual);
        residual->setAlignment(Qt::AlignRight | Qt::AlignVCenter);
        residual->setToolTip(tr("Too long by"));
        grid->addWidget(residual, row, 2);
        residuals_.push_back(residual);
    }
    if (again) {
        for (QWidget* one : figures_->findChildren<QWidget*>()) one->show();
        emit reshaped();
        if (had_focus >= 0 && !boxes_.empty())
            boxes_[std::min(std::size_t(had_focus), boxes_.size() - 1)]->setFocus();
    }
    refreshWords();
}

void MeasuringRow::refresh() {
    const Car& car = desk_.document.job().car;
    const MeasuringItem now =
        other_way_ ? asAsked(car, *walk_, item_, *other_way_) : asGiven(car, *walk_, item_);
    if (now.figures != asked_.figures) {
        if (rebuilding_) return;
        rebuilding_ = true;
        // Not now: the change may come from a box that is about to go.
        QTimer::singleShot(0, this, [this] {
            typed_.clear();
            lacking_.clear();
            buildBoxes();
        });
        return;
    }
    for (ValueField* box : boxes_) box->refresh();
    refreshWords();
}

QString MeasuringRow::sayResidual(const std::string& from, bool& beyond) const {
    const SurveyedPoint* point = desk_.carReport().survey.point(item_.name);
    if (!point) return {};
    const auto tape = std::ranges::find(point->tapes, from, &TapeResult::from);
    if (tape == point->tapes.end()) return {};
    beyond = tape->times_sigma > kDisagrees;
    LengthStyle style = desk_.lengthStyle();
    style.with_unit = false;
    const QString words = text(showLength(tape->residual_mm, style));
    const bool shows = words.contains(QRegularExpression(QStringLiteral("[1-9]")));
    return tape->residual_mm > 0 && shows ? QStringLiteral("+") + words : words;
}

/// Tapes as the boxes above call them: "tape from sill_b.right" is "tape from 3".
QString MeasuringRow::asNumbered(QString words) const {
    for (const MeasuringFigure& figure : asked_.figures)
        if (figure.key == MeasuringFigure::Key::tape)
            words.replace(QStringLiteral("tape from %1 ").arg(text(figure.from)),
                          QStringLiteral("tape %1 ").arg(text(figure.label)));
    return words;
}

void MeasuringRow::refreshWords() {
    const Car& car = desk_.document.job().car;
    const CarPoint* point = item_.kind == MeasuringItem::Kind::point ? car.point(item_.name) : nullptr;
    for (std::size_t i = 0; i < boxes_.size(); ++i) {
        dress(*boxes_[i], "blank", isBlank(i));
        boxes_[i]->setPlaceholderText(isBlank(i) ? QStringLiteral("…") : QString());
        if (i >= residuals_.size()) continue;
        bool beyond = false;
        const QString words = sayResidual(asked_.figures[i].from, beyond);
        residuals_[i]->setText(words);
        residuals_[i]->setAccessibleName(words.isEmpty() ? QString() : tr("too long by %1").arg(words));
        dress(*residuals_[i], "role", beyond ? "wrong" : "soft");
    }
    const SurveyedPoint* surveyed = point ? desk_.carReport().survey.point(item_.name) : nullptr;
    const auto good = surveyed ? surveyed->goodTo_mm() : std::nullopt;
    QString good_words;
    if (surveyed) {
        const QString star = surveyed->tolerance_assumed ? QStringLiteral("*") : QString();
        good_words =
            tr("good to %1")
                .arg(good ? text(showLength(*good, desk_.lengthStyle())) + star : QStringLiteral("?"));
    }
    good_to_->setText(good_words);
    const PointWay sheets = asked_.figures.front().key == MeasuringFigure::Key::tape ? PointWay::tapes
                            : asked_.figures.front().key == MeasuringFigure::Key::x  ? PointWay::coordinates
                                                                                     : PointWay::offsets;
    const QString way = sheets == PointWay::tapes     ? tr("by tapes")
                        : sheets == PointWay::offsets ? tr("by offsets")
                                                      : tr("by coordinates");
    way_->setText((point && !other_way_ ? text(takenWords(*point)) : way) + QStringLiteral(" ▾"));
    QStringList said;
    if (!lacking_.isEmpty()) said << lacking_;
    if (surveyed) {
        for (const std::string& doubt : surveyed->doubts) said << capital(asNumbered(text(doubt)));
    }
    say(*said_, said.join(QLatin1Char('\n')));
    dress(*said_, "role", said.size() == 1 && unfinished_ && !lacking_.isEmpty() ? "soft" : "wrong");
    setAccessibleDescription(said.join(QLatin1Char(' ')));
    update();
}

void MeasuringRow::take(std::size_t box, std::optional<double> value, const QByteArray& key) {
    typed_[box] = value;
    std::vector<std::optional<double>> figures;
    for (std::size_t i = 0; i < asked_.figures.size(); ++i) figures.push_back(typedOrRead(i));
    lacking_.clear();
    const bool empty = std::ranges::none_of(figures, [](const auto& one) { return one.has_value(); });
    if (empty && !isMeasured(desk_.document.job().car, item_)) {
        typed_.clear();
        refresh();
        return;
    }
    const Expected<Car> next = withFigures(desk_.document.job().car, asked_, figures, desk_.lengthStyle());
    QString refused;
    if (next) {
        typed_.clear();
        other_way_.reset();
        refused = desk_.document.edit(
            tr("Measure %1").arg(text(item_.title)),
            [&](Job& job) { job.car = withWalkLines(*next, item_.name); }, key);
    }
    lacking_ = capital(next ? refused : text(next.reason()));
    unfinished_ = !next && std::ranges::any_of(figures, [](const auto& one) { return !one; });
    refresh();
}

void MeasuringRow::askAs(PointWay way) {
    const Car& car = desk_.document.job().car;
    const CarPoint* point = car.point(item_.name);
    typed_.clear();
    lacking_.clear();
    other_way_.reset();
    if (!point || wayOf(*point) != way) {
        other_way_ = way;
        if (asAsked(car, *walk_, item_, way).figures.empty()) {
            other_way_.reset();
            lacking_ = tr("There is no other point yet to tape it from.");
        }
    }
    buildBoxes();
    if (!boxes_.empty()) boxes_.front()->setFocus();
}

void MeasuringRow::askWay() {
    if (way_->menu()) way_->showMenu();
}

void MeasuringRow::setCurrent(bool current) {
    if (current_ == current) return;
    current_ = current;
    update();
}

bool MeasuringRow::eventFilter(QObject* watched, QEvent* event) {
    if (event->type() == QEvent::FocusIn) emit entered();
    if (event->type() == QEvent::KeyPress) {
        const int key = static_cast<QKeyEvent*>(event)->key();
        if (key == Qt::Key_Return || key == Qt::Key_Enter) {
            auto* box = static_cast<ValueField*>(watched);
            box->commit();
            if (box->complaint().isEmpty()) emit wantsNext();
            return true;
        }
    }
    return QWidget::eventFilter(watched, event);
}

void MeasuringRow::paintEvent(QPaintEvent*) {
    if (dress_ == Dress::boxes) return;
    QPainter painter(this);
    painter.setRenderHint(QPainter::Antialiasing);
    const Palette& p = desk_.palette();
    const Car& car = desk_.document.job().car;
    const SurveyedPoint* surveyed = desk_.carReport().survey.point(item_.name);
    const bool doubt = item_.kind == MeasuringItem::Kind::point && surveyed && !surveyed->doubts.empty();
    if (current_) painter.fillRect(QRect(0, 4, 4, height() - 8), p.accent);
    const QRectF badge(2 * kGrid, kGrid + 1, kBadge, kBadge);
    // As on the sheet: filled is done, hollow is asked.
    const bool done = isMeasured(car, item_);
    painter.setPen(QPen(doubt ? p.fails : p.ink, doubt ? 2 : 1.2));
    painter.setBrush(done ? (doubt ? p.fails : p.ink) : p.card);
    painter.drawEllipse(badge.adjusted(1, 1, -1, -1));
    painter.setFont(typeFont(TypeSize::small, TypeWeight::strong));
    painter.setPen(done ? p.card : p.ink);
    drawFigures(painter, badge, Qt::AlignCenter, QString::number(item_.number));
}

}  // namespace hoopwright
