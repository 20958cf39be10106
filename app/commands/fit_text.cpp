#include <algorithm>
#include <ostream>

#include "app/commands/command_kit.h"
#include "app/commands/fit_report.h"
#include "app/commands/text_table.h"
#include "core/base/text.h"

namespace hoopwright {
namespace {

class FitPage {
public:
    FitPage(std::ostream& out, const FitReport& report) : out_(out), report_(report), fit_(report.fit) {
        bare_.unit = report.job.cage.unit;
        bare_.with_unit = false;
        whole_.unit = bare_.unit;
    }

    void write() {
        out_ << wrapped(fit_.fitted + " of " + report_.job.cage.name + ": " + bends() + " on " +
                            showLength(fit_.tube.od_mm, whole_) + " tube, " +
                            showLength(report_.wish.least_gap_mm, whole_) +
                            " or more off the skin. Lengths in " +
                            (bare_.unit == LengthUnit::in ? "in" : "mm") + ".",
                        0);
        writeGoodness();
        writePath("Its ends and corners", fit_.bar.path);
        writeLimits(fit_.bar.limits, fit_.bar.trouble.empty());
        writeTried();
        if (fit_.pre_bent) writePreBent(*fit_.pre_bent);
        if (!report_.stands.empty())
            out_ << wrapped(
                "Its feet stand at x " + length(fit_.bar.path.front().x()) + ". " + report_.stands, 0);
        for (const std::string& words : {fit_.bar.trouble, fit_.bar.ends_note, fit_.note})
            if (!words.empty()) out_ << "\n" << wrapped(sentence(words), 0);
        if (const std::string& missing = report_.car.missing(); !missing.empty())
            out_ << "\n" << wrapped("Without: " + missing + ".", 0);
        if (!report_.written.empty()) out_ << "\n" << wrapped("Wrote " + report_.written + ".", 0);
        out_ << "\n" << wrapped(std::string(caution()), 0);
    }

private:
    std::string length(double mm) const { return showLength(mm, bare_); }

    static std::string sentence(std::string words) {
        if (words[0] >= 'a' && words[0] <= 'z') words[0] = static_cast<char>(words[0] - 'a' + 'A');
        return words + ".";
    }

    std::string bends() const {
        const int count = fit_.bar.line.bendCount();
        if (count == 0) return "straight";
        return std::to_string(count) + (count == 1 ? " bend of " : " bends of ") +
               showLength(fit_.tube.bend_radius_mm, whole_);
    }

    void addGoodness(TextTable& rows, const std::string& called, const FitGoodness& good) const {
        rows.add({called, length(good.least_mm), length(good.least_station_mm), length(good.mean_mm),
                  length(good.greatest_mm), length(good.greatest_station_mm)});
    }

    void writeGoodness() {
        TextTable rows({Align::left, Align::right, Align::right, Align::right, Align::right, Align::right});
        rows.add({"gap to the skin", "least", "at", "mean", "greatest", "at"});
        addGoodness(rows, "as it was", fit_.bar.before);
        addGoodness(rows, "fitted", fit_.bar.after);
        if (fit_.pre_bent) addGoodness(rows, "bought bent", fit_.pre_bent->placed);
        out_ << "\n" << rows.text(2);
        if (!fit_.bar.after.lines) return;
        TextTable lines({Align::left, Align::right, Align::right, Align::right});
        lines.add({"gap to the lines", "least", "mean", "greatest"});
        for (const auto& [called, good] :
             {std::pair{"as it was", &fit_.bar.before}, std::pair{"fitted", &fit_.bar.after}})
            if (good->lines)
                lines.add({called, length(good->lines->least_mm), length(good->lines->mean_mm),
                           length(good->lines->greatest_mm)});
        std::string names;
        for (const std::string& name : fit_.followed) names += (names.empty() ? "" : ", ") + name;
        out_ << "\n" << wrapped("It follows " + names + ".", 0) << lines.text(2);
    }

    void writePath(const std::string& called, const std::vector<Vec3>& path) {
        TextTable rows({Align::right, Align::right, Align::right, Align::right});
        rows.add({"", "x", "y", "z"});
        for (std::size_t i = 0; i < path.size(); ++i)
            rows.add({std::to_string(i + 1), length(path[i].x()), length(path[i].y()), length(path[i].z())});
        out_ << "\n" << called << "\n" << rows.text(2);
    }

    void writeLimits(const std::vector<FitLimit>& limits, bool met) {
        if (limits.empty()) {
            out_ << "\n" << wrapped("Nothing holds it back: no bar near this one stands nearer.", 0);
            return;
        }
        TextTable rows({Align::left, Align::right, Align::right});
        rows.add({"what holds it", "at",
                  met ? "for 1 less of it, mean less by" : "for 1 less of it, missed less by"});
        for (const FitLimit& limit : limits)
            rows.add({limit.text, length(limit.station_mm), fixed(limit.worth_mm_per_mm, 2)});
        out_ << "\n" << rows.text(2);
    }

    void writeTried() {
        if (fit_.mean_gaps_mm.size() < 2) return;
        TextTable rows({Align::right, Align::right});
        rows.add({"bends", "mean gap"});
        for (const auto& [bends, mean_mm] : fit_.mean_gaps_mm)
            rows.add({std::to_string(bends), length(mean_mm)});
        out_ << "\n" << rows.text(2);
    }

    void writePreBent(const PreBentFit& bent) {
        const auto whole = [&](double mm) { return showLength(mm, whole_); };
        out_ << "\n" << wrapped("Bought bent, " + bent.verdict + ".", 0);
        if (fit_.member.bent)
            out_ << wrapped("As taped: " + shownBentShape(*fit_.member.bent, bare_.unit) + ", radius " +
                                whole(fit_.member.bent->bend_radius_mm) + ".",
                            0);
        if (const auto& saw = fit_.saw_mm; std::min(saw[0], saw[1]) >= 0)
            out_ << wrapped("Saw " + whole(saw[0]) + " off its first leg and " + whole(saw[1]) +
                                " off its last, down to the long points of the copes.",
                            0);
        TextTable rows({Align::left, Align::right, Align::right, Align::right});
        rows.add({"gap to the skin", "mean", "greatest", "more than the fitted bar's"});
        for (const PieceStandOff& one : bent.pieces)
            rows.add({(one.is_bend ? "bend " : "straight ") + std::to_string(one.number), length(one.mean_mm),
                      length(one.greatest_mm), length(one.more_than_suited_mm)});
        out_ << rows.text(2);
        out_ << "\n"
             << wrapped("Its feet stand " + length(bent.foot_off_mm[0]) + " and " +
                            showLength(bent.foot_off_mm[1], whole_) + " from those of the fitted bar.",
                        0);
        writePath("Its cut ends and corners", bent.path);
        writeLimits(bent.limits, bent.short_by_mm == 0);
    }

    std::ostream& out_;
    const FitReport& report_;
    const MemberFit& fit_;
    LengthStyle bare_, whole_;
};

}  // namespace

void writeFitText(std::ostream& out, const FitReport& report) {
    FitPage(out, report).write();
}

}  // namespace hoopwright
