// How the order is cut: off-cuts first, where the kerf is, spares of the chosen bar, what must not share a
// heat.
#pragma once

#include <QWidget>

#include "app/window/desk.h"

class QLabel;
class QPushButton;
class QSpinBox;

namespace hoopwright {

class OrderMaker;
class TickField;

class OrderChoices : public QWidget {
    Q_OBJECT
public:
    OrderChoices(Desk& desk, const OrderMaker& maker, QWidget* parent = nullptr);

private:
    void refresh();
    void setSpares(int count);
    void setApart();
    /// Once it is cut: what is left becomes the rack of the shop's book.
    void putToRack();
    QString whyNotToRack() const;  ///< empty: it can be put
    /// Index of a list of bars that must not share a heat with all of the chosen ones in it; -1: none.
    int apartList() const;
    std::vector<std::string> chosen() const;

    Desk& desk_;
    const OrderMaker& maker_;
    TickField *off_cuts_, *kerf_;
    QLabel* spare_of_;
    QSpinBox* spares_;
    QPushButton *apart_, *to_rack_;
    bool showing_ = false;  ///< the fields follow the job, not a hand
};

}  // namespace hoopwright
