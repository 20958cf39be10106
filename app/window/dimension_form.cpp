#include "app/window/details.h"
#include "app/window/form.h"
#include "app/window/form_help.h"
#include "app/window/pin.h"
#include "core/edit/cage_edits.h"
#include "core/edit/pin.h"
#include "core/model/measure_dimension.h"

namespace hoopwright {
namespace {

using PinKind = PinnedDimension::Kind;

PinnedDimension dimensionOf(const Desk& desk, const std::string& id) {
    for (const PinnedDimension& one : desk.document.job().cage.dimensions)
        if (one.id == id) return one;
    return {};
}

void editDimension(Desk& desk, const std::string& id, const QString& words,
                   const std::function<void(PinnedDimension&)>& change, const QByteArray& key = {}) {
    desk.document.edit(
        QObject::tr("Dimension, ") + words.toLower(),
        [&](Job& job) {
            if (PinnedDimension* found = findDimension(job.cage, id)) change(*found);
        },
        key);
}

QString kindWords(PinKind kind) {
    switch (kind) {
        case PinKind::gap:
            return QObject::tr("Gap between two bars, outside to outside");
        case PinKind::centres:
            return QObject::tr("Between two centrelines, where they come nearest");
        case PinKind::angle:
            return QObject::tr("Angle between two bars");
        case PinKind::height:
            return QObject::tr("Height, straight up");
        case PinKind::distance:
            break;
    }
    return QObject::tr("Distance, straight from place to place");
}

std::vector<ChoiceField::Option> barOptions(const Desk& desk) {
    std::vector<ChoiceField::Option> options;
    for (const ResolvedMember& member : desk.document.geometry().members)
        options.push_back({member.id, text(member.name)});
    return options;
}

/// A bar by choice; of a place on one also how far along it.
void placeRows(Desk& desk, Form& form, const std::string& id, const QString& label,
               Place3 PinnedDimension::*which) {
    const Place3 place = dimensionOf(desk, id).*which;
    const auto edit = [&desk, id, label, which](const std::function<void(Place3&)>& change,
                                                const QByteArray& key = {}) {
        editDimension(
            desk, id, label, [&](PinnedDimension& one) { change(one.*which); }, key);
    };
    if (std::holds_alternative<FixedPoint>(place)) {
        form.place(
            label,
            [&desk, id, which] {
                const Place3 now = dimensionOf(desk, id).*which;
                const auto* at = std::get_if<FixedPoint>(&now);
                return at ? at->at : Vec3(Vec3::Zero());
            },
            [edit](const Vec3& to, const QByteArray& key) {
                edit([&](Place3& one) { one = FixedPoint{to}; }, key);
            });
        return;
    }
    if (std::holds_alternative<AtCarPoint>(place)) {
        form.choice(
            label, [&desk] { return carPointOptions(desk.document.job().car); },
            [&desk, id, which] {
                const Place3 now = dimensionOf(desk, id).*which;
                const auto* at = std::get_if<AtCarPoint>(&now);
                return at ? at->point : std::string();
            },
            [edit](const std::string& to) {
                edit([&](Place3& one) {
                    if (auto* at = std::get_if<AtCarPoint>(&one)) at->point = to;
                });
            });
        return;
    }
    if (std::holds_alternative<OnPlate>(place)) {
        form.choice(
            label,
            [&desk] {
                std::vector<ChoiceField::Option> options;
                for (const ResolvedPlate& plate : desk.document.geometry().plates)
                    options.push_back({plate.id, text(plate.name)});
                return options;
            },
            [&desk, id, which] {
                const Place3 now = dimensionOf(desk, id).*which;
                const auto* at = std::get_if<OnPlate>(&now);
                return at ? at->plate : std::string();
            },
            [edit](const std::string& to) {
                edit([&](Place3& one) {
                    if (auto* at = std::get_if<OnPlate>(&one)) at->plate = to;
                });
            });
        return;
    }
    const auto landing = [&desk, id, which] {
        const Place3 now = dimensionOf(desk, id).*which;
        const auto* on = std::get_if<Landing>(&now);
        return on ? *on : Landing{};
    };
    const auto change = [edit](const std::function<void(Landing&)>& how, const QByteArray& key = {}) {
        edit(
            [&](Place3& one) {
                if (auto* on = std::get_if<Landing>(&one)) how(*on);
            },
            key);
    };
    form.choice(
        label, [&desk] { return barOptions(desk); }, [landing] { return landing().host; },
        [change](const std::string& to) { change([&](Landing& on) { on.host = to; }); });
    const Landing first = std::get<Landing>(place);
    if (first.by == Landing::By::end) {
        form.choice(
            QObject::tr("at its"),
            [] {
                return std::vector<ChoiceField::Option>{{"first", QObject::tr("first end")},
                                                        {"last", QObject::tr("last end")}};
            },
            [landing] { return std::string(landing().from_last_end ? "last" : "first"); },
            [change](const std::string& to) {
                change([&](Landing& on) { on.from_last_end = to == "last"; });
            });
        return;
    }
    const bool share = first.by == Landing::By::fraction;
    const QString words =
        first.by == Landing::By::distance
            ? (first.from_last_end ? QObject::tr("from its last end") : QObject::tr("from its first end"))
        : share                              ? QObject::tr("share of it")
        : first.by == Landing::By::station_x ? QObject::tr("where x is")
        : first.by == Landing::By::across_y  ? QObject::tr("where y is")
                                             : QObject::tr("at height");
    form.value(
        words, share ? Dimension::none : Dimension::length,
        [landing] { return std::optional(landing().value); },
        [change](std::optional<double> to, const QByteArray& key) {
            change([&](Landing& on) { on.value = *to; }, key);
        });
}

}  // namespace

QByteArray dimensionShape(const Desk& desk, const std::string& id) {
    const PinnedDimension one = dimensionOf(desk, id);
    QByteArray shape = QByteArray::number(int(one.kind));
    for (const Place3* place : {&one.from, &one.to}) {
        shape += ' ' + QByteArray::number(int(place->index()));
        if (const auto* on = std::get_if<Landing>(place))
            shape += '/' + QByteArray::number(int(on->by)) + (on->from_last_end ? "e" : "");
    }
    return shape;
}

Form* dimensionForm(Desk& desk, const std::string& id) {
    const PinnedDimension first = dimensionOf(desk, id);
    auto* form = new Form(desk, QObject::tr("Dimension %1").arg(text(id)));
    const auto read = [&desk, id] {
        return measureDimension(desk.document.job(), desk.document.geometry(), dimensionOf(desk, id));
    };
    form->title([&desk, id] { return text(shownName(dimensionOf(desk, id), desk.document.geometry())); },
                [read, &desk] {
                    const MeasuredDimension now = read();
                    return now ? measureText(now.value, now.dimension, desk.units()) : QString();
                });
    form->note([read] { return text(read().trouble); });
    form->note([kind = first.kind] { return kindWords(kind) + QLatin1Char('.'); });
    form->text(
        QObject::tr("Name"), [&desk, id] { return text(dimensionOf(desk, id).name); },
        [&desk, id](const QString& to) {
            editDimension(desk, id, QObject::tr("Name"),
                          [&](PinnedDimension& one) { one.name = to.trimmed().toStdString(); });
            return QString();
        });
    if (first.kind == PinKind::gap || first.kind == PinKind::centres) {
        const auto bar = [&](const QString& label, std::string PinnedDimension::*which) {
            form->choice(
                label, [&desk] { return barOptions(desk); },
                [&desk, id, which] { return dimensionOf(desk, id).*which; },
                [&desk, id, which, label](const std::string& to) {
                    editDimension(desk, id, label, [&](PinnedDimension& one) { one.*which = to; });
                });
        };
        bar(QObject::tr("Between"), &PinnedDimension::bar_a);
        bar(QObject::tr("and"), &PinnedDimension::bar_b);
    } else {
        placeRows(desk, *form, id, first.kind == PinKind::height ? QObject::tr("Of") : QObject::tr("From"),
                  &PinnedDimension::from);
        if (first.kind != PinKind::height)
            placeRows(desk, *form, id, QObject::tr("To"), &PinnedDimension::to);
    }
    if (first.kind == PinKind::height)
        form->choice(
            QObject::tr("Over"),
            [] {
                return std::vector<ChoiceField::Option>{{"ground", QObject::tr("the ground")},
                                                        {"sill", QObject::tr("the sill's top")},
                                                        {"floor", QObject::tr("the floor under it")}};
            },
            [&desk, id] { return std::string(overWord(dimensionOf(desk, id).over)); },
            [&desk, id](const std::string& to) {
                editDimension(desk, id, QObject::tr("Over"), [&](PinnedDimension& one) {
                    for (const auto over : {PinnedDimension::Over::ground, PinnedDimension::Over::sill,
                                            PinnedDimension::Over::floor})
                        if (overWord(over) == to) one.over = over;
                });
            });
    form->actions({{QObject::tr("Delete dimension"), [&desk, id] { deleteDimension(desk, id); }, {}}});
    form->finish();
    return form;
}

}  // namespace hoopwright
