// The paper round a tube's end against the development of two cylinders, worked out here from the tubes'
// sizes alone: what is drawn in SVG and DXF, in millimetres of the paper.
#include <gmock/gmock.h>

#include <cmath>
#include <numbers>

#include "core/model/shop_book.h"
#include "tests/app/sheets/read_back.h"
#include "tests/degrees.h"

using namespace hoopwright;
using namespace hoopwright::read_back;
using std::numbers::pi;

namespace {

struct Meeting {
    double od = 38, host_od = 45, angle_deg = 60, offset = 0;
};

/// A host along y, and a branch from it in the plane of x and y, `offset` above: its clock line is its top.
Job meetingJob(const Meeting& meeting) {
    Job job;
    job.stock.tubes = {{"host", {meeting.host_od, 2.5}, "", TubeForm::seamless, {}, {}, {}, ""},
                       {"branch", {meeting.od, 2.5}, "", TubeForm::seamless, {}, {}, {}, ""}};
    ShopBook book;
    book.paper_mm = 0.1;
    job.shop = std::make_shared<const ShopBook>(book);
    Member host, branch;
    host.id = host.role = host.stock = "host";
    host.path = {{FixedPoint{{0, -2000, 0}}, {}}, {FixedPoint{{0, 2000, 0}}, {}}};
    Landing landing;
    landing.host = "host";
    landing.by = Landing::By::fraction;
    landing.value = 0.5;
    landing.offset = {0, 0, meeting.offset};
    const double a = meeting.angle_deg * kDegree;
    branch.id = branch.role = branch.stock = "branch";
    branch.path = {{landing, {}},
                   {FixedPoint{Vec3(1000 * std::sin(a), 1000 * std::cos(a), meeting.offset)}, {}}};
    job.cage.members = {host, branch};
    return job;
}

/// How far the cut is from where the axes pass, at phi round the tube: parallel-line development of
/// intersecting cylinders, as in any book of sheet-metal drawing (French, "A Manual of Engineering Drawing",
/// 1911, on developed surfaces; from memory). The generator at phi lies e + r cos phi over the host's axis
/// and meets it where x^2 + z^2 = R^2.
double development(const Meeting& m, double r, double phi) {
    const double a = m.angle_deg * kDegree, R = m.host_od / 2, z = m.offset + r * std::cos(phi);
    return (std::sqrt(std::max(0.0, R * R - z * z)) - r * std::sin(phi) * std::cos(a)) / std::sin(a);
}
double longestOf(const Meeting& m, double r) {
    double least = 1e9;
    for (int i = 0; i < 36000; ++i) least = std::min(least, development(m, r, 2 * pi * i / 36000));
    return least;
}

/// The wrap of the branch's first end as one of its files has it: the line of a layer, y downwards.
std::vector<Vec2> drawnLine(const Meeting& meeting, bool dxf, const char* layer) {
    const Job job = meetingJob(meeting);
    const CageGeometry cage = resolve(job);
    const ShopSheets sheets = shopSheets(job, cage, {});
    EXPECT_EQ(sheets.copes.size(), 2u);
    if (sheets.copes.size() != 2) return {};
    const Drawing drawing = wrapDrawing(sheets, sheets.copes[1], 0);
    auto found = dxf ? dxfPaths(dxfOf(drawing), layer) : svgPaths(svgOf(drawing), QString::fromLatin1(layer));
    EXPECT_EQ(found.size(), 1u) << layer;
    if (found.empty()) return {};
    for (Vec2& p : found[0])
        if (dxf) p.y() = -p.y();
    return found[0];
}

void expectDeveloped(const Meeting& m) {
    const std::string what = std::to_string(m.od) + " on " + std::to_string(m.host_od) + " at " +
                             std::to_string(m.angle_deg) + ", offset " + std::to_string(m.offset);
    const double r = m.od / 2, bore = r - 2.5, wide = pi * (m.od + 0.1);
    const double longest = std::min(longestOf(m, r), longestOf(m, bore));
    for (const bool dxf : {false, true}) {
        const std::vector<Vec2> cut = drawnLine(m, dxf, "CUT"), inside = drawnLine(m, dxf, "BORE");
        ASSERT_GT(cut.size(), 300u) << what;
        EXPECT_NEAR(cut.back().x() - cut.front().x(), wide, 2e-5) << what << ": once round the paper";
        // Where the longest point is on the page is told from the first point of the cut.
        const double tip = cut.front().y() + development(m, r, 0) - longest;
        double off = 0, off_inside = 0;
        for (const Vec2& p : cut) {
            const double phi = 2 * pi * (p.x() - cut.front().x()) / wide;
            off = std::max(off, std::abs(tip - p.y() - (development(m, r, phi) - longest)));
        }
        for (const Vec2& p : inside) {
            const double phi = 2 * pi * (p.x() - cut.front().x()) / wide;
            off_inside = std::max(off_inside, std::abs(tip - p.y() - (development(m, bore, phi) - longest)));
        }
        EXPECT_LT(off, 2e-4) << what;
        EXPECT_LT(off_inside, 2e-4) << what;
    }
}

TEST(TheWraps, AreTheDevelopmentOfTwoCylindersAtEveryAngleAndOffset) {
    for (const double angle : {90.0, 60.0, 37.5}) {
        for (const double offset : {0.0, 2.5, -3.0}) {
            expectDeveloped({38, 45, angle, offset});
            expectDeveloped({25.4, 60.3, angle, offset});
        }
    }
}

TEST(TheWraps, OfTubesOfOneSizeHaveTheirEarsAtTheTopAndTheBottom) {
    // Equal tubes meet in two half ellipses: seen square to both axes, straight lines. Cut and clock line
    // meet at their corner, where the paper is longest: a kink that must be a point of the line.
    const std::vector<Vec2> cut = drawnLine({38, 38, 90, 0}, false, "CUT");
    ASSERT_GT(cut.size(), 300u);
    const double wide = pi * 38.1;
    double deepest = -1e9, least = 1e9;
    for (const Vec2& p : cut) {
        deepest = std::max(deepest, p.y());
        least = std::min(least, p.y());
    }
    EXPECT_NEAR(cut.front().y(), deepest, 2e-4) << "the ear is at the clock line";
    EXPECT_NEAR(deepest - least, 19, 2e-4) << "a square cope is as deep as the radius";
    bool other_ear = false;
    for (const Vec2& p : cut)
        other_ear |= std::abs(p.x() - cut.front().x() - wide / 2) < 1e-4 && std::abs(p.y() - deepest) < 2e-4;
    EXPECT_TRUE(other_ear);
}

TEST(TheWraps, AreShortestWhereTheBranchLeansOverItsHost) {
    // The heel is towards +y. From the top, phi goes first towards -y (right-handed about the way into the
    // branch): three quarters round. One wound the other way would cut scrap.
    const std::vector<Vec2> cut = drawnLine({38, 45, 60, 0}, false, "CUT");
    ASSERT_GT(cut.size(), 300u);
    double throat = 1e9, at = 0;
    for (const Vec2& p : cut)
        if (p.y() < throat) throat = p.y(), at = p.x() - cut.front().x();
    EXPECT_NEAR(at / (pi * 38.1), 0.75, 5e-3) << "where sin phi is -1";
}

}  // namespace
