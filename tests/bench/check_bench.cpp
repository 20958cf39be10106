// Reading a table, resolving a cage and checking it: 60 tubes, 150 rules, one driver.
#include <benchmark/benchmark.h>

#include <cmath>

#include "core/model/resolve.h"
#include "rules/check.h"

namespace hoopwright {
namespace {

constexpr int kTubes = 60;

/// A row of small hoops, each with a brace and two ties landing on it: 60 tubes of four kinds, 105 joints or
/// so.
Job sixtyTubes() {
    Job job;
    job.stock.materials = {{"steel", "Steel", "mild_steel", 355, 490, 22, 0.2, 7850, ""}};
    TubeStock tube;
    tube.id = "45x2.5";
    tube.section = {45, 2.5};
    tube.material = "steel";
    job.stock.tubes = {tube};
    job.dies.dies = {{"d45", 45, 135, 50, 30, M_PI}};
    const auto landing = [](const std::string& host, Side side, double height) {
        Landing l;
        l.host = host;
        l.value = height;
        l.side = side;
        return MemberPoint{l, {}};
    };
    const auto add = [&](const std::string& id, const char* role, std::vector<MemberPoint> path) {
        Member m;
        m.id = m.name = id;
        m.role = role;
        m.stock = "45x2.5";
        m.path = std::move(path);
        job.cage.members.push_back(std::move(m));
    };
    for (int i = 0; i < kTubes / 4; ++i) {
        const std::string n = std::to_string(i), hoop = "hoop_" + n;
        const double x = -200.0 * i;
        add(hoop, "main_hoop",
            {{FixedPoint{{x, 600, 0}}, {}},
             {FixedPoint{{x, 600, 1000}}, {}},
             {FixedPoint{{x, -600, 1000}}, {}},
             {FixedPoint{{x, -600, 0}}, {}}});
        add("diagonal_" + n, "hoop_diagonal",
            {landing(hoop, Side::left, 800), landing(hoop, Side::right, 50)});
        add("belt_" + n, "belt_bar", {landing(hoop, Side::left, 560), landing(hoop, Side::right, 560)});
        add("brace_" + n, "rear_brace",
            {landing(hoop, Side::left, 840), {FixedPoint{{x - 500, 600, 100}}, {}}});
    }
    Driver d;
    d.id = d.name = "tall";
    d.shoulder_left = {200, 480, 640};
    d.shoulder_right = {200, 120, 640};
    d.helmet = {{250, 300, 780}, 340, 260, 280};
    d.elbow_left = d.elbow_right = {300, 300, 400};
    d.belts.bar = "belt_0";
    job.drivers = {d};
    return job;
}

/// 90 rules on tubes, 30 on joints, 20 on near pairs, 10 on the driver and the whole: limits that about half
/// of them meet.
std::string hundredAndFiftyRules() {
    std::string out =
        "hoopwright: rules\nversion: 1\nid: bench\ntitle: B\nedition: '1'\nwritten_by: B\npublished: "
        "no\nunits: mm\nadvice: None.\n"
        "places:\n  top: {top_of: {role: main_hoop}}\n  node: {meeting: [{role: main_hoop}, {role: "
        "rear_brace}]}\n"
        "tubes:\n  t: {any_of: [{od: 45, wall: 2.5}, {od: 50, wall: 2}]}\nrules:\n";
    int n = 0;
    const auto rule = [&](const std::string& check) {
        out += "  - {id: r" + std::to_string(n++) +
               ", clause: '1.1', title: A rule of the bench, sentence: A sentence of the usual length for a "
               "rule., " +
               check + "}\n";
    };
    const char* roles[] = {"main_hoop", "hoop_diagonal", "belt_bar", "rear_brace",
                           "[main_hoop, belt_bar, hoop_diagonal, rear_brace]"};
    for (int i = 0; i < 90; ++i) {
        const std::string of = std::string(", of: {role: ") + roles[i % 5] + "}";
        switch ((i / 5) % 9) {
            case 0:
                rule("measure: tube" + of + ", fits: t");
                break;
            case 1:
                rule("measure: wall" + of + ", at_least: 2");
                break;
            case 2:
                rule("measure: bend_count" + of + ", at_most: 2");
                break;
            case 3:
                rule("measure: angle_to_vertical" + of + ", with: {view: front}, at_most: 91");
                break;
            case 4:
                rule("measure: end_to_place" + of + ", with: {place: node, end: upper}, at_most: 3000");
                break;
            case 5:
                rule("measure: unsupported_length" + of + ", at_most: 5000");
                break;
            case 6:
                rule("measure: height" + of + ", between: [-100, 1100]");
                break;
            case 7:
                rule("measure: length" + of + ", at_most: 4000");
                break;
            default:
                rule("measure: family" + of + ", one_of: [mild_steel, chrome_moly]");
                break;
        }
    }
    for (int i = 0; i < 30; ++i)
        rule("measure: joint_angle, of: {branch: {role: " + std::string(roles[1 + i % 3]) +
             "}}, at_least: " + std::to_string(i));
    for (int i = 0; i < 20; ++i)
        rule("measure: gap, of: {first: {role: " + std::string(roles[i % 4]) +
             "}, second: {role: " + roles[(i + 1) % 4] + "}, within: 30}, at_least: -50");
    for (const char* part : {"helmet", "shoulder", "elbow"})
        rule("measure: clearance, with: {part: " + std::string(part) + "}, at_least: 50");
    rule("measure: line_clearance, with: {part: helmet, from: top, to: top}, at_least: -9000");
    rule("measure: inside_envelope, with: {part: helmet}, at_least: -9000");
    rule("measure: belt_angle, between: [-10, 20]");
    for (int i = 0; i < 4; ++i)
        rule("measure: member_count, of: {role: " + std::string(roles[i]) + "}, at_least: 1");
    return out;
}

void readTable(benchmark::State& state) {
    const std::string text = hundredAndFiftyRules();
    for (auto _ : state) benchmark::DoNotOptimize(readRuleTableText(text, "bench.yaml"));
}
BENCHMARK(readTable)->Unit(benchmark::kMicrosecond);

void resolveCage(benchmark::State& state) {
    const Job job = sixtyTubes();
    for (auto _ : state) benchmark::DoNotOptimize(resolve(job));
}
BENCHMARK(resolveCage)->Unit(benchmark::kMicrosecond);

void checkCage(benchmark::State& state) {
    const RuleTableResult read = readRuleTableText(hundredAndFiftyRules(), "bench.yaml");
    if (!read.table) {
        state.SkipWithError(read.problems.empty() ? "no table" : read.problems.front().text().c_str());
        return;
    }
    const RuleTableRef tables[] = {read.table};
    const Job job = sixtyTubes();
    const CageGeometry cage = resolve(job);
    for (auto _ : state) benchmark::DoNotOptimize(check(tables, job, cage));
    const CheckReport report = check(tables, job, cage);
    state.counters["findings"] = static_cast<double>(report.findings.size());
    state.counters["fails"] = report.count(Answer::fails);
    state.counters["cannot_tell"] = report.count(Answer::cannot_tell);
}
BENCHMARK(checkCage)->Unit(benchmark::kMicrosecond);

void resolveAndCheck(benchmark::State& state) {
    const RuleTableRef tables[] = {readRuleTableText(hundredAndFiftyRules(), "bench.yaml").table};
    const Job job = sixtyTubes();
    for (auto _ : state) {
        const CageGeometry cage = resolve(job);
        benchmark::DoNotOptimize(check(tables, job, cage));
    }
}
BENCHMARK(resolveAndCheck)->Unit(benchmark::kMicrosecond);

}  // namespace
}  // namespace hoopwright
