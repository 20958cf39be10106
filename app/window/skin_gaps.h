// The gaps from the bars to the car's skin, measured beside the window's own thread.
#pragma once

#include <QObject>
#include <QThreadPool>
#include <QTimer>
#include <memory>

#include "app/window/document.h"
#include "core/skin/gap_to_skin.h"

namespace hoopwright {

/// A cage and its gaps. Never changes, so that threads share it.
struct MeasuredGaps {
    JobRef job;
    CageGeometry cage;
    std::shared_ptr<const CarSkin> skin;
    std::vector<std::optional<GapToSkin>> gaps;  ///< for each member of `cage`
    /// Null: there is no such bar, or no skin.
    const GapToSkin* of(const std::string& member) const;
};
using MeasuredGapsRef = std::shared_ptr<const MeasuredGaps>;

/// The gaps of `cage`. What did not change since `before` (may be null) is taken over: the skin of the same
/// car, the gap of a bar that is where it was.
MeasuredGapsRef measureGaps(JobRef job, CageGeometry cage, const MeasuredGapsRef& before);

/// Measures only for those who ask: bars that move at once, another car only once the hand has rested.
class SkinGaps : public QObject {
    Q_OBJECT
public:
    explicit SkinGaps(const Document& document);
    ~SkinGaps() override;

    /// What was measured last, null if nothing was. If that is of another cage than the document's, it is
    /// measured anew and changed() follows.
    MeasuredGapsRef ask();
    /// Is what was measured last of the document's cage?
    bool current() const;

signals:
    void changed();

private:
    void start();

    const Document& document_;
    MeasuredGapsRef last_;
    JobRef measuring_;  ///< null: nobody is at work
    int opened_ = 0;    ///< jobs so far: what is measured of another one is thrown away
    QTimer rest_;
    QThreadPool worker_;
};

}  // namespace hoopwright
