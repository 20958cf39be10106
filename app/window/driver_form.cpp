// The form of one person in the seat.
#include "app/window/details.h"
#include "app/window/driver_results.h"
#include "app/window/form.h"
#include "app/window/form_help.h"
#include "core/edit/cage_edits.h"
#include "core/model/figure.h"

namespace hoopwright {
namespace {

void pointRow(Desk& desk, Form& form, const std::string& id, const QString& words, Vec3 Driver::*which) {
    form.place(
        words, [&desk, id, which] { return driverOf(desk, id).*which; },
        [&desk, id, which, words](const Vec3& to, const QByteArray& key) {
            editDriver(
                desk, id, words, [&](Driver& d) { d.*which = to; }, key);
        });
}

void helmetRows(Desk& desk, Form& form, const std::string& id) {
    form.section(QObject::tr("Helmet"));
    form.within(QObject::tr("Helmet"));
    form.place(
        QObject::tr("Centre"), [&desk, id] { return driverOf(desk, id).helmet.centre; },
        [&desk, id](const Vec3& to, const QByteArray& key) {
            editDriver(
                desk, id, QObject::tr("Helmet"), [&](Driver& d) { d.helmet.centre = to; }, key);
        });
    for (const auto& [words, which] : {std::pair{QObject::tr("Length"), &Helmet::length_mm},
                                       std::pair{QObject::tr("Width"), &Helmet::width_mm},
                                       std::pair{QObject::tr("Height"), &Helmet::height_mm}}) {
        form.value(
            words, Dimension::length,
            [&desk, id, part = which] { return std::optional(driverOf(desk, id).helmet.*part); },
            [&desk, id, part = which](std::optional<double> to, const QByteArray& key) {
                if (*to <= 0) {
                    emit desk.say(QObject::tr("A helmet has a size: type more than 0."));
                    return;
                }
                editDriver(
                    desk, id, QObject::tr("Helmet"), [&](Driver& d) { d.helmet.*part = *to; }, key);
            });
    }
}

void seatRows(Desk& desk, Form& form, const std::string& id) {
    form.section(QObject::tr("Seat"));
    form.within(QObject::tr("Seat"));
    form.tick(
        QObject::tr("The seat is measured"), [&desk, id] { return driverOf(desk, id).seat.has_value(); },
        [&desk, id](bool on) {
            editDriver(desk, id, QObject::tr("Seat"), [&](Driver& d) {
                d.seat = on ? std::optional(Seat{600, 420, d.shoulder_left, d.shoulder_right}) : std::nullopt;
            });
        });
    if (!driverOf(desk, id).seat) return;
    const auto seat = [&desk, id] { return driverOf(desk, id).seat.value_or(Seat{}); };
    for (const auto& [words, which] : {std::pair{QObject::tr("Back height"), &Seat::back_height_mm},
                                       std::pair{QObject::tr("Width"), &Seat::width_mm}}) {
        form.value(
                words, Dimension::length, [seat, part = which] { return std::optional(seat().*part); },
                [&desk, id, part = which](std::optional<double> to, const QByteArray& key) {
                    editDriver(
                        desk, id, QObject::tr("Seat"),
                        [&](Driver& d) {
                            if (d.seat) (*d.seat).*part = std::max(0.0, *to);
                        },
                        key);
                })
            ->setLeast(0);
    }
    for (const auto& [words, which] : {std::pair{QObject::tr("Belt slot, left"), &Seat::slot_left},
                                       std::pair{QObject::tr("Belt slot, right"), &Seat::slot_right}}) {
        form.place(
            words, [seat, part = which] { return seat().*part; },
            [&desk, id, part = which](const Vec3& to, const QByteArray& key) {
                editDriver(
                    desk, id, QObject::tr("Seat"),
                    [&](Driver& d) {
                        if (d.seat) (*d.seat).*part = to;
                    },
                    key);
            });
    }
}

void wheelRows(Desk& desk, Form& form, const std::string& id) {
    form.section(QObject::tr("Steering wheel"));
    form.within(QObject::tr("Steering wheel"));
    const auto edit = [&desk, id](const std::function<void(SteeringWheel&)>& change, const QByteArray& key) {
        editDriver(
            desk, id, QObject::tr("Steering wheel"),
            [&](Driver& d) {
                if (d.steering_wheel) change(*d.steering_wheel);
            },
            key);
    };
    const auto wheel = [&desk, id] { return driverOf(desk, id).steering_wheel.value_or(SteeringWheel{}); };
    form.tick(
        QObject::tr("The wheel is measured"),
        [&desk, id] { return driverOf(desk, id).steering_wheel.has_value(); },
        [&desk, id](bool on) {
            editDriver(desk, id, QObject::tr("Steering wheel"), [&](Driver& d) {
                d.steering_wheel =
                    on ? std::optional(SteeringWheel{0.5 * (d.hand_left + d.hand_right), 330, 0})
                       : std::nullopt;
            });
        });
    if (!driverOf(desk, id).steering_wheel) return;
    form.place(
        QObject::tr("Middle"), [wheel] { return wheel().centre; },
        [edit](const Vec3& to, const QByteArray& key) {
            edit([&](SteeringWheel& w) { w.centre = to; }, key);
        });
    form.value(
            QObject::tr("Across"), Dimension::length, [wheel] { return std::optional(wheel().diameter_mm); },
            [edit](std::optional<double> to, const QByteArray& key) {
                edit([&](SteeringWheel& w) { w.diameter_mm = *to; }, key);
            })
        ->setLeast(1);
    form.value(
            QObject::tr("Tilt"), Dimension::angle, [wheel] { return std::optional(wheel().tilt_rad); },
            [edit](std::optional<double> to, const QByteArray& key) {
                edit([&](SteeringWheel& w) { w.tilt_rad = *to; }, key);
            })
        ->setToolTip(QObject::tr("0 upright; positive with its top away from the driver"));
}

void anchorRows(Desk& desk, Form& form, const std::string& id) {
    form.tick(
        QObject::tr("Shoulder straps end at eyes of their own"),
        [&desk, id] { return driverOf(desk, id).belts.shoulder_anchors.has_value(); },
        [&desk, id](bool on) {
            editDriver(desk, id, QObject::tr("Belts"), [&](Driver& d) {
                const Vec3 behind(-500, 0, -100);
                d.belts.shoulder_anchors =
                    on ? std::optional(StrapAnchors{d.shoulder_left + behind, d.shoulder_right + behind})
                       : std::nullopt;
            });
        });
    if (!driverOf(desk, id).belts.shoulder_anchors) return;
    for (const auto& [words, which] : {std::pair{QObject::tr("Eye, left"), &StrapAnchors::left},
                                       std::pair{QObject::tr("Eye, right"), &StrapAnchors::right}}) {
        form.place(
            words,
            [&desk, id, side = which] {
                return driverOf(desk, id).belts.shoulder_anchors.value_or(StrapAnchors{}).*side;
            },
            [&desk, id, side = which](const Vec3& to, const QByteArray& key) {
                editDriver(
                    desk, id, QObject::tr("Belts"),
                    [&](Driver& d) {
                        if (d.belts.shoulder_anchors) (*d.belts.shoulder_anchors).*side = to;
                    },
                    key);
            });
    }
}

void beltRows(Desk& desk, Form& form, const std::string& id) {
    form.section(QObject::tr("Belts"));
    form.within(QObject::tr("Belts"));
    form.choice(
        QObject::tr("Wrap over"),
        [&desk] {
            std::vector<ChoiceField::Option> options{{"", QObject::tr("no bar")}};
            for (const Member& member : desk.document.job().cage.members) {
                for (const std::string& one : resolvedIds(member.id, member.mirrored)) {
                    options.push_back({one, sidedName(shownName(member), sideOf(one))});
                }
            }
            return options;
        },
        [&desk, id] { return driverOf(desk, id).belts.bar; },
        [&desk, id](const std::string& to) {
            editDriver(desk, id, QObject::tr("Belts"), [&](Driver& d) { d.belts.bar = to; });
        });
    for (const auto& [words, which] : {std::pair{QObject::tr("Strap width"), &Belts::strap_width_mm},
                                       std::pair{QObject::tr("Spacing"), &Belts::spacing_mm}}) {
        form.value(
                words, Dimension::length,
                [&desk, id, part = which] { return std::optional(driverOf(desk, id).belts.*part); },
                [&desk, id, part = which](std::optional<double> to, const QByteArray& key) {
                    editDriver(
                        desk, id, QObject::tr("Belts"),
                        [&](Driver& d) { d.belts.*part = std::max(0.0, *to); }, key);
                })
            ->setLeast(0);
    }
    anchorRows(desk, form, id);
    for (std::size_t i = 0; i < driverOf(desk, id).belts.lap_anchors.size(); ++i) {
        form.place(
            QObject::tr("Lap anchor %1").arg(i + 1),
            [&desk, id, i] {
                const auto& anchors = driverOf(desk, id).belts.lap_anchors;
                return i < anchors.size() ? anchors[i] : Vec3(Vec3::Zero());
            },
            [&desk, id, i](const Vec3& to, const QByteArray& key) {
                editDriver(
                    desk, id, QObject::tr("Belts"), [&](Driver& d) { d.belts.lap_anchors[i] = to; }, key);
            });
    }
    std::vector<Form::Action> actions{{QObject::tr("Add lap anchor"),
                                       [&desk, id] {
                                           editDriver(desk, id, QObject::tr("Belts"), [](Driver& d) {
                                               const double side = d.belts.lap_anchors.empty() ? 1 : -1;
                                               d.belts.lap_anchors.push_back(d.hip +
                                                                             Vec3(-50, side * 200, -100));
                                           });
                                       },
                                       QObject::tr("Where a lap belt is bolted")}};
    if (!driverOf(desk, id).belts.lap_anchors.empty()) {
        actions.push_back({QObject::tr("Delete last"),
                           [&desk, id] {
                               editDriver(desk, id, QObject::tr("Belts"),
                                          [](Driver& d) { d.belts.lap_anchors.pop_back(); });
                           },
                           {}});
    }
    form.actions(actions);
}

}  // namespace

Form* driverForm(Desk& desk, const std::string& id) {
    auto* form = new Form(desk, text(driverOf(desk, id).name));
    form->title([&desk, id] { return text(driverOf(desk, id).name); },
                [&desk, id] {
                    return driverOf(desk, id).occupant == Driver::Occupant::driver ? QObject::tr("driver")
                                                                                   : QObject::tr("passenger");
                });
    form->text(
        QObject::tr("Name"), [&desk, id] { return text(driverOf(desk, id).name); },
        [&desk, id](const QString& to) {
            if (to.isEmpty()) return QObject::tr("A person needs a name, even if only \"tall driver\".");
            editDriver(desk, id, QObject::tr("Name"), [&](Driver& d) { d.name = to.toStdString(); });
            return QString();
        });
    form->choice(
        QObject::tr("Sits as"),
        [] {
            return std::vector<ChoiceField::Option>{{"driver", QObject::tr("driver")},
                                                    {"passenger", QObject::tr("passenger")}};
        },
        [&desk, id] {
            return driverOf(desk, id).occupant == Driver::Occupant::driver ? std::string("driver")
                                                                           : std::string("passenger");
        },
        [&desk, id](const std::string& to) {
            editDriver(desk, id, QObject::tr("Occupant"), [&](Driver& d) {
                d.occupant = to == "driver" ? Driver::Occupant::driver : Driver::Occupant::passenger;
            });
        });
    addSeatMove(desk, *form, id);
    addDriverResults(desk, *form, id);
    form->section(QObject::tr("Measured, helmet on and belted"));
    form->note([&desk, id] {
        const Driver& driver = driverOf(desk, id);
        const Figure* figure = driver.figure.empty() ? nullptr : figureNamed(driver.figure);
        return figure ? QObject::tr("Started from %1 (%2). Correct every point with the tape.")
                            .arg(text(figure->name), text(figure->source))
                      : QString();
    });
    if (!driverOf(desk, id).figure.empty())
        form->actions({{QObject::tr("Every point is measured now"),
                        [&desk, id] {
                            editDriver(desk, id, QObject::tr("Measured"),
                                       [](Driver& d) { d.figure.clear(); });
                        },
                        QObject::tr("Takes the mark of the published figure off this person")}});
    pointRow(desk, *form, id, QObject::tr("Hip"), &Driver::hip);
    form->value(
        QObject::tr("Back angle"), Dimension::angle,
        [&desk, id] { return std::optional(driverOf(desk, id).back_angle_rad); },
        [&desk, id](std::optional<double> to, const QByteArray& key) {
            editDriver(
                desk, id, QObject::tr("Back angle"), [&](Driver& d) { d.back_angle_rad = *to; }, key);
        });
    pointRow(desk, *form, id, QObject::tr("Eye"), &Driver::eye);
    const std::pair<QString, Vec3 Driver::*> points[] = {
        {QObject::tr("Shoulder, left"), &Driver::shoulder_left},
        {QObject::tr("Shoulder, right"), &Driver::shoulder_right},
        {QObject::tr("Elbow, left"), &Driver::elbow_left},
        {QObject::tr("Elbow, right"), &Driver::elbow_right},
        {QObject::tr("Hand, left"), &Driver::hand_left},
        {QObject::tr("Hand, right"), &Driver::hand_right},
        {QObject::tr("Knee, left"), &Driver::knee_left},
        {QObject::tr("Knee, right"), &Driver::knee_right},
        {QObject::tr("Heel, left"), &Driver::heel_left},
        {QObject::tr("Heel, right"), &Driver::heel_right}};
    for (const auto& [words, which] : points) pointRow(desk, *form, id, words, which);
    form->value(
            QObject::tr("Shoulders across"), Dimension::length,
            [&desk, id] { return driverOf(desk, id).shoulder_width_mm; },
            [&desk, id](std::optional<double> to, const QByteArray& key) {
                editDriver(
                    desk, id, QObject::tr("Shoulders across"),
                    [&](Driver& d) { d.shoulder_width_mm = to && *to > 0 ? to : std::nullopt; }, key);
            },
            true)
        ->setToolTip(QObject::tr("Outside to outside; empty: not taped"));
    helmetRows(desk, *form, id);
    seatRows(desk, *form, id);
    wheelRows(desk, *form, id);
    beltRows(desk, *form, id);
    form->finish();
    return form;
}

}  // namespace hoopwright
