// The forms of the car and of one line of it; and of the job as a whole.
#include <QHBoxLayout>
#include <QPushButton>
#include <QRegularExpression>
#include <algorithm>

#include "app/window/bar_facts.h"
#include "app/window/car_names.h"
#include "app/window/details.h"
#include "app/window/fact_rows.h"
#include "app/window/form.h"
#include "app/window/form_help.h"
#include "app/window/lesson_rows.h"
#include "core/edit/cage_edits.h"

namespace hoopwright {
namespace {

const CarLine& lineOf(const Desk& desk, const std::string& name) {
    static const CarLine kNone{};
    const CarLine* found = desk.document.job().car.line(name);
    return found ? *found : kNone;
}

void editLine(Desk& desk, const std::string& name, const std::function<void(CarLine&)>& change,
              const QByteArray& key = {}) {
    desk.document.edit(
        QObject::tr("Car line %1").arg(text(name)),
        [&](Job& job) {
            for (CarLine& line : job.car.lines) {
                if (line.name == name) change(line);
            }
        },
        key);
}

/// Planes distances are squared off from.
void planeRows(Desk& desk, Form& form) {
    form.section(QObject::tr("Planes squared off from"));
    const auto edit = [&desk](const std::string& name, const std::function<void(DatumPlane&)>& change,
                              const QByteArray& key) {
        const QString refused = desk.document.edit(
            QObject::tr("Plane %1").arg(spoken(name)),
            [&](Job& job) {
                for (DatumPlane& plane : job.car.planes) {
                    if (plane.name == name) change(plane);
                }
            },
            key);
        if (!refused.isEmpty()) emit desk.say(refused);
    };
    for (const DatumPlane& plane : desk.document.job().car.planes) {
        const auto now = [&desk, name = plane.name] {
            for (const DatumPlane& one : desk.document.job().car.planes) {
                if (one.name == name) return one;
            }
            return DatumPlane{};
        };
        form.caption(titled(plane.name));
        form.value(
            QObject::tr("Ahead of the door edge"), Dimension::length,
            [now] { return std::optional(now().x_mm); },
            [edit, name = plane.name](std::optional<double> to, const QByteArray& key) {
                edit(
                    name, [&](DatumPlane& one) { one.x_mm = *to; }, key);
            });
        form.value(
                QObject::tr("Good to"), Dimension::length,
                [now]() -> std::optional<double> {
                    const double mm = now().tolerance_mm;
                    return mm > 0 ? std::optional(mm) : std::nullopt;
                },
                [edit, name = plane.name](std::optional<double> to, const QByteArray& key) {
                    edit(
                        name, [&](DatumPlane& one) { one.tolerance_mm = to.value_or(0); }, key);
                },
                true)
            ->setLeast(0);
    }
    auto* line = new QWidget(&form);
    auto* columns = new QHBoxLayout(line);
    columns->setContentsMargins(0, 0, 0, 0);
    columns->setSpacing(4);
    auto* name = new QLineEdit(line);
    name->setPlaceholderText(QObject::tr("another plane: firewall, front axle"));
    name->setAccessibleName(QObject::tr("Name of a new plane"));
    auto* add = new QPushButton(QObject::tr("Add"), line);
    add->setAccessibleName(QObject::tr("Add the plane"));
    columns->addWidget(name, 1);
    columns->addWidget(add);
    form.whole(line);
    const auto put = [&desk, name] {
        const QString word = name->text().trimmed().toLower().replace(QLatin1Char(' '), QLatin1Char('_'));
        const auto& planes = desk.document.job().car.planes;
        const bool taken = word.toStdString() == kDoorEdge ||
                           std::ranges::find(planes, word.toStdString(), &DatumPlane::name) != planes.end();
        if (const QString wrong = wrongCarName(word, taken); !wrong.isEmpty()) {
            emit desk.say(wrong);
            return;
        }
        desk.document.edit(QObject::tr("Plane %1").arg(word), [&](Job& job) {
            job.car.planes.push_back({word.toStdString(), 0, 0});
        });
    };
    QObject::connect(add, &QPushButton::clicked, &form, put);
    QObject::connect(name, &QLineEdit::returnPressed, &form, put);
}

}  // namespace

QString wrongCarName(const QString& name, bool taken) {
    static const QRegularExpression kName(QStringLiteral("^[a-z][a-z0-9_]*(\\.(left|right))?$"));
    if (!kName.match(name).hasMatch()) {
        return QObject::tr("\"%1\" will not do: small letters, digits and _, perhaps .left or .right behind.")
            .arg(name);
    }
    return taken ? QObject::tr("Something of the car is called %1 already.").arg(name) : QString();
}

Form* carLineForm(Desk& desk, const std::string& name) {
    auto* form = new Form(desk, QObject::tr("Car line %1").arg(text(name)));
    form->title([name] { return titled(name); }, [] { return QObject::tr("car line"); });
    form->text(
        QObject::tr("Called"), [name] { return text(name); },
        [&desk, name](const QString& to) {
            const std::string next = to.toStdString();
            if (next == name) return QString();
            if (const QString wrong = wrongCarName(to, desk.document.job().car.line(next)); !wrong.isEmpty())
                return wrong;
            editLine(desk, name, [&](CarLine& line) { line.name = next; });
            desk.selection.set({Thing::Kind::car_line, next});
            return QString();
        });
    form->choice(
        QObject::tr("Kind"),
        [] {
            return std::vector<ChoiceField::Option>{{"0", QObject::tr("body")},
                                                    {"1", QObject::tr("glass")},
                                                    {"2", QObject::tr("floor")},
                                                    {"3", QObject::tr("opening")}};
        },
        [&desk, name] { return std::to_string(int(lineOf(desk, name).kind)); },
        [&desk, name](const std::string& to) {
            editLine(desk, name, [&](CarLine& line) { line.kind = CarLine::Kind(std::stoi(to)); });
        });
    form->tick(
        QObject::tr("Closed: the last point joins the first"),
        [&desk, name] { return lineOf(desk, name).closed; },
        [&desk, name](bool on) { editLine(desk, name, [&](CarLine& line) { line.closed = on; }); });
    form->section(QObject::tr("Through"));
    for (std::size_t i = 0; i < lineOf(desk, name).points.size(); ++i) {
        form->place(
            QObject::tr("Point %1").arg(i + 1),
            [&desk, name, i] {
                const auto& points = lineOf(desk, name).points;
                return i < points.size() ? points[i] : Vec3(Vec3::Zero());
            },
            [&desk, name, i](const Vec3& to, const QByteArray& key) {
                editLine(
                    desk, name,
                    [&](CarLine& line) {
                        line.points[i] = to;
                        if (i < line.corners.size()) line.corners[i] = {};  // no longer on its point
                    },
                    key);
            });
    }
    std::vector<Form::Action> actions{{QObject::tr("Add point"),
                                       [&desk, name] {
                                           editLine(desk, name, [](CarLine& line) {
                                               const Vec3 last = line.points.empty() ? Vec3(Vec3::Zero())
                                                                                     : line.points.back();
                                               line.points.push_back(last + Vec3(100, 0, 0));
                                           });
                                       },
                                       QObject::tr("A new point after the last")}};
    if (lineOf(desk, name).points.size() > 2) {
        actions.push_back(
            {QObject::tr("Delete last"),
             [&desk, name] { editLine(desk, name, [](CarLine& line) { line.points.pop_back(); }); },
             {}});
    }
    form->actions(actions);
    lessonRows(desk, *form, name);
    form->finish();
    return form;
}

Form* carForm(Desk& desk) {
    auto* form = new Form(desk, QObject::tr("Car"));
    const auto car = [&desk]() -> const Car& { return desk.document.job().car; };
    const auto edit = [&desk](const QString& words, const std::function<void(Car&)>& change,
                              const QByteArray& key = {}) {
        desk.document.edit(
            QObject::tr("Car, ") + words.toLower(), [&](Job& job) { change(job.car); }, key);
    };
    form->title([car] { return car().name.empty() ? QObject::tr("Car") : text(car().name); },
                [] { return QObject::tr("as measured"); });
    form->text(
        QObject::tr("Name"), [car] { return text(car().name); },
        [edit](const QString& to) {
            edit(QObject::tr("Name"), [&](Car& c) { c.name = to.toStdString(); });
            return QString();
        });
    form->choice(
        QObject::tr("Body"),
        [] {
            std::vector<ChoiceField::Option> options;
            for (int i = 0; i <= int(Car::Body::van); ++i)
                options.push_back({std::to_string(i), text(bodyWord(Car::Body(i)))});
            return options;
        },
        [car] { return std::to_string(int(car().body)); },
        [edit](const std::string& to) {
            edit(QObject::tr("Body"), [&](Car& c) { c.body = Car::Body(std::stoi(to)); });
        });
    form->choice(
        QObject::tr("Frame"),
        [] {
            std::vector<ChoiceField::Option> options;
            for (int i = 0; i <= int(Car::Frame::perimeter); ++i)
                options.push_back({std::to_string(i), text(frameWord(Car::Frame(i)))});
            return options;
        },
        [car] { return std::to_string(int(car().frame)); },
        [edit](const std::string& to) {
            edit(QObject::tr("Frame"), [&](Car& c) { c.frame = Car::Frame(std::stoi(to)); });
        });
    form->value(
        QObject::tr("Ground at z"), Dimension::length, [car] { return std::optional(car().ground_z_mm); },
        [edit](std::optional<double> to, const QByteArray& key) {
            edit(
                QObject::tr("Ground"), [&](Car& c) { c.ground_z_mm = *to; }, key);
        });
    form->tick(
        QObject::tr("Symmetric: one side holds for both"), [car] { return car().symmetric; },
        [edit](bool on) { edit(QObject::tr("Symmetric"), [&](Car& c) { c.symmetric = on; }); });
    planeRows(desk, *form);
    form->section(QObject::tr("Facts a class asks for"));
    factRows(desk, *form, QObject::tr("Car"), [](Job& job) -> Facts& { return job.car.facts; });
    lessonRows(desk, *form, {});
    form->section(QObject::tr("To remember"));
    form->text(
        QObject::tr("Notes"), [car] { return text(car().notes); },
        [edit](const QString& to) {
            edit(QObject::tr("Notes"), [&](Car& c) { c.notes = to.toStdString(); });
            return QString();
        });
    form->finish();
    return form;
}

Form* jobForm(Desk& desk) {
    auto* form = new Form(desk, QObject::tr("Job"));
    form->title([&desk] { return desk.document.title(); }, [] { return QObject::tr("the whole job"); });
    form->text(
        QObject::tr("Name"), [&desk] { return text(desk.document.job().cage.name); },
        [&desk](const QString& to) {
            desk.document.edit(QObject::tr("Name of the job"),
                               [&](Job& job) { job.cage.name = to.toStdString(); });
            return QString();
        });
    ValueField* reach = form->value(
                                QObject::tr("Node reach"), Dimension::length,
                                [&desk] { return std::optional(desk.document.job().cage.node_reach_mm); },
                                [&desk](std::optional<double> to, const QByteArray& key) {
                                    desk.document.edit(
                                        QObject::tr("Node reach"),
                                        [&](Job& job) { job.cage.node_reach_mm = std::max(0.0, *to); }, key);
                                })
                            ->setLeast(0);
    reach->setToolTip(QObject::tr("Ends nearer to each other than this along a bar meet at one node"));
    if (desk.document.job().car.bodyLiftsOff())
        form->tick(
            QObject::tr("The body stays on its frame"),
            [&desk] { return desk.document.job().cage.body_stays; },
            [&desk](bool on) {
                desk.document.edit(QObject::tr("The body stays on its frame"),
                                   [&](Job& job) { job.cage.body_stays = on; });
            });
    form->section(QObject::tr("The entry"));
    wantedFactRows(desk, *form, factsNotSaid(desk));
    factRows(desk, *form, QObject::tr("Entry"), [](Job& job) -> Facts& { return job.cage.entry; });
    form->section(QObject::tr("The cage"));
    form->facts(QObject::tr("the cage"), [&desk] { return jobLines(desk); });
    form->section(QObject::tr("To remember"));
    form->text(
        QObject::tr("Notes"), [&desk] { return text(desk.document.job().cage.notes); },
        [&desk](const QString& to) {
            desk.document.edit(QObject::tr("Notes"), [&](Job& job) { job.cage.notes = to.toStdString(); });
            return QString();
        });
    form->note([] { return QObject::tr("Plans only. The rule book in force and the inspector decide."); });
    form->finish();
    return form;
}

}  // namespace hoopwright
