#include "app/view/view3d.h"

#include <QPainter>
#include <algorithm>

#include "app/view/overlay_widget.h"
#include "app/view/projection.h"
#include "app/view/rgb.h"
#include "app/view/sight.h"
#include "render/evidence.h"

namespace hoopwright {
namespace {

constexpr int kFlight_ms = 320, kFlightTick_ms = 12;
constexpr double kLiveMeasureWidth_mm = 6;

}  // namespace

View3d::View3d(QWidget* parent) : SceneSurface(parent), palette_(paletteOf(Tone::light)) {
    setFocusPolicy(Qt::StrongFocus);
    setMouseTracking(true);
    setMinimumSize(240, 160);
    setAccessibleName(tr("3D view"));
    setAccessibleDescription(
        tr("The cage in the car. Keys 1 to 8 choose a view, arrows turn it, F goes to what is selected."));
    over_ = new OverlayWidget(this, [this](QPainter& painter) { paintOverlay(painter); });
    flight_tick_.setTimerType(Qt::PreciseTimer);
    flight_tick_.setInterval(kFlightTick_ms);
    connect(&flight_tick_, &QTimer::timeout, this, &View3d::stepFlight);
}

View3d::~View3d() = default;

void View3d::setJob(const Job& job, CageGeometry cage) {
    job_ = job;
    cage_ = std::move(cage);
    hovered_ = {};
    scene().set(job_, cage_);
    if (!has_job_) {
        has_job_ = true;
        changeView(viewNamed("three_quarter", job_, cage_, scene().bounds(), aspect()));
        return;
    }
    sceneChanged();
}

void View3d::setLook(const SceneLook& look) {
    look_ = look;
    look_.unit = lengths_.unit;
    palette_ = paletteOf(look.dark ? Tone::dark : Tone::light);
    scene().setLook(look_);
    sceneChanged();
}

void View3d::setMarks(std::vector<Mark> marks) {
    scene().setMarks(std::move(marks));
    sceneChanged();
}

void View3d::setGaps(BarGaps gaps) {
    if (gaps == gaps_) return;
    gaps_ = std::move(gaps);
    scene().setGaps(gaps_.along);
    if (look_.colouring == Colouring::by_gap) sceneChanged();
}

void View3d::setGroups(std::optional<BarGroups> groups, bool legend) {
    groups_ = std::move(groups);
    legend_ = legend;
    scene().setPaints(groups_ ? groups_->paints() : std::vector<BarPaint>{});
    sceneChanged();
}

void View3d::setDimensions(std::vector<DimensionSign> dimensions) {
    if (dimensions.empty() && dimensions_.empty()) return;
    dimensions_ = std::move(dimensions);
    wake();
}

void View3d::setSelected(std::vector<std::string> ids) {
    if (ids == selected_) return;
    selected_ = ids;
    scene().setSelected(std::move(ids));
    sceneChanged();
}

void View3d::setLengths(const LengthStyle& lengths) {
    lengths_ = lengths;
    if (look_.unit != lengths.unit) return setLook(look_);
    wake();
}

void View3d::setLabels(std::vector<ViewLabel> labels) {
    labels_ = std::move(labels);
    wake();
}

void View3d::setTaken(std::vector<QRect> places) {
    taken_ = std::move(places);
    wake();
}

void View3d::showEvidence(const Finding& finding) {
    finding_ = finding;
    measures_.clear();
    scene().evidence()->removeChildren(0, scene().evidence()->getNumChildren());
    drawEvidence(*scene().evidence(), finding.evidence.shapes, toRgb(palette_.of(finding.answer)),
                 evidenceWidth_mm(finding));
    sceneChanged();
}

void View3d::showMeasures(const std::vector<ShownShape>& shapes) {
    finding_.reset();
    measures_ = shapes;
    scene().evidence()->removeChildren(0, scene().evidence()->getNumChildren());
    drawEvidence(*scene().evidence(), shapes, toRgb(palette_.action), kLiveMeasureWidth_mm);
    sceneChanged();
}

void View3d::setBand(std::optional<BandSign> band) {
    band_ = std::move(band);
    wake();
}

void View3d::setGrips(std::vector<Grip> grips) {
    if (grips == grips_) return;
    grips_ = std::move(grips);
    if (hot_grip_ >= static_cast<int>(grips_.size())) hot_grip_ = -1;
    over_->update();
}

void View3d::setPull(std::optional<PullSign> pull) {
    if (!pull && !pull_) return;
    pull_ = std::move(pull);
    wake();  // labels and cards keep off its number
}

void View3d::clearEvidence() {
    if (!finding_ && measures_.empty()) return;
    finding_.reset();
    measures_.clear();
    scene().evidence()->removeChildren(0, scene().evidence()->getNumChildren());
    sceneChanged();
}

double View3d::aspect() const {
    return static_cast<double>(std::max(1, width())) / std::max(1, height());
}

void View3d::changeView(const View& view) {
    const bool flat = orthographic(), was_upright = upright();
    hovered_ = {};
    setView(view);
    if (orthographic() != flat) emit orthographicChanged(orthographic());
    if (upright() != was_upright) emit uprightChanged(upright());
    emit viewChanged();
}

void View3d::jumpTo(const View& view) {
    flight_.reset();
    flight_tick_.stop();
    changeView(view);
}

void View3d::startFlight(const View& to) {
    if (!isVisible()) return jumpTo(to);
    flight_.emplace(view(), to);
    flight_clock_.start();
    flight_tick_.start();
}

void View3d::stepFlight() {
    if (!flight_) return flight_tick_.stop();
    const double t = static_cast<double>(flight_clock_.elapsed()) / kFlight_ms;
    const View next = flight_->at(t);
    if (t >= 1) {
        flight_.reset();
        flight_tick_.stop();
    }
    changeView(next);
}

void View3d::flyToBox(const Box& box) {
    if (!box.isEmpty()) startFlight(fitted(view(), box, aspect()));
}

void View3d::flyTo(const Vec3& point, double size_mm) {
    const Vec3 half = Vec3::Constant(std::max(1.0, size_mm) / 2);
    flyToBox(Box(point - half, point + half));
}

void View3d::flyToView(const std::string& name) {
    startFlight(viewNamed(name, job_, cage_, scene().bounds(), aspect(), upright()));
}

void View3d::flyToFinding(const Finding& finding) {
    startFlight(viewOfFinding(finding, job_, cage_, view(), aspect()));
}

Box View3d::boundsOfThing(const std::string& id) const {
    Box box;
    if (const int i = cage_.member(id); i >= 0) {
        const auto& member = cage_.members[static_cast<std::size_t>(i)];
        if (member.line.empty()) return box;
        box = member.line.bounds();
        const Vec3 round = Vec3::Constant(member.radius_mm());
        box = Box(box.min() - round, box.max() + round);
    } else if (const int p = cage_.plate(id); p >= 0) {
        const auto& plate = cage_.plates[static_cast<std::size_t>(p)];
        for (const auto& corner : plate.outline)
            box.extend(plate.at + plate.axes.col(0) * corner.x() + plate.axes.col(1) * corner.y());
    } else {
        box = scene().boundsOfScan(id);
    }
    return box;
}

void View3d::flyToThing(const std::string& id) {
    Box box = boundsOfThing(id);
    if (box.isEmpty()) return;
    // A small thing is shown with what is round it.
    const Vec3 half = Vec3::Constant(std::max(150.0, 0.15 * box.diagonal().norm()));
    box = Box(box.min() - half, box.max() + half);
    if (orthographic()) return flyToBox(box);  // who looks square on wants to go on doing so
    const int member = cage_.member(id);
    const std::vector<Vec3> seen = member >= 0
                                       ? pointsAlong(cage_.members[static_cast<std::size_t>(member)].line)
                                       : std::vector<Vec3>{box.center()};
    startFlight(viewOfLine(seen, box, job_, view(), aspect()));
}

void View3d::fitAll() {
    flyToBox(scene().bounds());
}

void View3d::fitSelected() {
    Box box;
    for (const auto& id : selected_) box.extend(boundsOfThing(id));
    if (box.isEmpty()) return fitAll();
    const Vec3 half = Vec3::Constant(std::max(150.0, 0.15 * box.diagonal().norm()));
    flyToBox(Box(box.min() - half, box.max() + half));
}

void View3d::setOrthographic(bool on) {
    if (on == orthographic()) return;
    jumpTo(on ? asOrthographic(view()) : asPerspective(view()));
}

void View3d::setUpright(bool on) {
    if (on == upright()) return;
    View next = view();
    next.upright = on;
    jumpTo(next);
}

std::optional<SectionSign> View3d::sectionSign() const {
    if (!look_.section) return std::nullopt;
    return SectionSign{*look_.section, scene().bounds(), hot_section_ || hand_ == Hand::cuts};
}

std::optional<QPointF> View3d::sectionHandlePosition() const {
    const auto sign = sectionSign();
    return sign ? sectionHandle(*sign, Projection(view(), size())) : std::nullopt;
}

void View3d::askForPoint(const QString& prompt) {
    prompt_ = prompt;
    setCursor(Qt::CrossCursor);
    wake();
}

QRect View3d::promptPlace() const {
    return hoopwright::promptPlace(overlayScene()).toAlignedRect();
}

void View3d::stopAsking() {
    prompt_.clear();
    unsetCursor();
    wake();
}

Picked View3d::pickAt(const QPointF& position) const {
    const Projection projection(view(), size());
    const auto [from, way] = projection.ray(position);
    // Exactly what is under the pointer first; else a thin tube within three pixels of it.
    if (const Picked exact = pick(cage_, from, way, 0, &look_)) return exact;
    return pick(cage_, from, way, 3 / projection.pixelsPerMm(view().target), &look_);
}

std::optional<QPointF> View3d::positionOf(const Vec3& point) const {
    return Projection(view(), size()).at(point);
}

void View3d::pictureChanges() {
    wake();
}

void View3d::wake() {
    overlay_stale_ = true;
    if (over_) over_->update();
}

OverlayScene View3d::overlayScene() const {
    OverlayScene s;
    s.view = view();
    s.size = size();
    s.palette = palette_;
    s.lengths = lengths_;
    s.cage = &cage_;
    if (look_.show_drivers && look_.only.empty() && !job_.drivers.empty()) s.driver = &job_.drivers.front();
    s.labels = labels_;
    s.finding = finding_;
    s.measures = measures_;
    s.band = band_;
    if (look_.colouring == Colouring::by_gap) s.gaps = gaps_;
    if (legend_ && hasGroups(look_.colouring)) s.groups = groups_;
    s.dimensions = dimensions_;
    s.section = sectionSign();
    s.look = &look_;
    for (const auto& place : taken_) s.taken.push_back(QRectF(place));
    if (pull_) s.taken.push_back(pullPlace(*pull_, grips_, s));
    s.prompt = prompt_;
    s.moving = moving();
    return s;
}

void View3d::paintOverlay(QPainter& painter) {
    const OverlayScene s = overlayScene();
    if (overlay_stale_) overlay_.arrange(s);
    overlay_stale_ = false;
    overlay_.paint(painter, s);
    if (hovered_) paintHover(painter, hoverSign(), s);
    paintGrips(painter, grips_, pull_ ? pull_->grip : hot_grip_, cage_, s);
    if (pull_) paintPull(painter, *pull_, grips_, s);
}

void View3d::resizeEvent(QResizeEvent* event) {
    SceneSurface::resizeEvent(event);
    over_->setGeometry(rect());
    wake();
}

}  // namespace hoopwright
