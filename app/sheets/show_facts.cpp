#include "app/sheets/show_facts.h"

#include <algorithm>
#include <array>
#include <map>

#include "app/sheets/show_cuts.h"
#include "core/edit/cage_edits.h"

namespace hoopwright {
namespace {

constexpr std::array kWorstFirst = {Answer::fails, Answer::cannot_tell, Answer::ask_person, Answer::meets,
                                    Answer::does_not_apply};

auto badness(Answer answer) {
    return std::ranges::find(kWorstFirst, answer) - kWorstFirst.begin();
}

void addRule(ShownBar& bar, const Finding& finding) {
    const auto same = std::ranges::find_if(bar.rules, [&](const RuleOfBar& one) {
        return one.table == finding.table && one.rule == finding.rule;
    });
    if (same == bar.rules.end()) {
        bar.rules.push_back(
            {finding.table, finding.rule, finding.clause, finding.title, finding.answer, finding.confirmed});
    } else if (badness(finding.answer) < badness(same->answer)) {
        same->answer = finding.answer;
    }
}

std::vector<ShownBar> barsOf(const Job& job, const CageGeometry& cage, const CheckReport& report) {
    std::vector<ShownBar> bars;
    for (std::size_t m = 0; m < cage.members.size(); ++m) {
        const ResolvedMember& member = cage.members[m];
        const Member& laid = job.cage.members[static_cast<std::size_t>(member.layout)];
        auto bar = std::ranges::find(bars, laid.id, &ShownBar::id);
        if (bar == bars.end()) {
            const Role role = roleOf(laid.role);
            ShownBar fresh;
            fresh.id = laid.id;
            fresh.name = shownName(laid);
            fresh.purpose = role.purpose.empty() ? laid.note : role.purpose;
            fresh.place = role.place;
            fresh.may_be_left_out = laid.optional_bar;
            bars.push_back(std::move(fresh));
            bar = bars.end() - 1;
        }
        bar->members.push_back(static_cast<int>(m));
        bar->length_mm += member.line.length_mm();
        bar->mass_kg += member.mass_kg;
        for (const Finding& finding : report.findings)
            if (finding.answer != Answer::does_not_apply &&
                (finding.subject == member.id ||
                 std::ranges::find(finding.evidence.members, member.id) != finding.evidence.members.end()))
                addRule(*bar, finding);
    }
    std::ranges::stable_sort(bars, {}, &ShownBar::place);
    return bars;
}

std::optional<double> mentioned(double value, bool there) {
    return there ? std::optional(value) : std::nullopt;
}

/// Required rules that meet in one report and do not in the other, by title.
std::vector<std::string> fallsShortThen(const CheckReport& with, const CheckReport& without) {
    std::vector<std::string> out;
    std::map<std::pair<std::string, std::string>, bool> fell;
    for (const Finding& finding : with.findings)
        if (finding.answer == Answer::fails) fell[{finding.table, finding.rule}] = true;
    for (const Finding& finding : without.findings) {
        if (finding.answer != Answer::fails || finding.severity != Severity::required) continue;
        if (!fell.insert({{finding.table, finding.rule}, true}).second) continue;
        out.push_back(finding.title);
    }
    return out;
}

double massOf(const CageGeometry& cage) {
    return cage.totals.tube_mass_kg + cage.totals.plate_mass_kg;
}

/// What these bars add to the price. An option is one bar, or a mirrored pair.
std::optional<double> priceOf(const Quote& quote, const CageGeometry& cage, const Job& job,
                              const std::vector<std::string>& ids) {
    double sum = 0;
    for (const QuoteOption& option : quote.options) {
        if (option.members.empty()) continue;
        const ResolvedMember& member = cage.members[static_cast<std::size_t>(option.members.front())];
        const std::string& id = job.cage.members[static_cast<std::size_t>(member.layout)].id;
        if (std::ranges::find(ids, id) == ids.end()) continue;
        if (!option.price) return std::nullopt;
        sum += *option.price;
    }
    return sum;
}

class OptionFinder {
public:
    OptionFinder(CustomerFacts& facts, std::span<const RuleTableRef> tables)
        : facts_(facts), job_(*facts.job), cage_(*facts.cage), tables_(tables) {}

    void addAll() {
        for (const Member& member : job_.cage.members)
            if (member.optional_bar) add(member);
    }

private:
    void add(const Member& member) {
        const LeftOut out = leaveOut(job_, cage_, {member.id});
        ShownOption option;
        option.id = member.id;
        option.name = shownName(member);
        option.purpose = roleOf(member.role).purpose;
        if (option.purpose.empty()) option.purpose = member.note;
        std::vector<std::string> ids = {member.id};
        bool priced = true;
        for (const std::string& id : out.goes_too) {
            const Member* other = job_.cage.member(id);
            option.goes_too.push_back(shownName(*other));
            priced = priced && other->optional_bar;
            ids.push_back(id);
        }
        option.mass_kg = massOf(cage_) - massOf(out.cage);
        if (facts_.quote && priced) option.price = priceOf(*facts_.quote, cage_, job_, ids);
        for (const ShownDriver& shown : facts_.drivers) {
            const Driver& driver = job_.drivers[static_cast<std::size_t>(shown.index)];
            option.drivers.push_back({driver.id, driver.name, roomOf(shown.report),
                                      roomOf(reportOn(driver, out.job.car, out.cage))});
        }
        option.then_falls_short = fallsShortThen(facts_.check, check(tables_, out.job, out.cage));
        facts_.options.push_back(std::move(option));
    }

    CustomerFacts& facts_;
    const Job& job_;
    const CageGeometry& cage_;
    std::span<const RuleTableRef> tables_;
};

}  // namespace

DriverRoom roomOf(const DriverReport& report) {
    DriverRoom room;
    if (report.door) {
        room.door_round_mm = report.door->clear_round_mm;
        for (const ClearSpan& span : report.door->spans)
            if (span.at == "knee" && !span.upright && span.there) room.door_knee_mm = span.length_mm;
    }
    room.above_mm = mentioned(report.room.above.bare_mm, report.room.above.member >= 0);
    for (const Clearance& part : report.clearances.parts)
        if (part.part == BodyPart::helmet)
            room.helmet_mm = mentioned(part.bare.gap_mm, part.bare.member >= 0);
    return room;
}

CustomerFacts customerFacts(const Job& job, const CageGeometry& cage, std::span<const RuleTableRef> tables) {
    CustomerFacts facts;
    facts.job = &job;
    facts.cage = &cage;
    facts.check = check(tables, job, cage);
    facts.bars = barsOf(job, cage, facts.check);
    for (std::size_t i = 0; i < job.drivers.size(); ++i)
        facts.drivers.push_back({static_cast<int>(i), reportOn(job.drivers[i], job.car, cage)});
    Expected<Quote> priced = quote(job, cage, order(job, cage));
    if (priced) {
        facts.quote = *std::move(priced);
    } else {
        facts.no_quote = priced.reason();
    }
    OptionFinder(facts, tables).addAll();
    facts.cuts = cutsInCar(job, cage);
    facts.cautions = {
        "This is a plan. It was checked against tables that people typed in, and it certifies nothing: the "
        "rule book in force and the inspector have the last word.",
        "A cage protects only a person who is belted into a proper seat with a helmet on. On the road, "
        "without one, a bar near the head can hurt.",
        "Distances to people are as good as the measuring. Heads and arms move farther in a crash than on a "
        "tape.",
        "A plan that meets every rule can still be badly welded, or tied to rust. Have the finished cage "
        "looked at."};
    return facts;
}

}  // namespace hoopwright
