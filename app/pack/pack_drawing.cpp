#include "app/pack/pack_drawing.h"

#include <algorithm>
#include <cmath>

namespace hoopwright {
namespace {

constexpr double kLine_mm = 0.22, kEdgeLine_mm = 0.16, kDimension_mm = 0.13, kDisc_mm = 2.0;
const QColor kInkColour(0x1C, 0x20, 0x24), kSoftInk(0x55, 0x5B, 0x63), kPaperWhite(0xFF, 0xFF, 0xFF);
const QColor kSpotColour(0xB3, 0x26, 0x1E), kPlateLine(0x3D, 0x44, 0x4B);

/// A white ground under words, so that lines behind do not run through them.
void ground(PackPages& pages, const Vec2& middle, double wide, double high) {
    const Vec2 half(wide / 2, high / 2);
    pages.ink({{middle - half, middle + Vec2(half.x(), -half.y()), middle + half,
                middle + Vec2(-half.x(), half.y())},
               0,
               {},
               true,
               kPaperWhite});
}

}  // namespace

const std::vector<CageLine>& PackDrawer::lines(const LineView& view) {
    const auto kept = lines_.find(view.name);
    if (kept != lines_.end()) return kept->second;
    return lines_.emplace(view.name, lineDrawing(*pack_.cage, view)).first->second;
}

const Occluders& PackDrawer::metal(const LineView& view) {
    std::unique_ptr<Occluders>& kept = metal_[view.name];
    if (!kept) kept = std::make_unique<Occluders>(*pack_.cage, view);
    return *kept;
}

PlacedView PackDrawer::placed(const LineView& view) {
    PlacedView out;
    out.view = view;
    out.low = Vec2::Constant(1e300);
    out.high = Vec2::Constant(-1e300);
    for (const CageLine& line : lines(view)) {
        for (const Vec3& p : line.points) {
            out.low = out.low.cwiseMin(view.flat(p));
            out.high = out.high.cwiseMax(view.flat(p));
        }
    }
    if (out.low.x() > out.high.x()) out.low = out.high = Vec2::Zero();
    return out;
}

void PackDrawer::cage(PackPages& pages, const PlacedView& at) {
    for (const CageLine& line : lines(at.view)) {
        if (line.hidden) continue;
        InkPath path;
        for (const Vec3& p : line.points) path.points.push_back(at.on(p));
        path.width_mm = line.kind == CageLine::Kind::outline ? kLine_mm : kEdgeLine_mm;
        path.colour = line.of == CageLine::Of::tube ? kInkColour : kPlateLine;
        pages.ink(std::move(path));
    }
}

std::vector<Vec3> PackDrawer::seenMiddles(const PlacedView& at, int member, double& share) {
    const ResolvedMember& m = pack_.cage->members[static_cast<std::size_t>(member)];
    const Vec3 towards = at.view.towards();
    constexpr double kEvery_mm = 25;
    const int steps = std::max(4, static_cast<int>(m.line.length_mm() / kEvery_mm));
    std::vector<Vec3> out;
    for (int i = 1; i < steps; ++i) {
        const double station = m.line.length_mm() * i / steps;
        const Vec3 p = m.line.point(station);
        // Over its own metal, which is the deeper the more it runs at whoever looks.
        const double slope = m.line.tangent(station).cross(towards).norm();
        if (slope > 0.1 && !metal(at.view).hides(p + towards * (m.radius_mm() / slope + 2))) out.push_back(p);
    }
    share = static_cast<double>(out.size()) / std::max(1, steps - 1);
    return out;
}

void PackDrawer::numbers(PackPages& pages, const PlacedView& at, bool all) {
    constexpr double kWell = 0.45;
    struct Candidate {
        int member;
        std::vector<Vec3> places;
    };
    std::vector<Candidate> bars;
    for (std::size_t m = 0; m < pack_.cage->members.size(); ++m) {
        double share = 0;
        std::vector<Vec3> places = seenMiddles(at, static_cast<int>(m), share);
        if (!places.empty() && (all || share >= kWell))
            bars.push_back({static_cast<int>(m), std::move(places)});
    }
    // Those with the least choice first.
    std::ranges::stable_sort(bars, {}, [](const Candidate& one) { return one.places.size(); });
    std::vector<Vec2> taken;
    for (const Candidate& bar : bars) {
        const Vec3* best = nullptr;
        double most = -1e300;
        for (std::size_t i = 0; i < bar.places.size(); ++i) {
            const Vec2 p = at.on(bar.places[i]);
            double room = 14;
            for (const Vec2& other : taken) room = std::min(room, (p - other).norm());
            const double off =
                std::abs(static_cast<double>(i) - static_cast<double>(bar.places.size() - 1) / 2) /
                static_cast<double>(bar.places.size());
            const double score = (room < 2 * kDisc_mm + 0.6 ? -100 : 0) + room - 6 * off;
            if (score > most) most = score, best = &bar.places[i];
        }
        if (most < -50 && (!all || numbered(bar.member))) continue;  // no room: another view has it
        const Vec2 p = at.on(*best);
        taken.push_back(p);
        pages.disc(p, kDisc_mm, 0.18, kInkColour, kPaperWhite);
        pages.sheet().text(p + Vec2(0, 0.86), std::to_string(bar.member + 1), 6.6, DrawnText::Align::centre,
                           true);
        numbered_[bar.member] = true;
    }
}

void PackDrawer::plateNumbers(PackPages& pages, const PlacedView& at) {
    for (const PackPlate& plate : pack_.plates) {
        if (plates_numbered_.contains(plate.plate)) continue;
        const ResolvedPlate& p = pack_.cage->plates[static_cast<std::size_t>(plate.plate)];
        for (const Vec2& corner : p.outline) {
            // A corner is seldom under the tube; just inside it, over the face.
            const Vec3 place = p.at + p.axes * Vec3(0.8 * corner.x(), 0.8 * corner.y(), 0.5);
            if (p.axes.col(2).dot(at.view.towards()) < 0.1 || metal(at.view).hides(place)) continue;
            const Vec2 mid = at.on(p.at), out = at.on(p.at + p.axes * Vec3(corner.x(), corner.y(), 0));
            const Vec2 way = (out - mid).norm() > 1e-6 ? Vec2((out - mid).normalized()) : Vec2(0, 1);
            const Vec2 words = out + 2.6 * way;
            pages.ink({{out, out + 1.2 * way}, kDimension_mm, kSoftInk});
            ground(pages, words, 4.2, 2.6);
            pages.sheet().text(words + Vec2(0, 0.8), plate.number, 6, DrawnText::Align::centre, true, true);
            plates_numbered_[plate.plate] = true;
            break;
        }
    }
}

void PackDrawer::spots(PackPages& pages, const std::vector<PlacedView>& views, std::size_t which) {
    struct Taken {
        Vec2 middle, half;
    };
    std::vector<Taken> taken;
    const PlacedView& at = views[which];
    std::vector<const PackSpot*> here;
    for (const PackSpot& spot : pack_.spots) {
        // Where it is seen; of two such views, where it faces whoever looks.
        std::size_t best = 0;
        double most = -1e300;
        for (std::size_t v = 0; v < views.size(); ++v) {
            const double score = spot.out.dot(views[v].view.towards()) -
                                 (metal(views[v].view).hides(spot.at + 0.5 * spot.out) ? 10 : 0);
            if (score > most) most = score, best = v;
        }
        if (best == which) here.push_back(&spot);
    }
    for (const PackSpot* spot : here) taken.push_back({at.on(spot->at), Vec2(0.8, 0.8)});
    for (const PackSpot* spot : here) {
        const Vec2 p = at.on(spot->at);
        const Vec2 out = at.on(spot->at + 20 * spot->out) - p;
        const double own = out.norm() > 1e-6 ? std::atan2(out.y(), out.x()) : -1.57;
        const Vec2 half(wordsWidth_mm(spot->number, 6) / 2 + 0.35, 1.15);
        Vec2 best = p;
        double least = 1e300;
        for (const double far : {3.0, 4.6, 6.4, 8.4}) {
            for (int turn = 0; turn < 16; ++turn) {
                const double a = own + (turn % 2 ? 1 : -1) * ((turn + 1) / 2) * 3.14159265358979 / 8;
                const Vec2 middle = p + far * Vec2(std::cos(a), std::sin(a));
                double cost = far + 0.12 * turn;
                for (const Taken& other : taken) {
                    const Vec2 gap = (middle - other.middle).cwiseAbs() - half - other.half;
                    if (gap.x() < 0 && gap.y() < 0) cost += 20;
                }
                if (cost < least) least = cost, best = middle;
            }
        }
        taken.push_back({best, half});
        pages.ink({{p, best}, kDimension_mm, kSpotColour});
        ground(pages, best, 2 * half.x(), 2 * half.y());
        pages.disc(p, 0.62, 0, {}, kSpotColour);
        pages.sheet().text(best + Vec2(0, 0.76), spot->number, 6, DrawnText::Align::centre, true);
    }
}

void PackDrawer::overall(PackPages& pages, const PlacedView& at, bool upright, double off_mm,
                         const std::string& words) {
    const Vec2 size = at.size_mm();
    const Vec2 from =
        upright ? at.corner + Vec2(size.x() + off_mm, 0) : at.corner + Vec2(0, size.y() + off_mm);
    const Vec2 to = upright ? Vec2(from + Vec2(0, size.y())) : Vec2(from + Vec2(size.x(), 0));
    const Vec2 way = (to - from).normalized(), tick(0.9, -0.9);
    const Vec2 back = upright ? Vec2(-1, 0) : Vec2(0, -1);
    pages.ink({{from, to}, kDimension_mm, kSoftInk});
    for (const Vec2& end : {from, to}) {
        pages.ink({{Vec2(end - tick), Vec2(end + tick)}, 0.25, kSoftInk});
        pages.ink({{Vec2(end - back * 1.2), Vec2(end + back * (off_mm - 1))}, 0.08, kSoftInk});
    }
    const Vec2 middle = from + way * ((to - from).norm() / 2);
    ground(pages, middle, wordsWidth_mm(words, 7.5) + 1.6, 3.2);
    pages.sheet().text(middle + Vec2(0, 0.95), words, 7.5, DrawnText::Align::centre);
}

void PackDrawer::pinned(PackPages& pages, const PlacedView& at, const Vec3& from, const Vec3& to,
                        const std::string& words) {
    const Vec2 a = at.on(from), b = at.on(to);
    pages.ink({{a, b}, 0.18, kSpotColour});
    for (const Vec2& end : {a, b}) pages.disc(end, 0.55, 0, {}, kSpotColour);
    const Vec2 middle = (a + b) / 2;
    ground(pages, middle, wordsWidth_mm(words, 6.5) + 1.2, 2.8);
    pages.sheet().text(middle + Vec2(0, 0.82), words, 6.5, DrawnText::Align::centre, true);
}

}  // namespace hoopwright
