// The inspector's pack as it comes out of the printer: read back by others' readers and measured.
#include <gmock/gmock.h>

#include <QFile>
#include <QGuiApplication>
#include <QProcess>
#include <QRegularExpression>
#include <QTemporaryDir>
#include <cmath>
#include <map>
#include <numbers>

#include "app/pack/pack_files.h"
#include "app/pack/pack_pages.h"
#include "app/view/report_file.h"
#include "core/base/text.h"
#include "core/model/resolve.h"
#include "packed.h"
#include "tests/app/sheets/read_back.h"
#include "tests/approved/approved.h"

using namespace hoopwright;
using testing::ElementsAre;
using testing::HasSubstr;

namespace {

TEST(Pack, SaysOnItsCoverAndOverTheSignatureThatItIsAPlanCheck) {
    for (const std::string& name : kDemoPacks) {
        const auto& pages = demoPages(name);
        ASSERT_GT(pages.size(), 8u);
        EXPECT_THAT(wordsOf(pages.front()), HasSubstr("no certificate and no approval"));
        EXPECT_THAT(wordsAbout(pages, "Declaration"), HasSubstr("no certificate and no approval"));
        EXPECT_THAT(wordsAbout(pages, "Declaration"), HasSubstr("Builder: name and signature"));
    }
}

TEST(Pack, HasCautionEditionJobAndRevisionOnEveryPage) {
    for (const std::string& name : kDemoPacks)
        for (const PackPage& page : demoPages(name)) {
            const std::string words = wordsOf(page);
            EXPECT_THAT(words, HasSubstr("certifies nothing"));
            EXPECT_THAT(words, HasSubstr(demoPack(name).job.cage.name));
            EXPECT_THAT(words, HasSubstr("Revision 1A2B3C4D"));
            EXPECT_THAT(words, HasSubstr("Club hillclimb, demo 1"));
        }
}

TEST(Pack, StaysOnThePaper) {
    for (const std::string& name : kDemoPacks) {
        for (const PackPage& page : demoPages(name)) {
            const Vec2 size = page.words.size_mm;
            for (const InkPath& path : page.ink)
                for (const Vec2& p : path.points) {
                    ASSERT_GE(p.minCoeff(), 5) << name << ": " << page.words.title;
                    ASSERT_LE(p.x(), size.x() - 5) << name << ": " << page.words.title;
                    ASSERT_LE(p.y(), size.y() - 5) << name << ": " << page.words.title;
                }
            for (const DrawnText& text : page.words.texts) {
                const double wide = wordsWidth_mm(text.words, text.points, text.strong);
                const double left = text.at.x() - (text.align == DrawnText::Align::left    ? 0
                                                   : text.align == DrawnText::Align::right ? wide
                                                                                           : wide / 2);
                EXPECT_GE(left, 5) << text.words;
                EXPECT_LE(left + wide, size.x() - 5) << text.words;
            }
        }
    }
}

TEST(Pack, ClosesATableUpWhoseLastPageWouldHoldAFewRows) {
    const auto pagesOf = [](int rows, bool closing) {
        PackPages pages(demoPack("hillclimb_saloon").head);
        const auto draw = [&] {
            pages.page("Rows", "");
            pages.table({{"No", 0.5}, {"Seen", 0.5, DrawnText::Align::left, true}});
            for (int i = 0; i < rows; ++i) pages.row({std::to_string(i), ""});
        };
        if (closing) {
            pages.closingUp(draw);
        } else {
            draw();
        }
        return pages.take();
    };
    int whole = 1;  // rows that fill one page
    while (pagesOf(whole + 1, false).size() == 1) ++whole;
    const int over = whole + 2;
    EXPECT_EQ(pagesOf(over, false).size(), 2u);
    const std::vector<PackPage> close = pagesOf(over, true);
    ASSERT_EQ(close.size(), 1u);
    for (int i = 0; i < over; ++i)
        EXPECT_EQ(std::ranges::count(close[0].words.texts, std::to_string(i), &DrawnText::words), 1) << i;
    double low = 0;
    for (const InkPath& path : close[0].ink)
        for (const Vec2& p : path.points) low = std::max(low, p.y());
    EXPECT_LE(low, close[0].words.size_mm.y() - 18);
    // Half a page over stays as it is: nothing would bring it in.
    const std::vector<PackPage> half = pagesOf(whole * 3 / 2, true);
    ASSERT_EQ(half.size(), 2u);
    EXPECT_EQ(half[1].ink.size(), pagesOf(whole * 3 / 2, false)[1].ink.size());
}

TEST(Pack, NumbersEveryTubeInTheViewsAndListsItInTheSchedule) {
    for (const std::string& name : kDemoPacks) {
        const Packed& p = demoPack(name);
        PackPages pages(p.head);
        PackDrawer drawer(p.pack);
        PackInHand in{pages, drawer, p.pack, {p.head.unit}};
        addViews(in);
        for (std::size_t m = 0; m < p.cage.members.size(); ++m)
            EXPECT_TRUE(drawer.numbered(static_cast<int>(m))) << p.cage.members[m].id;
        const PackRows rows = tubeRows(p.pack);
        ASSERT_EQ(rows.size(), p.cage.members.size() + 1);
        for (std::size_t m = 0; m < p.cage.members.size(); ++m) {
            EXPECT_EQ(rows[m + 1][0], std::to_string(m + 1));
            EXPECT_EQ(rows[m + 1][1], p.cage.members[m].id);
            EXPECT_EQ(rows[m + 1][14], shortest(p.cage.members[m].line.length_mm()));
        }
    }
}

TEST(Pack, ViewsAreToTheScaleTheyName) {
    // The hoop's height on the page times the scale is its height; told by the page's own words.
    const auto& pages = demoPages("hillclimb_saloon");
    const Packed& p = demoPack("hillclimb_saloon");
    const auto page = std::ranges::find_if(pages, [](const PackPage& one) {
        return one.words.title.find("From the left") != std::string::npos;
    });
    ASSERT_NE(page, pages.end());
    const QRegularExpression said(QStringLiteral("1:([0-9.]+); this bar is 500 mm"));
    const auto match = said.match(QString::fromStdString(wordsOf(*page)));
    ASSERT_TRUE(match.hasMatch());
    const double scale = match.captured(1).toDouble();
    double wide = 0, bar = 0;
    for (const InkPath& path : page->ink) {
        if (path.points.size() != 2 || std::abs(path.points[0].y() - path.points[1].y()) > 1e-9) continue;
        const double length = std::abs(path.points[0].x() - path.points[1].x());
        if (path.width_mm == 0.5) bar = length;
        if (path.width_mm == 0.13) wide = std::max(wide, length);
    }
    EXPECT_NEAR(bar * scale, 500, 1e-6);
    // Tubes and plates: a little longer than the tubes alone.
    EXPECT_GE(wide * scale, p.pack.outside_mm[0] - 0.1);
    EXPECT_LE(wide * scale, p.pack.outside_mm[0] + 120);
}

TEST(Pack, OutsideIsOverTheMetalItself) {
    // A hoop of 45 mm across the car: width over its legs' outsides; told from its centreline.
    auto p = packed("hillclimb_saloon");
    std::erase_if(p->job.cage.members, [](const Member& m) { return m.id != "main_hoop"; });
    p->make();
    ASSERT_EQ(p->cage.members.size(), 1u);
    const Centreline& line = p->cage.members[0].line;
    EXPECT_NEAR(p->pack.outside.max().z(), line.bounds().max().z() + 22.5, 0.05);
    // Upright legs end square across; so the widest is the radius out, a hair less where they lean.
    EXPECT_NEAR(p->pack.outside_mm[1], line.bounds().sizes().y() + 45, 1.5);
}

TEST(Pack, WallSpotsStandOnTheOutsideAndExpectWhatABendLeaves) {
    for (const std::string& name : kDemoPacks) {
        const Packed& p = demoPack(name);
        int bends = 0;
        for (const PackSpot& spot : p.pack.spots) {
            const ResolvedMember& m = p.cage.members[static_cast<std::size_t>(spot.member)];
            EXPECT_NEAR((spot.at - m.line.point(spot.station_mm)).norm(), m.radius_mm(), 1e-9);
            EXPECT_NEAR(spot.out.dot(m.line.tangent(spot.station_mm)), 0, 1e-9);
            if (spot.bend == 0) {
                EXPECT_EQ(spot.expected_mm, spot.nominal_mm);
                continue;
            }
            ++bends;
            // Outside: farther from the bend's centre than the centreline is.
            const Piece& piece = m.line.pieceAt(spot.station_mm);
            ASSERT_EQ(piece.kind, Piece::Kind::bend);
            EXPECT_NEAR((spot.at - piece.centre).norm(), piece.radius_mm + m.radius_mm(), 1e-6);
            // By volume kept: outer fibre stretched by (R + D/2) / R. Any text on tube bending.
            EXPECT_NEAR(spot.expected_mm * (piece.radius_mm + m.radius_mm()) / piece.radius_mm,
                        spot.nominal_mm, 1e-9);
        }
        EXPECT_EQ(bends, p.cage.totals.bends);
    }
}

TEST(Pack, ChecklistHasEveryAnswerInTheTablesOrder) {
    for (const std::string& name : kDemoPacks) {
        const Packed& p = demoPack(name);
        const PackRows rows = checklistRows(p.pack);
        const CheckReport report = check(p.tables, p.job, p.cage);
        ASSERT_EQ(rows.size(), report.findings.size() + 1);
        for (std::size_t i = 0; i < report.findings.size(); ++i) {
            EXPECT_EQ(rows[i + 1][3], report.findings[i].rule);
            EXPECT_EQ(rows[i + 1][6], answerKey(report.findings[i].answer));
        }
        const std::string words = wordsAbout(demoPages(name), report.tables.front().title);
        for (const Finding& f : report.findings) {
            if (f.table == report.tables.front().id) {
                EXPECT_THAT(words, HasSubstr(f.clause));
            }
        }
        if (report.unconfirmed() > 0) {
            EXPECT_THAT(words, HasSubstr("UNCONFIRMED"));
        }
    }
}

TEST(Pack, EveryFailingFindingThatCanBeShownHasAPicture) {
    const Packed& p = demoPack("faults/hillclimb_saloon");
    const std::vector<int> pictured = p.pack.pictured();
    int failing = 0;
    for (std::size_t i = 0; i < p.pack.report.findings.size(); ++i) {
        const Finding& f = p.pack.report.findings[i];
        if (f.answer != Answer::fails || (f.evidence.shapes.empty() && f.evidence.members.empty())) continue;
        ++failing;
        EXPECT_THAT(pictured, testing::Contains(static_cast<int>(i))) << f.title;
    }
    EXPECT_GE(failing, 4);
    const std::string words = wordsAbout(demoPages("faults/hillclimb_saloon"), "Pictures of findings");
    for (const int i : pictured)
        EXPECT_THAT(words,
                    HasSubstr(p.pack.report.findings[static_cast<std::size_t>(i)].title.substr(0, 12)));
}

TEST(Pack, AFindingsPictureShowsItsMeasurementAtFullLength) {
    // Of the six standard views the one in which it is longest is taken.
    for (const std::string& name : kDemoPacks) {
        for (const Finding& f : demoPack(name).pack.report.findings) {
            if (f.evidence.shapes.size() != 1) continue;
            const auto* line = std::get_if<ShownLine>(&f.evidence.shapes[0]);
            if (!line || (line->to - line->from).norm() < 1) continue;
            const LineView chosen = viewOfFinding(f);
            const double got = (chosen.flat(line->to) - chosen.flat(line->from)).norm();
            for (const LineView& other : lineViews())
                EXPECT_GE(got, 0.97 * (other.flat(line->to) - other.flat(line->from)).norm()) << f.title;
        }
    }
}

TEST(Pack, StopsWhereItIsTold) {
    const Packed& p = demoPack("hillclimb_saloon");
    int asked = 0;
    EXPECT_TRUE(packFiles(p.head, p.pack, [&](int, int, std::string_view) { return ++asked < 3; }).empty());
    EXPECT_EQ(asked, 3);
    EXPECT_TRUE(packPdf(demoPages("hillclimb_saloon"), "t", [](int done, int, std::string_view) {
                    return done < 2;
                }).isEmpty());
}

#ifdef HOOPWRIGHT_PDFTOTEXT  // and pdffonts and pdftocairo
QByteArray ranOver(const char* program, const QStringList& arguments) {
    QProcess process;
    process.start(QString::fromUtf8(program), arguments);
    EXPECT_TRUE(process.waitForFinished(60'000));
    EXPECT_EQ(process.exitCode(), 0) << process.readAllStandardError().toStdString();
    return process.readAllStandardOutput();
}

TEST(PackPdf, IsReadBackByPopplerWithItsFontsInIt) {
    const Packed& p = demoPack("hillclimb_saloon");
    const QTemporaryDir folder;
    const QString file = folder.filePath(QStringLiteral("pack.pdf"));
    {
        QFile out(file);
        ASSERT_TRUE(out.open(QIODevice::WriteOnly));
        out.write(packPdf(demoPages("hillclimb_saloon"), "Pack", {}));
    }
    const QString words = QString::fromUtf8(
        ranOver(HOOPWRIGHT_PDFTOTEXT, {QStringLiteral("-layout"), file, QStringLiteral("-")}));
    const QStringList pages = words.split(QLatin1Char('\f'), Qt::SkipEmptyParts);
    ASSERT_EQ(pages.size(), qsizetype(demoPages("hillclimb_saloon").size()));
    for (const QString& page : pages) {
        EXPECT_TRUE(page.contains(QStringLiteral("certifies nothing")));
        EXPECT_TRUE(page.contains(QStringLiteral("Revision 1A2B3C4D")));
    }
    for (const ResolvedMember& m : p.cage.members)
        EXPECT_TRUE(words.contains(QString::fromStdString(m.name).left(12))) << m.name;
    // pdffonts: name, type, encoding, emb sub uni: every font is embedded.
    const QStringList fonts =
        QString::fromUtf8(ranOver(HOOPWRIGHT_PDFFONTS, {file})).split(QLatin1Char('\n'));
    int count = 0;
    for (qsizetype i = 2; i < fonts.size(); ++i) {
        if (fonts[i].trimmed().isEmpty()) continue;
        ++count;
        EXPECT_TRUE(
            fonts[i].contains(QRegularExpression(QStringLiteral("\\byes\\s+(yes|no)\\s+(yes|no)\\b"))))
            << fonts[i].toStdString();
    }
    EXPECT_GT(count, 0);
}

TEST(PackPdf, ItsScaleIsExactOnThePage) {
    // Read by poppler: the bar of each page drawn to scale is as long as its words say.
    const QByteArray pdf = packPdf(demoPages("hillclimb_saloon"), "Pack", {});
    const auto& pages = demoPages("hillclimb_saloon");
    const QRegularExpression said(QStringLiteral("1:([0-9.]+); this bar is 500 mm"));
    int to_scale = 0;
    for (std::size_t i = 0; i < pages.size(); ++i) {
        const auto match = said.match(QString::fromStdString(wordsOf(pages[i])));
        if (!match.hasMatch()) continue;
        ++to_scale;
        const double bar = 500 / match.captured(1).toDouble();
        QSizeF size;
        const auto paths = read_back::pdfPaths(pdf, static_cast<int>(i) + 1, &size);
        // A page's size is written in whole points.
        EXPECT_NEAR(size.width(), pages[i].words.size_mm.x(), 25.4 / 72 / 2);
        EXPECT_NEAR(size.height(), pages[i].words.size_mm.y(), 25.4 / 72 / 2);
        EXPECT_TRUE(std::ranges::any_of(paths,
                                        [&](const std::vector<Vec2>& path) {
                                            return path.size() == 2 &&
                                                   std::abs(path[0].y() - path[1].y()) < 0.01 &&
                                                   std::abs(std::abs(path[1].x() - path[0].x()) - bar) < 0.02;
                                        }))
            << "page " << i + 1 << ", bar of " << bar << " mm";
    }
    EXPECT_GE(to_scale, 2);
}

TEST(PackPdf, LooksAsApproved) {
    const QTemporaryDir folder;
    const QString file = folder.filePath(QStringLiteral("pack.pdf"));
    {
        QFile out(file);
        ASSERT_TRUE(out.open(QIODevice::WriteOnly));
        out.write(packPdf(demoPages("hillclimb_saloon"), "Pack", {}));
    }
    for (const int page : {1, 2, 4}) {
        const QString number = QString::number(page), png = folder.filePath(number);
        ranOver(HOOPWRIGHT_PDFTOCAIRO,
                {"-png", "-r", "45", "-singlefile", "-f", number, "-l", number, file, png});
        testing_approved::expectApproved(QStringLiteral("hillclimb_saloon_pack_") + number,
                                         QImage(png + QStringLiteral(".png")));
    }
}
#endif

}  // namespace

int main(int argc, char** argv) {
    testing::InitGoogleMock(&argc, argv);
    qputenv("QT_QPA_PLATFORM", "offscreen");
    const QGuiApplication application(argc, argv);
    return RUN_ALL_TESTS();
}
