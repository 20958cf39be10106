#include "render/plate_nodes.h"

#include <algorithm>
#include <osg/Uniform>

#include "render/graph.h"
#include "render/plate_mesh.h"

namespace hoopwright {
namespace {

std::vector<double> printOf(const CageLayout& layout, const CageGeometry& cage) {
    std::vector<double> print;
    const auto note = [&](const Vec3& v) { print.insert(print.end(), {v.x(), v.y(), v.z()}); };
    for (const ResolvedPlate& plate : cage.plates) {
        note(plate.at);
        for (int i = 0; i < 3; ++i) note(plate.axes.col(i));
        print.insert(print.end(), {plate.thickness_mm, plate.riser_height_mm});
        for (const Vec2& p : plate.outline) print.insert(print.end(), {p.x(), p.y()});
        if (plate.layout < 0 || plate.layout >= static_cast<int>(layout.plates.size())) continue;
        const Plate& said = layout.plates[static_cast<std::size_t>(plate.layout)];
        print.insert(print.end(), {said.fixing == Fixing::bolted ? 1.0 : 0.0,
                                   static_cast<double>(said.bolts.count), said.bolts.diameter_mm});
        for (const Flap& flap : said.flaps)
            print.insert(print.end(), {static_cast<double>(flap.edge), flap.length_mm, flap.angle_rad});
        print.insert(print.end(), {said.bolts.pitch_mm.value_or(-1), said.bolts.edge_mm.value_or(-1)});
        if (said.backing)
            print.insert(print.end(),
                         {said.backing->length_mm, said.backing->width_mm, said.backing->thickness_mm});
    }
    for (const ResolvedGusset& gusset : cage.gussets) {
        for (const Vec3& corner : gusset.corners) note(corner);
        print.push_back(gusset.thickness_mm);
        if (gusset.layout < 0 || gusset.layout >= static_cast<int>(layout.gussets.size())) continue;
        const Gusset& said = layout.gussets[static_cast<std::size_t>(gusset.layout)];
        print.insert(print.end(), {said.formed ? 1.0 : 0.0, said.hole_mm.value_or(-1)});
        for (const int member : {gusset.member_a, gusset.member_b})
            print.push_back(cage.members[static_cast<std::size_t>(member)].radius_mm());
    }
    return print;
}

}  // namespace

PlateNodes::PlateNodes(osg::Group* lit) : plates_(new osg::Group) {
    plates_->setName("plates");
    plates_->setNodeMask(kPlates);
    plates_->getOrCreateStateSet()->addUniform(new osg::Uniform("material", osg::Vec4(0.85f, 0.30f, 0, 1)));
    lit->addChild(plates_);
}

void PlateNodes::set(const CageLayout& layout, const CageGeometry& cage) {
    std::vector<double> print = printOf(layout, cage);
    if (print == print_ && pieces_.size() == cage.plates.size() + cage.gussets.size()) return;
    print_ = std::move(print);
    plates_->removeChildren(0, plates_->getNumChildren());
    pieces_.clear();
    for (const ResolvedPlate& plate : cage.plates) {
        const bool known = plate.layout >= 0 && plate.layout < static_cast<int>(layout.plates.size());
        add(plate.id,
            plateMesh(plate, known ? &layout.plates[static_cast<std::size_t>(plate.layout)] : nullptr));
    }
    for (const ResolvedGusset& gusset : cage.gussets) {
        const bool known = gusset.layout >= 0 && gusset.layout < static_cast<int>(layout.gussets.size());
        add(gusset.id, known ? gussetMesh(gusset, gussetShape(cage, gusset)) : gussetMesh(gusset));
    }
    unshaded_ = true;
}

void PlateNodes::add(const std::string& id, Mesh mesh) {
    Piece piece;
    piece.id = id;
    piece.mesh = std::move(mesh);
    piece.node = new osg::Geode;
    piece.node->setName(id);
    if (!piece.mesh.triangles.empty()) {
        piece.geometry = toGeometry(piece.mesh, {0.70f, 0.70f, 0.69f});
        piece.node->addDrawable(piece.geometry);
    }
    plates_->addChild(piece.node);
    pieces_.push_back(std::move(piece));
}

bool PlateNodes::bake(const std::vector<ShadeRod>& tubes, double ground_z_mm) {
    if (!unshaded_) return false;
    for (Piece& piece : pieces_) {
        if (!piece.geometry) continue;
        Box reach = piece.mesh.bounds();
        reach.min() -= Vec3::Constant(static_cast<double>(kShadeReach_mm));
        reach.max() += Vec3::Constant(static_cast<double>(kShadeReach_mm));
        std::vector<ShadeRod> near;
        for (const ShadeRod& c : tubes) {
            Box box;
            box.extend(c.from.cast<double>()).extend(c.to.cast<double>());
            if (box.intersects(reach)) near.push_back(c);
        }
        shade(piece.mesh, 0, static_cast<std::uint32_t>(piece.mesh.corners.size()), -1, near, ground_z_mm);
        setLight(*piece.geometry, piece.mesh);
    }
    unshaded_ = false;
    return true;
}

void PlateNodes::dress(const std::vector<std::string>& selected, const SceneLook& look) {
    for (Piece& piece : pieces_) {
        if (!piece.geometry) continue;
        const bool chosen = std::find(selected.begin(), selected.end(), piece.id) != selected.end();
        setColour(*piece.geometry, chosen ? selectedColour() : Rgb{0.70f, 0.70f, 0.69f});
        auto* state = piece.node->getOrCreateStateSet();
        piece.node->setNodeMask(look.shows(piece.id) ? ~0u : 0u);
        state->addUniform(
            new osg::Uniform("material", chosen ? osg::Vec4(0, 0.12f, 3, 1) : osg::Vec4(0.85f, 0.30f, 0, 1)));
    }
}

void PlateNodes::show(bool plates) {
    plates_->setNodeMask(plates ? kPlates : 0u);
}

}  // namespace hoopwright
