// A picture of a cage with its labels, without a window and without a display.
#pragma once

#include <QImage>
#include <memory>
#include <optional>
#include <string>
#include <vector>

#include "app/view/bar_gaps.h"
#include "app/view/overlay.h"
#include "app/view/palette.h"
#include "core/base/expected.h"
#include "core/base/progress.h"
#include "core/model/cage_geometry.h"
#include "render/scene.h"
#include "rules/finding.h"

namespace hoopwright {

struct PictureOptions {
    std::string view =
        "three_quarter";       ///< one of standardViews(); empty: for a finding, where it is seen best
    std::optional<View> from;  ///< in place of `view`: where it is seen from
    int width_px = 1920, height_px = 1080;
    bool labels = true;
    bool numbers = false;     ///< each bar's number in place of its name, of all bars, hidden or not
    SceneLook look;           ///< colouring, what is shown, dark or not
    std::vector<Mark> marks;  ///< per resolved member, for Colouring::by_result
    bool upright = false;     ///< perspective views with plumb lines upright
    bool dimensions = true;   ///< those pinned to the cage
    bool legend = false;      ///< what the colours of groups mean
    bool axes = true;         ///< the cross of the car's axes, in a corner
    bool written = true;      ///< false: nothing at all is written over it
    std::vector<std::string>
        selected;  ///< resolved ids drawn as chosen; with look.x_ray the others are ghosts
    std::vector<ShownShape> measures;  ///< drawn with their figures, in the colour of the accent
    std::optional<BandSign> band;      ///< where the belt bar may be
    std::optional<BarGaps> gaps;       ///< for Colouring::by_gap, with what the colours mean
    std::optional<Finding> finding;    ///< drawn with its evidence and card; its bars are lit up
    LengthStyle lengths;
    double writing = 1;  ///< times the usual size of what is written over it
    int supersample = 2;
};

/// One scene for several pictures: from other places, or with another finding's card.
class PictureMaker {
public:
    /// `job` and `cage` outlive it. @pre there is a QGuiApplication ("offscreen" will do) for the fonts
    PictureMaker(const Job& job, const CageGeometry& cage, PictureOptions options);
    ~PictureMaker();
    PictureMaker(const PictureMaker&) = delete;
    PictureMaker& operator=(const PictureMaker&) = delete;

    /// Where the options ask it to be seen from.
    View view() const;
    /// The same, once round in so many steps: about the middle of all there is, so far off that nothing
    /// leaves the picture. A kept view and the driver's turn on their own spot.
    std::vector<View> onceRound(int steps) const;
    /// Labels hold on to the places they had in the picture before. The reason says what is wrong with the
    /// options, what the machine lacks, or that `progress` wanted no more.
    Expected<QImage> draw(const View& view, const WorkProgress& progress = {});

private:
    struct Parts;
    std::unique_ptr<Parts> parts_;
};

/// Draws and labels it. Text is larger in larger pictures. The reason says what is wrong with the options or
/// what the machine lacks. @pre there is a QGuiApplication (platform "offscreen" will do) for the fonts.
Expected<QImage> composePicture(const Job& job, const CageGeometry& cage, const PictureOptions& options,
                                const WorkProgress& progress = {});

/// A bar's number: its place in build order, from 1. The same on pictures, drawings and papers.
std::vector<ViewLabel> numberLabels(const CageGeometry& cage);

/// The camera of a kept view.
View viewOf(const SavedView& kept);
SavedView savedView(std::string name, const View& view);

/// An image as PNG. Lossless; packed quickly rather than small.
QByteArray pngOf(const QImage& image);

}  // namespace hoopwright
