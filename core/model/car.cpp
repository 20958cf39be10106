#include "core/model/car.h"

#include <algorithm>

namespace hoopwright {

namespace {

template <class T>
const T* byName(const std::vector<T>& all, std::string_view name) {
    const auto it = std::find_if(all.begin(), all.end(), [&](const T& one) { return one.name == name; });
    return it == all.end() ? nullptr : &*it;
}

constexpr std::string_view kLeft = ".left", kRight = ".right";

}  // namespace

const CarPoint* Car::point(std::string_view called) const {
    return byName(points, called);
}

const CarLine* Car::line(std::string_view called) const {
    return byName(lines, called);
}

const FrameRail* Car::rail(std::string_view called) const {
    return byName(rails, called);
}

std::optional<Vec3> Car::pointAt(std::string_view called) const {
    if (const CarPoint* measured = point(called)) return measured->at;
    const std::string other = otherSide(called);
    if (other == called || !symmetric) return std::nullopt;
    if (const CarPoint* measured = point(other)) return mirrored(measured->at);
    return std::nullopt;
}

bool Car::standsForBoth(const CarLine& one) const {
    return symmetric && one.name.ends_with(kLeft) && !line(otherSide(one.name));
}

std::string_view bodyWord(Car::Body body) {
    switch (body) {
        case Car::Body::hatchback:
            return "hatchback";
        case Car::Body::open:
            return "open";
        case Car::Body::pickup:
            return "pickup";
        case Car::Body::van:
            return "van";
        case Car::Body::saloon:
            break;
    }
    return "saloon";
}

bool Car::isOfFrame(const FrameRail& one) const {
    if (!bodyLiftsOff()) return false;
    if (one.of != FrameRail::Of::by_name) return one.of == FrameRail::Of::frame;
    return !one.name.starts_with("sill") && !one.name.starts_with("rocker");
}

std::string_view frameWord(Car::Frame frame) {
    switch (frame) {
        case Car::Frame::ladder:
            return "ladder";
        case Car::Frame::perimeter:
            return "perimeter";
        case Car::Frame::unibody:
            break;
    }
    return "unibody";
}

std::string otherSide(std::string_view name) {
    if (name.ends_with(kLeft)) return std::string(name.substr(0, name.size() - kLeft.size())).append(kRight);
    if (name.ends_with(kRight)) return std::string(name.substr(0, name.size() - kRight.size())).append(kLeft);
    return std::string(name);
}

}  // namespace hoopwright
