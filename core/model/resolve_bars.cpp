// Which bars there are, what each lands on, and in which order they can be placed.
#include <algorithm>
#include <cctype>

#include "core/base/text.h"
#include "core/model/resolver.h"

namespace hoopwright::resolving {

namespace {

bool goodId(std::string_view id) {
    return !id.empty() && std::all_of(id.begin(), id.end(), [](unsigned char c) {
        return std::islower(c) != 0 || std::isdigit(c) != 0 || c == '_';
    });
}

std::string shownName(const Member& member, const std::string& name, Side side) {
    const std::string& base = member.name.empty() ? name : member.name;
    return side == Side::centre ? base : base + ", " + std::string(sideWord(side));
}

}  // namespace

void Resolver::listBars() {
    bars_.reserve(2 * job_.cage.members.size());
    for (std::size_t i = 0; i < job_.cage.members.size(); ++i) listBar(static_cast<int>(i));
    made_.resize(bars_.size());
}

void Resolver::listBar(int layout) {
    const Member& member = job_.cage.members[static_cast<std::size_t>(layout)];
    if (!goodId(member.id)) {
        add({Kind::bad_value, "A member is called \"" + member.id + "\".",
             "an id has small letters, digits and _ only", member.id, "", Vec3::Zero()});
        return;
    }
    if (!bar_names_.add(member.id, member.mirrored, static_cast<int>(bars_.size()))) {
        add({Kind::bad_value, "Two members are called " + member.id + "; the second is left out.",
             "give each its own id", member.id, "", Vec3::Zero()});
        return;
    }
    const std::string role_name = member.name.empty() ? roleOf(member.role).name : std::string();
    const auto one = [&](Side side) {
        bars_.push_back({&member, layout, side, sidedId(member.id, side), shownName(member, role_name, side),
                         std::vector<int>(member.path.size(), -1)});
    };
    if (!member.mirrored) return one(Side::centre);
    one(Side::left);
    one(Side::right);
}

void Resolver::findHosts() {
    for (std::size_t i = 0; i < bars_.size(); ++i) {
        const auto& path = bars_[i].member->path;
        for (std::size_t k = 0; k < path.size(); ++k) {
            if (const auto* landing = std::get_if<Landing>(&path[k].place)) {
                findHost(bars_[i], static_cast<int>(i), static_cast<int>(k), *landing);
            }
        }
    }
}

void Resolver::findHost(Bar& bar, int self, int number, const Landing& landing) {
    const Side wanted = bar.side == Side::right ? otherSide(landing.side) : landing.side;
    const Found found = bar_names_.find(landing.host, bar.side, wanted);
    if (found.index == self) {
        return report(Kind::on_itself, bar, "lands on itself.",
                      "let it land on another member, or give coordinates");
    }
    bar.hosts[static_cast<std::size_t>(number)] = found.index;
    if (found.miss == Found::Miss::unknown) {
        const std::vector<std::string> ids = bar_names_.ids();
        const std::string meant = didYouMean(splitName(landing.host).base, ids);
        report(Kind::no_such_member, bar, "lands on " + landing.host + ", which is not in this cage.",
               meant.empty() ? "name a member of this cage" : "did you mean " + meant + "?");
    } else if (found.miss == Found::Miss::which_side) {
        report(Kind::no_such_member, bar, "lands on " + landing.host + ", of which there are two.",
               "say " + landing.host + ".left or " + landing.host + ".right");
    } else if (found.miss == Found::Miss::not_mirrored) {
        const std::string base(splitName(landing.host).base);
        report(Kind::no_such_member, bar,
               "lands on " + landing.host + ", but " + base + " is one bar, not a pair.",
               "write " + base + ", and its side if it is needed");
    }
}

namespace {

enum class Visit : char { not_yet, on_the_way, done };

struct Step {
    int bar;
    std::size_t next = 0;  ///< which of its points to look at
};

}  // namespace

// Depth first without recursion: a chain of ten thousand landings must not overflow the stack.
std::vector<int> Resolver::landingOrder() {
    std::vector<int> order;
    order.reserve(bars_.size());
    std::vector<Visit> visits(bars_.size(), Visit::not_yet);
    std::vector<Step> way;
    for (std::size_t first = 0; first < bars_.size(); ++first) {
        if (visits[first] != Visit::not_yet) continue;
        way.push_back({static_cast<int>(first)});
        visits[first] = Visit::on_the_way;
        while (!way.empty()) {
            Step& step = way.back();
            const auto at = static_cast<std::size_t>(step.bar);
            if (step.next == bars_[at].hosts.size()) {
                visits[at] = Visit::done;
                order.push_back(step.bar);
                way.pop_back();
                continue;
            }
            const int host = bars_[at].hosts[step.next++];
            if (host < 0) continue;
            Visit& visit = visits[static_cast<std::size_t>(host)];
            if (visit == Visit::on_the_way) {
                std::vector<int> loop;
                const auto start =
                    std::find_if(way.begin(), way.end(), [&](const Step& s) { return s.bar == host; });
                for (auto s = start; s != way.end(); ++s) loop.push_back(s->bar);
                reportLoop(loop);
            } else if (visit == Visit::not_yet) {
                visit = Visit::on_the_way;
                way.push_back({host});
            }
        }
    }
    return order;
}

void Resolver::reportLoop(const std::vector<int>& loop) {
    std::string text;
    for (int bar : loop) {
        bars_[static_cast<std::size_t>(bar)].in_loop = true;
        text += bars_[static_cast<std::size_t>(bar)].id + " lands on ";
    }
    const Bar& first = bars_[static_cast<std::size_t>(loop.front())];
    add({Kind::landing_loop, "Landings go round in a loop: " + text + first.id + ".",
         "give one of them a place of its own, by coordinates or on another member", first.member->id, "",
         Vec3::Zero()});
}

}  // namespace hoopwright::resolving
