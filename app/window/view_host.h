// The 3D view, its small bar of views, and what it follows in the job.
#pragma once

#include <QWidget>
#include <memory>
#include <optional>
#include <vector>

#include "app/window/desk.h"
#include "app/window/step_rail.h"
#include "render/colours.h"

class QAction;
class QLabel;

namespace hoopwright {

class DrawBar;
class GripHand;
class ScanStrip;
class SectionStrip;
class View3d;
struct Picked;
struct SceneLook;
struct BandSign;

/// May be taken out of its window and put back: picture, anti-aliasing and shadows stay. On a platform that
/// cannot show OpenGL a plain page stands in its place and everything else works.
class ViewHost : public QWidget {
    Q_OBJECT
public:
    ViewHost(Desk& desk, QWidget* parent = nullptr);
    ~ViewHost() override;
    View3d* view() const { return view_; }  ///< null where there is no OpenGL
    /// What is written beside the things of the picture follows the step.
    void setStep(Step step);
    void setBar(const std::vector<QAction*>& actions);
    void changeLook(const std::function<void(SceneLook&)>& change);
    const SceneLook* look() const;
    GripHand* hand() const { return hand_.get(); }
    DrawBar* drawing() const { return drawing_; }  ///< null without a view
    void setLabelled(bool on);
    void setDimensioned(bool on);  ///< whether pinned dimensions are drawn
    void setLegend(bool on);
    /// Cuts the picture across an axis (0 x, 1 y, 2 z), through what is chosen, else its middle; the same
    /// axis again: whole.
    void cutAcross(int axis);
    /// Only what is chosen, or again all. False with nothing chosen: then it says so and does nothing.
    bool isolate(bool on);
    /// Whether the places the rules allow the belt bar are drawn while a driver is looked at.
    void setBanded(bool on);

protected:
    void resizeEvent(QResizeEvent* event) override;

private:
    void showJob();
    void showSelection();
    void showPick();
    void showLabels();
    std::optional<BandSign> bandNow();
    void showGaps();
    void showGroups();
    void showDimensions();
    void say(const QString& sentence);
    void takeAt(const QPointF& position);
    void take(const Picked& what);
    void arrange();

    Desk& desk_;
    View3d* view_ = nullptr;
    DrawBar* drawing_ = nullptr;
    std::unique_ptr<GripHand> hand_;  // null without a view
    QWidget* bar_;
    QLabel* said_;
    ScanStrip* reading_;
    SectionStrip* section_ = nullptr;
    std::vector<Mark> marks_;
    Step step_ = Step::cage;
    bool labelled_ = true, banded_ = true, dimensioned_ = true, legend_ = true;
};

}  // namespace hoopwright
