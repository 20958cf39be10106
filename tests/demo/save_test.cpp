// A demo file that nobody changed is saved as it was, comments and all; written afresh it says the same.
#include <gtest/gtest.h>

#include <fstream>
#include <sstream>

#include "core/files/job_file.h"

namespace hoopwright {
namespace {

std::string onDisk(const std::filesystem::path& file) {
    std::ifstream in(file, std::ios::binary);
    std::ostringstream text;
    text << in.rdbuf();
    return text.str();
}

class DemoSave : public testing::TestWithParam<std::string> {
protected:
    JobResult read = readJob(std::string(HOOPWRIGHT_SOURCE_DIR) + "/data/cages/" + GetParam());
};
INSTANTIATE_TEST_SUITE_P(Jobs, DemoSave, testing::Values("hillclimb_saloon.yaml", "mile_pickup.yaml"),
                         [](const auto& it) { return it.param.substr(0, it.param.find('.')); });

TEST_P(DemoSave, UntouchedFilesStayAsTheyAre) {
    ASSERT_TRUE(read.job);
    const Job& job = *read.job;
    const JobFiles& files = read.files;
    EXPECT_EQ(writeCage(job.cage, files.cage_text), onDisk(files.cage));
    EXPECT_EQ(writeCar(job.car, files.car_text), onDisk(files.car));
    EXPECT_EQ(writeStock(job.stock, files.stock_text), onDisk(files.stock));
    EXPECT_EQ(writeDies(job.dies, files.dies_text), onDisk(files.dies));
    ASSERT_EQ(files.driver_texts.size(), job.drivers.size());
    for (std::size_t i = 0; i < job.drivers.size(); ++i) {
        EXPECT_EQ(writeDriver(job.drivers[i], files.driver_texts[i]), onDisk(files.drivers[i]));
    }
}

TEST_P(DemoSave, WrittenAfreshTheySayTheSame) {
    ASSERT_TRUE(read.job);
    const auto cage = readCageText(writeCage(read.job->cage), "cage");
    const auto car = readCarText(writeCar(read.job->car), "car");
    const auto stock = readStockText(writeStock(read.job->stock), "stock");
    ASSERT_TRUE(cage.value && car.value && stock.value);
    EXPECT_EQ(*cage.value, read.job->cage);
    EXPECT_EQ(*car.value, read.job->car);
    EXPECT_EQ(*stock.value, read.job->stock);
}

TEST_P(DemoSave, OneChangedLineIsTheOnlyLineThatChanges) {
    ASSERT_TRUE(read.job);
    CageLayout cage = read.job->cage;
    cage.members[0].padding_mm += 25.4;
    std::istringstream was(onDisk(read.files.cage)), now(writeCage(cage, read.files.cage_text));
    int changed = 0;
    for (std::string a, b; std::getline(was, a);) {
        ASSERT_TRUE(std::getline(now, b));
        changed += a != b;
    }
    EXPECT_EQ(changed, 1);
    EXPECT_TRUE(now.peek() == std::istringstream::traits_type::eof());
}

}  // namespace
}  // namespace hoopwright
