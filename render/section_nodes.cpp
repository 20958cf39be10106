#include "render/section_nodes.h"

#include <array>
#include <cmath>
#include <map>
#include <osg/BlendFunc>
#include <osg/NodeVisitor>
#include <osg/Transform>
#include <osg/TriangleFunctor>
#include <osg/Uniform>
#include <osgUtil/Tessellator>

#include "render/graph.h"

namespace hoopwright {
namespace {

struct TakeTriangles {
    std::vector<Vec3>* into = nullptr;
    osg::Matrixd place;
    void operator()(const osg::Vec3& a, const osg::Vec3& b, const osg::Vec3& c, bool = false) const {
        for (const osg::Vec3& v : {a, b, c}) {
            const osg::Vec3d p = osg::Vec3d(v) * place;
            into->emplace_back(p.x(), p.y(), p.z());
        }
    }
};

/// Triangles of everything that is shown under a node, in car axes.
class Collector : public osg::NodeVisitor {
public:
    Collector() : osg::NodeVisitor(TRAVERSE_ACTIVE_CHILDREN) {}
    void apply(osg::Drawable& drawable) override {
        osg::TriangleFunctor<TakeTriangles> take;
        take.into = &corners;
        take.place = osg::computeLocalToWorld(getNodePath());
        drawable.accept(take);
    }
    std::vector<Vec3> corners;
};

std::vector<Vec3> trianglesOf(osg::Node& node) {
    Collector collector;
    if (node.getNodeMask() != 0) node.accept(collector);
    return std::move(collector.corners);
}

using Bits = std::array<double, 3>;
Bits bitsOf(const Vec3& p) {
    return {p.x(), p.y(), p.z()};
}

/// The same two ends, in whatever order, give the same point to the last bit.
Vec3 between(Vec3 a, Vec3 b, double da, double db) {
    if (bitsOf(b) < bitsOf(a)) {
        std::swap(a, b);
        std::swap(da, db);
    }
    return a + da / (da - db) * (b - a);
}

/// Numbers for points of the section's plane, the same for all within two micrometres: ten times what a
/// float loses on a car.
class Welder {
public:
    explicit Welder(int axis) : u_((axis + 1) % 3), v_((axis + 2) % 3) {}
    int idOf(const Vec3& p) {
        const auto column = cell(p[u_]), row = cell(p[v_]);
        for (long long i = -1; i <= 1; ++i)
            for (long long k = -1; k <= 1; ++k) {
                const auto found = known_.find({column + i, row + k});
                if (found != known_.end() && (found->second.second - p).norm() <= kSame_mm)
                    return found->second.first;
            }
        const int id = next_++;
        known_.try_emplace({column, row}, id, p);
        return id;
    }

private:
    static constexpr double kSame_mm = 0.002;
    static long long cell(double mm) { return std::llround(mm / kSame_mm); }
    int u_, v_, next_ = 0;
    std::map<std::pair<long long, long long>, std::pair<int, Vec3>> known_;
};

}  // namespace

CutLines cutTriangles(const std::vector<Vec3>& corners, const SectionCut& cut) {
    const auto over = [&](const Vec3& p) {
        const double d = (cut.keep_high ? -1.0 : 1.0) * (p[cut.axis] - cut.at_mm);
        return d == 0 ? 1e-12 : d;  // what lies in the plane counts as beyond it
    };
    struct Step {
        Vec3 from, to;
    };
    std::vector<Step> steps;
    for (std::size_t i = 0; i + 2 < corners.size(); i += 3) {
        const Vec3* p = &corners[i];
        const double d[] = {over(p[0]), over(p[1]), over(p[2])};
        const int beyond = (d[0] > 0) + (d[1] > 0) + (d[2] > 0);
        if (beyond == 0 || beyond == 3) continue;
        // The corner that is alone on its side.
        int alone = 0;
        for (int k = 0; k < 3; ++k)
            if ((d[k] > 0) == (beyond == 1)) alone = k;
        const int next = (alone + 1) % 3, last = (alone + 2) % 3;
        const Vec3 a = between(p[alone], p[next], d[alone], d[next]),
                   b = between(p[alone], p[last], d[alone], d[last]);
        if (a == b) continue;
        // Solid lies at the left of the way, seen against `outward`.
        if (beyond == 1) {
            steps.push_back({a, b});
        } else {
            steps.push_back({b, a});
        }
    }
    // Seams of a mesh meet to a rounding, not to the bit.
    Welder weld(cut.axis);
    std::vector<std::pair<int, int>> ids;
    std::multimap<int, std::size_t> starts;
    std::map<int, int> ends;
    for (std::size_t i = 0; i < steps.size(); ++i) {
        ids.emplace_back(weld.idOf(steps[i].from), weld.idOf(steps[i].to));
        if (ids[i].first == ids[i].second) continue;
        starts.emplace(ids[i].first, i);
        ++ends[ids[i].second];
    }
    std::vector<bool> used(steps.size(), false);
    CutLines lines;
    const auto follow = [&](std::size_t first) {
        std::vector<Vec3> way{steps[first].from};
        bool ring = false;
        for (std::size_t at = first;;) {
            used[at] = true;
            way.push_back(steps[at].to);
            ring = ids[at].second == ids[first].first;
            if (ring) break;
            const auto [from, to] = starts.equal_range(ids[at].second);
            std::size_t next = steps.size();
            for (auto one = from; one != to; ++one)
                if (!used[one->second]) next = one->second;
            if (next == steps.size()) break;
            at = next;
        }
        ring = ring && way.size() > 3;
        if (ring) way.pop_back();
        (ring ? lines.rings : lines.open).push_back(std::move(way));
    };
    const auto runs = [&](std::size_t i) { return !used[i] && ids[i].first != ids[i].second; };
    // Lines with an end begin there.
    for (std::size_t i = 0; i < steps.size(); ++i)
        if (runs(i) && ends.find(ids[i].first) == ends.end()) follow(i);
    for (std::size_t i = 0; i < steps.size(); ++i)
        if (runs(i)) follow(i);
    return lines;
}

SectionNodes::SectionNodes(osg::Group* root, const Programs& programs)
    : programs_(programs), root_(new osg::Group) {
    root_->setName("section");
    root_->setNodeMask(kSection);
    root->addChild(root_);
}

void SectionNodes::fill(const CutLines& lines, Rgb colour, const Vec3& normal) {
    if (lines.rings.empty()) return;
    osg::ref_ptr<osg::Geometry> geometry = new osg::Geometry;
    osg::ref_ptr<osg::Vec3Array> at = new osg::Vec3Array;
    for (const std::vector<Vec3>& ring : lines.rings) {
        const auto first = static_cast<GLint>(at->size());
        for (const Vec3& p : ring) at->push_back(toOsg(p));
        geometry->addPrimitiveSet(
            new osg::DrawArrays(GL_POLYGON, first, static_cast<GLsizei>(at->size()) - first));
    }
    geometry->setVertexArray(at);
    osg::ref_ptr<osgUtil::Tessellator> tessellator = new osgUtil::Tessellator;
    tessellator->setTessellationType(osgUtil::Tessellator::TESS_TYPE_GEOMETRY);
    tessellator->setWindingType(osgUtil::Tessellator::TESS_WINDING_NONZERO);
    tessellator->setTessellationNormal(toOsg(normal));
    tessellator->retessellatePolygons(*geometry);
    osg::ref_ptr<osg::Vec4Array> colours = new osg::Vec4Array;
    colours->push_back({colour.r, colour.g, colour.b, 1});
    geometry->setColorArray(colours, osg::Array::BIND_OVERALL);
    osg::ref_ptr<osg::Vec3Array> normals = new osg::Vec3Array;
    normals->push_back(toOsg(normal));
    geometry->setNormalArray(normals, osg::Array::BIND_OVERALL);
    geometry->setUseDisplayList(false);
    geometry->setUseVertexBufferObjects(true);
    auto geode = geodeOf(geometry);
    auto* state = geode->getOrCreateStateSet();
    state->setAttributeAndModes(programs_.cut_face);
    state->setMode(GL_CULL_FACE, osg::StateAttribute::OFF);
    root_->addChild(geode);
}

void SectionNodes::outline(const CutLines& lines, float width_px, const osg::Vec4& ink) {
    std::vector<SmoothLine> all;
    for (const std::vector<Vec3>& ring : lines.rings) {
        all.push_back({{}, CarLine::Kind::body, ring});
        all.back().points.push_back(ring.front());
    }
    for (const std::vector<Vec3>& open : lines.open)
        if (open.size() > 1) all.push_back({{}, CarLine::Kind::body, open});
    if (all.empty()) return;
    auto geode = geodeOf(lineStrips(all));
    auto* state = geode->getOrCreateStateSet();
    state->setAttributeAndModes(programs_.line);
    state->setRenderBinDetails(30, "RenderBin");
    state->setAttributeAndModes(
        new osg::BlendFunc(GL_SRC_ALPHA, GL_ONE_MINUS_SRC_ALPHA, GL_ONE, GL_ONE_MINUS_SRC_ALPHA));
    state->setMode(GL_CULL_FACE, osg::StateAttribute::OFF);
    state->addUniform(new osg::Uniform("width_px", width_px));
    state->addUniform(new osg::Uniform("nearer", 2.0f));
    state->addUniform(new osg::Uniform("line_colour", ink));
    root_->addChild(geode);
}

void SectionNodes::set(const std::optional<SectionCut>& cut, const Parts& parts) {
    root_->removeChildren(0, root_->getNumChildren());
    if (!cut) return;
    const Vec3 normal = cut->outward();
    const osg::Vec4 ink = parts.dark ? osg::Vec4(0.94f, 0.92f, 0.87f, 1) : osg::Vec4(0.07f, 0.08f, 0.10f, 1);
    CutLines tubes;  // their outlines in one
    for (const TubeNodes::Solid& tube : parts.tubes) {
        std::vector<Vec3> corners;
        osg::TriangleFunctor<TakeTriangles> take;
        take.into = &corners;
        tube.geometry->accept(take);
        CutLines lines = cutTriangles(corners, *cut);
        fill(lines, tube.colour, normal);
        for (auto& ring : lines.rings) tubes.rings.push_back(std::move(ring));
        for (auto& open : lines.open) tubes.open.push_back(std::move(open));
    }
    outline(tubes, 2.2f, ink);
    const auto solid = [&](const std::vector<osg::Node*>& nodes, Rgb colour, float width_px) {
        for (osg::Node* node : nodes) {
            const CutLines lines = cutTriangles(trianglesOf(*node), *cut);
            fill(lines, colour, normal);
            outline(lines, width_px, ink);
        }
    };
    solid(parts.metal, {0.55f, 0.56f, 0.57f}, 1.6f);
    solid(parts.body, {0.80f, 0.76f, 0.70f}, 1.4f);
    for (osg::Node* node : parts.skins) outline(cutTriangles(trianglesOf(*node), *cut), 2.4f, ink);
}

}  // namespace hoopwright
