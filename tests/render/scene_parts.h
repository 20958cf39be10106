// Finding things in a built scene, as a person with a debugger would.
#pragma once

#include <map>
#include <osg/Geode>
#include <osg/Geometry>
#include <osg/NodeVisitor>
#include <string>
#include <vector>

#include "render/scene.h"

namespace hoopwright::testing_render {

/// The first group of that name, hidden or not; null if there is none.
inline osg::Group* named(const CageScene& scene, const std::string& name) {
    struct Finder : osg::NodeVisitor {
        explicit Finder(const std::string& wanted)
            : osg::NodeVisitor(TRAVERSE_ALL_CHILDREN), wanted_(wanted) {
            setNodeMaskOverride(~0u);
        }
        void apply(osg::Group& group) override {
            if (group.getName() == wanted_ && !found_) found_ = &group;
            traverse(group);
        }
        const std::string wanted_;
        osg::Group* found_ = nullptr;
    } finder(name);
    scene.root()->accept(finder);
    return finder.found_;
}

/// What each named geode of a group draws; null where it draws nothing.
inline std::map<std::string, osg::Geometry*> drawnIn(const CageScene& scene, const std::string& group) {
    std::map<std::string, osg::Geometry*> drawn;
    osg::Group* all = named(scene, group);
    for (unsigned i = 0; all && i < all->getNumChildren(); ++i) {
        osg::Geode* geode = all->getChild(i)->asGeode();
        drawn[geode->getName()] =
            geode->getNumDrawables() > 0 ? geode->getDrawable(0)->asGeometry() : nullptr;
    }
    return drawn;
}

/// Every geometry below a node that is not hidden.
inline std::vector<osg::Geometry*> geometriesBelow(osg::Node& node) {
    struct Collector : osg::NodeVisitor {
        Collector() : osg::NodeVisitor(TRAVERSE_ALL_CHILDREN) {}
        void apply(osg::Node& below) override {
            if (below.getNodeMask() != 0) traverse(below);
        }
        void apply(osg::Geometry& geometry) override { found_.push_back(&geometry); }
        std::vector<osg::Geometry*> found_;
    } collector;
    node.accept(collector);
    return collector.found_;
}

}  // namespace hoopwright::testing_render
