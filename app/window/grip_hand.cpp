#include "app/window/grip_hand.h"

#include <QKeyEvent>
#include <QLineEdit>
#include <algorithm>
#include <cmath>

#include "app/view/projection.h"
#include "app/view/view3d.h"
#include "app/window/findings.h"
#include "app/window/form_help.h"
#include "app/window/style.h"
#include "core/edit/bar_track.h"
#include "core/edit/cage_edits.h"
#include "core/edit/hand_grain.h"
#include "core/edit/snap.h"

namespace hoopwright {
namespace {

constexpr double kSnap_px = 8, kNudge_mm = 1, kNudge_in = 25.4 / 16, kBig = 10;
constexpr int kBoxWide_px = 150;

QString undoWords(const Grip& grip, const QString& name, const QString& host) {
    switch (grip.kind) {
        case Grip::Kind::landing:
            return QObject::tr("Slide %1 on %2").arg(name, host);
        case Grip::Kind::node:
            return QObject::tr("Move what lands on %1").arg(name);
        case Grip::Kind::corner:
            return QObject::tr("Move a bend of %1").arg(name);
        case Grip::Kind::bar:
        case Grip::Kind::plate:
            return QObject::tr("Move %1").arg(name);
        case Grip::Kind::lean:
            break;
    }
    return QObject::tr("Lean %1").arg(name);
}

QString nameIn(const CageGeometry& cage, const std::string& id) {
    if (const int at = cage.member(id); at >= 0) return text(cage.members[std::size_t(at)].name).toLower();
    if (const int at = cage.plate(id); at >= 0) return text(cage.plates[std::size_t(at)].name).toLower();
    return text(id);
}

/// Unit directions a grip can be nudged in from where it is.
std::vector<Vec3> waysOf(const CageGeometry& cage, const Grip& grip, const Vec3& at) {
    const auto lineOf = [&](const std::string& id) -> const Centreline* {
        const int i = cage.member(id);
        return i < 0 ? nullptr : &cage.members[std::size_t(i)].line;
    };
    switch (grip.kind) {
        case Grip::Kind::landing:
        case Grip::Kind::node:
            if (const Centreline* host = lineOf(grip.host)) return {host->tangent(host->nearestStation(at))};
            return {};
        case Grip::Kind::bar:
            return {acrossBar(cage, grip)};
        case Grip::Kind::lean:
            return {grip.normal.cross(at - grip.pivot).normalized()};
        case Grip::Kind::corner:
        case Grip::Kind::plate:
            break;
    }
    std::vector<Vec3> ways;
    for (int axis = 0; axis < 3; ++axis) {
        const Vec3 in_plane = Vec3::Unit(axis) - grip.normal[axis] * grip.normal;
        if (in_plane.norm() > 0.7) ways.push_back(in_plane.normalized());
    }
    return ways;
}

}  // namespace

GripHand::GripHand(Desk& desk, View3d& view) : desk_(desk), view_(view), box_(new QLineEdit(&view)) {
    worker_.setMaxThreadCount(1);
    box_->setAccessibleName(tr("Number of the grip in hand"));
    box_->setFixedWidth(kBoxWide_px);
    box_->hide();
    connect(box_, &QLineEdit::returnPressed, this, &GripHand::takeBox);
    connect(&view_, &View3d::gripTaken, this, &GripHand::take);
    connect(&view_, &View3d::gripPulled, this, &GripHand::pull);
    connect(&view_, &View3d::gripLet, this, &GripHand::letGo);
    connect(&view_, &View3d::gripDropped, this, &GripHand::drop);
    connect(&view_, &View3d::gripNudged, this, &GripHand::nudge);
    connect(&view_, &View3d::typedAtGrip, this, &GripHand::openBox);
    connect(&desk_.selection, &Selection::changed, this, [this] {
        if (held_ && part() != held_->grip.part) held_.reset();
        showGrips();
    });
    connect(&desk_, &Desk::unitsChanged, this, &GripHand::tell);
    box_->installEventFilter(this);
}

GripHand::~GripHand() {
    worker_.waitForDone();
}

bool GripHand::eventFilter(QObject* watched, QEvent* event) {
    const bool press = event->type() == QEvent::KeyPress;
    if (!press && event->type() != QEvent::ShortcutOverride) return QObject::eventFilter(watched, event);
    if (static_cast<QKeyEvent*>(event)->key() != Qt::Key_Escape) return QObject::eventFilter(watched, event);
    event->accept();  // not the window's own Esc
    if (press) {
        box_->hide();
        view_.setFocus();
    }
    return true;
}

void GripHand::setOn(bool on) {
    on_ = on;
    if (!on) held_.reset();
    showGrips();
}

std::string GripHand::part() const {
    const Thing* last = desk_.selection.last();
    if (!on_ || desk_.selection.all().size() != 1) return {};
    return last->kind == Thing::Kind::member || last->kind == Thing::Kind::plate ? last->id : std::string();
}

void GripHand::showGrips() {
    const std::string chosen = part();
    // Undo, or another panel: what is held is not of this cage any more.
    if (held_ && !editing_ && desk_.document.jobRef() != held_->made) held_.reset();
    std::vector<Grip> grips;
    if (!chosen.empty()) grips = gripsOf(desk_.document.job(), desk_.document.geometry(), chosen);
    if (held_) held_->index = indexOfHeld(grips);
    if (held_ && held_->index >= 0) {
        held_->at = grips[std::size_t(held_->index)].at;
    } else {
        held_.reset();
    }
    view_.setGrips(std::move(grips));
    tell();
}

/// Nodes come and go as bars move: one held is the nearest of them, any other grip has its kind and point.
int GripHand::indexOfHeld(const std::vector<Grip>& grips) const {
    int best = -1;
    for (std::size_t i = 0; i < grips.size(); ++i) {
        if (grips[i].kind != held_->grip.kind) continue;
        const bool is_node = grips[i].kind == Grip::Kind::node;
        if (!is_node && grips[i].point != held_->grip.point) continue;
        const auto away = [&](std::size_t k) { return (grips[k].at - held_->at).norm(); };
        if (best < 0 || (is_node && away(i) < away(std::size_t(best)))) best = int(i);
    }
    return best;
}

void GripHand::take(int index) {
    if (std::size_t(index) >= view_.grips().size()) return;
    box_->hide();
    Held held;
    held.index = index;
    held.grip = view_.grips()[std::size_t(index)];
    held.job = held.made = desk_.document.jobRef();
    held.cage = desk_.document.geometry();
    held.key = desk_.document.newKey();
    held.at = held.grip.at;
    held.words = undoWords(held.grip, nameIn(held.cage, held.grip.part), nameIn(held.cage, held.grip.host));
    held.failing = failing(desk_.document.report());
    held_ = std::move(held);
    ++taken_;
    findRange();
    tell();
}

void GripHand::pull(const Vec3& from, const Vec3& way, bool free) {
    if (!held_) return;
    held_->dragged = true;
    Vec3 place = placeUnder(held_->cage, held_->grip, from, way);
    held_->why.clear();
    if (!free) {
        const double reach = kSnap_px / Projection(view_.view(), view_.size()).pixelsPerMm(place);
        auto snap = snapped(*held_->job, held_->cage, held_->grip, place, reach);
        const Vec3 under = place;
        const auto limit = [&](const GripLimit& one, const QString& words) {
            const double away = (one.at - under).norm();
            if (one.why.empty() || away > reach || (snap && away >= (snap->at - under).norm())) return;
            snap = Snap{one.at, words.arg(text(one.why)).toStdString()};
        };
        if (held_->range) {
            limit(held_->range->low, tr("limit: %1"));
            limit(held_->range->high, tr("limit: %1"));
            for (const GripLimit& mend : held_->range->mends) limit(mend, tr("holds from here: %1"));
        }
        if (snap) {
            place = snap->at;
            held_->why = text(snap->why);
        }
    }
    const double grain = handGrain_mm(desk_.units() == UnitsShown::in ? LengthUnit::in : LengthUnit::mm);
    // A place snapped to is kept as exactly as it was found.
    apply(pulled(*held_->job, held_->cage, held_->grip, place, held_->why.isEmpty() ? grain : 1e-3));
}

void GripHand::apply(const Expected<CageLayout>& cage) {
    held_->refused = cage ? QString() : text(cage.reason());
    if (cage) {
        held_->edited = true;
        editing_ = true;  // showGrips() is called by what follows from the edit
        desk_.document.edit(
            held_->words, [&](Job& job) { job.cage = *cage; }, held_->key);
        editing_ = false;
        if (held_) held_->made = desk_.document.jobRef();
    }
    if (!held_) return;
    tell();
    warn();
}

/// What failed since the grip was taken shows itself.
void GripHand::warn() {
    const CheckReport& now = desk_.document.report();
    for (const int i : worstFirst(now)) {
        const Finding& finding = now.findings[std::size_t(i)];
        if (failsAnew(finding, held_->failing)) return view_.showEvidence(finding);
    }
}

void GripHand::letGo(bool moved) {
    if (!held_) return;
    if (!moved) return view_.setFocus();
    held_.reset();
    tell();
}

void GripHand::drop() {
    if (!held_) return;
    const bool undo = held_->dragged && held_->edited;
    held_.reset();
    box_->hide();
    if (undo) desk_.document.undoStack().undo();
    tell();
}

void GripHand::nudge(int right, int up, bool big) {
    if (!held_) return;
    const CageGeometry& cage = desk_.document.geometry();
    const auto here = view_.positionOf(held_->at);
    if (!here) return;
    const double step = (desk_.units() == UnitsShown::in ? kNudge_in : kNudge_mm) * (big ? kBig : 1);
    Vec3 best = Vec3::Zero();
    double most = 0;
    for (const Vec3& way : waysOf(cage, held_->grip, held_->at)) {
        const auto there = view_.positionOf(held_->at + 20 * way);
        if (!there) continue;
        const double along = (there->x() - here->x()) * right - (there->y() - here->y()) * up;
        if (std::abs(along) <= most) continue;
        most = std::abs(along);
        best = along > 0 ? way : Vec3(-way);
    }
    if (most == 0) return;
    held_->why.clear();
    apply(pulled(*held_->job, held_->cage, held_->grip, held_->at + step * best, 1e-3));
}

void GripHand::openBox(const QString& first) {
    if (!held_) return;
    const auto at = view_.positionOf(held_->at);
    const QPoint place = at ? at->toPoint() + QPoint(18, 18) : QPoint(18, 18);
    box_->move(std::clamp(place.x(), 0, std::max(0, view_.width() - box_->width())),
               std::clamp(place.y(), 0, std::max(0, view_.height() - box_->sizeHint().height())));
    box_->setText(first);
    box_->show();
    box_->setFocus();
    box_->deselect();
}

void GripHand::takeBox() {
    if (!held_) return box_->hide();
    const auto numbers = numbersOf(*held_->job, held_->cage, held_->grip, held_->at);
    QString typed_text = box_->text().trimmed();
    std::size_t index = 0;
    if (numbers.size() > 1) {
        // "z 940" says which; a number alone is for the way the grip goes most.
        const auto named = std::ranges::find_if(numbers, [&](const GripNumber& number) {
            return typed_text.startsWith(text(number.name), Qt::CaseInsensitive);
        });
        if (named != numbers.end()) {
            index = std::size_t(named - numbers.begin());
            typed_text = typed_text.mid(int(named->name.size())).trimmed();
        } else {
            int axis = 0;
            held_->grip.normal.head(Eigen::Index(numbers.size())).cwiseAbs().minCoeff(&axis);
            index = std::size_t(axis);
        }
    }
    if (index >= numbers.size()) return;
    const Expected<double> value =
        readChange(typed_text, numbers[index].value, numbers[index].dimension, desk_.units());
    if (!value) {
        held_->refused = text(value.reason());
        return tell();
    }
    box_->hide();
    view_.setFocus();
    held_->why.clear();
    apply(typed(desk_.document.job(), desk_.document.geometry(), view_.grips()[std::size_t(held_->index)],
                index, *value));
}

void GripHand::findRange() {
    worker_.clear();
    worker_.start([this, of = taken_, tables = desk_.document.tables(), job = held_->job, cage = held_->cage,
                   grip = held_->grip] {
        auto range = gripRange(tables, *job, cage, grip);
        QMetaObject::invokeMethod(
            this,
            [this, of, range = std::move(range)] {
                if (of != taken_ || !held_) return;
                held_->range = range;
                tell();
            },
            Qt::QueuedConnection);
    });
}

QString GripHand::numberText() const {
    QStringList words;
    for (const GripNumber& number : numbersOf(*held_->job, held_->cage, held_->grip, held_->at))
        words << text(number.name) + QLatin1Char(' ') +
                     measureText(number.value, number.dimension, desk_.units());
    return words.join(QStringLiteral("   "));
}

void GripHand::tell() {
    if (!held_) {
        box_->hide();
        return view_.setPull(std::nullopt);
    }
    PullSign sign;
    sign.grip = held_->index;
    sign.number = numberText();
    sign.why = held_->why;
    sign.refused = held_->refused;
    if (held_->range) {
        sign.track = held_->range->track;
        sign.low = held_->range->low.at;
        sign.high = held_->range->high.at;
        sign.low_why = text(held_->range->low.why);
        sign.high_why = text(held_->range->high.why);
    }
    view_.setPull(std::move(sign));
}

}  // namespace hoopwright
