// Seeing and finding: views, panes, units, find anything.
#include <QAction>
#include <QActionGroup>
#include <QApplication>
#include <QMenu>
#include <QMenuBar>
#include <QSettings>
#include <QSignalBlocker>
#include <QStackedWidget>
#include <QTextBrowser>
#include <QToolButton>
#include <QVBoxLayout>
#include <algorithm>
#include <tuple>

#include "app/view/view3d.h"
#include "app/window/car_says.h"
#include "app/window/details.h"
#include "app/window/falls_short.h"
#include "app/window/fields.h"
#include "app/window/findings.h"
#include "app/window/form_help.h"
#include "app/window/kept_views.h"
#include "app/window/left_page.h"
#include "app/window/main_window.h"
#include "app/window/pin.h"
#include "app/window/present.h"
#include "app/window/table_editor.h"
#include "app/window/table_findings.h"
#include "app/window/tape_strip.h"
#include "app/window/top_bar.h"
#include "app/window/view_host.h"
#include "core/edit/cage_edits.h"
#include "core/model/measure_dimension.h"

namespace hoopwright {
void MainWindow::buildViewMenu() {
    QMenu* menu = top_->menus()->addMenu(tr("&View"));
    const QStringList steps = {tr("Car"), tr("Driver"), tr("Cage"), tr("Check"), tr("Order")};
    for (int i = 0; i < steps.size(); ++i) {
        menu->addAction(act(tr("Step: %1").arg(steps[i]), QKeySequence(Qt::CTRL | Qt::Key(Qt::Key_1 + i)),
                            [this, i] { turnTo(static_cast<Step>(i)); }));
    }
    menu->addSeparator();
    list_shown_ = tick(tr("List"), Qt::Key_F9, true, [this](bool) { foldAsNeeded(); });
    details_shown_ = tick(tr("Details"), Qt::Key_F10, true, [this](bool) { foldAsNeeded(); });
    menu->addActions({list_shown_, details_shown_});
    menu->addAction(act(tr("Next pane"), Qt::Key_F6, [this] { nextPane(1); }));
    menu->addAction(act(tr("Pane before"), QKeySequence(Qt::SHIFT | Qt::Key_F6), [this] { nextPane(-1); }));
    QAction* apart =
        tick(tr("View in its own window"), Qt::Key_F11, false, [this](bool on) { setDetached(on); });
    menu->addAction(apart);
    menu->addAction(act(
        tr("Present"), Qt::Key_F5,
        [this] {
            if (view_->view()) present(desk_, *view_->view(), this);
        },
        tr("The car alone on the whole screen, slowly turning, until a key or a click")));
    menu->addSeparator();
    menu->addAction(act(
        tr("Keep this view ..."), {},
        [this] {
            if (view_->view()) keepThisView(desk_, *view_->view(), this);
        },
        tr("Where the picture is taken from, under a name, with the cage")));
    QMenu* kept = menu->addMenu(tr("Kept views"));
    connect(kept, &QMenu::aboutToShow, this, [this, kept] {
        if (view_->view()) fillKeptViews(*kept, desk_, *view_->view());
    });
    menu->addSeparator();
    looks_menu_ = menu->addMenu(tr("Show"));
    const auto shows = [this](const QString& words, bool on, bool SceneLook::*which) {
        looks_menu_->addAction(tick(words, {}, on, [this, which](bool now) {
            view_->changeLook([&](SceneLook& look) { look.*which = now; });
        }));
    };
    shows(tr("Show the car"), true, &SceneLook::show_car);
    shows(tr("Show scans"), true, &SceneLook::show_scans);
    shows(tr("Show drivers"), true, &SceneLook::show_drivers);
    shows(tr("Show plates"), true, &SceneLook::show_plates);
    shows(tr("Show the ground"), true, &SceneLook::show_ground);
    buildSeeing();
    looks_menu_->addAction(tick(tr("Show names"), {}, true, [this](bool on) { view_->setLabelled(on); }));
    looks_menu_->addAction(
        tick(tr("Show where the belt bar may be"), {}, true, [this](bool on) { view_->setBanded(on); }));
    looks_menu_->addAction(tick(tr("No vanishing points"), {}, false, [this](bool on) {
        if (view_->view()) view_->view()->setOrthographic(on);
    }));
    looks_menu_->addAction(
        tick(tr("Show dimensions"), {}, true, [this](bool on) { view_->setDimensioned(on); }));
    looks_menu_->addAction(
        tick(tr("Show what colours mean"), {}, true, [this](bool on) { view_->setLegend(on); }));
    looks_menu_->addSeparator();
    auto* colours = new QActionGroup(this);
    const std::pair<QString, Colouring> ways[] = {{tr("Colour by place"), Colouring::by_place},
                                                  {tr("Colour by role"), Colouring::by_role},
                                                  {tr("Colour by state"), Colouring::by_state},
                                                  {tr("Colour by result"), Colouring::by_result},
                                                  {tr("Colour by tube"), Colouring::by_stock},
                                                  {tr("Colour by gap to the skin"), Colouring::by_gap},
                                                  {tr("Steel"), Colouring::steel}};
    colours->setExclusionPolicy(QActionGroup::ExclusionPolicy::ExclusiveOptional);
    for (const auto& [words, way] : ways) {
        const QKeySequence keys =
            way == Colouring::by_gap ? QKeySequence(Qt::CTRL | Qt::Key_G) : QKeySequence();
        QAction* one = tick(words, keys, way == Colouring::by_place, [this, way = way](bool on) {
            if (on) view_->changeLook([&](SceneLook& look) { look.colouring = way; });
        });
        // Chosen once more: back to the colours of places.
        connect(one, &QAction::triggered, this, [this](bool on) {
            if (!on) action(tr("Colour by place"))->setChecked(true);
        });
        colours->addAction(one);
        looks_menu_->addAction(one);
    }
    menu->addSeparator();
    auto* tones = new QActionGroup(this);
    for (const auto& [words, tone] :
         {std::pair{tr("Light"), Tone::light}, std::pair{tr("Dark"), Tone::dark}}) {
        QAction* one = tick(words, {}, desk_.palette().tone == tone, [this, tone = tone](bool on) {
            if (on) useTone(tone);
        });
        connect(&desk_, &Desk::paletteChanged, one,
                [this, one, tone = tone] { one->setChecked(desk_.palette().tone == tone); });
        tones->addAction(one);
        menu->addAction(one);
    }
}

void MainWindow::keyInView(QAction* action, const QKeySequence& keys) {
    if (!view_->view()) return;
    action->setShortcut(keys);
    action->setShortcutContext(Qt::WidgetShortcut);
    action->setToolTip(plainWords(action->text()) +
                       tr(" (%1 in the view)").arg(keys.toString(QKeySequence::NativeText)));
    view_->view()->addAction(action);
}

void MainWindow::buildSeeing() {
    isolated_ = tick(tr("Only what is chosen"), {}, false, [this](bool on) {
        if (view_->isolate(on) || !on) return;
        const QSignalBlocker still(isolated_);
        isolated_->setChecked(false);
    });
    connect(&desk_.document, &Document::changed, this, [this](Document::Change change) {
        if (change == Document::Change::replaced) isolated_->setChecked(false);
    });
    keyInView(isolated_, Qt::Key_I);
    QAction* ghosts = tick(tr("See through what is not chosen"), {}, false,
                           [this](bool on) { view_->changeLook([&](SceneLook& look) { look.x_ray = on; }); });
    keyInView(ghosts, Qt::Key_G);
    looks_menu_->addActions({isolated_, ghosts});
    QMenu* cut = looks_menu_->addMenu(tr("Cut the picture"));
    const std::pair<QString, Qt::Key> axes[] = {{tr("Cut across x, front and rear"), Qt::Key_X},
                                                {tr("Cut across y, left and right"), Qt::Key_Y},
                                                {tr("Cut across z, above and below"), Qt::Key_Z}};
    for (int axis = 0; axis < 3; ++axis) {
        QAction* one = act(axes[axis].first, {}, [this, axis] { view_->cutAcross(axis); });
        keyInView(one, axes[axis].second);
        cut->addAction(one);
    }
    QAction* upright = tick(tr("Plumb lines upright"), {}, false, [this](bool on) {
        if (view_->view()) view_->view()->setUpright(on);
    });
    upright->setToolTip(tr("Verticals of the car stay vertical in the picture (V in the view)"));
    if (view_->view())
        connect(view_->view(), &View3d::uprightChanged, upright,
                [upright](bool on) { upright->setChecked(on); });
    looks_menu_->addAction(upright);
}

void MainWindow::buildPinMenu(QMenu* menu) {
    using Kind = PinnedDimension::Kind;
    const std::tuple<QString, Kind, QKeySequence, QString> ways[] = {
        {tr("Pin a distance"), Kind::distance, QKeySequence(Qt::CTRL | Qt::SHIFT | Qt::Key_D),
         tr("Between two places: click them; a node, a bar, a plate, a car point")},
        {tr("Pin a gap"), Kind::gap, {}, tr("Least distance between the outsides of two bars")},
        {tr("Pin the centres"), Kind::centres, {}, tr("Least distance between two centrelines")},
        {tr("Pin an angle"),
         Kind::angle,
         {},
         tr("Between two bars: click the straight that is meant on each")},
        {tr("Pin a height"),
         Kind::height,
         {},
         tr("Of a place over the ground, the sill's top or the floor")}};
    for (const auto& [words, kind, keys, tip] : ways)
        menu->addAction(act(
            words, keys, [this, kind = kind] { pinDimension(desk_, kind); }, tip));
}

void MainWindow::buildTopWords() {
    top_->addWord(undo_);
    top_->addWord(redo_);
    find_ = new FindBox(
        desk_, [this] { return everything(); }, top_);
    find_->setFixedWidth(240);
    top_->addWidget(find_);
    auto* units = new QMenu(this);
    auto* group = new QActionGroup(this);
    const std::pair<QString, UnitsShown> ways[] = {{tr("Millimetres"), UnitsShown::mm},
                                                   {tr("Inches"), UnitsShown::in},
                                                   {tr("Millimetres and inches"), UnitsShown::both}};
    for (const auto& [words, way] : ways) {
        QAction* one = tick(words, {}, way == UnitsShown::mm, [](bool) {});
        connect(one, &QAction::triggered, this, [this, way = way] { chooseUnits(way); });
        connect(&desk_, &Desk::unitsChanged, one,
                [this, one, way = way] { one->setChecked(desk_.units() == way); });
        group->addAction(one);
        units->addAction(one);
    }
    units_word_ = top_->addMenu(tr("mm"), units);
    units_word_->setAccessibleName(tr("Units"));
    tables_word_ = top_->addMenu(tr("No class table"), tables_menu_);
    tables_word_->setAccessibleName(tr("Class tables"));
    act(tr("Next units"), QKeySequence(Qt::CTRL | Qt::Key_U),
        [this] { chooseUnits(static_cast<UnitsShown>((int(desk_.units()) + 1) % 3)); });
}

void MainWindow::chooseUnits(UnitsShown units) {
    QSettings().setValue(QStringLiteral("units"), int(units));
    setUnits(units);
}

void MainWindow::setUnits(UnitsShown units) {
    desk_.setUnits(units);
    if (units_word_)
        units_word_->setText(units == UnitsShown::mm   ? tr("mm")
                             : units == UnitsShown::in ? tr("in")
                                                       : tr("mm + in"));
}

void MainWindow::buildViewBar() {
    std::vector<QAction*> words;
    const std::pair<const char*, QString> names[] = {{"front", tr("Front")},
                                                     {"left", tr("Left")},
                                                     {"top", tr("Top")},
                                                     {"three_quarter", tr("Corner")},
                                                     {"driver", tr("Driver's eye")}};
    for (const auto& [name, shown] : names) {
        words.push_back(act(
            shown, {},
            [this, view = std::string(name)] {
                if (view_->view()) view_->view()->flyToView(view);
            },
            tr("View: %1").arg(shown)));
    }
    words.push_back(act(
        tr("Whole cage"), {},
        [this] {
            if (view_->view()) view_->view()->fitAll();
        },
        tr("The whole cage fills the view (Home in the view; F: what is chosen)")));
    words.push_back(looks_menu_->menuAction());
    view_->setBar(words);
    for (const char* name : {"rear", "right", "three_quarter_rear"}) {
        act(tr("View: %1").arg(QString::fromLatin1(name).replace(QLatin1Char('_'), QLatin1Char(' '))), {},
            [this, view = std::string(name)] {
                if (view_->view()) view_->view()->flyToView(view);
            });
    }
}

std::vector<Findable> MainWindow::everything() {
    std::vector<Findable> all;
    const Document& document = desk_.document;
    const auto choose = [this](Step step, const Thing& thing) {
        return [this, step, thing] {
            goTo(step);
            desk_.selection.set(thing);
            if (view_->view() && step == Step::cage) view_->view()->flyToThing(thing.id);
        };
    };
    for (const Member& member : document.job().cage.members) {
        for (const std::string& id : resolvedIds(member.id, member.mirrored)) {
            all.push_back({sidedName(shownName(member), sideOf(id)), tr("bar"),
                           choose(Step::cage, {Thing::Kind::member, id})});
        }
    }
    for (const Plate& plate : document.job().cage.plates) {
        for (const std::string& id : resolvedIds(plate.id, plate.mirrored)) {
            all.push_back({sidedName(shownName(plate), sideOf(id)), tr("plate"),
                           choose(Step::cage, {Thing::Kind::plate, id})});
        }
    }
    for (const PinnedDimension& pinned : document.job().cage.dimensions)
        all.push_back({text(shownName(pinned, document.geometry())), tr("dimension"),
                       choose(Step::cage, {Thing::Kind::dimension, pinned.id})});
    for (const CarPoint& point : document.job().car.points)
        all.push_back(
            {titled(point.name), tr("car point"), choose(Step::car, {Thing::Kind::car_point, point.name})});
    for (const CarScan& scan : document.job().car.scans)
        all.push_back({text(scan.file), tr("scan"), choose(Step::car, {Thing::Kind::car_scan, scan.file})});
    for (const Driver& driver : document.job().drivers)
        all.push_back(
            {text(driver.name), tr("driver"), choose(Step::driver, {Thing::Kind::driver, driver.id})});
    for (const Finding& finding : document.report().findings) {
        const FindingWords words = wordsOf(finding, desk_.units());
        all.push_back({words.title + QStringLiteral(", ") + text(finding.clause), tr("rule"),
                       choose(Step::check, {Thing::Kind::finding, findingKey(finding)})});
    }
    for (QAction* one : actions_) {
        if (!one->isEnabled()) continue;
        const QString key = one->shortcut().toString(QKeySequence::NativeText);
        all.push_back(
            {plainWords(one->text()), key.isEmpty() ? tr("command") : key, [one] { one->trigger(); }});
    }
    return all;
}

void MainWindow::nextFinding(int by) {
    QListView* list = short_->list();
    const int count = list->model()->rowCount();
    if (count == 0) {
        emit desk_.say(tr("Nothing falls short."));
        return;
    }
    const QModelIndexList chosen = list->selectionModel()->selectedIndexes();
    const int row = chosen.isEmpty() ? (by > 0 ? 0 : count - 1) : chosen.front().row() + by;
    list->setCurrentIndex(list->model()->index((row + count) % count, 0));
}

void MainWindow::nextPane(int by) {
    auto* page = static_cast<LeftPage*>(left_->currentWidget());
    QWidget* list = page->pane();
    QWidget* middle = view_->view() ? static_cast<QWidget*>(view_->view()) : view_;
    const std::vector<QWidget*> panes = {tables_->box(), list,
                                         middle,         tape_->field(),
                                         short_->list(), table_findings_->list(),
                                         says_->page(),  right_->currentWidget()};
    std::size_t at = 0;
    const QWidget* focus = QApplication::focusWidget();
    for (std::size_t i = 0; i < panes.size(); ++i) {
        if (focus && (panes[i] == focus || panes[i]->isAncestorOf(focus))) at = i;
    }
    for (std::size_t n = 1; n <= panes.size(); ++n) {
        QWidget* next = panes[(at + panes.size() + n * (by > 0 ? 1 : panes.size() - 1)) % panes.size()];
        if (!next->isVisible()) continue;
        if (next == list) {
            page->focusPane();
        } else if (next == details_ && details_->widget()) {
            details_->focusFirst();
        } else {
            next->setFocus(Qt::TabFocusReason);
        }
        return;
    }
}

void MainWindow::setDetached(bool detached) {
    if (detached == (detached_ != nullptr)) return;
    if (detached) {
        detached_ = new QWidget(nullptr, Qt::Window);
        detached_->setWindowTitle(tr("Hoopwright, 3D view"));
        detached_->installEventFilter(this);
        auto* column = new QVBoxLayout(detached_);
        column->setContentsMargins(0, 0, 0, 0);
        column->addWidget(view_);
        detached_->addActions(actions());
        detached_->resize(view_place_->size());
        detached_->show();
        view_place_->hide();
    } else {
        view_place_->show();
        view_place_->layout()->addWidget(view_);
        detached_->removeEventFilter(this);
        detached_->hide();
        detached_->deleteLater();
        detached_ = nullptr;
    }
    view_->show();
    action(tr("View in its own window"))->setChecked(detached);
}

bool MainWindow::eventFilter(QObject* watched, QEvent* event) {
    if (watched == detached_ && event->type() == QEvent::Close) {
        event->ignore();
        setDetached(false);
        return true;
    }
    return QMainWindow::eventFilter(watched, event);
}

}  // namespace hoopwright
