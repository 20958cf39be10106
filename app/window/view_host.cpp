#include "app/window/view_host.h"

#include <QAction>
#include <QGuiApplication>
#include <QHBoxLayout>
#include <QLabel>
#include <QLineF>
#include <QMenu>
#include <QTimer>
#include <QToolButton>
#include <QVBoxLayout>
#include <cmath>
#include <tuple>

#include "app/view/bar_marks.h"
#include "app/view/projection.h"
#include "app/view/view3d.h"
#include "app/window/draw_bar.h"
#include "app/window/findings.h"
#include "app/window/form_help.h"
#include "app/window/grip_hand.h"
#include "app/window/node_rows.h"
#include "app/window/scan_strip.h"
#include "app/window/section_strip.h"
#include "app/window/step_labels.h"
#include "app/window/style.h"

namespace hoopwright {
namespace {

constexpr int kSaid_ms = 8000;
constexpr double kPointSize_mm = 900;

}  // namespace

ViewHost::ViewHost(Desk& desk, QWidget* parent)
    : QWidget(parent),
      desk_(desk),
      bar_(new QWidget(this)),
      said_(new QLabel(this)),
      reading_(new ScanStrip(desk, this)) {
    auto* column = new QVBoxLayout(this);
    column->setContentsMargins(0, 0, 0, 0);
    if (SceneSurface::possibleHere()) {
        view_ = new View3d(this);
        view_->setAccessibleName(tr("3D view"));
        column->addWidget(view_);
        hand_ = std::make_unique<GripHand>(desk_, *view_);
        drawing_ = new DrawBar(desk_, *view_);
        connect(view_, &View3d::picked, this, &ViewHost::take);
        connect(view_, &View3d::pickedPoint, this, [this](const Picked& what) {
            if (what.member < 0) return;
            desk_.takePick(view_->cage().members[std::size_t(what.member)].id, what.at);
        });
        connect(view_, &View3d::askedAt, this, &ViewHost::takeAt);
        connect(view_, &View3d::askingStopped, &desk_, &Desk::dropPick);
        connect(view_, &View3d::sectionPulled, this, [this](double at_mm) {
            changeLook([&](SceneLook& look) {
                if (look.section) look.section->at_mm = std::round(at_mm);
            });
        });
        connect(view_, &View3d::dimensionPicked, this, [this](const std::string& id) {
            desk_.selection.set({Thing::Kind::dimension, id});
        });
        section_ = new SectionStrip(
            desk_, [this] { return view_->look().section; },
            [this](const std::optional<SectionCut>& cut) {
                changeLook([&](SceneLook& look) { look.section = cut; });
            },
            this);
        connect(section_, &SectionStrip::shownOrHidden, this, &ViewHost::arrange);
    } else {
        auto* plain = new QLabel(
            tr("This display cannot show the 3D view: it has no OpenGL. Everything else works."), this);
        plain->setAlignment(Qt::AlignCenter);
        plain->setWordWrap(true);
        plain->setMinimumSize(320, 160);
        column->addWidget(plain);
    }
    bar_->setObjectName(QStringLiteral("float"));
    bar_->setAttribute(Qt::WA_StyledBackground);
    auto* row = new QHBoxLayout(bar_);
    row->setContentsMargins(4, 2, 4, 2);
    row->setSpacing(0);
    said_->setProperty("role", "asks");
    said_->setAttribute(Qt::WA_TransparentForMouseEvents);
    said_->setWordWrap(true);
    said_->hide();
    connect(&desk_.document, &Document::changed, this, [this](Document::Change change) {
        if (change != Document::Change::saved) showJob();
        // A new job is looked at whole, once the window has its size.
        if (change == Document::Change::replaced && view_) QTimer::singleShot(0, view_, &View3d::fitAll);
    });
    connect(&desk_.selection, &Selection::changed, this, &ViewHost::showSelection);
    connect(&desk_, &Desk::pickChanged, this, &ViewHost::showPick);
    connect(&desk_, &Desk::unitsChanged, this, &ViewHost::showLabels);
    connect(&desk_.skin_gaps, &SkinGaps::changed, this, &ViewHost::showGaps);
    connect(&desk_, &Desk::say, this, &ViewHost::say);
    connect(reading_, &ScanStrip::shownOrHidden, this, &ViewHost::arrange);
    connect(&desk_, &Desk::flyTo, this, [this](const Vec3& at) {
        if (view_) view_->flyTo(at, kPointSize_mm);
    });
    connect(&desk_, &Desk::lookFrom, this, [this](const std::string& name) {
        if (view_) view_->flyToView(name);
    });
    connect(&desk_, &Desk::showMeasure, this, [this](const std::vector<ShownShape>& shapes, const Vec3& at) {
        if (!view_) return;
        view_->showMeasures(shapes);
        if (!shapes.empty()) view_->flyTo(at, kPointSize_mm);
    });
    connect(&desk_.study, &DriverStudy::triedChanged, this, &ViewHost::showJob);
    connect(&desk_.study, &DriverStudy::bandReady, this, &ViewHost::showLabels);
    connect(&desk_, &Desk::paletteChanged, this, [this] {
        changeLook([this](SceneLook& look) { look.dark = desk_.palette().tone == Tone::dark; });
    });
    if (view_) changeLook([this](SceneLook& look) { look.dark = desk_.palette().tone == Tone::dark; });
    showJob();
}

ViewHost::~ViewHost() = default;

const SceneLook* ViewHost::look() const {
    return view_ ? &view_->look() : nullptr;
}

void ViewHost::changeLook(const std::function<void(SceneLook&)>& change) {
    if (!view_) return;
    SceneLook look = view_->look();
    change(look);
    const bool recoloured = look.colouring != view_->look().colouring;
    view_->setLook(look);
    if (section_) section_->follow();
    showGaps();
    if (recoloured) showGroups();
}

void ViewHost::setDimensioned(bool on) {
    dimensioned_ = on;
    showDimensions();
}

void ViewHost::setLegend(bool on) {
    legend_ = on;
    showGroups();
}

void ViewHost::showDimensions() {
    if (!view_) return;
    const Thing* last = desk_.selection.last();
    const std::string chosen = last && last->kind == Thing::Kind::dimension ? last->id : std::string();
    view_->setDimensions(dimensioned_ && step_ != Step::car
                             ? dimensionSigns(desk_.document.job(), desk_.document.geometry(), chosen)
                             : std::vector<DimensionSign>{});
}

void ViewHost::showGroups() {
    if (!view_) return;
    const Colouring by = view_->look().colouring;
    std::optional<BarGroups> groups;
    if (hasGroups(by)) groups = barGroups(by, desk_.document.job(), desk_.document.geometry(), marks_);
    view_->setGroups(std::move(groups), legend_ && by != Colouring::by_place);
}

void ViewHost::cutAcross(int axis) {
    if (!view_) return;
    const auto now = view_->look().section;
    std::optional<SectionCut> cut;
    if (!now || now->axis != axis) {
        Box box;
        const CageGeometry& cage = view_->cage();
        for (const std::string& id : view_->selected())
            if (const int i = cage.member(id); i >= 0) box.extend(cage.members[std::size_t(i)].line.bounds());
        if (box.isEmpty())
            for (const ResolvedMember& member : cage.members) box.extend(member.line.bounds());
        cut.emplace();
        cut->axis = axis;
        cut->at_mm = box.isEmpty() ? 0 : std::round(box.center()[axis]);
        // What lies nearer to the eye goes.
        cut->keep_high = view_->view().sight()[axis] > 0;
    }
    changeLook([&](SceneLook& look) { look.section = cut; });
}

bool ViewHost::isolate(bool on) {
    if (!view_) return false;
    std::vector<std::string> only;
    if (on) only = view_->selected();
    std::erase_if(only, [this](const std::string& id) {
        return view_->cage().member(id) < 0 && view_->cage().plate(id) < 0;
    });
    if (on && only.empty()) {
        emit desk_.say(tr("Choose the bars that are to be seen alone, then I."));
        return false;
    }
    changeLook([&](SceneLook& look) { look.only = only; });
    showLabels();
    return true;
}

void ViewHost::setBar(const std::vector<QAction*>& actions) {
    for (QAction* action : actions) {
        auto* button = new QToolButton(bar_);
        button->setDefaultAction(action);
        button->setToolButtonStyle(Qt::ToolButtonTextOnly);
        if (action->menu()) button->setPopupMode(QToolButton::InstantPopup);
        button->setFocusPolicy(Qt::TabFocus);
        bar_->layout()->addWidget(button);
    }
    arrange();
}

void ViewHost::setStep(Step step) {
    step_ = step;
    if (hand_) hand_->setOn(step_ == Step::cage);
    showDimensions();
    showLabels();
}

void ViewHost::setLabelled(bool on) {
    labelled_ = on;
    showLabels();
}

void ViewHost::showJob() {
    if (!view_) return;
    const Document& document = desk_.document;
    view_->clearEvidence();
    view_->setJob(desk_.study.shown(), document.geometry());
    std::vector<Mark> marks;
    for (const ResolvedMember& member : document.geometry().members)
        marks.push_back(markOf(worstOf(document.report(), member.id)));
    marks_ = marks;
    view_->setMarks(std::move(marks));
    showGroups();
    showDimensions();
    hand_->showGrips();
    showGaps();
    showLabels();
    const Thing* last = desk_.selection.last();
    if (last && last->kind == Thing::Kind::finding) {
        if (const Finding* finding = findFinding(document.report(), last->id)) view_->showEvidence(*finding);
    }
}

void ViewHost::showSelection() {
    if (!view_) return;
    std::vector<std::string> ids = desk_.selection.ids(Thing::Kind::member);
    const auto plates = desk_.selection.ids(Thing::Kind::plate);
    ids.insert(ids.end(), plates.begin(), plates.end());
    const auto scans = desk_.selection.ids(Thing::Kind::car_scan);
    ids.insert(ids.end(), scans.begin(), scans.end());
    const Thing* last = desk_.selection.last();
    const Finding* finding =
        last && last->kind == Thing::Kind::finding ? findFinding(desk_.document.report(), last->id) : nullptr;
    const auto node = last && last->kind == Thing::Kind::node ? nodeThing(desk_, last->id) : std::nullopt;
    showDimensions();
    if (node) {
        view_->setSelected(node->members);
        view_->showMeasures(node->shapes);
        Box box;
        for (const ShownShape& shape : node->shapes) {
            if (const auto* point = std::get_if<ShownPoint>(&shape)) box.extend(point->at);
            if (const auto* line = std::get_if<ShownLine>(&shape))
                box.extend(line->from), box.extend(line->to);
        }
        constexpr double kAround_mm = 700;
        view_->flyTo(box.isEmpty() ? node->at : Vec3(box.center()),
                     std::max(kAround_mm, box.isEmpty() ? 0 : 1.5 * box.diagonal().norm()));
    } else if (finding) {
        ids = finding->evidence.members;
        view_->setSelected(ids);
        view_->showEvidence(*finding);
        const Evidence& seen = finding->evidence;
        if (seen.shapes.empty() && seen.members.empty() && seen.plates.empty() && seen.driver.empty()) {
            view_->fitAll();  // it is about the whole cage
        } else {
            view_->flyToFinding(*finding);
        }
    } else {
        view_->clearEvidence();
        view_->setSelected(ids);
    }
    showLabels();
}

void ViewHost::showPick() {
    if (!view_) return;
    if (desk_.picking()) {
        view_->askForPoint(desk_.pickAsks());
        view_->setFocus();
    } else if (view_->asking()) {
        view_->stopAsking();
    }
    arrange();
}

void ViewHost::setBanded(bool on) {
    banded_ = on;
    showLabels();
}

std::optional<BandSign> ViewHost::bandNow() {
    const std::string id = banded_ && step_ == Step::driver ? shownDriver(desk_) : std::string();
    if (id.empty()) return std::nullopt;
    const Expected<BeltBand>* band = desk_.study.band(id);
    if (!band || !*band) return std::nullopt;
    return bandSign(**band, driverOf(desk_, id));
}

void ViewHost::showLabels() {
    if (!view_) return;
    LengthStyle lengths;
    lengths.unit = desk_.units() == UnitsShown::in ? LengthUnit::in : LengthUnit::mm;
    lengths.fraction = desk_.units() == UnitsShown::in ? 16 : 0;
    view_->setLengths(lengths);
    std::vector<ViewLabel> labels;
    if (labelled_) labels = stepLabels(desk_, step_, lengths.unit);
    std::optional<BandSign> band = bandNow();
    if (band && labelled_)
        if (const auto label = bandLabel(*band)) labels.push_back(*label);
    view_->setLabels(std::move(labels));
    view_->setBand(std::move(band));
}

void ViewHost::showGaps() {
    if (!view_ || view_->look().colouring != Colouring::by_gap) return;
    const MeasuredGapsRef known = desk_.skin_gaps.ask();
    BarGaps gaps;
    if (known) gaps = barGaps(known->cage, *known->skin, known->gaps);
    // Until the cage of now is measured, its bars wear what they had.
    std::vector<GapProfile> along;
    for (const ResolvedMember& member : view_->cage().members) {
        const int was = known ? known->cage.member(member.id) : -1;
        along.push_back(was >= 0 ? gaps.along[std::size_t(was)] : GapProfile{});
    }
    gaps.along = std::move(along);
    view_->setGaps(std::move(gaps));
}

void ViewHost::take(const Picked& what) {
    const bool more = QGuiApplication::keyboardModifiers() & (Qt::ControlModifier | Qt::ShiftModifier);
    if (!what) {
        if (!more) desk_.selection.clear();
        return;
    }
    const CageGeometry& cage = view_->cage();
    const Thing thing = what.member >= 0
                            ? Thing{Thing::Kind::member, cage.members[std::size_t(what.member)].id}
                            : Thing{Thing::Kind::plate, cage.plates[std::size_t(what.plate)].id};
    if (more) {
        desk_.selection.toggle(thing);
    } else {
        desk_.selection.set(thing);
    }
}

void ViewHost::takeAt(const QPointF& position) {
    if (!desk_.wantsSight()) return;
    constexpr double kReach_px = 16;
    LineOfSight sight;
    std::tie(sight.from, sight.way) = Projection(view_->view(), view_->size()).ray(position);
    double nearest = kReach_px;
    for (const CarPoint& point : desk_.document.job().car.points) {
        const auto at = view_->positionOf(point.at);
        if (!at || QLineF(*at, position).length() >= nearest) continue;
        nearest = QLineF(*at, position).length();
        sight.car_point = point.name;
    }
    desk_.takeSight(sight);
}

void ViewHost::say(const QString& sentence) {
    said_->setText(sentence);
    said_->setVisible(!sentence.isEmpty());
    arrange();
    QTimer::singleShot(kSaid_ms, said_, [this, sentence] {
        if (said_->text() == sentence) said_->hide();
    });
}

void ViewHost::resizeEvent(QResizeEvent*) {
    arrange();
}

void ViewHost::arrange() {
    bar_->adjustSize();
    bar_->move(2 * kGrid, 2 * kGrid);
    bar_->raise();
    const int most = std::min(width() - 4 * kGrid, 640);
    said_->setMaximumWidth(most);
    said_->setMinimumWidth(std::min(most, said_->fontMetrics().horizontalAdvance(said_->text()) + 32));
    said_->adjustSize();
    // Above what is asked.
    const int asked = view_ && view_->asking() ? view_->promptPlace().height() + kGrid : 0;
    said_->move((width() - said_->width()) / 2, height() - said_->height() - asked - 2 * kGrid);
    said_->raise();
    reading_->adjustSize();
    reading_->move((width() - reading_->width()) / 2, height() / 2 - reading_->height());
    reading_->raise();
    if (section_) {
        section_->adjustSize();
        section_->move(2 * kGrid, bar_->geometry().bottom() + kGrid);
        section_->raise();
    }
    std::vector<QRect> taken{bar_->geometry()};
    if (section_ && !section_->isHidden()) taken.push_back(section_->geometry());
    if (view_) view_->setTaken(std::move(taken));
}

}  // namespace hoopwright
