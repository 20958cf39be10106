#include "app/view/smooth_picture.h"

#include <QOpenGLContext>
#include <QOpenGLFramebufferObject>
#include <QOpenGLFunctions>
#include <array>
#include <osg/GL>

namespace hoopwright {
namespace {

// Eight places in a pixel, no two in one row or column; sixteenths of a pixel from its middle.
constexpr std::array<std::array<int, 2>, SmoothPicture::kPasses> kAside = {
    {{1, -3}, {-1, 3}, {5, 1}, {-3, -5}, {-5, 5}, {-7, -1}, {3, 7}, {7, -7}}};

#ifndef GL_RGBA16F
constexpr GLenum GL_RGBA16F = 0x881A;
#endif

void fillWith(GLuint texture) {
    glEnable(GL_TEXTURE_2D);
    glBindTexture(GL_TEXTURE_2D, texture);
    glTexEnvi(GL_TEXTURE_ENV, GL_TEXTURE_ENV_MODE, GL_REPLACE);
    constexpr std::array<std::array<float, 2>, 4> kCorners = {{{0, 0}, {1, 0}, {1, 1}, {0, 1}}};
    glBegin(GL_QUADS);
    for (const auto& [x, y] : kCorners) {
        glTexCoord2f(x, y);
        glVertex2f(2 * x - 1, 2 * y - 1);
    }
    glEnd();
}

/// Fixed-function drawing that leaves every piece of state as it was: the scene graph remembers what it set.
template <class Draw>
void drawAside(const Draw& draw) {
    auto* gl = QOpenGLContext::currentContext()->functions();
    glPushAttrib(GL_ALL_ATTRIB_BITS);
    gl->glUseProgram(0);
    gl->glActiveTexture(GL_TEXTURE0);
    for (const GLenum mode :
         {GL_DEPTH_TEST, GL_CULL_FACE, GL_LIGHTING, GL_SCISSOR_TEST, GL_STENCIL_TEST, GL_ALPHA_TEST})
        glDisable(mode);
    glColorMask(GL_TRUE, GL_TRUE, GL_TRUE, GL_TRUE);
    for (const GLenum stack : {GL_PROJECTION, GL_MODELVIEW, GL_TEXTURE}) {
        glMatrixMode(stack);
        glPushMatrix();
        glLoadIdentity();
    }
    draw(*gl);
    for (const GLenum stack : {GL_TEXTURE, GL_MODELVIEW, GL_PROJECTION}) {
        glMatrixMode(stack);
        glPopMatrix();
    }
    glPopAttrib();
}

}  // namespace

SmoothPicture::SmoothPicture() = default;
SmoothPicture::~SmoothPicture() = default;

void SmoothPicture::release() {
    pass_.reset();
    average_.reset();
    passes_ = 0;
}

QOpenGLFramebufferObject& SmoothPicture::next(QSize size) {
    if (pass_ && pass_->size() == size) return *pass_;
    QOpenGLFramebufferObjectFormat format;
    format.setAttachment(QOpenGLFramebufferObject::CombinedDepthStencil);
    pass_ = std::make_unique<QOpenGLFramebufferObject>(size, format);
    // Sixteen bits a channel: the average of eight pictures must not show steps of its own.
    QOpenGLFramebufferObjectFormat fine;
    fine.setInternalTextureFormat(GL_RGBA16F);
    average_ = std::make_unique<QOpenGLFramebufferObject>(size, fine);
    passes_ = 0;
    return *pass_;
}

QPointF SmoothPicture::aside() const {
    const auto& [x, y] = kAside[static_cast<std::size_t>(passes_ % kPasses)];
    return QPointF(x, y) / 16;
}

void SmoothPicture::add() {
    average_->bind();
    drawAside([&](QOpenGLFunctions& gl) {
        glViewport(0, 0, average_->width(), average_->height());
        // The k-th picture counts one k-th, all before it the rest. The scene's own alpha plays no part.
        glEnable(GL_BLEND);
        gl.glBlendEquation(GL_FUNC_ADD);
        gl.glBlendColor(0, 0, 0, 1.0f / static_cast<float>(passes_ + 1));
        glBlendFunc(GL_CONSTANT_ALPHA, GL_ONE_MINUS_CONSTANT_ALPHA);
        if (passes_ == 0) glDisable(GL_BLEND);
        fillWith(pass_->texture());
    });
    ++passes_;
}

void SmoothPicture::copyTo(QOpenGLFramebufferObject* buffer) const {
    const QRect whole({0, 0}, average_->size());
    QOpenGLFramebufferObject::blitFramebuffer(buffer, whole, average_.get(), whole);
}

}  // namespace hoopwright
