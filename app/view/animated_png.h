// Pictures one after the other in one file: an animated PNG.
#pragma once

#include <QByteArray>
#include <QImage>
#include <cstdint>

namespace hoopwright {

/// Runs for ever, each frame whole; a reader that knows no animation shows the first. Source: W3C, Portable
/// Network Graphics (PNG) Specification, Third Edition (2025): chunks acTL, fcTL, fdAT.
class AnimatedPng {
public:
    /// @pre frames and frames_a_second >= 1
    AnimatedPng(int frames, int frames_a_second);
    /// The next frame. @pre of the size and format of the first
    void add(const QImage& frame);
    /// The file. @pre as many frames were added as were announced
    QByteArray take();

private:
    void control(const QByteArray& header);
    QByteArray out_;
    int frames_, a_second_, added_ = 0;
    std::uint32_t sequence_ = 0;
};

}  // namespace hoopwright
