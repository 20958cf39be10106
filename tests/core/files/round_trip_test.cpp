// What is written reads back as the same value: any value, either unit, any locale, new file or old.
#include <gmock/gmock.h>

#include <clocale>
#include <locale>

#include "core/files/job_file.h"
#include "random_job.h"

using namespace hoopwright;

namespace hoopwright {
void PrintTo(LengthUnit unit, std::ostream* out) {
    *out << (unit == LengthUnit::mm ? "mm" : "in");
}
}  // namespace hoopwright

namespace {

constexpr unsigned kSeeds = 200;

std::string textOf(const Problems& problems) {
    std::string out;
    for (const Problem& problem : problems) out += problem.text() + "\n";
    return out;
}

template <class T>
void expectSame(const ReadResult<T>& read, const T& value, const std::string& text) {
    ASSERT_TRUE(read.value) << textOf(read.problems) << text;
    EXPECT_TRUE(*read.value == value) << text;
}

class RoundTrip : public testing::TestWithParam<LengthUnit> {};

TEST_P(RoundTrip, CarsReadBackAsWritten) {
    for (unsigned seed = 0; seed < kSeeds; ++seed) {
        const Car car = RandomJob(seed, GetParam()).car();
        const std::string text = writeCar(car, nullptr, GetParam());
        expectSame(readCarText(text, "car.yaml"), car, text);
    }
}

TEST_P(RoundTrip, DriversReadBackAsWritten) {
    for (unsigned seed = 0; seed < kSeeds; ++seed) {
        const Driver driver = RandomJob(seed, GetParam()).driver();
        const std::string text = writeDriver(driver, nullptr, GetParam());
        expectSame(readDriverText(text, "driver.yaml"), driver, text);
    }
}

TEST_P(RoundTrip, StockListsReadBackAsWritten) {
    for (unsigned seed = 0; seed < kSeeds; ++seed) {
        const StockList stock = RandomJob(seed, GetParam()).stock();
        const std::string text = writeStock(stock, nullptr, GetParam());
        expectSame(readStockText(text, "stock.yaml"), stock, text);
    }
}

TEST_P(RoundTrip, DieListsReadBackAsWritten) {
    for (unsigned seed = 0; seed < kSeeds; ++seed) {
        const DieList dies = RandomJob(seed, GetParam()).dies();
        const std::string text = writeDies(dies, nullptr, GetParam());
        expectSame(readDiesText(text, "dies.yaml"), dies, text);
    }
}

TEST_P(RoundTrip, CagesReadBackAsWritten) {
    for (unsigned seed = 0; seed < kSeeds; ++seed) {
        const CageLayout cage = RandomJob(seed, GetParam()).cage();
        const std::string text = writeCage(cage);
        expectSame(readCageText(text, "cage.yaml"), cage, text);
    }
}

TEST_P(RoundTrip, AnUnchangedCageKeepsItsTextToTheByte) {
    for (unsigned seed = 0; seed < kSeeds; ++seed) {
        const std::string text = "# ours\n" + writeCage(RandomJob(seed, GetParam()).cage()) + "\n# end";
        const ReadResult<CageLayout> read = readCageText(text, "cage.yaml");
        ASSERT_TRUE(read.value);
        EXPECT_EQ(writeCage(*read.value, read.text), text);
    }
}

TEST_P(RoundTrip, AnyCageOverAnyOtherCagesTextReadsBackAsWritten) {
    for (unsigned seed = 0; seed < kSeeds; ++seed) {
        const ReadResult<CageLayout> was =
            readCageText(writeCage(RandomJob(seed + 1000, LengthUnit::mm).cage()), "a");
        const CageLayout cage = RandomJob(seed, GetParam()).cage();
        const std::string text = writeCage(cage, was.text);
        expectSame(readCageText(text, "cage.yaml"), cage, text);
    }
}

TEST_P(RoundTrip, AnyCarOverAnyOtherCarsTextReadsBackAsWritten) {
    for (unsigned seed = 0; seed < kSeeds; ++seed) {
        const std::string old = writeCar(RandomJob(seed + 1000, GetParam()).car(), nullptr, LengthUnit::in);
        const Car car = RandomJob(seed, GetParam()).car();
        const std::string text = writeCar(car, readCarText(old, "a").text);
        expectSame(readCarText(text, "car.yaml"), car, text);
        EXPECT_NE(text.find("units: in"), std::string::npos) << "a file keeps its unit";
    }
}

INSTANTIATE_TEST_SUITE_P(InBothUnits, RoundTrip, testing::Values(LengthUnit::mm, LengthUnit::in),
                         [](const auto& unit) { return unit.param == LengthUnit::mm ? "mm" : "in"; });

/// Digits grouped by points and a comma before the decimals, as a German desktop has it.
struct CommaNumbers : std::numpunct<char> {
    char do_decimal_point() const override { return ','; }
    char do_thousands_sep() const override { return '.'; }
    std::string do_grouping() const override { return "\3"; }
};

TEST(AFile, IsTheSameInEveryLocale) {
    const CageLayout cage = RandomJob(7, LengthUnit::in).cage();
    const std::string plain = writeCage(cage);
    const std::locale before = std::locale::global(std::locale(std::locale::classic(), new CommaNumbers));
    const std::string with_commas = writeCage(cage);
    const ReadResult<CageLayout> read = readCageText(plain, "cage.yaml");
    std::locale::global(before);
    EXPECT_EQ(with_commas, plain);
    ASSERT_TRUE(read.value) << textOf(read.problems);
    EXPECT_TRUE(*read.value == cage);
}

TEST(AMeasure, IsWrittenAsShortAsItWasTyped) {
    DieList dies{"Bender", {{"d45", 1.625 * 25.4, 31.984375 * 25.4, 0, 0, 120 * std::numbers::pi / 180}}};
    const std::string text = writeDies(dies, nullptr, LengthUnit::in);
    EXPECT_THAT(text, testing::HasSubstr("od: 1.625, radius: 31.984375, greatest_angle: 120 deg"));
}

}  // namespace
