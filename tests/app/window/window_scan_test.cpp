// Gaps to the skin and scans by hand in the real window: real clicks and keys.
#include <QFileDialog>
#include <QLineEdit>
#include <QPlainTextEdit>
#include <QProgressBar>
#include <fstream>

#include "app/window/add_scan.h"
#include "app/window/problems_page.h"
#include "app/window/scan_strip.h"
#include "core/mesh/scan_mesh.h"
#include "core/skin/car_skin.h"
#include "tests/core/mesh/made_scan.h"
#include "tests/core/mesh/mesh_files.h"
#include "window_fixture.h"

namespace hoopwright {
namespace {

namespace fs = std::filesystem;
using testing::HasSubstr;
using testing::SizeIs;

class WindowScanTest : public WindowTest {
protected:
    const Car& car() { return job().car; }
    fs::path carFolder() const { return demo_.root() / "cars"; }
    fs::path put(const fs::path& file, const std::string& bytes) {
        fs::create_directories(file.parent_path());
        std::ofstream(file, std::ios::binary) << bytes;
        return file;
    }
    bool idle() {
        return waitFor([&] { return !desk().scans.busy(); });
    }
    /// Waits until the gaps of the cage of now are measured.
    bool measured() {
        desk().skin_gaps.ask();
        return waitFor([&] { return desk().skin_gaps.current(); });
    }
    /// A scan in the car's folder, added to the job and chosen in the Car step.
    void haveScan(const TriangleMesh& mesh, const std::string& name = "cab.stl") {
        addScanFile(desk(), put(carFolder() / name, stlBinary(mesh)), window_.get());
        EXPECT_TRUE(idle());
        window_->goTo(Step::car);
        settle();
    }
    /// Does `act` to the next modal dialog, once it is there; what it said is kept.
    template <class Act>
    void whenAsked(const Act& act) {
        auto* timer = new QTimer(window_.get());
        QObject::connect(timer, &QTimer::timeout, window_.get(), [timer, act] {
            QWidget* dialog = QApplication::activeModalWidget();
            if (!dialog) return;
            timer->deleteLater();
            act(dialog);
        });
        timer->start(50);
    }
    static QString wordsOf(QWidget* dialog) {
        QString all;
        for (const auto* label : dialog->findChildren<QLabel*>()) all += label->text() + QLatin1Char('\n');
        return all;
    }
    QString facts(const QString& name) {
        for (const auto* one : window_->details().form()->findChildren<FactList*>())
            if (one->accessibleName().endsWith(name)) return one->accessibleDescription();
        ADD_FAILURE() << "no facts " << name.toStdString();
        return {};
    }
    QString said() {
        QString all;
        for (const auto* label : window_->details().form()->findChildren<QLabel*>())
            if (!label->isHidden()) all += label->text() + QLatin1Char('\n');
        return all;
    }
    void undo() { QTest::keyClick(window_.get(), Qt::Key_Z, Qt::ControlModifier); }
};

TEST_F(WindowScanTest, CtrlGColoursByGapAndAgainGoesBack) {
    QTest::keyClick(window_.get(), Qt::Key_G, Qt::ControlModifier);
    EXPECT_EQ(view().look().colouring, Colouring::by_gap);
    ASSERT_TRUE(measured());
    keep(QStringLiteral("gap_light"));
    // The picture has the colour of a band that bars are in.
    const QImage shown = view().grabFramebuffer();
    EXPECT_FALSE(shown.isNull());
    QTest::keyClick(window_.get(), Qt::Key_G, Qt::ControlModifier);
    EXPECT_EQ(view().look().colouring, Colouring::by_place);
    EXPECT_TRUE(window_->action(QStringLiteral("Colour by place"))->isChecked());
    EXPECT_FALSE(window_->action(QStringLiteral("Colour by gap to the skin"))->isChecked());
    window_->action(QStringLiteral("Steel"))->trigger();
    EXPECT_EQ(view().look().colouring, Colouring::steel);
    EXPECT_FALSE(window_->action(QStringLiteral("Colour by place"))->isChecked()) << "one at a time";
}

TEST_F(WindowScanTest, ABarSaysItsGapsAndAClickGoesToTheLeast) {
    desk().selection.set({Kind::member, "main_hoop"});
    settle();
    ASSERT_TRUE(measured());
    settle();
    const CageGeometry& cage = desk().document.geometry();
    const auto gap = gapToSkin(cage.members[std::size_t(cage.member("main_hoop"))], carSkin(car(), {}));
    ASSERT_TRUE(gap);
    const QString lines = facts(QStringLiteral("gap to the car's skin"));
    for (const double mm : {gap->gap.least_mm, gap->gap.greatest_mm, gap->gap.mean_mm})
        EXPECT_THAT(lines.toStdString(), HasSubstr(desk().length(std::abs(mm)).toStdString()));
    EXPECT_THAT(lines.toStdString(), HasSubstr(gap->part == "shell" ? "shell" : "to "));
    FactList* list = nullptr;
    for (auto* one : window_->details().form()->findChildren<FactList*>())
        if (one->accessibleName().endsWith(QStringLiteral("gap to the car's skin"))) list = one;
    window_->details().ensureWidgetVisible(list);
    settle();
    QTest::mouseClick(list, Qt::LeftButton, {}, QPoint(40, 8));
    land();
    const auto at = view().positionOf(gap->gap.on_tube);
    ASSERT_TRUE(at);
    EXPECT_LT(QLineF(*at, view().rect().center()).length(), 0.25 * view().height())
        << "it flew to the least place";
}

TEST_F(WindowScanTest, GapsFollowADragWhileItGoesOnAndTheCarOnceTheHandRests) {
    desk().selection.set({Kind::member, "belt_bar"});
    ASSERT_TRUE(measured());
    const double before = desk().skin_gaps.ask()->of("belt_bar")->gap.least_mm;
    int measurings = 0;
    QObject::connect(&desk().skin_gaps, &SkinGaps::changed, window_.get(), [&] { ++measurings; });
    const auto drag = [&](const std::function<void(Job&, int)>& change) {
        const QByteArray key = desk().document.newKey();
        int rests = 0;  // on a busy machine two steps may lie as far apart as a hand that rests
        QElapsedTimer since;
        since.start();
        for (int n = 1; n <= 30; ++n) {
            desk().document.edit(
                QStringLiteral("drag"), [&](Job& job) { change(job, n); }, key);
            QTest::qWait(5);
            rests += since.restart() > 90 ? 1 : 0;
        }
        return rests;
    };
    drag([](Job& job, int n) {
        job.cage.node_reach_mm = 50 + n;
        Member& bar = *findMember(job.cage, "belt_bar");
        for (const TubeStock& tube : job.stock.tubes)
            if (tube.section.od_mm > 42) bar.stock = tube.id;
    });
    EXPECT_GE(measurings, 2) << "they follow while the hand moves";
    ASSERT_TRUE(measured());
    EXPECT_LT(desk().skin_gaps.ask()->of("belt_bar")->gap.least_mm, before - 1) << "a thicker tube";
    undo();
    ASSERT_TRUE(measured());
    EXPECT_NEAR(desk().skin_gaps.ask()->of("belt_bar")->gap.least_mm, before, 1e-9);
    measurings = 0;
    const int rests = drag([](Job& job, int n) { job.car.lines.front().points.front().x() += n; });
    EXPECT_LE(measurings, rests);
    ASSERT_TRUE(measured());
}

TEST_F(WindowScanTest, AScanInTheCarsFolderIsAddedChosenUndoneAndSaved) {
    haveScan(madeScan(40, 30));
    ASSERT_THAT(car().scans, SizeIs(1));
    EXPECT_EQ(car().scans[0].file, "cab.stl");
    EXPECT_TRUE(job().scan_meshes.contains("cab.stl"));
    ASSERT_NE(desk().selection.last(), nullptr);
    EXPECT_EQ(desk().selection.last()->id, "cab.stl");
    EXPECT_THAT(said().toStdString(), HasSubstr("2400 triangles"));
    EXPECT_THAT(said().toStdString(), HasSubstr("guessed from its size: mm makes"));
    undo();
    EXPECT_THAT(car().scans, SizeIs(0));
    QTest::keyClick(window_.get(), Qt::Key_Z, Qt::ControlModifier | Qt::ShiftModifier);
    ASSERT_THAT(car().scans, SizeIs(1));
    EXPECT_TRUE(job().scan_meshes.contains("cab.stl")) << "not read a second time";
    EXPECT_FALSE(desk().scans.busy());
    EXPECT_THAT(desk().document.save(), testing::IsEmpty());
    EXPECT_THAT(contents(carFolder() / "saloon.yaml"), HasSubstr("cab.stl"));
    // Opened again it is read by itself.
    ASSERT_TRUE(window_->openFile(demo_.saloon()));
    EXPECT_TRUE(waitFor([&] { return job().scan_meshes.contains("cab.stl"); }));
    EXPECT_FALSE(desk().document.dirty());
}

TEST_F(WindowScanTest, AScanElsewhereIsCopiedThereOrLeft) {
    const fs::path far =
        put(demo_.root().parent_path() / "elsewhere" / "cab.stl", stlBinary(madeScan(20, 15)));
    QString words;
    for (const bool copy : {false, true}) {
        whenAsked([&](QWidget* dialog) {
            words = wordsOf(dialog);
            for (auto* one : dialog->findChildren<QPushButton*>()) {
                if ((one->objectName() == QStringLiteral("copy")) == copy)
                    return QTest::mouseClick(one, Qt::LeftButton);
            }
        });
        addScanFile(desk(), far, window_.get());
        ASSERT_TRUE(idle());
        EXPECT_THAT(words.toStdString(), HasSubstr("cab.stl does not"));
        EXPECT_THAT(car().scans, SizeIs(copy ? 1 : 0));
        EXPECT_EQ(fs::exists(carFolder() / "cab.stl"), copy);
    }
    EXPECT_TRUE(fs::exists(far));
    whenAsked([&](QWidget* dialog) { dialog->findChild<QPushButton*>(QStringLiteral("copy"))->click(); });
    addScanFile(desk(), far, window_.get());
    ASSERT_TRUE(idle());
    ASSERT_THAT(car().scans, SizeIs(2));
    EXPECT_EQ(car().scans[1].file, "cab_2.stl") << "nothing is written over";
}

TEST_F(WindowScanTest, ADamagedScanIsSaidWithItsPlaceAndChangesNothing) {
    const std::string bytes = stlBinary(madeScan(20, 15));
    const fs::path bad = put(carFolder() / "bad.stl", bytes.substr(0, 999));
    const JobRef before = desk().document.jobRef();
    QString words;
    whenAsked([&](QWidget* dialog) {
        words = wordsOf(dialog);
        for (const auto* one : dialog->findChildren<QTextEdit*>()) words += one->toPlainText();
        for (const auto* one : dialog->findChildren<QPlainTextEdit*>()) words += one->toPlainText();
        dialog->close();
    });
    addScanFile(desk(), bad, window_.get());
    ASSERT_TRUE(idle());
    ASSERT_TRUE(waitFor([&] { return !words.isEmpty(); }));
    settle();
    EXPECT_EQ(desk().document.jobRef(), before);
    EXPECT_THAT(words.toStdString(), HasSubstr("bad.stl was not added; the job is as it was."));
    EXPECT_THAT(words.toStdString(), HasSubstr("byte 80: the head says 600 triangles"));
    EXPECT_EQ(desk().document.undoStack().count(), 0);
}

TEST_F(WindowScanTest, CancelLeavesTheJobAsItWas) {
    const fs::path big = put(carFolder() / "big.stl", stlBinary(madeScan(700, 700)));
    const JobRef before = desk().document.jobRef();
    addScanFile(desk(), big, window_.get());
    auto* strip = window_->findChild<ScanStrip*>();
    ASSERT_TRUE(strip->isVisible());
    EXPECT_THAT(strip->findChild<QLabel*>()->text().toStdString(), HasSubstr("Reading big.stl"));
    QTest::mouseClick(strip->findChild<QPushButton*>(), Qt::LeftButton);
    ASSERT_TRUE(idle());
    settle();
    EXPECT_FALSE(strip->isVisible());
    EXPECT_EQ(desk().document.jobRef(), before);
    EXPECT_TRUE(fs::exists(big));
    addScanFile(desk(), big, window_.get());  // and again, to its end
    settle(30);
    keep(QStringLiteral("scan_reading"));
    ASSERT_TRUE(idle());
    EXPECT_THAT(car().scans, SizeIs(1));
}

TEST_F(WindowScanTest, AScanTheCarNamesThatIsNotThereIsSaidAndCanBeReadAgain) {
    haveScan(madeScan(20, 15));
    ASSERT_THAT(desk().document.save(), testing::IsEmpty());
    fs::rename(carFolder() / "cab.stl", carFolder() / "away.stl");
    QString words;
    whenAsked([&](QWidget* dialog) {
        words = wordsOf(dialog);
        dialog->close();
    });
    ASSERT_TRUE(window_->openFile(demo_.saloon()));
    ASSERT_TRUE(waitFor([&] { return !words.isEmpty(); }));
    EXPECT_THAT(words.toStdString(), HasSubstr("cab.stl was not read: gaps to it cannot be told."));
    window_->goTo(Step::car);
    desk().selection.set({Kind::car_scan, "cab.stl"});
    settle();
    EXPECT_THAT(said().toStdString(), HasSubstr("there is no file"));
    fs::rename(carFolder() / "away.stl", carFolder() / "cab.stl");
    button(QStringLiteral("Scan cab.stl, read again"))->click();
    ASSERT_TRUE(waitFor([&] { return job().scan_meshes.contains("cab.stl"); }));
    settle();
    EXPECT_THAT(said().toStdString(), HasSubstr("600 triangles"));
}

TEST_F(WindowScanTest, PairsArePickedByClicksAndPlaceTheScan) {
    // The made shell, turned and pushed off as a scanner that knows nothing of the car would leave it.
    const Eigen::Matrix3d turn = Eigen::AngleAxisd(0.25, Vec3(0.2, 0.1, 1).normalized()).toRotationMatrix();
    const Vec3 push(150, -80, 60);
    TriangleMesh scan = madeScan(60, 50, 0);
    for (Vec3& v : scan.vertices) v = turn * v + push;
    haveScan(scan);
    ASSERT_GE(car().points.size(), 3u);
    lookFrom("three_quarter");
    // Car points the person can see, well apart.
    std::vector<CarPoint> seen;
    for (const CarPoint& point : car().points) {
        const auto at = view().positionOf(point.at);
        if (!at || !view().rect().adjusted(20, 60, -20, -20).contains(at->toPoint())) continue;
        const bool alone = std::ranges::all_of(car().points, [&](const CarPoint& other) {
            const auto there = view().positionOf(other.at);
            return other.name == point.name || !there || QLineF(*there, *at).length() > 20;
        });
        if (alone) seen.push_back(point);
    }
    ASSERT_GE(seen.size(), 3u);
    std::size_t clicked = 0;
    for (int n = 0; n < 3; ++n) {
        QTest::mouseClick(button(QStringLiteral("Scan cab.stl, pick a pair")), Qt::LeftButton);
        ASSERT_TRUE(view().asking());
        EXPECT_THAT(desk().pickAsks().toStdString(), HasSubstr("Click a place on the scan"));
        // Beside the scan nothing is taken.
        QTest::mouseClick(&view(), Qt::LeftButton, {}, QPoint(view().width() - 8, view().height() - 8));
        EXPECT_TRUE(view().asking());
        // A place of the scan under the pointer: what the ray meets, by brute force over all triangles.
        std::optional<QPoint> at;
        for (; clicked < scan.vertices.size() && !at; clicked += 97) {
            const auto pixel = view().positionOf(scan.vertices[clicked]);
            if (pixel && view().rect().adjusted(40, 80, -40, -40).contains(pixel->toPoint()))
                at = pixel->toPoint();
        }
        ASSERT_TRUE(at);
        QTest::mouseClick(&view(), Qt::LeftButton, {}, *at);
        ASSERT_TRUE(view().asking()) << "now the car point";
        EXPECT_THAT(desk().pickAsks().toStdString(), HasSubstr("car point"));
        const CarPoint& point = seen[std::size_t(n) * (seen.size() - 1) / 2];
        QTest::mouseClick(&view(), Qt::LeftButton, {}, view().positionOf(point.at)->toPoint());
        settle();
        ASSERT_THAT(car().scans[0].pairs, SizeIs(n + 1));
        const PickedPair& pair = car().scans[0].pairs.back();
        EXPECT_EQ(pair.car, point.at);
        EXPECT_LT(MeshTree(scan).nearest(pair.scan)->distance, 0.02) << "it lies on the scan";
        const auto back = view().positionOf(pair.scan);
        if (n < 2) {  // not moved yet: the place is drawn where it was clicked
            ASSERT_TRUE(back);
            EXPECT_LT(QLineF(*back, QPointF(*at)).length(), 1.0);
        }
        undo();
        EXPECT_THAT(car().scans[0].pairs, SizeIs(n)) << "one step of undo";
        QTest::keyClick(window_.get(), Qt::Key_Z, Qt::ControlModifier | Qt::ShiftModifier);
        settle();
    }
    EXPECT_THAT(said().toStdString(), HasSubstr("3 pairs agree to"));
    keep(QStringLiteral("scan_pairs"));
    // Typed: the places where the pairs truly are; then nothing is left over.
    desk().document.edit(QStringLiteral("typed"), [&](Job& now) {
        auto& pairs = now.car.scans[0].pairs;
        for (PickedPair& pair : pairs) pair.car = turn.transpose() * (pair.scan - push);
    });
    settle();
    EXPECT_THAT(said().toStdString(), HasSubstr("3 pairs agree to 0.0 mm"));
    const PlacedScan placed = placedScan(car().scans[0], job().scan_meshes.at("cab.stl").get());
    ASSERT_TRUE(placed.fit);
    EXPECT_LT((placed.placement.turn - turn.transpose()).norm(), 1e-6);
    QTest::mouseClick(button(QStringLiteral("Scan cab.stl, pair 1, delete pair")), Qt::LeftButton);
    settle();
    EXPECT_THAT(car().scans[0].pairs, SizeIs(2));
    EXPECT_THAT(said().toStdString(), HasSubstr("Not placed yet: 2 pairs are picked"));
}

TEST_F(WindowScanTest, EscapeLeavesAPickOfAPair) {
    haveScan(madeScan(20, 15));
    QTest::mouseClick(button(QStringLiteral("Scan cab.stl, pick a pair")), Qt::LeftButton);
    ASSERT_TRUE(view().asking());
    QTest::keyClick(&view(), Qt::Key_Escape);
    EXPECT_FALSE(view().asking());
    EXPECT_FALSE(desk().picking());
    EXPECT_THAT(car().scans[0].pairs, SizeIs(0));
}

TEST_F(WindowScanTest, BoxAndCutsAreTypedAndWhatTheyLeaveOutIsNotMeasured) {
    haveScan(madeScan(40, 30));
    ASSERT_TRUE(measured());
    for (auto* tick : window_->details().form()->findChildren<TickField*>())
        if (tick->text() == QStringLiteral("Keep only what lies in a box"))
            QTest::mouseClick(tick, Qt::LeftButton, {}, QPoint(10, tick->height() / 2));
    settle();
    ASSERT_TRUE(car().scans[0].box);
    const Box whole = job().scan_meshes.at("cab.stl")->tree->bounds();
    EXPECT_LE(car().scans[0].box->low.x(), whole.min().x()) << "it begins round the whole scan";
    type(field(QStringLiteral("Scan cab.stl, box, to x")), QStringLiteral("500"));
    EXPECT_EQ(car().scans[0].box->high.x(), 500);
    QTest::mouseClick(button(QStringLiteral("Scan cab.stl, add cut")), Qt::LeftButton);
    settle();
    ASSERT_THAT(car().scans[0].cuts, SizeIs(1));
    type(field(QStringLiteral("Scan cab.stl, cut 1, through z")), QStringLiteral("400"));
    EXPECT_EQ(car().scans[0].cuts[0].at.z(), 400);
    keep(QStringLiteral("scan_cut"));
    const std::vector<HalfSpace> kept = keptOf(car().scans[0]);
    EXPECT_THAT(kept, SizeIs(7));
    ASSERT_TRUE(measured());
    const auto& skin = *desk().skin_gaps.ask()->skin;
    EXPECT_EQ(skin.surfaces.back().kind, SurfaceKind::scan);
    for (const Vec3& v : skin.surfaces.back().mesh.inCar().vertices) {
        EXPECT_LE(v.x(), 500.001);
        EXPECT_LE(v.z(), 400.001);
    }
    QTest::mouseClick(button(QStringLiteral("Scan cab.stl, delete scan")), Qt::LeftButton);
    settle();
    EXPECT_THAT(car().scans, SizeIs(0));
    EXPECT_TRUE(fs::exists(carFolder() / "cab.stl")) << "the person's file stays";
    for (int n = 0; n < 6; ++n) undo();
    EXPECT_THAT(car().scans, SizeIs(0)) << "back to before it was added";
}

}  // namespace
}  // namespace hoopwright
