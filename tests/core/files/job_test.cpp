// A cage file and every file it names.
#include <gmock/gmock.h>

#include <fstream>
#include <sstream>

#include "core/files/job_file.h"
#include "random_job.h"

using namespace hoopwright;
using testing::ElementsAre;
using testing::HasSubstr;
namespace fs = std::filesystem;

namespace {

class AJob : public testing::Test {
protected:
    void SetUp() override {
        fs::create_directories(folder_ / "cages");
        RandomJob random(3, LengthUnit::mm);
        write("car.yaml", writeCar(random.car()));
        write("rack.yaml", writeStock(random.stock()));
        write("dies.yaml", writeDies(random.dies()));
        Driver driver = random.driver();
        driver.id = "tall";
        write("tall.yaml", writeDriver(driver));
        write("twin.yaml", writeDriver(driver));
        cage_ = random.cage();
        cage_.car_file = "../car.yaml";
        cage_.stock_file = "../rack.yaml";
        cage_.dies_file = "../dies.yaml";
        cage_.driver_files = {"../tall.yaml"};
        cage_.rule_files = {"../club.yaml"};
    }
    void TearDown() override { fs::remove_all(folder_); }
    void write(const fs::path& name, const std::string& text) { std::ofstream(folder_ / name) << text; }
    JobResult read() {
        write("cages/cage.yaml", writeCage(cage_));
        return readJob(folder_ / "cages/cage.yaml");
    }
    std::vector<std::string> problems() {
        const JobResult result = read();
        EXPECT_EQ(result.job.has_value(), result.problems.empty());
        std::vector<std::string> out;
        for (const Problem& problem : result.problems) {
            std::string text = problem.text();
            for (std::size_t at; (at = text.find(folder_.string() + "/")) != std::string::npos;) {
                text.erase(at, folder_.string().size() + 1);
            }
            out.push_back(text);
        }
        return out;
    }
    const fs::path folder_ = fs::path(testing::TempDir()) / ("job_" + std::to_string(::getpid()));
    CageLayout cage_;
};

TEST_F(AJob, IsReadWithEveryFileItsCageNames) {
    const JobResult result = read();
    ASSERT_TRUE(result.job) << result.problems.at(0).text();
    EXPECT_TRUE(result.job->cage == cage_);
    EXPECT_EQ(result.job->drivers.size(), 1u);
    EXPECT_EQ(result.files.car, folder_ / "car.yaml");
    EXPECT_THAT(result.files.rules, ElementsAre(folder_ / "club.yaml"));
    EXPECT_TRUE(result.files.cage_text && result.files.car_text && result.files.stock_text &&
                result.files.dies_text);
    EXPECT_EQ(result.files.driver_texts.size(), 1u);
}

TEST_F(AJob, SaysWhereAFileThatIsNotThereIsNamed) {
    cage_.stock_file = "../rakc.yaml";
    cage_.driver_files = {"../tall.yaml", "nobody.yaml"};
    EXPECT_THAT(
        problems(),
        ElementsAre(HasSubstr("stock: there is no file 'rakc.yaml' (paths start at the cage file's folder)"),
                    testing::MatchesRegex("cages/cage.yaml:[0-9]+:[0-9]+: drivers: there is no file "
                                          "'cages/nobody.yaml' .*")));
}

TEST_F(AJob, ShowsTheProblemsOfAllItsFiles) {
    write("car.yaml", "hoopwright: car\nversion: 1\nunits: mm\n");
    write("tall.yaml", "");
    EXPECT_THAT(problems(),
                testing::AllOf(testing::Contains(HasSubstr("car.yaml:1:1: the key 'name' is missing")),
                               testing::Contains("tall.yaml: the file is empty (it should start with "
                                                 "`hoopwright: KIND`)")));
}

TEST_F(AJob, WantsEachDriverToHaveItsOwnId) {
    cage_.driver_files.push_back("../twin.yaml");
    EXPECT_THAT(problems(), ElementsAre(HasSubstr("drivers: the id 'tall' is also that of tall.yaml")));
}

TEST_F(AJob, AWrongCageFileEndsItThere) {
    write("cages/cage.yaml", "hoopwright: cage\nversion: 1\n");
    const JobResult result = readJob(folder_ / "cages/cage.yaml");
    EXPECT_FALSE(result.job);
    EXPECT_FALSE(result.problems.empty());
    EXPECT_THAT(readJob(folder_ / "none.yaml").problems.at(0).what, "there is no such file");
}

TEST_F(AJob, OfTheDemoReadsWithoutAProblem) {
    for (const char* cage : {"hillclimb_saloon.yaml", "mile_pickup.yaml"}) {
        const JobResult result = readJob(fs::path(HOOPWRIGHT_SOURCE_DIR) / "data/cages" / cage);
        for (const Problem& problem : result.problems) ADD_FAILURE() << problem.text();
        ASSERT_TRUE(result.job);
        EXPECT_GT(result.job->cage.members.size(), 5u);
    }
}

TEST(ThePageOfTheFormat, ReadsAsItStands) {
    std::ostringstream page;
    page << std::ifstream(HOOPWRIGHT_SOURCE_DIR "/core/files/README.md").rdbuf();
    const auto block = [text = page.str()](const std::string& kind) {
        const std::size_t from = text.find("```yaml\nhoopwright: " + kind + "\n") + 8;
        return text.substr(from, text.find("```", from) - from);
    };
    const auto expectNone = [](const Problems& problems) {
        for (const Problem& problem : problems) ADD_FAILURE() << problem.text();
    };
    expectNone(readCarText(block("car"), "car").problems);
    expectNone(readDriverText(block("driver"), "driver").problems);
    expectNone(readStockText(block("stock"), "stock").problems);
    expectNone(readDiesText(block("dies"), "dies").problems);
    expectNone(readCageText(block("cage"), "cage").problems);
}

}  // namespace
