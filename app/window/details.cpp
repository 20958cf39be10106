#include "app/window/details.h"

#include <QApplication>
#include <QTimer>
#include <algorithm>

#include "app/window/fact_rows.h"
#include "app/window/findings.h"
#include "app/window/form.h"
#include "app/window/form_help.h"
#include "app/window/lesson_rows.h"
#include "core/edit/cage_edits.h"

namespace hoopwright {
namespace {

QByteArray pathShape(const Member& member) {
    QByteArray shape = member.id.c_str();
    if (member.bent) shape += " bought" + QByteArray::number(qulonglong(member.bent->bends.size()));
    for (const MemberPoint& point : member.path) {
        shape += ' ' + QByteArray::number(int(point.place.index()));
        if (const auto* landing = std::get_if<Landing>(&point.place)) {
            shape += '/' + QByteArray::number(int(landing->by)) + (landing->from_last_end ? "e" : "");
        }
    }
    return shape;
}

QByteArray names(const Facts& facts) {
    QByteArray all;
    for (const auto& [name, fact] : facts)
        all += QByteArray(name.c_str()) + QByteArray::number(int(fact.value.index())) + ' ';
    return all;
}

QByteArray names(const std::vector<const FactWanted*>& wanted) {
    QByteArray all;
    for (const FactWanted* one : wanted) all += " ?" + QByteArray(one->name.c_str());
    return all;
}

QByteArray lessons(const Car& car, const std::string& about) {
    return " l" + QByteArray::number(qulonglong(lessonsAbout(car, about)));
}

QByteArray planeNames(const Car& car) {
    QByteArray all;
    for (const DatumPlane& plane : car.planes) all += ' ' + QByteArray(plane.name.c_str());
    return all;
}

QByteArray pointShape(const Car& car, const std::string& name) {
    const CarPoint* point = car.point(name);
    if (!point) return {};
    const auto* by = std::get_if<ByTapes>(&point->taken);
    return QByteArray::number(int(point->taken.index())) +
           QByteArray::number(qulonglong(by ? by->tapes.size() : 0));
}

QByteArray plateShape(const Plate& plate) {
    QByteArray shape = QByteArray(plate.id.c_str()) + ' ' + QByteArray::number(int(plate.at.index())) + ' ' +
                       QByteArray::number(qulonglong(plate.outline.size())) +
                       (plate.fixing == Fixing::bolted ? " b" : "") + (plate.backing ? " k" : "") +
                       (plate.riser ? " r" : "");
    for (const Flap& flap : plate.flaps) shape += " f" + QByteArray::number(int(flap.edge));
    return shape;
}

/// All that decides which rows a form of the thing has.
QByteArray shapeOf(const Desk& desk, const Thing& thing) {
    const Job& job = desk.document.job();
    const QByteArray head = QByteArray::number(int(thing.kind)) + ' ' + thing.id.c_str() + ' ';
    switch (thing.kind) {
        case Thing::Kind::member:
            return head + pathShape(memberOf(desk, layoutId(thing.id)));
        case Thing::Kind::plate:
            return head + plateShape(plateOf(desk, layoutId(thing.id)));
        case Thing::Kind::gusset:
            return head;
        case Thing::Kind::driver: {
            const Driver& driver = driverOf(desk, thing.id);
            return head + (driver.seat ? "s" : "") + (driver.steering_wheel ? "w" : "") +
                   (driver.figure.empty() ? "" : "f") + (driver.belts.shoulder_anchors ? "a" : "") +
                   QByteArray::number(qulonglong(driver.belts.lap_anchors.size()));
        }
        case Thing::Kind::car_facts:
            return head + names(job.car.facts) + lessons(job.car, {}) + planeNames(job.car);
        case Thing::Kind::car_point:
            return head + pointShape(job.car, thing.id) + lessons(job.car, thing.id);
        case Thing::Kind::car_line: {
            const CarLine* line = job.car.line(thing.id);
            return head + QByteArray::number(qulonglong(line ? line->points.size() : 0)) +
                   lessons(job.car, thing.id);
        }
        case Thing::Kind::car_scan:
            return head + scanShape(desk, thing.id);
        case Thing::Kind::dimension:
            return head + dimensionShape(desk, thing.id);
        case Thing::Kind::node:
            return head + nodeShape(desk, thing.id);
        case Thing::Kind::finding: {
            const Finding* finding = findFinding(desk.document.report(), thing.id);
            return head + (finding ? QByteArray::number(int(finding->answer)) : "gone") +
                   (finding && finding->ticked ? " ticked" : "") +
                   (finding ? names(factsNotSaid(desk, *finding)) : QByteArray()) +
                   QByteArray::number(qulonglong(job.cage.answers.size()));
        }
    }
    return head;
}

bool hasValue(const Form& form, const QString& name) {
    const auto fields = form.findChildren<ValueField*>();
    return std::ranges::any_of(fields, [&](const auto* one) { return one->accessibleName() == name; });
}

}  // namespace

Details::Details(Desk& desk, QWidget* parent) : QScrollArea(parent), desk_(desk) {
    setObjectName(QStringLiteral("card"));
    setWidgetResizable(true);
    setHorizontalScrollBarPolicy(Qt::ScrollBarAlwaysOff);
    setFrameShape(QFrame::NoFrame);
    setAccessibleName(tr("Details"));
    setMinimumWidth(340);
    connect(&desk_.selection, &Selection::changed, this, &Details::follow);
    connect(&desk_.document, &Document::changed, this, &Details::follow);
    connect(&desk_.study, &DriverStudy::triedChanged, this, &Details::follow);
    connect(&desk_.study, &DriverStudy::bandReady, this, &Details::follow);
    connect(&desk_.skin_gaps, &SkinGaps::changed, this, &Details::follow);
    connect(&desk_.scans, &ScanLoader::refused, this, &Details::follow);
    connect(&desk_.scans, &ScanLoader::stopped, this, &Details::follow);
    rebuild();
}

void Details::focusFirst() {
    for (QWidget* one : form_->findChildren<QWidget*>()) {
        if (one->focusPolicy() & Qt::TabFocus && one->isVisibleTo(form_)) {
            one->setFocus(Qt::TabFocusReason);
            return;
        }
    }
}

std::optional<Thing> Details::thing() const {
    if (const Thing* last = desk_.selection.last()) return *last;
    const Job& job = desk_.document.job();
    if (step_ == Step::car) return Thing{Thing::Kind::car_facts, "car"};
    if (step_ == Step::driver && !job.drivers.empty())
        return Thing{Thing::Kind::driver, job.drivers.front().id};
    return std::nullopt;
}

void Details::setStep(Step step) {
    step_ = step;
    follow();
}

QByteArray Details::shape() const {
    const auto members = desk_.selection.layoutIds(Thing::Kind::member);
    if (members.size() > 1) {
        QByteArray all = "many";
        for (const std::string& id : members) all += ' ' + QByteArray(id.c_str());
        return all;
    }
    const auto shown = thing();
    return shown ? shapeOf(desk_, *shown)
                 : (desk_.document.job().car.bodyLiftsOff() ? "job on frame " : "job ") +
                       names(desk_.document.job().cage.entry) + names(factsNotSaid(desk_));
}

void Details::follow() {
    if (shape() == shape_) {
        form_->refresh();
        return;
    }
    // Not now: the change may come from a field of the form that is about to go.
    if (waiting_) return;
    waiting_ = true;
    QTimer::singleShot(0, this, &Details::rebuild);
}

void Details::rebuild() {
    waiting_ = false;
    const QByteArray now = shape();
    if (now == shape_ && form_) {
        form_->refresh();
        return;
    }
    shape_ = now;
    const auto shown = thing();
    const bool another = shown != shown_;
    shown_ = shown;
    const QString on_tape = desk_.tape() ? desk_.tape().label : QString();
    const bool of_form = form_ && hasValue(*form_, on_tape);
    Form* next = make();
    if (QWidget* old = takeWidget()) {
        old->hide();
        old->deleteLater();
    }
    form_ = next;
    setWidget(next);
    next->show();
    // Where a free end lands, the row of its place is gone, and with it what the tape read there.
    const bool row_gone = !another && of_form && !hasValue(*form_, on_tape);
    if (!another && !row_gone) return;
    // A value elsewhere that has the keyboard keeps the tape.
    if (const auto* other = qobject_cast<ValueField*>(QApplication::focusWidget());
        other && !row_gone && !isAncestorOf(other) && other->window() == window())
        return;
    // The tape is never left on something the person has turned away from.
    desk_.putOnTape({});
    if (form_->fieldForTape()) form_->fieldForTape()->putOnTape();
}

Form* Details::make() const {
    const auto members = desk_.selection.layoutIds(Thing::Kind::member);
    if (members.size() > 1) return membersForm(desk_, members);
    const auto shown = thing();
    if (!shown) return jobForm(desk_);
    switch (shown->kind) {
        case Thing::Kind::member:
            return memberForm(desk_, shown->id);
        case Thing::Kind::plate:
            return plateForm(desk_, shown->id);
        case Thing::Kind::gusset:
            return gussetForm(desk_, shown->id);
        case Thing::Kind::driver:
            return driverForm(desk_, shown->id);
        case Thing::Kind::car_facts:
            return carForm(desk_);
        case Thing::Kind::car_point:
            return carPointForm(desk_, shown->id);
        case Thing::Kind::car_line:
            return carLineForm(desk_, shown->id);
        case Thing::Kind::car_scan:
            return scanForm(desk_, shown->id);
        case Thing::Kind::dimension:
            return dimensionForm(desk_, shown->id);
        case Thing::Kind::node:
            return nodeForm(desk_, shown->id);
        case Thing::Kind::finding:
            return findingForm(desk_, shown->id);
    }
    return jobForm(desk_);
}

}  // namespace hoopwright
