#include "render/car_nodes.h"

#include <algorithm>
#include <osg/BlendFunc>
#include <osg/ColorMask>
#include <osg/CullFace>
#include <osg/Depth>
#include <osg/Uniform>

#include "render/car_body.h"
#include "render/graph.h"

namespace hoopwright {
namespace {

osg::ref_ptr<osg::Uniform> material(float metal, float rough, float kind = 0) {
    return new osg::Uniform("material", osg::Vec4(metal, rough, kind, 1));
}

void blend(osg::StateSet& state, int bin, bool depth_too = false) {
    state.setRenderBinDetails(bin, "RenderBin");
    // Colours come with their opacity multiplied in, so that reflections stay bright on thin glass.
    state.setAttributeAndModes(
        new osg::BlendFunc(GL_ONE, GL_ONE_MINUS_SRC_ALPHA, GL_ONE, GL_ONE_MINUS_SRC_ALPHA));
    state.setAttributeAndModes(new osg::Depth(osg::Depth::LEQUAL, 0, 1, depth_too));
}

/// Everything of one drawable under a shell look; its depth is taken `nearer` mm before it.
void glassLook(osg::StateSet& state, const osg::Vec4& skin, const osg::Vec3& edge, float nearer) {
    state.addUniform(new osg::Uniform("skin", skin));
    state.addUniform(new osg::Uniform("skin_edge", edge));
    state.addUniform(new osg::Uniform("nearer", nearer));
}

}  // namespace

CarNodes::CarNodes(osg::Group* lit, osg::Group* root, const Programs& programs)
    : programs_(programs),
      solid_(new osg::Group),
      skin_(new osg::Group),
      panes_(new osg::Group),
      lines_(new osg::Group),
      far_lines_(new osg::Group) {
    solid_->setName("rails and wheels");
    skin_->setName("skin");
    lines_->setName("body lines");
    solid_->setNodeMask(kCarLines);
    skin_->setNodeMask(kShell);
    lines_->setNodeMask(kCarLines);
    lit->addChild(solid_);
    root->addChild(skin_);
    far_lines_->setName("body lines through the skin");
    far_lines_->setNodeMask(kCarLines);
    root->addChild(lines_);
    root->addChild(far_lines_);
    panes_->setName("panes");
    panes_->setNodeMask(kCarLines);
    root->addChild(panes_);
    skin_->getOrCreateStateSet()->setAttributeAndModes(programs_.shell);
}

void CarNodes::set(const Car& car) {
    if (any_ && car == shown_) return;
    any_ = true;
    shown_ = car;
    bounds_ = Box();
    solid_->removeChildren(0, solid_->getNumChildren());
    Mesh rails, wheels;
    for (const FrameRail& rail : car.rails) rails.append(railMesh(rail));
    for (const Wheel& wheel : car.wheels) wheels.append(wheelMesh(wheel));
    if (!rails.triangles.empty()) {
        auto geode =
            geodeOf(toGeometry(rails, car.frame == Car::Frame::unibody ? Rgb{0.60f, 0.625f, 0.65f}
                                                                       : Rgb{0.235f, 0.245f, 0.26f}));
        geode->getOrCreateStateSet()->addUniform(material(0.0f, 0.35f, 3));
        solid_->addChild(geode);
        bounds_.extend(rails.bounds());
    }
    if (!wheels.triangles.empty()) {
        auto geode = geodeOf(toGeometry(wheels, {}));
        geode->getOrCreateStateSet()->addUniform(material(0.0f, 0.45f));
        solid_->addChild(geode);
        bounds_.extend(wheels.bounds());
    }
    setSkin(car);
    setLines(car);
}

void CarNodes::setSkin(const Car& car) {
    skin_->removeChildren(0, skin_->getNumChildren());
    const Mesh shell = bodyShell(car.shell);
    if (shell.triangles.empty()) return;
    bounds_.extend(shell.bounds());
    osg::ref_ptr<osg::Geometry> geometry = toGeometry(shell, {});
    // Back faces first, then the depth of the front faces alone, then the front faces where they are nearest:
    // right from every side without sorting.
    const auto pass = [&](int bin, osg::CullFace::Mode cull, bool colour, bool depth) {
        auto geode = geodeOf(geometry);
        auto* state = geode->getOrCreateStateSet();
        blend(*state, bin, depth);
        state->setAttributeAndModes(new osg::CullFace(cull));
        if (cull == osg::CullFace::FRONT) state->setDefine("BACK");
        if (!colour) state->setAttributeAndModes(new osg::ColorMask(false, false, false, false));
        skin_->addChild(geode);
    };
    pass(20, osg::CullFace::FRONT, true, false);
    pass(21, osg::CullFace::BACK, false, true);
    pass(22, osg::CullFace::BACK, true, false);
    glassLook(*skin_->getOrCreateStateSet(), {0.36f, 0.45f, 0.56f, 0.085f}, {0.38f, 1.0f, 0.40f}, 0.0f);
}

void CarNodes::setLines(const Car& car) {
    lines_->removeChildren(0, lines_->getNumChildren());
    far_lines_->removeChildren(0, far_lines_->getNumChildren());
    panes_->removeChildren(0, panes_->getNumChildren());
    inks_.clear();
    const std::vector<SmoothLine> all = smoothLines(car);
    const auto pane = [&](const Mesh& mesh, int bin, const osg::Vec4& skin, const osg::Vec3& edge) {
        if (mesh.triangles.empty()) return;
        auto geode = geodeOf(toGeometry(mesh, {}));
        auto* state = geode->getOrCreateStateSet();
        state->setAttributeAndModes(programs_.shell);
        blend(*state, bin);
        glassLook(*state, skin, edge, 3.0f);
        panes_->addChild(geode);
    };
    pane(panes(all, CarLine::Kind::floor), 18, {0.42f, 0.44f, 0.47f, 0.22f}, {0.30f, 0.25f, 1.0f});
    pane(panes(all, CarLine::Kind::glass), 23, {0.20f, 0.27f, 0.33f, 0.10f}, {0.42f, 1.5f, 1.0f});
    const auto strips = [&](osg::Group& into, CarLine::Kind kind, int bin, float width_px, float opacity) {
        std::vector<SmoothLine> some;
        for (const SmoothLine& line : all)
            if (line.kind == kind) some.push_back(line);
        if (some.empty()) return;
        auto geode = geodeOf(lineStrips(some));
        auto* state = geode->getOrCreateStateSet();
        state->setAttributeAndModes(programs_.line);
        blend(*state, bin);
        state->setAttributeAndModes(
            new osg::BlendFunc(GL_SRC_ALPHA, GL_ONE_MINUS_SRC_ALPHA, GL_ONE, GL_ONE_MINUS_SRC_ALPHA));
        state->addUniform(new osg::Uniform("width_px", width_px));
        state->addUniform(new osg::Uniform("nearer", 7.0f));
        osg::ref_ptr<osg::Uniform> ink =
            new osg::Uniform("line_colour", osg::Vec4(0.20f, 0.25f, 0.31f, opacity));
        state->addUniform(ink);
        inks_.push_back(ink);
        into.addChild(geode);
    };
    // Once before the skin, faint, for the far side; once after it, for the near side.
    for (const bool near_side : {false, true}) {
        osg::Group& into = near_side ? *lines_ : *far_lines_;
        const int bin = near_side ? 24 : 19;
        const float share = near_side ? 1.0f : 0.30f;
        strips(into, CarLine::Kind::body, bin, 2.3f, 0.66f * share);
        strips(into, CarLine::Kind::glass, bin, 2.0f, 0.60f * share);
        strips(into, CarLine::Kind::opening, bin, 2.0f, 0.60f * share);
    }
    strips(*lines_, CarLine::Kind::floor, 17, 1.6f, 0.34f);
}

void CarNodes::setDark(bool dark) {
    for (const auto& ink : inks_) {
        osg::Vec4 colour;
        ink->get(colour);
        const float v = dark ? 0.80f : 0.20f;
        ink->set(osg::Vec4(v, v + 0.04f, v + 0.09f, colour.a()));
    }
}

void CarNodes::show(bool car) {
    solid_->setNodeMask(car ? kCarLines : 0u);
    drawSkin(car);
    lines_->setNodeMask(car ? kCarLines : 0u);
}

void CarNodes::drawSkin(bool skin) {
    skin_->setNodeMask(skin ? kShell : 0u);
    panes_->setNodeMask(skin ? kCarLines : 0u);
    far_lines_->setNodeMask(skin ? kCarLines : 0u);  // without the skin the near lines show them
}

}  // namespace hoopwright
