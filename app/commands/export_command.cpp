#include <QString>
#include <algorithm>
#include <memory>
#include <ostream>

#include "app/commands/command_kit.h"
#include "app/commands/export_report.h"
#include "app/commands/json_parts.h"
#include "app/commands/progress_line.h"
#include "app/commands/text_table.h"
#include "core/base/text.h"
#include "core/base/whole_file.h"
#include "core/files/yaml_map.h"
#include "core/model/resolve.h"

namespace hoopwright {
namespace {

/// The item whose word was said, or a sentence that names the likeliest.
template <class Item>
Expected<Item> itemNamed(const std::string& option, const std::string& said, const std::vector<Item>& items,
                         std::string (*wordOf)(Item)) {
    std::vector<std::string> known;
    for (const Item item : items) {
        if (wordOf(item) == said) return item;
        known.push_back(wordOf(item));
    }
    const std::string near = didYouMean(said, known);
    return Reason{option + ": '" + said + "' is not known: " +
                  (near.empty() ? "one of " + listed(known) : "did you mean " + near + "?")};
}

std::string endOf(const std::string& file) {
    const std::size_t dot = file.find_last_of('.');
    std::string end = dot == std::string::npos ? "" : file.substr(dot + 1);
    for (char& c : end) c = static_cast<char>(c >= 'A' && c <= 'Z' ? c - 'A' + 'a' : c);
    return end == "stp" ? "step" : end;
}

Expected<ExportChoice> readChoice(const CommandLine& line) {
    ExportChoice choice;
    const std::string end = endOf(line.value("--out"));
    if (!line.has("--format") && end.empty())
        return Reason{"--format is missing: one of glb, step, dxf, csv"};
    const Expected<ExportFormat> format =
        itemNamed("--format", line.value("--format", end), allExportFormats(), &formatWord);
    if (!format) return Reason{format.reason()};
    choice.format = *format;
    if (line.has("--out") && end != formatWord(*format))
        return Reason{"--out: '" + line.value("--out") + "' does not end in ." + formatWord(*format) +
                      ", the format asked for; other programs go by the end of a name"};
    const Expected<CageTable> table =
        itemNamed("--table", line.value("--table", "points"), allCageTables(), &tableWord);
    if (!table) return Reason{table.reason()};
    choice.table = *table;
    if (line.has("--table") && choice.format != ExportFormat::csv)
        return Reason{"--table is for --format csv; a " + formatWord(choice.format) + " file has no tables"};
    for (const char* option : {"--no-car", "--no-drivers"})
        if (line.has(option) && choice.format != ExportFormat::glb)
            return Reason{std::string(option) + " is for --format glb; the others hold the cage alone"};
    choice.car = !line.has("--no-car");
    choice.drivers = !line.has("--no-drivers");
    return choice;
}

void report(std::ostream& out, const std::string& file, const ExportChoice& choice, const CageExport& made) {
    std::string sentence = file + ": ";
    switch (choice.format) {
        case ExportFormat::glb:
            sentence += std::to_string(made.triangles) + " triangles";
            break;
        case ExportFormat::csv:
            sentence += std::to_string(made.rows) + " rows of " + tableWord(choice.table);
            break;
        case ExportFormat::step:
            sentence +=
                std::to_string(made.pieces.size()) + " solids, " + fixed(made.mass_kg, 2) + " kg finished";
            break;
        case ExportFormat::dxf:
            sentence += "centrelines in space, and three views";
            break;
    }
    out << wrapped(sentence + ".", 0);
    for (const std::string& note : made.notes) out << wrapped(note, 2);
    for (const std::string& left : made.left_out) out << wrapped("Left out: " + left, 2);
}

int runExport(const CommandLine& line, Streams streams) {
    const std::string file = line.value("--out");
    if (file.empty() && !line.has("--json"))
        return refuse(streams, "export", "--out FILE is missing: name the file to write");
    const Expected<ExportChoice> choice = readChoice(line);
    if (!choice) return refuse(streams, "export", choice.reason());
    const std::optional<JobResult> opened = openJob(line.files()[0], streams);
    if (!opened) return kExitBadInput;
    std::optional<WholeFile> whole;
    if (!file.empty()) {
        whole.emplace(file);  // a bad place is known before the work
        if (whole->problem()) {
            print(streams.err, {*whole->problem()});
            return kExitBadInput;
        }
    }
    const CageGeometry cage = resolve(*opened->job);
    const CageExport made = exportCage(*opened->job, cage, *choice, progressLine(streams, "export"));
    if (whole) {
        whole->write(std::string_view(made.bytes.constData(), static_cast<std::size_t>(made.bytes.size())));
        if (const auto problem = whole->commit()) {
            print(streams.err, {*problem});
            return kExitBadInput;
        }
    }
    if (line.has("--json"))
        writeExportJson(streams.out, *opened->job, cage, *choice, made, file);
    else
        report(streams.out, file, *choice, made);
    return made.left_out.empty() && cage.problems.empty() ? kExitGood : kExitFallsShort;
}

}  // namespace

void writeExportJson(std::ostream& out, const Job& job, const CageGeometry& cage, const ExportChoice& choice,
                     const CageExport& made, const std::string& file) {
    JsonWriter json(out);
    const auto top = json.object();
    json.text("hoopwright", "export");
    json.whole("version", 1);
    json.text("cage", job.cage.name);
    json.text("format", formatWord(choice.format));
    json.text("file", file);
    json.whole("bytes", made.bytes.size());
    json.whole("triangles", static_cast<long long>(made.triangles));
    json.whole("rows", static_cast<long long>(made.rows));
    {
        const auto list = json.list("pieces");
        for (const ExportedPiece& piece : made.pieces) {
            const auto each = json.object();
            json.text("id", piece.id);
            json.text("name", piece.name);
            json.text("kind", piece.kind);
            json.number("volume_mm3", piece.volume_mm3);
            json.number("mass_kg", piece.mass_kg);
            json.number("developed_mm", piece.length_mm);
            json.whole("triangles", static_cast<long long>(piece.triangles));
            json.yesNo("exact", piece.exact);
        }
    }
    {
        const auto totals = json.object("totals");
        json.whole("pieces", static_cast<long long>(made.pieces.size()));
        json.number("volume_mm3", made.volume_mm3);
        json.number("mass_kg", made.mass_kg);
    }
    json.texts("left_out", made.left_out);
    json.texts("cut_square", made.notes);
    writeGeometryProblems(json, cage);
}

Command exportCommand() {
    return {
        "export",
        {"CAGE"},
        "the cage for other programs: glTF, STEP, DXF, CSV",
        "glb: glTF 2.0 with materials, names and numbers, for any viewer. step: a true solid of each piece, "
        "tubes with bore and cut ends, named and coloured, in one assembly. dxf: centrelines in space, and "
        "side, front and top at full size. csv: a table. Ends with 0, or 1 if a piece is left out or the "
        "cage "
        "does not fit together; the reasons are listed.",
        "hoopwright export data/cages/hillclimb_saloon.yaml --format step --out saloon.step",
        {{"--format", "glb|step|dxf|csv", "as the file's name ends, unless said"},
         {"--out", "FILE", "the file to write; it is there whole or not at all"},
         {"--table", "TABLE",
          "of a csv: points of the centrelines, bars, bends, joints or plates; points unless said"},
         {"--no-car", "", "glb without the car"},
         {"--no-drivers", "", "glb without the people"},
         {"--json", "", "pieces, volumes and masses for programs; --out may then be left out"}},
        &runExport};
}

}  // namespace hoopwright
