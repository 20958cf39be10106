// How tubes look: colours, hidden and see-through members, the selection.
#include <algorithm>
#include <cmath>
#include <osg/BlendFunc>
#include <osg/Depth>
#include <osg/Uniform>

#include "render/graph.h"
#include "render/shaders.h"
#include "render/tube_nodes.h"

namespace hoopwright {
namespace {

constexpr float kPaint = 3, kBareSteel = 1, kStrip = 4;  // kinds of surface of the shader: see shaders.cpp

Rgb colourOf(const ResolvedMember& member, const SceneLook& look, Mark mark) {
    switch (look.colouring) {
        case Colouring::by_place:
            return placeColour(roleOf(member.role).place);
        case Colouring::by_result:
            return markColour(mark);
        case Colouring::by_stock:
            return stockColour(member.stock);
        case Colouring::by_gap:
            return noGapColour();
        case Colouring::by_role:
        case Colouring::by_state:
        case Colouring::steel:
            break;
    }
    return {0.76f, 0.765f, 0.775f};
}

osg::ref_ptr<osg::Uniform> material(float metal, float rough, float kind, float opacity) {
    return new osg::Uniform("material", osg::Vec4(metal, rough, kind, opacity));
}

osg::Vec4 outlineColour(const SceneLook& look, bool chosen, bool yellow) {
    if (chosen && yellow) return {0.42f, 0.29f, 0.02f, 1};
    const Rgb accent = selectedColour();
    if (chosen) return {accent.r, accent.g, accent.b, 1};
    return look.dark ? osg::Vec4(0.02f, 0.02f, 0.025f, 1) : osg::Vec4(0.10f, 0.11f, 0.13f, 1);
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

namespace {

osg::ref_ptr<osg::Texture2D> stripTexture(const std::vector<Rgb>& colours) {
    osg::ref_ptr<osg::Image> image = new osg::Image;
    image->allocateImage(static_cast<int>(colours.size()), 1, 1, GL_RGB, GL_UNSIGNED_BYTE);
    const auto byte = [](float share) { return static_cast<unsigned char>(std::lround(255 * share)); };
    unsigned char* to = image->data();
    for (const Rgb& c : colours)
        for (const float part : {c.r, c.g, c.b}) *to++ = byte(part);
    osg::ref_ptr<osg::Texture2D> strip = new osg::Texture2D(image);
    strip->setResizeNonPowerOfTwoHint(false);
    strip->setFilter(osg::Texture::MIN_FILTER, osg::Texture::LINEAR_MIPMAP_LINEAR);
    strip->setFilter(osg::Texture::MAG_FILTER, osg::Texture::LINEAR);
    for (const auto wrap : {osg::Texture::WRAP_S, osg::Texture::WRAP_T})
        strip->setWrap(wrap, osg::Texture::CLAMP_TO_EDGE);
    return strip;
}

}  // namespace

void TubeNodes::paintStrip(Tube& tube, const GapProfile& gap, double length_mm, LengthUnit unit) {
    if (tube.strip && !tube.rings_of && tube.strip_of == gap && tube.strip_mm == length_mm &&
        tube.strip_unit == unit)
        return;
    tube.strip = stripTexture(gapStrip(gap, length_mm, gapScale(unit)));
    tube.strip_of = gap;
    tube.strip_mm = length_mm;
    tube.strip_unit = unit;
    tube.rings_of.reset();
}

void TubeNodes::paintRings(Tube& tube, const BarPaint& paint, double length_mm) {
    if (tube.strip && tube.rings_of == paint && tube.strip_mm == length_mm) return;
    constexpr double kStretch_mm = 15;  // rings of two in every six
    const int count = std::clamp(static_cast<int>(length_mm / kStretch_mm), 1, 2048);
    std::vector<Rgb> colours;
    for (int i = 0; i < count; ++i) colours.push_back(i % 6 < 4 ? paint.colour : *paint.rings);
    tube.strip = stripTexture(colours);
    tube.rings_of = paint;
    tube.strip_mm = length_mm;
}

std::vector<TubeNodes::Solid> TubeNodes::solids() const {
    std::vector<Solid> all;
    for (const Tube& tube : tubes_now_) {
        const osg::Geometry* geometry = tube.full ? tube.full.get() : tube.draft.get();
        if (tube.shown && geometry) all.push_back({geometry, tube.colour});
    }
    return all;
}

void TubeNodes::dress(const CageGeometry& cage, const TubeDress& dress) {
    const SceneLook& look = dress.look;
    const bool steel = look.colouring == Colouring::steel, by_gap = look.colouring == Colouring::by_gap;
    for (std::size_t i = 0; i < tubes_now_.size() && i < cage.members.size(); ++i) {
        Tube& tube = tubes_now_[i];
        const bool chosen = contains(dress.selected, tube.id), clear = look.x_ray && !chosen;
        const Mark mark = i < dress.marks.size() ? dress.marks[i] : Mark::none;
        // A bar chosen for its gap goes on showing it.
        const bool yellow = chosen && !by_gap;
        const BarPaint* paint = !by_gap && !steel && i < dress.paints.size() ? &dress.paints[i] : nullptr;
        tube.colour = yellow  ? selectedColour()
                      : paint ? paint->colour
                              : colourOf(cage.members[i], look, mark);
        choose(tube);
        const bool shown = look.shows(tube.id);
        if (shown != tube.shown) unshaded_.push_back(tube.reach);  // it shades, or no longer does
        tube.shown = shown;
        const bool metal = steel && !chosen;
        const bool strip = by_gap && i < dress.gaps.size() && !dress.gaps[i].stations_mm.empty() &&
                           cage.members[i].line.length_mm() > 0;
        const bool rings = paint && paint->rings && !yellow && !clear && cage.members[i].line.length_mm() > 0;
        auto* state = tube.node->getOrCreateStateSet();
        if (strip || rings) {
            if (strip) paintStrip(tube, dress.gaps[i], cage.members[i].line.length_mm(), look.unit);
            if (rings) paintRings(tube, *paint, cage.members[i].line.length_mm());
            state->setTextureAttribute(kStripUnit, tube.strip);
        } else {
            state->removeTextureAttribute(kStripUnit, osg::StateAttribute::TEXTURE);
        }
        state->addUniform(material(metal ? 0.95f : 0.0f, metal ? 0.15f : 0.09f,
                                   strip || rings ? kStrip
                                   : metal        ? kBareSteel
                                                  : kPaint,
                                   clear ? 0.16f : 1.0f));
        seeThrough(*state, clear);
        tube.node->setNodeMask(tube.shown ? ~0u : 0u);
        tube.weld_node->setNodeMask(tube.shown && !clear ? ~0u : 0u);
        tube.outline_node->setNodeMask(tube.shown && !clear ? ~0u : 0u);
        auto* outline = tube.outline_node->getOrCreateStateSet();
        outline->addUniform(new osg::Uniform("outline_px", chosen ? (yellow ? 2.6f : 4.0f) : 1.1f));
        outline->addUniform(new osg::Uniform("outline_colour", outlineColour(look, chosen, yellow)));
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
