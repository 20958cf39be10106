// Reading a table, resolving a cage and checking it: 60 tubes and 150 rules, 300 tubes and 1000 rules, one
// driver; and what one rule of each kind costs.
#include <benchmark/benchmark.h>

#include <cmath>
#include <set>
#include <string>
#include <vector>

#include "core/model/resolve.h"
#include "rules/check.h"

namespace hoopwright {
namespace {

/// A row of small hoops, each with a brace and two ties landing on it: of 60 tubes of four kinds, 105 joints
/// or so.
Job rowOfHoops(int tubes) {
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
    for (int i = 0; i < tubes / 4; ++i) {
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

/// What stands above the rules.
std::string tableHead() {
    return "hoopwright: rules\nversion: 1\nid: bench\ntitle: B\nedition: '1'\nwritten_by: B\npublished: "
           "no\nunits: mm\nadvice: None.\n"
           "places:\n  top: {top_of: {role: main_hoop}}\n  node: {meeting: [{role: main_hoop}, {role: "
           "rear_brace}]}\n"
           "tubes:\n  t: {any_of: [{od: 45, wall: 2.5}, {od: 50, wall: 2}]}\nrules:\n";
}

std::string oneRule(int n, const std::string& check) {
    return "  - {id: r" + std::to_string(n) +
           ", clause: '1.1', title: A rule of the bench, sentence: A sentence of the usual length for a "
           "rule., " +
           check + "}\n";
}

/// Of every fifteen rules nine are on tubes, three on joints, two on near pairs, one on the driver or the
/// whole: limits that about half of them meet.
std::vector<std::string> checksOf(int count) {
    const char* roles[] = {"main_hoop", "hoop_diagonal", "belt_bar", "rear_brace",
                           "[main_hoop, belt_bar, hoop_diagonal, rear_brace]"};
    const auto onTubes = [&](int i) {
        const std::string of = std::string(", of: {role: ") + roles[i % 5] + "}";
        const std::string kinds[] = {
            "measure: tube" + of + ", fits: t",
            "measure: wall" + of + ", at_least: 2",
            "measure: bend_count" + of + ", at_most: 2",
            "measure: angle_to_vertical" + of + ", with: {view: front}, at_most: 91",
            "measure: end_to_place" + of + ", with: {place: node, end: upper}, at_most: 3000",
            "measure: unsupported_length" + of + ", at_most: 5000",
            "measure: height" + of + ", between: [-100, 1100]",
            "measure: length" + of + ", at_most: 4000",
            "measure: family" + of + ", one_of: [mild_steel, chrome_moly]"};
        return kinds[(i / 5) % 9];
    };
    const auto onWhole = [&](int i) {
        const std::string kinds[] = {
            "measure: clearance, with: {part: helmet}, at_least: 50",
            "measure: clearance, with: {part: shoulder}, at_least: 50",
            "measure: clearance, with: {part: elbow}, at_least: 50",
            "measure: line_clearance, with: {part: helmet, from: top, to: top}, at_least: -9000",
            "measure: inside_envelope, with: {part: helmet}, at_least: -9000",
            "measure: belt_angle, between: [-10, 20]",
            std::string("measure: member_count, of: {role: ") + roles[i % 4] + "}, at_least: 1"};
        return kinds[std::size_t(i) % std::size(kinds)];
    };
    std::vector<std::string> out;
    for (int i = 0; i < count; ++i) {
        const int round = i / 15, of_round = i % 15;
        if (of_round < 9) {
            out.push_back(onTubes(9 * round + of_round));
        } else if (of_round < 12) {
            const int k = 3 * round + of_round - 9;
            out.push_back("measure: joint_angle, of: {branch: {role: " + std::string(roles[1 + k % 3]) +
                          "}}, at_least: " + std::to_string(k % 30));
        } else if (of_round < 14) {
            const int k = 2 * round + of_round - 12;
            out.push_back("measure: gap, of: {first: {role: " + std::string(roles[k % 4]) +
                          "}, second: {role: " + roles[(k + 1) % 4] + "}, within: 30}, at_least: -50");
        } else {
            out.push_back(onWhole(round));
        }
    }
    return out;
}

std::string tableOf(int rules) {
    std::string out = tableHead();
    int n = 0;
    for (const std::string& check : checksOf(rules)) out += oneRule(n++, check);
    return out;
}

/// The table, or the reason in the bench's own words.
RuleTableRef read(const std::string& text, benchmark::State& state) {
    const RuleTableResult result = readRuleTableText(text, "bench.yaml");
    if (!result.table)
        state.SkipWithError(result.problems.empty() ? "no table" : result.problems.front().text().c_str());
    return result.table;
}

void readTable(benchmark::State& state) {
    const std::string text = tableOf(int(state.range(0)));
    for (auto _ : state) benchmark::DoNotOptimize(readRuleTableText(text, "bench.yaml"));
}
BENCHMARK(readTable)->Arg(150)->Arg(1000)->Unit(benchmark::kMicrosecond);

void resolveCage(benchmark::State& state) {
    const Job job = rowOfHoops(int(state.range(0)));
    for (auto _ : state) benchmark::DoNotOptimize(resolve(job));
}
BENCHMARK(resolveCage)->Arg(60)->Arg(300)->Unit(benchmark::kMicrosecond);

/// Rules, tubes.
void checkCage(benchmark::State& state) {
    const RuleTableRef tables[] = {read(tableOf(int(state.range(0))), state)};
    if (!tables[0]) return;
    const Job job = rowOfHoops(int(state.range(1)));
    const CageGeometry cage = resolve(job);
    for (auto _ : state) benchmark::DoNotOptimize(check(tables, job, cage));
    const CheckReport report = check(tables, job, cage);
    state.counters["findings"] = static_cast<double>(report.findings.size());
    state.counters["fails"] = report.count(Answer::fails);
    state.counters["cannot_tell"] = report.count(Answer::cannot_tell);
    state.counters["per_rule"] = benchmark::Counter(
        double(state.range(0)), benchmark::Counter::kIsIterationInvariantRate | benchmark::Counter::kInvert);
}
BENCHMARK(checkCage)->Args({150, 60})->Args({1000, 300})->Unit(benchmark::kMicrosecond);

void resolveAndCheck(benchmark::State& state) {
    const RuleTableRef tables[] = {read(tableOf(150), state)};
    const Job job = rowOfHoops(60);
    for (auto _ : state) {
        const CageGeometry cage = resolve(job);
        benchmark::DoNotOptimize(check(tables, job, cage));
    }
}
BENCHMARK(resolveAndCheck)->Unit(benchmark::kMicrosecond);

/// A hundred rules of one kind on 60 tubes: what one costs, the scene of the check shared as in a table.
void costOfOne(benchmark::State& state, const std::string& what) {
    std::string text = tableHead();
    for (int i = 0; i < 100; ++i) text += oneRule(i, what);
    const RuleTableRef tables[] = {read(text, state)};
    if (!tables[0]) return;
    const Job job = rowOfHoops(60);
    const CageGeometry cage = resolve(job);
    for (auto _ : state) benchmark::DoNotOptimize(check(tables, job, cage));
    state.counters["per_rule"] =
        benchmark::Counter(100, benchmark::Counter::kIsIterationInvariantRate | benchmark::Counter::kInvert);
}

const bool registered = [] {
    std::set<std::string> known;
    for (const std::string& check : checksOf(1000)) {
        const std::size_t from = check.find(": ") + 2;
        const std::string name = check.substr(from, check.find(',') - from);
        if (!known.insert(name).second) continue;
        benchmark::RegisterBenchmark(("costOfOne/" + name).c_str(), costOfOne, check)
            ->Unit(benchmark::kMicrosecond);
    }
    return true;
}();

}  // namespace
}  // namespace hoopwright
