#include "app/window/fact_list.h"

#include <QHelpEvent>
#include <QKeyEvent>
#include <QMouseEvent>
#include <QPainter>
#include <QToolTip>
#include <algorithm>
#include <utility>

#include "app/view/marks.h"

namespace hoopwright {
namespace {
constexpr int kLine = 24;
}

FactList::FactList(const Desk& desk, const QString& name, QWidget* parent) : QWidget(parent), desk_(desk) {
    setAccessibleName(name);
    setMouseTracking(true);
    setSizePolicy(QSizePolicy::Preferred, QSizePolicy::Fixed);
    connect(&desk_, &Desk::paletteChanged, this, qOverload<>(&QWidget::update));
}

void FactList::setLines(std::vector<FactLine> lines) {
    const bool taller = lines.size() != lines_.size();
    lines_ = std::move(lines);
    QString whole;
    bool live = false;
    for (std::size_t i = 0; i < lines_.size(); ++i) {
        whole += lines_[i].words + QStringLiteral(": ") + lines_[i].figure + QStringLiteral(". ");
        live = live || doesSomething(int(i));
    }
    setAccessibleDescription(whole);
    setFocusPolicy(live ? Qt::TabFocus : Qt::NoFocus);
    at_ = std::min(at_, int(lines_.size()) - 1);
    if (taller) updateGeometry();
    update();
}

QSize FactList::sizeHint() const {
    return {200, kLine * int(lines_.size())};
}

int FactList::lineAt(double y) const {
    const int line = int(y / kLine);
    return line >= 0 && line < int(lines_.size()) ? line : -1;
}

bool FactList::doesSomething(int line) const {
    return line >= 0 && lines_[std::size_t(line)].go;
}

void FactList::paintEvent(QPaintEvent*) {
    QPainter painter(this);
    painter.setRenderHint(QPainter::Antialiasing);
    const Palette& p = desk_.palette();
    const QFont plain = typeFont(TypeSize::body), strong = typeFont(TypeSize::body, TypeWeight::medium);
    for (int i = 0; i < int(lines_.size()); ++i) {
        const FactLine& line = lines_[std::size_t(i)];
        QRectF box(0, i * kLine, width(), kLine);
        if ((i == hover_ || (hasFocus() && i == at_)) && line.go) {
            painter.setPen(hasFocus() && i == at_ ? p.accent_edge : p.field);
            painter.setBrush(p.field);
            painter.drawRoundedRect(box.adjusted(-0.5, 0.5, -0.5, -0.5), 4, 4);
        }
        if (line.mark) {
            paintMark(painter, QRectF(box.left() + 2, box.center().y() - 7, 14, 14), *line.mark, p);
            box.setLeft(box.left() + 24);
        }
        const double most = line.words.isEmpty() ? 1.0 : 0.72;
        const double figure = std::min(figuresWidth(strong, line.figure), box.width() * most);
        painter.setFont(plain);
        painter.setPen(line.go && !line.mark ? p.action : line.mark ? p.ink : p.ink_soft);
        const QRectF left = box.adjusted(0, 0, line.figure.isEmpty() ? 0 : -figure - 8, 0);
        painter.drawText(left, Qt::AlignLeft | Qt::AlignVCenter,
                         painter.fontMetrics().elidedText(line.words, Qt::ElideRight, int(left.width())));
        painter.setFont(strong);
        painter.setPen(p.ink);
        drawFigures(painter, box.adjusted(box.width() - figure, 0, 0, 0), Qt::AlignRight | Qt::AlignVCenter,
                    painter.fontMetrics().elidedText(line.figure, Qt::ElideRight, int(figure) + 8));
    }
}

void FactList::mouseMoveEvent(QMouseEvent* event) {
    hover_ = lineAt(event->position().y());
    setCursor(doesSomething(hover_) ? Qt::PointingHandCursor : Qt::ArrowCursor);
    update();
}

void FactList::mouseReleaseEvent(QMouseEvent* event) {
    const int line = lineAt(event->position().y());
    if (!doesSomething(line)) return;
    const auto go = lines_[std::size_t(line)].go;  // a copy: it may well rebuild this list
    go();
}

void FactList::leaveEvent(QEvent*) {
    hover_ = -1;
    update();
}

void FactList::keyPressEvent(QKeyEvent* event) {
    const int by = event->key() == Qt::Key_Down ? 1 : event->key() == Qt::Key_Up ? -1 : 0;
    if (by != 0) {
        for (int line = at_ + by; line >= 0 && line < int(lines_.size()); line += by) {
            if (!doesSomething(line)) continue;
            at_ = line;
            update();
            return;
        }
    }
    if ((event->key() == Qt::Key_Return || event->key() == Qt::Key_Enter) && doesSomething(at_)) {
        const auto go = lines_[std::size_t(at_)].go;
        go();
        return;
    }
    QWidget::keyPressEvent(event);
}

bool FactList::event(QEvent* event) {
    if (event->type() == QEvent::ToolTip) {
        auto* help = static_cast<QHelpEvent*>(event);
        const int line = lineAt(help->pos().y());
        if (line >= 0) {
            const FactLine& one = lines_[std::size_t(line)];
            QToolTip::showText(
                help->globalPos(),
                one.words + (one.figure.isEmpty() ? QString() : QStringLiteral(": ") + one.figure), this);
        }
        return true;
    }
    return QWidget::event(event);
}

}  // namespace hoopwright
