// What the car stands on and is lit by: backdrop, ground with its grid and baked shadow, and the lamp's
// shadow map.
#pragma once

#include <osg/Camera>
#include <osg/Group>
#include <osg/Texture2D>
#include <osg/Uniform>

#include "render/ambient.h"
#include "render/look.h"
#include "render/shaders.h"

namespace hoopwright {

class Stage {
public:
    Stage();
    ~Stage();
    Stage(const Stage&) = delete;
    Stage& operator=(const Stage&) = delete;

    osg::Group* root() const { return root_; }
    osg::Group* lit() const { return lit_; }  ///< opaque things; they throw shadow and receive it
    const Programs& programs() const { return programs_; }

    void setViewport(int width_px, int height_px, double line_px);
    /// What is drawn is a part of a picture `whole_px` high, with `below_px` of it below the part.
    void setPart(int below_px, int whole_px);
    void setDark(bool dark);
    void setDraft(bool draft);
    void showGround(bool show);
    /// The ground's height and the middle of its pool of light.
    void setGround(double ground_z_mm, const Vec3& middle);
    void setGroundShadow(const GroundShadow& shadow);
    /// What the shadow map must cover; it is drawn once, with the next full frame in each context.
    void setLitBox(const Box& box);
    /// Nothing: the whole is drawn.
    void setSection(const std::optional<SectionCut>& cut);
    void redrawShadows();
    void contextRecreated();

private:
    class OnceEachChange;  // lets the shadow camera through only when something changed
    void makeShadowMap();
    void makeGround();

    Programs programs_;
    osg::ref_ptr<osg::Group> root_, lit_, shadow_gate_;
    osg::ref_ptr<osg::Camera> lamp_;
    osg::ref_ptr<osg::Texture2D> shadow_map_, ground_map_;
    osg::ref_ptr<osg::Geode> ground_, backdrop_;
    osg::ref_ptr<OnceEachChange> once_;
    osg::ref_ptr<osg::Uniform> viewport_, sheet_, line_px_, dark_, shadow_matrix_, ground_rect_,
        ground_middle_, section_;
    std::optional<SectionCut> cut_;
};

}  // namespace hoopwright
