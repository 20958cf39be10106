#include "app/window/skin_gaps.h"

#include <algorithm>

namespace hoopwright {
namespace {

constexpr int kRest_ms = 120;

bool samePiece(const Piece& a, const Piece& b) {
    return a.kind == b.kind && a.start == b.start && a.tangent == b.tangent && a.length_mm == b.length_mm &&
           a.radius_mm == b.radius_mm && a.axis == b.axis;
}

bool sameBar(const ResolvedMember& a, const ResolvedMember& b) {
    return a.section.od_mm == b.section.od_mm &&
           std::ranges::equal(a.line.pieces(), b.line.pieces(), samePiece);
}

}  // namespace

const GapToSkin* MeasuredGaps::of(const std::string& member) const {
    const int at = cage.member(member);
    return at >= 0 && gaps[std::size_t(at)] ? &*gaps[std::size_t(at)] : nullptr;
}

MeasuredGapsRef measureGaps(JobRef job, CageGeometry cage, const MeasuredGapsRef& before) {
    auto now = std::make_shared<MeasuredGaps>();
    const bool same_skin =
        before && before->job->car == job->car && before->job->scan_meshes == job->scan_meshes;
    now->skin =
        same_skin ? before->skin : std::make_shared<const CarSkin>(carSkin(job->car, job->scan_meshes));
    now->job = std::move(job);
    now->cage = std::move(cage);
    std::vector<const ResolvedMember*> moved;
    std::vector<std::size_t> places;  // of those, in the cage
    now->gaps.resize(now->cage.members.size());
    for (std::size_t i = 0; i < now->gaps.size(); ++i) {
        const ResolvedMember& member = now->cage.members[i];
        const int was = same_skin ? before->cage.member(member.id) : -1;
        if (was >= 0 && sameBar(before->cage.members[std::size_t(was)], member)) {
            now->gaps[i] = before->gaps[std::size_t(was)];
        } else {
            moved.push_back(&member);
            places.push_back(i);
        }
    }
    auto gaps = gapsToSkin(moved, *now->skin);
    for (std::size_t i = 0; i < places.size(); ++i) now->gaps[places[i]] = std::move(gaps[i]);
    return now;
}

SkinGaps::SkinGaps(const Document& document) : document_(document) {
    worker_.setMaxThreadCount(1);
    rest_.setSingleShot(true);
    rest_.setInterval(kRest_ms);
    connect(&rest_, &QTimer::timeout, this, &SkinGaps::start);
    connect(&document_, &Document::changed, this, [this](Document::Change change) {
        if (change == Document::Change::replaced) {
            last_ = nullptr;
            ++opened_;
        }
        if (rest_.isActive()) rest_.start();  // the hand moves on
    });
}

SkinGaps::~SkinGaps() {
    worker_.waitForDone();
}

bool SkinGaps::current() const {
    return last_ && last_->job == document_.jobRef();
}

MeasuredGapsRef SkinGaps::ask() {
    if (current() || measuring_) return last_;
    const Job& now = document_.job();
    if (last_ && last_->job->scan_meshes == now.scan_meshes && last_->job->car == now.car) {
        rest_.stop();
        start();
    } else if (!rest_.isActive()) {
        rest_.start();
    }
    return last_;
}

void SkinGaps::start() {
    if (measuring_ || current()) return;
    measuring_ = document_.jobRef();
    worker_.start([this, job = measuring_, cage = document_.geometry(), before = last_, of = opened_] {
        MeasuredGapsRef done = measureGaps(job, cage, before);
        QMetaObject::invokeMethod(
            this,
            [this, done, of] {
                measuring_ = nullptr;
                if (of == opened_) last_ = done;
                emit changed();  // whoever still needs it asks again, and finds whether it is of now
            },
            Qt::QueuedConnection);
    });
}

}  // namespace hoopwright
