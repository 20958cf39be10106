#include "render/scan_nodes.h"

#include <algorithm>
#include <osg/BlendFunc>
#include <osg/ColorMask>
#include <osg/CullFace>
#include <osg/Depth>
#include <osg/Uniform>

#include "core/mesh/clip.h"
#include "render/graph.h"

namespace hoopwright {
namespace {

constexpr int kDepthBin = 26, kColourBin = 27;  // after everything else of the car

/// About `middle`, so that what is far out in its own numbers stays sharp in floats. A scan's triangles face
/// any way: a corner's normal is that of most of the area round it.
Mesh toMesh(const TriangleMesh& scan, const Vec3& middle) {
    Mesh mesh;
    mesh.corners.resize(scan.vertices.size());
    for (std::size_t i = 0; i < scan.vertices.size(); ++i) {
        mesh.corners[i].at = (scan.vertices[i] - middle).cast<float>();
        mesh.corners[i].normal = Vec3f::Zero();
    }
    for (const Corners& t : scan.triangles) {
        const Vec3 &a = scan.vertices[t[0]], &b = scan.vertices[t[1]], &c = scan.vertices[t[2]];
        const Vec3f normal = (b - a).cross(c - a).cast<float>();
        for (const std::uint32_t corner : t) {
            Vec3f& sum = mesh.corners[corner].normal;
            sum += sum.dot(normal) < 0 ? Vec3f(-normal) : normal;
        }
        mesh.triangle(t[0], t[1], t[2]);
    }
    for (MeshCorner& corner : mesh.corners)
        corner.normal =
            corner.normal.squaredNorm() > 0 ? Vec3f(corner.normal.normalized()) : Vec3f(Vec3f::UnitZ());
    return mesh;
}

bool same(std::span<const HalfSpace> a, std::span<const HalfSpace> b) {
    return std::ranges::equal(
        a, b, [](const HalfSpace& one, const HalfSpace& two) { return one.p == two.p && one.n == two.n; });
}

/// Depth alone first, then the nearest face alone: one layer from every side, without sorting.
void addPasses(osg::Group& into, const TriangleMesh& scan, const Vec3& middle) {
    if (scan.triangles.empty()) return;
    osg::ref_ptr<osg::Geometry> geometry = toGeometry(toMesh(scan, middle), {});
    for (const bool colour : {false, true}) {
        auto geode = geodeOf(geometry);
        auto* state = geode->getOrCreateStateSet();
        state->setRenderBinDetails(colour ? kColourBin : kDepthBin, "RenderBin");
        state->setAttributeAndModes(new osg::Depth(osg::Depth::LEQUAL, 0, 1, !colour));
        if (colour) {
            state->setAttributeAndModes(
                new osg::BlendFunc(GL_ONE, GL_ONE_MINUS_SRC_ALPHA, GL_ONE, GL_ONE_MINUS_SRC_ALPHA));
        } else {
            state->setAttributeAndModes(new osg::ColorMask(false, false, false, false));
        }
        into.addChild(geode);
    }
}

osg::Matrixd matrixOf(const MeshPlacement& placement, const Vec3& middle) {
    const Vec3 shift = placement.toCar(middle);
    osg::Matrixd matrix;
    for (int row = 0; row < 3; ++row)
        for (int column = 0; column < 3; ++column)
            matrix(column, row) =
                placement.scale * placement.turn(row, column);  // OSG multiplies from the left
    matrix.setTrans(toOsgDouble(shift));
    return matrix;
}

}  // namespace

ScanNodes::ScanNodes(osg::Group* root, const Programs& programs)
    : programs_(programs), root_(new osg::Group) {
    root_->setName("scans");
    root_->setNodeMask(kShell);
    auto* state = root_->getOrCreateStateSet();
    state->setAttributeAndModes(programs_.shell);
    state->setMode(GL_CULL_FACE, osg::StateAttribute::OFF);
    state->addUniform(new osg::Uniform("nearer", 0.0f));
    root->addChild(root_);
}

void ScanNodes::make(Scan& scan) const {
    scan.fine->removeChildren(0, scan.fine->getNumChildren());
    scan.coarse->removeChildren(0, scan.coarse->getNumChildren());
    const Vec3 middle = scan.mesh->tree->bounds().center();
    const ScanMesh::Shown& shown = scan.mesh->shown();
    const TriangleMesh fine = scan.keep.empty() ? shown.fine : clipped(shown.fine, scan.keep);
    addPasses(*scan.fine, fine, middle);
    addPasses(*scan.coarse, scan.keep.empty() ? shown.coarse : clipped(shown.coarse, scan.keep), middle);
    scan.triangles = fine.triangles.size();
}

void ScanNodes::set(const Car& car, const ScanMeshes& meshes) {
    std::vector<Scan> next;
    for (const CarScan& one : car.scans) {
        const auto mesh = meshes.find(one.file);
        if (mesh == meshes.end() || !mesh->second) continue;
        const auto was = std::ranges::find(scans_, one.file, &Scan::file);
        Scan scan;
        const bool known = was != scans_.end() && was->mesh == mesh->second;
        if (known) scan = *was;
        const MeshPlacement placement = placedScan(one, mesh->second.get()).placement;
        const PlacedMesh placed(mesh->second->tree, placement, keptOf(one));
        scan.placement = placement;
        if (!known) {
            scan.file = one.file;
            scan.mesh = mesh->second;
            scan.place = new osg::MatrixTransform;
            scan.fine = new osg::Group;
            scan.coarse = new osg::Group;
            scan.place->addChild(scan.fine);
            scan.place->addChild(scan.coarse);
        }
        if (!known || !same(scan.keep, placed.keep())) {
            scan.keep.assign(placed.keep().begin(), placed.keep().end());
            make(scan);
        }
        const Box& own = scan.mesh->tree->bounds();
        scan.place->setMatrix(matrixOf(placement, own.center()));
        scan.box = Box();
        for (int i = 0; i < 8 && scan.triangles > 0; ++i)
            scan.box.extend(placement.toCar(own.corner(static_cast<Box::CornerType>(i))));
        if (one.box && !scan.box.isEmpty())
            scan.box = scan.box.intersection(Box(one.box->low, one.box->high));
        next.push_back(std::move(scan));
    }
    scans_ = std::move(next);
    root_->removeChildren(0, root_->getNumChildren());
    bounds_ = Box();
    for (const Scan& scan : scans_) {
        root_->addChild(scan.place);
        if (!scan.box.isEmpty()) bounds_.extend(scan.box);
    }
    setQuality(quality_);
}

void ScanNodes::dress(const std::vector<std::string>& selected, bool dark) {
    for (const Scan& scan : scans_) {
        const bool chosen = std::ranges::find(selected, scan.file) != selected.end();
        auto* state = scan.place->getOrCreateStateSet();
        const float grey = dark ? 0.62f : 0.56f;
        state->addUniform(
            new osg::Uniform("skin", osg::Vec4(grey, grey + 0.015f, grey + 0.03f, chosen ? 0.62f : 0.20f)));
        state->addUniform(new osg::Uniform("skin_edge", osg::Vec3(chosen ? 0.92f : 0.62f, 0.25f, 1.0f)));
    }
}

void ScanNodes::show(bool scans) {
    root_->setNodeMask(scans ? kShell : 0u);
}

void ScanNodes::setQuality(Quality quality) {
    quality_ = quality;
    for (const Scan& scan : scans_) {
        scan.fine->setNodeMask(quality == Quality::full ? ~0u : 0u);
        scan.coarse->setNodeMask(quality == Quality::full ? 0u : ~0u);
    }
}

Box ScanNodes::boundsOf(const std::string& file) const {
    const auto found = std::ranges::find(scans_, file, &Scan::file);
    return found == scans_.end() ? Box() : found->box;
}

std::size_t ScanNodes::triangles() const {
    std::size_t count = 0;
    for (const Scan& scan : scans_) count += scan.triangles;
    return count;
}

}  // namespace hoopwright
