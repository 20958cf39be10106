#include "app/window/driver_study.h"

#include <algorithm>

namespace hoopwright {
namespace {
constexpr int kIdle_ms = 150;
}

DriverStudy::DriverStudy(const Document& document, QObject* parent) : QObject(parent), document_(document) {
    idle_.setSingleShot(true);
    idle_.setInterval(kIdle_ms);
    connect(&idle_, &QTimer::timeout, this, [this] {
        if (!driverNamed(band_of_)) return;
        bandNow(band_of_);
        emit bandReady();
    });
    connect(&document, &Document::changed, this, [this](Document::Change change) {
        if (tried_on_.empty()) return;
        if (change == Document::Change::replaced || !driverNamed(tried_on_)) {
            tried_on_.clear();
            move_ = {};
            emit triedChanged();
        }
    });
}

const Driver* DriverStudy::driverNamed(const std::string& driver) const {
    const auto& all = document_.job().drivers;
    const auto found = std::find_if(all.begin(), all.end(), [&](const Driver& d) { return d.id == driver; });
    return found == all.end() ? nullptr : &*found;
}

DriverStudy::Known& DriverStudy::known(const std::string& driver) {
    if (of_ != document_.jobRef()) {
        of_ = document_.jobRef();
        known_.clear();
        effect_.reset();
    }
    return known_[driver];
}

const DriverReport* DriverStudy::report(const std::string& driver) {
    std::optional<DriverReport>& report = known(driver).report;
    if (!report) {
        const Driver* person = driverNamed(driver);
        if (!person) return nullptr;
        report = reportOn(*person, document_.job().car, document_.geometry());
    }
    return &*report;
}

const Expected<BeltBand>* DriverStudy::band(const std::string& driver) {
    if (const auto& band = known(driver).band) return &*band;
    band_of_ = driver;
    idle_.start();
    return nullptr;
}

const Expected<BeltBand>& DriverStudy::bandNow(const std::string& driver) {
    std::optional<Expected<BeltBand>>& band = known(driver).band;
    if (!band) band = beltBand(document_.tables(), document_.job(), document_.geometry(), driver);
    return *band;
}

const Expected<BeltSnap>& DriverStudy::snap(const std::string& driver) {
    std::optional<Expected<BeltSnap>>& snap = known(driver).snap;
    if (!snap) snap = snapBeltBar(document_.tables(), document_.job(), driver);
    return *snap;
}

QString DriverStudy::tryMove(const std::string& driver, const SeatMove& move) {
    const Driver* person = driverNamed(driver);
    if (!person) return {};
    if (const Expected<MovedDriver> moved = seatMoved(*person, move); !moved)
        return QString::fromStdString(moved.reason());
    const bool none = move == SeatMove{};
    const std::string on = none ? std::string() : driver;
    if (on == tried_on_ && move == move_) return {};
    tried_on_ = on;
    move_ = move;
    effect_.reset();
    emit triedChanged();
    return {};
}

SeatMove DriverStudy::tried(const std::string& driver) const {
    return driver == tried_on_ ? move_ : SeatMove{};
}

const SeatEffect* DriverStudy::effect(const std::string& driver) {
    if (!trying(driver)) return nullptr;
    known(driver);
    if (!effect_) {
        Expected<SeatEffect> effect =
            seatEffect(document_.tables(), document_.job(), document_.geometry(), driver, move_);
        if (!effect) return nullptr;
        effect_ = *std::move(effect);
    }
    return &*effect_;
}

Job DriverStudy::shown() {
    Job job = document_.job();
    const SeatEffect* effect = tried_on_.empty() ? nullptr : this->effect(tried_on_);
    for (Driver& driver : job.drivers)
        if (effect && driver.id == tried_on_) driver = effect->moved.driver;
    return job;
}

}  // namespace hoopwright
