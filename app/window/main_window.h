// The window: steps at the left, the 3D view always there, the tape and what falls short under it, one
// details.
#pragma once

#include <QMainWindow>
#include <filesystem>
#include <functional>
#include <vector>

#include "app/window/desk.h"
#include "app/window/find_box.h"
#include "app/window/step_rail.h"

class QAction;
class QMenu;
class QSplitter;
class QStackedWidget;
class QToolButton;

namespace hoopwright {

class BookPanel;
class CarPage;
class CarSays;
class FallsShort;
class Guide;
class Details;
class OrderMaker;
class Recovery;
class SheetsWindow;
class TableEditor;
class TableFindings;
class TapeStrip;
class TopBar;
class ViewHost;

/// An action's text without its key mark and ellipsis: "&File ..." -> "File".
QString plainWords(QString words);

class MainWindow : public QMainWindow {
    Q_OBJECT
public:
    /// `recovery_root`: where copies of unsaved work are kept.
    explicit MainWindow(const QString& recovery_root, QWidget* parent = nullptr);
    ~MainWindow() override;

    Desk& desk() { return desk_; }
    Recovery& recovery() { return *recovery_; }
    ViewHost& viewHost() { return *view_; }
    QStackedWidget& leftPages() { return *left_; }
    QWidget& rightPanel();
    CarSays& carSays() { return *says_; }
    CarPage& carPage() { return *car_page_; }
    Details& details() { return *details_; }
    FallsShort& fallsShort() { return *short_; }
    TapeStrip& tapeStrip() { return *tape_; }
    TableEditor& tableEditor() { return *tables_; }
    TableFindings& tableFindings() { return *table_findings_; }

    /// Opens a job; shows the problems page and keeps the open job if it will not do.
    bool openFile(const std::filesystem::path& cage);
    /// Asks about work of a program that was killed, once for each.
    void offerLostWork();
    /// The step, with its list and details; a table that is open in the editor waits behind it.
    void goTo(Step step);
    /// Shows a table in the editor, at a rule if one is named. A table with unsaved changes is asked about.
    void editTable(const std::filesystem::path& file, const std::string& rule = {});
    bool editingTable() const { return editing_; }
    Step step() const { return step_; }
    /// The action with that text ("Add bar"), without its ellipsis; null if there is none.
    QAction* action(const QString& words) const;
    void useTone(Tone tone);
    bool viewIsDetached() const { return detached_ != nullptr; }

protected:
    void closeEvent(QCloseEvent* event) override;
    void resizeEvent(QResizeEvent* event) override;
    bool eventFilter(QObject* watched, QEvent* event) override;

private:
    // main_window.cpp: what stands where, and what follows what
    void buildPanels();
    void followDocument();
    void refreshUndo();
    void refreshSteps();
    void refreshTitle();
    void foldAsNeeded();
    void rememberLayout();
    void recallLayout();
    // main_actions.cpp: everything that has a name and a key
    QAction* act(const QString& words, const QKeySequence& keys, std::function<void()> run,
                 const QString& tip = {});
    QAction* tick(const QString& words, const QKeySequence& keys, bool on, std::function<void(bool)> run);
    void buildActions();
    void buildFileMenu();
    void buildEditMenu();
    void buildCarMenu();
    void buildBarMenu();
    void buildViewMenu();
    void buildCheckMenu();
    void buildHelpMenu();
    void buildTopWords();
    void buildViewBar();
    void buildPinMenu(QMenu* menu);
    void buildSeeing();  ///< isolate, ghosts, section, two-point: keys of the view
    /// A key that counts in the 3D view alone.
    void keyInView(QAction* action, const QKeySequence& keys);
    std::vector<Findable> everything();
    void fillTables(QMenu* menu);
    void fillRecent(QMenu* menu);
    /// A person turns to the step: what was chosen of the car or of a person stays behind in its own.
    void turnTo(Step step);
    void setUnits(UnitsShown units);
    void chooseUnits(UnitsShown units);  ///< a person's choice: kept, whatever a job is written in
    void takeUnitsOfJob();               ///< where nobody chose yet
    void nextFinding(int by);
    void nextPane(int by);
    void setDetached(bool detached);
    void leaveThing();
    // main_files.cpp: jobs and their files
    void create();
    void keepCar();
    void saveSheet();
    void openSheets();
    void openBook();
    void openAsked();
    bool save();
    bool saveAs();
    bool mayLeave();  ///< saved, or the person does not mind
    void showProblems(const QString& what, const Problems& problems);
    void addRecent(const std::filesystem::path& cage);
    // main_tables.cpp: the table editor
    void buildTableEditor(QWidget* under);
    void buildRulesMenu();
    void fillEditMenu(QMenu* menu);
    void showTableEditor();
    void hideTableEditor();
    void editSomeTable();
    void showRuleOfFinding();
    void makeTableMine();
    bool saveTable();
    bool saveTableAs();
    bool mayLeaveTable();
    void closeTable();
    void checkWithTable();
    void refreshTableActions();
    /// The file of a table the person may mean: the open one, else the first of the job; empty: none.
    std::filesystem::path tableAtHand() const;

    Desk desk_;
    Recovery* recovery_;
    OrderMaker* orders_;
    TopBar* top_;
    StepRail* rail_;
    QSplitter *halves_, *columns_, *rows_;  ///< halves: the table editor beside all the rest
    TableEditor* tables_ = nullptr;
    TableFindings* table_findings_ = nullptr;
    QStackedWidget *left_, *right_;
    CarPage* car_page_ = nullptr;
    CarSays* says_;
    Details* details_;
    ViewHost* view_;
    QWidget* view_place_;  ///< where the view stands when it is in this window
    QWidget* detached_ = nullptr;
    TapeStrip* tape_;
    FallsShort* short_;
    FindBox* find_ = nullptr;
    Guide* guide_ = nullptr;
    SheetsWindow* sheets_ = nullptr;
    BookPanel* book_ = nullptr;
    QToolButton *units_word_ = nullptr, *tables_word_ = nullptr;
    QMenu *looks_menu_ = nullptr, *tables_menu_ = nullptr;
    std::vector<QAction*> actions_;
    QAction *undo_ = nullptr, *redo_ = nullptr, *list_shown_ = nullptr, *details_shown_ = nullptr;
    QAction *build_order_ = nullptr, *nodes_shown_ = nullptr, *isolated_ = nullptr;
    QAction *show_rule_ = nullptr, *new_rule_ = nullptr, *change_rule_ = nullptr, *save_table_ = nullptr,
            *save_table_as_ = nullptr, *close_table_ = nullptr;
    Step step_ = Step::cage;
    bool editing_ = false, folding_ = false, list_folded_ = false, details_folded_ = false;
};

}  // namespace hoopwright
