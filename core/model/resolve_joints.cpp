// Joints, and the nodes they gather in.
#include <algorithm>
#include <cmath>
#include <numeric>

#include "core/model/resolver.h"

namespace hoopwright::resolving {

namespace {

/// Least distance between the axis of an end and the host's tangent line.
double axisOffset(const Vec3& at, const Vec3& outward, const Vec3& host_at, const Vec3& host_tangent) {
    const Vec3 across = outward.cross(host_tangent);
    const double sine = across.norm();
    const Vec3 between = at - host_at;
    if (sine < 1e-9) return between.cross(host_tangent).norm();
    return std::abs(between.dot(across)) / sine;
}

/// One end that meets something: a joint, or a foot on a plate.
struct Meeting {
    Vec3 at = Vec3::Zero();
    int member = -1, end = 0;
    int joint = -1;
};

/// Something that sits on a member, by its station.
struct OnMember {
    int member = -1;
    double station_mm = 0;
    int meeting = -1;
};

/// Groups of meetings, merged pair by pair.
class Groups {
public:
    explicit Groups(std::size_t count) : parent_(count) { std::iota(parent_.begin(), parent_.end(), 0); }
    int of(int i) {
        while (parent_[static_cast<std::size_t>(i)] != i) {
            int& up = parent_[static_cast<std::size_t>(i)];
            up = parent_[static_cast<std::size_t>(up)];
            i = up;
        }
        return i;
    }
    void merge(int a, int b) {
        const int low = std::min(of(a), of(b)), high = std::max(of(a), of(b));
        parent_[static_cast<std::size_t>(high)] = low;
    }

private:
    std::vector<int> parent_;
};

std::vector<Meeting> meetings(const CageGeometry& cage) {
    std::vector<Meeting> all;
    all.reserve(2 * cage.members.size());
    for (std::size_t j = 0; j < cage.joints.size(); ++j) {
        const Joint& joint = cage.joints[j];
        all.push_back({joint.at, joint.branch, joint.end, static_cast<int>(j)});
    }
    for (const ResolvedPlate& plate : cage.plates) {
        for (const auto& [member, end] : plate.feet) {
            const auto& foot =
                cage.members[static_cast<std::size_t>(member)].ends[static_cast<std::size_t>(end)];
            all.push_back({foot.at, member, end});
        }
    }
    return all;
}

/// What sits on each member, in order along it: branches that land on it, and its own ends that meet
/// something.
std::vector<OnMember> alongMembers(const CageGeometry& cage, const std::vector<Meeting>& all) {
    std::vector<OnMember> on;
    on.reserve(2 * all.size());
    for (std::size_t i = 0; i < all.size(); ++i) {
        const Meeting& meeting = all[i];
        const double length = cage.members[static_cast<std::size_t>(meeting.member)].line.length_mm();
        on.push_back({meeting.member, meeting.end == 0 ? 0 : length, static_cast<int>(i)});
        if (meeting.joint < 0) continue;
        const Joint& joint = cage.joints[static_cast<std::size_t>(meeting.joint)];
        on.push_back({joint.host, joint.host_station_mm, static_cast<int>(i)});
    }
    std::sort(on.begin(), on.end(), [](const OnMember& a, const OnMember& b) {
        if (a.member != b.member) return a.member < b.member;
        if (a.station_mm != b.station_mm) return a.station_mm < b.station_mm;
        return a.meeting < b.meeting;
    });
    return on;
}

Groups gather(const CageGeometry& cage, const std::vector<Meeting>& all, double reach_mm) {
    Groups groups(all.size());
    const std::vector<OnMember> on = alongMembers(cage, all);
    for (std::size_t i = 0; i + 1 < on.size(); ++i) {
        const bool near =
            on[i].member == on[i + 1].member && on[i + 1].station_mm - on[i].station_mm <= reach_mm;
        if (near) groups.merge(on[i].meeting, on[i + 1].meeting);
    }
    std::vector<int> first_foot(cage.plates.size(), -1);
    for (std::size_t i = 0; i < all.size(); ++i) {
        const ResolvedMember& member = cage.members[static_cast<std::size_t>(all[i].member)];
        const ResolvedEnd& end = member.ends[static_cast<std::size_t>(all[i].end)];
        if (end.plate >= 0) {
            int& first = first_foot[static_cast<std::size_t>(end.plate)];
            if (first < 0) first = static_cast<int>(i);
            groups.merge(first, static_cast<int>(i));
        }
        // Ends coped to each other meet, if they are as near as the reach says.
        for (std::size_t k = 0; k < all.size() && !end.also.empty(); ++k) {
            const bool coped = std::find(end.also.begin(), end.also.end(), all[k].member) != end.also.end();
            if (coped && (all[k].at - all[i].at).norm() <= reach_mm)
                groups.merge(static_cast<int>(i), static_cast<int>(k));
        }
    }
    return groups;
}

void addOnce(std::vector<int>& list, int value) {
    const auto at = std::lower_bound(list.begin(), list.end(), value);
    if (at == list.end() || *at != value) list.insert(at, value);
}

}  // namespace

void Resolver::findJoints() {
    cage_.joints.reserve(2 * cage_.members.size());
    for (std::size_t m = 0; m < cage_.members.size(); ++m) {
        for (int e = 0; e < 2; ++e) {
            const ResolvedEnd& end = cage_.members[m].ends[static_cast<std::size_t>(e)];
            if (end.on != ResolvedEnd::On::member) continue;
            const Centreline& host = cage_.members[static_cast<std::size_t>(end.host)].line;
            const Vec3 tangent = host.tangent(end.host_station_mm);
            Joint joint;
            joint.branch = static_cast<int>(m);
            joint.end = e;
            joint.host = end.host;
            joint.host_station_mm = end.host_station_mm;
            joint.angle_rad =
                std::atan2(end.outward.cross(tangent).norm(), std::abs(end.outward.dot(tangent)));
            joint.at = host.point(end.host_station_mm);
            joint.offset_mm = axisOffset(end.at, end.outward, joint.at, tangent);
            joint.on_bend = host.pieceAt(end.host_station_mm).kind == Piece::Kind::bend;
            cage_.joints.push_back(joint);
        }
    }
}

void Resolver::findNodes() {
    const std::vector<Meeting> all = meetings(cage_);
    const double said = job_.cage.node_reach_mm;
    Groups groups = gather(cage_, all, std::isfinite(said) ? std::max(said, 0.0) : 0.0);
    std::vector<int> node_of_group(all.size(), -1);
    std::vector<std::vector<int>> members_of_node;
    for (std::size_t i = 0; i < all.size(); ++i) {
        int& node = node_of_group[static_cast<std::size_t>(groups.of(static_cast<int>(i)))];
        if (node < 0) {
            node = static_cast<int>(cage_.nodes.size());
            cage_.nodes.emplace_back();
            members_of_node.emplace_back();
        }
        members_of_node[static_cast<std::size_t>(node)].push_back(static_cast<int>(i));
        joinNode(node, all[i].member, all[i].end, all[i].joint);
    }
    for (std::size_t n = 0; n < cage_.nodes.size(); ++n) {
        Node& node = cage_.nodes[n];
        const std::vector<int>& here = members_of_node[n];
        for (int i : here) node.at += all[static_cast<std::size_t>(i)].at / static_cast<double>(here.size());
        for (std::size_t i = 0; i < here.size(); ++i) {
            for (std::size_t k = i + 1; k < here.size(); ++k) {
                const Vec3 apart =
                    all[static_cast<std::size_t>(here[i])].at - all[static_cast<std::size_t>(here[k])].at;
                node.spread_mm = std::max(node.spread_mm, apart.norm());
            }
        }
    }
}

/// Enters one end, all that it is coped to and its joint in a node.
void Resolver::joinNode(int number, int member, int end_index, int joint) {
    Node& node = cage_.nodes[static_cast<std::size_t>(number)];
    ResolvedEnd& end =
        cage_.members[static_cast<std::size_t>(member)].ends[static_cast<std::size_t>(end_index)];
    end.node = number;
    addOnce(node.members, member);
    if (end.host >= 0) addOnce(node.members, end.host);
    for (int also : end.also) addOnce(node.members, also);
    if (end.plate >= 0) node.plate = end.plate;
    if (joint < 0) return;
    node.joints.push_back(joint);
    cage_.joints[static_cast<std::size_t>(joint)].node = number;
}

}  // namespace hoopwright::resolving
