// What a node report says of one node, bay, bend or end.
#include <algorithm>

#include "app/window/details.h"
#include "app/window/form.h"
#include "app/window/form_help.h"
#include "app/window/node_rows.h"

namespace hoopwright {
namespace {

std::vector<FactLine> barLinesOf(Desk& desk, const std::string& id) {
    std::vector<FactLine> lines;
    const auto thing = nodeThing(desk, id);
    if (!thing) return lines;
    const CageGeometry& now = desk.document.geometry();
    for (const std::string& bar : thing->members) {
        const int at = now.member(bar);
        if (at < 0) continue;
        lines.push_back({text(now.members[std::size_t(at)].name), QString(), {}, [&desk, bar] {
                             desk.selection.set({Thing::Kind::member, bar});
                         }});
    }
    return lines;
}

std::vector<FactLine> offsetLines(Desk& desk, const std::string& key) {
    std::vector<FactLine> lines;
    const CageGeometry& now = desk.document.geometry();
    for (const NodeLine& line : desk.nodes().nodes) {
        if ("node/" + line.key != key) continue;
        for (const AxisOffset& one : line.offsets)
            lines.push_back({QObject::tr("%1 to %2")
                                 .arg(text(now.members[std::size_t(one.member_a)].name),
                                      text(now.members[std::size_t(one.member_b)].name).toLower()),
                             desk.length(one.offset_mm)});
        const Node& node = now.nodes[std::size_t(line.node)];
        lines.push_back({QObject::tr("Places that meet are apart by"), desk.length(node.spread_mm)});
    }
    return lines;
}

std::vector<FactLine> otherLines(Desk& desk, const std::string& id) {
    std::vector<FactLine> lines;
    const NodeReport& report = desk.nodes();
    const CageGeometry& now = desk.document.geometry();
    for (const OpenBay& bay : report.bays) {
        if ("bay/" + bay.key != id) continue;
        lines.push_back({QObject::tr("Shortest bar across"), desk.length(bay.across_mm)});
        if (bay.closed_by_car) lines.push_back({QObject::tr("One side of it is the car"), QString()});
    }
    for (const FreeBend& bend : report.free_bends) {
        if ("bend/" + bend.key != id) continue;
        lines.push_back({QObject::tr("Along the bar, from its first end"), desk.length(bend.station_mm)});
        lines.push_back(
            {QObject::tr("From it to the nearest landing"),
             bend.nearest_mm ? desk.length(*bend.nearest_mm) : QObject::tr("nothing on the bar")});
    }
    for (const NearEnd& near : report.near_ends) {
        if ("end/" + near.key != id) continue;
        lines.push_back({QObject::tr("From the end to the node"), desk.length(near.distance_mm)});
        for (const int member : now.nodes[std::size_t(near.node)].members) {
            const std::string bar = now.members[std::size_t(member)].id;
            lines.push_back({QObject::tr("At that node: %1").arg(text(now.members[std::size_t(member)].name)),
                             QString(),
                             {},
                             [&desk, bar] {
                                 desk.selection.set({Thing::Kind::member, bar});
                             }});
        }
    }
    return lines;
}

}  // namespace

QByteArray nodeShape(const Desk& desk, const std::string& key) {
    return nodeThing(desk, key) ? "there" : "gone";
}

Form* nodeForm(Desk& desk, const std::string& key) {
    const auto thing = nodeThing(desk, key);
    auto* form = new Form(desk, thing ? thing->title : QObject::tr("Node"));
    form->title(
        [&desk, key] {
            const auto now = nodeThing(desk, key);
            return now ? now->title : QObject::tr("Not there any more");
        },
        [&desk, key] {
            const auto now = nodeThing(desk, key);
            return now ? now->beside : QString();
        });
    if (!thing) {
        form->note([] { return QObject::tr("The cage has changed: nothing like it is left."); });
        form->finish();
        return form;
    }
    if (key.starts_with("node/")) {
        form->section(QObject::tr("How far the axes miss each other"));
        form->facts(QObject::tr("Offsets"), [&desk, key] { return offsetLines(desk, key); });
    } else {
        form->facts(QObject::tr("Measures"), [&desk, key] { return otherLines(desk, key); });
    }
    form->section(QObject::tr("Its bars"));
    form->facts(QObject::tr("Bars"), [&desk, key] { return barLinesOf(desk, key); });
    form->note([] {
        return QObject::tr(
            "This list finds and measures; it judges nothing. What your class asks for stands under Check.");
    });
    form->finish();
    return form;
}

}  // namespace hoopwright
