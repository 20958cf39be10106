#include "app/window/form.h"

#include <QHBoxLayout>
#include <QLabel>
#include <QPainter>
#include <QPushButton>
#include <QSettings>
#include <QSignalBlocker>
#include <QVBoxLayout>
#include <utility>

#include "app/window/style.h"

namespace hoopwright {
namespace {

constexpr int kLabelWidth = 92;

QLabel* label(const QString& words, TypeSize size, TypeWeight weight, const char* role, QWidget* parent) {
    auto* made = new QLabel(words, parent);
    made->setFont(typeFont(size, weight));
    if (role) made->setProperty("role", role);
    return made;
}

class Hairline : public QWidget {
public:
    Hairline(const Desk& desk, QWidget* parent) : QWidget(parent), desk_(desk) { setFixedHeight(17); }

protected:
    void paintEvent(QPaintEvent*) override {
        QPainter painter(this);
        painter.fillRect(QRect(0, 12, width(), 1), desk_.palette().line);
    }

private:
    const Desk& desk_;
};

/// The heading of a fold: an arrow, its words, and a figure at the right.
class FoldHead : public QAbstractButton {
public:
    FoldHead(const Desk& desk, const QString& words, QWidget* parent) : QAbstractButton(parent), desk_(desk) {
        setText(words);
        setCheckable(true);
        setFixedHeight(28);
        setFocusPolicy(Qt::StrongFocus);
        setAttribute(Qt::WA_Hover);
        setCursor(Qt::PointingHandCursor);
    }
    void setBeside(const QString& figure) {
        figure_ = figure;
        setAccessibleDescription(figure);
        update();
    }

protected:
    void paintEvent(QPaintEvent*) override {
        QPainter painter(this);
        painter.setRenderHint(QPainter::Antialiasing);
        const Palette& p = desk_.palette();
        if (underMouse() || hasFocus()) {
            painter.setPen(hasFocus() ? QPen(p.accent_edge) : QPen(Qt::NoPen));
            painter.setBrush(underMouse() ? QBrush(p.field) : QBrush(Qt::NoBrush));
            painter.drawRoundedRect(QRectF(rect()).adjusted(-3.5, 0.5, 3.5, -0.5), 6, 6);
        }
        painter.setFont(typeFont(TypeSize::body, TypeWeight::strong));
        painter.setPen(p.ink);
        painter.drawText(rect(), Qt::AlignLeft | Qt::AlignVCenter, text());
        painter.setFont(typeFont(TypeSize::body));
        painter.setPen(p.ink_soft);
        painter.drawText(rect().adjusted(0, 0, -20, 0), Qt::AlignRight | Qt::AlignVCenter, figure_);
        const double x = width() - 8, y = height() / 2.0;
        painter.setPen(QPen(p.ink_soft, 1.5, Qt::SolidLine, Qt::RoundCap, Qt::RoundJoin));
        painter.setBrush(Qt::NoBrush);
        const double up = isChecked() ? -2 : 2;
        painter.drawPolyline(QPolygonF({{x - 4, y + up}, {x, y - up}, {x + 4, y + up}}));
    }

private:
    const Desk& desk_;
    QString figure_;
};

}  // namespace

Form::Form(Desk& desk, QString about, QWidget* parent)
    : QWidget(parent), desk_(desk), about_(std::move(about)) {
    setObjectName(QStringLiteral("page"));
    whole_ = new QVBoxLayout(this);
    rows_ = whole_;
    rows_->setContentsMargins(2 * kGrid, 2 * kGrid, 2 * kGrid, 2 * kGrid);
    rows_->setSpacing(6);
    connect(&desk_, &Desk::unitsChanged, this, &Form::refresh);
}

void Form::title(Words words, Words beside) {
    auto* head = label({}, TypeSize::head, TypeWeight::strong, nullptr, this);
    head->setWordWrap(true);
    auto* soft = label({}, TypeSize::small, TypeWeight::plain, "soft", this);
    auto* line = new QHBoxLayout;
    line->addWidget(head, 1);
    line->addWidget(soft, 0, Qt::AlignRight | Qt::AlignBaseline);
    rows_->addLayout(line);
    rows_->addSpacing(4);
    refreshers_.push_back([=] {
        head->setText(words());
        soft->setText(beside());
    });
    refreshers_.back()();
}

void Form::section(const QString& words) {
    within_.clear();
    rows_ = whole_;
    rows_->addWidget(new Hairline(desk_, this));
    rows_->addWidget(label(words, TypeSize::body, TypeWeight::strong, nullptr, this));
}

void Form::fold(const QString& words, Words beside, bool open) {
    within_.clear();
    rows_ = whole_;
    const QString key = QStringLiteral("folds/") + words;
    auto* head = new FoldHead(desk_, words, this);
    head->setAccessibleName(about_ + QStringLiteral(", ") + words.toLower());
    auto* body = new QWidget(this);
    body->setObjectName(QStringLiteral("page"));
    whole_->addWidget(new Hairline(desk_, this));
    whole_->addWidget(head);
    whole_->addWidget(body);
    rows_ = new QVBoxLayout(body);
    rows_->setContentsMargins(0, 0, 0, 0);
    rows_->setSpacing(6);
    connect(head, &QAbstractButton::toggled, body, [body, key](bool on) {
        body->setVisible(on);
        QSettings().setValue(key, on);
    });
    const bool now = QSettings().value(key, open).toBool();
    body->setVisible(now);
    const QSignalBlocker quiet(head);
    head->setChecked(now);
    refreshers_.push_back([head, beside] { head->setBeside(beside()); });
    refreshers_.back()();
}

void Form::caption(const QString& words) {
    within_ = words;
    rows_->addSpacing(4);
    rows_->addWidget(label(words, TypeSize::small, TypeWeight::medium, "soft", this));
}

void Form::note(Words words) {
    auto* soft = label({}, TypeSize::body, TypeWeight::plain, "soft", this);
    soft->setWordWrap(true);
    soft->setTextInteractionFlags(Qt::TextSelectableByMouse);
    rows_->addWidget(soft);
    refreshers_.push_back([=] {
        soft->setText(words());
        soft->setVisible(!soft->text().isEmpty());
    });
    refreshers_.back()();
}

QString Form::fullName(const QString& words) const {
    return about_ + QStringLiteral(", ") +
           (within_.isEmpty() ? QString() : within_.toLower() + QStringLiteral(", ")) + words.toLower();
}

QLabel* Form::wrongLine() {
    auto* wrong = label({}, TypeSize::small, TypeWeight::plain, "wrong", this);
    wrong->setWordWrap(true);
    wrong->hide();
    return wrong;
}

void Form::row(const QString& words, QWidget* content, QLabel* wrong) {
    auto* line = new QHBoxLayout;
    line->setSpacing(kGrid);
    auto* name = label(words, TypeSize::body, TypeWeight::plain, "soft", this);
    name->setFixedWidth(kLabelWidth);
    name->setWordWrap(true);
    name->setBuddy(content);
    line->addWidget(name);
    line->addWidget(content, 1);
    rows_->addLayout(line);
    if (wrong) rows_->addWidget(wrong);
}

ValueField* Form::value(const QString& words, Dimension dimension, std::function<std::optional<double>()> get,
                        std::function<void(std::optional<double>, const QByteArray&)> set,
                        bool may_be_empty) {
    ValueField::Value value;
    value.label = fullName(words);
    value.dimension = dimension;
    value.get = std::move(get);
    value.set = std::move(set);
    value.may_be_empty = may_be_empty;
    auto* field = new ValueField(desk_, std::move(value), this);
    auto* wrong = wrongLine();
    connect(field, &ValueField::complained, wrong, [wrong](const QString& sentence) {
        wrong->setText(sentence);
        wrong->setVisible(!sentence.isEmpty());
    });
    row(words, field, wrong);
    refreshers_.push_back([field] { field->refresh(); });
    return field;
}

void Form::numbers(const QString& words, const QString& leads, Dimension dimension,
                   std::function<double(int)> get, std::function<void(int, double, const QByteArray&)> set) {
    auto* line = new QWidget(this);
    auto* columns = new QHBoxLayout(line);
    columns->setContentsMargins(0, 0, 0, 0);
    columns->setSpacing(4);
    auto* wrong = wrongLine();
    for (int i = 0; i < leads.size(); ++i) {
        ValueField::Value value;
        value.label = fullName(words) + QLatin1Char(' ') + leads[i];
        value.dimension = dimension;
        value.get = [get, i] { return std::optional(get(i)); };
        value.set = [set, i](std::optional<double> to, const QByteArray& key) { set(i, *to, key); };
        auto* field = new ValueField(desk_, std::move(value), line);
        field->setLead(leads[i]);
        connect(field, &ValueField::complained, wrong, [wrong](const QString& sentence) {
            wrong->setText(sentence);
            wrong->setVisible(!sentence.isEmpty());
        });
        columns->addWidget(field, 1);
        refreshers_.push_back([field] { field->refresh(); });
    }
    if (leads.size() < 3) {
        row(words, line, wrong);
        return;
    }
    // Three numbers need the whole width: their name stands above.
    rows_->addSpacing(2);
    auto* name = label(words, TypeSize::small, TypeWeight::plain, "soft", this);
    rows_->addWidget(name);
    rows_->addWidget(line);
    rows_->addWidget(wrong);
}

void Form::place(const QString& words, std::function<Vec3()> get,
                 std::function<void(const Vec3&, const QByteArray&)> set) {
    numbers(
        words, QStringLiteral("xyz"), Dimension::length, [get](int i) { return get()[i]; },
        [get, set](int i, double to, const QByteArray& key) {
            Vec3 all = get();
            all[i] = to;
            set(all, key);
        });
}

void Form::direction(const QString& words, std::function<Vec3()> get,
                     std::function<void(const Vec3&, const QByteArray&)> set) {
    numbers(
        words, QStringLiteral("xyz"), Dimension::none, [get](int i) { return get()[i]; },
        [get, set](int i, double to, const QByteArray& key) {
            Vec3 all = get();
            all[i] = to;
            set(all, key);
        });
}

void Form::pair(const QString& words, const QString& leads, std::function<Vec2()> get,
                std::function<void(const Vec2&, const QByteArray&)> set) {
    numbers(
        words, leads, Dimension::length, [get](int i) { return get()[i]; },
        [get, set](int i, double to, const QByteArray& key) {
            Vec2 both = get();
            both[i] = to;
            set(both, key);
        });
}

TextField* Form::text(const QString& words, TextField::Get get, TextField::Set set) {
    auto* field = new TextField(fullName(words), std::move(get), std::move(set), this);
    auto* wrong = wrongLine();
    connect(field, &TextField::complained, wrong, [wrong](const QString& sentence) {
        wrong->setText(sentence);
        wrong->setVisible(!sentence.isEmpty());
    });
    row(words, field, wrong);
    refreshers_.push_back([field] { field->refresh(); });
    return field;
}

ChoiceField* Form::choice(const QString& words, ChoiceField::Options options, ChoiceField::Get get,
                          ChoiceField::Set set) {
    auto* field =
        new ChoiceField(desk_, fullName(words), std::move(options), std::move(get), std::move(set), this);
    row(words, field);
    refreshers_.push_back([field] { field->refresh(); });
    return field;
}

void Form::tick(const QString& words, TickField::Get get, TickField::Set set) {
    auto* field = new TickField(desk_, words, std::move(get), std::move(set), this);
    rows_->addWidget(field);
    refreshers_.push_back([field] { field->refresh(); });
}

void Form::facts(const QString& name, std::function<std::vector<FactLine>()> lines) {
    auto* list = new FactList(desk_, about_ + QStringLiteral(", ") + name, this);
    rows_->addWidget(list);
    refreshers_.push_back([=] { list->setLines(lines()); });
    refreshers_.back()();
}

void Form::actions(const std::vector<Action>& list) {
    auto* line = new QHBoxLayout;
    line->setSpacing(4);
    for (const Action& action : list) {
        auto* button = new QPushButton(action.words, this);
        button->setToolTip(action.tip);
        button->setAccessibleName(fullName(action.words));
        connect(button, &QPushButton::clicked, this, [run = action.run] { run(); });
        line->addWidget(button);
    }
    line->addStretch(1);
    rows_->addLayout(line);
}

void Form::whole(QWidget* widget, std::function<void()> refresh) {
    rows_->addWidget(widget);
    if (refresh) refreshers_.push_back(std::move(refresh));
}

void Form::finish() {
    rows_ = whole_;
    rows_->addStretch(1);
}

void Form::refresh() {
    for (const auto& one : refreshers_) one();
}

}  // namespace hoopwright
