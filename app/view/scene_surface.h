// A widget that draws a CageScene: coarse while something moves, whole when it is still, and nothing in
// between.
#pragma once

#include <QOpenGLWidget>
#include <QTimer>
#include <memory>
#include <osg/ref_ptr>

#include "app/view/frame_pace.h"
#include "app/view/smooth_picture.h"
#include "render/scene.h"
#include "render/view.h"

class QOpenGLFramebufferObject;
namespace osgViewer {
class GraphicsWindowEmbedded;
class Viewer;
}  // namespace osgViewer

namespace hoopwright {

/// When nothing moves, the whole picture is drawn once and then made smooth by further passes, one at a time,
/// so that a hand that moves again never waits for more than one. Smooth edges are made in buffers of our
/// own: they do not hang on what the widget's own buffer or context goes through when the widget is docked,
/// undocked or moved to another screen.
class SceneSurface : public QOpenGLWidget {
    Q_OBJECT
public:
    /// Call before the QApplication is made: contexts are shared, so docking keeps what the graphics memory
    /// holds.
    static void prepareApplication();
    /// False on platforms that cannot host an OpenGL widget ("offscreen", say): showing one there would
    /// crash.
    static bool possibleHere();

    explicit SceneSurface(QWidget* parent = nullptr);
    ~SceneSurface() override;

    const View& view() const { return view_; }

    /// What was drawn, for tests and for a status line.
    struct Drawn {
        int drafts = 0, fulls = 0, contexts = 0;  ///< fulls: whole pictures, each with its first pass
        int passes = 0;  ///< of the picture that stands, up to SmoothPicture::kPasses
        double draft_ms = 0, full_ms = 0;
        Quality last = Quality::draft;
        QSize last_px;  ///< of the buffer last drawn into
    };
    const Drawn& drawn() const { return drawn_; }

signals:
    /// The whole picture stands and is smooth; nothing more is drawn until something changes.
    void settled();

protected:
    CageScene& scene() { return *scene_; }
    const CageScene& scene() const { return *scene_; }
    /// A new camera: drawn as a draft at once, in full when it is still.
    void setView(const View& view);
    /// The scene changed: the same.
    void sceneChanged();
    bool moving() const { return quality_ == Quality::draft; }
    /// From now on each picture is whole, however long it takes: for one that moves by itself, which no hand
    /// waits for.
    void drawAlwaysWhole() { always_whole_ = true; }
    /// Called when the draft is asked for and when the full picture is about to be drawn.
    virtual void pictureChanges() {}

    void initializeGL() override;
    void resizeGL(int width, int height) override;
    void paintGL() override;
    /// Taken into another window the picture is made anew: the one that stands is of the old window.
    void showEvent(QShowEvent* event) override;

private:
    void paintDraft();
    void paintPass();
    void releaseGraphics();
    QSize deviceSize() const;
    void drawInto(QOpenGLFramebufferObject& buffer, QPointF aside);
    void becomeFull();

    std::unique_ptr<CageScene> scene_;
    osg::ref_ptr<osgViewer::Viewer> viewer_;
    osg::ref_ptr<osgViewer::GraphicsWindowEmbedded> window_;
    std::unique_ptr<QOpenGLFramebufferObject> draft_buffer_;
    SmoothPicture smooth_;
    QMetaObject::Connection context_gone_;
    QTimer stillness_, next_pass_;
    FramePace pace_;
    View view_;
    Quality quality_ = Quality::draft;
    bool always_whole_ = false;
    Drawn drawn_;
};

}  // namespace hoopwright
