// Pictures and papers held against approved ones, so loosely that another software renderer's do too.
#pragma once

#include <gtest/gtest.h>

#include <QDir>
#include <QFileInfo>
#include <QImage>
#include <algorithm>
#include <cmath>
#include <cstdlib>

namespace hoopwright::testing_approved {

/// How unlike two pictures are, seen from so far that a renderer's own edges and rounding are gone: each
/// averaged to cells of kCell_px.
struct Unlike {
    double mean = 0;   ///< of a channel, of 255
    double share = 0;  ///< of cells with a channel off by more than kCellOff
};
inline constexpr int kCell_px = 6;
inline constexpr int kCellOff = 28;
inline constexpr double kMostMean = 2.5, kMostShare = 0.012;

inline Unlike unlike(const QImage& a, const QImage& b) {
    const auto cells = [&](const QImage& image) {
        return image
            .scaled(a.width() / kCell_px, a.height() / kCell_px, Qt::IgnoreAspectRatio,
                    Qt::SmoothTransformation)
            .convertToFormat(QImage::Format_RGB32);
    };
    const QImage small_a = cells(a), small_b = cells(b);
    double sum = 0;
    int off = 0;
    const int count = small_a.width() * small_a.height();
    for (int y = 0; y < small_a.height(); ++y)
        for (int x = 0; x < small_a.width(); ++x) {
            const QRgb p = small_a.pixel(x, y), q = small_b.pixel(x, y);
            const int d[3] = {std::abs(qRed(p) - qRed(q)), std::abs(qGreen(p) - qGreen(q)),
                              std::abs(qBlue(p) - qBlue(q))};
            sum += (d[0] + d[1] + d[2]) / 3.0;
            off += std::max({d[0], d[1], d[2]}) > kCellOff;
        }
    return {sum / std::max(1, count), static_cast<double>(off) / std::max(1, count)};
}

/// Keeps the picture among the artefacts (HOOPWRIGHT_ARTEFACTS, else the temporary folder) and holds it
/// against tests/approved/NAME.jpg. With HOOPWRIGHT_APPROVE set it becomes the approved one: look at it.
inline void expectApproved(const QString& name, const QImage& picture) {
    const char* folder = std::getenv("HOOPWRIGHT_ARTEFACTS");
    const QString kept =
        folder ? QString::fromUtf8(folder) : QDir::tempPath() + QStringLiteral("/hoopwright_artefacts");
    QDir().mkpath(kept);
    const QString artefact = kept + QLatin1Char('/') + name + QStringLiteral(".png");
    EXPECT_TRUE(picture.save(artefact)) << artefact.toStdString();
    const QString approved =
        QStringLiteral(HOOPWRIGHT_SOURCE_DIR "/tests/approved/") + name + QStringLiteral(".jpg");
    if (std::getenv("HOOPWRIGHT_APPROVE")) {
        ASSERT_TRUE(picture.save(approved, "JPG", 70));
        return;
    }
    const QImage wanted(approved);
    ASSERT_FALSE(wanted.isNull()) << approved.toStdString() << " is not there";
    ASSERT_EQ(picture.size(), wanted.size()) << name.toStdString();
    const Unlike off = unlike(picture, wanted);
    EXPECT_LE(off.mean, kMostMean) << artefact.toStdString();
    EXPECT_LE(off.share, kMostShare) << artefact.toStdString();
}

}  // namespace hoopwright::testing_approved
