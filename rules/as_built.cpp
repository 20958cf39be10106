#include "rules/as_built.h"

#include <algorithm>
#include <array>
#include <cmath>
#include <set>

#include "rules/check_rule.h"
#include "rules/judge.h"
#include "rules/judged_section.h"
#include "rules/measuring.h"
#include "rules/quantity_of.h"

namespace hoopwright {
namespace {

/// A reading of the built cage is all there is of these.
constexpr std::array<std::string_view, 7> kOnlyRead = {
    "measured_wall",  "gauged_bent_wall", "bend_roundness", "inspection_hole",
    "hole_from_weld", "weld_share",       "contact_area"};
/// These are of the tube as bought or of the layout; no tape tells them.
constexpr std::array<std::string_view, 6> kNotTaped = {"wall",         "least_wall", "area",
                                                       "backing_area", "bolt_area",  "length_before_bending"};

template <std::size_t N>
bool among(const std::array<std::string_view, N>& names, std::string_view name) {
    return std::ranges::find(names, name) != names.end();
}

std::string placeName(const TableRun& run, int place) {
    return run.table().places[static_cast<std::size_t>(place)].name;
}
std::string selectorWords(const TableRun& run, int selector) {
    return run.table().selectors[static_cast<std::size_t>(selector)].words;
}

constexpr const char* kEndWords[] = {"nearest end", "farthest end", "upper end",
                                     "lower end",   "front end",    "rear end"};
constexpr const char* kTubePartWords[] = {"", "straights", "upper part", "lower part"};
constexpr const char* kSpanWords[] = {"", "straight spans", "bent spans"};
constexpr const char* kTowardsWords[] = {"", "to the sides", "up", "to the sides and up"};
constexpr const char* kDirectionWords[] = {"up", "back", "ahead", "left", "right"};

/// Every reading a check judges by.
void readingsOf(const RuleTable& table, const Check& check, std::vector<const Reading*>& out) {
    if (check.reading.against.by != Comparison::By::tube_table) {
        out.push_back(&check.reading);
        return;
    }
    for (const TubeRow& row : table.tubes[static_cast<std::size_t>(check.reading.against.tube_table)].rows)
        for (const TubeAlternative& one : row.any_of)
            for (const Reading& part : one.all) out.push_back(&part);
}
std::vector<const Check*> checksOf(const Rule& rule) {
    std::vector<const Check*> out;
    if (rule.check) out.push_back(&*rule.check);
    for (const Rule::Alternative& one : rule.either)
        for (const Check& check : one.all) out.push_back(&check);
    return out;
}

/// The wall that decides was gauged, or the reading is of that bar alone.
bool restsOnGauge(const TableRun& run, const Reading& reading, std::string_view subject) {
    const std::string& name = quantityOf(reading).info.name;
    const bool gauged_wall =
        reading.with.judged_wall == WallKind::measured || reading.with.judged_wall == WallKind::bent;
    const bool wall = name == "measured_wall" || gauged_wall;
    if (!wall && !among(kOnlyRead, name)) return false;
    const std::string_view wanted = wall ? "measured_wall" : std::string_view(name);
    for (const BuiltReading& one : run.scene().job().cage.readings)
        if (one.of == subject && one.quantity == wanted) return true;
    const int member = run.scene().cage().member(subject);
    return wall && member >= 0 && run.scene().facts(member).stock &&
           run.scene().facts(member).stock->measured_wall_mm.has_value();
}

/// A kept reading of that thing, taken as the rule takes it.
bool serves(const TableRun& run, const Reading& reading, const BuiltReading& kept, std::string_view subject) {
    if (kept.of != subject || kept.quantity != quantityOf(reading).info.name) return false;
    const std::string how = howMeasured(run, reading);
    return how.empty() || how == kept.spot;
}

bool anyServes(const TableRun& run, const Reading& reading, std::string_view subject) {
    if (among(kOnlyRead, quantityOf(reading).info.name)) return false;
    return std::ranges::any_of(run.scene().job().cage.readings,
                               [&](const BuiltReading& kept) { return serves(run, reading, kept, subject); });
}

bool canBeTaped(const Quantity& quantity) {
    if (quantity.value != ValueKind::number || quantity.counts || !quantity.measure) return false;
    const Dimension d = quantity.info.dimension;
    if (d != Dimension::length && d != Dimension::angle && d != Dimension::area) return false;
    return !among(kNotTaped, quantity.info.name) && quantity.kind != SubjectKind::pair &&
           quantity.kind != SubjectKind::joint;
}

class ListMaker {
public:
    ListMaker(const Job& job, const CageGeometry& cage, bool read_only)
        : job_(job), cage_(cage), read_only_(read_only), scene_(job, cage) {}

    std::vector<AsBuilt> make(std::span<const RuleTableRef> tables) {
        for (const RuleTableRef& table : tables) {
            if (!table) continue;
            const TableRun run(*table, scene_);
            for (const Rule& rule : table->rules) ofRule(run, rule);
        }
        const RuleTable none;
        const TableRun run(none, scene_);
        for (int m = 0; m < scene_.memberCount(); ++m)
            for (const char* name : {"od", "measured_wall"}) ofBar(run, m, name);
        rest(run);
        for (AsBuilt& one : out_) settle(one);
        if (read_only_) std::erase_if(out_, [](const AsBuilt& one) { return one.readings.empty(); });
        return std::move(out_);
    }

private:
    void ofRule(const TableRun& run, const Rule& rule) {
        if (ruleApplies(run, rule).answer == Answer::does_not_apply) return;
        for (const Check* check : checksOf(rule)) {
            const Quantity& quantity = quantityOf(check->reading);
            if (check->reading.against.by == Comparison::By::tube_table || !canBeTaped(quantity)) continue;
            const std::vector<Subject> things = run.subjects(quantity.kind, check->of);
            for (const Subject& what : things) {
                AsBuilt* one = entry(run, check->reading, what);
                if (!one) continue;
                if (std::ranges::find(one->rules, rule.title) == one->rules.end()) {
                    one->rules.push_back(rule.title);
                    one->limits.push_back(check->reading.against.text);
                }
                // Of alternatives, and where some are enough, one thing alone decides nothing.
                if (rule.check && check->how_many.all && anyServes(run, check->reading, one->of))
                    judgeMeasured(*one, judge(run, check->reading, what));
            }
        }
    }

    static void judgeMeasured(AsBuilt& one, const Judged& judged) {
        if (judged.answer != Answer::meets && judged.answer != Answer::fails) return;
        const bool worse = !one.answer || (judged.answer == Answer::fails && *one.answer == Answer::meets);
        const bool nearer = judged.answer == one.answer &&
                            judged.margin.value_or(one.margin.value_or(0)) < one.margin.value_or(0);
        if (!worse && !nearer) return;
        one.answer = judged.answer;
        one.margin = judged.margin;
    }

    AsBuilt* entry(const TableRun& run, const Reading& reading, const Subject& what) {
        const Quantity& quantity = quantityOf(reading);
        const std::string of = run.id(what), how = howMeasured(run, reading);
        for (AsBuilt& one : out_)
            if (one.of == of && one.quantity == quantity.info.name && one.how == how) return &one;
        const bool only_read = among(kOnlyRead, quantity.info.name);
        const Measured plan = quantity.measure(run, what, reading.with, false);
        if (plan.is != Measured::Is::number && !(only_read && plan.is == Measured::Is::unknown))
            return nullptr;
        AsBuilt one;
        one.of = of;
        one.of_name = run.name(what).empty() ? "Whole cage" : run.name(what);
        one.quantity = quantity.info.name;
        one.meaning = quantity.info.meaning;
        one.how = how;
        one.dimension = quantity.info.dimension;
        if (plan.is == Measured::Is::number && !only_read) one.planned = plan.low, one.planned_to = plan.high;
        out_.push_back(std::move(one));
        return &out_.back();
    }

    void ofBar(const TableRun& run, int member, const char* name) {
        const ResolvedMember& m = cage_.members[static_cast<std::size_t>(member)];
        Reading reading;
        reading.quantity = quantityIndex(name);
        if (reading.quantity < 0 || !m.section.valid()) return;
        AsBuilt* one = entry(run, reading, {SubjectKind::member, member, -1, m.side});
        if (one && std::string_view(name) == "measured_wall")
            one->planned = one->planned_to = m.section.wall_mm;
    }

    /// Readings that stand in no list yet.
    void rest(const TableRun& run) {
        for (std::size_t r = 0; r < job_.cage.readings.size(); ++r) {
            const BuiltReading& kept = job_.cage.readings[r];
            if (std::ranges::any_of(out_, [&](const AsBuilt& one) { return takes(one, kept); })) continue;
            AsBuilt one;
            one.of = kept.of;
            one.quantity = kept.quantity;
            one.how = kept.spot;
            one.dimension = kept.dimension;
            Reading reading;
            reading.quantity = quantityIndex(kept.quantity);
            if (reading.quantity >= 0) {
                const Quantity& quantity = quantityOf(reading);
                one.meaning = quantity.info.meaning;
                for (const Subject& what : allOf(run, quantity.kind)) {
                    if (run.id(what) != kept.of) continue;
                    one.of_name = run.name(what);
                    if (!quantity.measure || quantity.needs != 0 || among(kOnlyRead, kept.quantity)) continue;
                    const Measured plan = quantity.measure(run, what, reading.with, false);
                    if (plan.is == Measured::Is::number) one.planned = plan.low, one.planned_to = plan.high;
                }
            }
            if (one.of_name.empty()) one.of_name = kept.of;
            out_.push_back(std::move(one));
        }
    }

    static std::vector<Subject> allOf(const TableRun& run, SubjectKind kind) {
        return kind == SubjectKind::pair ? std::vector<Subject>() : run.subjects(kind, -1);
    }

    static bool takes(const AsBuilt& one, const BuiltReading& kept) {
        return one.of == kept.of && one.quantity == kept.quantity &&
               (one.how.empty() || one.how == kept.spot);
    }

    void settle(AsBuilt& one) const {
        for (std::size_t r = 0; r < job_.cage.readings.size(); ++r) {
            const BuiltReading& kept = job_.cage.readings[r];
            if (!takes(one, kept) || kept.dimension != one.dimension) continue;
            one.readings.push_back(static_cast<int>(r));
            one.low = std::min(one.low.value_or(kept.value), kept.value);
            one.high = std::max(one.high.value_or(kept.value), kept.value);
        }
        if (!one.low || !one.planned) return;
        const double under = *one.low - *one.planned, over = *one.high - one.planned_to;
        one.drift = std::abs(under) >= std::abs(over) ? under : over;
    }

    const Job& job_;
    const CageGeometry& cage_;
    bool read_only_;
    CheckScene scene_;
    std::vector<AsBuilt> out_;
};

void raise(std::optional<WallAsked>& kept, const TableRun& run, const Rule& rule, const Reading& reading) {
    const double low = reading.against.low;
    if (!std::isfinite(low) || (kept && kept->wall_mm >= low)) return;
    const WallKind kind =
        quantityOf(reading).info.name == "measured_wall" ? WallKind::measured : reading.with.judged_wall;
    kept = WallAsked{low, run.table().info.id, rule.id, rule.clause, wallWords(kind)};
}

bool ofWall(const Reading& reading) {
    const std::string& name = quantityOf(reading).info.name;
    return (name == "wall" || name == "measured_wall" || name == "least_wall") &&
           reading.against.by == Comparison::By::stretch;
}

RestsOn restsOnOne(const TableRun& run, const Finding& finding) {
    if (finding.answered) return RestsOn::person;
    if (finding.answer != Answer::meets && finding.answer != Answer::fails) return RestsOn::nothing;
    const std::vector<Rule>& rules = run.table().rules;
    const auto rule = std::ranges::find(rules, finding.rule, &Rule::id);
    if (rule == rules.end()) return RestsOn::plan;
    std::vector<const Reading*> readings;
    for (const Check* check : checksOf(*rule)) readingsOf(run.table(), *check, readings);
    const bool measured = std::ranges::any_of(readings, [&](const Reading* one) {
        return anyServes(run, *one, finding.subject) || restsOnGauge(run, *one, finding.subject);
    });
    return measured ? RestsOn::measured : RestsOn::plan;
}

}  // namespace

std::string howMeasured(const TableRun& run, const Reading& reading) {
    const Quantity& quantity = quantityOf(reading);
    const Arguments& with = reading.with;
    const ArgSet used = quantity.needs | quantity.may;
    std::string out;
    const auto add = [&](const std::string& words) {
        if (!words.empty()) out += (out.empty() ? "" : ", ") + words;
    };
    if (with.view != SeenFrom::in_space)
        add(with.view == SeenFrom::side    ? "side view"
            : with.view == SeenFrom::front ? "front view"
                                           : "plan view");
    if (with.above >= 0) add("above " + placeName(run, with.above));
    if (with.below >= 0) add("below " + placeName(run, with.below));
    if (with.place >= 0) add("to " + placeName(run, with.place));
    const bool selectors = has(used, Arg::from_members) || has(used, Arg::to_members);
    if (with.from >= 0)
        add("from " + (selectors ? selectorWords(run, with.from) : placeName(run, with.from)));
    if (with.to >= 0) add("to " + (selectors ? selectorWords(run, with.to) : placeName(run, with.to)));
    if (with.members >= 0) add("with " + selectorWords(run, with.members));
    if (has(used, Arg::end) && with.end != EndChoice::nearest) add(kEndWords[static_cast<int>(with.end)]);
    add(kTubePartWords[static_cast<int>(with.tube_part)]);
    add(kSpanWords[static_cast<int>(with.spans)]);
    add(kTowardsWords[static_cast<int>(with.towards)]);
    if (has(used, Arg::direction)) add(kDirectionWords[static_cast<int>(with.direction)]);
    if (with.judged_wall != WallKind::nominal) add(wallWords(with.judged_wall));
    if (with.along_host) add("along its host");
    if (with.padded) add("padded");
    if (with.height_mm != 0) add("at height " + showLength(with.height_mm, {}));
    if (with.within_mm != 0) add("within " + showLength(with.within_mm, {}));
    if (with.away_from_nodes_mm >= 0) add("over " + showLength(with.away_from_nodes_mm, {}) + " from nodes");
    if (with.surfaces != 0)
        for (const SurfaceKind kind :
             {SurfaceKind::shell, SurfaceKind::glass, SurfaceKind::floor, SurfaceKind::scan})
            if (with.surfaces & bitOf(kind)) add(std::string(surfaceKindWord(kind)));
    for (const BodyPart part : with.parts) add(std::string(partWord(part)));
    add(with.line);
    return out;
}

std::optional<Measured> asBuilt(const TableRun& run, const Reading& reading, const Subject& what) {
    const std::vector<BuiltReading>& all = run.scene().job().cage.readings;
    const QuantityInfo& info = quantityOf(reading).info;
    std::optional<Measured> out;
    std::optional<std::string> id;
    for (const BuiltReading& kept : all) {
        if (kept.quantity != info.name || kept.dimension != info.dimension || among(kOnlyRead, info.name))
            continue;
        if (!id) id = run.id(what);
        if (!serves(run, reading, kept, *id)) continue;
        if (!out) out = Measured::number(kept.value);
        out->low = std::min(out->low, kept.value);
        out->high = std::max(out->high, kept.value);
    }
    return out;
}

std::string_view restsOnKey(RestsOn what) {
    switch (what) {
        case RestsOn::plan:
            return "plan";
        case RestsOn::measured:
            return "measured";
        case RestsOn::person:
            return "person";
        case RestsOn::nothing:
            break;
    }
    return "nothing";
}
std::string_view restsOnWords(RestsOn what) {
    switch (what) {
        case RestsOn::plan:
            return "the plan";
        case RestsOn::measured:
            return "measurement";
        case RestsOn::person:
            return "a person's word";
        case RestsOn::nothing:
            break;
    }
    return "";
}

std::vector<RestsOn> restsOn(std::span<const RuleTableRef> tables, const Job& job, const CageGeometry& cage,
                             const CheckReport& report) {
    std::vector<RestsOn> out(report.findings.size(), RestsOn::plan);
    const CheckScene scene(job, cage);
    for (const RuleTableRef& table : tables) {
        if (!table) continue;
        const TableRun run(*table, scene);
        for (std::size_t f = 0; f < report.findings.size(); ++f)
            if (report.findings[f].table == table->info.id) out[f] = restsOnOne(run, report.findings[f]);
    }
    return out;
}

RestsOn restsOn(std::span<const RuleTableRef> tables, const Job& job, const CageGeometry& cage,
                const Finding& finding) {
    const CheckScene scene(job, cage);
    for (const RuleTableRef& table : tables)
        if (table && table->info.id == finding.table) return restsOnOne(TableRun(*table, scene), finding);
    return RestsOn::plan;
}

std::vector<AsBuilt> asBuiltList(std::span<const RuleTableRef> tables, const Job& job,
                                 const CageGeometry& cage, bool read_only) {
    return ListMaker(job, cage, read_only).make(tables);
}

std::vector<std::optional<WallAsked>> wallsAsked(std::span<const RuleTableRef> tables, const Job& job,
                                                 const CageGeometry& cage) {
    std::vector<std::optional<WallAsked>> out(cage.members.size());
    const CheckScene scene(job, cage);
    for (const RuleTableRef& table : tables) {
        if (!table) continue;
        const TableRun run(*table, scene);
        for (const Rule& rule : table->rules) {
            if (rule.severity != Severity::required || ruleApplies(run, rule).answer != Answer::meets)
                continue;
            for (const Check* check : checksOf(rule)) {
                if (quantityOf(check->reading).kind != SubjectKind::member) continue;
                const bool list = check->reading.against.by == Comparison::By::tube_table;
                if (!list && !ofWall(check->reading)) continue;
                const std::vector<Subject> bars = run.subjects(SubjectKind::member, check->of);
                for (const Subject& bar : bars) {
                    auto& kept = out[static_cast<std::size_t>(bar.first)];
                    if (!list) {
                        raise(kept, run, rule, check->reading);
                        continue;
                    }
                    const Judged judged = judgeTube(run, check->reading.against.tube_table, bar);
                    if (judged.row < 0) continue;
                    const TubeTable& tubes =
                        table->tubes[static_cast<std::size_t>(check->reading.against.tube_table)];
                    for (const Reading& part : tubes.rows[static_cast<std::size_t>(judged.row)]
                                                   .any_of[static_cast<std::size_t>(judged.alternative)]
                                                   .all)
                        if (ofWall(part)) raise(kept, run, rule, part);
                }
            }
        }
    }
    return out;
}

}  // namespace hoopwright
