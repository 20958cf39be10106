#include <algorithm>
#include <filesystem>
#include <ostream>

#include "app/commands/cage_out.h"
#include "app/commands/command_kit.h"
#include "app/commands/fit_report.h"
#include "core/fit/hoop_place.h"
#include "core/model/resolve.h"

namespace hoopwright {
namespace {

namespace fs = std::filesystem;

/// The measures of the options; the first that is wrong ends it.
class Measures {
public:
    Measures(const CommandLine& line, LengthUnit unit)
        : line_(line), length_(*unitNamed(unit == LengthUnit::in ? "in" : "mm")) {}

    std::optional<double> length(const std::string& option, double least) {
        return read(option, length_, least, " is below what it can be");
    }
    std::optional<double> angle(const std::string& option) {
        return read(option, *unitNamed("deg"), -1e300, "");
    }
    const std::string& trouble() const { return trouble_; }

private:
    std::optional<double> read(const std::string& option, const Unit& unit, double least,
                               const std::string& below) {
        if (!line_.has(option)) return std::nullopt;
        const Expected<double> value = readMeasure(line_.value(option), unit);
        if (value && *value >= least) return *value;
        if (trouble_.empty())
            trouble_ = option + ": " + (value ? "'" + line_.value(option) + "'" + below : value.reason());
        return std::nullopt;
    }

    const CommandLine& line_;
    Unit length_;
    std::string trouble_;
};

std::vector<std::string> namesIn(const std::string& list) {
    std::vector<std::string> out(1);
    for (const char c : list) {
        if (c == ',') {
            out.emplace_back();
        } else if (c != ' ') {
            out.back() += c;
        }
    }
    std::erase(out, "");
    return out;
}

/// In place of a length: where the door bars can just be welded.
const std::string kDoors = "doors";

Expected<MemberWish> readWish(const CommandLine& line, LengthUnit unit) {
    MemberWish wish;
    wish.member = line.value("--member");
    if (wish.member.empty()) return Reason{"--member ID is missing: name the bar to fit"};
    Measures measures(line, unit);
    wish.least_gap_mm = measures.length("--gap", 0).value_or(kUsualGap_mm);
    wish.mean_gap_mm = measures.length("--mean-gap", 0).value_or(0);
    wish.end_travel_mm = measures.length("--travel", 0).value_or(0);
    wish.bent_radius_mm = measures.length("--bent-radius", 0);
    if (line.value("--x") != kDoors) wish.x_mm = measures.length("--x", -1e300);
    wish.lean_rad = measures.angle("--lean");
    if (!measures.trouble().empty()) return Reason{measures.trouble()};
    wish.own_sides = line.has("--own-sides");
    wish.bent = line.value("--bent");
    if (wish.bent_radius_mm && *wish.bent_radius_mm <= 0)
        return Reason{"--bent-radius: '" + line.value("--bent-radius") + "' is no radius: write more than 0"};
    if (line.has("--bent") && wish.bent.empty()) return Reason{"--bent: write its straights and bends"};
    if (line.has("--follow")) wish.follow = namesIn(line.value("--follow"));
    if (const std::string bends = line.value("--bends"); bends == "fewest") {
        if (!line.has("--mean-gap"))
            return Reason{"--bends fewest: say with --mean-gap how near is near enough"};
        wish.bends = 0;
    } else if (line.has("--bends")) {
        const Expected<int> count = wholeNumber("--bends", bends, 2, kMostHoopBends);
        if (!count) return Reason{count.reason()};
        wish.bends = *count;
    }
    return wish;
}

/// What went wrong, if anything.
std::optional<Problem> write(const fs::path& file, const JobResult& opened, const MemberFit& fit) {
    CageLayout cage = opened.job->cage;
    const auto member = std::ranges::find(cage.members, fit.member.id, &Member::id);
    *member = fit.member;
    return writeCageAs(file, opened, std::move(cage));
}

int runFit(const CommandLine& line, Streams streams) {
    const std::optional<JobResult> opened = openJob(line.files()[0], streams);
    if (!opened) return kExitBadInput;
    const Job& job = *opened->job;
    const Expected<MemberWish> wish = readWish(line, job.cage.unit);
    if (!wish) return refuse(streams, "fit", wish.reason());
    const std::string out = line.value("--out");
    if (line.has("--out"))
        if (const std::string wrong = wrongOut(out); !wrong.empty()) return refuse(streams, "fit", wrong);
    Measures measures(line, job.cage.unit);
    const std::optional<double> room = measures.length("--torch", 0);
    if (!measures.trouble().empty()) return refuse(streams, "fit", measures.trouble());
    const FitCar car(job.car, job.scan_meshes);
    std::string stands;
    Expected<MemberFit> fit = Reason{""};
    if (line.value("--x") == kDoors) {
        Expected<HoopPlace> place =
            nearestToPillar(job, resolve(job), car, *wish, room.value_or(kTorchRoom_mm));
        if (!place) return refuse(streams, "fit", place.reason());
        stands = place->holds;
        fit = std::move(place->fit);
    } else {
        fit = fitMember(job, resolve(job), car, *wish);
    }
    if (!fit) return refuse(streams, "fit", fit.reason());
    if (!out.empty()) {
        if (const std::optional<Problem> problem = write(out, *opened, *fit)) {
            print(streams.err, {*problem});
            return kExitBadInput;
        }
    }
    const FitReport report{job, car, *wish, *fit, out, stands};
    if (line.has("--json")) {
        writeFitJson(streams.out, report);
    } else {
        writeFitText(streams.out, report);
    }
    const bool short_of =
        !fit->bar.trouble.empty() || !fit->note.empty() || (fit->pre_bent && !fit->pre_bent->fits);
    return short_of ? kExitFallsShort : kExitGood;
}

}  // namespace

Command fitCommand() {
    return {"fit",
            {"CAGE"},
            "a bar's corners where they fit the car best",
            "Moves the corners of one bar to where it stands nearest to the skin of the car (a side bar: to "
            "roof rail and pillar), with no less than the gap asked for and bends the die can make; says how "
            "good the fit is, before and after, and what holds it back. Hoops stay in their plane. With "
            "--bent, a tube bought bent is laid where it fits best, and what to saw off its legs is said; a "
            "bar that the cage file says is bought bent is fitted so without it. "
            "A bare number is in the cage's unit. Ends with 1 if a limit cannot be met or the bent tube does "
            "not fit.",
            "hoopwright fit data/cages/hillclimb_saloon.yaml --member main_hoop --gap 20",
            {{"--member", "ID", "the bar; of a mirrored pair the left one is fitted, the right one follows"},
             {"--gap", "LENGTH", "least gap from the tube to the skin; 25 mm unless said"},
             {"--bends", "N", "of a hoop: 2, 4, 6, 8, or fewest; as many as it has unless said"},
             {"--mean-gap", "LENGTH", "with --bends fewest: the mean gap that is near enough"},
             {"--x", "LENGTH|doors",
              "of a hoop: where its feet stand; doors: as near the B-pillar as its door "
              "bars can be welded"},
             {"--torch", "LENGTH", "with --x doors: room round those welds; 25 mm unless said"},
             {"--lean", "ANGLE", "of a hoop: how far its top leans to the rear"},
             {"--own-sides", "", "left and right each on their own"},
             {"--travel", "LENGTH", "how far each end may move on what it stands on; bought bent, 40 mm"},
             {"--follow", "LINES", "lines of the car to follow: roof_rail,a_pillar; none: ,"},
             {"--bent", "SHAPE", "'900, 75, 1010, 75 @ 180, 900': straight, bend ...; @ turns the plane"},
             {"--bent-radius", "LENGTH", "its bend radius, to the centreline; the die's unless said"},
             {"--json", "", "for programs; every key says its unit (app/commands/JSON.md)"},
             {"--out", "FILE", "the cage with the fitted bar; never a file that is there"}},
            &runFit};
}

}  // namespace hoopwright
