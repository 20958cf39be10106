#include "app/window/node_rows.h"

#include <algorithm>
#include <functional>
#include <numbers>

#include "app/window/form_help.h"
#include "app/window/header_row.h"

namespace hoopwright {
namespace {

constexpr double kDegrees = 180 / std::numbers::pi;

const ResolvedMember& barOf(const Desk& desk, int member) {
    return desk.document.geometry().members[std::size_t(member)];
}

QString namesOf(const Desk& desk, const std::vector<int>& members, qsizetype most = 3) {
    QStringList names;
    for (const int member : members) names << text(barOf(desk, member).name);
    if (names.size() > most) {
        const qsizetype more = names.size() - most + 1;
        names = names.mid(0, most - 1);
        names << QObject::tr("%1 more").arg(more);
    }
    return names.join(QStringLiteral(", "));
}

std::vector<std::string> idsOf(const Desk& desk, const std::vector<int>& members) {
    std::vector<std::string> ids;
    for (const int member : members) ids.push_back(barOf(desk, member).id);
    return ids;
}

Row rowOf(const std::string& id, const QString& title, const QString& detail, const QString& tip) {
    Row row;
    row.thing = Thing{Thing::Kind::node, id};
    row.title = title;
    row.detail = detail;
    row.tip = tip;
    row.name_first = true;
    return row;
}

/// What misses most on top; a foot has nothing to miss.
std::vector<NodeLine> worstFirst(std::vector<NodeLine> nodes) {
    std::ranges::stable_sort(nodes, std::greater(), [](const NodeLine& line) {
        return line.offsets.empty() ? -1 : line.greatest_offset_mm;
    });
    return nodes;
}

QString angleWords(double rad) {
    return QStringLiteral("%1°").arg(rad * kDegrees, 0, 'f', 0);
}

QString endWords(const Desk& desk, const NearEnd& near) {
    const QString bar = text(barOf(desk, near.member).name);
    return near.end == 0 ? QObject::tr("%1, first end").arg(bar) : QObject::tr("%1, last end").arg(bar);
}

}  // namespace

std::vector<Row> nodeRows(const Desk& desk) {
    const NodeReport& report = desk.nodes();
    const CageGeometry& now = desk.document.geometry();
    std::vector<Row> rows{
        headerRow(QObject::tr("Nodes, and how far axes miss"), QString::number(report.nodes.size()))};
    for (const NodeLine& line : worstFirst(report.nodes)) {
        const Node& node = now.nodes[std::size_t(line.node)];
        rows.push_back(
            rowOf("node/" + line.key, namesOf(desk, node.members),
                  line.offsets.empty() ? QObject::tr("foot") : desk.length(line.greatest_offset_mm),
                  namesOf(desk, node.members, 99)));
    }
    rows.push_back(headerRow(QObject::tr("Bays with nothing across"), QString::number(report.bays.size())));
    for (const OpenBay& bay : report.bays)
        rows.push_back(rowOf("bay/" + bay.key, namesOf(desk, bay.members), desk.length(bay.across_mm),
                             QObject::tr("%1 corners; the shortest bar across would be %2")
                                 .arg(bay.corners.size())
                                 .arg(desk.length(bay.across_mm))));
    rows.push_back(headerRow(QObject::tr("Bends nothing holds"), QString::number(report.free_bends.size())));
    for (const FreeBend& bend : report.free_bends)
        rows.push_back(rowOf("bend/" + bend.key, text(barOf(desk, bend.member).name),
                             bend.nearest_mm ? desk.length(*bend.nearest_mm) : QObject::tr("nothing on it"),
                             QObject::tr("A bend of %1; how far along the bar the nearest landing is")
                                 .arg(angleWords(bend.angle_rad))));
    rows.push_back(
        headerRow(QObject::tr("Ends near a node, not on it"), QString::number(report.near_ends.size())));
    for (const NearEnd& near : report.near_ends)
        rows.push_back(rowOf("end/" + near.key, endWords(desk, near), desk.length(near.distance_mm),
                             QObject::tr("from the node of %1")
                                 .arg(namesOf(desk, now.nodes[std::size_t(near.node)].members, 99))));
    return rows;
}

std::optional<NodeThing> nodeThing(const Desk& desk, const std::string& id) {
    const NodeReport& report = desk.nodes();
    const CageGeometry& now = desk.document.geometry();
    const auto slash = id.find('/');
    const std::string kind = id.substr(0, slash),
                      key = slash == std::string::npos ? "" : id.substr(slash + 1);
    const auto find = [&](const auto& list) {
        return std::ranges::find_if(list, [&](const auto& one) { return one.key == key; });
    };
    NodeThing thing;
    if (kind == "node") {
        const auto line = find(report.nodes);
        if (line == report.nodes.end()) return std::nullopt;
        const Node& node = now.nodes[std::size_t(line->node)];
        thing.title = node.plate >= 0
                          ? QObject::tr("Node on %1").arg(text(now.plates[std::size_t(node.plate)].name))
                          : QObject::tr("Node of %1 bars").arg(node.members.size());
        thing.members = idsOf(desk, node.members);
        thing.at = node.at;
        thing.shapes = {ShownPoint{node.at}};
        return thing;
    }
    if (kind == "bay") {
        const auto bay = find(report.bays);
        if (bay == report.bays.end()) return std::nullopt;
        thing.title = QObject::tr("Bay with nothing across");
        thing.beside = QObject::tr("%1 corners").arg(bay->corners.size());
        thing.members = idsOf(desk, bay->members);
        thing.at = Vec3::Zero();
        for (std::size_t i = 0; i < bay->corners.size(); ++i) {
            thing.at += bay->corners[i] / double(bay->corners.size());
            thing.shapes.push_back(
                ShownLine{bay->corners[i], bay->corners[(i + 1) % bay->corners.size()], false});
        }
        thing.shapes.push_back(ShownLine{bay->corners[std::size_t(bay->across_from)],
                                         bay->corners[std::size_t(bay->across_to)], true});
        return thing;
    }
    if (kind == "bend") {
        const auto bend = find(report.free_bends);
        if (bend == report.free_bends.end()) return std::nullopt;
        thing.title = QObject::tr("Bend nothing holds");
        thing.beside = angleWords(bend->angle_rad);
        thing.members = idsOf(desk, {bend->member});
        thing.at = bend->at;
        thing.shapes = {ShownPoint{bend->at}};
        return thing;
    }
    const auto near = find(report.near_ends);
    if (kind != "end" || near == report.near_ends.end()) return std::nullopt;
    const Node& node = now.nodes[std::size_t(near->node)];
    const Vec3 at = barOf(desk, near->member).ends[std::size_t(near->end)].at;
    thing.title = QObject::tr("End near a node");
    thing.beside = desk.length(near->distance_mm);
    thing.members = idsOf(desk, {near->member});
    thing.at = 0.5 * (at + node.at);
    thing.shapes = {ShownPoint{at}, ShownPoint{node.at}, ShownLine{at, node.at, true}};
    return thing;
}

}  // namespace hoopwright
