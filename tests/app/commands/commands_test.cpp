// Every command end to end: what it prints, how it ends.
#include <gmock/gmock.h>

#include <QColor>
#include <QImage>
#include <QProcess>
#include <cmath>
#include <filesystem>
#include <fstream>
#include <locale>
#include <map>
#include <set>

#include "core/base/text.h"
#include "core/driver/body.h"
#include "core/files/job_file.h"
#include "core/model/resolve.h"
#include "render/gap_scale.h"
#include "rules/check.h"
#include "tests/app/commands/spoiled.h"
#include "tests/core/mesh/made_scan.h"
#include "tests/core/mesh/mesh_files.h"

using namespace hoopwright;
using testing::HasSubstr;
using testing::Not;
namespace fs = std::filesystem;

namespace {

const std::vector<std::string> kCommands = {"check",      "clearance", "geometry", "nodes", "order",
                                            "picture",    "car",       "driver",   "sheet", "library",
                                            "quantities", "rules",     "scan"};

/// A folder of its own for what a test writes.
class Commands : public testing::Test {
protected:
    void SetUp() override { fs::create_directories(folder_); }
    void TearDown() override { fs::remove_all(folder_); }
    std::string write(const std::string& name, const std::string& text) const {
        std::ofstream(folder_ / name, std::ios::binary) << text;
        return (folder_ / name).string();
    }
    const fs::path folder_ = fs::path(testing::TempDir()) / ("commands_" + std::to_string(::getpid()));
};

TEST_F(Commands, AreAllInTheOverview) {
    for (const std::vector<std::string>& words : {std::vector<std::string>{}, {"--help"}, {"-h"}}) {
        const Ran ran = run(words);
        EXPECT_EQ(ran.code, kExitGood);
        for (const std::string& command : kCommands) EXPECT_THAT(ran.out, HasSubstr("\n  " + command + " "));
        EXPECT_THAT(ran.out, HasSubstr("it certifies nothing"));
    }
}

TEST_F(Commands, ShowAnExampleEach) {
    for (const std::string& command : kCommands) {
        const Ran ran = run({command, "--help"});
        EXPECT_EQ(ran.code, kExitGood);
        EXPECT_THAT(ran.out, HasSubstr("Usage: hoopwright " + command));
        EXPECT_THAT(ran.out, HasSubstr("Example:\n  hoopwright " + command));
        EXPECT_THAT(ran.out, HasSubstr("--help"));
    }
}

TEST_F(Commands, TellTheirVersion) {
    EXPECT_THAT(run({"--version"}).out, testing::MatchesRegex("hoopwright [0-9]+\\.[0-9]+\\.[0-9]+\n"));
}

TEST_F(Commands, AreToldFromFilesAndFromTheWindow) {
    for (const std::string& command : kCommands) EXPECT_TRUE(isCommand(command));
    EXPECT_TRUE(isCommand("--help"));
    EXPECT_TRUE(isCommand("chekc"));
    EXPECT_FALSE(isCommand(kSaloon));
    EXPECT_FALSE(isCommand("not_there.yaml")) << "the window says what is wrong with a file";
}

TEST_F(Commands, SayWhatWasMeant) {
    const Ran word = run({"chekc", kSaloon});
    EXPECT_EQ(word.code, kExitBadInput);
    EXPECT_EQ(word.err, "hoopwright: 'chekc' is neither a command nor a file; did you mean 'check'?\n");
    const Ran option = run({"check", kSaloon, "--jsn"});
    EXPECT_EQ(option.code, kExitBadInput);
    EXPECT_EQ(
        option.err,
        "hoopwright check: unknown option '--jsn': did you mean --json?\n"
        "Usage: hoopwright check CAGE [--rules FILE]… [--as FILE]… [--since FILE] [--in-order] [--json]\n");
    EXPECT_EQ(option.out, "");
}

TEST_F(Commands, EndWithTwoAndThePlaceOnAWrongFile) {
    const std::string wrong = write("wrong.yaml", "hoopwright: cage\nversion: 1\nunits: mm\nnam: x\n");
    for (const std::string command : {"check", "geometry", "order"}) {
        const Ran ran = run({command, wrong});
        EXPECT_EQ(ran.code, kExitBadInput);
        EXPECT_THAT(ran.err, HasSubstr(wrong + ":4:1: unknown key 'nam' (did you mean 'name'?)\n"));
        EXPECT_EQ(ran.out, "");
    }
    EXPECT_THAT(run({"check", "gone.yaml"}).err, HasSubstr("gone.yaml: there is no such file"));
}

TEST_F(Commands, LeaveTheLocaleOutOfEveryNumber) {
    struct CommaNumbers : std::numpunct<char> {
        char do_decimal_point() const override { return ','; }
        char do_thousands_sep() const override { return '.'; }
        std::string do_grouping() const override { return "\3"; }
    };
    const std::vector<std::vector<std::string>> lines = {{"check", kSaloon},
                                                         {"geometry", kPickup, "--json"},
                                                         {"order", kPickup},
                                                         {"car", dataFile("cars/saloon.yaml")}};
    for (const auto& words : lines) {
        const Ran plain = run(words);
        const std::locale before = std::locale::global(std::locale(std::locale::classic(), new CommaNumbers));
        const Ran with_commas = run(words);
        std::locale::global(before);
        EXPECT_EQ(plain.out, with_commas.out);
    }
}

CheckReport reportOf(const std::string& cage_file) {
    const JobResult job = readJob(cage_file);
    std::vector<RuleTableRef> tables;
    for (const fs::path& file : job.files.rules) tables.push_back(readRuleTable(file).table);
    return check(tables, *job.job, resolve(*job.job));
}

TEST_F(Commands, CheckEndsByWhatItFound) {
    for (const std::string& cage : {kSaloon, kPickup, kFaultySaloon}) {
        const JobResult job = readJob(cage);
        const bool good = reportOf(cage).allMeet() && resolve(*job.job).problems.empty();
        EXPECT_EQ(run({"check", cage}).code, good ? kExitGood : kExitFallsShort) << cage;
    }
    EXPECT_EQ(run({"check", kFaultySaloon}).code, kExitFallsShort);
}

TEST_F(Commands, CheckGivesEveryFindingAsJsonInTheTablesOrder) {
    const CheckReport report = reportOf(kFaultySaloon);
    const QJsonObject json = run({"check", kFaultySaloon, "--json"}).json();
    EXPECT_EQ(json["hoopwright"].toString(), "check");
    EXPECT_FALSE(json["all_meet"].toBool(true));
    const QJsonArray findings = json["findings"].toArray();
    ASSERT_EQ(static_cast<std::size_t>(findings.size()), report.findings.size());
    const std::vector<int> order = worstFirst(report);
    for (std::size_t i = 0; i < order.size(); ++i) {
        const auto at = static_cast<std::size_t>(order[i]);
        EXPECT_EQ(findings[static_cast<qsizetype>(at)].toObject()["rank"].toInt(), static_cast<int>(i) + 1);
    }
    for (std::size_t i = 0; i < report.findings.size(); ++i) {
        const Finding& finding = report.findings[i];
        const QJsonObject each = findings[static_cast<qsizetype>(i)].toObject();
        EXPECT_EQ(each["rule"].toString().toStdString(), finding.rule);
        EXPECT_EQ(each["subject"].toString().toStdString(), finding.subject);
        EXPECT_EQ(each["answer"].toString().toStdString(), answerKey(finding.answer));
        if (finding.value && finding.dimension == Dimension::length) {
            EXPECT_EQ(each["value_mm"].toDouble(), *finding.value);
        }
    }
    EXPECT_EQ(run({"check", kFaultySaloon, "--json"}).out, run({"check", kFaultySaloon, "--json"}).out);
    EXPECT_EQ(json["counts"].toObject()["fails"].toInt(), report.count(Answer::fails));
}

TEST_F(Commands, CheckSaysWhatFailsByWhatAndByHowMuch) {
    const Ran ran = run({"check", kFaultySaloon});
    const CheckReport report = reportOf(kFaultySaloon);
    EXPECT_THAT(ran.out, HasSubstr("FAILS (" + std::to_string(report.count(Answer::fails)) + ")"));
    for (const Finding& finding : report.findings) {
        if (finding.answer == Answer::does_not_apply) continue;
        EXPECT_THAT(ran.out, HasSubstr(finding.title));
    }
    EXPECT_THAT(ran.out, HasSubstr("certifies nothing"));
    for (const RuleTableInfo& table : report.tables) EXPECT_THAT(ran.out, HasSubstr(table.title));
}

TEST_F(Commands, CheckWithNoTableIsNoPass) {
    CageLayout cage = *readCage(kSaloon).value;
    cage.rule_files.clear();
    cage.shop_file.clear();
    cage.car_file = dataFile("cars/saloon.yaml");
    cage.stock_file = dataFile("stock/metric.yaml");
    cage.dies_file = dataFile("stock/dies_metric.yaml");
    cage.driver_files = {dataFile("drivers/saloon_tall.yaml")};
    const std::string file = write("no_rules.yaml", writeCage(cage));
    const Ran none = run({"check", file});
    EXPECT_EQ(none.code, kExitBadInput);
    EXPECT_THAT(none.err, HasSubstr("the cage names no class table"));
    const Ran given = run({"check", file, "--rules", dataFile("rules/club_hillclimb.yaml"), "--json"});
    EXPECT_NE(given.code, kExitBadInput) << given.err;
    EXPECT_EQ(given.json()["tables"].toArray().size(), 1);
    const Ran wrong = run({"check", file, "--rules", write("wrong.yaml", "hoopwright: rules\n")});
    EXPECT_EQ(wrong.code, kExitBadInput);
    EXPECT_THAT(wrong.err, HasSubstr("wrong.yaml:1:1: the key 'version' is missing"));
}

double length(const QJsonValue& from, const QJsonValue& to) {
    double sum = 0;
    for (int i = 0; i < 3; ++i) sum += std::pow(from.toArray()[i].toDouble() - to.toArray()[i].toDouble(), 2);
    return std::sqrt(sum);
}

TEST_F(Commands, GeometryPiecesAddUpAndJoinEndToEnd) {
    const QJsonObject json = run({"geometry", kPickup, "--json"}).json();
    const QJsonArray members = json["members"].toArray();
    ASSERT_EQ(members.size(), json["totals"].toObject()["members"].toInt());
    ASSERT_GT(members.size(), 10);
    double total = 0;
    for (const QJsonValue& value : members) {
        const QJsonObject member = value.toObject();
        double sum = 0, bends = 0;
        const QJsonArray pieces = member["pieces"].toArray();
        for (qsizetype i = 0; i < pieces.size(); ++i) {
            sum += pieces[i].toObject()["length_mm"].toDouble();
            bends += pieces[i].toObject()["kind"].toString() == "bend";
            if (i > 0) {
                EXPECT_LT(length(pieces[i - 1].toObject()["end_mm"], pieces[i].toObject()["start_mm"]), 1e-6);
            }
        }
        EXPECT_NEAR(sum, member["developed_mm"].toDouble(), 1e-6);
        EXPECT_EQ(member["bends"].toArray().size(), bends);
        total += sum;
        const QJsonArray rows = member["bends"].toArray();
        double walked = member["last_straight_mm"].toDouble();
        for (const QJsonValue& row : rows)
            walked += row["straight_before_mm"].toDouble() + row["arc_mm"].toDouble();
        EXPECT_NEAR(walked, sum, 1e-6);
    }
    EXPECT_NEAR(total, json["totals"].toObject()["tube_length_mm"].toDouble(), 1e-6);
}

TEST_F(Commands, GeometryGivesBothEdgesOfEachCutAtTheStationsAskedFor) {
    const QJsonObject json = run({"geometry", kSaloon, "--json", "--stations", "48"}).json();
    int cuts = 0;
    for (const QJsonValue& member : json["members"].toArray()) {
        const double outer_radius = member["od_mm"].toDouble() / 2;
        EXPECT_GT(outer_radius, 0);
        for (const QJsonValue& end : member["ends"].toArray()) {
            if (end["on"].toString().isEmpty()) continue;
            ASSERT_TRUE(end["cut"].isObject()) << end["no_cut"].toString().toStdString();
            const QJsonObject cut = end["cut"].toObject();
            ++cuts;
            EXPECT_EQ(cut["outer_mm"].toArray().size(), 48);
            EXPECT_EQ(cut["bore_mm"].toArray().size(), 48);
            for (const QJsonValue& s : cut["outer_mm"].toArray()) {
                EXPECT_LE(cut["least_mm"].toDouble(), s.toDouble() + 1e-9);
                EXPECT_GE(cut["greatest_mm"].toDouble(), s.toDouble() - 1e-9);
            }
        }
    }
    EXPECT_GE(cuts, json["joints"].toArray().size());
    EXPECT_EQ(run({"geometry", kSaloon, "--stations", "7"}).code, kExitBadInput);
}

TEST_F(Commands, GeometryClearancesAreTheLeastOfManySamplesAlongTheBars) {
    const JobResult job = readJob(kSaloon);
    const CageGeometry cage = resolve(*job.job);
    const QJsonArray drivers = run({"geometry", kSaloon, "--json"}).json()["drivers"].toArray();
    ASSERT_EQ(static_cast<std::size_t>(drivers.size()), job.job->drivers.size());
    for (std::size_t d = 0; d < job.job->drivers.size(); ++d) {
        const Driver& driver = job.job->drivers[d];
        for (const QJsonValue& part : drivers[static_cast<qsizetype>(d)].toObject()["clearances"].toArray()) {
            const double bare = part["bare_mm"].toDouble();
            EXPECT_LE(part["padded_mm"].toDouble(), bare);
            if (bare > 0) {
                EXPECT_NEAR(length(part["on_person_mm"], part["on_bar_mm"]), bare, 1e-3);
            }
            if (part["part"].toString() != "elbow_left") continue;
            const Vec3 elbow = elbowJoint(driver, 1);
            double least = 1e9;
            for (const ResolvedMember& bar : cage.members) {
                for (double s = 0; s <= bar.line.length_mm(); s += 0.5) {
                    least = std::min(least,
                                     (bar.line.point(s) - elbow).norm() - kElbowRadius_mm - bar.radius_mm());
                }
            }
            EXPECT_NEAR(bare, least, 0.01);
        }
    }
}

TEST_F(Commands, GeometryAsTextHasEachBarAndJoint) {
    const JobResult job = readJob(kPickup);
    const CageGeometry cage = resolve(*job.job);
    const std::string out = run({"geometry", kPickup}).out;
    for (const ResolvedMember& bar : cage.members) EXPECT_THAT(out, HasSubstr("(" + bar.id + ")"));
    EXPECT_THAT(out, HasSubstr(" in of tube"));
    for (const Driver& driver : job.job->drivers)
        EXPECT_THAT(out, HasSubstr(driver.name + ": to the nearest bar"));
}

TEST_F(Commands, OrderFitsItsPiecesInItsSticks) {
    for (const std::string& cage : {kSaloon, kPickup}) {
        const QJsonObject json = run({"order", cage, "--json"}).json();
        const double kerf = json["kerf_mm"].toDouble();
        int sticks = 0, off_cuts = 0;
        std::map<QString, int> wanted, placed;
        for (const QJsonValue& tube : json["tubes"].toArray()) {
            ASSERT_FALSE(tube["trouble"].isString()) << tube["trouble"].toString().toStdString();
            for (const QJsonValue& piece : tube["pieces"].toArray()) ++wanted[piece["member"].toString()];
            for (const QJsonValue& stick : tube["sticks"].toArray()) {
                ++(stick["bought"].toBool() ? sticks : off_cuts);
                double used = stick["left_mm"].toDouble();
                const QJsonArray members = stick["members"].toArray();
                for (const QJsonValue& member : members) ++placed[member.toString()];
                for (const QJsonValue& blank : stick["blanks_mm"].toArray()) used += blank.toDouble();
                // The cut that parts the last piece from what is left counts too, if anything is.
                const bool has_rest = stick["left_mm"].toDouble() > 0;
                used += static_cast<double>(members.size() - (has_rest ? 0 : 1)) * kerf;
                EXPECT_NEAR(used, stick["length_mm"].toDouble(), 1e-6);
                EXPECT_GE(stick["left_mm"].toDouble(), -1e-9);
            }
        }
        EXPECT_EQ(placed, wanted) << "each cut once, spares too";
        EXPECT_EQ(sticks, json["totals"].toObject()["sticks"].toInt());
        EXPECT_EQ(off_cuts, json["totals"].toObject()["off_cuts"].toInt());
        EXPECT_EQ(static_cast<int>(placed.size()), resolve(*readJob(cage).job).totals.members);
    }
}

TEST_F(Commands, OrderIsCutAsTheCommandLineSays) {
    const auto order = [](std::vector<std::string> words) {
        words.insert(words.begin(), {"order", kSaloon, "--json"});
        return run(words).json();
    };
    const QJsonObject rack = order({}), bought = order({"--off-cuts", "no"});
    EXPECT_TRUE(rack["off_cuts_first"].toBool()) << "as its shop's book says";
    EXPECT_GT(rack["totals"].toObject()["off_cuts"].toInt(), 0);
    EXPECT_EQ(bought["totals"].toObject()["off_cuts"].toInt(), 0);
    EXPECT_LE(rack["totals"].toObject()["price"].toDouble(), bought["totals"].toObject()["price"].toDouble());
    EXPECT_EQ(order({"--kerf", "1.5", "--kerf-at", "every_cut"})["kerf_at"].toString(), "every_cut");
    EXPECT_EQ(order({"--kerf", "1.5"})["kerf_mm"].toDouble(), 1.5);
    EXPECT_LT(order({"--no-spares"})["totals"].toObject()["length_mm"].toDouble(),
              rack["totals"].toObject()["length_mm"].toDouble());
    int from_rack = 0, from_cage = 0;
    for (const QJsonValue& source : rack["sources"].toArray()) {
        from_rack += source["from"].toString() == "rack" ? 1 : 0;
        from_cage += source["from"].toString() == "cage" ? 1 : 0;
        EXPECT_EQ(source["heat"].toString().isEmpty(), source["from"].toString() == "nowhere");
    }
    EXPECT_GT(from_rack, 0);
    EXPECT_EQ(from_cage, 1);
    EXPECT_EQ(rack["apart"].toArray().size(), 1);
    EXPECT_THAT(run({"order", kSaloon, "--off-cuts", "yes"}).err,
                HasSubstr("--off-cuts: 'yes': write first or no"));
    EXPECT_THAT(run({"order", kSaloon, "--kerf-at", "end"}).err,
                HasSubstr("--kerf-at: 'end': write every_cut or between_pieces"));
    EXPECT_THAT(run({"order", kSaloon, "--kerf=-2"}).err, HasSubstr("--kerf: '-2' is negative"));
    const std::string page = run({"order", kSaloon}).out;
    EXPECT_THAT(page, HasSubstr("Main hoop, spare"));
    EXPECT_THAT(page, HasSubstr("from the rack, heat "));
    EXPECT_THAT(page, HasSubstr("No plan takes less: proved."));
    EXPECT_THAT(page, HasSubstr("Each of another heat: "));
}

TEST_F(Commands, ShopTakesInATimeAndKeepsEveryOtherLine) {
    const std::string was = textOf(dataFile("stock/shop_inch.yaml"));
    const std::string file = write("shop.yaml", was);
    const Ran added = run({"shop", file, "--json", "--add-time", "Buggy, cope, 12, 198, 2026-04-02"});
    ASSERT_EQ(added.code, kExitGood) << added.err;
    const QJsonArray times = added.json()["times"].toArray();
    EXPECT_EQ(times.last()["job"].toString(), "Buggy");
    EXPECT_EQ(times.last()["minutes"].toDouble(), 198);
    for (const QJsonValue& each : added.json()["operations"].toArray()) {
        if (each["operation"].toString() != "cope") continue;
        EXPECT_EQ(each["from_times"].toInt(), 3) << "two were there; three are learned from";
        EXPECT_NEAR(each["minutes_each"].toDouble(), (325 + 480 + 198) / 66.0, 1e-12);
    }
    const std::string now = textOf(file);
    EXPECT_THAT(now, HasSubstr("# A made-up shop for the demo."));
    EXPECT_EQ(now.substr(0, was.find("times:")), was.substr(0, was.find("times:")));
    EXPECT_THAT(now, HasSubstr("{job: Buggy, operation: cope, count: 12, minutes: 198, when: 2026-04-02}"));
    for (const auto& [given, said] : {std::pair{"Buggy, weld, 12, 198", "'weld' is no operation"},
                                      std::pair{"Buggy, cope, 0, 198", "COUNT"},
                                      std::pair{"Buggy, cope, 12, -3", "write a number above 0"},
                                      std::pair{"Buggy, cope, 12", "write it as \"JOB, OPERATION"},
                                      std::pair{"Buggy, cope, 12, 9, May", "'May' is no date"}}) {
        const Ran wrong = run({"shop", file, "--add-time", given});
        EXPECT_EQ(wrong.code, kExitBadInput);
        EXPECT_THAT(wrong.err, HasSubstr(said));
    }
    EXPECT_EQ(textOf(file), now) << "nothing wrong was written";
}

TEST_F(Commands, OrderTakesAnAllowanceInTheCagesUnit) {
    const auto lengthOf = [](const std::vector<std::string>& words) {
        return run(words).json()["totals"].toObject()["length_mm"].toDouble();
    };
    EXPECT_GT(lengthOf({"order", kPickup, "--json", "--allowance", "2"}),
              lengthOf({"order", kPickup, "--json", "--allowance", "0"}) + 50.8);
    EXPECT_EQ(lengthOf({"order", kPickup, "--json", "--allowance", "1.5"}),
              lengthOf({"order", kPickup, "--json"}))
        << "as its shop's book says";
    EXPECT_EQ(lengthOf({"order", kPickup, "--json", "--allowance", "2"}),
              lengthOf({"order", kPickup, "--json", "--allowance=50.8 mm"}));
    EXPECT_THAT(run({"order", kPickup, "--allowance", "2,5"}).err, HasSubstr("--allowance: '2,5'"));
    EXPECT_EQ(run({"order", kPickup, "--allowance=-1"}).code, kExitBadInput);
}

TEST_F(Commands, OrderAsTextHasEachStick) {
    const std::string out = run({"order", kSaloon}).out;
    const int sticks = run({"order", kSaloon, "--json"}).json()["totals"].toObject()["sticks"].toInt();
    EXPECT_THAT(out, HasSubstr(": " + std::to_string(sticks) + " sticks, "));
    EXPECT_THAT(out, HasSubstr("stick 1 of "));
    EXPECT_THAT(out, Not(HasSubstr("No sticks")));
}

TEST_F(Commands, RulesReadsATableOrSaysWhatIsWrong) {
    const Ran good = run({"rules", dataFile("rules/club_hillclimb.yaml")});
    EXPECT_EQ(good.code, kExitGood) << good.err;
    EXPECT_THAT(good.out, HasSubstr("edition"));
    const Ran wrong =
        run({"rules", write("t.yaml", "hoopwright: rules\nversion: 1\nunits: mm\nid: 010\nzzz: 1\n")});
    EXPECT_EQ(wrong.code, kExitBadInput);
    EXPECT_THAT(wrong.err, HasSubstr("t.yaml:5:1: unknown key 'zzz'"));
}

TEST_F(Commands, RulesLooksATableOver) {
    std::string text = textOf(dataFile("rules/club_hillclimb.yaml"));
    const std::string rule =
        "rules:\n  - {id: two_hoops, title: T, sentence: S., measure: member_count, of: {role: main_hoop}, "
        "exactly: "
        "2}\n";
    text.replace(text.find("rules:\n"), 7, rule);
    const std::string file = write("clash.yaml", text);
    const Ran ran = run({"rules", file});
    EXPECT_EQ(ran.code, kExitFallsShort);
    EXPECT_THAT(ran.out, HasSubstr("contradicts: main_hoop: the rule 'two_hoops'"));
    const QJsonObject json = run({"rules", file, "--json"}).json();
    EXPECT_TRUE(json["usable"].toBool());
    ASSERT_EQ(json["remarks"].toArray().size(), 1);
    EXPECT_EQ(json["remarks"].toArray()[0].toObject()["kind"].toString(), "contradiction");
    EXPECT_EQ(json["remarks"].toArray()[0].toObject()["other_rule"].toString(), "two_hoops");
    EXPECT_EQ(run({"rules", dataFile("rules/club_hillclimb.yaml"), "--json"}).code, kExitGood);
}

TEST_F(Commands, RulesWritesACopyOfOnesOwn) {
    const std::string from = dataFile("rules/club_hillclimb.yaml"),
                      to = write("gone.yaml", "") + ".mine.yaml";
    const std::vector<std::string> words = {"rules",   from,       "--copy-to",    to,        "--id", "ours",
                                            "--title", "Our hill", "--written-by", "Our club"};
    const Ran ran = run(words);
    EXPECT_EQ(ran.code, kExitGood) << ran.err;
    EXPECT_EQ(run({"rules", to, "--json"}).json()["id"].toString(), "ours");
    EXPECT_EQ(run({"check", kSaloon, "--rules", to}).code, run({"check", kSaloon, "--rules", from}).code);
    EXPECT_EQ(run(words).code, kExitBadInput) << "nothing is written over";
    EXPECT_THAT(run({"rules", from, "--copy-to", to + "2"}).err, HasSubstr("is no id"));
}

TEST_F(Commands, QuantitiesListsEveryMeasurement) {
    const std::string out = run({"quantities"}).out;
    const QJsonArray list = run({"quantities", "--json"}).json()["quantities"].toArray();
    ASSERT_EQ(static_cast<std::size_t>(list.size()), quantities().size());
    for (const QuantityInfo& quantity : quantities()) {
        EXPECT_THAT(out, HasSubstr(quantity.name + "  (of a ")) << quantity.name;
    }
}

TEST_F(Commands, PictureWantsAPngAndKnowsItsViews) {
    const auto refusal = [](std::vector<std::string> words) {
        words.insert(words.begin(), {"picture", kSaloon});
        const Ran ran = run(words);
        EXPECT_EQ(ran.code, kExitBadInput);
        return ran.err;
    };
    EXPECT_THAT(refusal({}), HasSubstr("--out PNG is missing"));
    EXPECT_THAT(refusal({"--out", "x.jpg"}), HasSubstr("does not end in .png"));
    EXPECT_THAT(refusal({"--out", "x.png", "--view", "frnt"}),
                HasSubstr("--view: 'frnt' is no view: did you mean front?"));
    EXPECT_THAT(refusal({"--out", "x.png", "--size", "big"}),
                HasSubstr("write WIDTHxHEIGHT, such as 1920x1080"));
    EXPECT_THAT(refusal({"--out", "x.png", "--size", "99999x10"}),
                HasSubstr("--size: '99999' is not a whole number from 64"));
    EXPECT_FALSE(fs::exists("x.png"));
}

/// The built program, without any display in its surroundings.
Ran runProgram(const QStringList& words) {
    QProcess program;
    QProcessEnvironment around = QProcessEnvironment::systemEnvironment();
    for (const char* name : {"DISPLAY", "WAYLAND_DISPLAY", "QT_QPA_PLATFORM"}) around.remove(name);
    program.setProcessEnvironment(around);
    program.start(HOOPWRIGHT_PROGRAM, words);
    Ran ran;
    if (!program.waitForFinished(120'000)) return ran;
    ran.code = program.exitStatus() == QProcess::NormalExit ? program.exitCode() : -1;
    ran.out = program.readAllStandardOutput().toStdString();
    ran.err = program.readAllStandardError().toStdString();
    return ran;
}

TEST_F(Commands, TheProgramAnswersWithoutADisplay) {
    const Ran ran = runProgram({"check", QString::fromStdString(kFaultySaloon)});
    EXPECT_EQ(ran.code, kExitFallsShort);
    EXPECT_EQ(ran.out, run({"check", kFaultySaloon}).out);
    EXPECT_EQ(ran.err, "");
}

TEST_F(Commands, TheProgramSaysOnceThatThereIsNoDisplay) {
    const Ran ran = runProgram({});
    EXPECT_EQ(ran.code, kExitBadInput);
    EXPECT_EQ(ran.err,
              "There is no display to open the window on. The same job without one:  hoopwright check " +
                  dataFile("cages/hillclimb_saloon.yaml") + "\n");
    EXPECT_THAT(runProgram({QString::fromStdString(kPickup)}).err, HasSubstr("hoopwright check " + kPickup));
}

TEST_F(Commands, TheProgramDrawsAPictureWithoutADisplay) {
    const fs::path file = folder_ / "cage.png";
    const Ran ran = runProgram({"picture", QString::fromStdString(kSaloon), "--view", "left", "--size",
                                "640x400", "--out", QString::fromStdString(file.string())});
    ASSERT_EQ(ran.code, kExitGood) << ran.err;
    const QImage picture(QString::fromStdString(file.string()));
    EXPECT_EQ(picture.size(), QSize(640, 400));
    std::set<QRgb> colours;
    for (int x = 0; x < picture.width(); x += 4) {
        for (int y = 0; y < picture.height(); y += 4) colours.insert(picture.pixel(x, y));
    }
    EXPECT_GT(colours.size(), 100u) << "a picture, not one flat colour";
    const Ran nowhere = runProgram({"picture", QString::fromStdString(kSaloon), "--size", "64x64", "--out",
                                    QString::fromStdString((folder_ / "gone" / "x.png").string())});
    EXPECT_EQ(nowhere.code, kExitBadInput);
    EXPECT_THAT(nowhere.err, HasSubstr("does not exist"));
}

TEST_F(Commands, APictureIsPaintedByGapToTheSkin) {
    const auto colours = [&](const QString& paint) {
        const fs::path file = folder_ / (paint.toStdString() + ".png");
        const Ran ran =
            runProgram({"picture", QString::fromStdString(kSaloon), "--size", "900x560", "--paint", paint,
                        "--no-labels", "--out", QString::fromStdString(file.string())});
        EXPECT_EQ(ran.code, kExitGood) << ran.err;
        const QImage picture(QString::fromStdString(file.string()));
        std::set<QRgb> seen;
        for (int x = 0; x < picture.width(); ++x) {
            for (int y = 0; y < picture.height(); ++y) seen.insert(picture.pixel(x, y));
        }
        return seen;
    };
    const auto has = [](const std::set<QRgb>& seen, int band) {
        const Rgb c = gapColour(band);
        return seen.count(QColor::fromRgbF(c.r, c.g, c.b).rgb()) > 0;
    };
    const std::set<QRgb> by_gap = colours("gap"), by_place = colours("place");
    for (int band = 0; band < gapScale(LengthUnit::mm).bands(); ++band) {
        EXPECT_TRUE(has(by_gap, band)) << "the legend, band " << band;
    }
    EXPECT_FALSE(has(by_place, 0));
}

TEST_F(Commands, AScanWithMoreThanTwoTrianglesAtAnEdgeIsReadAndSaid) {
    // Three fins on one edge: no single skin. It can be measured against all the same.
    const std::string file = write("fins.obj",
                                   "v 0 0 0\nv 0 0 900\nv 800 0 0\nv -800 500 0\nv 0 -900 0\n"
                                   "f 1 2 3\nf 1 2 4\nf 1 2 5\n");
    const Ran text = run({"scan", file});
    EXPECT_EQ(text.code, kExitGood) << text.err;
    EXPECT_THAT(text.out, HasSubstr("1 edge shared by more than two triangles"));
    EXPECT_EQ(run({"scan", file, "--json"}).json()["edges_shared_by_more"].toInt(), 1);
}

TEST_F(Commands, AScanIsDescribedOrRefusedWithThePlace) {
    const std::string bytes = stlBinary(madeScan(20, 30));
    const std::string file = write("cab.stl", bytes);
    const Ran text = run({"scan", file});
    EXPECT_EQ(text.code, kExitGood) << text.err;
    EXPECT_THAT(text.out, HasSubstr("STL, binary; 1200 triangles, 651 points; 100 open edges."));
    EXPECT_THAT(text.out, HasSubstr("Likely in mm"));
    const QJsonObject json = run({"scan", file, "--json"}).json();
    EXPECT_EQ(json["hoopwright"].toString(), "scan");
    EXPECT_EQ(json["triangles"].toInt(), 1200);
    EXPECT_EQ(json["open_edges"].toInt(), 100);
    EXPECT_EQ(json["likely_unit"].toString(), "mm");
    const Ran bad = run({"scan", write("bad.stl", bytes.substr(0, 999))});
    EXPECT_EQ(bad.code, kExitBadInput);
    EXPECT_THAT(bad.err, HasSubstr("bad.stl: byte 80: the head says 1200 triangles"));
    EXPECT_EQ(bad.out, "");
}

TEST_F(Commands, GapsToTheSkinAndScansAreInTheGeometry) {
    fs::copy(dataFile(""), folder_ / "data", fs::copy_options::recursive);
    const std::string cage = (folder_ / "data/cages/hillclimb_saloon.yaml").string();
    std::ofstream(folder_ / "data/cars/saloon.yaml", std::ios::app)
        << "scans:\n  - file: cab.stl\n    pairs:\n"
           "      - {scan: [0, 0, 0], car: [100, 0, 0]}\n      - {scan: [1000, 0, 0], car: [1100, 0, 0]}\n"
           "      - {scan: [0, 1000, 0], car: [100, 1000, 3]}\n";
    const Ran none = run({"geometry", cage});
    EXPECT_EQ(none.code, kExitBadInput);
    EXPECT_THAT(none.err, HasSubstr("scans, item 1: there is no file"));
    write("data/cars/cab.stl", stlBinary(madeScan(20, 30)));
    const QJsonObject json = run({"geometry", cage, "--json"}).json();
    const QJsonObject scan = json["scans"].toArray()[0].toObject();
    EXPECT_EQ(scan["problem"].toString(), "");
    EXPECT_TRUE(scan["unit_guessed"].toBool());
    EXPECT_EQ(scan["unit"].toString(), "mm");
    EXPECT_EQ(scan["pairs"].toArray().size(), 3);
    EXPECT_NEAR(scan["shift_mm"].toArray()[0].toDouble(), 100, 2);
    EXPECT_LT(scan["rms_mm"].toDouble(), 2);
    for (const QJsonValue member : json["members"].toArray()) {
        const QJsonObject gap = member["gap_to_skin"].toObject();
        ASSERT_FALSE(gap.isEmpty());
        EXPECT_LE(gap["least_mm"].toDouble(), gap["mean_mm"].toDouble() + 1e-9);
        EXPECT_LE(gap["mean_mm"].toDouble(), gap["greatest_mm"].toDouble() + 1e-9);
        EXPECT_EQ(gap["stations_mm"].toArray().size(), gap["gaps_mm"].toArray().size());
        EXPECT_EQ(gap["surfaces"].toArray().last().toObject()["part"].toString(), "cab.stl");
        const bool stands = member["ends"][1]["on"].toString() == "plate";
        EXPECT_NEAR(gap["stations_mm"].toArray().last().toDouble(),
                    member["developed_mm"].toDouble() - (stands ? 2 * member["od_mm"].toDouble() : 0), 1e-6);
    }
    const std::string text = run({"geometry", cage}).out;
    EXPECT_THAT(text, HasSubstr("Scans of the car\n  cab.stl: STL, binary; 1200 triangles"));
    EXPECT_THAT(text, HasSubstr("Gap to the skin of the car\n"));
}

}  // namespace
