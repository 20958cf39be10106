// What is shown to a customer, by mouse and keys: views kept under a name, a picture written.
#include <QComboBox>
#include <QFileDialog>
#include <QImage>
#include <QInputDialog>
#include <QLineEdit>
#include <QMenu>
#include <QMenuBar>
#include <QProgressDialog>

#include "window_fixture.h"

namespace hoopwright {
namespace {

class WindowShow : public WindowTest {
protected:
    /// Does `act` to each modal dialog that comes, again and again until it has gone.
    void whileAsked(const std::function<void(QWidget&)>& act) {
        QObject::connect(&asked_, &QTimer::timeout, window_.get(), [act] {
            if (QWidget* dialog = QApplication::activeModalWidget()) act(*dialog);
        });
        asked_.start(50);
    }
    static QAction* actionOf(const QMenu& menu, const QString& words) {
        for (QAction* one : menu.actions())
            if (one->text() == words) return one;
        return nullptr;
    }
    /// Clicks through the menus from the bar down.
    void clickThrough(const QStringList& words) {
        auto* bar = window_->findChild<QMenuBar*>();
        QMenu* open = nullptr;
        for (QAction* one : bar->actions()) {
            if (QString(one->text()).remove(QLatin1Char('&')) != words.front()) continue;
            QTest::mouseClick(bar, Qt::LeftButton, {}, bar->actionGeometry(one).center());
            open = one->menu();
        }
        for (int n = 1; n < words.size(); ++n) {
            settle();
            ASSERT_TRUE(open && open->isVisible()) << words[n - 1].toStdString();
            QAction* one = actionOf(*open, words[n]);
            ASSERT_NE(one, nullptr) << words[n].toStdString();
            QMenu* next = one->menu();
            QTest::mouseClick(open, Qt::LeftButton, {}, open->actionGeometry(one).center());
            open = next;
        }
        settle();
    }
    template <class Control>
    static Control* called(QWidget& in, const QString& name) {
        for (auto* one : in.findChildren<Control*>())
            if (one->accessibleName() == name) return one;
        return nullptr;
    }
    static void press(QWidget& dialog, const QString& words) {
        for (auto* one : dialog.findChildren<QPushButton*>())
            if (one->text() == words) QTest::mouseClick(one, Qt::LeftButton);
    }
    QTimer asked_;
};

TEST_F(WindowShow, AViewIsKeptUnderANameGoneBackToAndDeleted) {
    lookFrom("left");
    const View there = view().view();
    whileAsked([](QWidget& dialog) {
        auto* name = dialog.findChild<QLineEdit*>();
        if (!name) return;
        name->selectAll();
        QTest::keyClicks(name, QStringLiteral("The door side"));
        QTest::keyClick(name, Qt::Key_Return);
    });
    clickThrough({QStringLiteral("View"), QStringLiteral("Keep this view ...")});
    asked_.stop();
    ASSERT_EQ(job().cage.views.size(), 1u);
    EXPECT_EQ(job().cage.views[0].name, "The door side");
    lookFrom("front");
    ASSERT_GT((view().view().eye - there.eye).norm(), 100);
    clickThrough({QStringLiteral("View"), QStringLiteral("Kept views"), QStringLiteral("The door side")});
    land();
    EXPECT_LT((view().view().eye - there.eye).norm(), 1e-6);
    EXPECT_LT((view().view().target - there.target).norm(), 1e-6);
    clickThrough({QStringLiteral("View"), QStringLiteral("Kept views"), QStringLiteral("Delete"),
                  QStringLiteral("The door side")});
    EXPECT_TRUE(job().cage.views.empty());
    desk().document.undoStack().undo();
    EXPECT_EQ(job().cage.views.size(), 1u) << "one step of undo";
}

TEST_F(WindowShow, APictureIsWrittenWholeOrWhenStoppedNotAtAll) {
    QApplication::setAttribute(Qt::AA_DontUseNativeDialogs);
    const QString file = QString::fromStdString((demo_.root() / "shown.png").string());
    bool stop = true;
    QString said, offered;
    QObject::connect(&desk(), &Desk::say, window_.get(), [&](const QString& words) { said = words; });
    whileAsked([&](QWidget& dialog) {
        if (auto* files = qobject_cast<QFileDialog*>(&dialog)) {
            auto* name = files->findChild<QLineEdit*>(QStringLiteral("fileNameEdit"));
            if (offered.isEmpty()) offered = name->text();
            name->setText(file);
            QTest::keyClick(name, Qt::Key_Return);
        } else if (auto* working = qobject_cast<QProgressDialog*>(&dialog)) {
            if (stop) press(*working, QStringLiteral("Stop"));
        } else if (auto* written = called<QComboBox>(dialog, QStringLiteral("What is written on it"))) {
            written->setFocus();
            QTest::keyClick(written, Qt::Key_Home);
            QTest::keyClick(written, Qt::Key_Down);
            EXPECT_EQ(written->currentText(), QStringLiteral("Numbers"));
            press(dialog, QStringLiteral("Save ..."));
        }
    });
    clickThrough({QStringLiteral("File"), QStringLiteral("Save a picture ...")});
    EXPECT_EQ(said, QStringLiteral("Stopped: nothing was written."));
    EXPECT_FALSE(QFile::exists(file));
    EXPECT_EQ(offered, QStringLiteral("hillclimb_saloon_picture.png")) << "under the job's own name";
    stop = false;
    clickThrough({QStringLiteral("File"), QStringLiteral("Save a picture ...")});
    asked_.stop();
    EXPECT_EQ(said, QStringLiteral("Written: ") + file);
    const QImage picture(file);
    EXPECT_EQ(picture.size(), QSize(1920, 1080));
    EXPECT_EQ(QDir(QString::fromStdString(demo_.root().string()))
                  .entryList({QStringLiteral("shown*")}, QDir::Files)
                  .size(),
              1)
        << "nothing half is left beside it";
}

}  // namespace
}  // namespace hoopwright
