#include "app/window/print_pages.h"

#include <QPainter>
#include <QPrinter>

namespace hoopwright {

bool printPages(QPrinter& printer, std::span<const Drawing* const> pages) {
    constexpr double kPrintInch_mm = 25.4;
    printer.setFullPage(true);
    QPainter painter;
    for (const Drawing* page : pages) {
        printer.setPageSize(QPageSize(QSizeF(page->size_mm.x(), page->size_mm.y()), QPageSize::Millimeter,
                                      QString(), QPageSize::ExactMatch));
        printer.setPageMargins(QMarginsF(0, 0, 0, 0));
        if (painter.isActive() ? !printer.newPage() : !painter.begin(&printer)) return false;
        painter.resetTransform();
        painter.scale(printer.logicalDpiX() / kPrintInch_mm, printer.logicalDpiY() / kPrintInch_mm);
        paintDrawing(painter, *page);
    }
    return painter.isActive() && painter.end();
}

}  // namespace hoopwright
