#include "app/window/new_driver.h"

#include <QDialogButtonBox>
#include <QLabel>
#include <QPushButton>
#include <QVBoxLayout>
#include <numbers>

#include "app/window/form.h"
#include "app/window/form_help.h"
#include "app/window/style.h"

namespace hoopwright {

NewDriver::NewDriver(Desk& desk, QWidget* parent)
    : QDialog(parent), name_(tr("New driver")), figure_(figures().front().id) {
    setWindowTitle(tr("New driver"));
    setMinimumWidth(480);
    // Where a driver sits already, the next one most likely sits as well.
    const auto& drivers = desk.document.job().drivers;
    place_.hip = drivers.empty() ? Vec3(300, 360, 60) : drivers.front().hip;
    place_.back_angle_rad = drivers.empty() ? 20 * std::numbers::pi / 180 : drivers.front().back_angle_rad;
    if (!drivers.empty()) place_.steering_wheel = drivers.front().steering_wheel;
    auto* column = new QVBoxLayout(this);
    column->setContentsMargins(3 * kGrid, 3 * kGrid, 3 * kGrid, 2 * kGrid);
    column->setSpacing(2 * kGrid);
    auto* head = new QLabel(tr("Who sits there?"), this);
    head->setFont(typeFont(TypeSize::head, TypeWeight::strong));
    column->addWidget(head);
    auto* form = new Form(desk, tr("New driver"), this);
    form->text(
        tr("Name"), [this] { return name_; },
        [this](const QString& to) {
            if (to.isEmpty()) return tr("A person needs a name, even if only \"tall driver\".");
            name_ = to;
            return QString();
        });
    form->choice(
        tr("Figure"),
        [] {
            std::vector<ChoiceField::Option> options;
            for (const Figure& one : figures()) options.push_back({one.id, text(one.name)});
            return options;
        },
        [this] { return figure_; }, [this](const std::string& to) { figure_ = to; });
    form->choice(
        tr("Sits as"),
        [] {
            return std::vector<ChoiceField::Option>{{"driver", tr("driver")}, {"passenger", tr("passenger")}};
        },
        [this] { return std::string(place_.occupant == Driver::Occupant::driver ? "driver" : "passenger"); },
        [this](const std::string& to) {
            place_.occupant = to == "driver" ? Driver::Occupant::driver : Driver::Occupant::passenger;
        });
    form->place(
        tr("Hip"), [this] { return place_.hip; },
        [this](const Vec3& to, const QByteArray&) { place_.hip = to; });
    form->value(
        tr("Back angle"), Dimension::angle, [this] { return std::optional(place_.back_angle_rad); },
        [this](std::optional<double> to, const QByteArray&) { place_.back_angle_rad = to.value_or(0); });
    form->note([this] {
        const Figure* figure = figureNamed(figure_);
        return figure ? tr("Sizes from %1. A start only: correct every point with the tape, helmet on and "
                           "belted.")
                            .arg(text(figure->source))
                      : QString();
    });
    form->layout()->setContentsMargins(0, 0, 0, 0);  // in line with the heading
    column->addWidget(form);
    auto* buttons = new QDialogButtonBox(this);
    buttons->addButton(tr("Cancel"), QDialogButtonBox::RejectRole);
    auto* begin = buttons->addButton(tr("Seat them"), QDialogButtonBox::AcceptRole);
    makePrimary(begin);
    begin->setDefault(true);
    connect(buttons, &QDialogButtonBox::accepted, this, &QDialog::accept);
    connect(buttons, &QDialogButtonBox::rejected, this, &QDialog::reject);
    column->addWidget(buttons);
}

Expected<Driver> NewDriver::driver() const {
    const Figure* figure = figureNamed(figure_);
    if (!figure) return Reason{"there is no such figure"};
    Expected<Driver> driver = driverFromFigure(*figure, place_);
    if (driver) driver->name = name_.toStdString();
    return driver;
}

}  // namespace hoopwright
