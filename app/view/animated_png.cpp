#include "app/view/animated_png.h"

#include <zlib.h>

#include <QtEndian>
#include <utility>

#include "app/view/picture.h"

namespace hoopwright {
namespace {

constexpr qsizetype kSignature = 8, kAround = 12;  // a chunk's length, name and check sum

QByteArray number(std::uint32_t value) {
    QByteArray bytes(4, '\0');
    qToBigEndian(value, bytes.data());
    return bytes;
}
QByteArray half(int value) {
    QByteArray bytes(2, '\0');
    qToBigEndian(static_cast<std::uint16_t>(value), bytes.data());
    return bytes;
}

QByteArray chunk(const QByteArray& name, const QByteArray& data) {
    const QByteArray summed = name + data;
    const auto sum =
        crc32(0, reinterpret_cast<const Bytef*>(summed.constData()), static_cast<uInt>(summed.size()));
    return number(static_cast<std::uint32_t>(data.size())) + summed + number(static_cast<std::uint32_t>(sum));
}

/// The data of a still's chunks of one name, in their order.
QByteArrayList chunksOf(const QByteArray& png, const QByteArray& name) {
    QByteArrayList found;
    for (qsizetype at = kSignature; at + kAround <= png.size();) {
        const auto length = static_cast<qsizetype>(qFromBigEndian<std::uint32_t>(png.constData() + at));
        if (png.mid(at + 4, 4) == name) found << png.mid(at + 8, length);
        at += length + kAround;
    }
    return found;
}

}  // namespace

AnimatedPng::AnimatedPng(int frames, int frames_a_second) : frames_(frames), a_second_(frames_a_second) {}

void AnimatedPng::control(const QByteArray& header) {
    // Width and height as the header has them, at 0, 0, shown for one part of a second, left, put over.
    out_ += chunk("fcTL", number(sequence_++) + header.left(8) + number(0) + number(0) + half(1) +
                              half(a_second_) + QByteArray(2, '\0'));
}

void AnimatedPng::add(const QImage& frame) {
    const QByteArray png = pngOf(frame);
    const QByteArray header = chunksOf(png, "IHDR").value(0);
    if (added_ == 0)
        out_ = png.left(kSignature) + chunk("IHDR", header) +
               chunk("acTL", number(static_cast<std::uint32_t>(frames_)) + number(0));
    control(header);
    for (const QByteArray& data : chunksOf(png, "IDAT"))
        out_ += added_ == 0 ? chunk("IDAT", data) : chunk("fdAT", number(sequence_++) + data);
    ++added_;
}

QByteArray AnimatedPng::take() {
    out_ += chunk("IEND", {});
    return std::exchange(out_, {});
}

}  // namespace hoopwright
