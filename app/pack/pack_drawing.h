// The cage in lines on the pages of the pack: views to scale with numbers, and a small picture of a finding.
#pragma once

#include <map>
#include <memory>
#include <string>
#include <vector>

#include "app/pack/pack.h"
#include "app/pack/pack_page.h"
#include "core/drawing/line_drawing.h"
#include "core/drawing/occluders.h"

namespace hoopwright {

/// Where a view stands on a page.
struct PlacedView {
    LineView view;
    double scale = 1;                              ///< of the cage, mm a mm of paper
    Vec2 corner = Vec2::Zero();                    ///< of what is drawn, on the page: left and top
    Vec2 low = Vec2::Zero(), high = Vec2::Zero();  ///< what is drawn, on the view's axes [mm]
    Vec2 on(const Vec3& p) const {
        const Vec2 flat = view.flat(p);
        return corner + Vec2(flat.x() - low.x(), high.y() - flat.y()) / scale;
    }
    Vec2 size_mm() const { return (high - low) / scale; }
};

class PackDrawer {
public:
    explicit PackDrawer(const InspectorPack& pack) : pack_(pack) {}

    /// Extent of all metal on the axes of a view; nothing is drawn yet.
    PlacedView placed(const LineView& view);
    /// Everything seen, in line; plates lightly tinted.
    void cage(PackPages& pages, const PlacedView& at);
    /// Numbers of the tubes this view shows well; all that are shown at all where `all`. Those numbered are
    /// kept.
    void numbers(PackPages& pages, const PlacedView& at, bool all);
    bool numbered(int member) const { return numbered_.contains(member); }
    /// Plates' numbers where their faces are seen and none was given yet.
    void plateNumbers(PackPages& pages, const PlacedView& at);
    /// Places where the wall is read: each in the view that shows it better.
    void spots(PackPages& pages, const std::vector<PlacedView>& views, std::size_t which);
    /// A length between two points, beside the view: `off_mm` right of it (upright) or under it (level).
    void overall(PackPages& pages, const PlacedView& at, bool upright, double off_mm,
                 const std::string& words);
    /// One that is pinned, where it is.
    void pinned(PackPages& pages, const PlacedView& at, const Vec3& from, const Vec3& to,
                const std::string& words);
    /// A finding's bars, what was measured on them and the figure, in a frame.
    void finding(PackPages& pages, const Vec2& corner, const Vec2& size, const Finding& finding,
                 const LengthStyle& style);

private:
    const std::vector<CageLine>& lines(const LineView& view);
    const Occluders& metal(const LineView& view);
    std::vector<Vec3> seenMiddles(const PlacedView& at, int member, double& share);

    const InspectorPack& pack_;
    std::map<std::string, std::vector<CageLine>> lines_;
    std::map<std::string, std::unique_ptr<Occluders>> metal_;
    std::map<int, bool> numbered_;
    std::map<int, bool> plates_numbered_;
};

/// The view that shows a finding's measurement best.
LineView viewOfFinding(const Finding& finding);

}  // namespace hoopwright
