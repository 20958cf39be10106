// What a builder may ask of a starter beyond the usual: wishes that cancel, no room, a bare rack, inches.
#include <gmock/gmock.h>

#include <algorithm>
#include <cmath>
#include <set>

#include "core/files/job_file.h"
#include "core/model/resolve.h"
#include "core/starter/starter.h"

namespace hoopwright {
namespace {

using testing::Contains;
using testing::HasSubstr;
using testing::Not;

const Job& siteOf(const std::string& name) {
    static const Job saloon = *readJob(HOOPWRIGHT_SOURCE_DIR "/data/cages/hillclimb_saloon.yaml").job;
    static const Job pickup = *readJob(HOOPWRIGHT_SOURCE_DIR "/data/cages/mile_pickup.yaml").job;
    return name == "mile_pickup" ? pickup : saloon;
}
StarterWish wishOfId(const std::string& id) {
    StarterWish wish;
    wish.starter = id;
    return wish;
}
std::vector<std::string> barsOf(const StarterCage& made) {
    std::vector<std::string> out;
    for (const Member& member : made.cage.members) out.push_back(member.id);
    return out;
}

TEST(AnOption, TakenOutTakesItsBarsAndLeavesTheRest) {
    // Every option a starter may have changes its bars or its gussets, and no other option's.
    const Job& site = siteOf("hillclimb_saloon");
    StarterMaker maker(site);
    for (const Starter& starter : starters()) {
        const StarterWish wish = wishOfId(starter.id);
        const Expected<StarterCage> usual = maker.makeRoughly(wish);
        ASSERT_TRUE(usual) << usual.reason();
        const std::vector<std::string> all = barsOf(*usual);
        EXPECT_EQ(std::set<std::string>(all.begin(), all.end()).size(), all.size()) << "ids are given once";
        for (const std::string& option : usual->options) {
            const Expected<StarterCage> less = maker.makeRoughly(withoutOption(wish, option));
            ASSERT_TRUE(less) << starter.id << " without " << option << ": " << less.reason();
            EXPECT_THAT(less->options, Not(Contains(option)));
            const std::size_t before = usual->cage.members.size() + usual->cage.gussets.size();
            const std::size_t after = less->cage.members.size() + less->cage.gussets.size();
            // One this car has no place for is said so instead: it has no frame to tie legs to.
            if (after == before) {
                EXPECT_THAT(usual->notes, Not(testing::IsEmpty())) << starter.id << " without " << option;
            } else {
                EXPECT_LT(after, before) << starter.id << " without " << option;
            }
            for (const std::string& other : less->options)
                EXPECT_THAT(usual->options, Contains(other)) << starter.id << " without " << option;
        }
    }
}

TEST(AnOption, PutBackGivesTheSameCage) {
    StarterMaker maker(siteOf("hillclimb_saloon"));
    const StarterWish wish = wishOfId("full_side_bars");
    const Expected<StarterCage> usual = maker.makeRoughly(wish);
    ASSERT_TRUE(usual);
    for (const std::string& option : usual->options) {
        const Expected<StarterCage> again =
            maker.makeRoughly(withOption(withoutOption(wish, option), option));
        ASSERT_TRUE(again) << option;
        EXPECT_EQ(again->options, usual->options) << option;
        EXPECT_EQ(barsOf(*again), barsOf(*usual)) << option;
    }
}

TEST(AnOption, OfOneGroupTakesTheOthersPlace) {
    const Car& car = siteOf("hillclimb_saloon").car;
    for (const Starter& starter : starters()) {
        for (const std::string& option : starter.may) {
            const StarterOption* said = starterOptionNamed(option);
            ASSERT_TRUE(said) << option;
            EXPECT_FALSE(said->name.empty() || said->about.empty()) << option;
            const auto got = optionsOf(withOption(wishOfId(starter.id), option), car);
            ASSERT_TRUE(got) << got.reason();
            EXPECT_THAT(*got, Contains(option)) << starter.id;
            const auto of_group = std::ranges::count_if(*got, [&](const std::string& one) {
                return !said->group.empty() && starterOptionNamed(one)->group == said->group;
            });
            EXPECT_LE(of_group, 1) << starter.id << " with " << option;
        }
    }
}

TEST(AStarter, MadeRoughlyHasTheBarsOfTheFittedOne) {
    // The choice of options and tubes is made on rough cages: they must be the same cage but for where.
    for (const std::string name : {"hillclimb_saloon", "mile_pickup"}) {
        StarterMaker maker(siteOf(name));
        const StarterWish wish = wishOfId("hoop_and_braces");
        const Expected<StarterCage> rough = maker.makeRoughly(wish), fitted = maker.make(wish);
        ASSERT_TRUE(rough && fitted) << name;
        EXPECT_EQ(barsOf(*rough), barsOf(*fitted)) << name;
        EXPECT_EQ(rough->options, fitted->options) << name;
        for (std::size_t i = 0; i < rough->cage.members.size(); ++i)
            EXPECT_EQ(rough->cage.members[i].stock, fitted->cage.members[i].stock) << name;
    }
}

TEST(AStarter, InAnInchCarStandsOnSixteenths) {
    StarterMaker maker(siteOf("mile_pickup"));
    const Expected<StarterCage> made = maker.make(wishOfId("hoop_and_braces"));
    ASSERT_TRUE(made) << made.reason();
    EXPECT_EQ(made->cage.unit, LengthUnit::in);
    int lengths = 0;
    for (const Member& member : made->cage.members) {
        for (const MemberPoint& point : member.path) {
            const Landing* landing = std::get_if<Landing>(&point.place);
            if (!landing || landing->by == Landing::By::fraction || landing->by == Landing::By::end) continue;
            const double sixteenths = landing->value / 25.4 * 16;
            EXPECT_NEAR(sixteenths, std::round(sixteenths), 1e-6) << member.id;
            ++lengths;
        }
    }
    EXPECT_GE(lengths, 2);
}

TEST(AStarter, WithoutTubeOrWithNoneForItsDiesSaysSo) {
    Job site = siteOf("hillclimb_saloon");
    site.stock.tubes.clear();
    EXPECT_EQ(usualTube(site.stock, site.dies), nullptr);
    EXPECT_THAT(StarterMaker(site).make(wishOfId("hoop_and_braces")).reason(), HasSubstr("tube"));
    site.stock = siteOf("hillclimb_saloon").stock;
    for (Die& die : site.dies.dies) die.od_mm = 12;
    EXPECT_EQ(usualTube(site.stock, site.dies), nullptr);
    EXPECT_FALSE(StarterMaker(site).make(wishOfId("hoop_and_braces")));
}

TEST(AStarter, TakesTheFirstTubeOfTheRackThatCanBeBent) {
    Job site = siteOf("hillclimb_saloon");
    ASSERT_GE(site.stock.tubes.size(), 2u);
    EXPECT_EQ(usualTube(site.stock, site.dies), &site.stock.tubes[0]);
    std::erase_if(site.dies.dies,
                  [&](const Die& die) { return die.od_mm == site.stock.tubes[0].section.od_mm; });
    EXPECT_EQ(usualTube(site.stock, site.dies), &site.stock.tubes[1]);
}

TEST(AStarter, WhereTheHoopCannotStandSaysWhatIsMissingThere) {
    StarterMaker maker(siteOf("hillclimb_saloon"));
    StarterWish wish = wishOfId("hoop_and_braces");
    wish.hoop_x_mm = -9000;
    const Expected<StarterCage> made = maker.make(wish);
    ASSERT_FALSE(made);
    EXPECT_THAT(made.reason(), HasSubstr("no floor"));
    EXPECT_THAT(made.reason(), HasSubstr("-9000"));
    // Having refused, the same maker goes on as if it had not been asked.
    wish.hoop_x_mm.reset();
    EXPECT_TRUE(maker.make(wish));
}

TEST(AStarter, ThatIsNotNamedIsNoStarter) {
    EXPECT_EQ(starterNamed(""), nullptr);
    EXPECT_EQ(starterNamed("Full_side_bars"), nullptr) << "ids are as they are written";
    EXPECT_EQ(starterOptionNamed("door_cross "), nullptr);
    EXPECT_FALSE(StarterMaker(siteOf("hillclimb_saloon")).make(wishOfId("")));
    EXPECT_THAT(StarterMaker(siteOf("hillclimb_saloon")).makeRoughly(wishOfId("Überrollbügel")).reason(),
                HasSubstr("Überrollbügel"));
}

}  // namespace
}  // namespace hoopwright
