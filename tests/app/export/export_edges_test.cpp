// What other programs are given of jobs unlike the demos: other tongues, inches, nothing at all, a hand that
// says stop.
#include <gmock/gmock.h>

#include <QJsonArray>
#include <QJsonDocument>
#include <QJsonObject>
#include <QRegularExpression>
#include <algorithm>

#include "app/export/cage_export.h"
#include "core/base/text.h"
#include "core/files/job_file.h"
#include "core/model/resolve.h"

namespace hoopwright {
namespace {

using testing::HasSubstr;

const Job& demoJob(const std::string& name) {
    static const Job saloon = *readJob(HOOPWRIGHT_SOURCE_DIR "/data/cages/hillclimb_saloon.yaml").job;
    static const Job pickup = *readJob(HOOPWRIGHT_SOURCE_DIR "/data/cages/mile_pickup.yaml").job;
    return name == "mile_pickup" ? pickup : saloon;
}

/// The first bars only, so that solids take no time.
Job fewBars(const std::string& name, std::size_t bars) {
    Job job = demoJob(name);
    job.cage.members.resize(bars);
    job.cage.gussets.clear();
    return job;
}

CageExport exported(const Job& job, ExportFormat format, CageTable table = CageTable::points,
                    const WorkProgress& progress = {}) {
    ExportChoice choice{format};
    choice.car = choice.drivers = false;
    choice.table = table;
    return exportCage(job, resolve(job), choice, progress);
}

QJsonObject jsonOf(const QByteArray& glb) {
    const auto size = static_cast<unsigned char>(glb[12]) | static_cast<unsigned char>(glb[13]) << 8 |
                      static_cast<unsigned char>(glb[14]) << 16;
    return QJsonDocument::fromJson(glb.mid(20, size)).object();
}

/// ISO 10303-21, 6.4.3: an apostrophe is written twice; signs beyond the basic alphabet in hexadecimal, four
/// figures each, between X2 and X0 with backslashes round them.
QString fromStep(const QByteArray& bytes) {
    static const QRegularExpression kSigns(QStringLiteral(R"(\\X2\\((?:[0-9A-F]{4})+)\\X0\\)"));
    const QString all = QString::fromLatin1(bytes);
    QString out;
    qsizetype from = 0;
    for (auto it = kSigns.globalMatch(all); it.hasNext();) {
        const QRegularExpressionMatch found = it.next();
        out += all.mid(from, found.capturedStart() - from);
        const QString figures = found.captured(1);
        for (qsizetype i = 0; i < figures.size(); i += 4)
            out += QChar(figures.mid(i, 4).toUShort(nullptr, 16));
        from = found.capturedEnd();
    }
    out += all.mid(from);
    return out.replace(QStringLiteral("''"), QStringLiteral("'"));
}

TEST(AnExport, KeepsNamesOfOtherTonguesAsEachFormatWritesThem) {
    Job job = fewBars("hillclimb_saloon", 2);
    const std::string name = "Bügel 'Łódź' & \"2\"";
    job.cage.members[1].name = name;
    QStringList nodes;
    for (const auto& node : jsonOf(exported(job, ExportFormat::glb).bytes)["nodes"].toArray())
        nodes += node.toObject()["name"].toString();
    EXPECT_TRUE(nodes.contains(QString::fromStdString(name)));
    const CageExport step = exported(job, ExportFormat::step);
    EXPECT_THAT(fromStep(step.bytes).toStdString(), HasSubstr("'" + name + "'"));
    for (const CageExport& made : {step, exported(job, ExportFormat::dxf)}) {
        EXPECT_TRUE(
            std::ranges::all_of(made.bytes, [](char c) { return static_cast<unsigned char>(c) < 128; }));
    }
    // RFC 4180, 2.7: a quotation mark in a field is written twice.
    EXPECT_THAT(exported(job, ExportFormat::csv, CageTable::bars).bytes.toStdString(),
                HasSubstr("\"Bügel 'Łódź' & \"\"2\"\"\""));
}

TEST(AnExport, OfAnInchJobIsInMillimetres) {
    // The pickup's hoop is 1-5/8 in by .083 in, its corner 34.2 in out: 41.275, 2.1082, 868.68 mm.
    const Job job = fewBars("mile_pickup", 1);
    const std::string bars = exported(job, ExportFormat::csv, CageTable::bars).bytes.toStdString();
    EXPECT_THAT(bars, HasSubstr("41.275"));
    EXPECT_THAT(bars, HasSubstr("2.1082"));
    const std::string step = exported(job, ExportFormat::step).bytes.toStdString();
    EXPECT_THAT(step, HasSubstr("SI_UNIT(.MILLI.,.METRE.)"));
    EXPECT_THAT(step, HasSubstr("20.6375")) << "half of 1-5/8 in, the radius of its faces";
    EXPECT_THAT(exported(job, ExportFormat::dxf).bytes.toStdString(), HasSubstr("$INSUNITS\n70\n4\n"));
}

TEST(AnExport, OfNothingIsAWholeFileOfNothing) {
    Job job = demoJob("hillclimb_saloon");
    job.cage.members.clear();
    job.cage.plates.clear();
    job.cage.gussets.clear();
    for (const ExportFormat format : allExportFormats()) {
        const CageExport made = exported(job, format);
        EXPECT_FALSE(made.stopped) << formatWord(format);
        EXPECT_TRUE(made.pieces.empty()) << formatWord(format);
        EXPECT_EQ(made.volume_mm3, 0) << formatWord(format);
        ASSERT_FALSE(made.bytes.isEmpty()) << formatWord(format);
        EXPECT_FALSE(made.bytes.contains("nan") || made.bytes.contains("inf,")) << formatWord(format);
    }
    EXPECT_TRUE(exported(job, ExportFormat::step).bytes.trimmed().endsWith("END-ISO-10303-21;"));
    EXPECT_TRUE(exported(job, ExportFormat::dxf).bytes.trimmed().endsWith("EOF"));
}

TEST(AnExport, StopsAtOnceInEveryFormatThatTakesTime) {
    const Job job = fewBars("hillclimb_saloon", 4);
    for (const ExportFormat format : {ExportFormat::step, ExportFormat::glb}) {
        int asked = 0;
        const CageExport made =
            exported(job, format, CageTable::points, [&](int, int, std::string_view) { return ++asked < 2; });
        EXPECT_TRUE(made.stopped) << formatWord(format);
        EXPECT_TRUE(made.bytes.isEmpty()) << formatWord(format);
        EXPECT_EQ(asked, 2) << formatWord(format) << ": not asked again once it was told";
    }
}

TEST(AnExport, CountsUpToAllAndNeverBack) {
    const Job job = fewBars("hillclimb_saloon", 4);
    int last = -1, whole = -1;
    exported(job, ExportFormat::step, CageTable::points, [&](int done, int of, std::string_view doing) {
        EXPECT_GE(done, last);
        EXPECT_LE(done, of);
        EXPECT_FALSE(doing.empty());
        last = done;
        whole = of;
        return true;
    });
    EXPECT_GT(whole, 0);
}

TEST(AnExport, LeavesOutABarThatHasNoTubeAndSaysWhich) {
    Job job = fewBars("hillclimb_saloon", 3);
    job.cage.members[2].stock = "99x9";
    const CageExport made = exported(job, ExportFormat::step);
    std::string said;
    for (const std::string& one : made.left_out) said += one + "\n";
    EXPECT_THAT(said, HasSubstr("Belt bar"));
    EXPECT_TRUE(std::ranges::none_of(made.pieces, [](const ExportedPiece& p) { return p.id == "belt_bar"; }));
    EXPECT_TRUE(std::ranges::any_of(made.pieces, [](const ExportedPiece& p) { return p.id == "main_hoop"; }));
}

TEST(ATable, OfBendsWalksFromCornerToCorner) {
    // Lengths of straights and bends along a bar are those of its points: R A between a bend's two ends.
    const Job job = fewBars("mile_pickup", 1);
    const CageGeometry cage = resolve(job);
    const auto rows = cageRows(CageTable::bends, job, cage);
    ASSERT_EQ(rows.size(), 5u) << "four bends and the head";
    for (std::size_t i = 1; i < rows.size(); ++i) EXPECT_EQ(rows[i].size(), rows[0].size());
    const auto at = [&](const char* column, std::size_t row) {
        const auto found = std::find(rows[0].begin(), rows[0].end(), column);
        EXPECT_NE(found, rows[0].end()) << column;
        return found == rows[0].end()
                   ? 0.0
                   : plainNumber(rows[row][static_cast<std::size_t>(found - rows[0].begin())]).value_or(-1);
    };
    // Corners of the file: legs lean by atan(8.4/22.4), and the roof is level.
    const double lean = std::atan2(22.4, 8.4) * 180 / 3.14159265358979323846;
    EXPECT_NEAR(at("angle_deg", 2), lean, 1e-6);
    EXPECT_NEAR(at("angle_deg", 3), lean, 1e-6);
    EXPECT_NEAR(at("radius_mm", 1), 6 * 25.4, 1e-6);
}

}  // namespace
}  // namespace hoopwright
