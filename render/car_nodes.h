// The car and its drivers in the scene.
#pragma once

#include <osg/Group>

#include "core/model/cage_geometry.h"
#include "render/scene.h"
#include "render/shaders.h"

namespace hoopwright {

class CarNodes {
public:
    CarNodes(osg::Group* lit, osg::Group* root, const Programs& programs);
    void set(const Car& car);
    void setDark(bool dark);
    void show(bool car);
    /// Skin and panes; draft leaves them out.
    void drawSkin(bool skin);
    const Box& bounds() const { return bounds_; }
    osg::Group* solid() const { return solid_; }  ///< rails and wheels
    osg::Group* skin() const { return skin_; }    ///< its first child holds the shell once

private:
    void setSkin(const Car& car);
    void setLines(const Car& car);

    Programs programs_;
    osg::ref_ptr<osg::Group> solid_, skin_, panes_, lines_, far_lines_;
    std::vector<osg::ref_ptr<osg::Uniform>> inks_;
    Car shown_;
    bool any_ = false;
    Box bounds_;
};

class DriverNodes {
public:
    DriverNodes(osg::Group* lit, osg::Group* root, const Programs& programs);
    /// The first driver of each seat sits there; helmets of others who share the seat are drawn as glass.
    void set(const std::vector<Driver>& drivers, const CageGeometry& cage);
    void show(bool drivers);
    void setQuality(Quality quality);
    osg::Group* solid() const { return solid_; }

private:
    Programs programs_;
    osg::ref_ptr<osg::Group> solid_, fine_, coarse_, belts_, ghosts_;
    std::vector<Driver> shown_;
    std::vector<double> bar_print_;
};

}  // namespace hoopwright
