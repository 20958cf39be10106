#include "app/window/page_maker.h"

#include <QApplication>
#include <QPointer>
#include <QThreadPool>

#include "app/sheets/show_pages.h"

namespace hoopwright {

PageMaker::PageMaker(Desk& desk, PageChoice choice, QObject* parent)
    : QObject(parent), desk_(desk), choice_(std::move(choice)) {
    connect(&desk_.document, &Document::changed, this, [this] {
        stale_ = true;
        begin();
    });
    // Once the maker of this has connected to it.
    QMetaObject::invokeMethod(this, &PageMaker::begin, Qt::QueuedConnection);
}

void PageMaker::choose(const PageChoice& choice) {
    if (choice == choice_) return;
    choice_ = choice;
    stale_ = true;
    begin();
}

void PageMaker::begin() {
    if (!stale_ || working_) return;
    stale_ = false;
    working_ = true;
    emit begun();
    const Document& document = desk_.document;
    std::string revision = revisionOf(document.files());
    if (document.dirty()) revision += ", with changes that are not saved";
    QThreadPool::globalInstance()->start([me = QPointer<PageMaker>(this), job = document.jobRef(),
                                          cage = document.geometry(), tables = document.tables(),
                                          choice = choice_, revision, book = document.files().shop] {
        auto made = std::make_shared<MadePages>();
        made->job = job;
        made->cage = cage;
        const Expected<QImage> mark = shopMark(*job, book);
        made->head = sheetHead(*job, tables, revision, mark ? *mark : QImage());
        made->head.paper = choice.paper;
        made->head.strip = choice.strip;
        made->sheets = shopSheets(*made->job, made->cage, tables);
        if (!mark) made->sheets.left_out.push_back(mark.reason());
        for (const SheetKind kind : sheetKinds()) {
            if (!choice.kinds.contains(kind)) continue;
            for (Drawing& page : pagesOf(kind, made->head, made->sheets))
                made->pages.push_back({kind, std::move(page)});
        }
        QMetaObject::invokeMethod(
            qApp,
            [me, made] {
                if (!me) return;
                me->working_ = false;
                if (!me->stale_) me->pages_ = made;
                emit me->ready();
                me->begin();
            },
            Qt::QueuedConnection);
    });
}

}  // namespace hoopwright
