// Every paper of a job as files, for the command line and the window alike.
#pragma once

#include <QByteArray>
#include <set>
#include <string>
#include <vector>

#include "app/sheets/shop_sheets.h"
#include "core/files/job_file.h"

namespace hoopwright {

enum class SheetKind { layout, bends, copes, order, quote };
/// "layout", "bends", "copes", "order", "quote"
std::string kindWord(SheetKind kind);

struct SheetFile {
    std::string name;  ///< "bends.pdf", "wrap_dash_bar_a.svg"
    QByteArray bytes;
};
/// PDF and CSV of each kind; of each bent tube its floor layout, of each end its wrap, as SVG and DXF.
/// @pre there is a QGuiApplication, for its fonts
std::vector<SheetFile> sheetFiles(const SheetHead& head, const ShopSheets& sheets,
                                  const std::set<SheetKind>& kinds);

/// Eight letters and digits that change with any byte of the job's files.
std::string revisionOf(const JobFiles& files);

}  // namespace hoopwright
