// The whole window with a copy of the saloon open, on a display of its own.
#pragma once

#include <gmock/gmock.h>

#include <QAction>
#include <QApplication>
#include <QDir>
#include <QElapsedTimer>
#include <QLabel>
#include <QMessageBox>
#include <QPushButton>
#include <QScrollBar>
#include <QStackedWidget>
#include <QTest>
#include <QTimer>
#include <cstdio>

#include "app/view/view3d.h"
#include "app/window/add_bar.h"
#include "app/window/details.h"
#include "app/window/falls_short.h"
#include "app/window/form.h"
#include "app/window/left_page.h"
#include "app/window/main_window.h"
#include "app/window/recovery.h"
#include "app/window/tape_strip.h"
#include "app/window/view_host.h"
#include "core/edit/cage_edits.h"
#include "demo_copy.h"
#include "tests/approved/approved.h"
#include "waits.h"

namespace hoopwright {

/// A window with a copy of the saloon open, at a size of its own.
class WindowTest : public testing::Test {
protected:
    using Kind = Thing::Kind;

    explicit WindowTest(QSize size = {1600, 960}) {
        window_ = std::make_unique<MainWindow>(QString::fromStdString((demo_.root() / "unsaved").string()));
        window_->setWindowState(Qt::WindowNoState);
        window_->resize(size);
        window_->useTone(Tone::light);
        EXPECT_TRUE(window_->openFile(demo_.saloon()));
        window_->show();
        window_->resize(size);
        window_->activateWindow();
        EXPECT_TRUE(waitForActive(window_.get()));
        settle();
    }
    ~WindowTest() override {
        window_->desk().document.undoStack().setClean();  // nobody is there to be asked about unsaved work
        window_.reset();
    }

    Desk& desk() { return window_->desk(); }
    const Job& job() { return desk().document.job(); }
    View3d& view() { return *window_->viewHost().view(); }
    static void settle(int ms = 60) { settleEvents(ms); }
    /// Until the picture flies no more.
    void land() {
        settle();
        // Without a display there is no picture.
        if (!window_->viewHost().view()) return;
        EXPECT_TRUE(waitFor([&] { return !view().flying(); }));
    }
    void lookFrom(const char* name) {
        view().flyToView(name);
        land();
    }
    /// Until the whole picture of now stands, made smooth by so many passes.
    void rest(int passes = 1) {
        land();
        if (!window_->viewHost().view() || !view().isVisible()) return;
        view().repaint();  // what was asked for is begun, so that no earlier picture counts
        EXPECT_TRUE(waitFor([&] { return view().drawn().passes >= passes; }));
    }
    ValueField* field(const QString& name) {
        settle();
        for (auto* one : window_->details().form()->findChildren<ValueField*>()) {
            if (one->accessibleName() == name) return one;
        }
        ADD_FAILURE() << "no field " << name.toStdString();
        return nullptr;
    }
    QPushButton* button(const QString& name) {
        for (auto* one : window_->details().form()->findChildren<QPushButton*>()) {
            if (one->accessibleName() == name) return one;
        }
        ADD_FAILURE() << "no button " << name.toStdString();
        return nullptr;
    }
    QListView* list() { return static_cast<LeftPage*>(window_->leftPages().currentWidget())->list(); }
    QModelIndex rowCalled(QListView* view, const QString& words) {
        for (int row = 0; row < view->model()->rowCount(); ++row) {
            const QModelIndex index = view->model()->index(row, 0);
            if (index.data().toString() == words) return index;
        }
        ADD_FAILURE() << "no row " << words.toStdString();
        return {};
    }
    void click(QListView* view, const QModelIndex& index, Qt::KeyboardModifiers keys = {}) {
        view->scrollTo(index);
        QTest::mouseClick(view->viewport(), Qt::LeftButton, keys, view->visualRect(index).center());
        settle();
    }
    static void type(QLineEdit* into, const QString& words, int end = Qt::Key_Return) {
        into->setFocus();
        into->selectAll();
        QTest::keyClicks(into, words);
        if (end) QTest::keyClick(into, Qt::Key(end));
        settle();
    }
    QPixmap keep(const QString& name) {
        QDir().mkpath(QStringLiteral(HOOPWRIGHT_PICTURES));
        rest();
        const QPixmap seen = window_->screen()->grabWindow(window_->winId());
        seen.save(QStringLiteral(HOOPWRIGHT_PICTURES "/") + name + QStringLiteral(".png"));
        return seen;
    }
    /// Kept, and held against the approved one, half as large.
    void keepApproved(const QString& name) {
        const QImage seen = keep(name).toImage();
        testing_approved::expectApproved(
            name, seen.scaled(seen.size() / 2, Qt::IgnoreAspectRatio, Qt::SmoothTransformation));
    }

    DemoCopy demo_;
    std::unique_ptr<MainWindow> window_;
};

}  // namespace hoopwright
