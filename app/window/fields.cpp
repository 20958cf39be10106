#include "app/window/fields.h"

#include <QDialog>
#include <QFocusEvent>
#include <QKeyEvent>
#include <QPainter>
#include <QStyle>
#include <utility>

#include "app/view/marks.h"

namespace hoopwright {
namespace {

constexpr double kInch_mm = 25.4;
constexpr int kRoomForBoth_px = 120;  // narrower fields leave the inches to the tape

void markWrong(QWidget* widget, bool wrong) {
    if (widget->property("wrong").toBool() == wrong) return;
    widget->setProperty("wrong", wrong);
    widget->style()->unpolish(widget);
    widget->style()->polish(widget);
}

/// Whether a key the window has a meaning for is meant for the field or for the window: Escape is the field's
/// while something is typed, undo and redo are the window's while nothing is. Nothing: as Qt sees it.
std::optional<bool> isForField(const QEvent& event, bool typed) {
    if (event.type() != QEvent::ShortcutOverride) return std::nullopt;
    const auto& key = static_cast<const QKeyEvent&>(event);
    if (key.key() == Qt::Key_Escape) return typed;
    if (key.matches(QKeySequence::Undo) || key.matches(QKeySequence::Redo)) return typed;
    return std::nullopt;
}

}  // namespace

ValueField::ValueField(Desk& desk, Value value, QWidget* parent)
    : QLineEdit(parent), desk_(desk), value_(std::move(value)) {
    setAccessibleName(value_.label);
    setFont(typeFont(TypeSize::body, TypeWeight::medium));
    connect(&desk_, &Desk::unitsChanged, this, &ValueField::refresh);
    connect(this, &QLineEdit::textEdited, this, [this] { complain({}); });
    connect(this, &QLineEdit::textChanged, this, [this] { update(); });
    refresh();
}

bool ValueField::event(QEvent* event) {
    const auto ours = isForField(*event, isModified());
    if (!ours) return QLineEdit::event(event);
    event->setAccepted(*ours);
    return true;
}

void ValueField::setLead(const QString& lead) {
    lead_ = lead;
    makeRoom();
}

QString ValueField::tail() const {
    const auto now = value_.get();
    if (!now || value_.dimension == Dimension::none) return {};
    if (value_.dimension == Dimension::angle) return QStringLiteral("°");
    const QString unit = unitSign(fieldUnit(value_.dimension, desk_.units()).word);
    const QString beside = on_tape_ ? besideText(*now, value_.dimension, desk_.units()) : QString();
    if (width() < kRoomForBoth_px) return lead_.isEmpty() ? unit : QString();
    return beside.isEmpty() ? unit : unit + QStringLiteral("  ") + beside;
}

void ValueField::makeRoom() {
    const QFont small = typeFont(TypeSize::small);
    const QString behind = tail();
    const int right = behind.isEmpty() ? 0 : int(figuresWidth(small, behind)) + 6;
    setTextMargins(lead_.isEmpty() ? 0 : 12, 0, right, 0);
    update();
}

void ValueField::refresh() {
    if (hasFocus() && isModified()) return;
    if (!complaint_.isEmpty() && isModified()) return;
    const auto now = value_.get();
    const QString wanted = now ? fieldText(*now, value_.dimension, desk_.units()) : QString();
    if (text() != wanted) {
        setText(wanted);
        setCursorPosition(0);
    }
    setModified(false);
    makeRoom();
}

void ValueField::commit() {
    if (!isModified()) return;
    const QString typed = text().trimmed();
    if (typed.isEmpty() && value_.may_be_empty) {
        setModified(false);
        complain({});
        value_.set(std::nullopt, {});
        return;
    }
    const auto read = readChange(typed, value_.get().value_or(0), value_.dimension, desk_.units());
    if (!read) {
        complain(QString::fromStdString(read.reason()));
        return;
    }
    if (least_ && *read < *least_) {
        complain(tr("%1 is too little: %2 is the least.")
                     .arg(measureText(*read, value_.dimension, desk_.units()),
                          measureText(*least_, value_.dimension, desk_.units())));
        return;
    }
    setModified(false);
    complain({});
    value_.set(*read, {});
    refresh();
}

ValueField* ValueField::setLeast(double least) {
    least_ = least;
    return this;
}

void ValueField::complain(const QString& sentence) {
    if (complaint_ == sentence) return;
    complaint_ = sentence;
    markWrong(this, !sentence.isEmpty());
    setAccessibleDescription(sentence);
    emit complained(sentence);
}

void ValueField::step(double by_mm) {
    const auto now = value_.get();
    if (!now) return;
    if (step_key_.isEmpty()) step_key_ = desk_.document.newKey();
    setModified(false);
    complain({});
    value_.set(std::max(*now + by_mm, least_.value_or(*now + by_mm)), step_key_);
    refresh();
    selectAll();
}

void ValueField::focusInEvent(QFocusEvent* event) {
    QLineEdit::focusInEvent(event);
    step_key_.clear();
    if (event->reason() != Qt::PopupFocusReason) selectAll();
    putOnTape();
}

void ValueField::putOnTape() {
    if (!on_tape_ || value_.dimension != Dimension::length) return;
    // The tape would go on reading a value of a dialog when that is gone.
    if (qobject_cast<QDialog*>(window())) return;
    OnTape tape;
    tape.label = value_.label;
    tape.get = value_.get;
    tape.set = [set = value_.set, least = least_](double mm, const QByteArray& key) {
        set(std::max(mm, least.value_or(mm)), key);
    };
    desk_.putOnTape(std::move(tape));
}

void ValueField::focusOutEvent(QFocusEvent* event) {
    if (event->reason() != Qt::PopupFocusReason) commit();
    QLineEdit::focusOutEvent(event);
    deselect();
}

void ValueField::keyPressEvent(QKeyEvent* event) {
    const bool inches = desk_.units() == UnitsShown::in;
    const bool length = value_.dimension == Dimension::length;
    const double base = fieldUnit(value_.dimension, desk_.units()).to_base;
    double unit = length ? (inches ? kInch_mm / 16 : 1.0) : base;
    if (event->modifiers() & Qt::ShiftModifier) unit *= 10;
    switch (event->key()) {
        case Qt::Key_Return:
        case Qt::Key_Enter:
            commit();
            if (complaint_.isEmpty()) selectAll();
            return;
        case Qt::Key_Escape:
            if (!isModified()) break;
            setModified(false);
            complain({});
            refresh();
            selectAll();
            return;
        case Qt::Key_Up:
            step(unit);
            return;
        case Qt::Key_Down:
            step(-unit);
            return;
        default:
            break;
    }
    QLineEdit::keyPressEvent(event);
    if (event->key() == Qt::Key_Escape) event->ignore();
}

void ValueField::resizeEvent(QResizeEvent* event) {
    QLineEdit::resizeEvent(event);
    makeRoom();
}

void ValueField::paintEvent(QPaintEvent* event) {
    QLineEdit::paintEvent(event);
    QPainter painter(this);
    painter.setFont(typeFont(TypeSize::small));
    painter.setPen(desk_.palette().ink_soft);
    const QRectF inside = QRectF(rect()).adjusted(8, 0, -8, 0);
    if (!lead_.isEmpty()) painter.drawText(inside, Qt::AlignLeft | Qt::AlignVCenter, lead_);
    if (!isModified()) drawFigures(painter, inside, Qt::AlignRight | Qt::AlignVCenter, tail());
}

TextField::TextField(QString label, Get get, Set set, QWidget* parent)
    : QLineEdit(parent), get_(std::move(get)), set_(std::move(set)) {
    setAccessibleName(label);
    connect(this, &QLineEdit::textEdited, this, [this] {
        markWrong(this, false);
        emit complained({});
    });
    refresh();
}

bool TextField::event(QEvent* event) {
    const auto ours = isForField(*event, isModified());
    if (!ours) return QLineEdit::event(event);
    event->setAccepted(*ours);
    return true;
}

void TextField::refresh() {
    if (isModified()) return;
    const QString wanted = get_();
    if (text() != wanted) setText(wanted);
    setModified(false);
    setCursorPosition(0);
}

void TextField::commit() {
    if (!isModified()) return;
    const QString sentence = set_(text().trimmed());
    markWrong(this, !sentence.isEmpty());
    setAccessibleDescription(sentence);
    emit complained(sentence);
    if (!sentence.isEmpty()) return;
    setModified(false);
    refresh();
}

void TextField::focusOutEvent(QFocusEvent* event) {
    if (event->reason() != Qt::PopupFocusReason) commit();
    QLineEdit::focusOutEvent(event);
}

void TextField::keyPressEvent(QKeyEvent* event) {
    if (event->key() == Qt::Key_Return || event->key() == Qt::Key_Enter) {
        commit();
        return;
    }
    if (event->key() == Qt::Key_Escape && isModified()) {
        setModified(false);
        markWrong(this, false);
        emit complained({});
        refresh();
        return;
    }
    QLineEdit::keyPressEvent(event);
}

ChoiceField::ChoiceField(const Desk& desk, const QString& label, Options options, Get get, Set set,
                         QWidget* parent)
    : QComboBox(parent), desk_(desk), options_(std::move(options)), get_(std::move(get)) {
    setAccessibleName(label);
    setSizeAdjustPolicy(QComboBox::AdjustToMinimumContentsLengthWithIcon);
    setMinimumContentsLength(6);
    setMinimumHeight(28);
    setMaxVisibleItems(24);
    setFont(typeFont(TypeSize::body, TypeWeight::medium));
    setFocusPolicy(Qt::StrongFocus);
    connect(this, &QComboBox::activated, this, [this, put = std::move(set)](int index) {
        put(itemData(index).toString().toStdString());
        refresh();  // what was refused is not so
    });
    refresh();
}

void ChoiceField::refresh() {
    const std::vector<Option> options = options_();
    const std::string now = get_();
    const QSignalBlocker quiet(this);
    bool same = count() == int(options.size());
    for (int i = 0; same && i < count(); ++i) {
        const Option& option = options[std::size_t(i)];
        same = itemData(i).toString().toStdString() == option.key && itemText(i) == option.words;
    }
    if (!same) {
        clear();
        for (const Option& option : options) addItem(option.words, QString::fromStdString(option.key));
    }
    setCurrentIndex(findData(QString::fromStdString(now)));
    if (currentIndex() < 0 && !now.empty()) {
        // Named in the job, known to nobody: shown as it is, so that it is not changed behind the person's
        // back.
        addItem(QString::fromStdString(now) + tr(" (unknown)"), QString::fromStdString(now));
        setCurrentIndex(count() - 1);
    }
}

void ChoiceField::wheelEvent(QWheelEvent* event) {
    event->ignore();  // scrolling a form must never change a value
}

void ChoiceField::paintEvent(QPaintEvent*) {
    QPainter painter(this);
    painter.setRenderHint(QPainter::Antialiasing);
    const Palette& p = desk_.palette();
    const QRectF box = QRectF(rect()).adjusted(0.5, 0.5, -0.5, -0.5);
    painter.setPen(hasFocus() ? p.accent_edge : (underMouse() ? p.line : p.field));
    painter.setBrush(p.field);
    painter.drawRoundedRect(box, 6, 6);
    painter.setPen(isEnabled() ? p.ink : p.ink_soft);
    painter.setFont(font());
    const QRectF inside = box.adjusted(8, 0, -22, 0);
    const QString words =
        painter.fontMetrics().elidedText(currentText(), Qt::ElideRight, int(inside.width()));
    painter.drawText(inside, Qt::AlignLeft | Qt::AlignVCenter, words);
    painter.setPen(QPen(p.ink_soft, 1.4, Qt::SolidLine, Qt::RoundCap, Qt::RoundJoin));
    const QPointF tip(box.right() - 12, box.center().y() + 2);
    painter.drawPolyline(QPolygonF{tip + QPointF(-4, -4), tip, tip + QPointF(4, -4)});
}

TickField::TickField(const Desk& desk, const QString& words, Get get, Set set, QWidget* parent)
    : QCheckBox(words, parent), desk_(desk), get_(std::move(get)) {
    setAccessibleName(words);
    setMinimumHeight(28);
    connect(this, &QCheckBox::clicked, this, [this, put = std::move(set)](bool on) {
        put(on);
        refresh();  // what was refused is not so
    });
    refresh();
}

void TickField::refresh() {
    setChecked(get_());
}

void TickField::paintEvent(QPaintEvent*) {
    QPainter painter(this);
    painter.setRenderHint(QPainter::Antialiasing);
    const Palette& p = desk_.palette();
    const QRectF box(0.5, (height() - 16) / 2.0 + 0.5, 15, 15);
    painter.setPen(QPen(hasFocus() ? p.accent_edge : p.ink_soft, hasFocus() ? 2 : 1));
    painter.setBrush(isChecked() ? p.accent : p.field);
    painter.drawRoundedRect(box, 4, 4);
    if (isChecked()) {
        painter.setPen(QPen(p.accent_ink, 2, Qt::SolidLine, Qt::RoundCap, Qt::RoundJoin));
        painter.drawPolyline(QPolygonF{box.topLeft() + QPointF(3.5, 8), box.topLeft() + QPointF(6.5, 11),
                                       box.topLeft() + QPointF(11.5, 4.5)});
    }
    painter.setPen(isEnabled() ? p.ink : p.ink_soft);
    painter.drawText(QRectF(rect()).adjusted(24, 0, 0, 0), Qt::AlignLeft | Qt::AlignVCenter, text());
}

}  // namespace hoopwright
