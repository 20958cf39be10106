#include "app/window/order_page.h"

#include <QApplication>
#include <QHelpEvent>
#include <QMouseEvent>
#include <QPainter>
#include <QPointer>
#include <QThreadPool>
#include <QToolTip>
#include <algorithm>
#include <cmath>

#include "app/view/marks.h"
#include "app/window/form_help.h"
#include "app/window/order_choices.h"
#include "app/window/style.h"
#include "core/base/text.h"

namespace hoopwright {
namespace {

constexpr double kTitle = 28, kStick = 30, kGap = 20, kNote = 20;

/// One unit is enough where columns are narrow: the one that is typed.
UnitsShown typed(const Desk& desk) {
    return desk.units() == UnitsShown::in ? UnitsShown::in : UnitsShown::mm;
}

/// A length at the saw: to a tenth of a millimetre or a thousandth of an inch; no saw leaves it truer.
QString sawn(const Desk& desk, double mm) {
    const double step = desk.units() == UnitsShown::in ? 0.0254 : 0.1;
    return desk.length(step * std::round(mm / step));
}

QString kilograms(const Desk& desk, double kg) {
    return massText(kg, typed(desk), 1);
}

QString sticks(std::size_t count) {
    return count == 1 ? QObject::tr("1 stick") : QObject::tr("%1 sticks").arg(count);
}

QString bends(int count) {
    return count == 0   ? QObject::tr("straight")
           : count == 1 ? QObject::tr("1 bend")
                        : QObject::tr("%1 bends").arg(count);
}

QString money(const Desk& desk, double price) {
    return text(fixed(price, 2)) + QLatin1Char(' ') + text(desk.document.job().stock.currency);
}

const ResolvedMember* barOf(const MadeOrder& made, const OrderPiece& piece) {
    const auto& members = made.cage.members;
    return piece.member >= 0 && piece.member < int(members.size()) ? &members[std::size_t(piece.member)]
                                                                   : nullptr;
}

QString sticksAndMass(const Desk& desk, const OrderTube& tube) {
    const int bought = tube.nest.bought();
    const int rack = int(tube.nest.sticks.size()) - bought;
    return sticks(std::size_t(bought)) + (rack > 0 ? QObject::tr(" + %1 rack").arg(rack) : QString()) +
           QStringLiteral(", ") + kilograms(desk, tube.mass_kg);
}

QString sum(const Desk& desk, const OrderTube& tube) {
    QString words = sticksAndMass(desk, tube);
    if (tube.nest.price > 0) words += QStringLiteral(", ") + money(desk, tube.nest.price);
    return words;
}

/// Which bars must not share a heat, and whether they do.
void addApart(const MadeOrder& made, std::vector<Row>& rows) {
    if (made.order.apart.empty()) return;
    Row head;
    head.header = true;
    head.title = QObject::tr("Must not share a heat");
    rows.push_back(head);
    for (const OrderApart& apart : made.order.apart) {
        Row row;
        QStringList names;
        for (const int member : apart.members) names << text(made.cage.members[std::size_t(member)].name);
        row.title = names.join(QStringLiteral(", "));
        row.mark = apart.trouble.empty() ? Answer::meets : Answer::fails;
        row.tip = text(apart.trouble.empty() ? apart.says : apart.trouble);
        rows.push_back(row);
    }
}

/// What is wrong with the heats, and of how many pieces nobody wrote one down.
void addSources(const MadeOrder& made, std::vector<Row>& rows) {
    int open = 0;
    for (const TubeSource& source : made.order.sources) {
        open += source.from == TubeSource::From::nowhere ? 1 : 0;
        if (source.trouble.empty()) continue;
        Row row;
        row.mark = Answer::fails;
        row.title = row.tip = text(source.trouble);
        rows.push_back(row);
    }
    if (open == 0) return;
    Row row;
    row.mark = Answer::ask_person;
    row.title = open == 1 ? QObject::tr("1 piece has no heat yet")
                          : QObject::tr("%1 pieces have no heat yet").arg(open);
    row.tip = QObject::tr("Take the heat and the certificate from the stick before it is cut");
    rows.push_back(row);
}

/// Tubes bought bent: no stick, but what to saw off each.
void addBought(const Desk& desk, const MadeOrder& made, std::vector<Row>& rows) {
    if (made.order.bought.empty()) return;
    Row head;
    head.header = true;
    head.title = QObject::tr("Bought bent");
    head.detail = QObject::tr("saw off its legs");
    rows.push_back(head);
    for (const OrderBought& one : made.order.bought) {
        const ResolvedMember& bar = made.cage.members[std::size_t(one.member)];
        const auto& saw = bar.bought->saw_mm;
        const auto off = [&](double mm) {
            return mm < -kTaped_mm ? QObject::tr("%1 too short").arg(sawn(desk, -mm))
                                   : sawn(desk, std::max(0.0, mm));
        };
        Row row;
        row.thing = Thing{Thing::Kind::member, bar.id};
        row.title = text(bar.name);
        row.detail = off(saw[0]) + QStringLiteral(" + ") + off(saw[1]);
        if (std::min(saw[0], saw[1]) < -kTaped_mm) row.mark = Answer::fails;
        row.tip = QObject::tr("Saw off its first leg: %1; off its last: %2; %3")
                      .arg(off(saw[0]), off(saw[1]), kilograms(desk, one.mass_kg));
        rows.push_back(row);
    }
}

}  // namespace

OrderMaker::OrderMaker(Desk& desk, QObject* parent) : QObject(parent), desk_(desk) {
    connect(&desk_.document, &Document::changed, this, [this](Document::Change change) {
        if (change == Document::Change::saved) return;
        stale_ = true;
        begin();
    });
}

OrderMaker::~OrderMaker() = default;

void OrderMaker::setWanted(bool wanted) {
    wanted_ = wanted;
    begin();
}

void OrderMaker::begin() {
    if (!wanted_ || !stale_ || working_) return;
    stale_ = false;
    working_ = true;
    QThreadPool::globalInstance()->start(
        [me = QPointer<OrderMaker>(this), job = desk_.document.jobRef(), cage = desk_.document.geometry()] {
            auto made = std::make_shared<const MadeOrder>(MadeOrder{hoopwright::order(*job, cage), cage});
            QMetaObject::invokeMethod(
                qApp,
                [me, made] {
                    if (!me) return;
                    me->working_ = false;
                    if (!me->stale_) me->order_ = made;
                    emit me->ready();
                    me->begin();
                },
                Qt::QueuedConnection);
        });
}

OrderPage::OrderPage(Desk& desk, const OrderMaker& maker, const std::vector<QAction*>& actions,
                     QWidget* parent)
    : LeftPage(desk, tr("Order"), parent), maker_(maker) {
    for (QAction* action : actions) addButton(action);
    addAboveList(new OrderChoices(desk, maker, this));
    connect(&maker_, &OrderMaker::ready, this, &OrderPage::refresh);
    connect(&desk_, &Desk::unitsChanged, this, &OrderPage::refresh);
    refresh();
}

void OrderPage::refresh() {
    std::vector<Row> rows;
    if (!maker_.order()) {
        list()->setRows({});
        setFoot({}, {}, tr("Working it out"));
        return;
    }
    const Order& all = maker_.order()->order;
    for (const OrderTube& tube : all.tubes) {
        Row head;
        head.header = true;
        head.title = tubeName(tube.stock);
        head.detail = sticksAndMass(desk_, tube);
        rows.push_back(head);
        for (const OrderPiece& piece : tube.pieces) {
            const ResolvedMember* bar = barOf(*maker_.order(), piece);
            if (!bar) continue;
            Row row;
            row.thing = Thing{Thing::Kind::member, bar->id};
            row.title = text(pieceName(maker_.order()->cage, piece));
            row.detail = measureText(piece.cut.blank_mm, Dimension::length, typed(desk_));
            row.tip = desk_.length(piece.cut.blank_mm) + QStringLiteral(", ") + bends(piece.bends) +
                      QStringLiteral(", ") + kilograms(desk_, piece.mass_kg);
            rows.push_back(row);
        }
        if (!tube.trouble.empty()) {
            Row trouble;
            trouble.title = text(tube.trouble);
            trouble.mark = Answer::fails;
            trouble.tip = trouble.title;
            rows.push_back(trouble);
        }
        if (!tube.note.empty()) {
            Row note;
            note.title = note.tip = text(tube.note);
            note.mark = Answer::cannot_tell;
            rows.push_back(note);
        }
    }
    addApart(*maker_.order(), rows);
    addSources(*maker_.order(), rows);
    for (const std::string& left_out : all.left_out) {
        Row row;
        row.mark = Answer::cannot_tell;
        row.title = text(left_out);
        row.tip = row.title;
        rows.push_back(row);
    }
    addBought(desk_, *maker_.order(), rows);
    list()->setRows(std::move(rows));
    setFoot(
        sticks(std::size_t(all.sticks)) +
            (all.off_cuts > 0 ? tr(" + %1 of the rack").arg(all.off_cuts) : QString()),
        all.price > 0 ? money(desk_, all.price) : kilograms(desk_, all.mass_kg),
        tr("%1 of cut tube, %2").arg(longText(all.length_mm, desk_.units()), kilograms(desk_, all.mass_kg)));
}

NestDrawing::NestDrawing(Desk& desk, const OrderMaker& maker, QWidget* parent)
    : QWidget(parent), desk_(desk), maker_(maker) {
    setAccessibleName(tr("Sticks and the pieces cut from them"));
    connect(&maker_, &OrderMaker::ready, this, [this] {
        updateGeometry();
        update();
    });
    connect(&desk_, &Desk::unitsChanged, this, qOverload<>(&QWidget::update));
    connect(&desk_, &Desk::paletteChanged, this, qOverload<>(&QWidget::update));
    connect(&desk_.selection, &Selection::changed, this, qOverload<>(&QWidget::update));
}

QSize NestDrawing::sizeHint() const {
    double height = 2 * kGrid;
    if (maker_.order()) {
        for (const OrderTube& tube : maker_.order()->order.tubes)
            height += kTitle + kNote + double(tube.nest.sticks.size()) * (kStick + kGap) + kGap;
    }
    return {320, int(height) + 60};
}

void NestDrawing::paintTube(QPainter& painter, const OrderTube& tube, int index, double& y) {
    const Palette& p = desk_.palette();
    const double left = 2 * kGrid, room = width() - 4 * kGrid;
    painter.setFont(typeFont(TypeSize::body, TypeWeight::strong));
    painter.setPen(p.ink);
    painter.drawText(QRectF(left, y, room, kTitle), Qt::AlignLeft | Qt::AlignVCenter, tubeName(tube.stock));
    painter.setFont(typeFont(TypeSize::small));
    painter.setPen(p.ink_soft);
    drawFigures(painter, QRectF(left, y, room, kTitle), Qt::AlignRight | Qt::AlignVCenter, sum(desk_, tube));
    y += kTitle;
    double longest = 1;
    for (const CutStick& stick : tube.nest.sticks) longest = std::max(longest, tube.stickLength_mm(stick));
    for (const CutStick& stick : tube.nest.sticks) {
        const double whole = tube.stickLength_mm(stick), scale = room / longest;
        painter.setPen(p.line);
        painter.setBrush(p.field);
        painter.drawRoundedRect(QRectF(left, y, whole * scale, kStick).adjusted(0.5, 0.5, -0.5, -0.5), 4, 4);
        double x = left;
        for (const int number : stick.pieces) {
            const OrderPiece& piece = tube.pieces[std::size_t(number)];
            const ResolvedMember* bar = barOf(*maker_.order(), piece);
            const QRectF box(x, y, std::max(2.0, piece.cut.blank_mm * scale - 1), kStick);
            const bool chosen = bar && desk_.selection.has({Thing::Kind::member, bar->id});
            painter.setPen(QPen(chosen ? p.accent_edge : p.line, chosen ? 2 : 1));
            painter.setBrush(chosen ? p.accent : p.card);
            painter.drawRoundedRect(box.adjusted(1, 1, -1, -1), 3, 3);
            if (bar && box.width() > 36) {
                painter.setPen(chosen ? p.accent_ink : p.ink);
                painter.setFont(typeFont(TypeSize::small));
                painter.drawText(
                    box.adjusted(5, 0, -3, 0), Qt::AlignLeft | Qt::AlignVCenter,
                    painter.fontMetrics().elidedText(text(pieceName(maker_.order()->cage, piece)),
                                                     Qt::ElideRight, int(box.width()) - 8));
            }
            slots_.push_back({box, index, number});
            x += (piece.cut.blank_mm + maker_.order()->order.kerf_mm) * scale;
        }
        y += kStick;
        painter.setFont(typeFont(TypeSize::small));
        painter.setPen(p.ink_soft);
        QString under = tr("%1 left of %2").arg(sawn(desk_, stick.left_mm), longText(whole, desk_.units()));
        if (maker_.order()->order.back(stick)) under += tr(", back to the rack");
        painter.drawText(QRectF(left, y, room, kGap - 4), Qt::AlignRight | Qt::AlignVCenter, under);
        if (stick.owned >= 0) {
            const std::string& heat = tube.owned[std::size_t(stick.owned)].heat;
            painter.drawText(
                QRectF(left, y, room, kGap - 4), Qt::AlignLeft | Qt::AlignVCenter,
                heat.empty() ? tr("from the rack") : tr("from the rack, heat %1").arg(text(heat)));
        }
        y += kGap;
    }
    painter.setFont(typeFont(TypeSize::small));
    painter.setPen(tube.trouble.empty() ? p.ink_soft : p.fails);
    const QString note = !tube.trouble.empty() ? text(tube.trouble)
                         : tube.nest.proved
                             ? tr("No plan needs less: proved.")
                             : tr("A better plan may exist; this one takes at most %1 % more than the least.")
                                   .arg(text(fixed(100 * tube.nest.gap(), 1)));
    painter.drawText(QRectF(left, y, room, kNote), Qt::AlignLeft | Qt::AlignVCenter,
                     painter.fontMetrics().elidedText(note, Qt::ElideRight, int(room)));
    y += kNote + kGap;
}

void NestDrawing::paintEvent(QPaintEvent*) {
    QPainter painter(this);
    painter.setRenderHint(QPainter::Antialiasing);
    painter.fillRect(rect(), desk_.palette().card);
    slots_.clear();
    if (!maker_.order()) return;
    double y = 2 * kGrid;
    int index = 0;
    for (const OrderTube& tube : maker_.order()->order.tubes) paintTube(painter, tube, index++, y);
}

const NestDrawing::Slot* NestDrawing::slotAt(const QPointF& at) const {
    const auto found =
        std::find_if(slots_.begin(), slots_.end(), [&](const Slot& slot) { return slot.box.contains(at); });
    return found == slots_.end() ? nullptr : &*found;
}

void NestDrawing::mousePressEvent(QMouseEvent* event) {
    const Slot* slot = slotAt(event->position());
    if (!slot || !maker_.order()) return;
    const OrderPiece& piece =
        maker_.order()->order.tubes[std::size_t(slot->tube)].pieces[std::size_t(slot->piece)];
    if (const ResolvedMember* bar = barOf(*maker_.order(), piece))
        desk_.selection.set({Thing::Kind::member, bar->id});
}

bool NestDrawing::event(QEvent* event) {
    if (event->type() == QEvent::ToolTip) {
        auto* help = static_cast<QHelpEvent*>(event);
        const Slot* slot = slotAt(help->pos());
        if (slot && maker_.order()) {
            const OrderPiece& piece =
                maker_.order()->order.tubes[std::size_t(slot->tube)].pieces[std::size_t(slot->piece)];
            if (barOf(*maker_.order(), piece)) {
                QToolTip::showText(help->globalPos(),
                                   text(pieceName(maker_.order()->cage, piece)) + QStringLiteral(": ") +
                                       desk_.length(piece.cut.blank_mm),
                                   this);
            }
        }
        return true;
    }
    return QWidget::event(event);
}

}  // namespace hoopwright
