#include "rules/mend.h"

#include <algorithm>

#include "core/edit/cage_edits.h"
#include "core/model/resolve.h"
#include "rules/about_tube.h"
#include "rules/mend_trial.h"
#include "rules/quantity.h"

namespace hoopwright {
namespace {

bool isRequired(const Finding& finding) {
    return finding.severity == Severity::required;
}

Failing silent(const CheckReport& report) {
    Failing out;
    for (const Finding& f : report.findings)
        if (isRequired(f) && f.answer == Answer::cannot_tell) out.insert(keyOf(f));
    return out;
}

double massOf(const CageGeometry& cage) {
    return cage.totals.tube_mass_kg + cage.totals.plate_mass_kg;
}

/// By the metre; nothing: a price is not stated.
std::optional<double> tubePrice(const Job& job, const CageGeometry& cage, const CageLayout& other) {
    double sum = 0;
    for (const ResolvedMember& member : cage.members) {
        // What stays as it is costs the same, stated or not.
        const Member& own = job.cage.members[static_cast<std::size_t>(member.layout)];
        const Member* was = other.member(own.id);
        if (was && *was == own) continue;
        if (member.stock < 0) return std::nullopt;
        const std::optional<double> metre =
            pricePerMetre(job.stock.tubes[static_cast<std::size_t>(member.stock)]);
        if (!metre) return std::nullopt;
        sum += *metre * member.line.length_mm() / 1000;
    }
    return sum;
}

}  // namespace

std::string_view mendKey(Mend::Kind kind) {
    switch (kind) {
        case Mend::Kind::tube:
            return "tube";
        case Mend::Kind::move:
            return "move";
        case Mend::Kind::new_bar:
            return "new_bar";
        case Mend::Kind::plate:
            return "plate";
        case Mend::Kind::gusset:
            return "gusset";
        case Mend::Kind::padding:
            return "padding";
    }
    return "";
}

MendTrial::MendTrial(std::vector<RuleTableRef> tables, Job job, std::shared_ptr<const std::atomic<bool>> stop)
    : tables_(std::move(tables)),
      job_(std::move(job)),
      next_(job_),
      now_(resolve(job_)),
      stop_(std::move(stop)) {
    std::erase(tables_, nullptr);
    report_ = check(tables_, job_, now_);
    failing_ = failing(report_);
    silent_ = silent(report_);
    troubles_ = troublesOf(now_);
    about_tube_ = rulesAboutTube(tables_);
}

Outcome MendTrial::tryOut(const CageLayout& cage, const RuleKey& asked) {
    Outcome out;
    if (stopped()) return out;
    next_.cage = cage;
    out.cage = resolve(next_);
    out.report = check(tables_, next_, out.cage);
    std::string worse;
    Failing fails;
    bool heard = false;  // the rule still has something to say
    for (const Finding& f : out.report.findings) {
        const RuleKey key = keyOf(f);
        heard |= f.table == std::get<0>(asked) && f.rule == std::get<1>(asked);
        const bool falls_short = f.answer == Answer::fails || f.answer == Answer::cannot_tell;
        if (key == asked && falls_short) return out;
        if (!isRequired(f) || !falls_short) continue;
        if (f.answer == Answer::fails) fails.insert(key);
        if (!worse.empty()) continue;
        if (failsAnew(f, failing_)) worse = "then fails: " + f.title;
        if (f.answer == Answer::cannot_tell && !silent_.contains(key) && !failing_.contains(key))
            worse = "then it can't be told: " + f.title;
    }
    if (!heard) return out;
    if (const GeometryProblem* problem = newTrouble(out.cage, troubles_)) worse = problem->text;
    if (!worse.empty()) {
        against_ = worse;
        return out;
    }
    out.good = true;
    for (const RuleKey& key : failing_)
        if (!fails.contains(key)) out.meets.push_back(key);
    return out;
}

std::optional<Mend> MendTrial::offer(const CageLayout& cage, const RuleKey& asked) {
    Outcome outcome = tryOut(cage, asked);
    if (!outcome.good) return std::nullopt;
    Mend mend;
    mend.cage = cage;
    mend.meets = std::move(outcome.meets);
    mend.adds_kg = massOf(outcome.cage) - massOf(now_);
    const std::optional<double> after = tubePrice(next_, outcome.cage, job_.cage),
                                before = tubePrice(job_, now_, cage);
    if (after && before) mend.adds_price = *after - *before;
    return mend;
}

const RuleTable* MendTrial::table(const Finding& finding) const {
    for (const RuleTableRef& one : tables_)
        if (one->info.id == finding.table) return one.get();
    return nullptr;
}

const Rule* MendTrial::rule(const Finding& finding) const {
    const RuleTable* in = table(finding);
    if (!in) return nullptr;
    const auto found = std::ranges::find(in->rules, finding.rule, &Rule::id);
    return found == in->rules.end() ? nullptr : &*found;
}

std::optional<double> pricePerMetre(const TubeStock& tube) {
    std::optional<double> least;
    for (const StickLength& stick : tube.sticks) {
        if (!(stick.price > 0) || !(stick.length_mm > 0)) continue;
        const double metre = stick.price / stick.length_mm * 1000;
        if (!least || metre < *least) least = metre;
    }
    return least;
}

namespace {

void addOnce(std::vector<std::string>& list, std::string item) {
    if (std::ranges::find(list, item) == list.end()) list.push_back(std::move(item));
}

}  // namespace

std::vector<std::string> barsOf(const MendTrial& trial, const Finding& finding) {
    if (trial.now().member(finding.subject) >= 0) return {layoutId(finding.subject)};
    std::vector<std::string> out;
    for (const std::string& id : finding.evidence.members) addOnce(out, layoutId(id));
    return out;
}

std::vector<std::string> platesOf(const MendTrial& trial, const Finding& finding) {
    if (trial.now().plate(finding.subject) >= 0) return {layoutId(finding.subject)};
    std::vector<std::string> out;
    for (const std::string& id : finding.evidence.plates) addOnce(out, layoutId(id));
    return out;
}

std::string partName(const CageLayout& cage, const std::string& id) {
    if (const Member* member = cage.member(id))
        return shownName(*member) + (member->mirrored ? ", both" : "");
    if (const Plate* plate = cage.plate(id)) return shownName(*plate) + (plate->mirrored ? ", both" : "");
    return id;
}

/// What a rule asks about tells which kinds of change can help.
class Mender::Work {
public:
    Work(std::vector<RuleTableRef> tables, Job job, std::shared_ptr<const std::atomic<bool>> stop)
        : trial(std::move(tables), std::move(job), std::move(stop)) {}
    MendTrial trial;

    Mends waysOut(const Finding& finding) {
        Mends out;
        if (finding.answer != Answer::fails) {
            out.none = "This rule does not fail.";
            return out;
        }
        const Rule* rule = trial.rule(finding);
        if (!rule) {
            out.none = "No table in use has this rule.";
            return out;
        }
        if (!rule->ask.empty()) {
            out.none = "A person said that it is not good: mend it on the car, and answer again.";
            return out;
        }
        trial.forget();
        std::vector<void (*)(MendTrial&, const Finding&, Mends&)> kinds;
        const auto want = [&](auto kind) {
            if (std::ranges::find(kinds, kind) == kinds.end()) kinds.push_back(kind);
        };
        const auto look = [&](const Check& check) {
            if (check.reading.quantity < 0) return;
            const Quantity& q = allQuantities()[static_cast<std::size_t>(check.reading.quantity)];
            if (q.counts == SubjectKind::member) return want(&addNewBars);
            if (q.info.name == "gussets_at_joint" || q.counts == SubjectKind::gusset ||
                q.kind == SubjectKind::gusset)
                return want(&addGussetMends);
            if (q.kind == SubjectKind::plate) return want(&addPlateMends);
            if (q.info.name == "least_padding") return want(&addPadding);
            if (q.kind == SubjectKind::pair && q.info.name == "same_tube") return want(&addTubeMends);
            if (q.info.name == "same_tube_as") return want(&addTubeMends);
            if (!isAboutTube(*rule)) want(&addMoves);
        };
        if (isAboutTube(*rule)) want(&addTubeMends);
        if (rule->check) look(*rule->check);
        for (const Rule::Alternative& one : rule->either)
            for (const Check& check : one.all) look(check);
        for (const auto kind : kinds) kind(trial, finding, out);
        if (!out.ways.empty()) {
            out.none.clear();
        } else if (out.none.empty()) {
            out.none = "No change of this kind meets it and leaves everything else as good as it is.";
        }
        if (out.ways.empty() && !trial.against().empty())
            out.none += " What would meet it was tried: " + trial.against() +
                        (trial.against().ends_with('.') ? "" : ".");
        return out;
    }
};

Mender::Mender(std::vector<RuleTableRef> tables, Job job, std::shared_ptr<const std::atomic<bool>> stop)
    : work_(std::make_unique<Work>(std::move(tables), std::move(job), std::move(stop))) {}
Mender::~Mender() = default;
const Job& Mender::job() const {
    return work_->trial.job();
}
const CageGeometry& Mender::geometry() const {
    return work_->trial.now();
}
const CheckReport& Mender::report() const {
    return work_->trial.report();
}
Mends Mender::waysOut(const Finding& finding) {
    return work_->waysOut(finding);
}

MendAll mendAll(const std::vector<RuleTableRef>& tables, const Job& job) {
    constexpr std::size_t kMostSteps = 100;
    MendAll out;
    out.job = job;
    out.adds_price = 0;
    std::map<RuleKey, std::string> no_way;  // looked for once: it is dear
    for (bool first = true;; first = false) {
        Mender mender(tables, out.job);
        if (first) out.before = mender.report();
        out.report = mender.report();
        out.left.clear();
        bool stepped = false;
        for (const Finding& finding : out.report.findings) {
            if (!isRequired(finding) || finding.answer != Answer::fails) continue;
            const RuleKey key = keyOf(finding);
            if (const auto known = no_way.find(key); known != no_way.end()) {
                out.left.push_back({finding, known->second});
                continue;
            }
            Mends mends;
            if (out.steps.size() < kMostSteps) mends = mender.waysOut(finding);
            if (mends.ways.empty()) {
                no_way[key] = mends.none;
                out.left.push_back({finding, mends.none});
                continue;
            }
            Mend& way = mends.ways.front();
            out.adds_kg += way.adds_kg;
            if (!way.adds_price) out.adds_price.reset();
            if (out.adds_price) *out.adds_price += *way.adds_price;
            out.job.cage = way.cage;
            out.steps.push_back({std::move(way), finding});
            stepped = true;
            break;
        }
        if (!stepped) return out;
    }
}

}  // namespace hoopwright
