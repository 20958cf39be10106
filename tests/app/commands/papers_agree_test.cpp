// One tube is the same tube on every paper: what a person compares with a finger on two sheets.
#include <gtest/gtest.h>

#include <map>
#include <numbers>

#include "tests/app/commands/run.h"
#include "tests/app/commands/spoiled.h"

namespace hoopwright {
namespace {

/// The objects of a list by what stands under `key` in each; spares, which are cut twice, left out.
std::map<std::string, QJsonObject> byKey(const QJsonArray& list, const char* key) {
    std::map<std::string, QJsonObject> out;
    for (const auto& one : list)
        if (one.toObject()["spare"].toInt() == 0)
            out[one.toObject()[key].toString().toStdString()] = one.toObject();
    return out;
}

double number(const QJsonObject& of, const char* key) {
    EXPECT_TRUE(of[key].isDouble()) << key;
    return of[key].toDouble();
}

class PapersAgree : public ::testing::TestWithParam<const char*> {
protected:
    static QJsonObject said(std::vector<std::string> words) {
        const Ran ran = run(words);
        EXPECT_NE(ran.code, kExitBadInput) << words.front() << ": " << ran.err;
        return ran.json();
    }
    void SetUp() override {
        const std::string cage = dataFile(GetParam());
        geometry = said({"geometry", cage, "--json"});
        order = said({"order", cage, "--json"});
        pack = said({"pack", cage, "--json"});
        show = said({"show", cage, "--out", folder.path("show.pdf"), "--json"});
        sheets = said({"sheets", cage, "--out", folder.path("sheets"), "--json"});
        made = said({"export", cage, "--format", "csv", "--out", folder.path("cage.csv"), "--json"});
        members = byKey(geometry["members"].toArray(), "id");
    }
    std::map<std::string, QJsonObject> pieces() const {
        std::map<std::string, QJsonObject> out;
        for (const auto& tube : order["tubes"].toArray())
            out.merge(byKey(tube.toObject()["pieces"].toArray(), "member"));
        return out;
    }

    void agreeOnWhatIsSawn() const;
    void agreeOnWhatIsBent() const;
    void agreeOnWhatItWeighs() const;
    void agreeOnWeldsAndNumbers() const;
    void agreeOnWhatTheQuoteCounts() const;

    SpoiledFolder folder;
    QJsonObject geometry, order, pack, show, sheets, made;
    std::map<std::string, QJsonObject> members;
};

void PapersAgree::agreeOnWhatIsSawn() const {
    const auto cut = pieces(), coped = byKey(sheets["cope_sheets"].toArray(), "member");
    ASSERT_EQ(cut.size(), members.size());
    ASSERT_EQ(coped.size(), members.size());
    for (const auto& [id, member] : members) {
        const QJsonObject &piece = cut.at(id), &cope = coped.at(id);
        for (const QJsonObject& paper : {piece, cope}) {
            EXPECT_NEAR(number(paper, "centre_mm"), number(member, "developed_mm"), 1e-9) << id;
            EXPECT_NEAR(number(paper, "long_to_long_mm"), number(member, "cut_long_to_long_mm"), 1e-9) << id;
            EXPECT_NEAR(number(paper, "short_to_short_mm"), number(member, "cut_short_to_short_mm"), 1e-9)
                << id;
        }
        EXPECT_EQ(cope["od_mm"], member["od_mm"]) << id;
        EXPECT_GT(number(cope, "wrap_mm"), std::numbers::pi * number(member, "od_mm"))
            << "the paper's thickness";
        EXPECT_LT(number(cope, "wrap_mm"), std::numbers::pi * (number(member, "od_mm") + 0.5));
    }
}

void PapersAgree::agreeOnWhatIsBent() const {
    const auto cut = pieces(), bent = byKey(sheets["bend_sheets"].toArray(), "member");
    std::size_t with_bends = 0;
    for (const auto& [id, member] : members) {
        const QJsonArray bends = member["bends"].toArray();
        EXPECT_EQ(cut.at(id)["bends"].toInt(), bends.size()) << id;
        if (bends.isEmpty()) continue;
        ++with_bends;
        ASSERT_TRUE(bent.contains(id)) << id;
        const QJsonObject& sheet = bent.at(id);
        EXPECT_NEAR(number(sheet, "finished_mm"), number(cut.at(id), "long_to_long_mm"), 1e-9) << id;
        EXPECT_NEAR(number(sheet, "blank_mm"), number(cut.at(id), "blank_mm"), 1e-9) << id;
        const QJsonArray rows = sheet["bends"].toArray();
        ASSERT_EQ(rows.size(), bends.size()) << id;
        for (int i = 0; i < rows.size(); ++i) {
            const QJsonObject row = rows[i].toObject(), bend = bends[i].toObject();
            EXPECT_NEAR(number(row, "angle_deg"), number(bend, "angle_deg"), 1e-9) << id << " " << i;
            EXPECT_NEAR(number(row, "radius_mm"), number(bend, "radius_mm"), 1e-9) << id << " " << i;
            EXPECT_NEAR(number(row, "rotation_deg"), number(bend, "rotation_deg"), 1e-9) << id << " " << i;
        }
    }
    EXPECT_EQ(bent.size(), with_bends);
}

void PapersAgree::agreeOnWhatItWeighs() const {
    const auto cut = pieces(), exported = byKey(made["pieces"].toArray(), "id"),
               scheduled = byKey(pack["tubes"].toArray(), "id");
    double sum = 0;
    for (const auto& [id, member] : members) {
        const double kg = number(member, "mass_kg");
        EXPECT_NEAR(number(cut.at(id), "mass_kg"), kg, 1e-9) << id;
        EXPECT_NEAR(number(exported.at(id), "mass_kg"), kg, 1e-9) << id;
        EXPECT_NEAR(number(scheduled.at(id), "mass_kg"), kg, 1e-9) << id;
        sum += kg;
    }
    const QJsonObject totals = geometry["totals"].toObject();
    EXPECT_NEAR(number(totals, "tube_mass_kg"), sum, 1e-9);
    EXPECT_NEAR(number(order["totals"].toObject(), "mass_kg"), sum, 1e-9);
    const double whole = sum + number(totals, "plate_mass_kg");
    EXPECT_NEAR(number(show, "mass_kg"), whole, 1e-9);
    EXPECT_NEAR(number(made["totals"].toObject(), "mass_kg"), whole, 1e-6);
    double bars = 0;
    for (const auto& bar : show["bars"].toArray()) bars += number(bar.toObject(), "mass_kg");
    EXPECT_NEAR(bars, sum, 1e-9);
}

void PapersAgree::agreeOnWeldsAndNumbers() const {
    const auto coped = byKey(sheets["cope_sheets"].toArray(), "member"),
               scheduled = byKey(pack["tubes"].toArray(), "id");
    std::map<std::string, double> weld;
    for (const auto& one : pack["welds"].toArray())
        weld[one.toObject()["tube"].toString().toStdString()] += number(one.toObject(), "weld_mm");
    for (const auto& [id, tube] : scheduled) {
        EXPECT_NEAR(weld.at(id), number(coped.at(id), "weld_mm"), 1e-6) << id;
        EXPECT_EQ(tube["number"].toInt(), coped.at(id)["fitted"].toInt()) << id;
        EXPECT_NEAR(number(tube, "length_mm"), number(members.at(id), "developed_mm"), 1e-9) << id;
    }
    for (const auto& bar : show["bars"].toArray())
        for (const auto& one : bar.toObject()["members"].toArray())
            EXPECT_EQ(one.toObject()["number"].toInt(),
                      scheduled.at(one.toObject()["member"].toString().toStdString())["number"].toInt());
}

void PapersAgree::agreeOnWhatTheQuoteCounts() const {
    std::map<std::string, int> counted;
    for (const auto& line : sheets["quote"].toObject()["lines"].toArray())
        counted[line.toObject()["what"].toString().toStdString()] = line.toObject()["count"].toInt();
    const QJsonObject totals = geometry["totals"].toObject();
    EXPECT_EQ(counted.at("bends"), totals["bends"].toInt());
    EXPECT_EQ(counted.at("copes"), totals["joints"].toInt());
    EXPECT_EQ(counted.at("joints"), pack["welds"].toArray().size());
    EXPECT_EQ(counted.at("plates and gussets"),
              pack["plates"].toArray().size() + geometry["gussets"].toArray().size());
}

// One test, since all the papers of a job take seconds to make.
TEST_P(PapersAgree, OnEveryTube) {
    agreeOnWhatIsSawn();
    agreeOnWhatIsBent();
    agreeOnWhatItWeighs();
    agreeOnWeldsAndNumbers();
    agreeOnWhatTheQuoteCounts();
}

INSTANTIATE_TEST_SUITE_P(Demos, PapersAgree,
                         ::testing::Values("cages/hillclimb_saloon.yaml", "cages/mile_pickup.yaml"),
                         [](const auto& demo) { return demo.index == 0 ? "Saloon" : "Pickup"; });

}  // namespace
}  // namespace hoopwright
