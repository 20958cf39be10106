// Numbered pictures, kept views, with and without a bar, once round; and the file that moves.
#include <gtest/gtest.h>
#include <zlib.h>

#include <QtEndian>
#include <cmath>
#include <numbers>
#include <set>

#include "app/view/animated_png.h"
#include "app/view/picture_pair.h"
#include "demo_jobs.h"
#include "test_cage.h"

namespace hoopwright {
namespace {

PictureOptions tiny() {
    PictureOptions options;
    options.width_px = 240;
    options.height_px = 160;
    options.supersample = 1;
    return options;
}

double unalike(const QImage& a, const QImage& b) {
    double sum = 0;
    for (int y = 0; y < a.height(); ++y)
        for (int x = 0; x < a.width(); ++x) sum += std::abs(qGray(a.pixel(x, y)) - qGray(b.pixel(x, y)));
    return sum / (a.width() * a.height());
}

struct Chunk {
    QByteArray name, data;
};
/// Every chunk, its check sum held against zlib's.
std::vector<Chunk> chunksIn(const QByteArray& file) {
    std::vector<Chunk> all;
    EXPECT_EQ(file.left(8), QByteArray("\x89PNG\r\n\x1a\n", 8));
    for (qsizetype at = 8; at < file.size();) {
        const auto length = qFromBigEndian<quint32>(file.constData() + at);
        const QByteArray named = file.mid(at + 4, 4 + length);
        EXPECT_EQ(
            qFromBigEndian<quint32>(file.constData() + at + 8 + length),
            crc32(0, reinterpret_cast<const Bytef*>(named.constData()), static_cast<uInt>(named.size())));
        all.push_back({named.left(4), named.mid(4)});
        at += 12 + length;
    }
    return all;
}
QByteArray chunkText(const QByteArray& name, const QByteArray& data) {
    QByteArray size(4, '\0'), sum(4, '\0');
    const QByteArray named = name + data;
    qToBigEndian<quint32>(static_cast<quint32>(data.size()), size.data());
    qToBigEndian<quint32>(static_cast<quint32>(crc32(0, reinterpret_cast<const Bytef*>(named.constData()),
                                                     static_cast<uInt>(named.size()))),
                          sum.data());
    return size + named + sum;
}

// The layout of the chunks as the standard has it, and each frame taken out and read by libpng through Qt.
// Source: W3C, Portable Network Graphics (PNG) Specification, Third Edition (2025), 4.9 and 11.3.
TEST(AnimatedPng, HasEveryFrameWholeAndInOrder) {
    std::vector<QImage> frames;
    AnimatedPng writer(3, 12);
    for (int i = 0; i < 3; ++i) {
        QImage frame(40, 24, QImage::Format_RGBX8888);
        frame.fill(QColor(60 * i + 20, 100, 200 - 50 * i));
        frame.setPixelColor(i, 2, Qt::black);
        frames.push_back(frame);
        writer.add(frame);
    }
    const QByteArray file = writer.take();
    EXPECT_EQ(QImage::fromData(file).convertToFormat(QImage::Format_RGBX8888), frames[0])
        << "who knows no animation shows the first";
    const std::vector<Chunk> chunks = chunksIn(file);
    ASSERT_GE(chunks.size(), 8u);
    EXPECT_EQ(chunks[0].name, "IHDR");
    EXPECT_EQ(chunks[1].name, "acTL");
    EXPECT_EQ(qFromBigEndian<quint32>(chunks[1].data.constData()), 3u);
    EXPECT_EQ(qFromBigEndian<quint32>(chunks[1].data.constData() + 4), 0u) << "for ever";
    EXPECT_EQ(chunks.back().name, "IEND");
    quint32 sequence = 0;
    std::vector<QByteArray> data;
    for (const Chunk& chunk : chunks) {
        if (chunk.name == "fcTL") {
            EXPECT_EQ(chunk.data.size(), 26);
            EXPECT_EQ(qFromBigEndian<quint16>(chunk.data.constData() + 20), 1);
            EXPECT_EQ(qFromBigEndian<quint16>(chunk.data.constData() + 22), 12);
            data.emplace_back();
        }
        if (chunk.name == "fcTL" || chunk.name == "fdAT") {
            EXPECT_EQ(qFromBigEndian<quint32>(chunk.data.constData()), sequence++);
        }
        if (chunk.name == "IDAT") data.back() += chunk.data;
        if (chunk.name == "fdAT") data.back() += chunk.data.mid(4);
    }
    ASSERT_EQ(data.size(), frames.size());
    for (std::size_t i = 0; i < data.size(); ++i) {
        const QByteArray still = file.left(8) + chunkText("IHDR", chunks[0].data) +
                                 chunkText("IDAT", data[i]) + chunkText("IEND", {});
        EXPECT_EQ(QImage::fromData(still).convertToFormat(QImage::Format_RGBX8888), frames[i]) << i;
    }
}

TEST(Turntable, GoesOnceRoundAtEvenAngles) {
    const Job job = testJob();
    const CageGeometry cage = testCage();
    std::vector<QImage> frames;
    const auto give = [&](int index, const QImage& image) {
        EXPECT_EQ(index, static_cast<int>(frames.size()));
        frames.push_back(image);
    };
    PictureOptions options = tiny();
    options.labels = false;  // they hold on to the places of the frame before
    EXPECT_FALSE(turnRound(job, cage, options, 4, give));
    ASSERT_EQ(frames.size(), 4u);
    PictureMaker maker(job, cage, options);
    PictureOptions half = options;
    half.from = maker.onceRound(4)[2];
    const auto opposite = composePicture(job, cage, half);
    ASSERT_TRUE(opposite);
    EXPECT_LT(unalike(frames[2], *opposite), 1.5) << "half way round";
    EXPECT_GT(unalike(frames[0], frames[2]), 2);
}

TEST(Turntable, KeepsAllOfTheCarInEveryFrame) {
    for (const std::string name : {"hillclimb_saloon", "mile_pickup"}) {
        const DemoJob demo = demoJob(name);
        PictureOptions options = tiny();
        options.width_px = 960;
        options.height_px = 540;
        CageScene scene;
        scene.set(demo.job, demo.cage);
        const Box bounds = scene.bounds();
        for (const char* view : {"three_quarter", "front"}) {
            options.view = view;
            const std::vector<View> round = PictureMaker(demo.job, demo.cage, options).onceRound(12);
            ASSERT_EQ(round.size(), 12u);
            for (std::size_t i = 0; i < round.size(); ++i) {
                const Vec3 middle = round[i].project(bounds.center(), 960, 540);
                EXPECT_NEAR(middle.x(), 480, 1e-6);
                EXPECT_NEAR(middle.y(), 270, 70);
                for (int corner = 0; corner < 8; ++corner) {
                    const Vec3 p =
                        round[i].project(bounds.corner(static_cast<Box::CornerType>(corner)), 960, 540);
                    EXPECT_TRUE(p.x() > 0 && p.x() < 960 && p.y() > 0 && p.y() < 540)
                        << name << " " << view << ", frame " << i << ": " << p.transpose();
                }
            }
        }
    }
}

TEST(Turntable, StopsWhenTold) {
    int given = 0;
    const auto stopped = turnRound(
        testJob(), testCage(), tiny(), 9, [&](int, const QImage&) { ++given; },
        [](int done, int, std::string_view) { return done < 2; });
    ASSERT_TRUE(stopped);
    EXPECT_EQ(given, 2);
    PictureOptions options = tiny();
    EXPECT_FALSE(
        composePicture(testJob(), testCage(), options, [](int, int, std::string_view) { return false; }));
}

TEST(Picture, IsTakenFromAKeptViewAsFromTheViewItself) {
    View view = standardView("three_quarter", Box(Vec3(-200, -700, 0), Vec3(1500, 700, 1200)), 1.5);
    view.upright = true;
    const View again = viewOf(savedView("mine", view));
    EXPECT_EQ(again.eye, view.eye);
    EXPECT_EQ(again.target, view.target);
    EXPECT_EQ(again.orthographic_height_mm, view.orthographic_height_mm);
    EXPECT_EQ(again.upright, view.upright);
    const View top = standardView("top", Box(Vec3(-200, -700, 0), Vec3(1500, 700, 1200)), 1.5);
    EXPECT_EQ(viewOf(savedView("top", top)).up, top.up);
    PictureOptions options = tiny();
    options.from = again;
    const auto kept = composePicture(testJob(), testCage(), options);
    options.from.reset();
    const auto usual = composePicture(testJob(), testCage(), options);
    ASSERT_TRUE(kept && usual);
    EXPECT_GT(unalike(*kept, *usual), 1);
}

TEST(Picture, NumbersEveryBarByItsPlaceInBuildOrder) {
    const CageGeometry cage = testCage();
    const auto labels = numberLabels(cage);
    ASSERT_EQ(labels.size(), cage.members.size());
    std::set<QString> numbers;
    for (std::size_t i = 0; i < labels.size(); ++i) {
        EXPECT_EQ(labels[i].thing, cage.members[i].id);
        EXPECT_EQ(labels[i].text, QString::number(i + 1));
        numbers.insert(labels[i].text);
    }
    EXPECT_EQ(numbers.size(), labels.size());
}

}  // namespace
}  // namespace hoopwright
