// Ways out of a rule that falls short: worked out, and each held against everything before it is offered.
#pragma once

#include <atomic>
#include <memory>
#include <optional>
#include <string>
#include <string_view>
#include <vector>

#include "rules/failing.h"

namespace hoopwright {

/// One change to the cage that makes a rule meet and nothing else worse.
struct Mend {
    enum class Kind { tube, move, new_bar, plate, gusset, padding };
    Kind kind = Kind::move;
    std::string name;                ///< "Lightest tube", "Least move", "Least plate"
    std::string says;                ///< "Rear brace: 45x2.5 in place of 38x2.5"
    std::vector<std::string> parts;  ///< layout ids of what it changes or adds
    CageLayout cage;                 ///< with it done
    double adds_kg = 0;              ///< to the whole of tubes and plates
    /// Its tube by the metre of the cheapest stick, in the stock list's currency; nothing: a price is not
    /// stated. What is left over of a stick is not counted.
    std::optional<double> adds_price;
    double moved_mm = 0;         ///< move: how far the grip goes
    std::vector<RuleKey> meets;  ///< every required rule that fails now and meets with it
    Vec3 at = Vec3::Zero();      ///< where it happens
};
std::string_view mendKey(Mend::Kind kind);  ///< "tube", "move", "new_bar", ...: as --json says it

struct Mends {
    std::vector<Mend> ways;  ///< the one to take first in front
    std::string none;        ///< why there is none; empty if there is one
};

/// Finds ways out for one job and its tables. Tube: each of the stock list, the lightest and the cheapest
/// that every active table takes. Place or angle: the grips of the bars and plates concerned, the least move.
/// Bars missing: as a starter has them in this car. Plates, gussets, padding: the least size. A way out is
/// offered only where resolve() and check() of the whole job say that the rule meets, that no required rule
/// fails or is silent that did not before, and that the cage has no new kind of trouble. Places are tried up
/// to 300 mm away, in steps that grow: a stretch narrower than a step may be stepped over.
class Mender {
public:
    /// `stop`: set from another thread, it makes the search end soon, with nothing found.
    Mender(std::vector<RuleTableRef> tables, Job job,
           std::shared_ptr<const std::atomic<bool>> stop = nullptr);
    ~Mender();
    Mender(const Mender&) = delete;
    Mender& operator=(const Mender&) = delete;

    const Job& job() const;
    const CageGeometry& geometry() const;
    const CheckReport& report() const;
    /// Of a finding of report(). One that does not fail has none, and `none` says so.
    Mends waysOut(const Finding& finding);

private:
    class Work;
    std::unique_ptr<Work> work_;
};

/// Everything that has to change until a job meets its tables: ways out taken one after another, always the
/// first, in the order of the findings, while that makes fewer required rules fail.
struct MendAll {
    struct Step {
        Mend mend;
        Finding of;  ///< that asked for it
    };
    std::vector<Step> steps;
    /// Required, still failing in the end, and why.
    struct Left {
        Finding finding;
        std::string none;
    };
    std::vector<Left> left;
    Job job;             ///< with all steps done
    CheckReport before;  ///< of the job as it was
    CheckReport report;  ///< in the end
    double adds_kg = 0;
    std::optional<double> adds_price;  ///< nothing: the price of a step is not stated
};
MendAll mendAll(const std::vector<RuleTableRef>& tables, const Job& job);

}  // namespace hoopwright
