// What is shown to a customer, by mouse and keys: views kept under a name, pictures and turntables written,
// the car presented.
#include <QComboBox>
#include <QFile>
#include <QFileDialog>
#include <QImage>
#include <QInputDialog>
#include <QLineEdit>
#include <QMenu>
#include <QMenuBar>
#include <QProgressDialog>
#include <QSpinBox>
#include <QtEndian>
#include <cmath>
#include <numbers>

#include "app/window/present.h"
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
    /// Answers the turntable's dialog, the file dialog and, if `stop`, the one that says how far it is.
    void answerTurntable(int frames, bool folder, const QString& where, const bool& stop) {
        whileAsked([this, frames, folder, where, &stop](QWidget& dialog) {
            if (auto* files = qobject_cast<QFileDialog*>(&dialog)) {
                auto* name = files->findChild<QLineEdit*>(QStringLiteral("fileNameEdit"));
                name->setText(where);
                QTest::keyClick(name, Qt::Key_Return);
            } else if (auto* working = qobject_cast<QProgressDialog*>(&dialog)) {
                // Not before the first picture has been drawn.
                if (stop && working->value() > 0) press(*working, QStringLiteral("Stop"));
            } else if (auto* count = called<QSpinBox>(dialog, QStringLiteral("Pictures once round"))) {
                count->setFocus();
                count->selectAll();
                QTest::keyClicks(count, QString::number(frames));
                auto* kind = called<QComboBox>(dialog, QStringLiteral("Written as"));
                kind->setFocus();
                QTest::keyClick(kind, folder ? Qt::Key_End : Qt::Key_Home);
                press(dialog, QStringLiteral("Make ..."));
            }
        });
    }
    QStringList inRoot(const QString& like) const {
        return QDir(QString::fromStdString(demo_.root().string()))
            .entryList({like}, QDir::AllEntries | QDir::NoDotAndDotDot | QDir::Hidden);
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

// The pictures are read as files: how many the animation says it has, and that it goes round.
TEST_F(WindowShow, ATurntableIsOneAnimatedFileOrAFolderOfItsOwn) {
    QApplication::setAttribute(Qt::AA_DontUseNativeDialogs);
    const QString root = QString::fromStdString(demo_.root().string());
    const QString file = root + QStringLiteral("/round.png");
    bool stop = false;
    QString said;
    QObject::connect(&desk(), &Desk::say, window_.get(), [&](const QString& words) { said = words; });
    const View before = view().view();
    answerTurntable(3, false, file, stop);
    clickThrough({QStringLiteral("File"), QStringLiteral("Turntable ...")});
    asked_.disconnect();
    EXPECT_EQ(said, QStringLiteral("Written: ") + file);
    QFile written(file);
    ASSERT_TRUE(written.open(QIODevice::ReadOnly));
    const QByteArray bytes = written.readAll();
    ASSERT_EQ(bytes.mid(37, 4), "acTL");
    EXPECT_EQ(qFromBigEndian<quint32>(bytes.constData() + 41), 3u);
    EXPECT_EQ(QImage(file).size(), QSize(960, 540));

    answerTurntable(3, true, root, stop);
    for (const char* folder : {"/hillclimb_saloon_turntable", "/hillclimb_saloon_turntable_2"}) {
        clickThrough({QStringLiteral("File"), QStringLiteral("Turntable ...")});
        const QString made = root + QString::fromLatin1(folder);
        EXPECT_EQ(said, QStringLiteral("Written: ") + made);
        EXPECT_EQ(QDir(made).entryList(QDir::Files),
                  QStringList({QStringLiteral("frame_001.png"), QStringLiteral("frame_002.png"),
                               QStringLiteral("frame_003.png")}));
        const QImage first(made + QStringLiteral("/frame_001.png"));
        EXPECT_EQ(first.size(), QSize(960, 540));
        EXPECT_NE(first, QImage(made + QStringLiteral("/frame_002.png")));
        EXPECT_EQ(first, QImage(file)) << "what an animation begins with, too";
    }
    asked_.stop();
    EXPECT_LT((view().view().eye - before.eye).norm(), 1e-9) << "the window looks from where it did";
    EXPECT_FALSE(desk().document.dirty());
}

TEST_F(WindowShow, AStoppedTurntableLeavesNeitherFileNorFolder) {
    QApplication::setAttribute(Qt::AA_DontUseNativeDialogs);
    const QString root = QString::fromStdString(demo_.root().string());
    const QStringList before = inRoot(QStringLiteral("*"));
    bool stop = true;
    QString said;
    QObject::connect(&desk(), &Desk::say, window_.get(), [&](const QString& words) { said = words; });
    for (const bool folder : {false, true}) {
        said.clear();
        answerTurntable(200, folder, folder ? root : root + QStringLiteral("/round.png"), stop);
        clickThrough({QStringLiteral("File"), QStringLiteral("Turntable ...")});
        asked_.disconnect();
        EXPECT_EQ(said, QStringLiteral("Stopped: nothing was written."));
        EXPECT_EQ(inRoot(QStringLiteral("*")), before);
    }
    asked_.stop();
}

TEST_F(WindowShow, TheCarIsPresentedTurningUntilAKeyOrAClickAndTheWindowIsAsItWas) {
    desk().selection.set({Thing::Kind::member, "belt_bar"});
    lookFrom("left");
    const View before = view().view();
    const QRect stood = window_->geometry();
    const auto shown = [this] { return window_->findChild<Present*>(); };
    for (const bool by_key : {true, false}) {
        QTest::keyClick(&view(), Qt::Key_F5);
        ASSERT_TRUE(waitFor([&] { return shown() && shown()->isVisible(); }));
        const View3d& seen = shown()->picture();
        EXPECT_EQ(shown()->geometry(), window_->screen()->geometry());
        EXPECT_TRUE(seen.selected().empty());
        ASSERT_TRUE(waitFor([&] { return seen.drawn().fulls > 0; }));
        for (const auto* over : seen.findChildren<QWidget*>()) EXPECT_FALSE(over->isVisible());
        // No bar leaves the picture while it turns an eighth of the way round.
        const View first = seen.view();
        const auto turned = [&] {
            const Vec3 a = first.eye - first.target, b = seen.view().eye - seen.view().target;
            return std::atan2(a.x() * b.y() - a.y() * b.x(), a.x() * b.x() + a.y() * b.y());
        };
        ASSERT_TRUE(waitFor([&] {
            for (const ResolvedMember& bar : seen.cage().members)
                for (const double s : {0.0, bar.line.length_mm() / 2, bar.line.length_mm()}) {
                    const auto at = seen.positionOf(bar.line.point(s));
                    EXPECT_TRUE(at && QRectF(seen.rect()).contains(*at)) << bar.id;
                }
            return turned() > std::numbers::pi / 4;
        }));
        EXPECT_EQ(seen.drawn().drafts, 0) << "never coarse";
        EXPECT_NEAR((seen.view().eye - seen.view().target).norm(), (first.eye - first.target).norm(), 1e-6);
        auto* picture = const_cast<View3d*>(&seen);
        if (by_key) {
            QTest::keyClick(picture, Qt::Key_Escape);
        } else {
            QTest::mouseClick(picture, Qt::LeftButton);
        }
        ASSERT_TRUE(waitFor([&] { return !shown(); }));
        EXPECT_EQ(window_->geometry(), stood);
        EXPECT_LT((view().view().eye - before.eye).norm(), 1e-9);
        EXPECT_THAT(desk().selection.ids(Thing::Kind::member), testing::ElementsAre("belt_bar"));
        EXPECT_FALSE(desk().document.dirty());
    }
}

}  // namespace
}  // namespace hoopwright
