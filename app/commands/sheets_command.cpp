#include <algorithm>
#include <array>
#include <filesystem>
#include <ostream>

#include "app/commands/command_kit.h"
#include "app/commands/offscreen.h"
#include "app/commands/sheets_report.h"
#include "app/commands/text_table.h"
#include "app/sheets/sheet_files.h"
#include "app/sheets/show_pages.h"
#include "core/base/text.h"
#include "core/files/yaml_map.h"
#include "core/model/resolve.h"

namespace hoopwright {
namespace {

namespace fs = std::filesystem;

/// "bends,copes"
Expected<std::set<SheetKind>> kindsOf(const std::string& text) {
    std::set<SheetKind> out;
    const std::vector<SheetKind> all = sheetKinds();
    std::vector<std::string> known;
    for (const SheetKind kind : all) known.push_back(kindWord(kind));
    for (std::size_t from = 0; from <= text.size();) {
        const std::size_t comma = std::min(text.find(',', from), text.size());
        const std::string word = text.substr(from, comma - from);
        const auto found = std::ranges::find(known, word);
        if (found == known.end()) {
            const std::string near = didYouMean(word, known);
            return Reason{"--only: there are no sheets '" + word + "': " +
                          (near.empty() ? "say some of " + listed(known) : "did you mean " + near + "?")};
        }
        out.insert(all[static_cast<std::size_t>(found - known.begin())]);
        from = comma + 1;
    }
    return out;
}

void report(std::ostream& out, const std::string& folder, const ShopSheets& sheets,
            const std::vector<SheetFile>& files) {
    if (!files.empty())
        out << wrapped(folder + ": " + std::to_string(files.size()) + " files; " +
                           std::to_string(sheets.bends.size()) + " tubes to bend, " +
                           std::to_string(sheets.copes.size()) + " to cope, " +
                           std::to_string(sheets.plates.size()) + " parts of sheet",
                       0);
    for (const BendSheet& sheet : sheets.bends) {
        const std::string& name = sheets.cage->members[static_cast<std::size_t>(sheet.member)].name;
        for (const std::string& caution : sheet.cautions)
            out << wrapped(name + ": " + caution, 2, kPageWidth, 2);
        for (const BendStep& step : sheet.order.steps)
            for (const std::string& trouble : step.troubles)
                out << wrapped(name + ": " + trouble, 2, kPageWidth, 2);
    }
    for (const CopeSheet& sheet : sheets.copes)
        for (const std::string& caution : sheet.cautions)
            out << wrapped(sheets.cage->members[static_cast<std::size_t>(sheet.member)].name + ": " + caution,
                           2, kPageWidth, 2);
    for (const std::string& trouble : plateTroubles(sheets)) out << wrapped(trouble, 2, kPageWidth, 2);
    for (const OrderTube& tube : sheets.order.tubes)
        if (!tube.trouble.empty())
            out << wrapped("Order, " + tube.stock + ": " + tube.trouble, 2, kPageWidth, 2);
    if (!sheets.quote) out << wrapped("No quote: " + sheets.no_quote, 2, kPageWidth, 2);
    for (const std::string& each : sheets.left_out) out << wrapped("No sheet: " + each, 2, kPageWidth, 2);
}

bool whole(const ShopSheets& sheets) {
    return sheets.left_out.empty() && sheets.order.whole() && plateTroubles(sheets).empty() &&
           std::ranges::all_of(sheets.bends, [](const BendSheet& one) { return one.order.feasible(); }) &&
           std::ranges::all_of(sheets.copes, [](const CopeSheet& one) {
               return one.ends[0].trouble.empty() && one.ends[1].trouble.empty();
           });
}

int runSheets(const CommandLine& line, Streams streams) {
    const std::string folder = line.value("--out");
    if (folder.empty() && !line.has("--json"))
        return refuse(streams, "sheets", "--out DIR is missing: name the folder to write to");
    std::set<SheetKind> kinds = usualKinds();
    if (line.has("--only")) {
        const Expected<std::set<SheetKind>> only = kindsOf(line.value("--only"));
        if (!only) return refuse(streams, "sheets", only.reason());
        kinds = *only;
    }
    const std::optional<JobResult> opened = openJob(line.files()[0], streams);
    if (!opened) return kExitBadInput;
    const std::optional<std::vector<RuleTableRef>> tables = openTables(line, *opened, streams);
    if (!tables) return kExitBadInput;
    const Job& job = *opened->job;
    const Expected<QImage> mark = shopMark(job, opened->files.shop);
    if (!mark) return refuse(streams, "sheets", mark.reason());
    SheetHead head = sheetHead(job, *tables, revisionOf(opened->files), *mark);
    const std::string paper = line.value("--paper", head.paper == Paper::a4 ? "A4" : "Letter");
    head.strip = paper == "strip";
    if (paper == "A4" || paper == "a4") {
        head.paper = Paper::a4;
    } else if (paper == "Letter" || paper == "letter") {
        head.paper = Paper::letter;
    } else if (!head.strip) {
        return refuse(streams, "sheets", "--paper: '" + paper + "' is not known: A4 or Letter, or strip");
    }

    const CageGeometry cage = resolve(job);
    const ShopSheets sheets = shopSheets(job, cage, *tables);
    std::vector<SheetFile> files;
    if (!folder.empty()) {
        const std::unique_ptr<QGuiApplication> application = offscreenApplication();
        files = sheetFiles(head, sheets, kinds);
        if (const std::optional<Problem> problem = writeSheetFiles(folder, files)) {
            print(streams.err, {*problem});
            return kExitBadInput;
        }
    }
    if (line.has("--json")) {
        std::vector<std::string> names;
        for (const SheetFile& file : files) names.push_back((fs::path(folder) / file.name).generic_string());
        writeSheetsJson(streams.out, sheets, head.revision, names);
    } else {
        report(streams.out, folder, sheets, files);
    }
    return whole(sheets) ? kExitGood : kExitFallsShort;
}

}  // namespace

Command sheetsCommand() {
    return {
        "sheets",
        {"CAGE"},
        "papers for the bender, the saw and the merchant: PDF, SVG, DXF, CSV",
        "The layout in three views with the pinned dimensions, bend sheets (marks, turns in words, what to "
        "dial, what to tape afterwards, what the rules say, the floor layout; for a tube bought bent, what "
        "to "
        "saw off), the floor layouts in full size on many sheets (floor), cope sheets "
        "with 1:1 wraps for both ends of each tube, plates, risers and gussets flat and laid on sheets, the "
        "order, and a quote by the shop's own minutes. Ends "
        "with 0 if every sheet is whole, 1 if "
        "a "
        "tube has none or can't be made as planned; the reasons are listed.",
        "hoopwright sheets data/cages/hillclimb_saloon.yaml --out sheets --only bends,copes",
        {{"--out", "DIR", "the folder to write to; made if it is not there"},
         {"--only", "KINDS",
          "some of layout, bends, floor, copes, plates, order, quote, with commas; all but floor unless "
          "said"},
         {"--paper", "PAPER", "A4 unless said; Letter for a cage in inches; strip: wraps on a roll"},
         {"--rules", "FILE",
          "tables the bends are held against, named on the sheets; those of the cage unless said", true},
         {"--json", "", "every figure of the sheets for programs; --out may then be left out"}},
        &runSheets};
}

}  // namespace hoopwright
