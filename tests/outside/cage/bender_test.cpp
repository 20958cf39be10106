// Every bent bar of the demo cages put through a make-believe bender, a row of its bend table at a time.
#include <algorithm>
#include <cmath>

#include "tests/outside/cage/demo_cage.h"

namespace hoopwright {
namespace {

/// A bender at the origin: tube comes in along +x with its first end ahead, the die stands on the +y side.
/// What moves is the tube, as in the shop; marks made on it go along.
class SpaceBender {
public:
    /// Makes a mark at the die and says which it is.
    std::size_t mark() {
        marks_.push_back(Vec3::Zero());
        return marks_.size() - 1;
    }
    void feed(double length_mm) {
        for (Vec3& mark : marks_) mark.x() += length_mm;
    }
    /// The first end is ahead, so along the tube is -x: to bring a plane that lies `rotation` on, the tube
    /// is turned back about it, which is on about +x.
    void turn(double rotation_rad) {
        for (Vec3& mark : marks_) mark = Eigen::AngleAxisd(rotation_rad, Vec3::UnitX()) * mark;
    }
    /// All that is ahead of the die swings round its middle.
    void bend(double radius_mm, double angle_rad) {
        const Vec3 middle(0, radius_mm, 0);
        for (Vec3& mark : marks_)
            mark = middle + Eigen::AngleAxisd(angle_rad, Vec3::UnitZ()) * (mark - middle);
    }
    const std::vector<Vec3>& marks() const { return marks_; }

private:
    std::vector<Vec3> marks_;
};

/// Greatest distance between points and their fellows once the first are laid on the second as best they can.
double misfit(const std::vector<Vec3>& made, const std::vector<Vec3>& wanted) {
    Eigen::Matrix3Xd a(3, made.size()), b(3, made.size());
    for (std::size_t i = 0; i < made.size(); ++i) {
        a.col(static_cast<Eigen::Index>(i)) = made[i];
        b.col(static_cast<Eigen::Index>(i)) = wanted[i];
    }
    const Eigen::Matrix4d lay = Eigen::umeyama(a, b, false);
    double worst = 0;
    for (std::size_t i = 0; i < made.size(); ++i)
        worst = std::max(worst, ((lay * made[i].homogeneous()).head<3>() - wanted[i]).norm());
    return worst;
}

using OutsideDemoBends = OutsideDemo;
HOOPWRIGHT_EACH_DEMO(OutsideDemoBends);

TEST_P(OutsideDemoBends, TheBenderMakesTheBarFromItsTable) {
    int bars = 0, twisted = 0;
    for (const ResolvedMember& member : cage.members) {
        const BendTable table = bendTable(member.line);
        if (table.rows.empty()) continue;
        SpaceBender bender;
        std::vector<Vec3> wanted = {member.line.start()};
        bender.mark();
        double fed = 0;
        for (const BendRow& row : table.rows) {
            bender.feed(row.straight_before_mm);
            fed += row.straight_before_mm;
            EXPECT_NEAR(fed, row.mark_start_mm, 1e-9) << member.id;
            bender.mark();
            wanted.push_back(member.line.point(row.mark_start_mm));
            bender.turn(row.rotation_rad);
            bender.bend(row.radius_mm, row.angle_rad / 2);
            bender.mark();
            wanted.push_back(member.line.point((row.mark_start_mm + row.mark_end_mm) / 2));
            bender.bend(row.radius_mm, row.angle_rad / 2);
            bender.mark();
            wanted.push_back(member.line.point(row.mark_end_mm));
            fed += row.radius_mm * row.angle_rad;
            EXPECT_NEAR(fed, row.mark_end_mm, 1e-9) << member.id;
            twisted += std::abs(row.rotation_rad) > 0.01;
        }
        bender.feed(table.last_straight_mm);
        bender.mark();
        wanted.push_back(member.line.end());
        fed += table.last_straight_mm;
        EXPECT_NEAR(fed, table.developed_mm, 1e-9) << member.id;
        EXPECT_NEAR(table.developed_mm, member.line.length_mm(), 1e-9) << member.id;
        EXPECT_LT(misfit(bender.marks(), wanted), 1e-7) << member.id;
        ++bars;
    }
    EXPECT_GE(bars, 3) << "the hoop and the side bars are bent";
    EXPECT_GE(twisted, 1) << "bends in more than one plane";
}

// Handbook arithmetic of tangent bends: the straight between two corners is their distance less both
// setbacks R tan(A / 2), the rotation is the angle between the two corners' planes.
TEST_P(OutsideDemoBends, TheTableIsThatOfTheCornersDrawn) {
    for (const ResolvedMember& member : cage.members) {
        const BendTable table = bendTable(member.line);
        std::vector<Vec3> corners = {member.line.start()};
        std::vector<double> setback = {0};
        for (const BendRow& row : table.rows) {
            setback.push_back(row.radius_mm * std::tan(row.angle_rad / 2));
            corners.push_back(member.line.point(row.mark_start_mm) +
                              setback.back() * member.line.tangent(row.mark_start_mm - 1e-7));
        }
        corners.push_back(member.line.end());
        setback.push_back(0);
        for (std::size_t i = 1; i < corners.size(); ++i) {
            const double between = (corners[i] - corners[i - 1]).norm() - setback[i] - setback[i - 1];
            const double said =
                i <= table.rows.size() ? table.rows[i - 1].straight_before_mm : table.last_straight_mm;
            EXPECT_NEAR(between, said, 1e-6) << member.id << " straight " << i;
        }
        Vec3 plane_before = Vec3::Zero();
        for (std::size_t i = 1; i + 1 < corners.size(); ++i) {
            const Vec3 in = (corners[i] - corners[i - 1]).normalized();
            const Vec3 out = (corners[i + 1] - corners[i]).normalized();
            const Vec3 plane = in.cross(out).normalized();
            const BendRow& row = table.rows[i - 1];
            EXPECT_NEAR(std::acos(std::clamp(in.dot(out), -1.0, 1.0)), row.angle_rad, 1e-6) << member.id;
            if (i > 1) {
                const double rotation =
                    std::atan2(plane_before.cross(plane).dot(in), plane_before.dot(plane));
                EXPECT_NEAR(std::remainder(rotation - row.rotation_rad, 2 * M_PI), 0, 1e-6) << member.id;
            }
            plane_before = plane;
        }
    }
}

// The tables of a bar and of its mirror image differ in the sense of every rotation and in nothing else.
TEST_P(OutsideDemoBends, TheOtherSideTurnsTheOtherWay) {
    int pairs = 0;
    for (const ResolvedMember& left : cage.members) {
        if (left.side != Side::left || left.line.bendCount() == 0) continue;
        const std::string id = left.id.substr(0, left.id.size() - 4) + "right";
        const BendTable a = bendTable(left.line);
        const BendTable b = bendTable(cage.members[static_cast<std::size_t>(cage.member(id))].line);
        ASSERT_EQ(a.rows.size(), b.rows.size()) << id;
        for (std::size_t i = 0; i < a.rows.size(); ++i) {
            EXPECT_NEAR(a.rows[i].straight_before_mm, b.rows[i].straight_before_mm, 1e-6) << id;
            EXPECT_NEAR(a.rows[i].angle_rad, b.rows[i].angle_rad, 1e-9) << id;
            EXPECT_NEAR(std::remainder(a.rows[i].rotation_rad + b.rows[i].rotation_rad, 2 * M_PI), 0, 1e-9)
                << id;
        }
        EXPECT_NEAR(a.last_straight_mm, b.last_straight_mm, 1e-6) << id;
        ++pairs;
    }
    EXPECT_GE(pairs, 1);
}

}  // namespace
}  // namespace hoopwright
