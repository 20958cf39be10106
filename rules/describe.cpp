// Findings in words, and what shows them.
#include <algorithm>

#include "rules/check_rule.h"
#include "rules/quantity.h"
#include "rules/quantity_of.h"
#include "rules/wall_beware.h"

namespace hoopwright {
namespace {

/// Of a tube table: the part of the alternative that decided.
const Reading* decidingPart(const TableRun& run, const Reading& reading, const Judged& judged) {
    if (reading.against.by != Comparison::By::tube_table || judged.alternative < 0) return nullptr;
    const TubeRow& row = run.table()
                             .tubes[static_cast<std::size_t>(reading.against.tube_table)]
                             .rows[static_cast<std::size_t>(judged.row)];
    const TubeAlternative& alternative = row.any_of[static_cast<std::size_t>(judged.alternative)];
    return alternative.all.empty() ? nullptr : &alternative.all[static_cast<std::size_t>(judged.reading)];
}

/// "od at least 45 mm, wall at least 2.5 mm; or od at least 50 mm, wall at least 2 mm"
std::string rowText(const TubeRow& row) {
    std::string out;
    for (const TubeAlternative& alternative : row.any_of)
        out += (out.empty() ? "" : "; or ") + alternative.text;
    return out;
}

Vec3 placeOf(const TableRun& run, const Subject& what) {
    const CageGeometry& cage = run.scene().cage();
    switch (what.kind) {
        case SubjectKind::member:
        case SubjectKind::pair: {
            const Centreline& line = run.scene().member(what.first).line;
            return line.empty() ? Vec3(Vec3::Zero()) : line.point(line.length_mm() / 2);
        }
        case SubjectKind::joint:
            return run.scene().joint(what).at;
        case SubjectKind::plate:
            return run.scene().plate(what).at;
        case SubjectKind::gusset:
            return cage.gussets[static_cast<std::size_t>(what.first)].corners[0];
        case SubjectKind::driver:
            return run.scene().driver(what).helmet.centre;
        case SubjectKind::cage:
            break;
    }
    return Vec3::Zero();
}

void addOnce(std::vector<std::string>& list, const std::string& item) {
    if (std::find(list.begin(), list.end(), item) == list.end()) list.push_back(item);
}

/// The thing itself lights up.
void light(Evidence& evidence, const TableRun& run, const Subject& what) {
    const auto member = [&](int i) { addOnce(evidence.members, run.scene().member(i).id); };
    switch (what.kind) {
        case SubjectKind::member:
            member(what.first);
            break;
        case SubjectKind::pair:
            member(what.first);
            member(what.second);
            break;
        case SubjectKind::joint:
            member(run.scene().joint(what).branch);
            member(run.scene().joint(what).host);
            break;
        case SubjectKind::plate:
            addOnce(evidence.plates, run.scene().plate(what).id);
            break;
        case SubjectKind::gusset:
            member(run.scene().cage().gussets[static_cast<std::size_t>(what.first)].member_a);
            member(run.scene().cage().gussets[static_cast<std::size_t>(what.first)].member_b);
            break;
        case SubjectKind::driver:
            evidence.driver = run.scene().driver(what).id;
            break;
        case SubjectKind::cage:
            break;
    }
}

}  // namespace

Finding RuleRun::blank() const {
    Finding out;
    out.table = run_.table().info.id;
    out.rule = rule_.id;
    out.clause = rule_.clause;
    out.edition = run_.table().info.edition;
    out.title = rule_.title;
    out.sentence = rule_.sentence;
    out.severity = rule_.severity;
    out.known = rule_.known;
    out.confirmed = rule_.known == Known::read;
    if (out.confirmed) return out;
    for (const RuleTick& tick : run_.scene().job().cage.ticks) {
        // A tick is a word about one edition: the next one may say otherwise.
        if (tick.table != out.table || tick.rule != out.rule || tick.edition != out.edition) continue;
        out.confirmed = true;
        out.ticked = PersonsWord{tick.who, tick.when, {}, {}};
    }
    return out;
}

void RuleRun::addPlain(Answer answer, const std::string& missing) {
    Finding finding = blank();
    finding.answer = answer;
    finding.missing = missing;
    out_.push_back(std::move(finding));
}

Finding RuleRun::describe(const Check& check, const CheckAnswer& found, std::optional<Side> side) const {
    Finding out = blank();
    out.answer = found.answer;
    out.limit_text = found.limit_text;
    out.missing = found.missing;
    out.things = std::max(1, static_cast<int>(found.things.size()));
    out.dimension = quantityOf(check.reading).info.dimension;
    out.unit = check.reading.against.unit;
    if (side) {
        const Subject whole{SubjectKind::cage, -1, -1, *side};
        out.subject = run_.id(whole);
        out.subject_name = run_.name(whole);
    }
    if (quantityOf(check.reading).counts) {
        out.value = found.whole.value;
        out.limit = found.whole.limit;
        out.margin = found.whole.margin;
        showAll(out, found);
        if (out.answer == Answer::fails) out.way_out = wayOutOfCount(check, found);
    } else if (found.chosen >= 0) {
        describeThing(out, check, found.things[static_cast<std::size_t>(found.chosen)]);
    } else if (out.answer == Answer::fails) {
        out.found = out.missing;
    }
    if (out.answer == Answer::fails && !rule_.way_out.empty())
        out.way_out += (out.way_out.empty() ? "" : " ") + rule_.way_out;
    return out;
}

void RuleRun::describeThing(Finding& finding, const Check& check, const JudgedThing& thing) const {
    const Judged& judged = thing.judged;
    finding.subject = run_.id(thing.what);
    finding.subject_name = run_.name(thing.what);
    finding.value = judged.value;
    finding.limit = judged.limit;
    finding.margin = judged.margin;
    if (judged.answer != Answer::cannot_tell) finding.found = judged.found;
    if (check.reading.against.by == Comparison::By::tube_table && thing.what.first >= 0) {
        if (const TubeStock* stock = run_.scene().facts(thing.what.first).stock;
            stock && finding.found.empty())
            finding.found = stock->id;
        if (const Reading* part = decidingPart(run_, check.reading, judged)) {
            finding.dimension = quantityOf(*part).info.dimension;
            finding.unit = part->against.unit;
            const TubeTable& table =
                run_.table().tubes[static_cast<std::size_t>(check.reading.against.tube_table)];
            finding.limit_text = rowText(table.rows[static_cast<std::size_t>(judged.row)]);
        }
    }
    finding.beware = wallBeware(run_, check.reading, thing);
    show(finding, check.reading, thing.what);
    if (finding.answer == Answer::fails && check.how_many.all)
        finding.way_out = wayOut(run_, check.reading, thing);
}

void RuleRun::show(Finding& finding, const Reading& reading, const Subject& what) const {
    Evidence& evidence = finding.evidence;
    light(evidence, run_, what);
    evidence.look_at = placeOf(run_, what);
    if (reading.quantity < 0) return;
    Measured measured = run_.measure(reading, what, true);
    if (!measured.shown) return;
    evidence.shapes = std::move(measured.shown->shapes);
    evidence.look_at = measured.shown->look_at;
    for (int i : measured.shown->members) addOnce(evidence.members, run_.scene().member(i).id);
}

/// Everything that was counted.
void RuleRun::showAll(Finding& finding, const CheckAnswer& found) const {
    Vec3 sum = Vec3::Zero();
    for (const JudgedThing& thing : found.things) {
        light(finding.evidence, run_, thing.what);
        finding.evidence.shapes.push_back(ShownPoint{placeOf(run_, thing.what)});
        sum += placeOf(run_, thing.what);
    }
    if (!found.things.empty()) finding.evidence.look_at = sum / static_cast<double>(found.things.size());
}

}  // namespace hoopwright
