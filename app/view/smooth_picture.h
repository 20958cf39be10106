// Smooth edges from several whole pictures, each taken a fraction of a pixel aside, averaged as they come.
#pragma once

#include <QPointF>
#include <QSize>
#include <memory>

class QOpenGLFramebufferObject;

namespace hoopwright {

/// Eight passes make smoother edges than fourfold multisampling, smooth what shaders draw as well, and,
/// unlike it, can be broken off after any pass: on a machine without a graphics card the first whole picture
/// stands three times sooner. All calls need the widget's context current.
class SmoothPicture {
public:
    static constexpr int kPasses = 8;

    SmoothPicture();
    ~SmoothPicture();

    /// Starts anew with the next pass.
    void restart() { passes_ = 0; }
    /// Gives up what lies in graphics memory.
    void release();
    int passes() const { return passes_; }
    bool done() const { return passes_ >= kPasses; }

    /// Where to draw the next pass: a buffer of that size, and how far aside in pixels, within +-0.5.
    QOpenGLFramebufferObject& next(QSize size);
    QPointF aside() const;
    /// Takes the pass that was drawn into the average.
    void add();
    /// Copies the average so far into a buffer of that size; null: the widget's own.
    void copyTo(QOpenGLFramebufferObject* buffer) const;

private:
    std::unique_ptr<QOpenGLFramebufferObject> pass_, average_;
    int passes_ = 0;
};

}  // namespace hoopwright
