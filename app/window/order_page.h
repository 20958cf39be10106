// The order: tube by stock, which piece from which stick, masses and prices.
#pragma once

#include <QScrollArea>
#include <memory>

#include "app/window/left_page.h"
#include "core/shop/order.h"

namespace hoopwright {

/// An order and the cage it is of: its members' indices are into that one, whatever the job has become since.
struct MadeOrder {
    Order order;
    CageGeometry cage;
};
/// Shared between the worker that made it and the pages that show it; it never changes.
using OrderRef = std::shared_ptr<const MadeOrder>;

/// Makes the order on a worker, from a copy, whenever it is wanted and the job changed.
class OrderMaker : public QObject {
    Q_OBJECT
public:
    OrderMaker(Desk& desk, QObject* parent = nullptr);
    ~OrderMaker() override;
    void setWanted(bool wanted);
    const OrderRef& order() const { return order_; }  ///< null until the first is ready
    bool working() const { return working_; }

signals:
    void ready();

private:
    void begin();

    Desk& desk_;
    OrderRef order_;
    bool wanted_ = false, stale_ = true, working_ = false;
};

/// Pieces by stock, with lengths.
class OrderPage : public LeftPage {
    Q_OBJECT
public:
    OrderPage(Desk& desk, const OrderMaker& maker, const std::vector<QAction*>& actions,
              QWidget* parent = nullptr);

private:
    void refresh();
    const OrderMaker& maker_;
};

/// The drawing of every stick with its pieces; a click chooses the bar.
class NestDrawing : public QWidget {
    Q_OBJECT
public:
    NestDrawing(Desk& desk, const OrderMaker& maker, QWidget* parent = nullptr);
    QSize sizeHint() const override;

protected:
    void paintEvent(QPaintEvent* event) override;
    void mousePressEvent(QMouseEvent* event) override;
    bool event(QEvent* event) override;

private:
    struct Slot {
        QRectF box;
        int tube, piece;
    };
    void paintTube(QPainter& painter, const OrderTube& tube, int index, double& y);
    const Slot* slotAt(const QPointF& at) const;

    Desk& desk_;
    const OrderMaker& maker_;
    std::vector<Slot> slots_;
};

}  // namespace hoopwright
