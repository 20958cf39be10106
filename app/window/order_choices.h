// How the order is cut: off-cuts first, where the kerf is, spares of the chosen bar, what must not share a
// heat.
#pragma once

#include <QWidget>

#include "app/window/desk.h"

class QLabel;
class QPushButton;
class QSpinBox;

namespace hoopwright {

class TickField;

class OrderChoices : public QWidget {
    Q_OBJECT
public:
    explicit OrderChoices(Desk& desk, QWidget* parent = nullptr);

private:
    void refresh();
    void setSpares(int count);
    void setApart();
    /// Index of a list of bars that must not share a heat with all of the chosen ones in it; -1: none.
    int apartList() const;
    std::vector<std::string> chosen() const;

    Desk& desk_;
    TickField *off_cuts_, *kerf_;
    QLabel* spare_of_;
    QSpinBox* spares_;
    QPushButton* apart_;
    bool showing_ = false;  ///< the fields follow the job, not a hand
};

}  // namespace hoopwright
