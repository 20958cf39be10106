// Every paper of a job as files, for the command line and the window alike.
#pragma once

#include <QByteArray>
#include <filesystem>
#include <optional>
#include <set>
#include <span>
#include <string>
#include <vector>

#include "app/sheets/shop_sheets.h"
#include "core/files/job_file.h"

namespace hoopwright {

enum class SheetKind { layout, bends, floor, copes, plates, order, quote };
/// Every kind, in the order they are printed.
std::vector<SheetKind> sheetKinds();
/// "layout", "bends", "floor", "copes", "plates", "order", "quote"
std::string kindWord(SheetKind kind);
/// What is made where nobody says which: all but the floor layouts, which take a sheaf of paper.
std::set<SheetKind> usualKinds();

/// The pages of one kind; none if there is nothing of it.
std::vector<Drawing> pagesOf(SheetKind kind, const SheetHead& head, const ShopSheets& sheets);

struct SheetFile {
    std::string name;  ///< "bends.pdf", "wrap_dash_bar_a.svg"
    QByteArray bytes;
};
/// PDF and CSV of each kind; of each bent tube its floor layout, of each end its wrap, as SVG and DXF. Wraps
/// for a roll of paper are a PDF of their own.
/// @pre there is a QGuiApplication, for its fonts
std::vector<SheetFile> sheetFiles(const SheetHead& head, const ShopSheets& sheets,
                                  const std::set<SheetKind>& kinds);

/// Into the folder, which is made if it is not there; each whole or not at all. Says what could not be done.
std::optional<Problem> writeSheetFiles(const std::filesystem::path& folder,
                                       const std::vector<SheetFile>& files);

/// What stands on every sheet of a job: Letter for a cage in inches, else A4. `mark`: shopMark().
SheetHead sheetHead(const Job& job, std::span<const RuleTableRef> tables, const std::string& revision,
                    const QImage& mark = {});
/// Eight letters and digits that change with any byte of the job's files.
std::string revisionOf(const JobFiles& files);

}  // namespace hoopwright
