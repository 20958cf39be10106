#include "app/window/left_page.h"

#include <QAction>
#include <QHBoxLayout>
#include <QLabel>
#include <QMenu>
#include <QPainter>
#include <QTimer>
#include <QToolButton>
#include <QVBoxLayout>
#include <map>

#include "app/window/findings.h"
#include "app/window/form_help.h"
#include "app/window/header_row.h"
#include "app/window/node_rows.h"
#include "app/window/style.h"
#include "core/edit/cage_edits.h"
#include "core/model/measure_dimension.h"

namespace hoopwright {
namespace {

/// The mark of a bar or plate: cannot be built, else the worst answer about it.
std::optional<Answer> markOf(const Document& document, const std::string& resolved) {
    if (cannotBeBuilt(document.geometry(), layoutId(resolved))) return Answer::fails;
    const auto worst = worstOf(document.report(), resolved);
    return worst ? worst : std::optional(Answer::does_not_apply);
}

/// What the list of answers is asked for beside the answers themselves.
constexpr const char* kUnconfirmed = "unconfirmed";

}  // namespace

LeftPage::LeftPage(Desk& desk, const QString& heading, QWidget* parent)
    : QWidget(parent),
      desk_(desk),
      column_(new QVBoxLayout(this)),
      head_(new QWidget(this)),
      list_(new RowsView(desk, heading, this)),
      foot_strong_(new QLabel(this)),
      foot_figure_(new QLabel(this)),
      foot_soft_(new QLabel(this)) {
    column_->setContentsMargins(0, kGrid / 2, 0, kGrid);
    column_->setSpacing(0);
    auto* words = new QHBoxLayout(head_);
    words->setContentsMargins(2 * kGrid, 4, kGrid, 4);
    words->setSpacing(0);
    auto* title = new QLabel(heading, head_);
    title->setFont(typeFont(TypeSize::head, TypeWeight::strong));
    words->addWidget(title);
    words->addStretch(1);
    column_->addWidget(head_);
    column_->addWidget(list_, 1);
    auto* foot = new QHBoxLayout;
    foot->setContentsMargins(2 * kGrid, kGrid, 2 * kGrid, 0);
    foot_strong_->setProperty("role", "soft");
    foot_figure_->setFont(typeFont(TypeSize::body, TypeWeight::strong));
    foot_soft_->setProperty("role", "soft");
    foot_soft_->setFont(typeFont(TypeSize::small));
    foot_soft_->setContentsMargins(2 * kGrid, 2, 2 * kGrid, 0);
    foot_soft_->setWordWrap(true);
    foot_strong_->setWordWrap(true);
    foot->addWidget(foot_strong_, 1);
    foot->addWidget(foot_figure_);
    column_->addLayout(foot);
    column_->addWidget(foot_soft_);
    setFoot({}, {}, {});
    connect(&desk_, &Desk::paletteChanged, this, qOverload<>(&QWidget::update));
}

QWidget* LeftPage::addButton(QAction* action) {
    auto* button = new QToolButton(head_);
    button->setDefaultAction(action);
    button->setToolButtonStyle(Qt::ToolButtonTextOnly);
    button->setFocusPolicy(Qt::TabFocus);
    head_->layout()->addWidget(button);
    return button;
}

QWidget* LeftPage::addMenu(const QString& word, const std::vector<QAction*>& actions) {
    auto* button = new QToolButton(head_);
    auto* menu = new QMenu(button);
    for (QAction* action : actions) menu->addAction(action);
    button->setText(word);
    button->setMenu(menu);
    button->setPopupMode(QToolButton::InstantPopup);
    button->setToolButtonStyle(Qt::ToolButtonTextOnly);
    button->setFocusPolicy(Qt::TabFocus);
    head_->layout()->addWidget(button);
    return button;
}

void LeftPage::focusPane() {
    list_->setFocus(Qt::TabFocusReason);
}

void LeftPage::addAboveList(QWidget* widget) {
    column_->insertWidget(1, widget);
}

void LeftPage::addBesideList(QWidget* widget) {
    column_->insertWidget(column_->indexOf(list_) + 1, widget, 1);
}

void LeftPage::setFoot(const QString& strong, const QString& figure, const QString& soft) {
    foot_strong_->setText(strong);
    foot_figure_->setText(figure);
    foot_soft_->setText(soft);
    for (QLabel* label : {foot_strong_, foot_figure_, foot_soft_})
        label->setVisible(!label->text().isEmpty());
}

void LeftPage::paintEvent(QPaintEvent*) {
    QPainter(this).fillRect(rect(), desk_.palette().card);
}

DriverPage::DriverPage(Desk& desk, const std::vector<QAction*>& actions, QWidget* parent)
    : LeftPage(desk, tr("Driver"), parent) {
    for (QAction* action : actions) addButton(action);
    connect(&desk_.document, &Document::changed, this, &DriverPage::refresh);
    refresh();
}

void DriverPage::refresh() {
    std::vector<Row> rows;
    for (const Driver& driver : desk_.document.job().drivers) {
        Row row;
        row.thing = Thing{Thing::Kind::driver, driver.id};
        row.title = text(driver.name);
        row.detail = driver.occupant == Driver::Occupant::driver ? tr("driver") : tr("passenger");
        row.mark = worstOf(desk_.document.report(), driver.id);
        rows.push_back(row);
    }
    list()->setRows(std::move(rows));
    setFoot({}, {},
            tr("Measure each person in the real seat, helmet on and belted: the tallest and the shortest."));
}

CagePage::CagePage(Desk& desk, const std::vector<QAction*>& actions, QAction* build_order, QAction* nodes,
                   QWidget* parent)
    : LeftPage(desk, tr("Bars"), parent),
      build_order_(build_order),
      nodes_(nodes),
      nodes_soon_(new QTimer(this)) {
    constexpr int kSoon_ms = 150;
    addMenu(tr("List"), {nodes_, build_order_});
    nodes_soon_->setSingleShot(true);
    nodes_soon_->setInterval(kSoon_ms);
    connect(nodes_soon_, &QTimer::timeout, this, &CagePage::showNodes);
    connect(nodes_, &QAction::toggled, this, &CagePage::refresh);
    connect(&desk_.document, &Document::changed, this, [this](Document::Change change) {
        if (change == Document::Change::replaced) showNodes();
    });
    for (QAction* action : actions) addButton(action);
    connect(&desk_.document, &Document::changed, this, &CagePage::refresh);
    connect(&desk_, &Desk::unitsChanged, this, &CagePage::refresh);
    connect(build_order_, &QAction::toggled, this, &CagePage::refresh);
    refresh();
}

void CagePage::showNodes() {
    if (!nodes_->isChecked()) return;
    list()->setRows(nodeRows(desk_));
    const NodeReport& report = desk_.nodes();
    setFoot({}, {},
            tr("Near is within %1. What your class asks for stands under Check.")
                .arg(desk_.length(report.near_mm)));
}

void CagePage::refresh() {
    if (nodes_->isChecked()) {
        // Told once the hand rests; at once where the list has just been asked for.
        if (sender() == nodes_ || !list()->model()->rowCount()) return showNodes();
        return nodes_soon_->start();
    }
    const Job& job = desk_.document.job();
    std::map<Place, std::vector<Row>> places;
    std::vector<Row> rows;
    const bool by_place = !build_order_->isChecked();
    for (const Member& member : job.cage.members) {
        for (const std::string& id : resolvedIds(member.id, member.mirrored)) {
            Row row;
            row.thing = Thing{Thing::Kind::member, id};
            row.mark = markOf(desk_.document, id);
            row.title = sidedName(shownName(member), sideOf(id));
            row.name_first = true;
            // The number on the papers; a bar without a shape has none.
            if (const int at = desk_.document.geometry().member(id); !by_place && at >= 0)
                row.title = QString::number(at + 1) + QStringLiteral("  ") + row.title;
            row.detail = tubeName(member.stock);
            row.tip = text(roleOf(member.role).purpose);
            row.faint = member.optional_bar;
            (by_place ? places[roleOf(member.role).place] : rows).push_back(row);
        }
    }
    for (auto& [place, of_place] : places) {
        rows.push_back(headerRow(text(placeName(place))));
        rows.insert(rows.end(), of_place.begin(), of_place.end());
    }
    if (!job.cage.plates.empty()) rows.push_back(headerRow(tr("Foot plates"), tr("thick")));
    for (const Plate& plate : job.cage.plates) {
        for (const std::string& id : resolvedIds(plate.id, plate.mirrored)) {
            Row row;
            row.thing = Thing{Thing::Kind::plate, id};
            row.mark = markOf(desk_.document, id);
            row.title = sidedName(shownName(plate), sideOf(id));
            const bool inches = desk_.units() == UnitsShown::in;
            row.detail =
                measureText(plate.thickness_mm, Dimension::length, inches ? UnitsShown::in : UnitsShown::mm);
            rows.push_back(row);
        }
    }
    if (!job.cage.gussets.empty()) rows.push_back(headerRow(tr("Gussets")));
    for (const Gusset& gusset : job.cage.gussets) {
        Row row;
        row.thing = Thing{Thing::Kind::gusset, gusset.id};
        row.title = titled(gusset.id);
        row.detail = gusset.mirrored ? tr("pair") : QString();
        rows.push_back(row);
    }
    const auto read = measureDimensions(job, desk_.document.geometry());
    if (!read.empty()) rows.push_back(headerRow(tr("Dimensions")));
    for (std::size_t i = 0; i < read.size(); ++i) {
        Row row;
        row.thing = Thing{Thing::Kind::dimension, job.cage.dimensions[i].id};
        row.title = text(shownName(job.cage.dimensions[i], desk_.document.geometry()));
        row.detail =
            read[i] ? measureText(read[i].value, read[i].dimension, desk_.units()) : tr("no reading");
        row.tip = read[i] ? row.title : text(read[i].trouble);
        row.faint = !read[i];
        if (!read[i]) row.mark = Answer::cannot_tell;
        rows.push_back(row);
    }
    list()->setRows(std::move(rows));
    const CageTotals& totals = desk_.document.geometry().totals;
    setFoot(tr("%1 bars").arg(totals.members),
            massText(totals.tube_mass_kg + totals.plate_mass_kg, desk_.units(), 1),
            tr("%1 of tube").arg(longText(totals.tube_length_mm, desk_.units())));
}

CheckPage::CheckPage(Desk& desk, const std::vector<QAction*>& actions,
                     const std::vector<QAction*>& inspection, QWidget* parent)
    : LeftPage(desk, tr("Check"), parent) {
    addMenu(tr("Papers"), inspection);
    for (QAction* action : actions) addButton(action);
    auto* filter = new ChoiceField(
        desk_, tr("Which answers to list"),
        [] {
            std::vector<ChoiceField::Option> options{{"all", tr("every answer")}};
            for (const Answer answer : {Answer::fails, Answer::cannot_tell, Answer::ask_person, Answer::meets,
                                        Answer::does_not_apply}) {
                options.push_back({std::string(answerKey(answer)), tr("only: ") + answerWords(answer)});
                if (answer == Answer::meets)
                    options.push_back({kUnconfirmed, tr("only: meets, not confirmed")});
            }
            return options;
        },
        [this] { return shown_; },
        [this](const std::string& key) {
            shown_ = key;
            refresh();
        },
        this);
    auto* line = new QWidget(this);
    auto* margins = new QHBoxLayout(line);
    margins->setContentsMargins(2 * kGrid, 4, 2 * kGrid, 4);
    margins->addWidget(filter);
    addAboveList(line);
    connect(&desk_.document, &Document::changed, this, &CheckPage::refresh);
    connect(&desk_, &Desk::unitsChanged, this, &CheckPage::refresh);
    refresh();
}

void CheckPage::refresh() {
    const CheckReport& report = desk_.document.report();
    std::vector<Row> rows;
    for (const RuleTableInfo& table : report.tables) {
        std::vector<Row> of_table;
        for (const int index : worstFirst(report)) {
            const Finding& finding = report.findings[std::size_t(index)];
            if (finding.table != table.id) continue;
            const bool unconfirmed = finding.answer == Answer::meets && !finding.confirmed;
            if (shown_ == kUnconfirmed ? !unconfirmed
                                       : shown_ != "all" && shown_ != answerKey(finding.answer))
                continue;
            const FindingWords words = wordsOf(finding, desk_.units());
            Row row;
            row.thing = Thing{Thing::Kind::finding, findingKey(finding)};
            row.mark = finding.answer;
            row.title = words.title;
            row.name_first = true;
            row.detail = words.by.isEmpty() ? words.value : words.by;
            row.tip = words.sentence;
            if (unconfirmed) row.detail = tr("not confirmed");
            of_table.push_back(row);
        }
        rows.push_back(headerRow(text(table.title) + QStringLiteral(", ") + text(table.edition),
                                 QString::number(of_table.size())));
        rows.back().tip = rows.back().title + QLatin1Char('\n') + text(table.advice);
        rows.insert(rows.end(), of_table.begin(), of_table.end());
    }
    list()->setRows(std::move(rows));
    QStringList advice;
    for (const RuleTableInfo& table : report.tables) {
        // Of several tables what each says first: all of it is at each name.
        QString says = text(table.advice);
        if (report.tables.size() > 1) says = says.section(QLatin1Char('.'), 0, 0) + QLatin1Char('.');
        if (!table.advice.empty() && !advice.contains(says)) advice << says;
    }
    if (report.tables.size() > 1) advice << tr("What else each table says of itself is at its name above.");
    setFoot({}, {},
            report.tables.empty() ? tr("No class table in use: choose one with Class tables at the top.")
                                  : advice.join(QLatin1Char('\n')));
}

}  // namespace hoopwright
