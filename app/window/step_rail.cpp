#include "app/window/step_rail.h"

#include <QPainter>
#include <QVBoxLayout>

#include "app/view/marks.h"
#include "app/window/style.h"

namespace hoopwright {
namespace {

constexpr int kWidth = 88, kStepHeight = 72, kMark = 12;

class StepButton : public QAbstractButton {
public:
    StepButton(const Desk& desk, const QString& name, QWidget* parent)
        : QAbstractButton(parent), desk_(desk) {
        setText(name);
        setCheckable(true);
        setAutoExclusive(true);
        setFixedSize(kWidth, kStepHeight);
        setAttribute(Qt::WA_Hover);
        setAccessibleName(name);
        setCursor(Qt::PointingHandCursor);
    }
    void say(const QString& words, std::optional<Answer> mark) {
        words_ = words;
        mark_ = mark;
        setAccessibleDescription(words);
        update();
    }

protected:
    void paintEvent(QPaintEvent*) override {
        QPainter painter(this);
        painter.setRenderHint(QPainter::Antialiasing);
        const Palette& p = desk_.palette();
        const QRectF box(rect());
        if (isChecked() || underMouse()) painter.fillRect(box, p.rail.lighter(isChecked() ? 140 : 120));
        if (isChecked()) painter.fillRect(QRectF(0, 0, 3, height()), p.accent);
        if (hasFocus()) {
            painter.setPen(QPen(p.accent, 1));
            painter.drawRoundedRect(box.adjusted(2.5, 2.5, -2.5, -2.5), 6, 6);
        }
        painter.setFont(typeFont(TypeSize::body, isChecked() ? TypeWeight::strong : TypeWeight::medium));
        painter.setPen(p.rail_ink);
        painter.drawText(box.adjusted(4, 16, -4, 0), Qt::AlignHCenter | Qt::AlignTop, text());
        painter.setFont(typeFont(TypeSize::small));
        // The rail is dark in both sets: the dark set's brick reads on it.
        const Palette on_dark = paletteOf(Tone::dark);
        painter.setPen(mark_ == Answer::fails ? on_dark.fails : p.rail_soft);
        const double mark_room = mark_ ? kMark + 3 : 0;
        const QString shown =
            painter.fontMetrics().elidedText(words_, Qt::ElideRight, int(kWidth - 4 - mark_room));
        const double width = painter.fontMetrics().horizontalAdvance(shown) + mark_room;
        const QRectF line((kWidth - width) / 2, 37, width, painter.fontMetrics().height());
        if (mark_)
            paintMark(painter, QRectF(line.left(), line.center().y() - kMark / 2.0, kMark, kMark), *mark_,
                      on_dark);
        painter.drawText(line.adjusted(mark_room, 0, 2, 0), Qt::AlignLeft | Qt::AlignVCenter, shown);
    }

private:
    const Desk& desk_;
    QString words_;
    std::optional<Answer> mark_;
};

}  // namespace

StepRail::StepRail(Desk& desk, QWidget* parent) : QWidget(parent), desk_(desk) {
    setFixedWidth(kWidth);
    setAccessibleName(tr("Steps of the job"));
    auto* column = new QVBoxLayout(this);
    column->setContentsMargins(0, kGrid, 0, kGrid);
    column->setSpacing(4);
    const QStringList names = {tr("Car"), tr("Driver"), tr("Cage"), tr("Check"), tr("Order")};
    for (int i = 0; i < names.size(); ++i) {
        auto* button = new StepButton(desk, names[i], this);
        button->setToolTip(tr("%1 (Ctrl+%2)").arg(names[i]).arg(i + 1));
        connect(button, &QAbstractButton::clicked, this, [this, i] { emit wanted(static_cast<Step>(i)); });
        column->addWidget(button);
        buttons_.push_back(button);
    }
    column->addStretch(1);
    connect(&desk_, &Desk::paletteChanged, this, qOverload<>(&QWidget::update));
}

void StepRail::setCurrent(Step step) {
    buttons_[std::size_t(step)]->setChecked(true);
}

void StepRail::setState(Step step, const QString& words, std::optional<Answer> mark) {
    static_cast<StepButton*>(buttons_[std::size_t(step)])->say(words, mark);
}

QString StepRail::state(Step step) const {
    return buttons_[std::size_t(step)]->accessibleDescription();
}

void StepRail::paintEvent(QPaintEvent*) {
    QPainter(this).fillRect(rect(), desk_.palette().rail);
}

}  // namespace hoopwright
