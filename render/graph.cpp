#include "render/graph.h"

namespace hoopwright {
namespace {

osg::Vec3 vec(const Vec3f& v) {
    return {v.x(), v.y(), v.z()};
}

void useBuffers(osg::Geometry& geometry) {
    geometry.setUseDisplayList(false);
    geometry.setUseVertexBufferObjects(true);
    geometry.setDataVariance(osg::Object::DYNAMIC);
}

}  // namespace

osg::ref_ptr<osg::Geometry> toGeometry(const Mesh& mesh, Rgb colour) {
    osg::ref_ptr<osg::Geometry> geometry = new osg::Geometry;
    const auto n = static_cast<unsigned>(mesh.corners.size());
    osg::ref_ptr<osg::Vec3Array> at = new osg::Vec3Array(n), normal = new osg::Vec3Array(n);
    osg::ref_ptr<osg::Vec4Array> extra = new osg::Vec4Array(n);
    for (unsigned i = 0; i < n; ++i) {
        const MeshCorner& corner = mesh.corners[i];
        (*at)[i] = vec(corner.at);
        (*normal)[i] = vec(corner.normal);
        (*extra)[i].set(corner.light, corner.weld_mm, corner.around, corner.along);
    }
    geometry->setVertexArray(at);
    geometry->setNormalArray(normal, osg::Array::BIND_PER_VERTEX);
    geometry->setTexCoordArray(0, extra, osg::Array::BIND_PER_VERTEX);
    osg::ref_ptr<osg::Vec4Array> colours = new osg::Vec4Array;
    if (mesh.colours.empty()) {
        colours->push_back({colour.r, colour.g, colour.b, 1});
        geometry->setColorArray(colours, osg::Array::BIND_OVERALL);
    } else {
        for (const Rgb& c : mesh.colours) colours->push_back({c.r, c.g, c.b, 1});
        geometry->setColorArray(colours, osg::Array::BIND_PER_VERTEX);
    }
    geometry->addPrimitiveSet(new osg::DrawElementsUInt(
        GL_TRIANGLES, static_cast<unsigned>(mesh.triangles.size()), mesh.triangles.data()));
    useBuffers(*geometry);
    return geometry;
}

void setColour(osg::Geometry& geometry, Rgb colour) {
    auto* colours = dynamic_cast<osg::Vec4Array*>(geometry.getColorArray());
    if (!colours || colours->size() != 1) return;
    const osg::Vec4 wanted(colour.r, colour.g, colour.b, 1);
    if ((*colours)[0] == wanted) return;
    (*colours)[0] = wanted;
    colours->dirty();
}

void setLight(osg::Geometry& geometry, const Mesh& mesh) {
    auto* extra = dynamic_cast<osg::Vec4Array*>(geometry.getTexCoordArray(0));
    if (!extra || extra->size() != mesh.corners.size()) return;
    for (std::size_t i = 0; i < extra->size(); ++i) (*extra)[i].x() = mesh.corners[i].light;
    extra->dirty();
}

std::size_t triangleCount(const osg::Geometry& geometry) {
    std::size_t count = 0;
    for (unsigned i = 0; i < geometry.getNumPrimitiveSets(); ++i)
        count += geometry.getPrimitiveSet(i)->getNumIndices() / 3;
    return count;
}

osg::ref_ptr<osg::Geometry> lineStrips(const std::vector<SmoothLine>& lines) {
    osg::ref_ptr<osg::Geometry> geometry = new osg::Geometry;
    osg::ref_ptr<osg::Vec3Array> at = new osg::Vec3Array, along = new osg::Vec3Array,
                                 side = new osg::Vec3Array;
    osg::ref_ptr<osg::DrawElementsUInt> triangles = new osg::DrawElementsUInt(GL_TRIANGLES);
    for (const SmoothLine& line : lines) {
        const auto& p = line.points;
        const bool closed = p.size() > 2 && (p.front() - p.back()).norm() < 1e-6;
        for (std::size_t i = 0; i < p.size(); ++i) {
            const Vec3& before = i > 0 ? p[i - 1] : (closed ? p[p.size() - 2] : p[i]);
            const Vec3& after = i + 1 < p.size() ? p[i + 1] : (closed ? p[1] : p[i]);
            const auto base = static_cast<unsigned>(at->size());
            for (const float edge : {-1.0f, 1.0f}) {
                at->push_back(toOsg(p[i]));
                along->push_back(toOsg((after - before).normalized()));
                side->push_back({edge, 0, 0});
            }
            if (i + 1 < p.size())
                for (const unsigned k : {0u, 1u, 3u, 0u, 3u, 2u}) triangles->push_back(base + k);
        }
    }
    geometry->setVertexArray(at);
    geometry->setNormalArray(along, osg::Array::BIND_PER_VERTEX);
    geometry->setTexCoordArray(0, side, osg::Array::BIND_PER_VERTEX);
    geometry->addPrimitiveSet(triangles);
    useBuffers(*geometry);
    return geometry;
}

osg::ref_ptr<osg::Geode> geodeOf(osg::Drawable* drawable) {
    osg::ref_ptr<osg::Geode> geode = new osg::Geode;
    geode->addDrawable(drawable);
    return geode;
}

}  // namespace hoopwright
