// Sheets of the shop as they look on paper, against approved ones.
#include <QDir>

#include "app/sheets/shop_sheets.h"
#include "tests/app/sheets/read_back.h"
#include "tests/approved/approved.h"

using namespace hoopwright;
using namespace hoopwright::read_back;

#ifdef HOOPWRIGHT_PDFTOCAIRO
namespace {

void expectFirstPageApproved(const QString& name, const std::vector<Drawing>& pages) {
    const QTemporaryDir folder;
    const QString pdf = folder.filePath(QStringLiteral("in.pdf")), png = folder.filePath(QStringLiteral("p"));
    {
        QFile file(pdf);
        ASSERT_TRUE(file.open(QIODevice::WriteOnly));
        file.write(pdfOf(pages, "Approved"));
    }
    ASSERT_EQ(QProcess::execute(QStringLiteral(HOOPWRIGHT_PDFTOCAIRO),
                                {"-png", "-r", "45", "-singlefile", "-f", "1", "-l", "1", pdf, png}),
              0);
    testing_approved::expectApproved(name, QImage(png + QStringLiteral(".png")));
}

TEST(ApprovedSheets, OfTheBenderTheSawAndTheMerchantOnBothPapers) {
    for (const std::string& name : kDemos) {
        const Demo& d = demo(name);
        SheetHead head = d.head;
        head.revision = "1A2B3C4D";
        const QString job = QString::fromStdString(name);
        expectFirstPageApproved(job + QStringLiteral("_bend"), bendPages(head, d.sheets));
        expectFirstPageApproved(job + QStringLiteral("_cope"), copePages(head, d.sheets));
        expectFirstPageApproved(job + QStringLiteral("_order"), orderPages(head, d.sheets));
    }
}

}  // namespace
#endif
