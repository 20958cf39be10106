// Everything of the window that has a name and a key.
#include <QAction>
#include <QApplication>
#include <QFileDialog>
#include <QFileInfo>
#include <QMenu>
#include <QMenuBar>
#include <QMessageBox>
#include <QSettings>
#include <QStackedWidget>
#include <algorithm>

#include "app/view/view3d.h"
#include "app/window/add_scan.h"
#include "app/window/app_paths.h"
#include "app/window/bought_tube.h"
#include "app/window/car_step.h"
#include "app/window/details.h"
#include "app/window/draw_bar.h"
#include "app/window/fields.h"
#include "app/window/fit_bar.h"
#include "app/window/grip_hand.h"
#include "app/window/guide.h"
#include "app/window/hands.h"
#include "app/window/left_page.h"
#include "app/window/main_window.h"
#include "app/window/measuring_walk.h"
#include "app/window/order_page.h"
#include "app/window/own_demo.h"
#include "app/window/problems_page.h"
#include "app/window/records.h"
#include "app/window/save_export.h"
#include "app/window/save_turntable.h"
#include "app/window/show_customer.h"
#include "app/window/starter_picker.h"
#include "app/window/table_title.h"
#include "app/window/tape_strip.h"
#include "app/window/top_bar.h"
#include "app/window/tour.h"
#include "app/window/view_host.h"

namespace hoopwright {
QString plainWords(QString words) {
    return words.remove(QLatin1Char('&')).remove(QStringLiteral(" ..."));
}

QAction* MainWindow::act(const QString& words, const QKeySequence& keys, std::function<void()> run,
                         const QString& tip) {
    auto* action = new QAction(words, this);
    action->setShortcut(keys);
    const QString key =
        keys.isEmpty() ? QString()
                       : QStringLiteral(" (") + keys.toString(QKeySequence::NativeText) + QLatin1Char(')');
    action->setToolTip((tip.isEmpty() ? plainWords(words) : tip) + key);
    connect(action, &QAction::triggered, this, [go = std::move(run)] { go(); });
    addAction(action);
    actions_.push_back(action);
    return action;
}

QAction* MainWindow::tick(const QString& words, const QKeySequence& keys, bool on,
                          std::function<void(bool)> run) {
    QAction* action = act(words, keys, [] {});
    action->setCheckable(true);
    action->setChecked(on);
    connect(action, &QAction::toggled, this, [go = std::move(run)](bool now) { go(now); });
    return action;
}

QAction* MainWindow::action(const QString& words) const {
    for (QAction* one : actions_) {
        if (plainWords(one->text()) == words) return one;
    }
    return nullptr;
}

void MainWindow::buildActions() {
    buildFileMenu();
    buildEditMenu();
    buildCarMenu();
    buildBarMenu();
    buildViewMenu();
    buildCheckMenu();
    buildRulesMenu();
    buildHelpMenu();
    buildTopWords();
    buildViewBar();
    const auto named = [this](std::initializer_list<QString> words) {
        std::vector<QAction*> found;
        for (const QString& one : words) found.push_back(action(one));
        return found;
    };
    car_page_ = new CarPage(desk_, named({tr("Next blank")}),
                            named({tr("Add point"), tr("Add line"), tr("Add scan")}),
                            action(tr("Measuring sheet")), left_);
    left_->addWidget(car_page_);
    left_->addWidget(new DriverPage(desk_, named({tr("New driver"), tr("Add driver")}), left_));
    left_->addWidget(new CagePage(desk_, named({tr("Add bar")}), build_order_, nodes_shown_, left_));
    left_->addWidget(new CheckPage(desk_, named({tr("Next finding")}),
                                   named({tr("As built and papers"), tr("Inspector's pack")}), left_));
    left_->addWidget(new OrderPage(desk_, *orders_, named({tr("Sheets"), tr("Shop's book")}), left_));
    for (int i = 0; i < left_->count(); ++i) {
        auto* page = static_cast<LeftPage*>(left_->widget(i));
        connect(page->list(), &RowsView::entered, this, [this](const Thing& thing) {
            if (desk_.picking() && thing.kind == Thing::Kind::member) {
                const int at = desk_.document.geometry().member(thing.id);
                if (at < 0) return;
                const Centreline& line = desk_.document.geometry().members[std::size_t(at)].line;
                desk_.takePick(thing.id, line.point(line.length_mm() / 2));
                return;
            }
            if (view_->view() && (thing.kind == Thing::Kind::member || thing.kind == Thing::Kind::plate))
                view_->view()->flyToThing(thing.id);
            details_->focusFirst();
        });
    }
}

void MainWindow::buildFileMenu() {
    QMenu* menu = top_->menus()->addMenu(tr("&File"));
    menu->addAction(act(tr("New job ..."), QKeySequence::New, [this] { create(); }));
    menu->addAction(act(tr("Open ..."), QKeySequence::Open, [this] { openAsked(); }));
    QMenu* recent = menu->addMenu(tr("Open recent"));
    connect(recent, &QMenu::aboutToShow, this, [this, recent] { fillRecent(recent); });
    QMenu* demo = menu->addMenu(tr("Open a demo job"));
    for (const auto& file : dataFiles("cages")) {
        const QString name =
            QString::fromStdString(file.stem().string()).replace(QLatin1Char('_'), QLatin1Char(' '));
        demo->addAction(act(tr("Demo: %1").arg(name), {}, [this, file] {
            if (mayLeave()) openFile(demoToOpen(file));
        }));
    }
    demo->setEnabled(!demo->isEmpty());
    menu->addSeparator();
    menu->addAction(act(tr("Save"), QKeySequence::Save, [this] { save(); }));
    menu->addAction(
        act(tr("Save as ..."), QKeySequence(Qt::CTRL | Qt::SHIFT | Qt::Key_S), [this] { saveAs(); }));
    menu->addSeparator();
    menu->addAction(act(
        tr("Sheets ..."), QKeySequence::Print, [this] { openSheets(); },
        tr("Bend and cope sheets, order and quote: seen, printed, written to files")));
    menu->addAction(act(
        tr("Measuring sheet ..."), {}, [this] { saveSheet(); },
        tr("A numbered sheet to measure a car with, as PDF")));
    menu->addAction(act(
        tr("Show the customer ..."), {}, [this] { showCustomer(desk_, this); },
        tr("A PDF of a few pages: pictures, what each bar is for, options, clearances")));
    menu->addAction(act(
        tr("Save a picture ..."), {},
        [this] {
            if (view_->view()) savePicture(desk_, *view_->view(), this);
        },
        tr("What is seen now as PNG, up to 8K")));
    menu->addAction(act(
        tr("Turntable ..."), {},
        [this] {
            if (view_->view()) saveTurntable(desk_, *view_->view(), this);
        },
        tr("Once round the car: one animated PNG, or a folder of pictures")));
    menu->addAction(act(
        tr("Inspector's pack ..."), {}, [this] { saveInspectorPack(desk_, this); },
        tr("Drawings, schedules, checklist and declaration, as PDF and CSV")));
    menu->addAction(act(
        tr("Export ..."), {}, [this] { saveExport(desk_, this); },
        tr("For other programs: glTF, STEP, DXF, CSV")));
    menu->addSeparator();
    menu->addAction(act(
        tr("Shop's book ..."), {}, [this] { openBook(); },
        tr("Benders, dies, saws, stock, rack, minutes and prices of the shop")));
    menu->addAction(act(
        tr("As built and papers ..."), {}, [this] { showRecords(desk_, this); },
        tr("What was measured of the built cage, walls, certificates, dates, inspections")));
    menu->addAction(act(
        tr("Keep this car ..."), {}, [this] { keepCar(); }, tr("For the next job on such a car")));
    menu->addAction(act(
        tr("Make this table mine ..."), {}, [this] { makeTableMine(); },
        tr("A copy of the class table that you can change, used by this job")));
    menu->addSeparator();
    menu->addAction(act(tr("Quit"), QKeySequence(Qt::CTRL | Qt::Key_Q), [this] { close(); }));
}

void MainWindow::fillRecent(QMenu* menu) {
    menu->clear();
    for (const QString& file : QSettings().value(QStringLiteral("recent")).toStringList()) {
        QAction* one = menu->addAction(file);
        one->setEnabled(QFileInfo::exists(file));
        connect(one, &QAction::triggered, this, [this, file] {
            if (mayLeave()) openFile(file.toStdString());
        });
    }
    if (menu->isEmpty()) menu->addAction(tr("Nothing opened yet"))->setEnabled(false);
}

void MainWindow::buildEditMenu() {
    QMenu* menu = top_->menus()->addMenu(tr("&Edit"));
    undo_ = act(tr("Undo"), QKeySequence::Undo, [this] { desk_.document.undoStack().undo(); });
    redo_ = act(tr("Redo"), QKeySequence(Qt::CTRL | Qt::SHIFT | Qt::Key_Z),
                [this] { desk_.document.undoStack().redo(); });
    redo_->setShortcuts({QKeySequence(Qt::CTRL | Qt::SHIFT | Qt::Key_Z), QKeySequence(Qt::CTRL | Qt::Key_Y)});
    menu->addAction(undo_);
    menu->addAction(redo_);
    menu->addSeparator();
    menu->addAction(
        act(tr("Duplicate"), QKeySequence(Qt::CTRL | Qt::Key_D), [this] { duplicateChosen(desk_); }));
    menu->addAction(act(tr("Delete"), QKeySequence::Delete, [this] { deleteChosen(desk_, this); }));
    menu->addSeparator();
    menu->addAction(act(tr("Choose all of this tube"), {}, [this] { chooseSameTube(desk_); }));
    menu->addAction(act(tr("Choose all of this role"), {}, [this] { chooseSameRole(desk_); }));
    menu->addAction(act(
        tr("Let go"), Qt::Key_Escape, [this] { leaveThing(); },
        tr("Leave a pick, a finding or what is chosen")));
    menu->addSeparator();
    menu->addAction(act(tr("Find anything"), QKeySequence(Qt::CTRL | Qt::Key_F), [this] { find_->begin(); }));
    menu->addAction(act(tr("Type on the tape"), QKeySequence(Qt::CTRL | Qt::Key_T), [this] {
        if (tape_->field()->isVisible()) tape_->field()->setFocus(Qt::ShortcutFocusReason);
    }));
}

void MainWindow::leaveThing() {
    if (GripHand* hand = view_->hand(); hand && hand->holds()) {
        hand->drop();
    } else if (desk_.picking()) {
        desk_.dropPick();
    } else {
        desk_.selection.clear();
    }
}

void MainWindow::buildBarMenu() {
    QMenu* menu = top_->menus()->addMenu(tr("&Cage"));
    menu->addAction(act(
        tr("Lay out from a starter ..."), {}, [this] { layOutStarter(desk_, this); },
        tr("A whole cage in this car, in place of the one there is")));
    menu->addAction(act(
        tr("Fit to the car ..."), {}, [this] { fitChosen(desk_, this); },
        tr("The chosen bar as near to the skin as its die allows")));
    menu->addSeparator();
    menu->addAction(act(tr("Add bar ..."), QKeySequence(Qt::CTRL | Qt::Key_B), [this] {
        const std::string drawn = addBar(desk_, this);
        if (!drawn.empty() && view_->drawing()) view_->drawing()->begin(drawn);
    }));
    menu->addAction(act(
        tr("Bought bent tube ..."), {}, [this] { addBoughtTube(desk_, this); },
        tr("A bar that comes bent: type what was taped, see whether it fits this car")));
    menu->addAction(act(
        tr("Add plate"), QKeySequence(Qt::CTRL | Qt::SHIFT | Qt::Key_B), [this] { addPlate(desk_); },
        tr("A foot plate, under the free end of the chosen bar")));
    menu->addAction(act(
        tr("Tie to the frame, bolted"), {}, [this] { tieChosen(desk_, Fixing::bolted); },
        tr("The chosen foot to the nearest rail: a plate on it, and a return to the bar")));
    menu->addAction(act(
        tr("Tie to the frame, welded"), {}, [this] { tieChosen(desk_, Fixing::welded); },
        tr("The same, welded: a body that lifts off its frame then does not come off again")));
    menu->addAction(act(
        tr("Put on a riser"), {}, [this] { raiseChosen(desk_); },
        tr("The chosen foot plate on a box of sheet, or off it")));
    menu->addAction(act(
        tr("Add gusset"), {}, [this] { addGusset(desk_); }, tr("Between the two chosen bars")));
    menu->addSeparator();
    menu->addAction(act(
        tr("Make a cross"), {}, [this] { crossChosen(desk_); },
        tr("A bar the other way, cut to the chosen one")));
    menu->addAction(act(
        tr("Cut at the crossing"), {}, [this] { cutChosen(desk_); },
        tr("The bar chosen first is cut to the one chosen last, which runs through")));
    menu->addAction(act(
        tr("Join into one"), {}, [this] { joinChosen(desk_); },
        tr("Two bars that meet end on end become one; a corner becomes a bend")));
    menu->addAction(act(
        tr("Extend to the next bar"), {}, [this] { extendChosen(desk_); },
        tr("The free end goes on along its axis")));
    menu->addSeparator();
    menu->addAction(act(
        tr("Mirror, or break the pair"), QKeySequence(Qt::CTRL | Qt::Key_M), [this] { pairChosen(desk_); },
        tr("Left and right from one, or two of their own")));
    menu->addAction(act(
        tr("Fit the right side to the car"), {}, [this] { refitChosen(desk_); },
        tr("Breaks the pair; the right bar is moved to keep off its side as the left one does")));
    menu->addAction(act(
        tr("Put in earlier"), QKeySequence(Qt::ALT | Qt::Key_Up), [this] { moveChosenInOrder(desk_, -1); },
        tr("Where ends meet, the bar put in earlier runs through")));
    menu->addAction(act(tr("Put in later"), QKeySequence(Qt::ALT | Qt::Key_Down),
                        [this] { moveChosenInOrder(desk_, 1); }));
    build_order_ = tick(tr("Build order"), QKeySequence(Qt::CTRL | Qt::Key_L), false, [](bool) {});
    build_order_->setToolTip(tr("List bars in the order they are put in, not by place (Ctrl+L)"));
    menu->addAction(build_order_);
    nodes_shown_ = tick(tr("Nodes"), QKeySequence(Qt::CTRL | Qt::Key_K), false, [](bool) {});
    nodes_shown_->setToolTip(
        tr("Nodes, bays with nothing across, bends nothing holds, ends near a node (Ctrl+K)"));
    menu->addAction(nodes_shown_);
    menu->addSeparator();
    buildPinMenu(menu->addMenu(tr("Dimensions")));
    menu->addSeparator();
    menu->addAction(act(
        tr("Add driver ..."), {},
        [this] {
            goTo(Step::driver);
            addDriverFromFile(desk_, this);
        },
        tr("A person from a driver file")));
    menu->addAction(act(
        tr("New driver ..."), {},
        [this] {
            goTo(Step::driver);
            addDriverFromFigure(desk_, this);
        },
        tr("A person from a published figure, to be corrected with the tape")));
}

void MainWindow::buildCarMenu() {
    QMenu* menu = top_->menus()->addMenu(tr("Ca&r"));
    const auto walk = [this]() -> MeasuringWalk& {
        goTo(Step::car);
        car_page_->turnTo(CarPage::Shown::walk);
        return car_page_->walk();
    };
    menu->addAction(act(
        tr("Next blank"), Qt::Key_F3, [walk] { walk().goToBlank(1); },
        tr("The next figure of the measuring walk that is not read")));
    menu->addAction(
        act(tr("Blank before"), QKeySequence(Qt::SHIFT | Qt::Key_F3), [walk] { walk().goToBlank(-1); }));
    menu->addAction(act(
        tr("Give it another way"), Qt::Key_F2, [walk] { walk().askWay(); },
        tr("The place at hand by coordinates, by offsets or by tapes")));
    menu->addSeparator();
    menu->addAction(act(
        tr("Add point"), {},
        [this] {
            goTo(Step::car);
            car_page_->turnTo(CarPage::Shown::parts);
            addCarPoint(desk_);
        },
        tr("A measured point of the car")));
    menu->addAction(act(
        tr("Add line"), {},
        [this] {
            goTo(Step::car);
            car_page_->turnTo(CarPage::Shown::parts);
            addCarLine(desk_);
        },
        tr("A line of the car's body")));
    menu->addAction(act(
        tr("Add scan ..."), {},
        [this] {
            goTo(Step::car);
            car_page_->turnTo(CarPage::Shown::parts);
            addScan(desk_, this);
        },
        tr("A scan of the car: STL, OBJ or PLY")));
    menu->addAction(act(
        tr("Draw missing lines"), {}, [this] { drawMissingLines(desk_); },
        tr("Lines, rails and the roof's skin through the points the walk has measured")));
}

void MainWindow::buildCheckMenu() {
    QMenu* menu = top_->menus()->addMenu(tr("Chec&k"));
    menu->addAction(act(
        tr("Next finding"), Qt::Key_F4, [this] { nextFinding(1); },
        tr("The next that falls short, drawn in the view")));
    menu->addAction(
        act(tr("Finding before"), QKeySequence(Qt::SHIFT | Qt::Key_F4), [this] { nextFinding(-1); }));
    tables_menu_ = menu->addMenu(tr("Class tables"));
    connect(tables_menu_, &QMenu::aboutToShow, this, [this] { fillTables(tables_menu_); });
}

void MainWindow::fillTables(QMenu* menu) {
    menu->clear();
    std::vector<std::filesystem::path> files = dataFiles("rules");
    const auto& used = desk_.document.job().cage.rule_files;
    const auto isUsed = [&](const std::filesystem::path& file) {
        return std::find(used.begin(), used.end(), file.generic_string()) != used.end();
    };
    for (const std::string& one : used) {
        if (std::find(files.begin(), files.end(), std::filesystem::path(one)) == files.end())
            files.emplace_back(one);
    }
    const auto use = [this](const std::filesystem::path& file, bool on) {
        const Problems problems = desk_.document.useTable(file, on);
        if (!problems.empty())
            showProblems(tr("The class table was not taken in; nothing was changed."), problems);
    };
    for (const auto& file : files) {
        QAction* one = menu->addAction(tableTitle(file));
        one->setCheckable(true);
        one->setChecked(isUsed(file));
        connect(one, &QAction::triggered, this, [use, file](bool on) { use(file, on); });
    }
    menu->addSeparator();
    connect(menu->addAction(tr("Another table ...")), &QAction::triggered, this, [this, use] {
        const QString file =
            QFileDialog::getOpenFileName(this, tr("Use a class table"), {}, tr("Class tables (*.yaml)"));
        if (!file.isEmpty()) use(file.toStdString(), true);
    });
}

void MainWindow::buildHelpMenu() {
    QMenu* menu = top_->menus()->addMenu(tr("&Help"));
    const auto page = [this](const QString& name) {
        if (!guide_) guide_ = new Guide(this);
        guide_->turnTo(name);
    };
    menu->addAction(act(tr("Guide"), QKeySequence::HelpContents, [page] { page(QStringLiteral("start")); }));
    menu->addAction(act(
        tr("Tour"), {}, [this] { showTour(*this); }, tr("Five cards that lead round the window")));
    menu->addAction(act(tr("Keys"), {}, [page] { page(QStringLiteral("keys")); }));
    menu->addAction(act(tr("Cautions"), {}, [this] { Caution(this).exec(); }));
    menu->addAction(act(tr("About Hoopwright"), {}, [this] {
        QMessageBox::about(
            this, tr("About Hoopwright"),
            tr("<b>Hoopwright %1</b><p>Lays out roll cages and checks them against class rule "
               "tables.</p><p>%2</p>")
                .arg(QApplication::applicationVersion(),
                     cautionText().replace(QStringLiteral("\n\n"), QStringLiteral("</p><p>"))));
    }));
}

}  // namespace hoopwright
