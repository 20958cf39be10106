// What is left once a cage is cut goes into the shop's book, and nothing of the book is lost.
#include <gmock/gmock.h>
#include <sys/resource.h>

#include <csignal>
#include <filesystem>
#include <fstream>

#include "core/files/job_file.h"
#include "core/files/shop_file.h"
#include "core/model/resolve.h"
#include "core/shop/order.h"
#include "tests/app/commands/run.h"

using namespace hoopwright;
using testing::HasSubstr;
namespace fs = std::filesystem;

namespace {

/// The demo saloon with a shop's book of its own.
class OrderRack : public testing::Test {
protected:
    void SetUp() override {
        const auto* test = testing::UnitTest::GetInstance()->current_test_info();
        folder_ = fs::temp_directory_path() /
                  ("hoopwright_rack_" + std::string(test->name()) + std::to_string(::getpid()));
        fs::create_directories(folder_);
        book_ = folder_ / "shop.yaml";
        put(book_, readWhole(dataFile("stock/shop_metric.yaml")));
        std::string text = readWhole(kSaloon);
        swap(text, "../stock/shop_metric.yaml", book_.string());
        swap(text, "../", dataFile(""));
        cage_ = (folder_ / "cage.yaml").string();
        put(cage_, text);
    }
    void TearDown() override { fs::remove_all(folder_); }

    static std::string readWhole(const fs::path& file) {
        std::ifstream in(file);
        return {std::istreambuf_iterator<char>(in), {}};
    }
    static void put(const fs::path& file, const std::string& text) { std::ofstream(file) << text; }
    static void swap(std::string& text, const std::string& from, const std::string& to) {
        for (std::size_t at = text.find(from); at != std::string::npos; at = text.find(from, at + to.size()))
            text.replace(at, from.size(), to);
    }
    std::vector<RackPiece> rack() const { return readShop(book_).value->rack; }

    fs::path folder_, book_;
    std::string cage_;
};

TEST_F(OrderRack, HoldsWhatIsLeftAndEveryOtherLineStays) {
    const std::string was = readWhole(book_);
    const Job job = *readJob(cage_).job;
    const Order planned = order(job, resolve(job));
    ASSERT_FALSE(planned.rack_after == job.shop->rack);
    EXPECT_EQ(run({"order", cage_}).code, kExitGood);
    EXPECT_EQ(readWhole(book_), was) << "an order alone writes nothing";

    const Ran ran = run({"order", cage_, "--to-rack"});
    ASSERT_EQ(ran.code, kExitGood) << ran.err;
    EXPECT_THAT(ran.out, HasSubstr("That is now the rack in " + book_.string()));
    const std::vector<RackPiece> now = rack();
    ASSERT_EQ(now.size(), planned.rack_after.size());
    for (std::size_t i = 0; i < now.size(); ++i) {
        EXPECT_EQ(now[i].stock, planned.rack_after[i].stock);
        EXPECT_NEAR(now[i].length_mm, planned.rack_after[i].length_mm, 1e-9);
        EXPECT_EQ(now[i].heat, planned.rack_after[i].heat);
        EXPECT_EQ(now[i].certificate, planned.rack_after[i].certificate);
    }
    // All that stands before and behind the rack is as it was, comments too.
    const std::string text = readWhole(book_);
    EXPECT_EQ(text.substr(0, text.find("rack:")), was.substr(0, was.find("rack:")));
    EXPECT_EQ(text.substr(text.find("minutes:")), was.substr(was.find("minutes:")));
}

TEST_F(OrderRack, IsAsItWasWhereTheDiskIsFull) {
    const std::string was = readWhole(book_);
    rlimit before{};
    ASSERT_EQ(::getrlimit(RLIMIT_FSIZE, &before), 0);
    const auto handler = std::signal(SIGXFSZ, SIG_IGN);
    const rlimit small{500, before.rlim_max};
    ASSERT_EQ(::setrlimit(RLIMIT_FSIZE, &small), 0);
    const Ran ran = run({"order", cage_, "--to-rack"});
    ::setrlimit(RLIMIT_FSIZE, &before);
    std::signal(SIGXFSZ, handler);
    EXPECT_EQ(ran.code, kExitBadInput);
    EXPECT_THAT(ran.err, HasSubstr("no room left on the disk"));
    EXPECT_EQ(readWhole(book_), was);
    EXPECT_EQ(std::distance(fs::directory_iterator(folder_), fs::directory_iterator()), 2)
        << "no half-written file is left";
}

TEST_F(OrderRack, IsLeftAloneWhereItIsNotKnownWhatGoesBack) {
    std::string text = readWhole(book_);
    swap(text, "rack_from: 400\n", "");
    put(book_, text);
    const Ran unknown = run({"order", cage_, "--to-rack"});
    EXPECT_EQ(unknown.code, kExitBadInput);
    EXPECT_THAT(unknown.err, HasSubstr("--to-rack: the shop's book does not say from which length on"));
    EXPECT_EQ(readWhole(book_), text);
    std::string cage = readWhole(cage_);
    swap(cage, "shop: ", "# shop: ");
    put(cage_, cage);
    EXPECT_THAT(run({"order", cage_, "--to-rack"}).err, HasSubstr("names no shop's book"));
}

}  // namespace
