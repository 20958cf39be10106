#include "app/view/picture.h"

#include <QPainter>
#include <algorithm>
#include <future>

#include "app/view/flight.h"
#include "app/view/overlay.h"
#include "app/view/sight.h"
#include "render/evidence.h"
#include "render/gl_context.h"
#include "render/still.h"

namespace hoopwright {
namespace {

constexpr int kLeast_px = 64;

std::optional<Reason> whatIsWrong(const PictureOptions& options) {
    const auto bad = [](int px) { return px < kLeast_px || px > kMostSide_px; };
    if (bad(options.width_px) || bad(options.height_px))
        return Reason{"A picture of " + std::to_string(options.width_px) + " x " +
                      std::to_string(options.height_px) + " pixels cannot be made: give " +
                      std::to_string(kLeast_px) + " to " + std::to_string(kMostSide_px) + " a side."};
    const auto& names = standardViews();
    if (options.view.empty() || std::find(names.begin(), names.end(), options.view) != names.end())
        return std::nullopt;
    std::string known;
    for (const auto& name : names) known += (known.empty() ? "" : ", ") + name;
    return Reason{"There is no view '" + options.view + "': give one of " + known + "."};
}

View viewFor(const CageScene& scene, const Job& job, const CageGeometry& cage,
             const PictureOptions& options) {
    const double aspect = static_cast<double>(options.width_px) / options.height_px;
    const View view = viewNamed(options.view.empty() ? "three_quarter" : options.view, job, cage,
                                scene.bounds(), aspect, options.upright);
    return options.view.empty() && options.finding ? viewOfFinding(*options.finding, job, cage, view, aspect)
                                                   : view;
}

OverlayScene overlayFor(const View& view, const Job& job, const CageGeometry& cage,
                        const PictureOptions& options) {
    OverlayScene over;
    over.view = view;
    over.size = QSize(options.width_px, options.height_px);
    over.scale = std::clamp(std::min(options.width_px / 1400.0, options.height_px / 800.0), 0.8, 4.0);
    over.palette = paletteOf(options.look.dark ? Tone::dark : Tone::light);
    over.lengths = options.lengths;
    over.cage = &cage;
    over.look = &options.look;
    if (options.dimensions) over.dimensions = dimensionSigns(job, cage);
    if (options.legend && hasGroups(options.look.colouring))
        over.groups = barGroups(options.look.colouring, job, cage, options.marks);
    if (options.look.show_drivers && options.look.only.empty() && !job.drivers.empty())
        over.driver = &job.drivers.front();
    over.finding = options.finding;
    over.band = options.band;
    if (options.look.colouring == Colouring::by_gap) over.gaps = options.gaps;
    if (!options.labels) return over;
    if (options.band) {
        if (const auto label = bandLabel(*options.band)) over.labels = {*label};
    } else if (!options.finding) {
        over.labels = barLabels(cage, options.lengths.unit, options.selected);
    } else if (!options.finding->evidence.members.empty()) {
        over.labels = barLabels(cage, options.lengths.unit, options.finding->evidence.members);
    }
    return over;
}

Rgb toRgb(const QColor& c) {
    return {static_cast<float>(c.redF()), static_cast<float>(c.greenF()), static_cast<float>(c.blueF())};
}

void lightUp(CageScene& scene, const Finding& finding, const Palette& palette) {
    std::vector<std::string> lit = finding.evidence.members;
    lit.insert(lit.end(), finding.evidence.plates.begin(), finding.evidence.plates.end());
    scene.setSelected(std::move(lit));
    drawEvidence(*scene.evidence(), finding.evidence.shapes, toRgb(palette.of(finding.answer)),
                 evidenceWidth_mm(finding));
}

}  // namespace

Expected<QImage> composePicture(const Job& job, const CageGeometry& cage, const PictureOptions& options) {
    if (const auto wrong = whatIsWrong(options)) return *wrong;
    // The first context loads the renderer, which takes as long as building the scene: both at once.
    const auto renderer = std::async(std::launch::async, [] { return static_cast<bool>(GlContext::make()); });
    CageScene scene;
    SceneLook look = options.look;
    look.unit = options.lengths.unit;
    scene.setLook(look);
    scene.set(job, cage);
    scene.setMarks(options.marks);
    if (hasGroups(look.colouring))
        scene.setPaints(barGroups(look.colouring, job, cage, options.marks).paints());
    scene.setSelected(options.selected);
    if (options.gaps) scene.setGaps(options.gaps->along);
    scene.setQuality(Quality::full);
    const View view = viewFor(scene, job, cage, options);
    const OverlayScene over = overlayFor(view, job, cage, options);
    if (options.finding) lightUp(scene, *options.finding, over.palette);
    // Labels find their places while the scene is drawn.
    std::future<Expected<Pixels>> drawn = std::async(std::launch::async, [&] {
        return still(scene, view, options.width_px, options.height_px, options.supersample);
    });
    Overlay overlay;
    overlay.arrange(over);
    const Expected<Pixels> pixels = drawn.get();
    if (!pixels) return Reason{pixels.reason()};
    const QImage drawn_image(pixels->rgba.data(), pixels->width, pixels->height, 4 * pixels->width,
                             QImage::Format_RGBX8888);
    QImage image = drawn_image.copy();
    QPainter painter(&image);
    overlay.paint(painter, over);
    return image;
}

}  // namespace hoopwright
