#include "app/window/main_window.h"

#include <QApplication>
#include <QHBoxLayout>
#include <QScreen>
#include <QScrollArea>
#include <QSettings>
#include <QSplitter>
#include <QStackedWidget>
#include <QTimer>
#include <QToolButton>
#include <QVBoxLayout>
#include <algorithm>

#include "app/window/car_says.h"
#include "app/window/details.h"
#include "app/window/falls_short.h"
#include "app/window/findings.h"
#include "app/window/form_help.h"
#include "app/window/guide.h"
#include "app/window/left_page.h"
#include "app/window/order_page.h"
#include "app/window/point_picker.h"
#include "app/window/recovery.h"
#include "app/window/style.h"
#include "app/window/tape_strip.h"
#include "app/window/top_bar.h"
#include "app/window/view_host.h"

namespace hoopwright {
namespace {

constexpr int kListWidth = 272, kListLeast = 236, kDetailsWidth = 352, kDetailsLeast = 340;
constexpr int kRoomyWidth = 1200;
/// Of the window's width the view keeps half; list and details both stay until it has less than this.
constexpr double kViewLeast = 0.475;
constexpr int kFirstWidth = 1600, kFirstHeight = 920;

}  // namespace

MainWindow::MainWindow(const QString& recovery_root, QWidget* parent)
    : QMainWindow(parent),
      recovery_(new Recovery(desk_.document, recovery_root, this)),
      orders_(new OrderMaker(desk_, this)) {
    setMinimumSize(900, 560);
    buildPanels();
    buildActions();
    connect(&desk_.document, &Document::changed, this, &MainWindow::followDocument);
    // Not with Document::changed: a step is counted only once its edit is done.
    connect(&desk_.document.undoStack(), &QUndoStack::indexChanged, this, &MainWindow::refreshUndo);
    connect(&desk_, &Desk::unitsChanged, this, &MainWindow::refreshSteps);
    connect(rail_, &StepRail::wanted, this, &MainWindow::turnTo);
    connect(&desk_.scans, &ScanLoader::refused, this,
            [this](const QString& name, const Problems& problems, bool adding) {
                showProblems(adding ? tr("%1 was not added; the job is as it was.").arg(name)
                                    : tr("%1 was not read: gaps to it cannot be told.").arg(name),
                             problems);
            });
    connect(&desk_.scans, &ScanLoader::stopped, this, [this](const QString& name) {
        emit desk_.say(tr("%1 was not read; the job is as it was.").arg(name));
    });
    connect(&desk_.scans, &ScanLoader::added, this, [this](const std::string& scan) {
        emit desk_.say({});
        desk_.selection.set({Thing::Kind::car_scan, scan});
    });
    // In the Order step the right side draws sticks: what a finding says stands in the Check step.
    connect(&desk_.selection, &Selection::changed, this, [this] {
        const Thing* last = desk_.selection.last();
        if (step_ == Step::order && last && last->kind == Thing::Kind::finding) goTo(Step::check);
    });
    recallLayout();
    goTo(Step::cage);
    followDocument();
    refreshUndo();
}

MainWindow::~MainWindow() {
    // The panels listen to the desk, which goes before QWidget would take them down.
    delete detached_;
    delete takeCentralWidget();
}

void MainWindow::buildPanels() {
    auto* whole = new QWidget(this);
    auto* column = new QVBoxLayout(whole);
    column->setContentsMargins(0, 0, 0, 0);
    column->setSpacing(0);
    top_ = new TopBar(desk_, whole);
    column->addWidget(top_);
    auto* row = new QHBoxLayout;
    row->setSpacing(0);
    column->addLayout(row, 1);
    rail_ = new StepRail(desk_, whole);
    row->addWidget(rail_);
    halves_ = new QSplitter(Qt::Horizontal, whole);
    halves_->setHandleWidth(1);
    halves_->setChildrenCollapsible(false);
    row->addWidget(halves_, 1);
    columns_ = new QSplitter(Qt::Horizontal, halves_);
    columns_->setHandleWidth(1);
    columns_->setChildrenCollapsible(false);

    left_ = new QStackedWidget(columns_);
    left_->setMinimumWidth(kListLeast);
    rows_ = new QSplitter(Qt::Vertical, columns_);
    rows_->setHandleWidth(1);
    rows_->setChildrenCollapsible(false);
    view_place_ = new QWidget(rows_);
    auto* place = new QVBoxLayout(view_place_);
    place->setContentsMargins(0, 0, 0, 0);
    view_ = new ViewHost(desk_, view_place_);
    view_->setMinimumSize(360, 220);
    place->addWidget(view_);
    if (view_->view()) new PointPicker(desk_, *view_->view(), [this] { return step_ == Step::car; });
    auto* under = new QWidget(rows_);
    auto* under_column = new QVBoxLayout(under);
    under_column->setContentsMargins(0, 0, 0, 0);
    under_column->setSpacing(0);
    tape_ = new TapeStrip(desk_, under);
    short_ = new FallsShort(desk_, under);
    under_column->addWidget(tape_);
    under_column->addWidget(short_, 1);
    says_ = new CarSays(desk_, under);
    under_column->addWidget(says_, 1);
    buildTableEditor(under);
    rows_->setStretchFactor(0, 1);
    rows_->setStretchFactor(1, 0);

    right_ = new QStackedWidget(columns_);
    right_->setMinimumWidth(kDetailsLeast);
    details_ = new Details(desk_, right_);
    right_->addWidget(details_);
    auto* order = new QScrollArea(right_);
    order->setObjectName(QStringLiteral("card"));
    order->setWidgetResizable(true);
    order->setHorizontalScrollBarPolicy(Qt::ScrollBarAlwaysOff);
    order->setWidget(new NestDrawing(desk_, *orders_, order));
    right_->addWidget(order);
    columns_->setStretchFactor(0, 0);
    columns_->setStretchFactor(1, 1);
    columns_->setStretchFactor(2, 0);
    connect(columns_, &QSplitter::splitterMoved, this, &MainWindow::foldAsNeeded);
    setCentralWidget(whole);
}

QWidget& MainWindow::rightPanel() {
    return *right_;
}

void MainWindow::turnTo(Step step) {
    using Kind = Thing::Kind;
    if (const Thing* last = desk_.selection.last()) {
        const Kind kind = last->kind;
        const bool of_car = kind == Kind::car_facts || kind == Kind::car_point || kind == Kind::car_line ||
                            kind == Kind::car_scan;
        if ((of_car && step != Step::car) || (kind == Kind::driver && step != Step::driver))
            desk_.selection.clear();
    }
    goTo(step);
}

void MainWindow::goTo(Step step) {
    hideTableEditor();
    step_ = step;
    rail_->setCurrent(step);
    left_->setCurrentIndex(int(step));
    right_->setCurrentIndex(step == Step::order ? 1 : 0);
    orders_->setWanted(step == Step::order);
    short_->setVisible(step != Step::car);
    says_->setVisible(step == Step::car);
    view_->setStep(step);
    details_->setStep(step);
}

void MainWindow::followDocument() {
    refreshTitle();
    refreshSteps();
}

void MainWindow::refreshUndo() {
    const QUndoStack& stack = desk_.document.undoStack();
    undo_->setEnabled(stack.canUndo());
    undo_->setToolTip(stack.canUndo() ? tr("Undo: %1 (Ctrl+Z)").arg(stack.undoText())
                                      : tr("Nothing to undo"));
    redo_->setEnabled(stack.canRedo());
    redo_->setToolTip(stack.canRedo() ? tr("Redo: %1 (Ctrl+Shift+Z)").arg(stack.redoText())
                                      : tr("Nothing to redo"));
}

void MainWindow::refreshTitle() {
    setWindowTitle(desk_.document.title() + QStringLiteral("[*] - Hoopwright"));
    setWindowModified(desk_.document.dirty());
}

void MainWindow::refreshSteps() {
    const Document& document = desk_.document;
    const Job& job = document.job();
    const auto count = [](std::size_t n, const QString& one, const QString& many) {
        return n == 1 ? one : many.arg(n);
    };
    using StepMark = std::optional<Answer>;
    rail_->setState(Step::car,
                    job.car.points.empty() ? tr("not measured")
                                           : count(job.car.points.size(), tr("1 point"), tr("%1 points")),
                    job.car.points.empty() ? StepMark(Answer::cannot_tell) : StepMark());
    rail_->setState(
        Step::driver,
        job.drivers.empty() ? tr("nobody") : count(job.drivers.size(), tr("1 seated"), tr("%1 seated")),
        job.drivers.empty() ? StepMark(Answer::cannot_tell) : StepMark());
    const std::size_t wrong = document.geometry().problems.size();
    const std::size_t bars = document.geometry().members.size();
    rail_->setState(Step::cage,
                    wrong > 0 ? tr("%1 wrong").arg(wrong) : count(bars, tr("1 bar"), tr("%1 bars")),
                    wrong > 0 ? StepMark(Answer::fails) : StepMark());
    const CheckReport& report = document.report();
    const int fails = report.count(Answer::fails), unknown = report.count(Answer::cannot_tell),
              ask = report.count(Answer::ask_person);
    if (document.tables().empty()) {
        rail_->setState(Step::check, tr("no table"), {});
    } else if (fails > 0) {
        rail_->setState(Step::check, tr("%1 fail").arg(fails), Answer::fails);
    } else if (unknown > 0) {
        rail_->setState(Step::check, tr("%1 can't tell").arg(unknown), Answer::cannot_tell);
    } else if (ask > 0) {
        rail_->setState(Step::check, tr("%1 to ask").arg(ask), Answer::ask_person);
    } else if (report.unconfirmed() > 0) {
        rail_->setState(Step::check, tr("%1 not confirmed").arg(report.unconfirmed()), Answer::cannot_tell);
    } else {
        rail_->setState(Step::check, tr("all meet"), Answer::meets);
    }
    const double tube_mm = document.geometry().totals.tube_length_mm;
    rail_->setState(Step::order,
                    longText(tube_mm, desk_.units() == UnitsShown::in ? UnitsShown::in : UnitsShown::mm), {});
    if (tables_word_) {
        const auto& tables = report.tables;
        QString words = tables.empty() ? tr("No class table") : text(tables.front().title);
        words = tables_word_->fontMetrics().elidedText(words, Qt::ElideRight, width() > 1500 ? 220 : 130);
        if (tables.size() > 1) words += tr(" +%1").arg(tables.size() - 1);
        tables_word_->setText(words);
    }
}

void MainWindow::foldAsNeeded() {
    if (folding_) return;
    folding_ = true;
    const int room = width() - rail_->width(), half = width() / 2, view_least = int(kViewLeast * width());
    const bool list_wanted = !editing_ && list_shown_ && list_shown_->isChecked();
    const bool details_wanted = !editing_ && details_shown_ && details_shown_->isChecked();
    const int list = list_wanted ? kListLeast : 0, details = details_wanted ? kDetailsLeast : 0;
    details_folded_ = details_wanted && room - list - details < view_least;
    list_folded_ = list_wanted && room - list - (details_folded_ ? 0 : details) < view_least;
    left_->setVisible(list_wanted && !list_folded_);
    right_->setVisible(details_wanted && !details_folded_);
    QList<int> sizes = columns_->sizes();
    const auto clampTo = [](int size, int least, int usual) { return size < least ? usual : size; };
    int left = left_->isVisibleTo(columns_) ? clampTo(sizes[0], kListLeast, kListWidth) : 0;
    int right = right_->isVisibleTo(columns_) ? clampTo(sizes[2], kDetailsLeast, kDetailsWidth) : 0;
    const int short_by = half - (room - left - right - 2);
    if (short_by > 0) {  // the view keeps half: the details give first, then the list
        const int given = std::min(short_by, std::max(0, right - kDetailsLeast));
        right -= given;
        left = std::max(left > 0 ? kListLeast : 0, left - (short_by - given));
    }
    columns_->setSizes({left, room - left - right - 2, right});
    folding_ = false;
}

void MainWindow::resizeEvent(QResizeEvent* event) {
    QMainWindow::resizeEvent(event);
    foldAsNeeded();
    refreshSteps();
    // The menus come first: what finds anything makes room for them.
    find_->setFixedWidth(width() < kRoomyWidth ? 150 : 240);
}

void MainWindow::rememberLayout() {
    QSettings settings;
    settings.setValue(QStringLiteral("geometry"), saveGeometry());
    settings.setValue(QStringLiteral("columns"), columns_->saveState());
    settings.setValue(QStringLiteral("rows"), rows_->saveState());
    settings.setValue(QStringLiteral("tone"), int(desk_.palette().tone));
    settings.setValue(QStringLiteral("list"), list_shown_->isChecked());
    settings.setValue(QStringLiteral("details"), details_shown_->isChecked());
}

void MainWindow::recallLayout() {
    QSettings settings;
    list_shown_->setChecked(settings.value(QStringLiteral("list"), true).toBool());
    details_shown_->setChecked(settings.value(QStringLiteral("details"), true).toBool());
    setUnits(static_cast<UnitsShown>(std::clamp(settings.value(QStringLiteral("units"), 0).toInt(), 0, 2)));
    if (!restoreGeometry(settings.value(QStringLiteral("geometry")).toByteArray())) {
        const QSize screen = QApplication::primaryScreen()->availableSize();
        resize(std::min(kFirstWidth, screen.width()), std::min(kFirstHeight, screen.height()));
        if (screen.width() <= kFirstWidth) setWindowState(Qt::WindowMaximized);
    }
    columns_->restoreState(settings.value(QStringLiteral("columns")).toByteArray());
    if (!rows_->restoreState(settings.value(QStringLiteral("rows")).toByteArray()))
        rows_->setSizes({10000, tape_->height() + 168});
    columns_->setHandleWidth(1);
    rows_->setHandleWidth(1);
}

void MainWindow::useTone(Tone tone) {
    desk_.setTone(tone);
    qApp->setPalette(qtPaletteOf(desk_.palette()));
    qApp->setStyleSheet(styleSheetOf(desk_.palette()));
}

}  // namespace hoopwright
