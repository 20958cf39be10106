// Which tubes an end is coped around besides its host, and which tubes run into each other.
#include <algorithm>

#include "core/model/resolver.h"
#include "core/model/touch_finder.h"

namespace hoopwright::resolving {

namespace {

/// How near to an end a clash must be for the build order to be worth a word, in diameters.
constexpr double kByTheEnd_od = 2.5;

bool endsBy(const ResolvedMember& member, const Vec3& at) {
    return std::any_of(member.ends.begin(), member.ends.end(), [&](const ResolvedEnd& end) {
        return end.on != ResolvedEnd::On::nothing &&
               (end.at - at).norm() <= kByTheEnd_od * member.section.od_mm;
    });
}

}  // namespace

void Resolver::findAlso() {
    nameAlso();
    TouchFinder finder(cage_);
    for (const auto& [later, earlier] : finder.nearPairs()) {
        const std::vector<Span> stretches = finder.stretches(later, earlier);
        if (stretches.empty() || mayTouch(later, earlier)) continue;
        Touch worst;
        for (const Span& stretch : stretches) {
            const Touch touch = finder.judge(later, earlier, stretch);
            if (touch.verdict == Touch::Verdict::coped) {
                auto& ends = cage_.members[static_cast<std::size_t>(later)].ends;
                std::vector<int>& also = ends[static_cast<std::size_t>(touch.end)].also;
                if (!contains(also, earlier)) also.push_back(earlier);
            } else if (touch.verdict != Touch::Verdict::fine && touch.depth_mm > worst.depth_mm) {
                worst = touch;
            }
        }
        if (worst.verdict != Touch::Verdict::fine) reportTouch(later, earlier, worst);
    }
}

/// Enters the members a layout names beside the host.
void Resolver::nameAlso() {
    for (std::size_t m = 0; m < cage_.members.size(); ++m) {
        const Bar& bar = bars_[static_cast<std::size_t>(bar_of_member_[m])];
        for (int e = 0; e < 2; ++e) {
            const MemberPoint& point = e == 0 ? bar.member->path.front() : bar.member->path.back();
            const auto* landing = std::get_if<Landing>(&point.place);
            ResolvedEnd& end = cage_.members[m].ends[static_cast<std::size_t>(e)];
            if (!landing || end.on != ResolvedEnd::On::member) continue;
            for (const std::string& name : landing->also) {
                const Found found = bar_names_.find(name, bar.side);
                const int other =
                    found.index < 0 ? -1 : member_of_bar_[static_cast<std::size_t>(found.index)];
                if (other < 0) {
                    report(Kind::no_such_member, bar,
                           "is to be coped around " + name + ", which is not there.",
                           "name a member of this cage, with its side if there are two", end.at);
                } else if (other == static_cast<int>(m)) {
                    report(Kind::on_itself, bar, "is to be coped around itself.", "leave its own name out",
                           end.at);
                } else if (other != end.host && !contains(end.also, other)) {
                    end.also.push_back(other);
                }
            }
        }
    }
}

/// Whether the layout lets two members into each other: by `passes`, or because one is led over the other.
bool Resolver::mayTouch(int one, int two) const {
    return allows(one, two) || allows(two, one);
}

bool Resolver::allows(int one, int two) const {
    const Bar& bar = bars_[static_cast<std::size_t>(bar_of_member_[static_cast<std::size_t>(one)])];
    const int other_bar = bar_of_member_[static_cast<std::size_t>(two)];
    const Bar& other = bars_[static_cast<std::size_t>(other_bar)];
    const bool passed =
        std::any_of(bar.member->passes.begin(), bar.member->passes.end(), [&](const std::string& name) {
            const SplitName said = splitName(name);
            if (said.base != other.member->id) return false;
            const Side side = bar.side == Side::right ? otherSide(said.side) : said.side;
            return side == Side::centre || side == other.side;
        });
    if (passed || bar.hosts.size() < 3) return passed;
    return std::find(bar.hosts.begin() + 1, bar.hosts.end() - 1, other_bar) != bar.hosts.end() - 1;
}

void Resolver::reportTouch(int later, int earlier, const Touch& touch) {
    const ResolvedMember& tube = cage_.members[static_cast<std::size_t>(later)];
    const ResolvedMember& other = cage_.members[static_cast<std::size_t>(earlier)];
    std::string what, remedy;
    switch (touch.verdict) {
        case Touch::Verdict::free_end:
            what = "ends inside " + other.name + " and does not land on it.";
            remedy = "let that end land on " + other.name;
            break;
        case Touch::Verdict::stops_short:
            what = "runs into " + other.name + " before it gets to what it lands on.";
            remedy = "let it land on " + other.name + ", or lead it past";
            break;
        case Touch::Verdict::runs_along:
            what = "runs along inside " + other.name + "; that is no joint.";
            remedy = "move it out, or let it meet at a greater angle";
            break;
        default:
            what = "runs into " + other.name + ".";
            remedy = "move one of them, let one land on the other, or list it under passes";
            if (endsBy(other, touch.at)) {
                remedy = "put " + other.name + " after " + tube.name +
                         " in build order so that it is coped around it, or move one of them";
            }
            break;
    }
    what.pop_back();
    what += ", " + length(touch.depth_mm) + " deep, at x " + length(touch.at.x()) + ", y " +
            length(touch.at.y()) + ", z " + length(touch.at.z()) + ".";
    report(Kind::tubes_collide,
           bars_[static_cast<std::size_t>(bar_of_member_[static_cast<std::size_t>(later)])], std::move(what),
           std::move(remedy), touch.at);
}

}  // namespace hoopwright::resolving
