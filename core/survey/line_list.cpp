#include "core/survey/line_list.h"

#include <algorithm>

namespace hoopwright {
namespace {

using WantedKind = WantedLine::Kind;

/// A body shell has at least this many cross-sections before its skin means anything.
constexpr std::size_t kLeastStations = 3;

bool hasRoof(Car::Body body) {
    return body != Car::Body::open;
}

void addFrame(std::vector<WantedLine>& out, Car::Frame frame) {
    if (frame == Car::Frame::unibody) {
        out.push_back(
            {"sill", true, WantedKind::rail, "Sill sections", "what a foot on the sill is welded to"});
        out.push_back(
            {"front_leg", true, WantedKind::rail, "Front chassis legs", "where the front returns end"});
        out.push_back({"rear_leg", true, WantedKind::rail, "Rear chassis legs", "where the rear braces end"});
        return;
    }
    out.push_back(
        {"frame", true, WantedKind::rail, "Frame rails with their section", "what every foot stands on"});
}

bool has(const Car& car, const WantedLine& wanted, const std::string& name) {
    return wanted.kind == WantedKind::rail ? car.rail(name) != nullptr : car.line(name) != nullptr;
}

LineState stateOf(const Car& car, const WantedLine& wanted) {
    LineState out;
    out.wanted = wanted;
    using State = LineState::State;
    if (wanted.kind == WantedKind::skin) {
        out.state = car.shell.size() >= kLeastStations ? State::there : State::missing;
        return out;
    }
    if (has(car, wanted, wanted.name)) {
        out.state = State::there;
        return out;
    }
    if (!wanted.sided) return out;
    const bool left = has(car, wanted, wanted.name + ".left"),
               right = has(car, wanted, wanted.name + ".right");
    if (left && right) {
        out.state = State::there;
    } else if (left || right) {
        // A line drawn for both is always the left one, see Car::standsForBoth; a rail is never.
        const bool both = left && wanted.kind == WantedKind::line && car.symmetric;
        out.state = both ? State::stands_for_both : State::one_side;
        if (!both) out.missing_side = left ? "right" : "left";
    }
    return out;
}

}  // namespace

std::vector<WantedLine> wantedLines(Car::Body body, Car::Frame frame) {
    std::vector<WantedLine> out;
    if (hasRoof(body)) {
        out.push_back({"roof_skin", false, WantedKind::skin, "Roof and body skin, as cross-sections",
                       "the gap of every bar to the skin"});
        out.push_back(
            {"roof_rail", true, WantedKind::line, "Roof rails", "how far out the hoops and side bars go"});
    }
    out.push_back(
        {"windshield", false, WantedKind::line, "Windshield outline", "bars that may not cross the view"});
    out.push_back({"a_pillar", true, WantedKind::line, "A-pillars", "the front legs run along them"});
    if (hasRoof(body))
        out.push_back({"b_pillar", true, WantedKind::line, "B-pillars", "the main hoop stands at them"});
    out.push_back(
        {"door_opening", true, WantedKind::line, "Door openings", "getting in and out past the door bars"});
    out.push_back({"sill", true, WantedKind::line, "Sills", "feet, and the datum of every height"});
    out.push_back({"floor", false, WantedKind::line, "Floor", "seat and feet"});
    if (body != Car::Body::van)
        out.push_back({"tunnel", true, WantedKind::line, "Tunnel", "what the seat and the harness clear"});
    out.push_back({"firewall", false, WantedKind::line, "Firewall", "how far forward a bar may go"});
    out.push_back(
        {"dash", false, WantedKind::line, "Dash line", "whether the dash bar lies behind or through it"});
    if (body == Car::Body::pickup) {
        out.push_back(
            {"cab_corner", true, WantedKind::line, "Rear corners of the cab", "the hoop stands before them"});
        out.push_back(
            {"bed_floor", false, WantedKind::line, "Floor of the bed", "where braces come through"});
    }
    out.push_back(
        {"wheel_tub", true, WantedKind::line, "Rear wheel tubs", "the braces pass over or land on them"});
    if (body == Car::Body::saloon)
        out.push_back(
            {"parcel_shelf", false, WantedKind::line, "Parcel shelf", "where the braces come through it"});
    if (body == Car::Body::hatchback || body == Car::Body::van) {
        out.push_back({"tailgate_opening", false, WantedKind::line, "Rear opening",
                       "braces stay clear of the door in it"});
    }
    if (body == Car::Body::open)
        out.push_back(
            {"rear_deck", false, WantedKind::line, "Rear deck or hood well", "where the hoop comes through"});
    addFrame(out, frame);
    return out;
}

std::vector<LineState> lineStates(const Car& car) {
    std::vector<LineState> out;
    for (const WantedLine& wanted : wantedLines(car.body, car.frame)) out.push_back(stateOf(car, wanted));
    return out;
}

std::string stateWords(const LineState& state) {
    switch (state.state) {
        case LineState::State::there:
            return "there";
        case LineState::State::stands_for_both:
            return "left stands for both";
        case LineState::State::one_side:
            return state.missing_side + " is missing";
        case LineState::State::missing:
            break;
    }
    return "missing";
}

}  // namespace hoopwright
