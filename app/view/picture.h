// A picture of a cage with its labels, without a window and without a display.
#pragma once

#include <QImage>
#include <optional>
#include <string>
#include <vector>

#include "app/view/bar_gaps.h"
#include "app/view/overlay.h"
#include "app/view/palette.h"
#include "core/base/expected.h"
#include "core/model/cage_geometry.h"
#include "render/scene.h"
#include "rules/finding.h"

namespace hoopwright {

struct PictureOptions {
    std::string view =
        "three_quarter";  ///< one of standardViews(); empty: for a finding, where it is seen best
    int width_px = 1920, height_px = 1080;
    bool labels = true;
    SceneLook look;           ///< colouring, what is shown, dark or not
    std::vector<Mark> marks;  ///< per resolved member, for Colouring::by_result
    bool upright = false;     ///< perspective views with plumb lines upright
    bool dimensions = true;   ///< those pinned to the cage
    bool legend = false;      ///< what the colours of groups mean
    std::vector<std::string>
        selected;                    ///< resolved ids drawn as chosen; with look.x_ray the others are ghosts
    std::optional<BandSign> band;    ///< where the belt bar may be
    std::optional<BarGaps> gaps;     ///< for Colouring::by_gap, with what the colours mean
    std::optional<Finding> finding;  ///< drawn with its evidence and card; its bars are lit up
    LengthStyle lengths;
    int supersample = 2;
};

/// Draws and labels it. Text is larger in larger pictures. The reason says what is wrong with the options or
/// what the machine lacks. @pre there is a QGuiApplication (platform "offscreen" will do) for the fonts.
Expected<QImage> composePicture(const Job& job, const CageGeometry& cage, const PictureOptions& options);

}  // namespace hoopwright
