#include "render/evidence.h"

#include <algorithm>
#include <cmath>
#include <osg/Geode>
#include <osg/Geometry>

#include "render/graph.h"
#include "render/mesh.h"
#include "render/ribbon.h"
#include "render/turn.h"

namespace hoopwright {
namespace {

/// Solid strokes and see-through faces, each with colours of its own.
class EvidenceBuilder {
public:
    EvidenceBuilder(Rgb colour, double size) : colour_(colour), size_(size) {}

    void operator()(const ShownPoint& point) { ball(point.at, 1.6 * size_); }

    void operator()(const ShownLine& line) {
        if ((line.to - line.from).norm() < 1e-6) return ball(line.from, 1.6 * size_);
        stroke({line.from, line.to});
        if (!line.dimension) return;
        for (const auto& [tip, other] : {std::pair{line.from, line.to}, std::pair{line.to, line.from}})
            arrow(tip, (tip - other).normalized());
    }

    void operator()(const ShownAngle& angle) {
        stroke({angle.apex, angle.from});
        stroke({angle.apex, angle.to});
        const Vec3 a = angle.from - angle.apex, b = angle.to - angle.apex;
        const double reach = 0.62 * std::min(a.norm(), b.norm());
        if (reach < 1e-6) return;
        const Vec3 u = a.normalized(), off = b - b.dot(u) * u;
        if (off.norm() < 1e-9) return;
        const Vec3 v = off.normalized();
        const double wide = std::atan2(b.dot(v), b.dot(u));
        std::vector<Vec3> arc;
        const int steps = std::max(4, static_cast<int>(std::ceil(wide / 0.06)));
        for (int i = 0; i <= steps; ++i) {
            const double t = wide * i / steps;
            arc.push_back(angle.apex + reach * (std::cos(t) * u + std::sin(t) * v));
        }
        for (std::size_t i = 0; i + 1 < arc.size(); ++i) face({angle.apex, arc[i], arc[i + 1]}, 0.22f);
        stroke(arc);
    }

    void operator()(const ShownPlane& plane) {
        const Vec3 n = plane.normal.normalized();
        // Edges lie level where they can.
        Vec3 u = Vec3::UnitZ().cross(n);
        u = u.norm() > 1e-6 ? u.normalized() : Vec3::UnitX();
        const Vec3 v = n.cross(u), a = plane.half_size_mm * u, b = plane.half_size_mm * v;
        frame({plane.at - a - b, plane.at + a - b, plane.at + a + b, plane.at - a + b}, 0.16f);
    }

    void operator()(const ShownBand& band) {
        frame({band.low - band.across, band.low + band.across, band.high + band.across,
               band.high - band.across},
              0.20f);
    }

    void addTo(osg::Group& into) {
        // Faces first, then a pale halo, then the strokes.
        for (Layer* layer : {&faces_, &halo_, &strokes_}) {
            if (layer->mesh.triangles.empty()) continue;
            auto geometry = toGeometry(layer->mesh, colour_);
            auto& colours = static_cast<osg::Vec4Array&>(*geometry->getColorArray());
            for (std::size_t i = 0; i < colours.size(); ++i) colours[i].a() = layer->alpha[i];
            auto geode = geodeOf(geometry);
            geode->getOrCreateStateSet()->setRenderBinDetails(layer == &faces_  ? 60
                                                              : layer == &halo_ ? 61
                                                                                : 62,
                                                              "RenderBin");
            into.addChild(geode);
        }
    }

private:
    struct Layer {
        Mesh mesh;
        std::vector<float> alpha;
        void add(const Mesh& more, float a) {
            mesh.append(more);
            alpha.resize(mesh.corners.size(), a);
        }
    };

    void stroke(const std::vector<Vec3>& points) {
        halo_.add(rodMesh(points, 0.95 * size_, 10, false, kPale), 0.85f);
        strokes_.add(rodMesh(points, 0.5 * size_, 10, false, colour_), 1.0f);
    }

    void ball(const Vec3& at, double radius) {
        halo_.add(sphere(at, 1.35 * radius, kPale), 0.85f);
        strokes_.add(sphere(at, radius, colour_), 1.0f);
    }

    void arrow(const Vec3& tip, const Vec3& along) {
        Mesh cone;
        const Vec3 u = along.unitOrthogonal(), v = along.cross(u);
        const double length = 5 * size_, radius = 1.5 * size_;
        constexpr int kSides = 16;
        for (int i = 0; i <= kSides; ++i) {
            const double angle = 2 * kPi * i / kSides;
            const Vec3 out = std::cos(angle) * u + std::sin(angle) * v;
            for (const Vec3& p : {tip, Vec3(tip - length * along + radius * out)}) {
                MeshCorner corner;
                corner.at = p.cast<float>();
                corner.normal = out.cast<float>();
                cone.add(corner);
            }
        }
        for (std::uint32_t i = 0; i < kSides; ++i) cone.triangle(2 * i, 2 * i + 1, 2 * i + 3);
        cone.paint(colour_);
        strokes_.add(cone, 1.0f);
    }

    Mesh sphere(const Vec3& at, double radius, Rgb colour) const {
        Mesh mesh;
        constexpr int kRows = 10, kColumns = 16;
        for (int i = 0; i <= kRows; ++i)
            for (int k = 0; k <= kColumns; ++k) {
                const double latitude = kPi * (static_cast<double>(i) / kRows - 0.5),
                             longitude = -2 * kPi * k / kColumns;
                const Vec3 out(std::cos(latitude) * std::cos(longitude),
                               std::cos(latitude) * std::sin(longitude), std::sin(latitude));
                MeshCorner corner;
                corner.at = (at + radius * out).cast<float>();
                corner.normal = out.cast<float>();
                mesh.add(corner);
            }
        joinGrid(mesh, 0, kRows + 1, kColumns + 1);
        mesh.paint(colour);
        return mesh;
    }

    void face(const std::vector<Vec3>& ring, float alpha) {
        Mesh mesh;
        const Vec3 normal = (ring[1] - ring[0]).cross(ring[2] - ring[0]).normalized();
        for (const Vec3& p : ring) {
            MeshCorner corner;
            corner.at = p.cast<float>();
            corner.normal = normal.cast<float>();
            mesh.add(corner);
        }
        for (std::uint32_t i = 1; i + 1 < ring.size(); ++i) mesh.triangle(0, i, i + 1);
        mesh.paint(colour_);
        faces_.add(mesh, alpha);
    }

    void frame(std::vector<Vec3> ring, float alpha) {
        face(ring, alpha);
        ring.push_back(ring.front());
        for (std::size_t i = 0; i + 1 < ring.size(); ++i) {
            halo_.add(rodMesh({ring[i], ring[i + 1]}, 0.5 * size_, 8, false, kPale), 0.6f);
            strokes_.add(rodMesh({ring[i], ring[i + 1]}, 0.25 * size_, 8, false, colour_), 0.9f);
        }
    }

    static constexpr Rgb kPale{0.99f, 0.985f, 0.97f};
    Rgb colour_;
    double size_;
    Layer faces_, halo_, strokes_;
};

}  // namespace

void drawEvidence(osg::Group& into, const std::vector<ShownShape>& shapes, Rgb colour, double size_mm) {
    into.removeChildren(0, into.getNumChildren());
    EvidenceBuilder builder(colour, size_mm);
    for (const ShownShape& shape : shapes) std::visit(builder, shape);
    builder.addTo(into);
}

}  // namespace hoopwright
