// Grips pulled by chance, as a hand would in a long evening.
#include <gtest/gtest.h>

#include <algorithm>
#include <random>

#include "app/window/document.h"
#include "core/edit/grip.h"
#include "core/edit/snap.h"
#include "demo_copy.h"

namespace hoopwright {
namespace {

std::vector<std::string> textsOf(const CageGeometry& cage) {
    std::vector<std::string> texts;
    for (const GeometryProblem& problem : cage.problems) texts.push_back(problem.text);
    std::ranges::sort(texts);
    return texts;
}

class RandomPulls : public testing::TestWithParam<unsigned> {};

TEST_P(RandomPulls, UndoLeadsBackRedoForthAndAFreshLoadSaysTheSame) {
    DemoCopy demo;
    Document document;
    ASSERT_TRUE(document.open(demo.saloon()).empty());
    const CageLayout start = document.job().cage;
    std::mt19937 rng(GetParam());
    const auto upTo = [&](std::size_t n) {
        return std::uniform_int_distribution<std::size_t>(0, n - 1)(rng);
    };
    std::uniform_real_distribution<double> away(-40, 40);
    std::vector<CageLayout> states{start};
    std::array<int, 6> pulls{};
    for (int n = 0; n < 40; ++n) {
        const CageGeometry now = document.geometry();
        const JobRef taken = document.jobRef();
        const bool of_plate = upTo(8) == 0;
        const std::string part =
            of_plate ? now.plates[upTo(now.plates.size())].id : now.members[upTo(now.members.size())].id;
        const std::vector<Grip> grips = gripsOf(*taken, now, part);
        if (grips.empty()) continue;
        const Grip& grip = grips[upTo(grips.size())];
        // A drag of a few steps is one step of undo.
        const QByteArray key = document.newKey();
        for (int step = 0; step < 3; ++step) {
            const Vec3 eye = grip.at + Vec3(2500, 1500, 900);
            Vec3 place = placeUnder(now, grip, eye,
                                    (grip.at + Vec3(away(rng), away(rng), away(rng)) - eye).normalized());
            if (upTo(2))
                if (const auto snap = snapped(*taken, now, grip, place, 8)) place = snap->at;
            const auto cage = pulled(*taken, now, grip, place);
            if (!cage) continue;
            document.edit(
                QStringLiteral("pull"), [&](Job& job) { job.cage = *cage; }, key);
        }
        if (document.job().cage == states.back()) continue;
        states.push_back(document.job().cage);
        ++pulls[static_cast<std::size_t>(grip.kind)];
        if (n % 8 != 0) continue;
        const std::vector<std::string> said = textsOf(document.geometry());
        ASSERT_TRUE(document.save().empty());
        Document fresh;
        const Problems problems = fresh.open(demo.saloon());
        ASSERT_TRUE(problems.empty()) << problems.front().text();
        EXPECT_EQ(textsOf(fresh.geometry()), said) << "pull " << n << " of " << part;
    }
    EXPECT_GE(std::ranges::count_if(pulls, [](int n) { return n > 0; }), 4) << "kinds of grip";
    QUndoStack& stack = document.undoStack();
    ASSERT_EQ(std::size_t(stack.count()), states.size() - 1) << "a drag is one step";
    for (std::size_t i = states.size() - 1; i-- > 0;) {
        stack.undo();
        EXPECT_EQ(document.job().cage, states[i]);
    }
    for (std::size_t i = 1; i < states.size(); ++i) {
        stack.redo();
        EXPECT_EQ(document.job().cage, states[i]);
    }
}

INSTANTIATE_TEST_SUITE_P(Seeds, RandomPulls, testing::Values(1u, 2u, 3u));

}  // namespace
}  // namespace hoopwright
