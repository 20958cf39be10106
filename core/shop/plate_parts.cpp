#include "core/shop/plate_parts.h"

#include <algorithm>
#include <array>
#include <cmath>
#include <numbers>
#include <tuple>

#include "core/base/text.h"
#include "core/model/bolt_places.h"
#include "core/model/sheet_shape.h"
#include "core/shop/plate_flats.h"

namespace hoopwright {
namespace {

constexpr double kSteel = 7850, kKg_per_mm3_of = 1e-9;  // kg/m3
constexpr double kWasher = 1.05;  // of the bolt's diameter: half a washer of ISO 7089 (from memory)
constexpr double kSamePoint_mm = 0.01;

/// What tells a flat from another: points with what they are.
struct FlatMark {
    Vec2 at = Vec2::Zero();
    double is = 0;
};
std::vector<FlatMark> marksOf(const PlatePart& part) {
    std::vector<FlatMark> out;
    const Vec2 middle = part.size_mm() / 2;
    for (const Vec2& p : part.outline) out.push_back({p - middle, 0});
    for (const PartHole& hole : part.holes) out.push_back({hole.at - middle, 1000 + hole.diameter_mm});
    for (const PartFold& fold : part.folds) {
        const double is = (fold.towards ? 1e4 : -1e4) + fold.angle_rad;
        out.push_back({fold.from - middle, is});
        out.push_back({fold.to - middle, is});
    }
    return out;
}

/// The part is the other one turned by quarter turns; or its mirror image is.
bool sameFlat(const PlatePart& part, const PlatePart& other, bool mirror_image) {
    const std::vector<FlatMark> one = marksOf(part), two = marksOf(other);
    if (one.size() != two.size() || part.outline.empty()) return false;
    for (int turn = 0; turn < 4; ++turn) {
        const auto turned = [&](Vec2 p) {
            if (mirror_image) p.x() = -p.x();
            for (int i = 0; i < turn; ++i) p = Vec2(-p.y(), p.x());
            return p;
        };
        std::vector<bool> used(two.size());
        const bool all = std::ranges::all_of(one, [&](const FlatMark& mark) {
            for (std::size_t k = 0; k < two.size(); ++k) {
                if (used[k] || std::abs(two[k].is - mark.is) > 1e-6 ||
                    (two[k].at - turned(mark.at)).norm() > kSamePoint_mm)
                    continue;
                used[k] = true;
                return true;
            }
            return false;
        });
        if (all) return true;
    }
    return false;
}

/// What of a polygon is on the left of a line through `on` along `way`.
std::vector<Vec2> leftOf(const std::vector<Vec2>& polygon, const Vec2& on, const Vec2& way) {
    std::vector<Vec2> out;
    const auto side = [&](const Vec2& p) { return way.x() * (p.y() - on.y()) - way.y() * (p.x() - on.x()); };
    for (std::size_t i = 0; i < polygon.size(); ++i) {
        const Vec2 &a = polygon[i], &b = polygon[(i + 1) % polygon.size()];
        const double sa = side(a), sb = side(b);
        if (sa >= 0) out.push_back(a);
        if ((sa >= 0) != (sb >= 0)) out.emplace_back(a + sa / (sa - sb) * (b - a));
    }
    return out;
}

class PartLister {
public:
    PartLister(const Job& job, const CageGeometry& cage, std::span<const CopeSheet> copes)
        : job_(job), cage_(cage), copes_(copes), with_{job.shop ? &*job.shop : nullptr, job.cage.unit} {}

    std::vector<PlatePart> list() {
        for (std::size_t i = 0; i < job_.cage.plates.size(); ++i) addPlate(static_cast<int>(i));
        for (std::size_t i = 0; i < job_.cage.gussets.size(); ++i) addGusset(static_cast<int>(i));
        return std::move(parts_);
    }

private:
    std::string length(double mm) const { return showLength(mm, {with_.unit}); }

    void addPlate(int layout) {
        const Plate& said = job_.cage.plates[static_cast<std::size_t>(layout)];
        std::vector<const ResolvedPlate*> made;
        for (const ResolvedPlate& plate : cage_.plates)
            if (plate.layout == layout) made.push_back(&plate);
        if (made.empty()) return;
        // In the left-hand or single plate's own axes.
        std::vector<Vec2> outline = made.front()->outline;
        if (made.front()->side == Side::right) {
            for (Vec2& p : outline) p.y() = -p.y();
            std::ranges::reverse(outline);
        }
        std::string name = made.front()->name;
        if (made.front()->side != Side::centre) name.resize(name.rfind(", "));
        const auto begin = [&](PlatePart::Kind kind, const std::string& tail, double thickness_mm) {
            PlatePart part;
            part.kind = kind;
            part.id = said.id + (tail.empty() ? "" : "." + tail);
            part.name = name + (tail.empty() ? "" : ", " + (tail == "backing" ? "backing plate" : tail));
            for (const ResolvedPlate* plate : made) part.of.push_back(plate->id);
            part.thickness_mm = thickness_mm;
            part.material = said.material;
            return part;
        };
        const Expected<std::vector<Vec2>> bolts =
            boltPlaces(outline, said.fixing == Fixing::bolted ? said.bolts : Bolts{}, with_.unit);

        PlatePart foot = begin(PlatePart::Kind::foot, "", said.thickness_mm);
        Plate laid = said;
        if (flapTrouble(said)) laid.flaps.clear();
        layFoot(foot, laid, outline, with_);
        if (said.fixing == Fixing::bolted && !said.riser) foot.weld_mm = 0;
        if (said.riser) foot.weld_mm = 0;  // the riser's sheet has it
        if (foot.trouble.empty()) {
            drill(foot, said, bolts);
            for (const ResolvedPlate* plate : made) lookAtBolts(foot, said, *plate, bolts);
            lookAtFolds(foot, said);
        }
        for (const ResolvedPlate* plate : made) {
            for (PlateSupport& support : supportsOf(*plate)) foot.supports.push_back(std::move(support));
            for (const auto& [member, end] : plate->feet)
                foot.feet.push_back({member, end, weldOf(member, end)});
        }
        finish(foot);

        if (said.backing) {
            PlatePart back = begin(PlatePart::Kind::backing, "backing", said.backing->thickness_mm);
            const double u = said.backing->length_mm / 2, v = said.backing->width_mm / 2;
            back.outline = {{-u, -v}, {u, -v}, {u, v}, {-u, v}};
            back.planes.push_back({"face", 4 * u * v});
            if (u > 0 && v > 0 && said.backing->thickness_mm > 0) {
                if (said.fixing == Fixing::welded) back.weld_mm = 4 * (u + v);
                drill(back, said, bolts);
            } else {
                back.outline.clear();
                back.trouble = "The backing plate has no size.";
            }
            finish(back);
        }
        if (said.riser && said.riser->height_mm > 0 && said.riser->wall_mm > 0) {
            PlatePart riser = begin(PlatePart::Kind::riser, "riser", said.riser->wall_mm);
            layRiser(riser, *said.riser, outline, with_);
            finish(riser);
        }
    }

    /// Holes for the bolts, or why there are none.
    void drill(PlatePart& part, const Plate& said, const Expected<std::vector<Vec2>>& bolts) const {
        if (!bolts) {
            part.cautions.push_back("No bolt holes: " + bolts.reason());
            return;
        }
        const std::optional<double> hole = clearanceHole_mm(said.bolts.diameter_mm);
        for (const Vec2& at : *bolts) part.holes.push_back({at, hole.value_or(0), "bolt"});
        if (bolts->empty()) return;
        if (!hole)
            part.cautions.push_back("No hole size is known for a bolt of " + length(said.bolts.diameter_mm) +
                                    "; the middles are marked.");
        part.words.push_back(std::to_string(bolts->size()) + " bolts of " + length(said.bolts.diameter_mm) +
                             (said.bolts.grade.empty() ? "" : ", " + said.bolts.grade) +
                             (hole ? ", holes of " + length(*hole) : "") + ".");
        if (part.kind != PlatePart::Kind::backing) return;
        Vec2 low = part.outline[0], high = part.outline[2];
        for (const Vec2& at : *bolts) {
            const double edge = std::min((at - low).minCoeff(), (high - at).minCoeff());
            if (edge < said.bolts.edge_mm.value_or(1.2 * hole.value_or(said.bolts.diameter_mm)) - 1e-6) {
                part.cautions.push_back("A bolt comes " + length(edge) +
                                        " from the edge of the backing plate: make it larger.");
                return;
            }
        }
    }

    /// A washer lies flat: off the tubes that stand there, off the folds.
    void lookAtBolts(PlatePart& part, const Plate& said, const ResolvedPlate& plate,
                     const Expected<std::vector<Vec2>>& bolts) const {
        if (!bolts || bolts->empty()) return;
        const double washer = kWasher * said.bolts.diameter_mm;
        const bool right = plate.side == Side::right;
        for (const auto& [member, end] : plate.feet) {
            const ResolvedMember& bar = cage_.members[static_cast<std::size_t>(member)];
            const ResolvedEnd& at = bar.ends[static_cast<std::size_t>(end)];
            const Vec3 way = plate.axes.transpose() * at.outward,
                       from = plate.axes.transpose() * (at.at - plate.at);
            if (std::abs(way.z()) < 1e-3) continue;
            const Vec3 on = from - from.z() / way.z() * way;
            // Off the tube's outside, square to its axis; a place of the plate is as near as it looks.
            for (std::size_t b = 0; b < bolts->size(); ++b) {
                Vec2 bolt = (*bolts)[b];
                if (right) bolt.y() = -bolt.y();
                double nearest = 1e300;
                for (int i = 0; i < 120; ++i) {
                    const double angle = 2 * std::numbers::pi * i / 120;
                    Vec3 p =
                        Vec3(bolt.x() + washer * std::cos(angle), bolt.y() + washer * std::sin(angle), 0) -
                        on;
                    nearest = std::min(nearest, (p - p.dot(way) * way).norm());
                }
                if (nearest < bar.radius_mm())
                    part.cautions.push_back(
                        "On " + plate.id + " bolt " + std::to_string(b + 1) + " is under " + bar.name +
                        " or its washer is: set the bolts nearer to the edge, or make the plate larger.");
            }
        }
    }
    /// Holes stay out of what a fold takes, by the washer. @pre the part is not moved to its datum yet
    void lookAtFolds(PlatePart& part, const Plate& said) const {
        const double washer = kWasher * said.bolts.diameter_mm;
        for (const PartFold& fold : part.folds) {
            const Vec2 along = (fold.to - fold.from).normalized(), off(-along.y(), along.x());
            for (const PartHole& hole : part.holes) {
                if (std::abs((hole.at - fold.from).dot(off)) >= fold.allowance_mm / 2 + washer) continue;
                part.cautions.push_back("A bolt's washer reaches into the fold of the " + fold.what +
                                        ": set the bolts farther from the edge.");
                break;
            }
        }
    }

    double weldOf(int member, int end) const {
        const auto sheet = std::ranges::find(copes_, member, &CopeSheet::member);
        if (sheet == copes_.end()) return 0;
        return sheet->ends[static_cast<std::size_t>(end)].weld_mm;
    }

    /// Its face, then its flaps.
    std::vector<PlateSupport> supportsOf(const ResolvedPlate& plate) const {
        std::vector<PlateSupport> out;
        std::vector<Vec3> face;
        for (const Vec2& p : plate.outline)
            face.emplace_back(plate.at + plate.axes * Vec3(p.x(), p.y(), -plate.thickness_mm));
        out.push_back(supportOf(plate, "face", face, -plate.axes.col(2)));
        for (const PlacedFlap& flap : plate.flaps) {
            const Vec3 far = flap.length_mm * flap.along;
            out.push_back(supportOf(plate, "flap " + edgeWord(flap.edge),
                                    {flap.from, flap.to, flap.to + far, flap.from + far}, flap.outward));
        }
        return out;
    }

    /// `away`: unit, out of the side that lies on the car.
    PlateSupport supportOf(const ResolvedPlate& plate, const std::string& plane,
                           const std::vector<Vec3>& ring, const Vec3& away) const {
        PlateSupport out{plate.id, "", plane, 0, 0};
        Vec3 sum = Vec3::Zero(), middle = Vec3::Zero();
        for (std::size_t i = 0; i < ring.size(); ++i) {
            middle += ring[i] / static_cast<double>(ring.size());
            sum += (ring[i] - ring[0]).cross(ring[(i + 1) % ring.size()] - ring[0]) / 2;
        }
        out.off_rail_mm2 = sum.norm();
        if (plate.rail < 0) return out;
        const FrameRail& rail = job_.car.rails[static_cast<std::size_t>(plate.rail)];
        out.rail = rail.name;
        if (rail.line.size() < 2) return out;
        std::size_t nearest = 0;
        double least = 1e300;
        for (std::size_t i = 0; i + 1 < rail.line.size(); ++i) {
            const Vec3 way = rail.line[i + 1] - rail.line[i];
            const double t = std::clamp((middle - rail.line[i]).dot(way) / way.squaredNorm(), 0.0, 1.0);
            const double far = (middle - rail.line[i] - t * way).norm();
            if (far >= least) continue;
            least = far;
            nearest = i;
        }
        const Vec3 from = rail.line[nearest], run = rail.line[nearest + 1] - from, way = run.normalized();
        const Vec3 up_along = Vec3::UnitZ() - way.z() * way;
        if (!(run.norm() > 1e-6) || !(up_along.norm() > 1e-6)) return out;
        const Vec3 up = up_along.normalized(), across = up.cross(way);
        // The four sides of the rail: out of it, how far from its line, and half as wide as it is across.
        const std::array<std::tuple<Vec3, double, Vec3, double>, 4> sides = {
            {{up, rail.height_mm / 2, across, rail.width_mm / 2},
             {-up, rail.height_mm / 2, across, rail.width_mm / 2},
             {across, rail.width_mm / 2, up, rail.height_mm / 2},
             {-across, rail.width_mm / 2, up, rail.height_mm / 2}}};
        for (const auto& [out_of, off, beside, half] : sides) {
            const double facing = -out_of.dot(away);
            if (facing < std::cos(15 * std::numbers::pi / 180)) continue;
            if (std::abs((middle - from).dot(out_of) - off) > kLiesOn_mm) continue;
            std::vector<Vec2> flat;
            for (const Vec3& p : ring) flat.emplace_back((p - from).dot(way), (p - from).dot(beside));
            if (outlineArea_mm2(flat) < 0) std::ranges::reverse(flat);
            flat = leftOf(flat, {0, -half}, {1, 0});
            flat = leftOf(flat, {0, half}, {-1, 0});
            if (nearest == 0) flat = leftOf(flat, {0, 0}, {0, -1});
            if (nearest + 2 == rail.line.size()) flat = leftOf(flat, {run.norm(), 0}, {0, 1});
            out.on_rail_mm2 = std::max(0.0, outlineArea_mm2(flat)) / facing;
            out.off_rail_mm2 = std::max(0.0, sum.norm() - out.on_rail_mm2);
        }
        return out;
    }

    /// `of_pair`: its bars without their side.
    std::string gussetName(const std::string& id, const ResolvedGusset& gusset, bool of_pair) const {
        const auto bar = [&](int member) {
            const ResolvedMember& made = cage_.members[static_cast<std::size_t>(member)];
            const std::size_t side = made.name.rfind(", ");
            return of_pair && made.side != Side::centre ? made.name.substr(0, side) : made.name;
        };
        return "Gusset " + id + ", " + bar(gusset.member_a) + " to " + bar(gusset.member_b);
    }

    void addGusset(int layout) {
        const Gusset& said = job_.cage.gussets[static_cast<std::size_t>(layout)];
        std::vector<PlatePart> made;
        const ResolvedGusset* first = nullptr;
        for (const ResolvedGusset& gusset : cage_.gussets) {
            if (gusset.layout != layout) continue;
            PlatePart part;
            part.kind = PlatePart::Kind::gusset;
            part.id = gusset.id;
            part.name = gussetName(gusset.id, gusset, false);
            if (!first) first = &gusset;
            part.of = {gusset.id};
            part.thickness_mm = gusset.thickness_mm;
            layGusset(part, gussetShape(cage_, gusset), with_);
            if (said.hole_mm && part.holes.empty() && part.trouble.empty())
                part.cautions.push_back("Its hole of " + length(*said.hole_mm) +
                                        " does not fit and is left out.");
            toDatum(part);
            made.push_back(std::move(part));
        }
        if (made.size() == 2 && (sameFlat(made[0], made[1], false) || sameFlat(made[0], made[1], true))) {
            made[0].of.push_back(made[1].of[0]);
            made[0].id = said.id;
            made[0].name = gussetName(said.id, *first, true);
            made.pop_back();
        }
        for (PlatePart& part : made) finish(part);
    }

    void finish(PlatePart& part) {
        toDatum(part);
        for (const PartPlane& plane : part.planes) part.faces_mm2 += plane.area_mm2;
        part.blank_mm2 = outlineArea_mm2(part.outline);
        for (const PartHole& hole : part.holes)
            part.blank_mm2 -= std::numbers::pi / 4 * hole.diameter_mm * hole.diameter_mm;
        const Material* material = job_.stock.material(part.material);
        part.blank_kg = part.blank_mm2 * part.thickness_mm *
                        (material ? material->density_kg_per_m3 : kSteel) * kKg_per_mm3_of;
        part.handed = part.kind != PlatePart::Kind::gusset && part.count() == 2 && !part.folds.empty() &&
                      !sameFlat(part, part, true);
        if (part.handed)
            part.words.push_back("For the right: turn the blank over first, then fold the way it says.");
        parts_.push_back(std::move(part));
    }

    const Job& job_;
    const CageGeometry& cage_;
    std::span<const CopeSheet> copes_;
    FlatFigures with_;
    std::vector<PlatePart> parts_;
};

}  // namespace

std::string partKindWord(PlatePart::Kind kind) {
    switch (kind) {
        case PlatePart::Kind::foot:
            return "foot";
        case PlatePart::Kind::backing:
            return "backing";
        case PlatePart::Kind::riser:
            return "riser";
        case PlatePart::Kind::gusset:
            break;
    }
    return "gusset";
}

std::vector<PlatePart> plateParts(const Job& job, const CageGeometry& cage,
                                  std::span<const CopeSheet> copes) {
    return PartLister(job, cage, copes).list();
}

}  // namespace hoopwright
