// The tape: a strip like a steel tape that shows the value in hand, millimetres and inches side by side.
#pragma once

#include <QWidget>

#include "app/window/desk.h"

namespace hoopwright {

class ValueField;

/// Drag the tape to move the value (Shift: ten times finer), one drag is one undo; or type on it: "812.4",
/// "31 63/64", "+1/16", "less 3". Four pixels are a millimetre.
class TapeStrip : public QWidget {
    Q_OBJECT
public:
    TapeStrip(Desk& desk, QWidget* parent = nullptr);
    ~TapeStrip() override;
    ValueField* field() const { return field_; }

protected:
    void paintEvent(QPaintEvent* event) override;
    void resizeEvent(QResizeEvent* event) override;
    void mousePressEvent(QMouseEvent* event) override;
    void mouseMoveEvent(QMouseEvent* event) override;
    void mouseReleaseEvent(QMouseEvent* event) override;

private:
    void refresh();
    void paintTicks(QPainter& painter, double middle_mm) const;
    QRectF plateBox() const;

    Desk& desk_;
    ValueField* field_;
    QByteArray drag_;
    double press_x_ = 0, press_mm_ = 0;
};

}  // namespace hoopwright
