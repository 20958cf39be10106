#include "app/sheets/sheet_files.h"

#include <algorithm>
#include <cstdint>
#include <iterator>

#include "app/sheets/plate_sheets.h"
#include "core/files/file_text.h"

namespace hoopwright {
namespace {

/// "side_bar.left" as part of a file's name.
std::string fileWord(std::string id) {
    for (char& c : id)
        if (c == '.') c = '_';
    return id;
}

const std::string& idOf(const ShopSheets& sheets, int member) {
    return sheets.cage->members[static_cast<std::size_t>(member)].id;
}

void addDrawing(std::vector<SheetFile>& out, const std::string& name, const Drawing& drawing) {
    out.push_back({name + ".svg", svgOf(drawing)});
    out.push_back({name + ".dxf", dxfOf(drawing)});
}

}  // namespace

std::vector<SheetKind> sheetKinds() {
    return {SheetKind::layout, SheetKind::bends, SheetKind::floor, SheetKind::copes,
            SheetKind::plates, SheetKind::order, SheetKind::quote};
}

std::set<SheetKind> usualKinds() {
    const std::vector<SheetKind> all = sheetKinds();
    std::set<SheetKind> out(all.begin(), all.end());
    out.erase(SheetKind::floor);
    return out;
}

std::string kindWord(SheetKind kind) {
    switch (kind) {
        case SheetKind::layout:
            return "layout";
        case SheetKind::bends:
            return "bends";
        case SheetKind::floor:
            return "floor";
        case SheetKind::copes:
            return "copes";
        case SheetKind::plates:
            return "plates";
        case SheetKind::order:
            return "order";
        case SheetKind::quote:
            break;
    }
    return "quote";
}

std::vector<Drawing> pagesOf(SheetKind kind, const SheetHead& head, const ShopSheets& sheets) {
    switch (kind) {
        case SheetKind::layout:
            return layoutPages(head, sheets);
        case SheetKind::bends:
            return bendPages(head, sheets);
        case SheetKind::floor:
            return floorPages(head, sheets);
        case SheetKind::copes: {
            std::vector<Drawing> pages = copePages(head, sheets);
            if (head.strip) std::ranges::move(wrapStrips(head, sheets), std::back_inserter(pages));
            return pages;
        }
        case SheetKind::plates:
            return platePages(head, sheets);
        case SheetKind::order:
            return orderPages(head, sheets);
        case SheetKind::quote:
            break;
    }
    return quotePages(head, sheets);
}

std::vector<SheetFile> sheetFiles(const SheetHead& head, const ShopSheets& sheets,
                                  const std::set<SheetKind>& kinds) {
    std::vector<SheetFile> out;
    const auto pdf = [&](const std::string& name, const std::vector<Drawing>& pages) {
        if (!pages.empty()) out.push_back({name + ".pdf", pdfOf(pages, head.job + ", " + name)});
    };
    if (kinds.contains(SheetKind::layout)) {
        const std::vector<Drawing> pages = layoutPages(head, sheets);
        pdf("layout", pages);
        out.push_back({"layout.csv", csvOf(layoutRows(sheets))});
        for (std::size_t i = 0; i < pages.size(); ++i)
            addDrawing(out, i == 0 ? "layout" : "layout_" + std::to_string(i + 1), pages[i]);
    }
    if (kinds.contains(SheetKind::bends)) {
        pdf("bends", bendPages(head, sheets));
        out.push_back({"bends.csv", csvOf(bendRows(sheets))});
        for (const BendSheet& sheet : sheets.bends)
            addDrawing(out, "floor_" + fileWord(idOf(sheets, sheet.member)), floorDrawing(sheets, sheet));
    }
    if (kinds.contains(SheetKind::floor)) pdf("floor", floorPages(head, sheets));
    if (kinds.contains(SheetKind::copes)) {
        pdf("copes", copePages(head, sheets));
        if (head.strip) pdf("wraps", wrapStrips(head, sheets));
        out.push_back({"copes.csv", csvOf(copeRows(sheets))});
        for (const CopeSheet& sheet : sheets.copes) {
            for (const int end : {0, 1}) {
                const CopeSheetEnd& made = sheet.ends[static_cast<std::size_t>(end)];
                if (made.square || !made.trouble.empty()) continue;
                addDrawing(out, "wrap_" + fileWord(idOf(sheets, sheet.member)) + (end == 0 ? "_a" : "_b"),
                           wrapDrawing(sheets, sheet, end));
            }
        }
    }
    if (kinds.contains(SheetKind::plates) && !sheets.plates.empty()) {
        pdf("plates", platePages(head, sheets));
        out.push_back({"plates.csv", csvOf(plateRows(sheets))});
        for (const PlatePart& part : sheets.plates)
            if (!part.outline.empty()) addDrawing(out, "plate_" + fileWord(part.id), plateDrawing(part));
        for (const SheetPlan& plan : sheets.sheet_plans)
            for (std::size_t i = 0; i < plan.sheets.size(); ++i)
                addDrawing(out, "sheet_" + fileWord(plan.sheet) + "_" + std::to_string(i + 1),
                           sheetDrawing(sheets, plan, plan.sheets[i]));
    }
    if (kinds.contains(SheetKind::order)) {
        pdf("order", orderPages(head, sheets));
        out.push_back({"order.csv", csvOf(orderRows(sheets))});
    }
    if (kinds.contains(SheetKind::quote) && sheets.quote) {
        pdf("quote", quotePages(head, sheets));
        out.push_back({"quote.csv", csvOf(quoteRows(sheets))});
    }
    return out;
}

std::optional<Problem> writeSheetFiles(const std::filesystem::path& folder,
                                       const std::vector<SheetFile>& files) {
    std::error_code failed;
    std::filesystem::create_directories(folder, failed);
    if (failed || !std::filesystem::is_directory(folder, failed))
        return Problem{{folder.string(), 0, 0}, "no folder can be made there", "name another"};
    for (const SheetFile& file : files)
        if (std::optional<Problem> problem = saveText(folder / file.name, file.bytes.toStdString()))
            return problem;
    return std::nullopt;
}

SheetHead sheetHead(const Job& job, std::span<const RuleTableRef> tables, const std::string& revision,
                    const QImage& mark) {
    SheetHead head;
    head.mark = mark;
    head.job = job.cage.name;
    for (const RuleTableRef& table : tables)
        head.tables += (head.tables.empty() ? "" : "; ") + info(*table).title + ", " + info(*table).edition;
    head.revision = revision;
    head.shop = job.shop ? job.shop->name : "";
    head.unit = job.cage.unit;
    head.paper = head.unit == LengthUnit::in ? Paper::letter : Paper::a4;
    return head;
}

std::string revisionOf(const JobFiles& files) {
    // FNV-1a, 32 bits (public domain, from memory): two prints are told apart, nothing is kept secret by it.
    std::uint32_t hash = 2166136261u;
    std::vector<FileTextRef> texts = {files.cage_text, files.car_text, files.stock_text, files.dies_text,
                                      files.shop_text};
    texts.insert(texts.end(), files.driver_texts.begin(), files.driver_texts.end());
    for (const FileTextRef& text : texts) {
        if (!text) continue;
        for (const char c : text->text) hash = (hash ^ static_cast<unsigned char>(c)) * 16777619u;
    }
    std::string out;
    for (int shift = 28; shift >= 0; shift -= 4) out += "0123456789ABCDEF"[hash >> shift & 15u];
    return out;
}

}  // namespace hoopwright
