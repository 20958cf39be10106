// The form of a foot plate.
#include <algorithm>

#include "app/window/bar_facts.h"
#include "app/window/details.h"
#include "app/window/form.h"
#include "app/window/form_help.h"
#include "core/edit/cage_edits.h"
#include "core/edit/new_bar.h"
#include "core/edit/tie_edits.h"
#include "core/edit/usual_sizes.h"
#include "core/model/sheet_shape.h"

namespace hoopwright {
namespace {

void whereRows(Desk& desk, Form& form, const std::string& id) {
    form.section(QObject::tr("Where it sits"));
    form.choice(
        QObject::tr("Middle at"),
        [] {
            return std::vector<ChoiceField::Option>{{"0", QObject::tr("Fixed point")},
                                                    {"1", QObject::tr("Car point")}};
        },
        [&desk, id] { return std::to_string(int(kindOf(plateOf(desk, id).at))); },
        [&desk, &form, id](const std::string& key) {
            const Document& document = desk.document;
            const int at = document.geometry().plate(resolvedIds(id, plateOf(desk, id).mirrored).front());
            if (at < 0) return;
            const Vec3 place = document.geometry().plates[std::size_t(at)].at;
            const auto said =
                saidAs(document.job(), document.geometry(), {}, place, PlaceKind(std::stoi(key)));
            if (!said) {
                emit desk.say(text(said.reason()));
                form.refresh();
                return;
            }
            editPlate(desk, id, QObject::tr("Place"), [&](Plate& plate) { plate.at = *said; });
        });
    if (kindOf(plateOf(desk, id).at) == PlaceKind::car_point) {
        const auto now = [&desk, id] {
            const auto* at = std::get_if<AtCarPoint>(&plateOf(desk, id).at);
            return at ? *at : AtCarPoint{};
        };
        form.choice(
            QObject::tr("Car point"), [&desk] { return carPointOptions(desk.document.job().car); },
            [now] { return now().point; },
            [&desk, id, now](const std::string& to) {
                editPlate(desk, id, QObject::tr("Place"), [&](Plate& plate) {
                    plate.at = AtCarPoint{to, now().offset};
                });
            });
        form.place(
            QObject::tr("Offset"), [now] { return now().offset; },
            [&desk, id, now](const Vec3& to, const QByteArray& key) {
                editPlate(
                    desk, id, QObject::tr("Place"),
                    [&](Plate& plate) {
                        plate.at = AtCarPoint{now().point, to};
                    },
                    key);
            });
    } else {
        form.place(
            QObject::tr("At"),
            [&desk, id] {
                const auto* at = std::get_if<FixedPoint>(&plateOf(desk, id).at);
                return at ? at->at : Vec3(Vec3::Zero());
            },
            [&desk, id](const Vec3& to, const QByteArray& key) {
                editPlate(
                    desk, id, QObject::tr("Place"), [&](Plate& plate) { plate.at = FixedPoint{to}; }, key);
            });
    }
    const auto direction = [&](const QString& words, Vec3 Plate::*which) {
        form.direction(
            words, [&desk, id, which] { return plateOf(desk, id).*which; },
            [&desk, id, which, words](const Vec3& to, const QByteArray& key) {
                if (to.norm() < 1e-9) {
                    emit desk.say(QObject::tr("A direction needs at least one number that is not 0."));
                    return;
                }
                editPlate(
                    desk, id, words, [&](Plate& plate) { plate.*which = to; }, key);
            });
    };
    direction(QObject::tr("Faces"), &Plate::normal);
    direction(QObject::tr("Length runs"), &Plate::along);
    form.choice(
        QObject::tr("Tied to"), [&desk] { return railOptions(desk.document.job().car); },
        [&desk, id] { return plateOf(desk, id).rail; },
        [&desk, id](const std::string& to) {
            editPlate(desk, id, QObject::tr("Rail"), [&](Plate& p) { p.rail = to; });
        });
}

void size(Desk& desk, Form& form, const std::string& id, const QString& words, double Plate::*which) {
    form.value(
            words, Dimension::length, [&desk, id, which] { return std::optional(plateOf(desk, id).*which); },
            [&desk, id, which, words](std::optional<double> to, const QByteArray& key) {
                editPlate(
                    desk, id, words, [&](Plate& plate) { plate.*which = std::max(0.0, *to); }, key);
            })
        ->setLeast(0);
}

/// One corner a line, "u v" from the middle.
void outlineRows(Desk& desk, Form& form, const std::string& id) {
    const std::size_t corners = plateOf(desk, id).outline.size();
    if (corners == 0) {
        size(desk, form, id, QObject::tr("Length"), &Plate::length_mm);
        size(desk, form, id, QObject::tr("Width"), &Plate::width_mm);
        form.actions({{QObject::tr("Own outline"),
                       [&desk, id] {
                           editPlate(desk, id, QObject::tr("Own outline"), [](Plate& p) {
                               const double u = p.length_mm / 2, v = p.width_mm / 2;
                               p.outline = {{-u, -v}, {u, -v}, {u, v}, {-u, v}};
                               p.flaps.clear();
                           });
                       },
                       QObject::tr("Give the plate corners of its own")}});
        return;
    }
    for (std::size_t i = 0; i < corners; ++i) {
        form.pair(
            QObject::tr("Corner %1").arg(i + 1), QStringLiteral("uv"),
            [&desk, id, i] {
                const auto& outline = plateOf(desk, id).outline;
                return i < outline.size() ? outline[i] : Vec2(Vec2::Zero());
            },
            [&desk, id, i](const Vec2& to, const QByteArray& key) {
                editPlate(
                    desk, id, QObject::tr("Outline"), [&](Plate& p) { p.outline[i] = to; }, key);
            });
    }
    form.actions({{QObject::tr("Add corner"),
                   [&desk, id] {
                       editPlate(desk, id, QObject::tr("Outline"), [](Plate& p) {
                           p.outline.push_back(0.5 * (p.outline.back() + p.outline.front()));
                       });
                   },
                   QObject::tr("A new corner between the last and the first")},
                  {QObject::tr("Rectangle"),
                   [&desk, id] {
                       editPlate(desk, id, QObject::tr("Rectangle"), [](Plate& p) {
                           Eigen::AlignedBox2d box;
                           for (const Vec2& corner : p.outline) box.extend(corner);
                           p.length_mm = box.sizes().x();
                           p.width_mm = box.sizes().y();
                           p.outline.clear();
                       });
                   },
                   QObject::tr("A plain rectangle round the outline")}});
}

void riserRows(Desk& desk, Form& form, const std::string& id) {
    form.tick(
        QObject::tr("On a riser, a box of sheet"),
        [&desk, id] { return plateOf(desk, id).riser.has_value(); },
        [&desk, id](bool on) {
            editPlate(desk, id, QObject::tr("Riser"), [&](Plate& p) {
                putOnRiser(
                    p, on ? std::optional(usualSizes(desk.document.job().cage.unit).riser) : std::nullopt);
            });
        });
    if (!plateOf(desk, id).riser) return;
    for (const auto& [words, which] : {std::pair{QObject::tr("Riser height"), &Riser::height_mm},
                                       std::pair{QObject::tr("Riser wall"), &Riser::wall_mm}}) {
        form.value(
                words, Dimension::length,
                [&desk, id, part = which] {
                    const auto& riser = plateOf(desk, id).riser;
                    return riser ? std::optional((*riser).*part) : std::nullopt;
                },
                [&desk, id, part = which](std::optional<double> to, const QByteArray& key) {
                    editPlate(
                        desk, id, QObject::tr("Riser"),
                        [&](Plate& p) {
                            if (!p.riser) return;
                            Riser riser = *p.riser;
                            riser.*part = *to;
                            putOnRiser(p, riser);
                        },
                        key);
                })
            ->setLeast(0.1);
    }
}

const Flap* flapOn(Desk& desk, const std::string& id, PlateEdge edge) {
    const auto& flaps = plateOf(desk, id).flaps;
    const auto found =
        std::find_if(flaps.begin(), flaps.end(), [&](const Flap& f) { return f.edge == edge; });
    return found == flaps.end() ? nullptr : &*found;
}

/// A flap on each edge of a rectangle, or none. Those of the right-hand plate of a pair are the mirror's.
void flapRows(Desk& desk, Form& form, const std::string& id) {
    if (!plateOf(desk, id).outline.empty()) return;
    for (const auto& [words, which] : {std::pair{QObject::tr("Flap ahead"), PlateEdge::ahead},
                                       std::pair{QObject::tr("Flap behind"), PlateEdge::behind},
                                       std::pair{QObject::tr("Flap on the left"), PlateEdge::left},
                                       std::pair{QObject::tr("Flap on the right"), PlateEdge::right}}) {
        const PlateEdge edge = which;
        form.tick(
            words, [&desk, id, edge] { return flapOn(desk, id, edge) != nullptr; },
            [&desk, id, edge](bool on) {
                editPlate(desk, id, QObject::tr("Flap"), [&](Plate& p) {
                    std::erase_if(p.flaps, [&](const Flap& f) { return f.edge == edge; });
                    if (on) p.flaps.push_back(usualFlap(desk.document.job().cage.unit, edge));
                });
            });
        if (!flapOn(desk, id, edge)) continue;
        const auto value = [&](const QString& called, Dimension dimension, double Flap::*part) {
            return form.value(
                called, dimension,
                [&desk, id, edge, part] {
                    const Flap* flap = flapOn(desk, id, edge);
                    return flap ? std::optional(flap->*part) : std::nullopt;
                },
                [&desk, id, edge, part, called](std::optional<double> to, const QByteArray& key) {
                    editPlate(
                        desk, id, called,
                        [&](Plate& p) {
                            for (Flap& flap : p.flaps)
                                if (flap.edge == edge) flap.*part = *to;
                        },
                        key);
                });
        };
        value(QObject::tr("%1, length").arg(words), Dimension::length, &Flap::length_mm)->setLeast(0.1);
        value(QObject::tr("%1, folded up by").arg(words), Dimension::angle, &Flap::angle_rad);
    }
}

void fixingRows(Desk& desk, Form& form, const std::string& id) {
    form.choice(
        QObject::tr("Fixing"),
        [] {
            return std::vector<ChoiceField::Option>{{"welded", QObject::tr("welded")},
                                                    {"bolted", QObject::tr("bolted")}};
        },
        [&desk, id] {
            return plateOf(desk, id).fixing == Fixing::bolted ? std::string("bolted") : std::string("welded");
        },
        [&desk, id](const std::string& to) {
            editPlate(desk, id, QObject::tr("Fixing"), [&](Plate& p) {
                p.fixing = to == "bolted" ? Fixing::bolted : Fixing::welded;
                p.bolts = p.fixing == Fixing::bolted ? usualSizes(desk.document.job().cage.unit).foot_bolts
                                                     : Bolts{};
            });
        });
    if (plateOf(desk, id).fixing == Fixing::bolted) {
        form.value(
            QObject::tr("Bolts"), Dimension::none,
            [&desk, id] { return std::optional(double(plateOf(desk, id).bolts.count)); },
            [&desk, id](std::optional<double> to, const QByteArray& key) {
                editPlate(
                    desk, id, QObject::tr("Bolts"),
                    [&](Plate& p) { p.bolts.count = int(std::clamp(*to, 0.0, 99.0)); }, key);
            });
        form.value(
                QObject::tr("Bolt size"), Dimension::length,
                [&desk, id] { return std::optional(plateOf(desk, id).bolts.diameter_mm); },
                [&desk, id](std::optional<double> to, const QByteArray& key) {
                    editPlate(
                        desk, id, QObject::tr("Bolt size"),
                        [&](Plate& p) { p.bolts.diameter_mm = std::max(0.0, *to); }, key);
                })
            ->setLeast(0);
        form.text(
            QObject::tr("Bolt grade"), [&desk, id] { return text(plateOf(desk, id).bolts.grade); },
            [&desk, id](const QString& to) {
                editPlate(desk, id, QObject::tr("Bolt grade"),
                          [&](Plate& p) { p.bolts.grade = to.toStdString(); });
                return QString();
            });
    }
    form.tick(
        QObject::tr("Backing plate under the floor"),
        [&desk, id] { return plateOf(desk, id).backing.has_value(); },
        [&desk, id](bool on) {
            editPlate(desk, id, QObject::tr("Backing plate"), [&](Plate& p) {
                p.backing =
                    on ? std::optional(BackingPlate{p.length_mm, p.width_mm, p.thickness_mm}) : std::nullopt;
            });
        });
    if (!plateOf(desk, id).backing) return;
    for (const auto& [words, which] :
         {std::pair{QObject::tr("Its length"), &BackingPlate::length_mm},
          std::pair{QObject::tr("Its width"), &BackingPlate::width_mm},
          std::pair{QObject::tr("Its thickness"), &BackingPlate::thickness_mm}}) {
        form.value(
                words, Dimension::length,
                [&desk, id, part = which] {
                    const auto& backing = plateOf(desk, id).backing;
                    return backing ? std::optional((*backing).*part) : std::nullopt;
                },
                [&desk, id, part = which](std::optional<double> to, const QByteArray& key) {
                    editPlate(
                        desk, id, QObject::tr("Backing plate"),
                        [&](Plate& p) {
                            if (p.backing) (*p.backing).*part = std::max(0.0, *to);
                        },
                        key);
                })
            ->setLeast(0);
    }
}

std::vector<FactLine> plateLines(Desk& desk, const std::string& resolved) {
    const CageGeometry& now = desk.document.geometry();
    const int at = now.plate(resolved);
    if (at < 0) return {{QObject::tr("It cannot be drawn: see what falls short"), {}}};
    const ResolvedPlate& plate = now.plates[std::size_t(at)];
    const LengthUnit unit = desk.units() == UnitsShown::in ? LengthUnit::in : LengthUnit::mm;
    std::vector<FactLine> lines{{QObject::tr("Area"), text(showArea(plate.area_mm2, unit))},
                                {QObject::tr("Mass"), text(showMass(plate.mass_kg, unit))}};
    if (!plate.flaps.empty()) {
        double all = plate.area_mm2;
        for (const PlacedFlap& flap : plate.flaps) all += flap.area_mm2();
        lines.push_back({QObject::tr("Area in every plane"), text(showArea(all, unit))});
    }
    if (plate.must_be_bolted)
        lines.push_back({QObject::tr("For the body to come off its frame"), QObject::tr("must be bolted")});
    if (plate.riser_area_mm2 > 0)
        lines.push_back({QObject::tr("Sheet of its riser"), text(showArea(plate.riser_area_mm2, unit))});
    for (const auto& [member, end] : plate.feet) {
        const ResolvedMember& bar = now.members[std::size_t(member)];
        lines.push_back({QObject::tr("carries %1").arg(text(bar.name)),
                         end == 0 ? QObject::tr("first end") : QObject::tr("last end"),
                         {},
                         [&desk, to = bar.id] {
                             desk.selection.set({Thing::Kind::member, to});
                         }});
    }
    if (plate.feet.empty()) lines.push_back({QObject::tr("No bar stands on it"), {}});
    return lines;
}

}  // namespace

Form* plateForm(Desk& desk, const std::string& resolved) {
    const std::string id = layoutId(resolved);
    auto* form = new Form(desk, sidedName(shownName(plateOf(desk, id)), sideOf(resolved)));
    form->title([&desk, id, resolved] { return sidedName(shownName(plateOf(desk, id)), sideOf(resolved)); },
                [] { return QObject::tr("foot plate"); });
    form->text(
        QObject::tr("Name"), [&desk, id] { return text(plateOf(desk, id).name); },
        [&desk, id](const QString& to) {
            editPlate(desk, id, QObject::tr("Name"), [&](Plate& p) { p.name = to.toStdString(); });
            return QString();
        });
    form->text(
        QObject::tr("Called"), [id] { return text(id); },
        [&desk, id](const QString& to) { return renameChosen(desk, Thing::Kind::plate, id, to); });
    form->tick(
        QObject::tr("One of a pair, left and right"), [&desk, id] { return plateOf(desk, id).mirrored; },
        [&desk, id](bool on) { pairPlate(desk, id, on); });
    whereRows(desk, *form, id);
    form->section(QObject::tr("What it is"));
    outlineRows(desk, *form, id);
    size(desk, *form, id, QObject::tr("Thickness"), &Plate::thickness_mm);
    form->choice(
        QObject::tr("Material"), [&desk] { return materialOptions(desk.document.job().stock); },
        [&desk, id] { return plateOf(desk, id).material; },
        [&desk, id](const std::string& to) {
            editPlate(desk, id, QObject::tr("Material"), [&](Plate& p) { p.material = to; });
        });
    flapRows(desk, *form, id);
    riserRows(desk, *form, id);
    fixingRows(desk, *form, id);
    form->text(
        QObject::tr("Note"), [&desk, id] { return text(plateOf(desk, id).note); },
        [&desk, id](const QString& to) {
            editPlate(desk, id, QObject::tr("Note"), [&](Plate& p) { p.note = to.toStdString(); });
            return QString();
        });
    form->section(QObject::tr("What the rules say"));
    form->facts(QObject::tr("rules"), [&desk, resolved] { return ruleLines(desk, resolved); });
    form->section(QObject::tr("This plate"));
    form->facts(QObject::tr("this plate"), [&desk, resolved] { return plateLines(desk, resolved); });
    form->finish();
    return form;
}

}  // namespace hoopwright
