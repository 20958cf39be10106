#include "app/window/driver_results.h"

#include <cmath>

#include "app/window/driver_facts.h"
#include "app/window/form_help.h"
#include "core/base/text.h"

namespace hoopwright {
namespace {

void tryMove(Desk& desk, const std::string& id, const SeatMove& move) {
    const QString refused = desk.study.tryMove(id, move);
    if (!refused.isEmpty()) emit desk.say(QObject::tr("The seat cannot move so: %1.").arg(refused));
}

void moveTheSeat(Desk& desk, const std::string& id) {
    const SeatEffect* effect = desk.study.effect(id);
    if (!effect) {
        emit desk.say(QObject::tr("Type how far to slide, lift or recline the seat first."));
        return;
    }
    const Driver moved = effect->moved.driver;
    desk.study.tryMove(id, {});
    editDriver(desk, id, QObject::tr("Seat moved"), [&](Driver& d) { d = moved; });
}

void moveBeltBar(Desk& desk, const std::string& id) {
    const Expected<BeltSnap>& snap = desk.study.snap(id);
    if (!snap) {
        emit desk.say(QObject::tr("The belt bar stays where it is: %1.").arg(text(snap.reason())));
        return;
    }
    if (snap->by_mm == 0) {
        emit desk.say(QObject::tr("The belt bar is where the class tables let it be."));
        return;
    }
    const double by = snap->by_mm;
    const CageLayout layout = snap->layout;
    desk.document.edit(QObject::tr("Belt bar to where the rules let it be"),
                       [&](Job& job) { job.cage = layout; });
    emit desk.say(
        (by > 0 ? QObject::tr("The belt bar is %1 higher.") : QObject::tr("The belt bar is %1 lower."))
            .arg(desk.length(std::abs(by))));
}

}  // namespace

void addSeatMove(Desk& desk, Form& form, const std::string& id) {
    form.fold(
        QObject::tr("Move the seat"),
        [&desk, id] { return desk.study.trying(id) ? QObject::tr("tried") : QString(); }, true);
    form.within(QObject::tr("Seat move"));
    const auto row = [&](const QString& words, Dimension dimension, double SeatMove::*which,
                         const QString& tip) {
        form.value(
                words, dimension, [&desk, id, which] { return std::optional(desk.study.tried(id).*which); },
                [&desk, id, which](std::optional<double> to, const QByteArray&) {
                    SeatMove move = desk.study.tried(id);
                    move.*which = to.value_or(0);
                    tryMove(desk, id, move);
                })
            ->setToolTip(tip);
    };
    row(QObject::tr("Slide"), Dimension::length, &SeatMove::slide_mm,
        QObject::tr("Forward; back is negative"));
    row(QObject::tr("Lift"), Dimension::length, &SeatMove::lift_mm, QObject::tr("Up; down is negative"));
    row(QObject::tr("Recline"), Dimension::angle, &SeatMove::recline_rad,
        QObject::tr("Of the back about the hip, backwards"));
    form.note([&desk, id] {
        return desk.study.trying(id)
                   ? QObject::tr(
                         "Tried, not made: the figures below are with the seat moved, the change "
                         "in brackets. Hands stay on the wheel, heels on the pedals.")
                   : QObject::tr(
                         "Type how far the seat slides forward, lifts and reclines to see what it "
                         "does to every clearance and rule.");
    });
    form.actions({{QObject::tr("Move it so"), [&desk, id] { moveTheSeat(desk, id); },
                   QObject::tr("Makes the tried move the measured place")},
                  {QObject::tr("As it was"), [&desk, id] { tryMove(desk, id, {}); },
                   QObject::tr("Drops the tried move")}});
    form.facts(QObject::tr("rules the seat move changes"), [&desk, id] { return seatRuleLines(desk, id); });
}

void addDriverResults(Desk& desk, Form& form, const std::string& id) {
    using Lines = std::vector<FactLine> (*)(Desk&, const std::string&);
    const auto fold = [&](const QString& words, Form::Words beside, bool open, Lines lines) {
        form.fold(words, std::move(beside), open);
        form.facts(QObject::tr("%1, figures").arg(words.toLower()),
                   [&desk, id, lines] { return lines(desk, id); });
    };
    const auto first = [&desk, id](Lines lines) {
        return [&desk, id, lines] {
            const auto all = lines(desk, id);
            return all.empty() ? QString() : all.front().figure;
        };
    };
    fold(
        QObject::tr("Clearances"), [&desk, id] { return tightest(desk, id); }, true, &clearanceLines);
    fold(QObject::tr("Helmet"), first(&helmetLines), true, &helmetLines);
    fold(QObject::tr("Inside a straightedge"), first(&insideLines), false, &insideLines);
    fold(QObject::tr("Straps"), first(&strapLines), true, &strapLines);
    fold(QObject::tr("Where the belt bar may be"), first(&bandLines), true, &bandLines);
    form.actions({{QObject::tr("Move it to where it may be"), [&desk, id] { moveBeltBar(desk, id); },
                   QObject::tr("The least change of its height that meets every class table")},
                  {QObject::tr("From the side"), [&desk] { emit desk.lookFrom("left"); },
                   QObject::tr("The band is drawn in the view, seen from the left")}});
    const auto hidden = [&desk, id] {
        const DriverReport* report = desk.study.report(id);
        if (!report || !report->sight.windshield_hidden) return QString();
        return QObject::tr("%1 % hidden").arg(text(fixed(100 * *report->sight.windshield_hidden, 1)));
    };
    fold(QObject::tr("Sight"), hidden, false, &sightLines);
    fold(QObject::tr("Door"), first(&doorLines), false, &doorLines);
}

}  // namespace hoopwright
