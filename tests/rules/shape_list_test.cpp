// The list of shapes on the format's page: complete, every rule of it readable, every test of it there; and
// its questions, answered yes, no, not at all, and where they do not apply.
#include <algorithm>
#include <filesystem>
#include <fstream>
#include <regex>
#include <sstream>

#include "rules/quantity.h"
#include "tests/rules/shapes.h"

namespace hoopwright::test {
namespace {

namespace fs = std::filesystem;
const fs::path kSource = HOOPWRIGHT_SOURCE_DIR;

std::string readText(const fs::path& file) {
    std::ifstream in(file);
    std::stringstream text;
    text << in.rdbuf();
    return text.str();
}

struct Row {
    int number = 0;
    std::string shape;
    std::vector<std::string> rules, quantities;
    std::string test;
};
struct Page {
    std::string head;
    std::vector<Row> rows;
};

/// What stands in backticks.
std::vector<std::string> spans(const std::string& cell) {
    static const std::regex span("`([^`]*)`");
    std::vector<std::string> out;
    for (std::sregex_iterator i(cell.begin(), cell.end(), span), end; i != end; ++i) out.push_back((*i)[1]);
    return out;
}

Page readPage() {
    Page out;
    const std::string page = readText(kSource / "rules/README.md");
    const std::string list = page.substr(page.find("## The shapes of rules"));
    const std::size_t head = list.find("```yaml\n") + 8;
    out.head = list.substr(head, list.find("```", head) - head);
    std::istringstream lines(list);
    for (std::string line; std::getline(lines, line);) {
        std::vector<std::string> cells;
        std::istringstream parts(line);
        for (std::string cell; std::getline(parts, cell, '|');) cells.push_back(cell);
        if (cells.size() != 6 || cells[1].find_first_of("0123456789") != 1) continue;
        const auto tests = spans(cells[5]);
        out.rows.push_back({std::stoi(cells[1]), cells[2], spans(cells[3]), spans(cells[4]),
                            tests.empty() ? "" : tests.front()});
    }
    return out;
}
const Page& page() {
    static const Page kept = readPage();
    return kept;
}

std::string tableOf(const std::vector<std::string>& rules, const std::string& more = "") {
    std::string out = page().head;
    int i = 0;
    for (const std::string& rule : rules)
        out += "  - {id: r" + std::to_string(i++) + ", title: T, sentence: S., " + more + rule + "}\n";
    return out;
}

TEST(ShapeList, HasAllOfThem) {
    ASSERT_EQ(page().rows.size(), 92u);
    for (std::size_t i = 0; i < page().rows.size(); ++i) {
        EXPECT_EQ(page().rows[i].number, static_cast<int>(i) + 1);
        EXPECT_FALSE(page().rows[i].rules.empty()) << page().rows[i].shape;
    }
}

TEST(ShapeList, EveryRuleOfItReads) {
    std::vector<std::string> all;
    for (const Row& row : page().rows) {
        for (const std::string& rule : row.rules) {
            EXPECT_EQ(problemsOf(tableOf({rule})), "") << row.number << ": " << rule;
            all.push_back(rule);
        }
    }
    const RuleTableResult read = readRuleTableText(tableOf(all), "README.md");
    ASSERT_TRUE(read.table);
    EXPECT_EQ(info(*read.table).rules, static_cast<int>(all.size()));
    // None is silent on a cage.
    const RuleTableRef tables[] = {read.table};
    const Job job = smallJob();
    for (const Finding& finding : check(tables, job, resolve(job)).findings) {
        const bool told = finding.answer == Answer::meets || finding.answer == Answer::fails;
        EXPECT_TRUE(told || !finding.missing.empty())
            << all[static_cast<std::size_t>(std::stoi(finding.rule.substr(1)))];
    }
}

TEST(ShapeList, NamesTheQuantitiesItUses) {
    for (const Row& row : page().rows) {
        std::string rules;
        for (const std::string& rule : row.rules) rules += rule + " ";
        for (const std::string& quantity : row.quantities) {
            EXPECT_GE(quantityIndex(quantity), 0) << row.number << ": " << quantity;
            EXPECT_NE(rules.find("measure: " + quantity), std::string::npos)
                << row.number << ": " << quantity;
        }
        // A shape without one is a question.
        EXPECT_TRUE(!row.quantities.empty() || rules.find("ask: ") != std::string::npos) << row.number;
    }
}

TEST(ShapeList, NamesATestThatIsThere) {
    std::string tests;
    for (const auto& entry : fs::directory_iterator(kSource / "tests/rules"))
        if (entry.path().extension() == ".cpp") tests += readText(entry.path());
    for (const Row& row : page().rows) {
        const std::size_t dot = row.test.find('.');
        ASSERT_NE(dot, std::string::npos) << row.number;
        const std::string line = "TEST(" + row.test.substr(0, dot) + ", " + row.test.substr(dot + 1) + ")";
        EXPECT_NE(tests.find(line), std::string::npos) << row.number << ": " << line;
    }
}

/// A cage of which every question of the list can be asked: all its facts, bars and parts are there.
Job wholeJob() {
    Job job = withPassenger(smallJob());
    job.drivers.pop_back();
    job.cage.entry = {{"race_mass", {1000.0, Dimension::mass}},
                      {"mass_basis", {std::string("with_driver"), Dimension::none}},
                      {"certified", {true, Dimension::none}},
                      {"roof_panel", {std::string("steel"), Dimension::none}}};
    job.cage.plates[0].fixing = Fixing::bolted;
    job.cage.plates[0].bolts = {4, 8, "8.8"};
    for (Member& member : job.cage.members)
        if (member.id == "belt_bar") member.stock = "moly";
    Gusset gusset;
    gusset.id = "gusset";
    gusset.member_a = "belt_bar";
    gusset.member_b = "main_hoop";
    gusset.leg_mm = 90;
    gusset.thickness_mm = 2;
    job.cage.gussets = {gusset};
    Member roof = straight("roof", "roof_diagonal", {}, {600, -500, 800});
    Landing on;
    on.host = "main_hoop";
    on.by = Landing::By::across_y;
    on.value = 300;
    roof.path[0].place = on;
    job.cage.members.push_back(roof);
    return job;
}

TEST(ShapeQuestion, IsAnsweredOrOpen) {
    int asked = 0;
    for (const Row& row : page().rows) {
        for (std::string rule : row.rules) {
            if (rule.find("ask: ") == std::string::npos) continue;
            ++asked;
            Job job = wholeJob();
            if (rule.find("{roof_panel: alloy}") != std::string::npos)
                job.cage.entry["roof_panel"] = {std::string("alloy"), Dimension::none};
            job.drivers[0].belts.spacing_mm = rule.find("less_than: 125") == std::string::npos ? 200 : 100;
            const std::string text = tableOf({rule});
            const CheckReport open = checkWith(job, text);
            ASSERT_FALSE(open.findings.empty());
            for (const Finding& finding : open.findings) {
                EXPECT_EQ(finding.answer, Answer::ask_person) << rule << "\n" << finding.missing;
                EXPECT_NE(finding.missing.find('?'), std::string::npos) << rule;
            }
            for (const bool good : {true, false}) {
                job.cage.answers.clear();
                for (const Finding& finding : open.findings)
                    job.cage.answers.push_back({"shapes", "r0", finding.subject, good, "A. Fitter",
                                                "2026-03-02", "report 7", "p.jpg"});
                for (const Finding& finding : checkWith(job, text).findings)
                    EXPECT_EQ(finding.answer, good ? Answer::meets : Answer::fails) << rule;
            }
            // Not for this frame: to `when` where there is one, else as its only condition.
            const std::size_t when = rule.find("when: {");
            const std::string not_here = "frame: ladder";
            if (when != std::string::npos) rule.insert(when + 7, not_here + ", ");
            const std::string more = when == std::string::npos ? "when: {" + not_here + "}, " : "";
            for (const Finding& finding : checkWith(job, tableOf({rule}, more)).findings)
                EXPECT_EQ(finding.answer, Answer::does_not_apply) << rule;
        }
    }
    EXPECT_GE(asked, 20);
}

// Whatever a quantity is measured on, there is something to look at: a shape or a bar that lights up.
TEST(Quantities, EachHasAMeaningAndAKind) {
    for (const Quantity& quantity : allQuantities()) {
        EXPECT_TRUE(quantity.info.meaning.ends_with(".")) << quantity.info.name;
        EXPECT_EQ(quantity.info.subject, kindWord(quantity.kind)) << quantity.info.name;
        EXPECT_EQ(quantity.measure == nullptr, quantity.counts.has_value()) << quantity.info.name;
        EXPECT_EQ(quantity.needs & quantity.may, 0u) << quantity.info.name;
        const auto same =
            std::count_if(allQuantities().begin(), allQuantities().end(),
                          [&](const Quantity& other) { return other.info.name == quantity.info.name; });
        EXPECT_EQ(same, 1) << quantity.info.name;
    }
}

TEST(ShapeList, EveryMeasureOfItIsShown) {
    Job job = wholeJob();
    job.drivers[0].shoulder_width_mm = 450;
    for (const Row& row : page().rows) {
        for (const std::string& rule : row.rules) {
            if (rule.find("ask: ") != std::string::npos || rule.find("permits: ") != std::string::npos)
                continue;
            for (const Finding& finding : checkWith(job, tableOf({rule})).findings) {
                // Nothing to show where nothing is there or known.
                if (finding.answer != Answer::meets && !finding.value) continue;
                const Evidence& shown = finding.evidence;
                const bool count_of_none = finding.value && *finding.value == 0;
                EXPECT_TRUE(count_of_none || !shown.shapes.empty() || !shown.members.empty() ||
                            !shown.plates.empty() || !shown.driver.empty())
                    << row.number << ": " << rule << " shows nothing";
            }
        }
    }
}

}  // namespace
}  // namespace hoopwright::test
