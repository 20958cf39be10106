// The pages of every paper of the job, made beside the window's thread.
#pragma once

#include <QObject>
#include <memory>
#include <set>
#include <vector>

#include "app/sheets/sheet_files.h"
#include "app/window/desk.h"

namespace hoopwright {

/// The pages and all they were made of. It never changes, and nothing in it is copied: its parts point at
/// each other.
struct MadePages {
    MadePages() = default;
    MadePages(const MadePages&) = delete;
    MadePages& operator=(const MadePages&) = delete;
    struct Page {
        SheetKind kind;
        Drawing drawing;
    };
    JobRef job;
    CageGeometry cage;
    SheetHead head;
    ShopSheets sheets;
    std::vector<Page> pages;
};
using MadePagesRef = std::shared_ptr<const MadePages>;

/// What is to be printed.
struct PageChoice {
    std::set<SheetKind> kinds = usualKinds();
    Paper paper = Paper::a4;
    bool strip = false;
    friend bool operator==(const PageChoice&, const PageChoice&) = default;
};

/// Makes the pages anew whenever the job or the choice changes; what is asked for in the meantime is made
/// after.
class PageMaker : public QObject {
    Q_OBJECT
public:
    PageMaker(Desk& desk, PageChoice choice, QObject* parent = nullptr);
    void choose(const PageChoice& choice);
    const PageChoice& choice() const { return choice_; }
    const MadePagesRef& pages() const { return pages_; }  ///< null until the first are ready
    bool working() const { return working_; }

signals:
    void begun();
    void ready();

private:
    void begin();

    Desk& desk_;
    PageChoice choice_;
    MadePagesRef pages_;
    bool stale_ = true, working_ = false;
};

}  // namespace hoopwright
