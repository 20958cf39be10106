// Bars made of bars: crossed, cut, joined, fitted, extended.
#include "app/window/form_help.h"
#include "app/window/hands.h"
#include "core/edit/bar_edits.h"
#include "core/edit/refit_side.h"

namespace hoopwright {
namespace {

using Kind = Thing::Kind;

}  // namespace

void crossChosen(Desk& desk) {
    const auto chosen = desk.selection.layoutIds(Kind::member);
    if (chosen.size() != 1) return emit desk.say(QObject::tr("Choose the one bar to make a cross of."));
    Job next = desk.document.job();
    const auto made = crossBar(next, desk.document.geometry(), chosen.front());
    if (!made) return emit desk.say(text(made.reason()));
    const QString name = text(shownName(memberOf(desk, chosen.front()))).toLower();
    desk.document.edit(QObject::tr("Make a cross of %1").arg(name), [&](Job& job) { job.cage = next.cage; });
    emit desk.say(QObject::tr("The other way is two halves cut to %1, which runs through.").arg(name));
}

void cutChosen(Desk& desk) {
    const auto bars = desk.selection.ids(Kind::member);
    if (bars.size() != 2)
        return emit desk.say(
            QObject::tr("Choose the bar to cut, then (Ctrl and click) the one that runs through."));
    Job next = desk.document.job();
    const CageGeometry& now = desk.document.geometry();
    const auto second = splitBar(next, now, layoutId(bars[0]), bars[1]);
    if (!second) return emit desk.say(text(second.reason()));
    desk.document.edit(
        QObject::tr("Cut %1").arg(text(shownName(memberOf(desk, layoutId(bars[0])))).toLower()),
        [&](Job& job) { job.cage = next.cage; });
}

void joinChosen(Desk& desk) {
    const auto bars = desk.selection.layoutIds(Kind::member);
    if (bars.size() != 2)
        return emit desk.say(QObject::tr("Choose two bars that meet end on end (Ctrl and click)."));
    Job next = desk.document.job();
    const auto joined = joinBars(next, desk.document.geometry(), bars[0], bars[1]);
    if (!joined) return emit desk.say(text(joined.reason()));
    const bool pair = next.cage.member(*joined)->mirrored;
    desk.document.edit(QObject::tr("Join %1").arg(text(shownName(memberOf(desk, bars[0]))).toLower()),
                       [&](Job& job) { job = next; });
    desk.selection.set({Kind::member, resolvedIds(*joined, pair).front()});
}

void refitChosen(Desk& desk) {
    const auto bars = desk.selection.layoutIds(Kind::member);
    if (bars.size() != 1) return emit desk.say(QObject::tr("Choose one bar of a mirrored pair."));
    Job next = desk.document.job();
    const FitCar car(next.car, next.scan_meshes);
    const auto refit = refitRightSide(next, desk.document.geometry(), car, bars[0]);
    if (!refit) return emit desk.say(text(refit.reason()));
    const QString name = text(shownName(memberOf(desk, bars[0])));
    desk.document.edit(QObject::tr("Fit the right %1 to the car").arg(name.toLower()),
                       [&](Job& job) { job = next; });
    desk.selection.set({Kind::member, refit->right});
    emit desk.say(QObject::tr("%1: the right one keeps %2 off its own side, as the left one does.")
                      .arg(name, desk.length(refit->fit.bar.after.least_mm)));
}

void extendChosen(Desk& desk) {
    const auto bars = desk.selection.ids(Kind::member);
    const CageGeometry& now = desk.document.geometry();
    const int at = bars.size() == 1 ? now.member(bars.front()) : -1;
    int end = -1;
    for (const int i : {0, 1})
        if (at >= 0 && now.members[std::size_t(at)].ends[std::size_t(i)].on == ResolvedEnd::On::nothing)
            end = i;
    if (end < 0) return emit desk.say(QObject::tr("Choose one bar with an end that is free."));
    Job next = desk.document.job();
    const auto host = extendBar(next, now, bars.front(), end);
    if (!host) return emit desk.say(text(host.reason()));
    const QString name = text(now.members[std::size_t(at)].name).toLower();
    desk.document.edit(QObject::tr("Extend %1").arg(name), [&](Job& job) { job.cage = next.cage; });
}

}  // namespace hoopwright
