#include "app/export/centreline_dxf.h"

#include <cctype>
#include <cmath>
#include <numbers>
#include <string>
#include <vector>

#include "core/base/text.h"

namespace hoopwright {
namespace {

constexpr double kDegrees = 180 / std::numbers::pi;
constexpr double kViewsApart_mm = 600;
constexpr double kLetters_mm = 25;
constexpr double kPlanChord_mm = 0.05;

std::string layerWord(const std::string& id) {
    std::string out = "3D_";
    for (const char c : id) {
        const bool plain = std::isalnum(static_cast<unsigned char>(c)) != 0;
        out += plain ? static_cast<char>(std::toupper(static_cast<unsigned char>(c))) : '_';
    }
    return out;
}

/// A plan view: what runs to the right and up on the sheet, and where its origin lies.
struct PlanView {
    const char* name;
    Vec3 right, up;
    Vec2 at = Vec2::Zero();
    Vec2 of(const Vec3& p) const { return at + Vec2(right.dot(p), up.dot(p)); }
    Vec2 way(const Vec3& d) const { return {right.dot(d), up.dot(d)}; }
};

class DxfText {
public:
    void put(int code, const std::string& value) { text_ += std::to_string(code) + "\n" + value + "\n"; }
    void number(int code, double value) { put(code, fixed(value, 8)); }
    void point(int code, const Vec3& p) {
        number(code, p.x()), number(code + 10, p.y()), number(code + 20, p.z());
    }
    void entity(const char* kind, const std::string& layer) { put(0, kind), put(8, layer); }
    void line(const std::string& layer, const Vec3& from, const Vec3& to) {
        entity("LINE", layer);
        point(10, from), point(11, to);
    }
    QByteArray take() const { return QByteArray::fromStdString(text_); }

private:
    std::string text_;
};

/// Where an entity with this extrusion has its x axis: the format's own rule.
Vec3 arbitraryAxis(const Vec3& normal) {
    const bool upright = std::abs(normal.x()) < 1.0 / 64 && std::abs(normal.y()) < 1.0 / 64;
    return (upright ? Vec3(Vec3::UnitY()) : Vec3(Vec3::UnitZ())).cross(normal).normalized();
}

void spaceArc(DxfText& dxf, const std::string& layer, const Piece& bend) {
    const Vec3 x = arbitraryAxis(bend.axis), y = bend.axis.cross(x), spoke = bend.start - bend.centre;
    const double from = std::atan2(spoke.dot(y), spoke.dot(x)) * kDegrees;
    dxf.entity("ARC", layer);
    dxf.point(10, {bend.centre.dot(x), bend.centre.dot(y), bend.centre.dot(bend.axis)});
    dxf.number(40, bend.radius_mm);
    dxf.number(50, from);
    dxf.number(51, from + bend.angle_rad * kDegrees);
    dxf.point(210, bend.axis);
}

/// Corners of a line on the sheet, as one polyline.
void planPath(DxfText& dxf, const char* layer, const std::vector<Vec2>& points) {
    dxf.entity("POLYLINE", layer);
    dxf.put(66, "1");
    dxf.point(10, Vec3::Zero());
    dxf.put(70, "0");
    for (const Vec2& p : points) {
        dxf.entity("VERTEX", layer);
        dxf.point(10, {p.x(), p.y(), 0});
    }
    dxf.entity("SEQEND", layer);
}

/// The outline of a tube seen square to the sheet: its centreline's picture, a radius to either side.
void planBar(DxfText& dxf, const PlanView& view, const ResolvedMember& member) {
    std::vector<Vec2> centre, left, right;
    for (const double station : member.line.sampleStations(kPlanChord_mm)) {
        centre.push_back(view.of(member.line.point(station)));
        const Vec2 way = view.way(member.line.tangent(station));
        if (way.norm() < 1e-6) continue;
        const Vec2 aside = member.radius_mm() * Vec2(-way.y(), way.x()) / way.norm();
        left.push_back(centre.back() + aside), right.push_back(centre.back() - aside);
    }
    planPath(dxf, "PLAN_CENTRE", centre);
    if (left.size() < 2) {  // seen along its axis
        dxf.entity("CIRCLE", "PLAN_OUTLINE");
        dxf.point(10, {centre.front().x(), centre.front().y(), 0});
        dxf.number(40, member.radius_mm());
        return;
    }
    left.insert(left.end(), right.rbegin(), right.rend());
    left.push_back(left.front());
    planPath(dxf, "PLAN_OUTLINE", left);
}

void planText(DxfText& dxf, const Vec2& at, double height, const std::string& words) {
    dxf.entity("TEXT", "PLAN_TEXT");
    dxf.point(10, {at.x(), at.y(), 0});
    dxf.number(40, height);
    dxf.put(1, words);
}

/// Words on the sheet, none over others. A bar's name begins on the bar if there is room, else above or below
/// such a place, with a line to it.
class PlanWords {
public:
    void title(DxfText& dxf, const Vec2& at, const std::string& words) {
        taken_.push_back({at, sizeOf(words, 2 * kLetters_mm)});
        planText(dxf, at, 2 * kLetters_mm, words);
    }
    void name(DxfText& dxf, const PlanView& view, const ResolvedMember& member) {
        const Vec2 size = sizeOf(member.id, kLetters_mm);
        Vec2 on = Vec2::Zero(), best = Vec2::Zero();
        double least = 1e300;
        // A word on the sheet is in the way of two lines at most, so one of these is free.
        const int lines = 4 * static_cast<int>(taken_.size()) + 1;
        for (int place = 0; place < kPlaces; ++place) {
            const double share = 0.5 + alternately(place) / (kPlaces + 1.0);
            const Vec2 here = view.of(member.line.point(share * member.line.length_mm()));
            for (int line = 0; line < lines; ++line) {
                const Vec2 at = here + Vec2(0, alternately(line) * kNextLine * kLetters_mm);
                const double cost = (at - here).norm() + std::abs(share - 0.5) * kLetters_mm;
                if (cost >= least) continue;
                if (isTaken({at, size})) continue;
                least = cost;
                best = at;
                on = here;
            }
        }
        taken_.push_back({best, size});
        planText(dxf, best, kLetters_mm, member.id);
        const double away = best.y() - on.y();
        if (away == 0) return;
        const double near = best.y() + (away < 0 ? kLetters_mm : 0);
        dxf.line("PLAN_TEXT", {on.x(), on.y(), 0}, {on.x(), near, 0});
    }

private:
    struct Words {
        Vec2 corner, size;
    };
    static constexpr int kPlaces = 9;
    static constexpr double kLetterWide = 1, kNextLine = 1.4;  ///< of the letters' height
    static Vec2 sizeOf(const std::string& words, double height) {
        return {static_cast<double>(words.size()) * kLetterWide * height, height};
    }
    /// 0, 1, -1, 2, -2 ...
    static double alternately(int i) { return (i % 2 ? 1 : -1) * ((i + 1) / 2); }
    bool isTaken(const Words& here) const {
        for (const Words& there : taken_) {
            const Vec2 apart = (here.corner + here.size / 2 - there.corner - there.size / 2).cwiseAbs() -
                               (here.size + there.size) / 2;
            if (apart.x() < 0 && apart.y() < 0) return true;
        }
        return false;
    }
    std::vector<Words> taken_;
};

void layer(DxfText& dxf, const std::string& name, int colour) {
    dxf.put(0, "LAYER"), dxf.put(2, name), dxf.put(70, "0"), dxf.put(62, std::to_string(colour));
    dxf.put(6, "CONTINUOUS");
}

void head(DxfText& dxf, const CageGeometry& cage) {
    for (const auto& [code, value] : {std::pair{0, "SECTION"},
                                      {2, "HEADER"},
                                      {9, "$ACADVER"},
                                      {1, "AC1009"},
                                      {9, "$INSUNITS"},
                                      {70, "4"},
                                      {0, "ENDSEC"},
                                      {0, "SECTION"},
                                      {2, "TABLES"},
                                      {0, "TABLE"},
                                      {2, "LTYPE"},
                                      {70, "1"},
                                      {0, "LTYPE"},
                                      {2, "CONTINUOUS"},
                                      {70, "0"},
                                      {3, "Solid line"},
                                      {72, "65"},
                                      {73, "0"},
                                      {40, "0.0"},
                                      {0, "ENDTAB"},
                                      {0, "TABLE"},
                                      {2, "LAYER"}})
        dxf.put(code, value);
    dxf.put(70, std::to_string(cage.members.size() + 3));
    for (const ResolvedMember& member : cage.members)
        layer(dxf, layerWord(member.id), 1 + static_cast<int>(roleOf(member.role).place) % 6);
    layer(dxf, "PLAN_CENTRE", 8), layer(dxf, "PLAN_OUTLINE", 7), layer(dxf, "PLAN_TEXT", 7);
    for (const auto& [code, value] : {std::pair{0, "ENDTAB"}, {0, "ENDSEC"}, {0, "SECTION"}, {2, "ENTITIES"}})
        dxf.put(code, value);
}

}  // namespace

QByteArray centrelineDxf(const CageGeometry& cage) {
    DxfText dxf;
    head(dxf, cage);
    Box bounds;
    for (const ResolvedMember& member : cage.members) {
        bounds.extend(member.line.bounds());
        for (const Piece& piece : member.line.pieces()) {
            if (piece.kind == Piece::Kind::straight)
                dxf.line(layerWord(member.id), piece.start, piece.end());
            else
                spaceArc(dxf, layerWord(member.id), piece);
        }
    }
    if (!bounds.isEmpty()) {
        // Seen from the left, from ahead and from above; side and front on one level, the top under the side.
        // The driver's right is up in the top view, so that the front of the car is to the left in both.
        const Vec3 size = bounds.sizes();
        const double low = bounds.min().y() - kViewsApart_mm - size.z();
        PlanView side{"SIDE, FROM THE LEFT", -Vec3::UnitX(), Vec3::UnitZ()};
        side.at = {bounds.max().x(), low - bounds.min().z()};
        PlanView front{"FRONT", Vec3::UnitY(), Vec3::UnitZ()};
        front.at = {side.at.x() - bounds.min().x() + kViewsApart_mm - bounds.min().y(), side.at.y()};
        PlanView top{"TOP", -Vec3::UnitX(), -Vec3::UnitY()};
        top.at = {side.at.x(), low - kViewsApart_mm + bounds.min().y()};
        PlanWords words;
        for (const PlanView& view : {side, front, top}) {
            Vec2 least(1e9, 1e9);
            for (const Vec3& p : {bounds.min(), bounds.max()}) least = least.cwiseMin(view.of(p));
            words.title(dxf, least - Vec2(0, 4 * kLetters_mm), view.name);
            for (const ResolvedMember& member : cage.members) planBar(dxf, view, member);
        }
        for (const PlanView& view : {side, front, top})
            for (const ResolvedMember& member : cage.members) words.name(dxf, view, member);
    }
    dxf.put(0, "ENDSEC"), dxf.put(0, "EOF");
    return dxf.take();
}

}  // namespace hoopwright
