#include <ostream>

#include "app/commands/command_kit.h"
#include "app/commands/json_parts.h"
#include "app/commands/text_table.h"
#include "core/model/node_report.h"
#include "core/model/resolve.h"

namespace hoopwright {
namespace {

class NodesJson {
public:
    NodesJson(std::ostream& out, const Job& job, const CageGeometry& now, const NodeReport& report)
        : json_(out), job_(job), now_(now), report_(report) {}

    void write() {
        const auto top = json_.object();
        json_.text("hoopwright", "nodes");
        json_.whole("version", 1);
        json_.text("cage", job_.cage.name);
        json_.number("near_mm", report_.near_mm);
        writeNodes();
        writeBays();
        writeBends();
        writeEnds();
        writeGeometryProblems(json_, now_);
    }

private:
    const std::string& id(int member) const { return now_.members[static_cast<std::size_t>(member)].id; }
    std::vector<std::string> ids(const std::vector<int>& members) const {
        std::vector<std::string> all;
        for (const int member : members) all.push_back(id(member));
        return all;
    }

    void writeNodes() {
        const auto list = json_.list("nodes");
        for (const NodeLine& line : report_.nodes) {
            const Node& node = now_.nodes[static_cast<std::size_t>(line.node)];
            const auto each = json_.object();
            json_.text("key", line.key);
            json_.point("at_mm", node.at);
            json_.texts("members", ids(node.members));
            json_.text("plate", node.plate < 0 ? "" : now_.plates[static_cast<std::size_t>(node.plate)].id);
            json_.number("spread_mm", node.spread_mm);
            json_.number("greatest_offset_mm", line.greatest_offset_mm);
            const auto offsets = json_.list("offsets");
            for (const AxisOffset& one : line.offsets) {
                const auto pair = json_.object();
                json_.texts("members", {id(one.member_a), id(one.member_b)});
                json_.number("offset_mm", one.offset_mm);
            }
        }
    }

    void writeBays() {
        const auto list = json_.list("open_bays");
        for (const OpenBay& bay : report_.bays) {
            const auto each = json_.object();
            json_.text("key", bay.key);
            json_.texts("members", ids(bay.members));
            json_.yesNo("closed_by_car", bay.closed_by_car);
            {
                const auto corners = json_.list("corners_mm");
                for (const Vec3& corner : bay.corners) json_.point("", corner);
            }
            json_.whole("across_from", bay.across_from);
            json_.whole("across_to", bay.across_to);
            json_.number("across_mm", bay.across_mm);
        }
    }

    void writeBends() {
        const auto list = json_.list("free_bends");
        for (const FreeBend& bend : report_.free_bends) {
            const auto each = json_.object();
            json_.text("key", bend.key);
            json_.text("member", id(bend.member));
            json_.whole("piece", bend.piece);
            json_.point("at_mm", bend.at);
            json_.number("station_mm", bend.station_mm);
            json_.number("angle_deg", degrees(bend.angle_rad));
            if (bend.nearest_mm) {
                json_.number("nearest_mm", *bend.nearest_mm);
            } else {
                json_.nothing("nearest_mm");
            }
        }
    }

    void writeEnds() {
        const auto list = json_.list("near_ends");
        for (const NearEnd& near : report_.near_ends) {
            const auto each = json_.object();
            json_.text("key", near.key);
            json_.text("member", id(near.member));
            json_.whole("end", near.end);
            json_.whole("node", near.node);
            json_.number("distance_mm", near.distance_mm);
        }
    }

    JsonWriter json_;
    const Job& job_;
    const CageGeometry& now_;
    const NodeReport& report_;
};

class NodesPage {
public:
    NodesPage(std::ostream& out, const Job& job, const CageGeometry& now, const NodeReport& report)
        : out_(out), job_(job), now_(now), report_(report) {
        bare_.unit = job.cage.unit;
        bare_.with_unit = false;
    }

    void write() {
        const std::string unit = bare_.unit == LengthUnit::in ? "in" : "mm";
        out_ << wrapped(job_.cage.name + ": " + std::to_string(report_.nodes.size()) + " nodes, " +
                            std::to_string(report_.bays.size()) + " bays with nothing across, " +
                            std::to_string(report_.free_bends.size()) + " bends nothing holds, " +
                            std::to_string(report_.near_ends.size()) + " ends near a node. Lengths in " +
                            unit + "; near is within " + length(report_.near_mm) +
                            ". This finds and measures; what a class asks for, check says.",
                        0);
        TextTable nodes({Align::left, Align::right, Align::right});
        nodes.add({"bars of the node", "axes miss by", "places apart"});
        for (const NodeLine& line : report_.nodes) {
            const Node& node = now_.nodes[static_cast<std::size_t>(line.node)];
            std::string bars;
            for (const int member : node.members) bars += (bars.empty() ? "" : ", ") + id(member);
            if (node.plate >= 0) bars += " on " + now_.plates[static_cast<std::size_t>(node.plate)].id;
            nodes.add(
                {bars, line.offsets.empty() ? "" : length(line.greatest_offset_mm), length(node.spread_mm)});
        }
        if (!report_.nodes.empty()) out_ << "\nNodes\n" << nodes.text(2);
        if (!report_.bays.empty()) out_ << "\nBays with nothing across\n";
        for (const OpenBay& bay : report_.bays) {
            std::string bars;
            for (const int member : bay.members) bars += (bars.empty() ? "" : ", ") + id(member);
            out_ << wrapped(std::to_string(bay.corners.size()) + " corners, shortest way across " +
                                length(bay.across_mm) + ": " + bars + (bay.closed_by_car ? ", the car" : ""),
                            2, kPageWidth, 4);
        }
        TextTable bends({Align::left, Align::right, Align::right, Align::right});
        bends.add({"bar", "bend at", "angle", "nearest landing"});
        for (const FreeBend& bend : report_.free_bends)
            bends.add({id(bend.member), length(bend.station_mm), showAngle(bend.angle_rad),
                       bend.nearest_mm ? length(*bend.nearest_mm) : "none"});
        if (!report_.free_bends.empty()) out_ << "\nBends nothing holds\n" << bends.text(2);
        TextTable ends({Align::left, Align::right, Align::left});
        ends.add({"end", "off by", "the node of"});
        for (const NearEnd& near : report_.near_ends) {
            std::string bars;
            for (const int member : now_.nodes[static_cast<std::size_t>(near.node)].members)
                bars += (bars.empty() ? "" : ", ") + id(member);
            ends.add(
                {id(near.member) + (near.end == 0 ? ", first" : ", last"), length(near.distance_mm), bars});
        }
        if (!report_.near_ends.empty()) out_ << "\nEnds near a node, not on it\n" << ends.text(2);
    }

private:
    const std::string& id(int member) const { return now_.members[static_cast<std::size_t>(member)].id; }
    std::string length(double mm) const { return showLength(mm, bare_); }

    std::ostream& out_;
    const Job& job_;
    const CageGeometry& now_;
    const NodeReport& report_;
    LengthStyle bare_;
};

int runNodes(const CommandLine& line, Streams streams) {
    const std::optional<JobResult> opened = openJob(line.files()[0], streams);
    if (!opened) return kExitBadInput;
    double near_mm = kNearNode_mm;
    if (line.has("--near")) {
        const LengthUnit unit = opened->job->cage.unit;
        const Expected<double> said =
            readMeasure(line.value("--near"), *unitNamed(unit == LengthUnit::in ? "in" : "mm"));
        if (!said) return refuse(streams, "nodes", "--near: " + said.reason());
        if (*said <= 0) return refuse(streams, "nodes", "--near: it must be more than nothing");
        near_mm = *said;
    }
    const CageGeometry now = resolve(*opened->job);
    const NodeReport report = nodeReport(now, near_mm);
    if (line.has("--json")) {
        NodesJson(streams.out, *opened->job, now, report).write();
    } else {
        NodesPage(streams.out, *opened->job, now, report).write();
    }
    return kExitGood;
}

}  // namespace

Command nodesCommand() {
    return {
        "nodes",
        {"CAGE"},
        "where bars meet, and what does not quite",
        "Lists every node with its bars and how far their axes miss each other there; bays of four corners "
        "or more with nothing across them; bends with no landing near them; and ends that are near a node "
        "and not on it. It finds and measures, and judges nothing.",
        "hoopwright nodes data/cages/hillclimb_saloon.yaml --near 80",
        {{"--near", "LENGTH", "how near counts, for bends and ends; 100 mm unless said"},
         {"--json", "", "for programs; every key says its unit (app/commands/JSON.md)"}},
        &runNodes};
}

}  // namespace hoopwright
