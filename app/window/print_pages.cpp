#include "app/window/print_pages.h"

#include <QPainter>
#include <QPrinter>
#include <algorithm>
#include <utility>

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

std::vector<const Drawing*> pagesAskedFor(const QPrinter& printer, std::vector<const Drawing*> pages) {
    if (printer.printRange() != QPrinter::PageRange || printer.fromPage() < 1) return pages;
    const auto count = std::ssize(pages);
    const auto from = std::min<std::ptrdiff_t>(printer.fromPage() - 1, count);
    const auto to = std::clamp<std::ptrdiff_t>(printer.toPage(), from, count);
    return {pages.begin() + from, pages.begin() + to};
}

}  // namespace hoopwright
