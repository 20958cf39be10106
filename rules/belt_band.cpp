#include "rules/belt_band.h"

#include <algorithm>
#include <array>
#include <cmath>
#include <tuple>

#include "core/driver/straps.h"
#include "core/model/resolve.h"
#include "core/units/measure.h"
#include "rules/check_rule.h"
#include "rules/quantity.h"

namespace hoopwright {
namespace {

constexpr double kBehind_mm = 600, kBelow_mm = 400, kAbove_mm = 300, kClose_mm = 20;

/// Quantities whose value changes as the belt bar moves.
bool followsBeltBar(const Reading& reading) {
    static constexpr std::array kNames = {"belt_angle", "belt_plan_angle", "belt_bar_below_shoulder",
                                          "belt_run", "belt_behind_seat"};
    const std::string& name = allQuantities()[static_cast<std::size_t>(reading.quantity)].info.name;
    return std::any_of(kNames.begin(), kNames.end(), [&](const char* one) { return name == one; });
}

bool followsBeltBar(const Rule& rule) {
    if (rule.severity != Severity::required) return false;
    if (rule.check && followsBeltBar(rule.check->reading)) return true;
    for (const Rule::Alternative& alternative : rule.either)
        for (const Check& check : alternative.all)
            if (followsBeltBar(check.reading)) return true;
    return false;
}

/// The job with the drivers that count, and the rules that judge their belts.
class BeltJudge {
public:
    BeltJudge(std::span<const RuleTableRef> tables, const Job& job, const std::string& driver) : job_(job) {
        const auto first = std::find_if(job.drivers.begin(), job.drivers.end(),
                                        [&](const Driver& d) { return driver.empty() || d.id == driver; });
        if (first != job.drivers.end()) bar_ = first->belts.bar;
        std::erase_if(job_.drivers,
                      [&](const Driver& d) { return driver.empty() ? d.belts.bar != bar_ : d.id != driver; });
        for (const RuleTableRef& table : tables) {
            if (!table) continue;
            for (const Rule& rule : table->rules)
                if (followsBeltBar(rule)) asked_.push_back({table.get(), &rule});
        }
    }

    const Job& job() const { return job_; }
    const std::string& bar() const { return bar_; }
    std::size_t count() const { return asked_.size(); }
    BandRule named(std::size_t i) const {
        return {asked_[i].table->info.id, asked_[i].rule->id, asked_[i].rule->title};
    }

    /// Of each rule: the worst it says.
    std::vector<Answer> answers(const Job& job, const CageGeometry& cage) const {
        std::vector<Answer> out;
        const CheckScene scene(job, cage);
        std::optional<TableRun> run;
        for (const Asked& one : asked_) {
            if (!run || &run->table() != one.table) run.emplace(*one.table, scene);
            std::vector<Finding> found;
            RuleRun(*run, *one.rule, found).answer();
            Answer worst = Answer::does_not_apply;
            for (const Finding& f : found) worst = std::min(worst, f.answer);
            out.push_back(worst);
        }
        return out;
    }

private:
    struct Asked {
        const RuleTable* table;
        const Rule* rule;
    };
    Job job_;
    std::string bar_;
    std::vector<Asked> asked_;
};

bool forbids(Answer answer) {
    return answer == Answer::fails || answer == Answer::cannot_tell;
}

/// Middle of the bar behind the neck, seen from the side.
std::optional<Vec2> barAt(const CageGeometry& cage, const std::vector<int>& bars, double y,
                          double* radius_mm) {
    for (const int i : bars) {
        const ResolvedMember& bar = cage.members[static_cast<std::size_t>(i)];
        const std::vector<double> at = bar.line.crossings({0, y, 0}, Vec3::UnitY());
        if (at.empty()) continue;
        const Vec3 p = bar.line.point(at.front());
        if (radius_mm) *radius_mm = bar.radius_mm();
        return Vec2(p.x(), p.z());
    }
    return std::nullopt;
}

class BandFinder {
public:
    BandFinder(const BeltJudge& judge, const CageGeometry& cage, std::vector<int> bars, Vec2 bar_at)
        : judge_(judge), cage_(cage), bars_(std::move(bars)), bar_at_(bar_at) {
        for (const int i : bars_) lines_.push_back(cage.members[static_cast<std::size_t>(i)].line);
    }

    BeltBand find() {
        BeltBand out;
        out.bar_at = bar_at_;
        heard_.assign(judge_.count(), false);
        askSilent(out);
        const int now = forbidding(bar_at_);
        out.allowed_now = now < 0;
        const std::vector<Answer> answers = at(bar_at_);
        for (std::size_t i = 0; i < answers.size(); ++i)
            if (forbids(answers[i]) && heard_[i]) out.failing_now.push_back(judge_.named(i));
        for (double x = rear_; x <= front_ + 1e-9; x += kBandStep_mm)
            if (BandColumn column = columnAt(x); !column.heights.empty())
                out.columns.push_back(std::move(column));
        for (std::size_t i = 0; i < judge_.count(); ++i) out.rules.push_back(judge_.named(i));
        outline(out);
        return out;
    }

private:
    std::vector<Answer> at(const Vec2& place) {
        const Vec2 by = place - bar_at_;
        for (std::size_t i = 0; i < bars_.size(); ++i)
            cage_.members[static_cast<std::size_t>(bars_[i])].line = lines_[i].moved({by.x(), 0, by.y()});
        return judge_.answers(judge_.job(), cage_);
    }
    /// The first rule that forbids a place, or -1.
    int forbidding(const Vec2& place) {
        const std::vector<Answer> answers = at(place);
        for (std::size_t i = 0; i < answers.size(); ++i)
            if (heard_[i] && forbids(answers[i])) return static_cast<int>(i);
        return -1;
    }

    /// Rules that can't tell even at places a bar could well be have nothing to say of where.
    void askSilent(BeltBand& out) {
        Vec3 least = judge_.job().drivers.front().shoulders(), most = least;
        for (const Driver& d : judge_.job().drivers) {
            least = least.cwiseMin(d.shoulders());
            most = most.cwiseMax(d.shoulders());
        }
        rear_ = most.x() - kBehind_mm;
        front_ = least.x() - kClose_mm;
        low_ = least.z() - kBelow_mm;
        high_ = most.z() + kAbove_mm;
        for (double x = rear_; x <= front_; x += (front_ - rear_) / 4)
            for (double z = low_; z <= high_; z += (high_ - low_) / 8) {
                const std::vector<Answer> answers = at({x, z});
                for (std::size_t i = 0; i < answers.size(); ++i)
                    if (answers[i] != Answer::cannot_tell) heard_[i] = true;
            }
        for (std::size_t i = 0; i < heard_.size(); ++i)
            if (!heard_[i]) out.silent.push_back(judge_.named(i));
    }

    /// Between an allowed height and a forbidden one: the last allowed, and who forbids beyond.
    std::pair<double, int> edge(double x, double allowed, double forbidden, int who) {
        while (std::abs(allowed - forbidden) > kBandExact_mm) {
            const double middle = 0.5 * (allowed + forbidden);
            const int now = forbidding({x, middle});
            if (now < 0) {
                allowed = middle;
            } else {
                forbidden = middle;
                who = now;
            }
        }
        return {allowed, who};
    }

    BandColumn columnAt(double x) {
        BandColumn out{x, {}};
        int before = forbidding({x, low_});
        if (before < 0) out.heights.push_back({low_, low_, -1, -1});
        for (double z = low_; z < high_ - 1e-9; z += kBandStep_mm) {
            const double next = std::min(high_, z + kBandStep_mm);
            const int now = forbidding({x, next});
            if (before >= 0 && now < 0) {
                const auto [low, who] = edge(x, next, z, before);
                out.heights.push_back({low, next, who, -1});
            } else if (before < 0 && now >= 0) {
                std::tie(out.heights.back().high_mm, out.heights.back().high_rule) = edge(x, z, next, now);
            } else if (now < 0) {
                out.heights.back().high_mm = next;
            }
            before = now;
        }
        return out;
    }

    /// Joins stretches of neighbouring columns that overlap.
    static void outline(BeltBand& band) {
        struct Reach {
            std::vector<Vec2> low, high;
            double x, from, to;
        };
        std::vector<Reach> open;
        const auto close = [&](const Reach& run) {
            std::vector<Vec2> closed = run.low;
            closed.insert(closed.end(), run.high.rbegin(), run.high.rend());
            band.outlines.push_back(std::move(closed));
        };
        for (const BandColumn& column : band.columns) {
            std::vector<Reach> next;
            for (const BandStretch& stretch : column.heights) {
                const auto fits = std::find_if(open.begin(), open.end(), [&](const Reach& run) {
                    return column.x_mm - run.x < 1.5 * kBandStep_mm && stretch.low_mm <= run.to &&
                           stretch.high_mm >= run.from;
                });
                Reach run;
                if (fits != open.end()) {
                    run = std::move(*fits);
                    open.erase(fits);
                }
                run.low.emplace_back(column.x_mm, stretch.low_mm);
                run.high.emplace_back(column.x_mm, stretch.high_mm);
                run.x = column.x_mm;
                run.from = stretch.low_mm;
                run.to = stretch.high_mm;
                next.push_back(std::move(run));
            }
            for (const Reach& run : open) close(run);
            open = std::move(next);
        }
        for (const Reach& run : open) close(run);
    }

    const BeltJudge& judge_;
    CageGeometry cage_;
    std::vector<int> bars_;
    Vec2 bar_at_;
    std::vector<Centreline> lines_;
    std::vector<char> heard_;
    double rear_ = 0, front_ = 0, low_ = 0, high_ = 0;
};

/// What keeps the question from being asked at all; or the bars.
Expected<std::vector<int>> barsToMove(const BeltJudge& judge, const CageGeometry& cage) {
    if (judge.job().drivers.empty()) return Reason{"there is no such driver"};
    if (judge.bar().empty()) return Reason{"no belt bar is named for this driver"};
    std::vector<int> bars = barsNamed(cage, judge.bar());
    if (bars.empty()) return Reason{"the cage has no member '" + judge.bar() + "' for this driver's straps"};
    if (judge.count() == 0)
        return Reason{"none of the class tables in force says where the belt bar has to be"};
    return bars;
}

/// The layout with both ends of the belt bar so much higher; nothing if an end has no height to change.
std::optional<CageLayout> raised(const CageLayout& layout, const std::string& bar, double by_mm) {
    CageLayout out = layout;
    const std::string id = bar.substr(0, bar.find('.'));
    bool any = false;
    for (Member& member : out.members) {
        if (member.id != id) continue;
        for (MemberPoint& point : member.path) {
            if (auto* fixed = std::get_if<FixedPoint>(&point.place)) {
                fixed->at.z() += by_mm;
                any = true;
            } else if (auto* landing = std::get_if<Landing>(&point.place)) {
                if (landing->by != Landing::By::height) return std::nullopt;
                landing->value += by_mm;
                any = true;
            } else if (auto* at = std::get_if<AtCarPoint>(&point.place)) {
                at->offset.z() += by_mm;
                any = true;
            } else {
                return std::nullopt;
            }
        }
    }
    return any ? std::optional(std::move(out)) : std::nullopt;
}

Vec2 nearestOnEdge(const Vec2& p, const Vec2& a, const Vec2& b) {
    const Vec2 edge = b - a;
    const double length2 = edge.squaredNorm();
    return length2 > 0 ? Vec2(a + std::clamp((p - a).dot(edge) / length2, 0.0, 1.0) * edge) : a;
}

}  // namespace

Expected<BeltBand> beltBand(std::span<const RuleTableRef> tables, const Job& job, const CageGeometry& cage,
                            const std::string& driver) {
    const BeltJudge judge(tables, job, driver);
    Expected<std::vector<int>> bars = barsToMove(judge, cage);
    if (!bars) return Reason{bars.reason()};
    double radius = 0;
    const auto at = barAt(cage, *bars, judge.job().drivers.front().shoulders().y(), &radius);
    if (!at) return Reason{"the bar does not reach as far across as the driver"};
    BeltBand band = BandFinder(judge, cage, *std::move(bars), *at).find();
    band.bar_radius_mm = radius;
    return band;
}

std::optional<Vec2> nearestInBand(const BeltBand& band, const Vec2& from) {
    std::optional<Vec2> best;
    for (const std::vector<Vec2>& outline : band.outlines) {
        bool inside = false;
        for (std::size_t i = 0, last = outline.size() - 1; i < outline.size(); last = i++) {
            const Vec2 &a = outline[last], &b = outline[i];
            const Vec2 now = nearestOnEdge(from, a, b);
            if (!best || (now - from).norm() < (*best - from).norm()) best = now;
            if ((a.y() > from.y()) == (b.y() > from.y())) continue;
            if (from.x() < a.x() + (from.y() - a.y()) / (b.y() - a.y()) * (b.x() - a.x())) inside = !inside;
        }
        if (inside) return from;
    }
    return best;
}

Expected<BeltSnap> snapBeltBar(std::span<const RuleTableRef> tables, const Job& job,
                               const std::string& driver, double inside_mm) {
    const BeltJudge judge(tables, job, driver);
    if (Expected<std::vector<int>> bars = barsToMove(judge, resolve(job)); !bars)
        return Reason{bars.reason()};
    Job moved = judge.job();
    const auto allowed = [&](double by_mm) {
        std::optional<CageLayout> layout = raised(job.cage, judge.bar(), by_mm);
        if (!layout) return false;
        moved.cage = *std::move(layout);
        const std::vector<Answer> answers = judge.answers(moved, resolve(moved));
        return std::none_of(answers.begin(), answers.end(), &forbids);
    };
    if (!raised(job.cage, judge.bar(), 0))
        return Reason{
            "the ends of the belt bar are not given by height; give each as a height on what it lands on"};
    const auto result = [&](double by_mm) {
        BeltSnap out{by_mm, *raised(job.cage, judge.bar(), by_mm), Vec2::Zero()};
        moved.cage = out.layout;
        const CageGeometry cage = resolve(moved);
        out.bar_at = barAt(cage, barsNamed(cage, judge.bar()), moved.drivers.front().shoulders().y(), nullptr)
                         .value_or(Vec2::Zero());
        return out;
    };
    if (allowed(0)) return result(0);
    constexpr double kStep_mm = 5, kFar_mm = 500;
    for (double far = kStep_mm; far <= kFar_mm; far += kStep_mm) {
        for (const double way : {-1.0, 1.0}) {
            if (!allowed(way * far)) continue;
            double good = far, bad = far - kStep_mm;
            while (good - bad > kBandExact_mm) {
                const double middle = 0.5 * (good + bad);
                (allowed(way * middle) ? good : bad) = middle;
            }
            const double inside = good + inside_mm;
            return result(way * (allowed(way * inside) ? inside : good));
        }
    }
    return Reason{"no height of the belt bar within " + showLength(kFar_mm, {job.cage.unit}) +
                  " meets every rule: move the seat, or the bars it lands on"};
}

}  // namespace hoopwright
