// The one 3D view of the window: the picture, the hand on it, and what is written over it.
#pragma once

#include <QElapsedTimer>
#include <QPointF>
#include <optional>
#include <string>
#include <vector>

#include "app/view/flight.h"
#include "app/view/grip_sign.h"
#include "app/view/overlay.h"
#include "app/view/scene_surface.h"

namespace hoopwright {

class OverlayWidget;

/// Hand: left drag (or middle) turns about what is looked at, right drag (or shift and left) moves it, the
/// wheel goes to the point under the cursor, a double click goes to the bar under it, and on nothing to the
/// whole. Keys: 1 to 8 the standard views in their order, F what is selected (else the whole), Home the
/// whole, O with or without vanishing points, V with plumb lines upright, arrows turn, shift and arrows move,
/// + and - go nearer and back, Esc leaves a question, a pull or a card. Where grips are shown, left drag on
/// one pulls it, and a click takes hold of it for keys: arrows nudge it, digits go to typedAtGrip(). Lengths
/// in mm in car axes, positions in logical pixels of this widget.
class View3d : public SceneSurface {
    Q_OBJECT
public:
    explicit View3d(QWidget* parent = nullptr);
    ~View3d() override;

    /// The first job is looked at whole; later ones leave the camera where it is.
    void setJob(const Job& job, CageGeometry cage);
    void setLook(const SceneLook& look);  ///< a dark look takes the dark palette
    const SceneLook& look() const { return look_; }
    void setMarks(std::vector<Mark> marks);
    /// Shown, with what the colours mean, while the look says so.
    void setGaps(BarGaps gaps);
    /// What the colours mean, and with `legend` a legend of it; of a colouring without groups: nothing.
    void setGroups(std::optional<BarGroups> groups, bool legend);
    void setDimensions(std::vector<DimensionSign> dimensions);
    void setSelected(std::vector<std::string> ids);
    void setLengths(const LengthStyle& lengths);  ///< the person's unit, for all that is written
    void setLabels(std::vector<ViewLabel> labels);
    /// Places (window panels floating over the view) that labels keep off.
    void setTaken(std::vector<QRect> places);

    /// Draws what the finding was measured on and its card; lights up nothing else.
    void showEvidence(const Finding& finding);
    /// Draws measurements alone, with their figures; they go with the next evidence or clearEvidence().
    void showMeasures(const std::vector<ShownShape>& shapes);
    void clearEvidence();
    /// Where the belt bar may be, drawn on its upright plane; nothing: not drawn.
    void setBand(std::optional<BandSign> band);
    bool showsEvidence() const { return finding_.has_value(); }

    /// What can be pulled, until the next call; while one is being pulled its index stays what it was.
    void setGrips(std::vector<Grip> grips);
    const std::vector<Grip>& grips() const { return grips_; }
    /// What is told of the grip in hand; nothing: none is.
    void setPull(std::optional<PullSign> pull);
    bool pulling() const { return hand_ == Hand::pulls; }

    void flyTo(const Vec3& point, double size_mm);  ///< keeps the direction; `size_mm` fills the view
    void flyToView(const std::string& name);        ///< one of standardViews()
    void flyToFinding(const Finding& finding);      ///< from where its measurement is seen
    /// A resolved member or plate, from where it is seen well: near the direction of now, past the driver.
    void flyToThing(const std::string& id);
    void fitAll();
    void fitSelected();  ///< the whole where nothing is selected
    void setOrthographic(bool on);
    /// Verticals of the car stay vertical in the picture (two-point perspective).
    void setUpright(bool on);
    bool upright() const { return view().upright; }
    bool orthographic() const { return view().orthographic_height_mm > 0; }
    bool flying() const { return flight_.has_value(); }
    void jumpTo(const View& view);  ///< at once, without a flight

    /// The next click answers `prompt` with a place on a bar or plate: pickedPoint() is emitted instead of
    /// picked().
    void askForPoint(const QString& prompt);
    void stopAsking();
    bool asking() const { return !prompt_.isEmpty(); }
    QRect promptPlace() const;  ///< what is asked stands there; empty: nothing is

    const CageGeometry& cage() const { return cage_; }
    Picked pickAt(const QPointF& position) const;
    std::optional<QPointF> positionOf(const Vec3& point) const;
    const Overlay& overlay() const { return overlay_; }
    /// Where the section is taken hold of, while there is one.
    std::optional<QPointF> sectionHandlePosition() const;
    const std::vector<std::string>& selected() const { return selected_; }

signals:
    void gripTaken(int index);  ///< pressed, or clicked: held until gripLet() or gripDropped()
    /// A line of sight through the pointer; `free`: without snapping (Alt).
    void gripPulled(const hoopwright::Vec3& from, const hoopwright::Vec3& way, bool free);
    void gripLet(bool moved);  ///< the button is up; not moved: the grip stays held for the keys
    void gripDropped();        ///< Esc: all of the pull is to be undone, and nothing held any more
    /// An arrow key while a grip is held: steps to the right and up on the screen, of the small or big size.
    void gripNudged(int right, int up, bool big);
    void typedAtGrip(const QString& text);         ///< the first character of a number
    void picked(const hoopwright::Picked& what);   ///< click; nothing under it: empty
    void hovered(const hoopwright::Picked& what);  ///< when what is under the pointer changes
    void pickedPoint(
        const hoopwright::Picked& what);  ///< the answer to askForPoint(); asking goes on until stopAsking()
    void askedAt(const QPointF& position);  ///< a click while asking, on anything or nothing
    void askingStopped();                   ///< Esc while asking
    void viewChanged();
    void orthographicChanged(bool on);
    void uprightChanged(bool on);
    void sectionPulled(double at_mm);             ///< its handle is dragged: where the plane is to be
    void dimensionPicked(const std::string& id);  ///< a click on its label

protected:
    void mousePressEvent(QMouseEvent* event) override;
    void mouseMoveEvent(QMouseEvent* event) override;
    void mouseReleaseEvent(QMouseEvent* event) override;
    void mouseDoubleClickEvent(QMouseEvent* event) override;
    void wheelEvent(QWheelEvent* event) override;
    void keyPressEvent(QKeyEvent* event) override;
    void leaveEvent(QEvent* event) override;
    void resizeEvent(QResizeEvent* event) override;
    void pictureChanges() override;

private:
    friend class OverlayWidget;
    enum class Hand { nothing, may_click, turns, moves, pulls, cuts };

    double aspect() const;
    void flyToBox(const Box& box);
    void startFlight(const View& to);
    void stepFlight();
    void changeView(const View& view);
    void wake();  ///< the overlay is out of date; the scene is not
    void hoverAt(const QPointF& position);
    void setHovered(const Picked& what, const QPointF& position);
    Vec3 pointUnder(const QPointF& position) const;
    Box boundsOfThing(const std::string& id) const;
    bool moveByKey(const QKeyEvent& event);
    bool takeGrip(const QPointF& position);
    bool keyForGrip(const QKeyEvent& event);
    bool takeSection(const QPointF& position);
    std::optional<SectionSign> sectionSign() const;
    const DimensionSign* dimensionAt(const QPointF& position) const;
    OverlayScene overlayScene() const;
    std::string idOf(const Picked& what) const;
    std::string nameOf(const Picked& what) const;
    HoverSign hoverSign() const;
    void paintOverlay(QPainter& painter);

    Job job_;
    CageGeometry cage_;
    bool has_job_ = false;
    SceneLook look_;
    Palette palette_;
    LengthStyle lengths_;
    BarGaps gaps_;
    std::optional<BarGroups> groups_;
    bool legend_ = false;
    std::vector<DimensionSign> dimensions_;
    bool hot_section_ = false;
    double cut_from_mm_ = 0;  // where the plane was when its handle was taken
    std::vector<ViewLabel> labels_;
    std::vector<QRect> taken_;
    std::vector<std::string> selected_;
    std::optional<Finding> finding_;
    std::vector<ShownShape> measures_;
    std::optional<BandSign> band_;
    QString prompt_;
    std::vector<Grip> grips_;
    std::optional<PullSign> pull_;
    int hot_grip_ = -1;
    bool pulled_ = false;

    std::optional<Flight> flight_;
    QElapsedTimer flight_clock_;
    QTimer flight_tick_;

    Hand hand_ = Hand::nothing;
    QPointF pressed_at_, last_at_;
    Qt::MouseButton button_ = Qt::NoButton;
    Picked hovered_;
    QPointF hover_position_;

    Overlay overlay_;
    bool overlay_stale_ = true;
    OverlayWidget* over_ = nullptr;  // child widget, owned by Qt
};

}  // namespace hoopwright
