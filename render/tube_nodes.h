// The tubes of the scene: one record a member, meshed anew only when its shape changed.
#pragma once

#include <map>
#include <optional>
#include <osg/Geode>
#include <osg/Group>
#include <osg/Texture2D>
#include <string>
#include <vector>

#include "core/model/cage_geometry.h"
#include "render/ambient.h"
#include "render/scene.h"
#include "render/tube_mesh.h"

namespace hoopwright {

/// A shape written down as numbers; equal numbers, equal mesh.
using ShapePrint = std::vector<double>;

/// What decides how tubes look: all of it is per resolved member, or about all of them.
struct TubeDress {
    const SceneLook& look;
    const std::vector<Mark>& marks;
    const std::vector<GapProfile>& gaps;
    const std::vector<BarPaint>& paints;
    const std::vector<std::string>& selected;
};

class TubeNodes {
public:
    /// `lit` takes the tubes and welds; `outlines` their outlines.
    TubeNodes(osg::Group* lit, osg::Group* outlines);

    /// New geometry: draft meshes of what changed now, full meshes put off to bake().
    void set(const CageGeometry& cage);
    /// Meshes, welds and baked light of everything that changed since; false if nothing had.
    bool bake(const CageGeometry& cage, double ground_z_mm);
    void setQuality(Quality quality);
    /// Colours, hidden members, x-ray, selection.
    void dress(const CageGeometry& cage, const TubeDress& dress);

    /// Of the members that are shown.
    std::vector<ShadeRod> capsules() const;
    /// What a section cuts: the mesh as it is drawn (whole once it was baked, else the draft's) and its
    /// colour, of the members that are shown.
    struct Solid {
        const osg::Geometry* geometry = nullptr;
        Rgb colour;
    };
    std::vector<Solid> solids() const;
    std::size_t triangles() const;

private:
    struct Tube {
        std::string id;
        ShapePrint own,
            whole;         // of the tube itself; with everything its ends are cut to and what lands on it
        ShapePrint baked;  // `whole` of the full mesh at hand
        Box reach;         // where it shades others
        Mesh mesh, weld;
        osg::ref_ptr<osg::Geode> node, outline_node, weld_node;
        osg::ref_ptr<osg::Geometry> draft, full, outline, weld_geometry;
        Rgb colour{1, 1, 1};
        bool shown = true;
        GapProfile strip_of;  // what `strip` shows, on a tube so long
        double strip_mm = 0;
        LengthUnit strip_unit = LengthUnit::mm;
        std::optional<BarPaint> rings_of;    // the same of a paint with rings
        osg::ref_ptr<osg::Texture2D> strip;  // colours along the tube
    };

    /// Tubes keep their record by id; what is gone is taken out of the graph.
    void keepRecords(const CageGeometry& cage);
    Tube newTube(const std::string& id);
    void makeDraft(Tube& tube, const ResolvedMember& member);
    void makeFull(Tube& tube, const CageGeometry& cage, int index);
    void shadeTube(Tube& tube, int index, double ground_z_mm);
    void choose(Tube& tube);
    static void paintStrip(Tube& tube, const GapProfile& gap, double length_mm, LengthUnit unit);
    static void paintRings(Tube& tube, const BarPaint& paint, double length_mm);

    osg::ref_ptr<osg::Group> tubes_, welds_, outlines_;
    std::vector<Tube> tubes_now_;
    std::vector<ShadeRod> capsules_;
    std::vector<std::size_t> first_capsule_;  // per tube, and one past the end
    std::vector<Box> unshaded_;               // where something moved since the last bake
    Quality quality_ = Quality::full;
    double baked_ground_z_ = 0;
};

}  // namespace hoopwright
