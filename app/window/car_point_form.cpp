// The form of one measured point of the car.
#include <algorithm>
#include <cmath>

#include "app/window/bar_facts.h"
#include "app/window/car_names.h"
#include "app/window/details.h"
#include "app/window/form.h"
#include "app/window/form_help.h"
#include "app/window/lesson_rows.h"
#include "app/window/measuring_row.h"
#include "core/edit/cage_edits.h"
#include "core/survey/survey.h"

namespace hoopwright {
namespace {

const CarPoint& pointOf(const Desk& desk, const std::string& name) {
    static const CarPoint kNone{};
    const CarPoint* found = desk.document.job().car.point(name);
    return found ? *found : kNone;
}

template <class Way>
Way takenAs(const Desk& desk, const std::string& name) {
    const auto* way = std::get_if<Way>(&pointOf(desk, name).taken);
    return way ? *way : Way{};
}

/// Refused where the readings would lead nowhere; the sentence is then said.
void editPoint(Desk& desk, const std::string& name, const std::function<void(CarPoint&)>& change,
               const QByteArray& key = {}) {
    const QString refused = desk.document.edit(
        QObject::tr("Car point %1").arg(text(name)),
        [&](Job& job) {
            for (CarPoint& point : job.car.points) {
                if (point.name == name) change(point);
            }
        },
        key);
    if (!refused.isEmpty()) emit desk.say(refused);
}

template <class Way>
void editWay(Desk& desk, const std::string& name, const std::function<void(Way&)>& change,
             const QByteArray& key = {}) {
    editPoint(
        desk, name,
        [&](CarPoint& point) {
            if (auto* way = std::get_if<Way>(&point.taken)) change(*way);
        },
        key);
}

QString renamePoint(Desk& desk, const std::string& from, const QString& to) {
    const std::string name = to.toStdString();
    if (name == from) return {};
    if (const QString wrong = wrongCarName(to, desk.document.job().car.point(name)); !wrong.isEmpty())
        return wrong;
    const QString refused = desk.document.edit(QObject::tr("Call %1 %2").arg(text(from), to), [&](Job& job) {
        const auto turn = [&](Place3& place) {
            if (auto* at = std::get_if<AtCarPoint>(&place); at && at->point == from) at->point = name;
        };
        hoopwright::renamePoint(job.car, from, name);
        for (Member& member : job.cage.members) {
            for (MemberPoint& point : member.path) turn(point.place);
        }
        for (Plate& plate : job.cage.plates) turn(plate.at);
    });
    if (!refused.isEmpty()) return refused;
    desk.selection.set({Thing::Kind::car_point, name});
    return {};
}

/// Its boxes, as the walk asks for them.
void readingRows(Desk& desk, Form& form, const std::string& name) {
    const Car& car = desk.document.job().car;
    auto walk = std::make_shared<const std::vector<MeasuringStage>>(measuringWalk(car.body, car.frame));
    MeasuringItem item;
    if (const MeasuringItem* asked = itemOf(*walk, name)) {
        item = *asked;
    } else {
        item.name = name;
        item.drawn = pointOf(desk, name).at;
    }
    item.title = QObject::tr("Car point %1").arg(text(name)).toStdString();
    auto* row = new MeasuringRow(desk, std::move(walk), item, MeasuringRow::Dress::boxes, &form);
    form.whole(row, [row] { row->refresh(); });
}

std::vector<FactLine> placeLines(const Desk& desk, const std::string& name) {
    const SurveyedPoint* point = desk.carReport().survey.point(name);
    if (!point) return {};
    std::vector<FactLine> lines;
    const auto error = point->standardError_mm();
    const std::array<QString, 3> axes = {QObject::tr("x, forward"), QObject::tr("y, to the left"),
                                         QObject::tr("z, up")};
    for (int i = 0; i < 3; ++i) {
        QString figure = desk.length(point->at[i]);
        if (error) figure += QStringLiteral(" ± ") + text(showLength(2 * (*error)[i], desk.lengthStyle()));
        lines.push_back({axes[std::size_t(i)], figure});
    }
    const auto good = point->goodTo_mm();
    lines.push_back({QObject::tr("good to, in its worst direction"),
                     good ? text(showLength(*good, desk.lengthStyle())) : QStringLiteral("?")});
    if (!point->remark.empty()) lines.push_back({text(point->remark), {}});
    return lines;
}

void tapeRows(Desk& desk, Form& form, const std::string& name) {
    const std::size_t count = takenAs<ByTapes>(desk, name).tapes.size();
    form.fold(
        QObject::tr("Tapes"), [&desk, name] { return text(takenWords(pointOf(desk, name))); }, false);
    for (std::size_t i = 0; i < count; ++i) {
        form.caption(QObject::tr("Tape %1").arg(i + 1));
        const auto tape = [&desk, name, i] {
            const auto tapes = takenAs<ByTapes>(desk, name).tapes;
            return i < tapes.size() ? tapes[i] : Tape{};
        };
        form.choice(
            QObject::tr("From"),
            [&desk, name] {
                std::vector<ChoiceField::Option> options = carPointOptions(desk.document.job().car);
                std::erase_if(options, [&](const ChoiceField::Option& one) { return one.key == name; });
                return options;
            },
            [tape] { return tape().from; },
            [&desk, name, i](const std::string& to) {
                editWay<ByTapes>(desk, name, [&](ByTapes& by) {
                    if (i < by.tapes.size()) by.tapes[i].from = to;
                });
            });
        form.value(
                QObject::tr("Good to"), Dimension::length,
                [tape]() -> std::optional<double> {
                    const double mm = tape().tolerance_mm;
                    return mm > 0 ? std::optional(mm) : std::nullopt;
                },
                [&desk, name, i](std::optional<double> to, const QByteArray& key) {
                    editWay<ByTapes>(
                        desk, name,
                        [&](ByTapes& by) {
                            if (i < by.tapes.size()) by.tapes[i].tolerance_mm = to.value_or(0);
                        },
                        key);
                },
                true)
            ->setLeast(0);
        form.facts(QObject::tr("what tape %1 says").arg(i + 1), [&desk, name, i] {
            const SurveyedPoint* point = desk.carReport().survey.point(name);
            if (!point || i >= point->tapes.size()) return std::vector<FactLine>{};
            const TapeResult& says = point->tapes[i];
            const auto figure = [&](double mm) {
                const QString words = text(showLength(mm, desk.lengthStyle()));
                return mm > 0 ? QStringLiteral("+") + words : words;
            };
            std::vector<FactLine> lines{{QObject::tr("too long by"), figure(says.residual_mm)}};
            if (says.against_others_mm)
                lines.push_back({QObject::tr("against the others"), figure(*says.against_others_mm)});
            return lines;
        });
    }
    form.within({});
    form.choice(
        QObject::tr("Lies"),
        [] {
            std::vector<ChoiceField::Option> options{{"0", QObject::tr("not said")}};
            for (int i = 1; i <= int(ByTapes::Lies::behind); ++i)
                options.push_back({std::to_string(i), text(liesWord(ByTapes::Lies(i)))});
            return options;
        },
        [&desk, name] { return std::to_string(int(takenAs<ByTapes>(desk, name).lies)); },
        [&desk, name](const std::string& to) {
            editWay<ByTapes>(desk, name, [&](ByTapes& by) { by.lies = ByTapes::Lies(std::stoi(to)); });
        });
    form.note([] { return QObject::tr("Three tapes meet in two places: which of them is meant."); });
    std::vector<Form::Action> actions{
        {QObject::tr("Add tape"),
         [&desk, name] {
             const Car& car = desk.document.job().car;
             const auto by = takenAs<ByTapes>(desk, name);
             for (const CarPoint& one : car.points) {
                 const bool used = std::ranges::find(by.tapes, one.name, &Tape::from) != by.tapes.end();
                 const double mm = (one.at - pointOf(desk, name).at).norm();
                 if (one.name == name || used || mm <= 0) continue;
                 editWay<ByTapes>(desk, name, [&](ByTapes& to) { to.tapes.push_back({one.name, mm, 0}); });
                 emit desk.say(
                     QObject::tr("Its length is as the other tapes lead to: choose its "
                                 "datum and type what you read."));
                 return;
             }
         },
         QObject::tr("One more tape to this point")}};
    if (count > 3) {
        actions.push_back(
            {QObject::tr("Delete last"),
             [&desk, name] { editWay<ByTapes>(desk, name, [](ByTapes& by) { by.tapes.pop_back(); }); },
             {}});
    }
    form.actions(actions);
}

void offsetRows(Desk& desk, Form& form, const std::string& name) {
    form.choice(
        QObject::tr("Height from"),
        [] {
            return std::vector<ChoiceField::Option>{{"0", QObject::tr("the sill's top")},
                                                    {"1", QObject::tr("the ground")}};
        },
        [&desk, name] { return std::to_string(int(takenAs<ByOffsets>(desk, name).from)); },
        [&desk, name](const std::string& to) {
            editWay<ByOffsets>(desk, name, [&](ByOffsets& by) {
                const auto from = ByOffsets::From(std::stoi(to));
                if (from == by.from) return;
                // The place stays: the same height said from elsewhere.
                const double floor = desk.document.job().car.ground_z_mm;
                by.height_mm += from == ByOffsets::From::ground ? -floor : floor;
                by.from = from;
            });
        });
    form.choice(
        QObject::tr("Ahead of"),
        [&desk] {
            std::vector<ChoiceField::Option> options{{std::string(kDoorEdge), QObject::tr("door edge")}};
            for (const DatumPlane& one : desk.document.job().car.planes)
                options.push_back({one.name, spoken(one.name)});
            return options;
        },
        [&desk, name] { return takenAs<ByOffsets>(desk, name).plane; },
        [&desk, name](const std::string& to) {
            const auto xOf = [&](const std::string& plane) {
                for (const DatumPlane& one : desk.document.job().car.planes) {
                    if (one.name == plane) return one.x_mm;
                }
                return 0.0;
            };
            editWay<ByOffsets>(desk, name, [&](ByOffsets& by) {
                by.ahead_mm += xOf(by.plane) - xOf(to);
                by.plane = to;
            });
        });
    if (otherSide(name) != name) return;
    form.choice(
        QObject::tr("Out to the"),
        [] {
            return std::vector<ChoiceField::Option>{{"1", QObject::tr("left")}, {"2", QObject::tr("right")}};
        },
        [&desk, name] {
            const auto toward = takenAs<ByOffsets>(desk, name).toward;
            return std::to_string(toward == ByOffsets::Toward::right ? 2 : 1);
        },
        [&desk, name](const std::string& to) {
            editWay<ByOffsets>(desk, name,
                               [&](ByOffsets& by) { by.toward = ByOffsets::Toward(std::stoi(to)); });
        });
}

std::vector<FactLine> standingLines(const Desk& desk, const std::string& name) {
    std::vector<FactLine> lines;
    for (const Member& member : desk.document.job().cage.members) {
        const bool uses = std::ranges::any_of(member.path, [&](const MemberPoint& point) {
            const auto* at = std::get_if<AtCarPoint>(&point.place);
            return at && at->point == name;
        });
        if (uses) lines.push_back({text(shownName(member)), QObject::tr("bar")});
    }
    for (const Plate& plate : desk.document.job().cage.plates) {
        const auto* at = std::get_if<AtCarPoint>(&plate.at);
        if (at && at->point == name) lines.push_back({text(shownName(plate)), QObject::tr("plate")});
    }
    if (lines.empty()) lines.push_back({QObject::tr("Nothing yet"), {}});
    return lines;
}

}  // namespace

Form* carPointForm(Desk& desk, const std::string& name) {
    auto* form = new Form(desk, QObject::tr("Car point %1").arg(text(name)));
    form->title([name] { return titled(name); }, [] { return QObject::tr("car point"); });
    form->text(
        QObject::tr("Called"), [name] { return text(name); },
        [&desk, name](const QString& to) { return renamePoint(desk, name, to); });
    form->section(QObject::tr("As read"));
    readingRows(desk, *form, name);
    if (std::holds_alternative<ByOffsets>(pointOf(desk, name).taken)) offsetRows(desk, *form, name);
    form->value(
            QObject::tr("Good to"), Dimension::length,
            [&desk, name]() -> std::optional<double> {
                const double mm = pointOf(desk, name).tolerance_mm;
                return mm > 0 ? std::optional(mm) : std::nullopt;
            },
            [&desk, name](std::optional<double> to, const QByteArray& key) {
                editPoint(
                    desk, name, [&](CarPoint& p) { p.tolerance_mm = std::max(0.0, to.value_or(0)); }, key);
            },
            true)
        ->setToolTip(QObject::tr("What each of its readings is good to; empty: not stated, 3 mm is taken"));
    form->text(
            QObject::tr("Measured"), [&desk, name] { return text(pointOf(desk, name).how); },
            [&desk, name](const QString& to) {
                editPoint(desk, name, [&](CarPoint& p) { p.how = to.toStdString(); });
                return QString();
            })
        ->setToolTip(QObject::tr("With what, and what the tape was hooked on"));
    form->section(QObject::tr("Where that leads"));
    form->facts(QObject::tr("where that leads"), [&desk, name] { return placeLines(desk, name); });
    form->note([] {
        return QObject::tr(
            "x forward, y to the driver's left, z up; from the rear edge of the door opening at the top of "
            "the sill.");
    });
    if (std::holds_alternative<ByTapes>(pointOf(desk, name).taken)) tapeRows(desk, *form, name);
    lessonRows(desk, *form, name);
    form->section(QObject::tr("What stands on it"));
    form->facts(QObject::tr("what stands on it"), [&desk, name] { return standingLines(desk, name); });
    form->finish();
    return form;
}

}  // namespace hoopwright
