// One rule against one cage: its findings.
#pragma once

#include <vector>

#include "rules/finding.h"
#include "rules/judge.h"

namespace hoopwright {

/// One thing and what was said of it.
struct JudgedThing {
    Subject what;
    Judged judged;
};

/// A check's answers before they are put in words.
struct CheckAnswer {
    Answer answer = Answer::does_not_apply;
    std::vector<JudgedThing> things;  ///< those that were judged
    int chosen = -1;                  ///< the thing that decides; -1: none, or a count decides
    Judged whole;                     ///< when a count decides: how many meet, or how many there are
    std::string limit_text, missing;
};

/// `side`: only things on it; nothing: all.
CheckAnswer answerCheck(const TableRun& run, const Check& check, std::optional<Side> side);

/// Whether a rule has anything to say of this entry and cage: meets (it does), does_not_apply or cannot_tell,
/// and why.
struct RuleApplies {
    Answer answer = Answer::meets;
    std::string missing;
};
RuleApplies ruleApplies(const TableRun& run, const Rule& rule);

/// Finds everything a rule has to say of a cage.
class RuleRun {
public:
    RuleRun(const TableRun& run, const Rule& rule, std::vector<Finding>& out)
        : run_(run), rule_(rule), out_(out) {}
    void answer();
    /// What it says of one bar alone, whether it meets or not; nothing where it does not apply to it.
    /// @pre the rule is a check of all its members
    void answerBar(int member);

private:
    const TableRun& run_;
    const Rule& rule_;
    std::vector<Finding>& out_;

    bool applies();
    void answerOne(const Check& check, std::optional<Side> side);
    void answerEach(const Check& check, CheckAnswer found, std::optional<Side> side);
    void answerEither();
    void answerQuestion();
    Finding blank() const;
    void addPlain(Answer answer, const std::string& missing);
    Finding describe(const Check& check, const CheckAnswer& found, std::optional<Side> side) const;
    void describeThing(Finding& finding, const Check& check, const JudgedThing& thing) const;
    void show(Finding& finding, const Reading& reading, const Subject& what) const;
    void showAll(Finding& finding, const CheckAnswer& found) const;
};

/// What would meet it, in words; empty where there is no simple way to say.
std::string wayOut(const TableRun& run, const Reading& reading, const JudgedThing& thing);
std::string wayOutOfCount(const Check& check, const CheckAnswer& found);

}  // namespace hoopwright
