#include "app/window/kept_views.h"

#include <QInputDialog>
#include <QMenu>
#include <algorithm>

#include "app/view/picture.h"
#include "app/view/view3d.h"
#include "app/window/desk.h"
#include "app/window/form_help.h"

namespace hoopwright {

void keepThisView(Desk& desk, const View3d& view, QWidget* window) {
    const auto& views = desk.document.job().cage.views;
    const QString usual = QObject::tr("View %1").arg(views.size() + 1);
    const QString name = QInputDialog::getText(window, QObject::tr("Keep this view"),
                                               QObject::tr("Name of the view:"), QLineEdit::Normal, usual)
                             .trimmed();
    if (name.isEmpty()) return;
    const SavedView kept = savedView(name.toStdString(), view.view());
    desk.document.edit(QObject::tr("Keep view %1").arg(name), [&](Job& job) {
        const auto had = std::ranges::find(job.cage.views, kept.name, &SavedView::name);
        if (had == job.cage.views.end()) {
            job.cage.views.push_back(kept);
        } else {
            *had = kept;
        }
    });
    emit desk.say(
        QObject::tr("Kept: View > Kept views goes there, and so does picture --view \"%1\".").arg(name));
}

void fillKeptViews(QMenu& menu, Desk& desk, View3d& view) {
    qDeleteAll(menu.findChildren<QMenu*>(QString(), Qt::FindDirectChildrenOnly));
    menu.clear();
    const auto& views = desk.document.job().cage.views;
    if (views.empty()) {
        menu.addAction(QObject::tr("None is kept yet"))->setEnabled(false);
        return;
    }
    for (const SavedView& kept : views) {
        const QString name = text(kept.name);
        QObject::connect(menu.addAction(name), &QAction::triggered, &view,
                         [&view, kept] { view.jumpTo(viewOf(kept)); });
    }
    menu.addSeparator();
    QMenu* gone = menu.addMenu(QObject::tr("Delete"));
    for (const SavedView& kept : views)
        QObject::connect(gone->addAction(text(kept.name)), &QAction::triggered, &desk, [&desk, kept] {
            desk.document.edit(QObject::tr("Delete view %1").arg(text(kept.name)), [&](Job& job) {
                std::erase_if(job.cage.views, [&](const SavedView& one) { return one.name == kept.name; });
            });
        });
}

}  // namespace hoopwright
