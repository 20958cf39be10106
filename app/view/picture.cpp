#include "app/view/picture.h"

#include <QBuffer>
#include <QPainter>
#include <algorithm>
#include <future>
#include <numbers>

#include "app/view/flight.h"
#include "app/view/overlay.h"
#include "app/view/rgb.h"
#include "app/view/sight.h"
#include "app/view/turntable.h"
#include "render/evidence.h"
#include "render/gl_context.h"
#include "render/still.h"

namespace hoopwright {
namespace {

constexpr int kLeast_px = 64;
constexpr double kMeasureWidth_mm = 7;

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

OverlayScene overlayFor(const Job& job, const CageGeometry& cage, const PictureOptions& options) {
    OverlayScene over;
    over.size = QSize(options.width_px, options.height_px);
    over.scale = options.writing *
                 std::clamp(std::min(options.width_px / 1400.0, options.height_px / 800.0), 0.8, 8.0);
    over.palette = paletteOf(options.look.dark ? Tone::dark : Tone::light);
    over.lengths = options.lengths;
    over.cage = &cage;
    over.look = &options.look;
    over.axes = options.axes;
    if (options.dimensions) over.dimensions = dimensionSigns(job, cage);
    if (options.legend && hasGroups(options.look.colouring))
        over.groups = barGroups(options.look.colouring, job, cage, options.marks);
    if (options.look.show_drivers && options.look.only.empty() && !job.drivers.empty())
        over.driver = &job.drivers.front();
    over.finding = options.finding;
    over.measures = options.measures;
    over.band = options.band;
    if (options.look.colouring == Colouring::by_gap) over.gaps = options.gaps;
    if (!options.labels) return over;
    if (options.numbers) {
        over.labels = numberLabels(cage);
    } else if (options.band) {
        if (const auto label = bandLabel(*options.band)) over.labels = {*label};
    } else if (!options.finding) {
        over.labels = barLabels(cage, options.lengths.unit, options.selected);
    } else if (!options.finding->evidence.members.empty()) {
        over.labels = barLabels(cage, options.lengths.unit, options.finding->evidence.members);
    }
    return over;
}

void lightUp(CageScene& scene, const Finding& finding, const Palette& palette) {
    std::vector<std::string> lit = finding.evidence.members;
    lit.insert(lit.end(), finding.evidence.plates.begin(), finding.evidence.plates.end());
    scene.setSelected(std::move(lit));
    drawEvidence(*scene.evidence(), finding.evidence.shapes, toRgb(palette.of(finding.answer)),
                 evidenceWidth_mm(finding));
}

}  // namespace

struct PictureMaker::Parts {
    const Job& job;
    const CageGeometry& cage;
    PictureOptions options;
    CageScene scene;
    OverlayScene over;
    Overlay overlay;
};

PictureMaker::PictureMaker(const Job& job, const CageGeometry& cage, PictureOptions options)
    : parts_(new Parts{job, cage, std::move(options), {}, {}, {}}) {
    const PictureOptions& asked = parts_->options;
    CageScene& scene = parts_->scene;
    SceneLook look = asked.look;
    look.unit = asked.lengths.unit;
    scene.setLook(look);
    scene.set(job, cage);
    scene.setMarks(asked.marks);
    if (hasGroups(look.colouring))
        scene.setPaints(barGroups(look.colouring, job, cage, asked.marks).paints());
    scene.setSelected(asked.selected);
    if (asked.gaps) scene.setGaps(asked.gaps->along);
    scene.setQuality(Quality::full);
    parts_->over = overlayFor(job, cage, asked);
    if (asked.finding) {
        lightUp(scene, *asked.finding, parts_->over.palette);
    } else if (!asked.measures.empty()) {
        drawEvidence(*scene.evidence(), asked.measures, toRgb(parts_->over.palette.accent_edge),
                     kMeasureWidth_mm);
    }
}

PictureMaker::~PictureMaker() = default;

View PictureMaker::view() const {
    const PictureOptions& asked = parts_->options;
    if (asked.from) return *asked.from;
    const double aspect = static_cast<double>(asked.width_px) / asked.height_px;
    const View view = viewNamed(asked.view.empty() ? "three_quarter" : asked.view, parts_->job, parts_->cage,
                                parts_->scene.bounds(), aspect, asked.upright);
    return asked.view.empty() && asked.finding
               ? viewOfFinding(*asked.finding, parts_->job, parts_->cage, view, aspect)
               : view;
}

std::vector<View> PictureMaker::onceRound(int steps) const {
    const PictureOptions& asked = parts_->options;
    const bool on_its_spot = asked.from || asked.finding || asked.view == "driver";
    const View from = on_its_spot
                          ? view()
                          : standBack(view(), parts_->scene.bounds(), asked.width_px, asked.height_px, steps);
    std::vector<View> views;
    for (int i = 0; i < steps; ++i) views.push_back(from.orbited(2 * std::numbers::pi * i / steps, 0));
    return views;
}

Expected<QImage> PictureMaker::draw(const View& view, const WorkProgress& progress) {
    const PictureOptions& asked = parts_->options;
    if (const auto wrong = whatIsWrong(asked)) return *wrong;
    // Labels find their places while the scene is drawn.
    std::future<Expected<Pixels>> drawn = std::async(std::launch::async, [&] {
        return still(parts_->scene, view, asked.width_px, asked.height_px, asked.supersample, progress);
    });
    parts_->over.view = view;
    if (asked.written) parts_->overlay.arrange(parts_->over);
    const Expected<Pixels> pixels = drawn.get();
    if (!pixels) return Reason{pixels.reason()};
    const QImage drawn_image(pixels->rgba.data(), pixels->width, pixels->height, 4 * pixels->width,
                             QImage::Format_RGBX8888);
    QImage image = drawn_image.copy();
    if (!asked.written) return image;
    QPainter painter(&image);
    parts_->overlay.paint(painter, parts_->over);
    return image;
}

Expected<QImage> composePicture(const Job& job, const CageGeometry& cage, const PictureOptions& options,
                                const WorkProgress& progress) {
    if (const auto wrong = whatIsWrong(options)) return *wrong;
    // The first context loads the renderer, which takes as long as building the scene: both at once.
    const auto renderer = std::async(std::launch::async, [] { return static_cast<bool>(GlContext::make()); });
    PictureMaker maker(job, cage, options);
    return maker.draw(maker.view(), progress);
}

std::vector<ViewLabel> numberLabels(const CageGeometry& cage) {
    std::vector<std::string> all;
    for (const ResolvedMember& member : cage.members) all.push_back(member.id);
    std::vector<ViewLabel> labels = barLabels(cage, LengthUnit::mm, all);
    for (ViewLabel& label : labels) {
        label.text = QString::number(cage.member(label.thing) + 1);
        label.sub_text.clear();
    }
    return labels;
}

View viewOf(const SavedView& kept) {
    View view;
    view.eye = kept.eye;
    view.target = kept.target;
    view.orthographic_height_mm = kept.orthographic_height_mm;
    view.upright = kept.upright;
    // From straight above or below the plan lies nose left, as the standard one does.
    if (view.sight().cross(Vec3::UnitZ()).norm() < 1e-6) view.up = -Vec3::UnitY();
    return view;
}

SavedView savedView(std::string name, const View& view) {
    return {std::move(name), view.eye, view.target, view.orthographic_height_mm, view.upright};
}

QByteArray pngOf(const QImage& image) {
    // Qt's "quality" of a PNG, which is lossless at any: packed in a third of the time, a fifth larger.
    constexpr int kQuickPng = 80;
    QByteArray bytes;
    QBuffer buffer(&bytes);
    buffer.open(QIODevice::WriteOnly);
    image.save(&buffer, "PNG", kQuickPng);
    return bytes;
}

}  // namespace hoopwright
