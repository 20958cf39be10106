// What is drawn over the picture: labels, one finding, measurements, axes, scale. The same for the window and
// for a PNG.
#pragma once

#include <QRectF>
#include <QString>
#include <map>
#include <string>
#include <vector>

#include "app/view/bar_gaps.h"
#include "app/view/bar_groups.h"
#include "app/view/dimension_sign.h"
#include "app/view/label_block.h"
#include "app/view/projection.h"
#include "app/view/section_sign.h"
#include "rules/belt_band.h"
#include "rules/finding.h"

class QPainter;

namespace hoopwright {

/// A label that names something. `thing` is a resolved member or plate id, or empty: that thing is never
/// covered, and on a member the label points at a part of it that can be seen. Of labels with the same
/// `one_of` only the nearest to the eye is drawn (one for a mirrored pair).
struct ViewLabel {
    Vec3 at = Vec3::Zero();
    std::string thing;
    std::string one_of;
    QString text, sub_text;
    QColor chip;               ///< not valid: none
    int rank = 10;             ///< lower numbers choose their place first
    bool even_hidden = false;  ///< drawn although other bars hide all of its thing
};

/// Names of bars in the person's unit, in build order: of all bars that can be seen (one of a mirrored
/// pair), or of those asked for by resolved id, hidden or not.
std::vector<ViewLabel> barLabels(const CageGeometry& cage, LengthUnit unit,
                                 const std::vector<std::string>& ids = {});

/// Places of the middle of the belt bar that the rules allow, seen from the side: outlines (x, z) on the
/// upright plane at `y_mm`, and where the bar is.
struct BandSign {
    double y_mm = 0;
    std::vector<std::vector<Vec2>> outlines;
    Vec2 bar_at = Vec2::Zero();
    double bar_radius_mm = 0;
    bool allowed = false;  ///< the bar is where it may be
};
/// On the plane through the middle of that driver's shoulders.
BandSign bandSign(const BeltBand& band, const Driver& driver);
/// What names it in the picture; nothing where no place is allowed.
std::optional<ViewLabel> bandLabel(const BandSign& band);

/// Everything the overlay shows at one moment.
struct OverlayScene {
    View view;
    QSize size;        ///< logical pixels
    double scale = 1;  ///< of text and signs
    Palette palette;
    LengthStyle lengths;
    const CageGeometry* cage = nullptr;  ///< not owned; may be null
    const Driver* driver = nullptr;      ///< not owned; hides what is behind; may be null
    std::vector<ViewLabel> labels;
    std::optional<Finding> finding;
    std::vector<ShownShape> measures;  ///< measured with no finding: their figures alone
    std::optional<BandSign> band;
    std::optional<BarGaps> gaps;      ///< what the colours mean while they show the gap
    std::optional<BarGroups> groups;  ///< what they mean while they show groups; without it no legend
    std::vector<DimensionSign> dimensions;
    std::optional<SectionSign> section;
    const SceneLook* look = nullptr;  ///< not owned; what it hides has no label; may be null
    std::vector<QRectF> taken;        ///< places kept free
    bool axes = true;                 ///< the cross of the car's axes
    QString prompt;                   ///< at the foot while something is asked of the person
    bool moving = false;              ///< labels hold on to what they point at
};

/// Keeps labels in place from one picture to the next.
class Overlay {
public:
    struct Shown {
        std::string key;
        QPointF anchor;
        LabelPlace place;
        LabelBlock block;
        bool points = true;  ///< false: it stands at its line and needs no leader
    };
    /// Works out where everything stands. Cost with 40 labels on 60 bars: < 6 ms.
    void arrange(const OverlayScene& scene);
    void paint(QPainter& painter, const OverlayScene& scene) const;
    const std::vector<Shown>& shown() const { return shown_; }

private:
    struct Kept {
        QPointF offset;         ///< middle of the box from its anchor
        double fraction = 0.5;  ///< of the member's length, where it points
    };
    struct Wanted;
    class Collector;

    std::vector<Shown> shown_;
    std::map<std::string, Kept> kept_;
};

/// A bar under the pointer: its outline in the accent, and its name beside the pointer.
struct HoverSign {
    std::vector<Stroke> outline;
    QString text;  ///< empty: it is named already
    QPointF pointer;
};
void paintHover(QPainter& painter, const HoverSign& sign, const OverlayScene& scene);

/// The band, under everything else, and the bar as a ring.
void paintBand(QPainter& painter, const OverlayScene& scene);

/// Axes of the car at the bottom left, and in a true orthographic view a scale bar at the bottom right.
void paintAxes(QPainter& painter, const OverlayScene& scene);
void paintScaleBar(QPainter& painter, const OverlayScene& scene);
/// The prompt, at the foot of the picture: a car stands on the ground, so that its bars and its roof stay
/// clear.
void paintPrompt(QPainter& painter, const OverlayScene& scene);
/// Between the axes and what stands at the right; empty while nothing is asked.
QRectF promptPlace(const OverlayScene& scene);
/// The places paintAxes(), paintScaleBar() and paintPrompt() draw in.
std::vector<QRectF> signPlaces(const OverlayScene& scene);
/// Round length for a scale bar of at most `widest_px`: 1, 2 or 5 times a power of ten in mm; whole inches
/// and feet.
double scaleBarLength_mm(double pixels_per_mm, double widest_px, LengthUnit unit);

}  // namespace hoopwright
