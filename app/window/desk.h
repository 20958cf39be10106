// What every panel of one window shares: the job, what is chosen, the units, the colours, the tape.
#pragma once

#include <QObject>
#include <QPointer>
#include <functional>
#include <optional>

#include "app/view/palette.h"
#include "app/window/document.h"
#include "app/window/driver_study.h"
#include "app/window/measures.h"
#include "app/window/scan_loader.h"
#include "app/window/selection.h"
#include "app/window/skin_gaps.h"
#include "core/model/node_report.h"
#include "core/survey/car_report.h"

namespace hoopwright {

/// The value under the tape. `get` gives nothing once the thing is gone.
struct OnTape {
    QString label;  ///< "Belt bar, height"
    std::function<std::optional<double>()> get;
    std::function<void(double mm, const QByteArray& key)> set;
    explicit operator bool() const { return get && set; }
};

/// Takes a value picked in the 3D view: the resolved member and the place on it.
using PickTaker = std::function<void(const std::string& member, const Vec3& at)>;

/// Where a click in the 3D view looked: along which line, and which car point is under the pointer (empty:
/// none).
struct LineOfSight {
    Vec3 from = Vec3::Zero(), way = Vec3::UnitX();
    std::string car_point;
};
using SightTaker = std::function<void(const LineOfSight& sight)>;

class Desk : public QObject {
    Q_OBJECT
public:
    explicit Desk(QObject* parent = nullptr);

    Document document;
    Selection selection;
    DriverStudy study{document};
    SkinGaps skin_gaps{document};
    ScanLoader scans{document};

    UnitsShown units() const { return units_; }
    void setUnits(UnitsShown units);
    const Palette& palette() const { return palette_; }
    void setTone(Tone tone);

    const OnTape& tape() const { return tape_; }
    void putOnTape(OnTape value);

    /// The next click on a bar in the 3D view (or Enter on a bar of the list) goes to `taker`; `asks` says
    /// what is wanted. An earlier wish is dropped.
    void wantPick(const QString& asks, PickTaker taker);
    /// The same for a click anywhere.
    void wantSight(const QString& asks, SightTaker taker);
    void dropPick();
    bool picking() const { return taker_ || sight_taker_; }
    bool wantsSight() const { return bool(sight_taker_); }
    const QString& pickAsks() const { return asks_; }
    /// Hands a picked place over. False if nobody wanted one.
    bool takePick(const std::string& member, const Vec3& at);
    bool takeSight(const LineOfSight& sight);

    /// What the readings of the car say, in the person's units; worked out anew when the car has changed.
    const CarReport& carReport() const;
    /// Nodes, open bays, free bends and near misses of the cage of now; worked out when first asked for.
    const NodeReport& nodes() const;
    LengthStyle lengthStyle() const;

    QString length(double mm) const { return measureText(mm, Dimension::length, units_); }

signals:
    void unitsChanged();
    void paletteChanged();
    void tapeChanged();
    void pickChanged();
    void flyTo(const hoopwright::Vec3& at);
    void lookFrom(const std::string& view);  ///< one of standardViews()
    /// Draws what was measured and goes there; with no shapes nothing is drawn.
    void showMeasure(const std::vector<hoopwright::ShownShape>& shapes, const hoopwright::Vec3& at);
    void say(const QString& sentence);  ///< one line for the person, shown a while

private:
    UnitsShown units_ = UnitsShown::mm;
    Palette palette_ = paletteOf(Tone::light);
    OnTape tape_;
    PickTaker taker_;
    SightTaker sight_taker_;
    QString asks_;
    mutable std::optional<CarReport> car_report_;
    mutable std::optional<NodeReport> nodes_;
};

}  // namespace hoopwright
