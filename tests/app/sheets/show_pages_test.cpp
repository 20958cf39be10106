// The customer's pages: what they say read back by others' readers, and the figures by other ways.
#include "app/sheets/show_pages.h"

#include <gmock/gmock.h>

#include <QDir>
#include <QFile>
#include <QProcess>
#include <QRegularExpression>
#include <QTemporaryDir>
#include <cmath>
#include <map>

#include "app/sheets/sheet_files.h"
#include "app/sheets/show_board.h"
#include "app/sheets/show_cuts.h"
#include "core/base/text.h"
#include "core/model/resolve.h"
#include "tests/approved/approved.h"

using namespace hoopwright;
using testing::HasSubstr;

namespace {

struct Shown {
    Job job;
    CageGeometry cage;
    CustomerFacts facts;
    SheetHead head;
    QImage mark;
};
const Shown& shown(const std::string& name) {
    static std::map<std::string, Shown> kept;
    const auto [at, is_new] = kept.try_emplace(name);
    Shown& made = at->second;
    if (!is_new) return made;
    const JobResult read = readJob(HOOPWRIGHT_SOURCE_DIR "/data/cages/" + name + ".yaml");
    made.job = *read.job;
    made.cage = resolve(made.job);
    std::vector<RuleTableRef> tables;
    for (const auto& file : read.files.rules) tables.push_back(readRuleTable(file).table);
    made.facts = customerFacts(made.job, made.cage, tables);
    made.head = {made.job.cage.name,
                 "",
                 "0123ABCD",
                 made.job.shop->name,
                 made.job.cage.unit == LengthUnit::in ? Paper::letter : Paper::a4,
                 made.job.cage.unit};
    const auto mark = shopMark(made.job, read.files.shop);
    EXPECT_TRUE(mark) << mark.reason();
    if (mark) made.mark = *mark;
    return made;
}
const std::vector<std::string> kShownDemos = {"hillclimb_saloon", "mile_pickup"};

ShowBook bookOf(const Shown& s) {
    return showBook(s.facts, {}, s.head, s.mark, "26 November 2026");
}

QString ranWith(const char* program, const QStringList& arguments) {
    QProcess process;
    process.start(QString::fromUtf8(program), arguments);
    EXPECT_TRUE(process.waitForFinished(20000)) << program;
    return QString::fromUtf8(process.readAllStandardOutput());
}

/// All white space one blank.
std::string flat(const QString& text) {
    return text.simplified().toStdString();
}

#ifdef HOOPWRIGHT_PDFTOTEXT
TEST(ShowPages, SayEverythingTheFactsSay) {
    QTemporaryDir folder;
    for (const std::string& name : kShownDemos) {
        const Shown& s = shown(name);
        QFile file(folder.filePath("show.pdf"));
        ASSERT_TRUE(file.open(QIODevice::WriteOnly));
        file.write(bookOf(s).pdf);
        file.close();
        const std::string text =
            flat(ranWith(HOOPWRIGHT_PDFTOTEXT, {"-layout", "-nopgbrk", file.fileName(), "-"}));
        const std::string raw =
            flat(ranWith(HOOPWRIGHT_PDFTOTEXT, {"-raw", "-nopgbrk", file.fileName(), "-"}));
        for (const ShownBar& bar : s.facts.bars) {
            EXPECT_THAT(raw, HasSubstr(bar.name)) << name;
            // A sentence is broken over lines, between other cells: its words all stand there.
            EXPECT_THAT(raw, HasSubstr(bar.purpose.substr(0, bar.purpose.find(' ', 20)))) << name;
        }
        for (const ShownOption& option : s.facts.options) EXPECT_THAT(text, HasSubstr(option.name));
        for (const ShownDriver& driver : s.facts.drivers)
            EXPECT_THAT(text, HasSubstr(s.job.drivers[static_cast<std::size_t>(driver.index)].name));
        for (const RuleTableInfo& table : s.facts.check.tables)
            EXPECT_THAT(text, HasSubstr("Checked against " + table.title + ", edition " + table.edition));
        for (const std::string& each : s.job.shop->exclusions) EXPECT_THAT(text, HasSubstr(each));
        EXPECT_THAT(raw, HasSubstr("it certifies nothing"));
        EXPECT_THAT(text, HasSubstr("Revision 0123ABCD"));
        EXPECT_THAT(text, HasSubstr("26 November 2026"));
        EXPECT_THAT(raw, HasSubstr(s.job.shop->words));
        EXPECT_THAT(text, HasSubstr("not confirmed"));
    }
}
TEST(ShowPages, EmbedTheirFonts) {
    QTemporaryDir folder;
    QFile file(folder.filePath("show.pdf"));
    ASSERT_TRUE(file.open(QIODevice::WriteOnly));
    file.write(bookOf(shown("hillclimb_saloon")).pdf);
    file.close();
    const QStringList lines =
        ranWith(HOOPWRIGHT_PDFFONTS, {file.fileName()}).split(QLatin1Char('\n'), Qt::SkipEmptyParts);
    ASSERT_GT(lines.size(), 2);
    static const QRegularExpression kColumns(  // embedded, subset, to Unicode, object
        QStringLiteral("(yes|no) +(yes|no) +(yes|no) +[0-9]+ +[0-9]+ *$"));
    for (qsizetype i = 2; i < lines.size(); ++i)
        EXPECT_EQ(kColumns.match(lines[i]).captured(1), QStringLiteral("yes")) << lines[i].toStdString();
}
#endif

#ifdef HOOPWRIGHT_PDFTOCAIRO
TEST(ShowPages, LookAsApproved) {
    QTemporaryDir folder;
    for (const std::string& name : kShownDemos) {
        QFile file(folder.filePath("show.pdf"));
        ASSERT_TRUE(file.open(QIODevice::WriteOnly));
        file.write(bookOf(shown(name)).pdf);
        file.close();
        ranWith(HOOPWRIGHT_PDFTOCAIRO, {"-png", "-r", "45", file.fileName(), folder.filePath("page")});
        const QStringList pages = QDir(folder.path()).entryList({"page*.png"}, QDir::Files, QDir::Name);
        ASSERT_GE(pages.size(), 5);
        for (const qsizetype page : {qsizetype{0}, qsizetype{2}, pages.size() - 1})
            testing_approved::expectApproved(
                QString::fromStdString(name) + QStringLiteral("_show_%1").arg(page + 1),
                QImage(folder.filePath(pages[page])));
        for (const QString& page : pages) QFile::remove(folder.filePath(page));
    }
}
#endif

// Relative luminance and contrast ratio. Source: W3C, Web Content Accessibility Guidelines 2.2 (2023),
// definitions of "relative luminance" and "contrast ratio", success criteria 1.4.3 and 1.4.11.
double luminanceOf(const QColor& c) {
    const auto channel = [](double v) {
        return v <= 0.04045 ? v / 12.92 : std::pow((v + 0.055) / 1.055, 2.4);
    };
    return 0.2126 * channel(c.redF()) + 0.7152 * channel(c.greenF()) + 0.0722 * channel(c.blueF());
}
double contrastOf(const QColor& a, const QColor& b) {
    const double high = std::max(luminanceOf(a), luminanceOf(b)),
                 low = std::min(luminanceOf(a), luminanceOf(b));
    return (high + 0.05) / (low + 0.05);
}

TEST(ShowPages, AreReadableOnWhiteAndOnThePaleGround) {
    const PaperInk ink = paperInk();
    const Palette marks = paletteOf(Tone::light);
    for (const QColor& ground : {ink.white, ink.pale}) {
        for (const QColor& text : {ink.ink, ink.soft}) EXPECT_GE(contrastOf(text, ground), 4.5);
        for (const QColor& mark : {marks.meets, marks.fails, marks.ask, marks.cannot_tell})
            EXPECT_GE(contrastOf(mark, ground), 3.0) << mark.name().toStdString();
    }
}

TEST(CustomerFacts, NameEveryBarOnceAndAllOfTheTube) {
    for (const std::string& name : kShownDemos) {
        const Shown& s = shown(name);
        std::map<int, int> seen;
        double length = 0, mass = 0;
        for (const ShownBar& bar : s.facts.bars) {
            EXPECT_FALSE(bar.purpose.empty()) << bar.id;
            for (const int member : bar.members) ++seen[member];
            length += bar.length_mm;
            mass += bar.mass_kg;
        }
        EXPECT_EQ(seen.size(), s.cage.members.size());
        for (const auto& [member, times] : seen) EXPECT_EQ(times, 1) << member;
        EXPECT_NEAR(length, s.cage.totals.tube_length_mm, 1e-6);
        EXPECT_NEAR(mass, s.cage.totals.tube_mass_kg, 1e-9);
    }
}

TEST(CustomerFacts, NameTheRulesThatNobodyHasConfirmed) {
    int unconfirmed = 0;
    for (const std::string& name : kShownDemos)
        for (const ShownBar& bar : shown(name).facts.bars)
            for (const RuleOfBar& rule : bar.rules) unconfirmed += !rule.confirmed;
    EXPECT_GT(unconfirmed, 0);
}

TEST(CustomerFacts, OfAnOptionAreTheDifferenceOfTwoCages) {
    for (const std::string& name : kShownDemos) {
        const Shown& s = shown(name);
        ASSERT_EQ(s.facts.options.size(), 1u) << name;
        const ShownOption& option = s.facts.options.front();
        EXPECT_EQ(option.id, "front_return");
        // The job with the bar struck out of its list by hand, and its masses by its own sections.
        Job without = s.job;
        std::erase_if(without.cage.members, [](const Member& member) { return member.id == "front_return"; });
        const CageGeometry rest = resolve(without);
        double mass = 0;
        for (const ResolvedMember& bar : s.cage.members)
            if (bar.id.starts_with("front_return")) mass += bar.mass_kg;
        EXPECT_NEAR(option.mass_kg, mass, 1e-9);
        EXPECT_EQ(rest.members.size() + 2, s.cage.members.size());
        ASSERT_TRUE(option.price);
        EXPECT_GT(*option.price, 0);
        ASSERT_EQ(option.drivers.size(), s.job.drivers.size());
        for (std::size_t i = 0; i < option.drivers.size(); ++i) {
            const DriverRoom room = roomOf(reportOn(s.job.drivers[i], without.car, rest));
            EXPECT_EQ(option.drivers[i].without.door_round_mm, room.door_round_mm);
            EXPECT_EQ(option.drivers[i].without.above_mm, room.above_mm);
            EXPECT_EQ(option.drivers[i].without.helmet_mm, room.helmet_mm);
            EXPECT_TRUE(option.drivers[i].with.helmet_mm);
        }
    }
}

TEST(CustomerFacts, SayWhatFallsShortWithoutABarTheClassAsksFor) {
    Job job = shown("hillclimb_saloon").job;
    for (Member& member : job.cage.members)
        if (member.id == "roof_diagonal") member.optional_bar = true;
    const JobResult read = readJob(HOOPWRIGHT_SOURCE_DIR "/data/cages/hillclimb_saloon.yaml");
    const std::vector<RuleTableRef> tables = {readRuleTable(read.files.rules.at(0)).table};
    const CageGeometry cage = resolve(job);
    const CustomerFacts facts = customerFacts(job, cage, tables);
    const auto roof = std::ranges::find(facts.options, "roof_diagonal", &ShownOption::id);
    ASSERT_NE(roof, facts.options.end());
    EXPECT_THAT(roof->then_falls_short, testing::Contains("Roof"));
}

// A tube straight through a square sheet, one past it, and one that ends before it.
TEST(CutsInCar, AreWhereABarPassesThroughASheet) {
    Job job;
    CarLine sheet;
    sheet.name = "firewall";
    sheet.points = {{1000, -500, 0}, {1000, 500, 0}, {1000, 500, 600}, {1000, -500, 600}};
    job.car.lines = {sheet};
    CageGeometry cage;
    const auto add = [&](const std::string& id, const Vec3& from, const Vec3& to) {
        ResolvedMember bar;
        bar.id = id;
        bar.name = id;
        bar.section = {38, 2.5};
        const std::vector<PathPoint> path = {{from, 0}, {to, 0}};
        bar.line = makeCentreline(path).line;
        cage.members.push_back(bar);
    };
    add("through", {500, 100, 300}, {1500, 200, 200});
    add("past", {500, 700, 300}, {1500, 700, 300});
    add("short", {200, 0, 300}, {900, 0, 300});
    const auto cuts = cutsInCar(job, cage);
    ASSERT_EQ(cuts.size(), 1u);
    EXPECT_EQ(cuts[0].thing, "through");
    EXPECT_EQ(cuts[0].part, "firewall");
    EXPECT_EQ(cuts[0].size_mm, 38);
    EXPECT_THAT(cuts[0].sentence, HasSubstr("through the firewall, a hole for a tube of 38 mm"));
}

TEST(CutsInCar, OfTheDemosAreTheReturnsThroughTheFirewallAndEveryPlate) {
    for (const std::string& name : kShownDemos) {
        const Shown& s = shown(name);
        int plates = 0, returns = 0;
        for (const ShownCut& cut : s.facts.cuts) {
            plates += cut.kind != ShownCut::Kind::hole;
            returns += cut.kind == ShownCut::Kind::hole && cut.thing.starts_with("front_return");
        }
        EXPECT_EQ(plates, static_cast<int>(s.cage.plates.size()));
        EXPECT_GE(returns, 2) << name;
    }
}

}  // namespace
