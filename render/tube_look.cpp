// How tubes look: colours, hidden and see-through members, the selection.
#include <algorithm>
#include <osg/BlendFunc>
#include <osg/Depth>
#include <osg/Uniform>

#include "render/graph.h"
#include "render/tube_nodes.h"

namespace hoopwright {
namespace {

constexpr float kPaint = 3, kBareSteel = 1;  // kinds of surface of the shader: see shaders.cpp

Rgb colourOf(const ResolvedMember& member, const SceneLook& look, Mark mark) {
    switch (look.colouring) {
        case Colouring::by_place:
            return placeColour(roleOf(member.role).place);
        case Colouring::by_result:
            return markColour(mark);
        case Colouring::by_stock:
            return stockColour(member.stock);
        case Colouring::steel:
            break;
    }
    return {0.76f, 0.765f, 0.775f};
}

osg::ref_ptr<osg::Uniform> material(float metal, float rough, float kind, float opacity) {
    return new osg::Uniform("material", osg::Vec4(metal, rough, kind, opacity));
}

bool contains(const std::vector<std::string>& list, const std::string& id) {
    return std::find(list.begin(), list.end(), id) != list.end();
}

/// Blended, behind everything solid, without hiding what is inside.
void seeThrough(osg::StateSet& state, bool on) {
    if (!on) {
        state.removeAttribute(osg::StateAttribute::BLENDFUNC);
        state.setMode(GL_BLEND, osg::StateAttribute::OFF);
        state.removeAttribute(osg::StateAttribute::DEPTH);
        state.setRenderBinToInherit();
        return;
    }
    state.setAttributeAndModes(
        new osg::BlendFunc(GL_SRC_ALPHA, GL_ONE_MINUS_SRC_ALPHA, GL_ONE, GL_ONE_MINUS_SRC_ALPHA));
    state.setAttributeAndModes(new osg::Depth(osg::Depth::LEQUAL, 0, 1, false));
    state.setRenderBinDetails(12, "DepthSortedBin");
}

}  // namespace

void TubeNodes::dress(const CageGeometry& cage, const SceneLook& look, const std::vector<Mark>& marks,
                      const std::vector<std::string>& selected) {
    const bool steel = look.colouring == Colouring::steel;
    for (std::size_t i = 0; i < tubes_now_.size() && i < cage.members.size(); ++i) {
        Tube& tube = tubes_now_[i];
        const bool chosen = contains(selected, tube.id), clear = look.x_ray && !chosen;
        const Mark mark = i < marks.size() ? marks[i] : Mark::none;
        tube.colour = chosen ? selectedColour() : colourOf(cage.members[i], look, mark);
        choose(tube);
        const bool shown = !contains(look.hidden_members, tube.id);
        if (shown != tube.shown) unshaded_.push_back(tube.reach);  // it shades, or no longer does
        tube.shown = shown;
        const bool metal = steel && !chosen;
        auto* state = tube.node->getOrCreateStateSet();
        state->addUniform(material(metal ? 0.95f : 0.0f, metal ? 0.15f : 0.09f, metal ? kBareSteel : kPaint,
                                   clear ? 0.16f : 1.0f));
        seeThrough(*state, clear);
        tube.node->setNodeMask(tube.shown ? ~0u : 0u);
        tube.weld_node->setNodeMask(tube.shown && !clear ? ~0u : 0u);
        tube.outline_node->setNodeMask(tube.shown && !clear ? ~0u : 0u);
        auto* outline = tube.outline_node->getOrCreateStateSet();
        outline->addUniform(new osg::Uniform("outline_px", chosen ? 2.6f : 1.1f));
        outline->addUniform(new osg::Uniform(
            "outline_colour",
            chosen ? osg::Vec4(0.42f, 0.29f, 0.02f, 1)
                   : (look.dark ? osg::Vec4(0.02f, 0.02f, 0.025f, 1) : osg::Vec4(0.10f, 0.11f, 0.13f, 1))));
    }
}

std::size_t TubeNodes::triangles() const {
    std::size_t count = 0;
    for (const Tube& tube : tubes_now_) {
        if (!tube.shown) continue;
        const bool full = quality_ == Quality::full && tube.full;
        if (full)
            count += tube.mesh.triangleCount() + tube.weld.triangleCount();
        else if (tube.draft)
            count += triangleCount(*tube.draft);
    }
    return count;
}

}  // namespace hoopwright
