// The tables we ship and the example of the format's page read whole, and run on any cage.
#include <gtest/gtest.h>

#include <algorithm>
#include <cstdlib>
#include <filesystem>
#include <fstream>
#include <regex>
#include <sstream>

#include "core/files/job_file.h"
#include "core/model/resolve.h"
#include "rules/check.h"

namespace hoopwright {
namespace {

namespace fs = std::filesystem;

const fs::path kSourceFolder = HOOPWRIGHT_SOURCE_DIR;

std::string allText(const Problems& problems) {
    std::string out;
    for (const Problem& problem : problems) out += problem.text() + "\n";
    return out;
}

std::string wholeText(const fs::path& file) {
    std::ifstream in(file);
    std::stringstream text;
    text << in.rdbuf();
    return text.str();
}

std::vector<fs::path> yamlFiles(const fs::path& folder) {
    std::vector<fs::path> out;
    for (const auto& entry : fs::directory_iterator(folder))
        if (entry.path().extension() == ".yaml") out.push_back(entry.path());
    std::sort(out.begin(), out.end());
    return out;
}

TEST(ShippedTables, ReadWithoutAProblem) {
    for (const fs::path& file : yamlFiles(kSourceFolder / "data/rules")) {
        const RuleTableResult read = readRuleTable(file);
        ASSERT_TRUE(read.table) << allText(read.problems);
        EXPECT_GT(info(*read.table).rules, 2) << file;
        EXPECT_FALSE(info(*read.table).advice.empty()) << file;
    }
}

TEST(ShippedTables, RunOnEveryShippedCage) {
    std::vector<RuleTableRef> tables;
    for (const fs::path& file : yamlFiles(kSourceFolder / "data/rules"))
        tables.push_back(readRuleTable(file).table);
    for (const fs::path& file : yamlFiles(kSourceFolder / "data/cages")) {
        const JobResult read = readJob(file);
        ASSERT_TRUE(read.job) << allText(read.problems);
        const CheckReport report = check(tables, *read.job, resolve(*read.job));
        if (std::getenv("SHOW_FINDINGS")) {
            for (int i : worstFirst(report)) {
                const Finding& f = report.findings[static_cast<std::size_t>(i)];
                std::printf("%s|%s|%s|%s|x%d|found=%s|v=%g|l=%g|m=%g|%s|%s|%s\n",
                            std::string(answerKey(f.answer)).c_str(), f.table.c_str(), f.rule.c_str(),
                            f.subject_name.c_str(), f.things, f.found.c_str(), f.value.value_or(NAN),
                            f.limit.value_or(NAN), f.margin.value_or(NAN), f.limit_text.c_str(),
                            f.missing.c_str(), f.way_out.c_str());
            }
        }
        {
            for (const Finding& finding : report.findings) {
                EXPECT_FALSE(finding.sentence.empty());
                const bool silent = finding.answer == Answer::cannot_tell ||
                                    finding.answer == Answer::ask_person ||
                                    finding.answer == Answer::does_not_apply;
                EXPECT_FALSE(silent && finding.missing.empty())
                    << finding.table << " " << finding.rule << " says nothing";
            }
        }
    }
}

TEST(FormatPage, ItsExampleIsATable) {
    const std::string page = wholeText(kSourceFolder / "rules/README.md");
    const std::size_t start = page.find("```yaml\n") + 8;
    const RuleTableResult read =
        readRuleTableText(page.substr(start, page.find("```", start) - start), "README.md");
    ASSERT_TRUE(read.table) << allText(read.problems);
    EXPECT_EQ(info(*read.table).rules, 6);
}

TEST(FormatPage, NamesEveryQuantityAndNoOther) {
    const std::string page = wholeText(kSourceFolder / "rules/README.md");
    for (const QuantityInfo& quantity : quantities())
        EXPECT_NE(page.find("`" + quantity.name + "`"), std::string::npos) << quantity.name;
    const std::string list = page.substr(page.find("## Quantities"));
    const std::regex row(R"(\n\| ([^|]*) \|)"), name("`([a-z_]+)`");
    for (std::sregex_iterator r(list.begin(), list.end(), row), end; r != end; ++r) {
        const std::string cell = (*r)[1];
        for (std::sregex_iterator n(cell.begin(), cell.end(), name); n != std::sregex_iterator(); ++n) {
            const std::string said = (*n)[1];
            const bool known = std::any_of(quantities().begin(), quantities().end(),
                                           [&](const QuantityInfo& q) { return q.name == said; });
            EXPECT_TRUE(known) << said << " is on the page and not in the program";
        }
    }
}

}  // namespace
}  // namespace hoopwright
