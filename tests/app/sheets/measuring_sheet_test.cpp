// The measuring sheet as it comes out of the printer: pages, boxes, type.
#include "app/sheets/measuring_sheet.h"

#include <gmock/gmock.h>
#include <unistd.h>

#include <QFile>
#include <QGuiApplication>
#include <QProcess>
#include <QRegularExpression>
#include <QTemporaryDir>
#include <map>
#include <set>

#include "app/sheets/car_sketch.h"
#include "app/sheets/place_marks.h"

using namespace hoopwright;

namespace {

const std::vector<Car::Body> kBodies = {Car::Body::saloon, Car::Body::hatchback, Car::Body::open,
                                        Car::Body::pickup, Car::Body::van};
const std::vector<Car::Frame> kFrames = {Car::Frame::unibody, Car::Frame::ladder, Car::Frame::perimeter};

template <class Visit>
void everySheet(Visit visit) {
    for (const Car::Body body : kBodies) {
        for (const Car::Frame frame : kFrames) {
            for (const Paper paper : {Paper::a4, Paper::letter}) {
                MeasuringSheetOptions options;
                options.body = body;
                options.frame = frame;
                options.paper = paper;
                visit(options);
            }
        }
    }
}

TEST(TheMeasuringSheet, HasABoxForEveryFigureOfTheWalkInItsOrder) {
    everySheet([](const MeasuringSheetOptions& options) {
        const MeasuringSheet sheet = measuringSheet(options);
        std::vector<std::pair<int, int>> wanted, found;
        for (const MeasuringStage& stage : measuringWalk(options.body, options.frame)) {
            for (const MeasuringItem& item : stage.items) {
                for (std::size_t i = 0; i < item.figures.size(); ++i)
                    wanted.emplace_back(item.number, static_cast<int>(i));
            }
        }
        for (const SheetBox& box : sheet.boxes) found.emplace_back(box.number, box.figure);
        EXPECT_EQ(found, wanted);
    });
}

TEST(TheMeasuringSheet, KeepsEveryBoxOnItsPageLargeAndClearOfTheOthers) {
    everySheet([](const MeasuringSheetOptions& options) {
        const MeasuringSheet sheet = measuringSheet(options);
        const QRectF page(QPointF(0, 0), paperSize_mm(options.paper));
        for (std::size_t i = 0; i < sheet.boxes.size(); ++i) {
            const SheetBox& box = sheet.boxes[i];
            // What a printer leaves white, and the line at the foot.
            EXPECT_TRUE(page.adjusted(8, 8, -8, -15).contains(box.box_mm)) << box.number;
            EXPECT_GE(box.box_mm.width(), 25);
            EXPECT_GE(box.box_mm.height(), 10);
            for (std::size_t k = 0; k < i; ++k) {
                const bool together = sheet.boxes[k].page == box.page;
                EXPECT_FALSE(together && sheet.boxes[k].box_mm.intersects(box.box_mm));
            }
        }
    });
}

TEST(TheMeasuringSheet, IsOfExactlyThePaperSize) {
    // Source: ISO 216:2007 A4 210 x 297 mm; ANSI/ASME Y14.1 A (Letter) 8.5 x 11 in. A PDF page counts in
    // whole points here: half a point is 0.18 mm.
    everySheet([](const MeasuringSheetOptions& options) {
        const MeasuringSheet sheet = measuringSheet(options);
        static const QRegularExpression kBox(QStringLiteral("/MediaBox \\[0 0 ([0-9.]+) ([0-9.]+)\\]"));
        auto found = kBox.globalMatch(QString::fromLatin1(sheet.pdf));
        int pages = 0;
        const QSizeF wanted = options.paper == Paper::a4 ? QSizeF(210, 297) : QSizeF(8.5 * 25.4, 11 * 25.4);
        for (; found.hasNext(); ++pages) {
            const QRegularExpressionMatch match = found.next();
            EXPECT_NEAR(match.captured(1).toDouble() * 25.4 / 72, wanted.width(), 0.18);
            EXPECT_NEAR(match.captured(2).toDouble() * 25.4 / 72, wanted.height(), 0.18);
        }
        EXPECT_EQ(pages, sheet.pages);
        EXPECT_GE(static_cast<std::size_t>(pages), measuringWalk(options.body, options.frame).size());
        std::map<int, std::set<int>> rows;
        for (const SheetBox& box : sheet.boxes) rows[box.page].insert(box.number);
        for (const auto& [page, numbers] : rows)
            EXPECT_LE(numbers.size(), 9u) << "no room for a drawing on page " << page + 1;
    });
}

#ifdef HOOPWRIGHT_PDFTOTEXT
QString ran(const QString& program, const QStringList& words) {
    QProcess process;
    process.start(program, words);
    EXPECT_TRUE(process.waitForFinished()) << program.toStdString();
    return QString::fromUtf8(process.readAllStandardOutput());
}

/// Read back by another program (Poppler).
TEST(TheMeasuringSheet, PrintsEveryNumberBesideItsBoxAndCarriesItsType) {
    QTemporaryDir folder;
    everySheet([&](const MeasuringSheetOptions& options) {
        const MeasuringSheet sheet = measuringSheet(options);
        const QString name = folder.filePath(QStringLiteral("sheet.pdf"));
        QFile file(name);
        ASSERT_TRUE(file.open(QIODevice::WriteOnly));
        file.write(sheet.pdf);
        file.close();
        const QString words =
            ran(QStringLiteral(HOOPWRIGHT_PDFTOTEXT), {QStringLiteral("-bbox"), name, QStringLiteral("-")});
        const QStringList pages = words.split(QStringLiteral("<page "));
        ASSERT_EQ(pages.size(), sheet.pages + 1);
        for (const SheetBox& box : sheet.boxes) {
            const QRegularExpression number(
                QStringLiteral(
                    "xMin=\"([0-9.]+)\" yMin=\"([0-9.]+)\" xMax=\"([0-9.]+)\" yMax=\"([0-9.]+)\">%1</word>")
                    .arg(box.number));
            bool beside = false;
            for (auto it = number.globalMatch(pages[box.page + 1]); it.hasNext();) {
                const QRegularExpressionMatch match = it.next();
                const double y =
                    0.5 * (match.captured(2).toDouble() + match.captured(4).toDouble()) * 25.4 / 72;
                const double x = match.captured(1).toDouble() * 25.4 / 72;
                beside |= x < 22 && y > box.box_mm.top() - 6 && y < box.box_mm.bottom();
            }
            EXPECT_TRUE(beside) << "number " << box.number;
        }
        const QStringList fonts =
            ran(QStringLiteral(HOOPWRIGHT_PDFFONTS), {name}).split(QLatin1Char('\n'), Qt::SkipEmptyParts);
        ASSERT_GT(fonts.size(), 2);
        for (const QString& font : fonts.mid(2))
            EXPECT_TRUE(
                font.contains(QRegularExpression(QStringLiteral("\\byes\\s+(yes|no)\\s+(yes|no)\\s"))))
                << font.toStdString();
    });
}
#endif

TEST(TheMeasuringSheet, ShowsWhatACarHasAlready) {
    Car car;
    car.points = {{"sill_b.left", {0, 631.5, 0}, 2, ""}};
    MeasuringSheetOptions options;
    const MeasuringSheet bare = measuringSheet(options);
    options.car = &car;
    const MeasuringSheet with_car = measuringSheet(options);
    EXPECT_EQ(with_car.boxes.size(), bare.boxes.size());
    EXPECT_NE(with_car.pdf.size(), bare.pdf.size());
}

TEST(ASketch, ShowsThePlacesOfItsStage) {
    for (const Car::Body body : kBodies) {
        for (const Car::Frame frame : kFrames) {
            for (const MeasuringStage& stage : measuringWalk(body, frame)) {
                const CarSketch sketch = carSketch(body, frame, stage.view);
                EXPECT_GT(sketch.paths.size(), 3u);
                for (const MeasuringItem& item : stage.items)
                    EXPECT_TRUE(sketch.bounds().contains(sketch.at(item.drawn)))
                        << bodyWord(body) << " " << item.name;
            }
        }
    }
}

TEST(Badges, LieOnThePanelAndNotOnOneAnother) {
    std::vector<PlaceMark> marks;
    for (int i = 0; i < 8; ++i) marks.push_back({i, QPointF(50 + 4 * (i % 4), 40 + 3 * (i / 4)), true, {}});
    const QRectF panel(0, 0, 120, 90);
    placeMarks(marks, panel);
    for (std::size_t i = 0; i < marks.size(); ++i) {
        EXPECT_TRUE(panel.contains(marks[i].badge));
        for (std::size_t k = 0; k < i; ++k) {
            const QPointF off = marks[i].badge - marks[k].badge;
            EXPECT_GT(std::hypot(off.x(), off.y()), 2 * kMarkRadius_mm);
        }
    }
}

}  // namespace

int main(int argc, char** argv) {
    qputenv("QT_QPA_PLATFORM", "offscreen");
    testing::InitGoogleMock(&argc, argv);
    QGuiApplication application(argc, argv);
    return RUN_ALL_TESTS();
}
