#include "tests/rules/test_cage.h"

#include "core/base/text.h"

namespace hoopwright::test {
namespace {

Landing onHoop(Side side, double height) {
    Landing l;
    l.host = "main_hoop";
    l.by = Landing::By::height;
    l.value = height;
    l.side = side;
    return l;
}

Plate plate(const std::string& id, const Vec3& at, double length, double width) {
    Plate p;
    p.id = p.name = id;
    p.mirrored = true;
    p.at = FixedPoint{at};
    p.length_mm = length;
    p.width_mm = width;
    p.thickness_mm = 3;
    p.material = "plain";
    return p;
}

void addStock(Job& job) {
    Material plain{"plain", "Plain steel", "mild_steel", 355, 490, 22, 0.2, 7850, "a test"};
    Material moly{"moly", "Moly steel", "chrome_moly", 460, 670, 12, 0.3, 7850, "a test"};
    job.stock.materials = {plain, moly};
    const auto tube = [&](const std::string& id, double od, double wall, const std::string& material,
                          TubeForm form) {
        TubeStock t;
        t.id = id;
        t.section = {od, wall};
        t.material = material;
        t.form = form;
        job.stock.tubes.push_back(t);
    };
    tube("45x2.5", 45, 2.5, "plain", TubeForm::seamless);
    tube("38x2.5", 38, 2.5, "plain", TubeForm::drawn_over_mandrel);
    tube("moly", 38, 2.0, "moly", TubeForm::seamless);
    tube("seamed", 50, 2.0, "plain", TubeForm::welded);
    job.stock.tubes[0].least_wall_mm = 2.25;
    job.stock.tubes[0].measured_wall_mm = 2.46;
    job.dies.dies = {
        {"d45", 45, 135, 50, 30, M_PI}, {"d38", 38, 114, 50, 30, M_PI}, {"d50", 50, 150, 50, 30, M_PI}};
}

void addDriver(Job& job) {
    Driver d;
    d.id = "tall";
    d.name = "Tall driver";
    d.hip = {350, 300, 100};
    d.back_angle_rad = 20 * M_PI / 180;
    d.shoulder_left = {200, 480, 640};
    d.shoulder_right = {200, 120, 640};
    d.elbow_left = {350, 520, 400};
    d.elbow_right = {350, 80, 400};
    d.hand_left = {600, 450, 500};
    d.hand_right = {600, 150, 500};
    d.knee_left = {800, 400, 300};
    d.knee_right = {800, 200, 300};
    d.heel_left = {1100, 400, 50};
    d.heel_right = {1100, 200, 50};
    d.eye = {330, 300, 800};
    d.helmet = {{250, 300, 780}, 340, 260, 280};
    d.belts.bar = "belt_bar";
    d.belts.spacing_mm = 200;
    d.belts.lap_anchors = {{250, 500, 0}, {250, 100, 0}};
    job.drivers = {d};
}

}  // namespace

Member& memberOf(Job& job, const std::string& id) {
    for (Member& m : job.cage.members)
        if (m.id == id) return m;
    throw std::logic_error("no member " + id);
}

Member straight(const std::string& id, const std::string& role, const Vec3& from, const Vec3& to,
                const std::string& stock) {
    Member m;
    m.id = id;
    m.role = role;
    m.name = id;
    m.stock = stock;
    m.path = {{FixedPoint{from}, {}}, {FixedPoint{to}, {}}};
    return m;
}

Job smallJob() {
    Job job;
    addStock(job);
    addDriver(job);
    job.car.points = {{"nose", {1500, 0, 300}, 0, ""},
                      {"screen_top.left", {700, 600, 950}, 0, ""},
                      {"screen_top.right", {700, -600, 950}, 0, ""}};
    job.car.symmetric = true;
    job.car.lines = {{"roof_rail.left", CarLine::Kind::body, {{-500, 650, 1000}, {800, 650, 1000}}, false}};
    job.cage.plates = {plate("hoop_foot", {0, 600, 0}, 150, 100),
                       plate("side_foot", {1200, 600, 0}, 120, 100),
                       plate("brace_foot", {-950, 600, 0}, 100, 60)};
    Member hoop = straight("main_hoop", "main_hoop", {}, {});
    hoop.path = {{OnPlate{"hoop_foot.left"}, {}},
                 {FixedPoint{{0, 600, 1000}}, {}},
                 {FixedPoint{{0, -600, 1000}}, {}},
                 {OnPlate{"hoop_foot.right"}, {}}};
    Member side = straight("side_bar", "side_bar", {}, {});
    side.mirrored = true;
    side.path = {
        {onHoop(Side::left, 800), {}}, {FixedPoint{{800, 600, 800}}, {}}, {OnPlate{"side_foot"}, {}}};
    Member brace = straight("rear_brace", "rear_brace", {}, {}, "38x2.5");
    brace.mirrored = true;
    brace.path = {{onHoop(Side::left, 850), {}}, {OnPlate{"brace_foot"}, {}}};
    Member diagonal = straight("diagonal", "hoop_diagonal", {}, {});
    diagonal.path = {{onHoop(Side::left, 800), {}}, {onHoop(Side::right, 50), {}}};
    Member belt = straight("belt_bar", "belt_bar", {}, {});
    belt.path = {{onHoop(Side::left, 560), {}}, {onHoop(Side::right, 560), {}}};
    Member screen = straight("windshield_bar", "windshield_bar", {600, 600, 800}, {600, -600, 800});
    Landing on_left;
    on_left.host = "side_bar.left";
    on_left.by = Landing::By::station_x;
    on_left.value = 600;
    Landing on_right = on_left;
    on_right.host = "side_bar.right";
    screen.path = {{on_left, {}}, {on_right, {}}};
    job.cage.members = {hoop, side, brace, diagonal, belt, screen};
    return job;
}

std::string tableText(const std::string& rules, const std::string& sections) {
    return "hoopwright: rules\nversion: 1\nid: test\ntitle: A test\nedition: '1'\nwritten_by: A "
           "test\npublished: no\n"
           "units: mm\nadvice: None.\n" +
           sections + "\nrules:\n" + rules;
}

std::string ruleText(const std::string& says, const std::string& id) {
    std::string out = "  - id: " + id + "\n    title: T\n    sentence: S.\n";
    std::size_t from = 0;
    while (from < says.size()) {
        const std::size_t to = std::min(says.find('\n', from), says.size());
        out += "    " + says.substr(from, to - from) + "\n";
        from = to + 1;
    }
    return out;
}

std::string problemsOf(const std::string& text) {
    std::string out;
    for (const Problem& problem : readRuleTableText(text, "t.yaml").problems) out += problem.text() + "\n";
    return out;
}

RuleTableRef mustRead(const std::string& text) {
    RuleTableResult read = readRuleTableText(text, "t.yaml");
    if (!read.table) throw std::runtime_error(problemsOf(text) + text);
    return read.table;
}

CheckReport checkWith(const Job& job, const std::string& table) {
    const RuleTableRef tables[] = {mustRead(table)};
    return check(tables, job, resolve(job));
}

std::vector<Finding> findings(const Job& job, const std::string& says, const std::string& sections) {
    return checkWith(job, tableText(ruleText(says), sections)).findings;
}

Finding finding(const Job& job, const std::string& says, const std::string& sections) {
    const std::vector<Finding> all = findings(job, says, sections);
    EXPECT_EQ(all.size(), 1u) << says;
    return all.empty() ? Finding{} : all.front();
}

void expectValue(const Job& job, const std::string& says, double value, double step, const std::string& unit,
                 const std::string& sections) {
    const auto answer = [&](const std::string& comparison, double limit) {
        const std::string line = comparison + ": " + shortest(limit) + (unit.empty() ? "" : " " + unit);
        Answer worst = Answer::does_not_apply;
        for (const Finding& f : findings(job, says + "\n" + line, sections))
            worst = std::min(worst, f.answer);
        return worst;
    };
    const auto expect = [&](const std::string& comparison, double limit, Answer wanted) {
        EXPECT_EQ(answer(comparison, limit), wanted) << says << "\n"
                                                     << comparison << " " << limit << " " << unit;
    };
    expect("at_least", value, Answer::meets);
    expect("at_least", value - step, Answer::meets);
    expect("at_least", value + step, Answer::fails);
    expect("more_than", value, Answer::fails);
    expect("more_than", value - step, Answer::meets);
    expect("at_most", value, Answer::meets);
    expect("at_most", value - step, Answer::fails);
    expect("less_than", value, Answer::fails);
    expect("less_than", value + step, Answer::meets);
    expect("exactly", value, Answer::meets);
    expect("exactly", value + step, Answer::fails);
}

}  // namespace hoopwright::test
