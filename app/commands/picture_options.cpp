#include "app/commands/picture_options.h"

#include <algorithm>

#include "core/base/text.h"
#include "core/edit/cage_edits.h"
#include "core/files/yaml_map.h"
#include "render/still.h"
#include "render/view.h"

namespace hoopwright {
namespace {

struct PictureSize {
    int width = 0, height = 0;
};

Expected<PictureSize> readSize(const std::string& text) {
    const std::size_t by = text.find('x');
    if (by == std::string::npos)
        return Reason{"--size: '" + text + "' is no size: write WIDTHxHEIGHT, such as 1920x1080"};
    const Expected<int> width = wholeNumber("--size", text.substr(0, by), 64, kMostSide_px);
    if (!width) return Reason{width.reason()};
    const Expected<int> height = wholeNumber("--size", text.substr(by + 1), 64, kMostSide_px);
    if (!height) return Reason{height.reason()};
    return PictureSize{*width, *height};
}

const std::vector<std::pair<std::string, Colouring>>& paints() {
    static const std::vector<std::pair<std::string, Colouring>> all = {
        {"place", Colouring::by_place}, {"role", Colouring::by_role},     {"state", Colouring::by_state},
        {"tube", Colouring::by_stock},  {"result", Colouring::by_result}, {"gap", Colouring::by_gap},
        {"steel", Colouring::steel}};
    return all;
}

Expected<Colouring> readPaint(const std::string& word) {
    std::vector<std::string> words;
    for (const auto& [name, colouring] : paints()) {
        if (name == word) return colouring;
        words.push_back(name);
    }
    const std::string near = didYouMean(word, words);
    return Reason{"--paint: '" + word + "' is no way to paint: " +
                  (near.empty() ? "one of " + listed(words) : "did you mean " + near + "?")};
}

/// The kept views by name.
std::vector<std::string> keptViews(const CageLayout& cage) {
    std::vector<std::string> names;
    for (const SavedView& kept : cage.views) names.push_back(kept.name);
    return names;
}

std::optional<Reason> readView(const std::string& word, const CageLayout& cage, PictureOptions& options) {
    const auto kept = std::ranges::find(cage.views, word, &SavedView::name);
    if (kept != cage.views.end()) {
        options.from = viewOf(*kept);
        return std::nullopt;
    }
    std::vector<std::string> views = standardViews();
    if (std::ranges::find(views, word) != views.end()) {
        options.view = word;
        return std::nullopt;
    }
    for (const std::string& name : keptViews(cage)) views.push_back(name);
    const std::string near = didYouMean(word, views);
    return Reason{"--view: '" + word + "' is no view: " +
                  (near.empty() ? "one of " + listed(views) : "did you mean " + near + "?")};
}

}  // namespace

Expected<SectionCut> readSection(const std::string& text, LengthUnit unit) {
    const Reason wrong{"--section: '" + text +
                       "' is no section: write the axis and the place, such as x=812 or z=600,other"};
    if (text.size() < 3 || text[0] < 'x' || text[0] > 'z' || text[1] != '=') return wrong;
    SectionCut cut;
    cut.axis = text[0] - 'x';
    const std::size_t comma = text.find(',');
    if (comma != std::string::npos && text.substr(comma + 1) != "other") return wrong;
    cut.keep_high = comma != std::string::npos;
    const Expected<double> at = readMeasure(text.substr(2, comma == std::string::npos ? comma : comma - 2),
                                            *unitNamed(unit == LengthUnit::in ? "in" : "mm"));
    if (!at) return Reason{"--section: " + at.reason()};
    cut.at_mm = *at;
    return cut;
}

Expected<std::vector<std::string>> readParts(const CommandLine& line, const char* option,
                                             const CageGeometry& cage) {
    const std::vector<std::string> ids = line.values(option);
    for (const std::string& id : ids) {
        if (cage.member(id) >= 0 || cage.plate(id) >= 0) continue;
        std::vector<std::string> known;
        for (const ResolvedMember& member : cage.members) known.push_back(member.id);
        for (const ResolvedPlate& plate : cage.plates) known.push_back(plate.id);
        const std::string near = didYouMean(id, known);
        return Reason{std::string(option) + ": the cage has no bar or plate '" + id + "'" +
                      (near.empty() ? "; of a pair say .left or .right" : ": did you mean " + near + "?")};
    }
    return ids;
}

Expected<PictureOptions> readPictureOptions(const CommandLine& line, const CageLayout& cage,
                                            const std::string& usual_size) {
    PictureOptions options;
    const Expected<PictureSize> size = readSize(line.value("--size", usual_size));
    if (!size) return Reason{size.reason()};
    options.width_px = size->width;
    options.height_px = size->height;
    const Expected<Colouring> paint = readPaint(line.value("--paint", "place"));
    if (!paint) return Reason{paint.reason()};
    options.look.colouring = *paint;
    options.labels = !line.has("--no-labels");
    options.numbers = line.has("--numbers");
    options.look.dark = line.has("--dark");
    options.look.show_car = !line.has("--no-car");
    options.look.show_drivers = !line.has("--no-drivers");
    options.upright = line.has("--upright");
    options.dimensions = !line.has("--no-dimensions");
    options.legend = options.look.colouring != Colouring::by_place || line.has("--legend");
    options.lengths.unit = cage.unit;
    if (line.has("--finding") && !line.has("--view")) options.view.clear();
    if (line.has("--view") || !line.has("--finding"))
        if (auto wrong = readView(line.value("--view", "three_quarter"), cage, options)) return *wrong;
    return options;
}

Expected<Finding> readFinding(const std::string& text, const CheckReport& report) {
    std::vector<std::string> known;
    for (const Finding& finding : report.findings) {
        const std::string of = finding.table + "/" + finding.rule;
        for (const std::string& name :
             {finding.rule, of, finding.rule + "/" + finding.subject, of + "/" + finding.subject}) {
            if (name == text) return finding;
        }
        known.push_back(finding.rule);
    }
    const std::string near = didYouMean(text, known);
    return Reason{"--finding: no rule answered under '" + text + "': " +
                  (near.empty() ? std::string("hoopwright check CAGE --json names table, rule and subject; "
                                              "write RULE, RULE/SUBJECT or TABLE/RULE/SUBJECT")
                                : "did you mean " + near + "?")};
}

Expected<std::vector<std::string>> readMembers(const CommandLine& line, const char* option,
                                               const CageLayout& cage) {
    std::vector<std::string> out, known;
    for (const Member& member : cage.members) known.push_back(member.id);
    for (const std::string& id : line.values(option)) {
        const std::string layout = layoutId(id);
        if (cage.member(layout)) {
            out.push_back(layout);
            continue;
        }
        const std::string near = didYouMean(id, known);
        return Reason{std::string(option) + ": the cage has no bar '" + id + "'" +
                      (near.empty() ? "" : ": did you mean " + near + "?")};
    }
    return out;
}

}  // namespace hoopwright
