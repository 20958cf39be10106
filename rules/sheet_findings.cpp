#include "rules/sheet_findings.h"

#include <algorithm>

#include "rules/check_rule.h"
#include "rules/quantity.h"

namespace hoopwright {
namespace {

bool isOfSheet(SubjectKind kind) {
    return kind == SubjectKind::plate || kind == SubjectKind::gusset;
}

/// A check that judges plates or gussets one by one.
bool judgesSheet(const Rule& rule) {
    if (!rule.check || !rule.check->how_many.all || rule.check->reading.quantity < 0) return false;
    return isOfSheet(allQuantities()[static_cast<std::size_t>(rule.check->reading.quantity)].kind);
}

/// `like`: what the rule says of the cage, for all that is the same.
Finding ofThing(const TableRun& run, const Finding& like, const JudgedThing& thing,
                const std::string& limit) {
    Finding out = like;
    out.answer = thing.judged.answer;
    out.subject = run.id(thing.what);
    out.subject_name = run.name(thing.what);
    out.things = 1;
    out.value = thing.judged.value;
    out.limit = thing.judged.limit;
    out.margin = thing.judged.margin;
    out.found = out.value ? std::string() : thing.judged.found;
    out.limit_text = limit;
    out.missing = out.answer == Answer::cannot_tell ? thing.judged.found : std::string();
    out.way_out.clear();
    out.beware.clear();
    out.evidence = {};
    return out;
}

}  // namespace

std::vector<Finding> sheetFindings(std::span<const RuleTableRef> tables, const Job& job,
                                   const CageGeometry& cage) {
    std::vector<Finding> out;
    const CheckScene scene(job, cage);
    const auto is_sheet = [&](const std::string& id) {
        return !id.empty() &&
               (cage.plate(id) >= 0 ||
                std::ranges::find(cage.gussets, id, &ResolvedGusset::id) != cage.gussets.end());
    };
    for (const RuleTableRef& table : tables) {
        if (!table) continue;
        const TableRun run(*table, scene);
        for (const Rule& rule : table->rules) {
            const bool judges = judgesSheet(rule), asks = !rule.ask.empty() && isOfSheet(rule.ask_each);
            if (!judges && !asks) continue;
            std::vector<Finding> found;
            RuleRun(run, rule, found).answer();
            std::erase_if(found, [](const Finding& f) { return f.answer == Answer::does_not_apply; });
            if (found.empty()) continue;
            if (judges) {
                const CheckAnswer all = answerCheck(run, *rule.check, std::nullopt);
                for (const JudgedThing& thing : all.things)
                    if (thing.judged.answer != Answer::does_not_apply)
                        out.push_back(ofThing(run, found.front(), thing, all.limit_text));
                continue;
            }
            for (Finding& finding : found) {
                if (!is_sheet(finding.subject)) continue;
                finding.evidence = {};
                out.push_back(std::move(finding));
            }
        }
    }
    return out;
}

}  // namespace hoopwright
