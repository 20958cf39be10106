#include "app/window/path_form.h"

#include <algorithm>

#include "app/window/form_help.h"
#include "core/edit/cage_edits.h"
#include "core/edit/hand_grain.h"
#include "core/edit/new_bar.h"

namespace hoopwright {
namespace {

/// One point of one bar: everything its rows need.
struct PointRows {
    Desk& desk;
    Form& form;
    std::string id, resolved;
    std::size_t index;

    const MemberPoint& now() const {
        static const MemberPoint kNone{};
        const Member& member = memberOf(desk, id);
        return index < member.path.size() ? member.path[index] : kNone;
    }
    template <class T>
    const T& as() const {
        static const T kNone{};
        const T* held = std::get_if<T>(&now().place);
        return held ? *held : kNone;
    }
    template <class T>
    void edit(const QString& words, const std::function<void(T&)>& change, const QByteArray& key = {}) const {
        editMember(
            desk, id, words,
            [&](Member& member) {
                if (index >= member.path.size()) return;
                if (T* held = std::get_if<T>(&member.path[index].place)) change(*held);
            },
            key);
    }
    QString name() const {
        const std::size_t count = memberOf(desk, id).path.size();
        if (index == 0) return QObject::tr("First end");
        return index + 1 == count ? QObject::tr("Last end") : QObject::tr("Corner %1").arg(index);
    }
    bool corner() const { return index > 0 && index + 1 < memberOf(desk, id).path.size(); }
};

const std::vector<ChoiceField::Option>& kindOptions() {
    static const std::vector<ChoiceField::Option> kKinds = {{"0", QObject::tr("Fixed point")},
                                                            {"1", QObject::tr("Car point")},
                                                            {"2", QObject::tr("On a bar")},
                                                            {"3", QObject::tr("On a plate")}};
    return kKinds;
}

void kindRow(const PointRows& at) {
    at.form.choice(
        QObject::tr("Point"), [] { return kindOptions(); },
        [at] { return std::to_string(int(kindOf(at.now().place))); },
        [at](const std::string& key) {
            const Document& document = at.desk.document;
            // The layout speaks of the left or only one.
            const std::string given = resolvedIds(at.id, memberOf(at.desk, at.id).mirrored).front();
            const Vec3 place = pathPointAt(document.job(), document.geometry(), given, at.index);
            const auto said =
                saidAs(document.job(), document.geometry(), given, place, PlaceKind(std::stoi(key)));
            if (!said) {
                emit at.desk.say(text(said.reason()));
                at.form.refresh();
                return;
            }
            editMember(at.desk, at.id, at.name(),
                       [&](Member& member) { member.path[at.index].place = *said; });
        });
}

void fixedRows(const PointRows& at) {
    at.form.place(
        QObject::tr("At"), [at] { return at.as<FixedPoint>().at; },
        [at](const Vec3& to, const QByteArray& key) {
            at.edit<FixedPoint>(
                at.name(), [&](FixedPoint& p) { p.at = to; }, key);
        });
}

void carPointRows(const PointRows& at) {
    at.form.choice(
        QObject::tr("Car point"), [at] { return carPointOptions(at.desk.document.job().car); },
        [at] { return at.as<AtCarPoint>().point; },
        [at](const std::string& to) {
            at.edit<AtCarPoint>(at.name(), [&](AtCarPoint& p) { p.point = to; });
        });
    at.form.place(
        QObject::tr("Offset"), [at] { return at.as<AtCarPoint>().offset; },
        [at](const Vec3& to, const QByteArray& key) {
            at.edit<AtCarPoint>(
                at.name(), [&](AtCarPoint& p) { p.offset = to; }, key);
        });
}

void plateRows(const PointRows& at) {
    at.form.choice(
        QObject::tr("Plate"), [at] { return plateOptions(at.desk, at.id); },
        [at] { return at.as<OnPlate>().plate; },
        [at](const std::string& to) { at.edit<OnPlate>(at.name(), [&](OnPlate& p) { p.plate = to; }); });
    at.form.pair(
        QObject::tr("Offset"), QStringLiteral("uv"), [at] { return at.as<OnPlate>().offset; },
        [at](const Vec2& to, const QByteArray& key) {
            at.edit<OnPlate>(
                at.name(), [&](OnPlate& p) { p.offset = to; }, key);
        });
}

struct ByWords {
    const char* key;
    QString words;  ///< in the choice
    QString value;  ///< of the value's row
    Landing::By by;
    bool from_last_end;
};

const std::vector<ByWords>& byWords() {
    using By = Landing::By;
    static const std::vector<ByWords> kWords = {
        {"height", QObject::tr("by height"), QObject::tr("Height"), By::height, false},
        {"distance", QObject::tr("from its first end"), QObject::tr("Distance"), By::distance, false},
        {"from_end", QObject::tr("from its last end"), QObject::tr("Distance"), By::distance, true},
        {"fraction", QObject::tr("by part of its length"), QObject::tr("Part"), By::fraction, false},
        {"x", QObject::tr("where it crosses x"), QObject::tr("At x"), By::station_x, false},
        {"y", QObject::tr("where it crosses y"), QObject::tr("At y"), By::across_y, false},
        {"first", QObject::tr("its first end"), {}, By::end, false},
        {"last", QObject::tr("its last end"), {}, By::end, true},
    };
    return kWords;
}

const ByWords& wordsFor(const Landing& landing) {
    const bool counts = landing.by == Landing::By::distance || landing.by == Landing::By::end;
    for (const ByWords& one : byWords()) {
        if (one.by == landing.by && (!counts || one.from_last_end == landing.from_last_end)) return one;
    }
    return byWords().front();
}

/// The same place on the host said another way, as near as that way can come.
void sayBy(const PointRows& at, const std::string& key) {
    const auto found =
        std::find_if(byWords().begin(), byWords().end(), [&](const ByWords& one) { return one.key == key; });
    if (found == byWords().end()) return;
    const Document& document = at.desk.document;
    const bool mirrored = memberOf(at.desk, at.id).mirrored;
    const std::string given = resolvedIds(at.id, mirrored).front();
    Landing landing = at.as<Landing>();
    const Vec3 place = pathPointAt(document.job(), document.geometry(), given, at.index) - landing.offset;
    std::string host = landing.host;
    if (document.geometry().member(host) < 0) host += ".left";
    landing.by = found->by;
    landing.from_last_end = found->from_last_end;
    landing.side = Side::centre;
    const int host_at = document.geometry().member(host);
    if (host_at >= 0) {
        const Centreline& line = document.geometry().members[std::size_t(host_at)].line;
        const double station = line.nearestStation(place), length = std::max(line.length_mm(), 1e-9);
        switch (landing.by) {
            case Landing::By::height:
                landing.value = place.z();
                break;
            case Landing::By::station_x:
                landing.value = place.x();
                break;
            case Landing::By::across_y:
                landing.value = place.y();
                break;
            case Landing::By::fraction:
                landing.value = station / length;
                break;
            case Landing::By::distance:
                landing.value = landing.from_last_end ? length - station : station;
                break;
            case Landing::By::end:
                landing.value = 0;
                break;
        }
        const bool crosses = landing.by == Landing::By::height || landing.by == Landing::By::station_x;
        if (crosses && !landingPoint(document.geometry(), host, landing))
            landing.side = place.y() < 0 ? Side::right : Side::left;
    }
    at.edit<Landing>(at.name(), [&](Landing& l) { l = landing; });
}

void landingRows(const PointRows& at) {
    at.form.choice(
        QObject::tr("Lands on"), [at] { return hostOptions(at.desk, at.id); },
        [at] { return at.as<Landing>().host; },
        [at](const std::string& to) { at.edit<Landing>(at.name(), [&](Landing& l) { l.host = to; }); });
    at.form.choice(
        QObject::tr("Said"),
        [] {
            std::vector<ChoiceField::Option> options;
            for (const ByWords& one : byWords()) options.push_back({one.key, one.words});
            return options;
        },
        [at] { return std::string(wordsFor(at.as<Landing>()).key); },
        [at](const std::string& key) { sayBy(at, key); });
    const ByWords& words = wordsFor(at.as<Landing>());
    if (!words.value.isEmpty()) {
        const bool fraction = at.as<Landing>().by == Landing::By::fraction;
        ValueField* where = at.form.value(
            words.value, fraction ? Dimension::none : Dimension::length,
            [at] { return std::optional(at.as<Landing>().value); },
            [at](std::optional<double> to, const QByteArray& key) {
                at.edit<Landing>(
                    at.name(), [&](Landing& l) { l.value = *to; }, key);
            });
        if (!fraction) at.form.forTape(where);
    }
    at.form.choice(
        QObject::tr("Side"),
        [] {
            return std::vector<ChoiceField::Option>{{"", QObject::tr("the only place")},
                                                    {"left", QObject::tr("left")},
                                                    {"right", QObject::tr("right")}};
        },
        [at] { return std::string(sideWord(at.as<Landing>().side)); },
        [at](const std::string& to) {
            const Side side = to == "left" ? Side::left : to == "right" ? Side::right : Side::centre;
            at.edit<Landing>(at.name(), [&](Landing& l) { l.side = side; });
        });
    at.form.place(
        QObject::tr("Offset"), [at] { return at.as<Landing>().offset; },
        [at](const Vec3& to, const QByteArray& key) {
            at.edit<Landing>(
                at.name(), [&](Landing& l) { l.offset = to; }, key);
        });
    TextField* also = at.form.text(
        QObject::tr("Coped to"), [at] { return joined(at.as<Landing>().also); },
        [at](const QString& typed) {
            return setMemberList(at.desk, at.id, at.name(), typed,
                                 [at](Member& member) -> std::vector<std::string>& {
                                     return std::get<Landing>(member.path[at.index].place).also;
                                 });
        });
    also->setPlaceholderText(QObject::tr("the host alone"));
    also->setToolTip(
        QObject::tr("Further bars this end is coped around, as they are called, with commas between"));
}

void pickHost(const PointRows& at) {
    at.desk.wantPick(
        QObject::tr("Click the bar that %1 of %2 lands on")
            .arg(at.name().toLower(), text(shownName(memberOf(at.desk, at.id)))),
        [at](const std::string& host, const Vec3& place) {
            const Member& member = memberOf(at.desk, at.id);
            if (layoutId(host) == at.id) {
                emit at.desk.say(QObject::tr("A bar cannot land on itself: click another one."));
                pickHost(at);
                return;
            }
            const Document& document = at.desk.document;
            const Landing landing = landingNear(document.geometry(), host, place, member.mirrored,
                                                handGrain_mm(document.job().cage.unit));
            editMember(at.desk, at.id, at.name(), [&](Member& m) { m.path[at.index].place = landing; });
        });
}

void actionRow(const PointRows& at) {
    std::vector<Form::Action> actions;
    actions.push_back({QObject::tr("Pick in view"), [at] { pickHost(at); },
                       QObject::tr("Land this point on a bar clicked in the 3D view")});
    if (at.index + 1 < memberOf(at.desk, at.id).path.size()) {
        actions.push_back(
            {QObject::tr("Add corner"),
             [at] {
                 const Document& document = at.desk.document;
                 const std::string given = resolvedIds(at.id, memberOf(at.desk, at.id).mirrored).front();
                 const Vec3 a = pathPointAt(document.job(), document.geometry(), given, at.index);
                 const Vec3 b = pathPointAt(document.job(), document.geometry(), given, at.index + 1);
                 const Vec3 middle = toGrain(0.5 * (a + b), handGrain_mm(document.job().cage.unit));
                 editMember(at.desk, at.id, QObject::tr("Add corner"), [&](Member& member) {
                     member.path.insert(member.path.begin() + std::ptrdiff_t(at.index) + 1,
                                        MemberPoint{FixedPoint{middle}, {}});
                 });
             },
             QObject::tr("A new corner halfway to the next point")});
    }
    if (memberOf(at.desk, at.id).path.size() > 2) {
        actions.push_back({QObject::tr("Delete"),
                           [at] {
                               editMember(at.desk, at.id, QObject::tr("Delete point"), [&](Member& member) {
                                   member.path.erase(member.path.begin() + std::ptrdiff_t(at.index));
                               });
                           },
                           QObject::tr("Take this point out of the path")});
    }
    at.form.actions(actions);
}

}  // namespace

void pathRows(Desk& desk, Form& form, const std::string& id, const std::string& resolved) {
    form.section(QObject::tr("Path"));
    if (sideOf(resolved) == Side::right) {
        form.note([] { return QObject::tr("Given for the left; this one is its mirror image."); });
    }
    const bool bought = memberOf(desk, id).bent.has_value();
    for (std::size_t i = 0; i < memberOf(desk, id).path.size(); ++i) {
        const PointRows at{desk, form, id, resolved, i};
        form.caption(at.name());
        if (bought && at.corner()) {
            // Where its bends are follows from how it lies.
            form.facts(at.name(), [at]() -> std::vector<FactLine> {
                const auto* fixed = std::get_if<FixedPoint>(&at.now().place);
                if (!fixed) return {{QObject::tr("On the car"), {}}};
                return {{QObject::tr("Lies at"), at.desk.length(fixed->at.x()) + QStringLiteral(", ") +
                                                     at.desk.length(fixed->at.y()) + QStringLiteral(", ") +
                                                     at.desk.length(fixed->at.z())}};
            });
            continue;
        }
        kindRow(at);
        switch (kindOf(at.now().place)) {
            case PlaceKind::fixed:
                fixedRows(at);
                break;
            case PlaceKind::car_point:
                carPointRows(at);
                break;
            case PlaceKind::landing:
                landingRows(at);
                break;
            case PlaceKind::plate:
                plateRows(at);
                break;
        }
        if (at.corner()) {
            ValueField* radius = form.value(
                QObject::tr("Radius here"), Dimension::length, [at] { return at.now().bend_radius_mm; },
                [at](std::optional<double> to, const QByteArray& key) {
                    editMember(
                        at.desk, at.id, at.name(), [&](Member& m) { m.path[at.index].bend_radius_mm = to; },
                        key);
                },
                true);
            radius->setLeast(0.1);
            radius->setPlaceholderText(QObject::tr("as the bar"));
        }
        if (!bought) actionRow(at);
    }
}

}  // namespace hoopwright
