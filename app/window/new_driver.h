// A new person in the seat, started from a figure of published size.
#pragma once

#include <QDialog>

#include "app/window/desk.h"
#include "core/base/expected.h"
#include "core/model/figure.h"

namespace hoopwright {

class NewDriver : public QDialog {
    Q_OBJECT
public:
    explicit NewDriver(Desk& desk, QWidget* parent = nullptr);
    /// The person as asked for; the reason where the back cannot lean so.
    Expected<Driver> driver() const;

private:
    QString name_;
    std::string figure_;
    FigurePlace place_;
};

}  // namespace hoopwright
