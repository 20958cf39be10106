// A changed cage held against everything.
#pragma once

#include <map>
#include <optional>
#include <set>
#include <string>
#include <utility>
#include <vector>

#include "rules/mend.h"
#include "rules/rule_table.h"

namespace hoopwright {

/// What a change makes of the job.
struct Outcome {
    bool good = false;
    std::vector<RuleKey> meets;  ///< required, failed before, meets now
    CageGeometry cage;
    CheckReport report;
};

/// One job and its tables, and what is wrong with it now.
class MendTrial {
public:
    MendTrial(std::vector<RuleTableRef> tables, Job job, std::shared_ptr<const std::atomic<bool>> stop);

    const std::vector<RuleTableRef>& tables() const { return tables_; }
    const Job& job() const { return job_; }
    const CageGeometry& now() const { return now_; }
    const CheckReport& report() const { return report_; }

    /// Does that cage make the rule meet, and nothing else worse? Whole but for `meets` where it does not.
    Outcome tryOut(const CageLayout& cage, const RuleKey& asked);
    /// Tries it and makes the way out of it; nothing if it is not good.
    std::optional<Mend> offer(const CageLayout& cage, const RuleKey& asked);
    /// Why the last change that met the rule asked for was not good: "then fails: Door bars"; empty: none met
    /// it.
    const std::string& against() const { return against_; }
    void forget() { against_.clear(); }
    bool stopped() const { return stop_ && *stop_; }

    bool aboutTube(const Finding& finding) const {
        return about_tube_.contains({finding.table, finding.rule});
    }
    const Rule* rule(const Finding& finding) const;
    const RuleTable* table(const Finding& finding) const;

private:
    std::vector<RuleTableRef> tables_;
    Job job_, next_;
    CageGeometry now_;
    CheckReport report_;
    Failing failing_, silent_;
    Troubles troubles_;
    std::set<std::pair<std::string, std::string>> about_tube_;
    std::string against_;
    std::shared_ptr<const std::atomic<bool>> stop_;
};

/// Layout ids of the bars a finding is about: its subject, or else those its evidence names.
std::vector<std::string> barsOf(const MendTrial& trial, const Finding& finding);
std::vector<std::string> platesOf(const MendTrial& trial, const Finding& finding);
/// Price of a metre of the cheapest stick; nothing: no price is stated.
std::optional<double> pricePerMetre(const TubeStock& tube);
/// "Rear brace (pair)": a layout member or plate as people read it.
std::string partName(const CageLayout& cage, const std::string& id);

// One for each kind; each adds what it finds.
void addTubeMends(MendTrial& trial, const Finding& finding, Mends& out);
void addMoves(MendTrial& trial, const Finding& finding, Mends& out);
void addNewBars(MendTrial& trial, const Finding& finding, Mends& out);
void addPlateMends(MendTrial& trial, const Finding& finding, Mends& out);
void addGussetMends(MendTrial& trial, const Finding& finding, Mends& out);
void addPadding(MendTrial& trial, const Finding& finding, Mends& out);

}  // namespace hoopwright
