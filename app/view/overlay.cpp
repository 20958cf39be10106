#include "app/view/overlay.h"

#include <QPainter>
#include <algorithm>
#include <array>
#include <cmath>

#include "app/view/finding_text.h"
#include "app/view/gap_legend.h"
#include "app/view/rgb.h"
#include "app/view/sight.h"
#include "render/scene.h"

namespace hoopwright {
namespace {

constexpr int kCardRank = 0, kMeasureRank = 1;
constexpr double kEdgeRoom = 8;

QRectF roomOf(const OverlayScene& scene) {
    const double edge = kEdgeRoom * scene.scale;
    return QRectF(QPointF(0, 0), QSizeF(scene.size)).adjusted(edge, edge, -edge, -edge);
}

/// A place on the member that is seen from here, as a fraction of its length: the one it had, or the nearest
/// to the middle that no other bar hides; nothing where all of it is hidden.
std::optional<double> seenFraction(const OverlayScene& scene, int member, const Projection& projection,
                                   double had) {
    const CageGeometry& cage = *scene.cage;
    const QRectF room = roomOf(scene);
    const auto& line = cage.members[static_cast<std::size_t>(member)].line;
    const auto seen = [&](double fraction) {
        const Vec3 point = line.point(fraction * line.length_mm());
        const auto pixel = projection.at(point);
        if (!pixel || !room.contains(*pixel)) return false;
        const auto [from, way] = projection.ray(*pixel);
        if (scene.driver && hiddenByDriver(*scene.driver, from, point)) return false;
        return pick(cage, from, way, 0, scene.look).member == member;
    };
    for (const double fraction : {had, 0.5, 0.4, 0.6, 0.3, 0.7, 0.2, 0.8, 0.12, 0.88})
        if (seen(fraction)) return fraction;
    return std::nullopt;
}

/// Middle, shape on the screen and text of what a finding's shapes measure.
struct Measured {
    Vec3 at;
    std::vector<Vec3> shape;
    std::string text;
};

std::vector<Measured> measuredOn(const std::vector<ShownShape>& shapes, const LengthStyle& style) {
    std::vector<Measured> found;
    for (const auto& shape : shapes) {
        if (const auto* line = std::get_if<ShownLine>(&shape); line && line->dimension)
            found.push_back({0.5 * (line->from + line->to),
                             {line->from, line->to},
                             showLength((line->to - line->from).norm(), style)});
        if (const auto* angle = std::get_if<ShownAngle>(&shape)) {
            const Vec3 a = angle->from - angle->apex, b = angle->to - angle->apex;
            if (a.norm() < 1e-9 || b.norm() < 1e-9) continue;
            const Vec3 between = a.normalized() + b.normalized();
            found.push_back({angle->apex + 0.25 * std::min(a.norm(), b.norm()) * between,
                             {angle->from, angle->apex, angle->to},
                             showAngle(std::atan2(a.cross(b).norm(), a.dot(b)))});
        }
    }
    return found;
}

std::vector<Vec3> linesOf(const ShownShape& shape) {
    if (const auto* line = std::get_if<ShownLine>(&shape)) return {line->from, line->to};
    if (const auto* angle = std::get_if<ShownAngle>(&shape)) return {angle->from, angle->apex, angle->to};
    if (const auto* point = std::get_if<ShownPoint>(&shape)) return {point->at};
    return {};
}

/// A question about the cage as a whole has no place in it: its card stands in a corner of the picture.
bool isOfNoPlace(const Finding& finding) {
    const Evidence& seen = finding.evidence;
    return seen.shapes.empty() && seen.members.empty() && seen.plates.empty() && seen.driver.empty();
}

void paintLeader(QPainter& painter, const Overlay::Shown& label, const Palette& palette, double scale) {
    const QLineF line(label.anchor, label.place.touch);
    // A card of no place points at nothing; a measure stands at its line.
    if (!label.points && (label.block.mark || line.length() < 24 * scale)) return;
    const QColor ink = label.block.mark ? label.block.edge : palette.ink;
    QColor halo = palette.card;
    halo.setAlpha(150);
    if (line.length() > 2) {
        painter.setPen(QPen(halo, 3 * scale, Qt::SolidLine, Qt::FlatCap));
        painter.drawLine(line);
        painter.setPen(QPen(ink, 1.2 * scale));
        painter.drawLine(line);
    }
    painter.setPen(QPen(palette.card, 1.2 * scale));
    painter.setBrush(ink);
    painter.drawEllipse(label.anchor, 3.2 * scale, 3.2 * scale);
}

}  // namespace

std::vector<ViewLabel> barLabels(const CageGeometry& cage, LengthUnit unit,
                                 const std::vector<std::string>& ids) {
    std::vector<ViewLabel> labels;
    for (const auto& member : cage.members) {
        const bool asked = ids.empty() || std::find(ids.begin(), ids.end(), member.id) != ids.end();
        if (!asked || member.line.empty()) continue;
        ViewLabel label;
        label.at = member.line.point(member.line.length_mm() / 2);
        label.thing = member.id;
        label.one_of = ids.empty() ? std::to_string(member.layout) : std::string();
        label.even_hidden = !ids.empty();
        label.text = QString::fromStdString(member.name);
        label.sub_text = QString::fromStdString(tubeText(member.section, unit));
        label.chip = colourOf(placeColour(roleOf(member.role).place));
        labels.push_back(label);
    }
    return labels;
}

struct Overlay::Wanted {
    std::string key, one_of;
    LabelBlock block;
    LabelWish wish;
    double depth = 0, fraction = 0.5;
    bool points = true;
};

/// Turns what the scene shows into wishes for places.
class Overlay::Collector {
public:
    Collector(const OverlayScene& scene, const Projection& projection,
              const std::map<std::string, Kept>& kept)
        : scene_(scene), projection_(projection), kept_(kept), room_(roomOf(scene)) {}

    std::vector<Wanted> run() {
        if (scene_.finding) addFinding(*scene_.finding);
        addMeasures(scene_.finding ? scene_.finding->evidence.shapes : scene_.measures);
        for (const auto& sign : scene_.dimensions)
            if (isDrawn(sign, scene_)) addDimension(sign);
        for (const auto& label : scene_.labels) addLabel(label);
        keepNearestOfEach();
        return std::move(all_);
    }

private:
    void add(Wanted one, const Vec3& at) {
        auto pixel = projection_.at(at);
        const bool card = one.wish.rank == kCardRank;
        if (!pixel && !card) return;
        if (!pixel) pixel = room_.center();
        // A finding is read even while what it is about is out of the picture.
        if (card)
            pixel = one.points ? QPointF(std::clamp(pixel->x(), room_.left(), room_.right() - 1),
                                         std::clamp(pixel->y(), room_.top(), room_.bottom() - 1))
                               : room_.topRight() + QPointF(-1, 1);
        one.wish.anchor = *pixel;
        one.wish.size = one.block.size;
        one.depth = projection_.depth(at);
        if (const auto before = kept_.find(one.key); before != kept_.end()) {
            one.wish.before = before->second.offset;
            one.depth *=
                0.85;  // of a pair, the one already named keeps its name until the other is clearly nearer
        }
        all_.push_back(std::move(one));
    }

    std::vector<Stroke> strokesOf(const std::vector<Vec3>& points, double half_px) const {
        auto strokes = projection_.strokes(points, 0);
        for (auto& stroke : strokes) stroke.half_width = half_px;
        return strokes;
    }

    void addFinding(const Finding& finding) {
        Wanted card;
        card.key = "finding " + finding.table + " " + finding.rule + " " + finding.subject;
        card.block = findingBlock(finding, scene_.lengths, scene_.palette, scene_.scale);
        card.wish.rank = kCardRank;
        for (const auto& shape : finding.evidence.shapes)
            for (auto& stroke : strokesOf(linesOf(shape), 8 * scene_.scale))
                card.wish.things.push_back(std::move(stroke));
        if (scene_.cage)
            for (const auto& id : finding.evidence.members)
                if (const int i = scene_.cage->member(id); i >= 0)
                    for (auto& stroke :
                         projection_.strokes(scene_.cage->members[static_cast<std::size_t>(i)]))
                        card.wish.spared.push_back(std::move(stroke));
        card.points = !isOfNoPlace(finding);
        add(std::move(card), finding.evidence.look_at);
    }

    void addMeasures(const std::vector<ShownShape>& shapes) {
        const auto measures = measuredOn(shapes, scene_.lengths);
        for (std::size_t i = 0; i < measures.size(); ++i) {
            Wanted one;
            one.key = "measure " + std::to_string(i);
            one.block = measureBlock(QString::fromStdString(measures[i].text), scene_.palette, scene_.scale);
            one.wish.rank = kMeasureRank;
            one.wish.things = strokesOf(measures[i].shape, 3 * scene_.scale);
            add(std::move(one), measures[i].at);
        }
    }

    void addDimension(const DimensionSign& sign) {
        Wanted one;
        one.key = "dimension " + sign.id;
        one.block = sign.name.isEmpty()
                        ? measureBlock(dimensionText(sign.read, scene_.lengths), scene_.palette, scene_.scale)
                        : nameBlock(dimensionText(sign.read, scene_.lengths), sign.name, {}, scene_.palette,
                                    scene_.scale);
        if (sign.chosen) {
            one.block.edge = scene_.palette.accent_edge;
            one.block.edge_width = 2;
        }
        one.wish.rank = kMeasureRank;
        for (auto& line : dimensionLines(sign, scene_))
            one.wish.things.push_back({std::move(line), 3 * scene_.scale});
        add(std::move(one), dimensionMiddle(sign));
    }

    void addLabel(const ViewLabel& plain) {
        if (scene_.look && !plain.thing.empty() && !scene_.look->shows(plain.thing)) return;
        ViewLabel label = scene_.gaps ? withGap(plain, scene_) : plain;
        // A chip wears the colour the legend gives its bar.
        const int bar = scene_.cage && !label.thing.empty() ? scene_.cage->member(label.thing) : -1;
        const auto at_bar = static_cast<std::size_t>(bar);
        if (scene_.groups && bar >= 0 && at_bar < scene_.groups->of_member.size())
            label.chip = colourOf(scene_.groups->groupOf(at_bar).paint.colour);
        Wanted one;
        one.key = label.thing.empty() ? label.text.toStdString() : label.thing;
        one.one_of = label.one_of;
        one.block = nameBlock(label.text, label.sub_text, label.chip, scene_.palette, scene_.scale);
        one.wish.rank = std::max(label.rank, kMeasureRank + 1);
        const bool names_a_thing = scene_.cage && !label.thing.empty();
        const auto at = names_a_thing ? pointAtThing(label, one) : std::optional(label.at);
        if (at) add(std::move(one), *at);
    }

    std::optional<Vec3> pointAtThing(const ViewLabel& label, Wanted& one) const {
        const auto& cage = *scene_.cage;
        if (const int member = cage.member(label.thing); member >= 0) {
            const auto& bar = cage.members[static_cast<std::size_t>(member)];
            if (const auto before = kept_.find(one.key); before != kept_.end())
                one.fraction = before->second.fraction;
            if (!scene_.moving) {
                const auto seen = seenFraction(scene_, member, projection_, one.fraction);
                if (!seen && !label.even_hidden) return std::nullopt;
                one.fraction = seen.value_or(one.fraction);
            }
            one.wish.things = projection_.strokes(bar);
            return bar.line.point(one.fraction * bar.line.length_mm());
        }
        if (const int plate = cage.plate(label.thing); plate >= 0)
            one.wish.things = projection_.strokes(cage.plates[static_cast<std::size_t>(plate)]);
        return label.at;
    }

    void keepNearestOfEach() {
        std::map<std::string, double> nearest;
        for (const auto& one : all_) {
            const auto [at, fresh] = nearest.try_emplace(one.one_of, one.depth);
            if (!fresh) at->second = std::min(at->second, one.depth);
        }
        std::erase_if(
            all_, [&](const Wanted& one) { return !one.one_of.empty() && one.depth > nearest[one.one_of]; });
    }

    const OverlayScene& scene_;
    const Projection& projection_;
    const std::map<std::string, Kept>& kept_;
    const QRectF room_;
    std::vector<Wanted> all_;
};

void Overlay::arrange(const OverlayScene& scene) {
    const Projection projection(scene.view, scene.size);
    const std::vector<Wanted> all = Collector(scene, projection, kept_).run();
    LabelRoom room;
    room.view = roomOf(scene);
    room.taken = scene.taken;
    for (const auto& sign : signPlaces(scene)) room.taken.push_back(sign);
    room.gap = 4 * scene.scale;
    room.middle = room.view.center();
    room.hold = scene.moving;
    if (scene.cage)
        for (const auto& member : scene.cage->members)
            if (!scene.look || scene.look->shows(member.id))
                for (auto& stroke : projection.strokes(member)) room.busy.push_back(std::move(stroke));
    std::vector<LabelWish> wishes;
    for (const auto& one : all) wishes.push_back(one.wish);
    const auto places = layOutLabels(wishes, room);
    shown_.clear();
    std::map<std::string, Kept> kept;
    for (std::size_t i = 0; i < all.size(); ++i) {
        const QPointF anchor = wishes[i].anchor;
        if (places[i].shown)
            shown_.push_back({all[i].key, anchor, places[i], all[i].block,
                              all[i].points && wishes[i].rank != kMeasureRank});
        if (places[i].shown) kept[all[i].key] = {places[i].box.center() - anchor, all[i].fraction};
    }
    kept_ = std::move(kept);
}

void Overlay::paint(QPainter& painter, const OverlayScene& scene) const {
    painter.save();
    painter.setRenderHint(QPainter::Antialiasing);
    paintBand(painter, scene);
    paintDimensions(painter, scene);
    paintSectionFrame(painter, scene);  // words lie over it
    for (const auto& label : shown_) paintLeader(painter, label, scene.palette, scene.scale);
    for (const auto& label : shown_)
        paintBlock(painter, label.block, label.place.box.topLeft(), scene.palette);
    painter.restore();
    paintAxes(painter, scene);
    paintScaleBar(painter, scene);
    paintGapLegend(painter, scene);
    paintGroupLegend(painter, scene);
    paintSectionHandle(painter, scene);
    paintPrompt(painter, scene);
}

}  // namespace hoopwright
