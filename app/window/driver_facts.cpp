#include "app/window/driver_facts.h"

#include <algorithm>
#include <cmath>
#include <numbers>

#include "app/window/findings.h"
#include "app/window/form_help.h"
#include "app/window/words.h"
#include "core/base/text.h"
#include "core/units/measure.h"

namespace hoopwright {
namespace {

constexpr double kNoChange_mm = 0.05, kNoChange_rad = 0.0005;

/// One person measured as the job is and, while a seat move is tried, after it.
struct Pair {
    const DriverReport* now = nullptr;
    const DriverReport* after = nullptr;  ///< null: no move is tried
    const DriverReport& shown() const { return after ? *after : *now; }
};

Pair reportsOf(Desk& desk, const std::string& driver) {
    Pair pair{desk.study.report(driver), nullptr};
    if (const SeatEffect* effect = desk.study.effect(driver)) pair.after = &effect->after;
    return pair;
}

QString signedText(const QString& size, double change) {
    return QStringLiteral("  (") + (change < 0 ? QChar(0x2212) : QLatin1Char('+')) + size + QLatin1Char(')');
}

QString changedLength(const Desk& desk, double now_mm, std::optional<double> before_mm) {
    QString text = desk.length(now_mm);
    if (before_mm && std::abs(now_mm - *before_mm) >= kNoChange_mm) {
        const double change = std::abs(now_mm - *before_mm);
        const bool inches = desk.units() == UnitsShown::in;
        text += signedText(QString::fromStdString(inches ? fixed(change / 25.4, 3) : fixed(change, 1)),
                           now_mm - *before_mm);
    }
    return text;
}

QString changedAngle(double now_rad, std::optional<double> before_rad) {
    QString text = QString::fromStdString(showAngle(now_rad));
    if (before_rad && std::abs(now_rad - *before_rad) >= kNoChange_rad)
        text += signedText(QString::fromStdString(showAngle(std::abs(now_rad - *before_rad))),
                           now_rad - *before_rad);
    return text;
}

QString barName(const Desk& desk, int member) {
    const auto& bars = desk.document.geometry().members;
    return member < 0 || std::size_t(member) >= bars.size() ? QObject::tr("nothing")
                                                            : text(bars[std::size_t(member)].name).toLower();
}

std::function<void()> measured(Desk& desk, const Vec3& from, const Vec3& to) {
    return [&desk, from, to] { emit desk.showMeasure({ShownLine{from, to, true}}, 0.5 * (from + to)); };
}

const Clearance* partIn(const DriverReport* report, const Clearance& like) {
    if (!report) return nullptr;
    for (const Clearance& one : report->clearances.parts)
        if (one.name == like.name) return &one;
    return nullptr;
}

FactLine noneHere(const QString& words) {
    return {words, {}};
}

}  // namespace

QString partTitle(BodyPart part, int side) {
    const QString word =
        part == BodyPart::wheel ? QObject::tr("steering wheel") : text(std::string(partWord(part)));
    return capital(side > 0   ? QObject::tr("left %1").arg(word)
                   : side < 0 ? QObject::tr("right %1").arg(word)
                              : word);
}

std::vector<FactLine> clearanceLines(Desk& desk, const std::string& driver) {
    const Pair pair = reportsOf(desk, driver);
    if (!pair.now || pair.now->clearances.parts.empty()) return {noneHere(QObject::tr("No bars yet"))};
    std::vector<const Clearance*> order;
    for (const Clearance& one : pair.now->clearances.parts)
        if (one.bare.member >= 0) order.push_back(&one);
    // The order of now holds while a move is tried, so that a line stays where it is read.
    std::ranges::stable_sort(
        order, {}, [](const Clearance* one) { return std::min(one->bare.gap_mm, one->padded.gap_mm); });
    std::vector<FactLine> lines;
    for (const Clearance* now : order) {
        const Clearance* after = partIn(pair.after, *now);
        const Clearance& shown = after ? *after : *now;
        const auto before = [&](double mm) { return after ? std::optional(mm) : std::nullopt; };
        lines.push_back(
            {QObject::tr("%1 to %2").arg(partTitle(now->part, now->side), barName(desk, shown.bare.member)),
             changedLength(desk, shown.bare.gap_mm, before(now->bare.gap_mm)),
             {},
             measured(desk, shown.bare.on_person, shown.bare.on_bar)});
        const bool pads =
            shown.padded.member >= 0 && std::abs(shown.padded.gap_mm - shown.bare.gap_mm) >= kNoChange_mm;
        if (pads)
            lines.push_back({shown.padded.member == shown.bare.member
                                 ? QObject::tr("   to its padding")
                                 : QObject::tr("   to padding of %1").arg(barName(desk, shown.padded.member)),
                             changedLength(desk, shown.padded.gap_mm, before(now->padded.gap_mm)),
                             {},
                             measured(desk, shown.padded.on_person, shown.padded.on_bar)});
    }
    return lines;
}

std::vector<FactLine> insideLines(Desk& desk, const std::string& driver) {
    const Pair pair = reportsOf(desk, driver);
    if (!pair.now || !pair.now->clearances.enclosed)
        return {noneHere(QObject::tr("The bars do not enclose a space yet"))};
    std::vector<const Clearance*> order;
    for (const Clearance& one : pair.now->clearances.parts) order.push_back(&one);
    std::ranges::stable_sort(order, {}, [](const Clearance* one) { return one->inside_mm; });
    std::vector<FactLine> lines;
    for (const Clearance* now : order) {
        const Clearance* after = partIn(pair.after, *now);
        const Clearance& shown = after ? *after : *now;
        if (std::abs(shown.inside_mm) > 1e6) continue;  // no side of the sheet faces that way
        lines.push_back(
            {partTitle(now->part, now->side),
             changedLength(desk, shown.inside_mm, after ? std::optional(now->inside_mm) : std::nullopt),
             {},
             measured(desk, shown.on_body, shown.on_sheet)});
    }
    return lines;
}

std::vector<FactLine> helmetLines(Desk& desk, const std::string& driver) {
    const Pair pair = reportsOf(desk, driver);
    if (!pair.now) return {};
    std::vector<FactLine> lines;
    const std::pair<QString, Travel HelmetRoom::*> ways[] = {
        {QObject::tr("Up"), &HelmetRoom::above},
        {QObject::tr("Back"), &HelmetRoom::behind},
        {QObject::tr("Ahead"), &HelmetRoom::ahead},
        {QObject::tr("To the left"), &HelmetRoom::left},
        {QObject::tr("To the right"), &HelmetRoom::right}};
    for (const auto& [words, way] : ways) {
        const Travel &now = pair.now->room.*way, &shown = pair.shown().room.*way;
        if (shown.member < 0) {
            lines.push_back({QObject::tr("%1, meets nothing").arg(words), QObject::tr("free")});
            continue;
        }
        const bool both = pair.after && now.member >= 0;
        lines.push_back({QObject::tr("%1, to %2").arg(words, barName(desk, shown.member)),
                         changedLength(desk, shown.bare_mm, both ? std::optional(now.bare_mm) : std::nullopt),
                         {},
                         measured(desk, shown.on_person, shown.on_bar)});
        if (shown.padded_member >= 0 && std::abs(shown.padded_mm - shown.bare_mm) >= kNoChange_mm)
            lines.push_back(
                {QObject::tr("   to padding"),
                 changedLength(desk, shown.padded_mm, both ? std::optional(now.padded_mm) : std::nullopt)});
    }
    const auto& tops = pair.shown().top_lines;
    for (std::size_t i = 0; i < tops.size(); ++i) {
        const bool both = pair.after && i < pair.now->top_lines.size();
        lines.push_back(
            {QObject::tr("Under the line over %1 and %2")
                 .arg(barName(desk, tops[i].from), barName(desk, tops[i].to)),
             changedLength(desk, tops[i].helmet.gap_mm,
                           both ? std::optional(pair.now->top_lines[i].helmet.gap_mm) : std::nullopt),
             {},
             [&desk, top = tops[i]] {
                 emit desk.showMeasure({ShownLine{top.from_at, top.to_at, false},
                                        ShownLine{top.helmet.on_person, top.helmet.on_edge, true}},
                                       top.helmet.on_edge);
             }});
    }
    return lines;
}

std::vector<FactLine> strapLines(Desk& desk, const std::string& driver) {
    const Pair pair = reportsOf(desk, driver);
    if (!pair.now) return {};
    std::vector<FactLine> lines;
    const DriverReport& shown = pair.shown();
    if (!shown.straps) {
        lines.push_back(noneHere(QObject::tr("Shoulder straps: %1").arg(text(shown.straps.reason()))));
    } else {
        const auto& straps = shown.straps->both;
        for (std::size_t i = 0; i < straps.size(); ++i) {
            const ShoulderStrap& strap = straps[i];
            const ShoulderStrap* before = pair.after && pair.now->straps && i < pair.now->straps->both.size()
                                              ? &pair.now->straps->both[i]
                                              : nullptr;
            const auto was = [&](double ShoulderStrap::*which) {
                return before ? std::optional(before->*which) : std::nullopt;
            };
            const QString side = strap.side > 0 ? QObject::tr("Left") : QObject::tr("Right");
            lines.push_back(
                {strap.bar < 0
                     ? QObject::tr("%1 strap to its anchor, below level").arg(side)
                     : QObject::tr("%1 strap over %2, below level").arg(side, barName(desk, strap.bar)),
                 changedAngle(strap.angle_rad, was(&ShoulderStrap::angle_rad)),
                 {},
                 [&desk, strap] {
                     const Vec3 level = strap.support - strap.shoulder;
                     const Vec3 flat(level.x(), level.y(), 0);
                     emit desk.showMeasure({ShownAngle{strap.shoulder, strap.support, strap.shoulder + flat}},
                                           strap.shoulder);
                 }});
            lines.push_back({strap.plan_rad < 0 ? QObject::tr("   inwards, seen from above")
                                                : QObject::tr("   outwards, seen from above"),
                             QString::fromStdString(showAngle(std::abs(strap.plan_rad)))});
            lines.push_back({QObject::tr("   shoulder to first support"),
                             changedLength(desk, strap.run_mm, was(&ShoulderStrap::run_mm)),
                             {},
                             measured(desk, strap.shoulder, strap.support)});
            lines.push_back({QObject::tr("   of it behind the seat"),
                             changedLength(desk, strap.behind_seat_mm, was(&ShoulderStrap::behind_seat_mm))});
        }
        lines.push_back({QObject::tr("Straps apart at the support"), desk.length(shown.straps->spread_mm)});
    }
    for (std::size_t i = 0; i < shown.lap.size(); ++i) {
        const LapStrap& strap = shown.lap[i];
        const bool both = pair.after && i < pair.now->lap.size();
        lines.push_back(
            {strap.behind ? QObject::tr("Lap strap %1 to level").arg(i + 1)
                          : QObject::tr("Lap strap %1 to level, anchored ahead").arg(i + 1),
             changedAngle(strap.angle_rad, both ? std::optional(pair.now->lap[i].angle_rad) : std::nullopt)});
    }
    if (shown.lap.empty()) lines.push_back(noneHere(QObject::tr("No lap anchors given")));
    return lines;
}

std::vector<FactLine> bandLines(Desk& desk, const std::string& driver) {
    const Expected<BeltBand>* known = desk.study.band(driver);
    if (!known) return {noneHere(QObject::tr("Being worked out"))};
    const Expected<BeltBand>& band = *known;
    if (!band) return {noneHere(capital(text(band.reason())))};
    std::vector<FactLine> lines;
    lines.push_back({QObject::tr("The belt bar is allowed where it is"),
                     band->allowed_now ? QObject::tr("yes") : QObject::tr("no"),
                     band->allowed_now ? Answer::meets : Answer::fails});
    for (const BandRule& rule : band->failing_now)
        lines.push_back({QObject::tr("   against %1").arg(text(rule.title)), {}, Answer::fails});
    const auto title = [&](int rule) {
        return rule < 0 ? QObject::tr("no rule") : text(band->rules[std::size_t(rule)].title);
    };
    const BandColumn* here = nullptr;
    for (const BandColumn& column : band->columns)
        if (std::abs(column.x_mm - band->bar_at.x()) <= kBandStep_mm / 2 + 1e-9) here = &column;
    if (!here) lines.push_back(noneHere(QObject::tr("No height is allowed at its place along the car")));
    for (const BandStretch& stretch : here ? here->heights : std::vector<BandStretch>{}) {
        lines.push_back({QObject::tr("Its middle may be from height"), desk.length(stretch.low_mm)});
        lines.push_back({QObject::tr("   below that: %1").arg(title(stretch.low_rule)), {}});
        lines.push_back({QObject::tr("   up to height"), desk.length(stretch.high_mm)});
        lines.push_back({QObject::tr("   above that: %1").arg(title(stretch.high_rule)), {}});
    }
    lines.push_back({QObject::tr("It is at height"), desk.length(band->bar_at.y())});
    if (!band->columns.empty()) {
        lines.push_back(
            {QObject::tr("Some height is allowed from x"), desk.length(band->columns.front().x_mm)});
        lines.push_back({QObject::tr("   to x"), desk.length(band->columns.back().x_mm)});
    }
    for (const BandRule& rule : band->silent)
        lines.push_back({text(rule.title), QObject::tr("can't tell"), Answer::cannot_tell});
    return lines;
}

std::vector<FactLine> sightLines(Desk& desk, const std::string& driver) {
    const Pair pair = reportsOf(desk, driver);
    if (!pair.now) return {};
    const Sight &sight = pair.shown().sight, &before = pair.now->sight;
    std::vector<FactLine> lines;
    const auto eye = [&desk, driver] {
        const SeatEffect* effect = desk.study.effect(driver);
        return effect ? effect->moved.driver.eye : driverOf(desk, driver).eye;
    };
    for (std::size_t i = 0; i < sight.mirrors.size(); ++i) {
        const SightTo& mirror = sight.mirrors[i];
        const bool both = pair.after && i < before.mirrors.size() && before.mirrors[i].member >= 0;
        const bool hidden = mirror.member >= 0 && mirror.clear_rad < 0;
        lines.push_back(
            {mirror.member < 0 ? QObject::tr("%1, no bar near").arg(titled(mirror.name))
             : hidden ? QObject::tr("%1, hidden by %2").arg(titled(mirror.name), barName(desk, mirror.member))
                      : QObject::tr("%1, clear of %2").arg(titled(mirror.name), barName(desk, mirror.member)),
             mirror.member < 0
                 ? QString()
                 : changedAngle(mirror.clear_rad,
                                both ? std::optional(before.mirrors[i].clear_rad) : std::nullopt),
             {},
             [&desk, eye, at = mirror.at] {
                 emit desk.showMeasure({ShownLine{eye(), at, false}}, 0.5 * (eye() + at));
             }});
    }
    if (sight.mirrors.empty()) lines.push_back(noneHere(QObject::tr("The car has no point called mirror")));
    if (sight.ahead) {
        lines.push_back(
            {QObject::tr("Straight ahead over %1, below level").arg(spoken(sight.ahead->line)),
             changedAngle(sight.ahead->down_rad,
                          pair.after && before.ahead ? std::optional(before.ahead->down_rad) : std::nullopt),
             {},
             [&desk, eye, at = sight.ahead->over] {
                 emit desk.showMeasure({ShownLine{eye(), at, false}}, at);
             }});
        if (sight.ahead->ground_ahead_mm)
            lines.push_back({QObject::tr("   meets the ground ahead of the eye"),
                             desk.length(*sight.ahead->ground_ahead_mm)});
    } else {
        lines.push_back(noneHere(QObject::tr("No line dash, cowl or bonnet crosses the view ahead")));
    }
    for (const HiddenStretch& stretch : sight.hidden) {
        const double middle = 0.5 * (stretch.from_rad + stretch.to_rad);
        lines.push_back({(middle >= 0 ? QObject::tr("%1 hides, %2 to the left")
                                      : QObject::tr("%1 hides, %2 to the right"))
                             .arg(capital(barName(desk, stretch.member)),
                                  QString::fromStdString(showAngle(std::abs(middle)))),
                         QString::fromStdString(showAngle(stretch.to_rad - stretch.from_rad))});
    }
    if (sight.windshield_hidden) {
        lines.push_back(
            {QObject::tr("Of the windshield's view bars hide"),
             QString::fromStdString(fixed(100 * *sight.windshield_hidden, 1)) + QStringLiteral(" %")});
        for (const HiddenShare& share : sight.windshield_bars)
            lines.push_back({QStringLiteral("   ") + barName(desk, share.member),
                             QString::fromStdString(fixed(100 * share.share, 1)) + QStringLiteral(" %")});
    } else {
        lines.push_back(noneHere(QObject::tr("The car has no line called windshield")));
    }
    return lines;
}

std::vector<FactLine> doorLines(Desk& desk, const std::string& driver) {
    const Pair pair = reportsOf(desk, driver);
    if (!pair.now) return {};
    const Expected<Doorway>& door = pair.shown().door;
    if (!door) return {noneHere(capital(text(door.reason())))};
    std::vector<FactLine> lines;
    const double half = door->clear_round_mm / 2;
    lines.push_back({QObject::tr("Largest round that passes"),
                     desk.length(door->clear_round_mm),
                     {},
                     measured(desk, door->round_at - Vec3(half, 0, 0), door->round_at + Vec3(half, 0, 0))});
    for (const ClearSpan& span : door->spans) {
        const QString words = span.upright ? QObject::tr("Up at the %1") : QObject::tr("Across at the %1");
        if (!span.there) {
            lines.push_back({words.arg(text(span.at)), QObject::tr("not that far")});
            continue;
        }
        const auto end = [&](int member) {
            return member < 0 ? QObject::tr("the edge") : barName(desk, member);
        };
        lines.push_back(
            {words.arg(text(span.at)), desk.length(span.length_mm), {}, measured(desk, span.from, span.to)});
        lines.push_back(
            {QObject::tr("   from %1 to %2").arg(end(span.from_member), end(span.to_member)), {}});
    }
    lines.push_back({QObject::tr("To pass: shoulders, across"), desk.length(door->shoulder_width_mm)});
    lines.push_back({QObject::tr("To pass: chest, front to back"), desk.length(door->chest_mm)});
    return lines;
}

std::vector<FactLine> seatRuleLines(Desk& desk, const std::string& driver) {
    const SeatEffect* effect = desk.study.effect(driver);
    if (!effect) return {};
    std::vector<FactLine> lines;
    for (const OutOfReach& one : effect->moved.out_of_reach)
        lines.push_back(
            {text(sentence(one, desk.units() == UnitsShown::in ? LengthUnit::in : LengthUnit::mm)),
             {},
             Answer::fails});
    const auto found = [](const CheckReport& report, int index) {
        return index < 0 ? nullptr : &report.findings[std::size_t(index)];
    };
    for (const RuleChange& change : effect->changes) {
        const Finding *before = found(effect->rules_before, change.before),
                      *after = found(effect->rules_after, change.after), *any = after ? after : before;
        const auto said = [&](const Finding* finding) {
            if (!finding) return QObject::tr("nothing said");
            const QString value = wordsOf(*finding, desk.units()).value;
            return value.isEmpty() ? text(std::string(answerWord(finding->answer))) : value;
        };
        QString words = text(any->title);
        if (!any->subject_name.empty() && any->subject != driver)
            words += QStringLiteral(", ") + text(any->subject_name);
        lines.push_back({words,
                         said(before) + QStringLiteral(" ") + QChar(0x2192) + QLatin1Char(' ') + said(after),
                         any->answer, [&desk, at = any->evidence.look_at, shapes = any->evidence.shapes] {
                             emit desk.showMeasure(shapes, at);
                         }});
    }
    if (effect->changes.empty()) lines.push_back(noneHere(QObject::tr("No rule answers differently")));
    return lines;
}

QString tightest(Desk& desk, const std::string& driver) {
    const Pair pair = reportsOf(desk, driver);
    if (!pair.now) return {};
    std::optional<double> least;
    for (const Clearance& one : pair.shown().clearances.parts) {
        if (one.bare.member < 0) continue;
        const double gap = std::min(one.bare.gap_mm, one.padded.gap_mm);
        least = std::min(gap, least.value_or(gap));
    }
    return least ? desk.length(*least) : QString();
}

}  // namespace hoopwright
