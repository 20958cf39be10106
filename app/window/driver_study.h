// What is measured of a person against the cage, kept until the job changes; and a seat move tried on.
#pragma once

#include <QObject>
#include <QTimer>
#include <map>
#include <optional>
#include <string>

#include "app/window/document.h"
#include "rules/belt_band.h"
#include "rules/seat_effect.h"

namespace hoopwright {

class DriverStudy : public QObject {
    Q_OBJECT
public:
    explicit DriverStudy(const Document& document, QObject* parent = nullptr);

    /// As the job is; null: there is no such driver. Pointers and references hold until the job changes.
    const DriverReport* report(const std::string& driver);
    /// Where the belt bar may be, worked out a moment after the last change (0.1 s of work): null until then,
    /// and bandReady() when it is there.
    const Expected<BeltBand>* band(const std::string& driver);
    const Expected<BeltBand>& bandNow(const std::string& driver);  ///< the same, at once
    const Expected<BeltSnap>& snap(const std::string& driver);

    /// Tries a seat move on one driver; of nothing: back to as it is. The sentence says why the seat cannot
    /// move so; then nothing changes.
    QString tryMove(const std::string& driver, const SeatMove& move);
    SeatMove tried(const std::string& driver) const;  ///< of nothing where none is tried on that driver
    bool trying(const std::string& driver) const { return !(tried(driver) == SeatMove{}); }
    const SeatEffect* effect(const std::string& driver);  ///< null: no move is tried on that driver
    /// The job as it is drawn: with the seat where it is tried.
    Job shown();

signals:
    void triedChanged();
    void bandReady();

private:
    struct Known {
        std::optional<DriverReport> report;
        std::optional<Expected<BeltBand>> band;
        std::optional<Expected<BeltSnap>> snap;
    };
    Known& known(const std::string& driver);
    const Driver* driverNamed(const std::string& driver) const;

    const Document& document_;
    QTimer idle_;
    std::string band_of_;  ///< whose band is worked out next
    JobRef of_;            ///< the job `known_` and `effect_` are of
    std::map<std::string, Known> known_;
    std::string tried_on_;
    SeatMove move_;
    std::optional<SeatEffect> effect_;
};

}  // namespace hoopwright
