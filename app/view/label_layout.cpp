#include "app/view/label_layout.h"

#include <algorithm>
#include <array>
#include <cmath>
#include <limits>
#include <numeric>

#include "app/view/busy_map.h"

namespace hoopwright {
namespace {

// Costs are pixels of leader a label would rather spend than suffer the thing.
constexpr double kFullyOverBars = 150, kOverSpared = 240, kLeaderOverLeader = 70, kLeaderOverBox = 160,
                 kOverAnAnchor = 70;
constexpr double kOnTheInside = 36, kMoved = 130;
constexpr double kNever = std::numeric_limits<double>::infinity();

double cross(const QPointF& a, const QPointF& b) {
    return a.x() * b.y() - a.y() * b.x();
}

bool segmentsCross(const QPointF& a, const QPointF& b, const QPointF& c, const QPointF& d) {
    const double c_side = cross(b - a, c - a), d_side = cross(b - a, d - a);
    const double a_side = cross(d - c, a - c), b_side = cross(d - c, b - c);
    return c_side * d_side < 0 && a_side * b_side < 0;
}

bool segmentMeetsBox(const QPointF& a, const QPointF& b, const QRectF& box) {
    if (box.contains(a) || box.contains(b)) return true;
    if (std::max(a.x(), b.x()) < box.left() || std::min(a.x(), b.x()) > box.right()) return false;
    if (std::max(a.y(), b.y()) < box.top() || std::min(a.y(), b.y()) > box.bottom()) return false;
    return segmentsCross(a, b, box.topLeft(), box.bottomRight()) ||
           segmentsCross(a, b, box.topRight(), box.bottomLeft());
}

QPointF nearestOf(const QRectF& box, const QPointF& p) {
    return {std::clamp(p.x(), box.left(), box.right()), std::clamp(p.y(), box.top(), box.bottom())};
}

double lengthOf(const QPointF& v) {
    return std::hypot(v.x(), v.y());
}

QRectF boxAt(const QPointF& middle, const QSizeF& size) {
    return {middle.x() - size.width() / 2, middle.y() - size.height() / 2, size.width(), size.height()};
}

class Layout {
public:
    Layout(const std::vector<LabelWish>& wishes, const LabelRoom& room)
        : wishes_(wishes), room_(room), busy_(room.view, room.busy), places_(wishes.size()) {}

    std::vector<LabelPlace> run() {
        std::vector<std::size_t> order(wishes_.size());
        std::iota(order.begin(), order.end(), 0);
        std::stable_sort(order.begin(), order.end(),
                         [&](auto a, auto b) { return wishes_[a].rank < wishes_[b].rank; });
        for (const auto i : order) place(i, 0);
        // A second look: early choosers may now see that another side leaves the later ones better off.
        if (!room_.hold)
            for (const auto i : order) place(i, 12);
        return std::move(places_);
    }

private:
    void place(std::size_t i, double worth_moving_for) {
        const auto& wish = wishes_[i];
        if (!room_.view.contains(wish.anchor)) return;
        const LabelPlace now = places_[i];
        places_[i].shown = false;
        QRectF best;
        double best_cost = kNever;
        const auto consider = [&](const QPointF& middle) {
            const QRectF box = boxAt(middle, wish.size);
            const double cost = costOf(i, box, best_cost);
            if (cost < best_cost) best_cost = cost, best = box;
        };
        if (wish.before) consider(wish.anchor + *wish.before);
        if (room_.hold && best_cost < kNever) {
            places_[i] = {true, best, nearestOf(best, wish.anchor)};
            return;
        }
        ringCandidates(wish, consider);
        if (best_cost == kNever) gridCandidates(wish, consider);
        if (now.shown) {
            const double cost = costOf(i, now.box, kNever);
            if (cost <= best_cost + worth_moving_for) best_cost = cost, best = now.box;
        }
        if (best_cost < kNever) places_[i] = {true, best, nearestOf(best, wish.anchor)};
    }

    template <class Consider>
    void ringCandidates(const LabelWish& wish, const Consider& consider) const {
        constexpr int kDirections = 20;
        for (const double reach : {10.0, 22.0, 38.0, 60.0, 90.0, 130.0, 180.0})
            for (int d = 0; d < kDirections; ++d) {
                const double angle = 2 * 3.14159265358979 * d / kDirections;
                const QPointF way(std::cos(angle), std::sin(angle));
                // Out to where the box clears the anchor by `reach` in that direction.
                const double half_x = wish.size.width() / 2 + reach, half_y = wish.size.height() / 2 + reach;
                const double t = std::min(half_x / std::max(1e-9, std::abs(way.x())),
                                          half_y / std::max(1e-9, std::abs(way.y())));
                consider(wish.anchor + way * t);
            }
    }

    template <class Consider>
    void gridCandidates(const LabelWish& wish, const Consider& consider) const {
        const double step_x = std::max(16.0, wish.size.width() / 3),
                     step_y = std::max(12.0, wish.size.height() / 1.5);
        for (double y = room_.view.top() + wish.size.height() / 2; y < room_.view.bottom(); y += step_y)
            for (double x = room_.view.left() + wish.size.width() / 2; x < room_.view.right(); x += step_x)
                consider({x, y});
    }

    bool allowed(std::size_t i, const QRectF& box) const {
        if (!room_.view.contains(box)) return false;
        const double g = room_.gap;
        const QRectF wide = box.adjusted(-g, -g, g, g);
        for (const auto& taken : room_.taken)
            if (wide.intersects(taken)) return false;
        for (std::size_t j = 0; j < places_.size(); ++j)
            if (j != i && places_[j].shown && wide.intersects(places_[j].box)) return false;
        return std::none_of(wishes_[i].things.begin(), wishes_[i].things.end(),
                            [&](const Stroke& thing) { return comesNear(thing, box, g); });
    }

    double costOf(std::size_t i, const QRectF& box, double give_up_at) const {
        const auto& wish = wishes_[i];
        const QPointF touch = nearestOf(box, wish.anchor), away = box.center() - wish.anchor;
        double cost = lengthOf(touch - wish.anchor);
        if (wish.before) {
            const double moved = lengthOf(away - *wish.before);
            cost += moved < 0.5 ? 0 : kMoved + 0.2 * moved;
        }
        const QPointF out = wish.anchor - room_.middle;
        const double both = lengthOf(out) * lengthOf(away);
        if (both > 1e-9) cost += kOnTheInside * 0.5 * (1 - QPointF::dotProduct(out, away) / both);
        if (cost >= give_up_at) return kNever;
        if (!allowed(i, box)) return kNever;
        cost += kFullyOverBars * busy_.share(box);
        for (const auto& spared : wish.spared)
            if (comesNear(spared, box, room_.gap)) cost += kOverSpared;
        return cost + costAmongOthers(i, box, touch);
    }

    double costAmongOthers(std::size_t i, const QRectF& box, const QPointF& touch) const {
        const QPointF anchor = wishes_[i].anchor;
        double cost = 0;
        for (std::size_t j = 0; j < wishes_.size(); ++j) {
            if (j == i) continue;
            if (box.contains(wishes_[j].anchor)) cost += kOverAnAnchor;
            if (!places_[j].shown) continue;
            if (segmentsCross(anchor, touch, wishes_[j].anchor, places_[j].touch)) cost += kLeaderOverLeader;
            if (segmentMeetsBox(anchor, touch, places_[j].box)) cost += kLeaderOverBox;
            if (segmentMeetsBox(wishes_[j].anchor, places_[j].touch, box)) cost += kLeaderOverBox;
        }
        return cost;
    }

    const std::vector<LabelWish>& wishes_;
    const LabelRoom& room_;
    BusyMap busy_;
    std::vector<LabelPlace> places_;
};

}  // namespace

bool comesNear(const Stroke& stroke, const QRectF& box, double gap) {
    const double reach = stroke.half_width + gap;
    const QRectF wide = box.adjusted(-reach, -reach, reach, reach);
    for (std::size_t i = 0; i + 1 < stroke.points.size(); ++i)
        if (segmentMeetsBox(stroke.points[i], stroke.points[i + 1], wide)) return true;
    return stroke.points.size() == 1 && wide.contains(stroke.points.front());
}

std::vector<LabelPlace> layOutLabels(const std::vector<LabelWish>& wishes, const LabelRoom& room) {
    return Layout(wishes, room).run();
}

}  // namespace hoopwright
