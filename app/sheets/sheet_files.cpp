#include "app/sheets/sheet_files.h"

#include <cstdint>

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

std::string kindWord(SheetKind kind) {
    switch (kind) {
        case SheetKind::layout:
            return "layout";
        case SheetKind::bends:
            return "bends";
        case SheetKind::copes:
            return "copes";
        case SheetKind::order:
            return "order";
        case SheetKind::quote:
            break;
    }
    return "quote";
}

std::vector<SheetFile> sheetFiles(const SheetHead& head, const ShopSheets& sheets,
                                  const std::set<SheetKind>& kinds) {
    std::vector<SheetFile> out;
    const auto pdf = [&](SheetKind kind, const std::vector<Drawing>& pages) {
        if (!pages.empty())
            out.push_back({kindWord(kind) + ".pdf", pdfOf(pages, head.job + ", " + kindWord(kind))});
    };
    if (kinds.contains(SheetKind::layout)) {
        pdf(SheetKind::layout, layoutPages(head, sheets));
        out.push_back({"layout.csv", csvOf(layoutRows(sheets))});
        addDrawing(out, "layout", layoutPages(head, sheets).front());
    }
    if (kinds.contains(SheetKind::bends)) {
        pdf(SheetKind::bends, bendPages(head, sheets));
        out.push_back({"bends.csv", csvOf(bendRows(sheets))});
        for (const BendSheet& sheet : sheets.bends)
            addDrawing(out, "floor_" + fileWord(idOf(sheets, sheet.member)), floorDrawing(sheets, sheet));
    }
    if (kinds.contains(SheetKind::copes)) {
        pdf(SheetKind::copes, copePages(head, sheets));
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
    if (kinds.contains(SheetKind::order)) {
        pdf(SheetKind::order, orderPages(head, sheets));
        out.push_back({"order.csv", csvOf(orderRows(sheets))});
    }
    if (kinds.contains(SheetKind::quote) && sheets.quote) {
        pdf(SheetKind::quote, quotePages(head, sheets));
        out.push_back({"quote.csv", csvOf(quoteRows(sheets))});
    }
    return out;
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
