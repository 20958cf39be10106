#include "app/window/starter_picker.h"

#include <QCloseEvent>
#include <QDialogButtonBox>
#include <QFormLayout>
#include <QGuiApplication>
#include <QHBoxLayout>
#include <QHeaderView>
#include <QLabel>
#include <QListWidget>
#include <QPainter>
#include <QPushButton>
#include <QScrollArea>
#include <QSignalBlocker>
#include <QTreeWidget>
#include <QVBoxLayout>
#include <algorithm>
#include <set>

#include "app/view/finding_text.h"
#include "app/window/cage_sketch.h"
#include "app/window/fields.h"
#include "app/window/form_help.h"
#include "app/window/style.h"

namespace hoopwright {

/// The chosen cage, drawn large.
class SketchView : public QWidget {
public:
    SketchView(const Palette& palette, QWidget* parent) : QWidget(parent), palette_(palette) {
        setMinimumSize(320, 200);
    }
    void show(std::shared_ptr<const CageGeometry> cage) {
        cage_ = std::move(cage);
        update();
    }

protected:
    void paintEvent(QPaintEvent*) override {
        QPainter painter(this);
        painter.fillRect(rect(), palette_.field);
        if (cage_) sketchCage(painter, rect(), *cage_, palette_);
    }

private:
    const Palette& palette_;
    std::shared_ptr<const CageGeometry> cage_;
};

namespace {

constexpr QSize kIcon(104, 72);
constexpr int kIdRole = Qt::UserRole;
constexpr int kFirst = 2, kOther = 1;  ///< urgency of what is waited for

QString clauses(const std::vector<RuleName>& rules) {
    QStringList words;
    for (const RuleName& rule : rules) words << text(rule.clause);
    return words.join(QStringLiteral(", "));
}

QString rulesInFull(const std::vector<RuleName>& rules) {
    QStringList words;
    for (const RuleName& rule : rules)
        words << text(rule.clause + " " + rule.title) +
                     (rule.required ? QString() : QObject::tr(" (recommended)"));
    return words.join(QLatin1Char('\n'));
}

}  // namespace

StarterPicker::StarterPicker(Desk& desk, QWidget* parent)
    : QDialog(parent),
      desk_(desk),
      chooser_(std::make_shared<StarterChooser>(desk.document.tables(), desk.document.job())),
      list_(new QListWidget(this)) {
    setWindowTitle(tr("Lay out from a starter"));
    worker_.setMaxThreadCount(1);
    auto* column = new QVBoxLayout(this);
    column->setContentsMargins(2 * kGrid, 2 * kGrid, 2 * kGrid, 2 * kGrid);
    column->setSpacing(kGrid);
    auto* row = new QHBoxLayout;
    row->setSpacing(2 * kGrid);
    list_->setAccessibleName(tr("Starters"));
    list_->setIconSize(kIcon);
    list_->setWordWrap(true);
    list_->setFixedWidth(336);
    list_->setHorizontalScrollBarPolicy(Qt::ScrollBarAlwaysOff);
    list_->setSpacing(2);
    QPixmap blank(kIcon);
    blank.fill(desk.palette().field);
    for (const Starter& starter : starters()) {
        auto* item = new QListWidgetItem(QIcon(blank), text(starter.name), list_);
        item->setData(kIdRole, text(starter.id));
        item->setToolTip(text(starter.about));
        Wished& one = all_[starter.id];
        one.wish.starter = starter.id;
        one.wish.least_gap_mm = usualGap_mm(desk);
    }
    row->addWidget(list_);
    row->addWidget(middle(), 1);
    row->addWidget(switches());
    column->addLayout(row, 1);
    auto* buttons = new QDialogButtonBox(this);
    buttons->addButton(tr("Cancel"), QDialogButtonBox::RejectRole);
    use_ = buttons->addButton(tr("Lay it out"), QDialogButtonBox::AcceptRole);
    makePrimary(use_);
    use_->setDefault(true);
    connect(buttons, &QDialogButtonBox::accepted, this, &QDialog::accept);
    connect(buttons, &QDialogButtonBox::rejected, this, &QDialog::reject);
    column->addWidget(buttons);
    connect(list_, &QListWidget::currentRowChanged, this, [this] {
        const Wished& one = all_.at(chosen());
        if (!one.answer) ask(chosen(), kFirst);
        refresh();
    });
    connect(options_, &QTreeWidget::itemChanged, this, [this](QTreeWidgetItem* item, int) { turn(item); });
    resizeOnScreen(this, {1240, 680});
    list_->setCurrentRow(3);
    askAll();
    list_->setFocus();
}

StarterPicker::~StarterPicker() {
    worker_.clear();
    worker_.waitForDone();
}

QWidget* StarterPicker::middle() {
    auto* part = new QWidget(this);
    auto* column = new QVBoxLayout(part);
    column->setContentsMargins(0, 0, 0, 0);
    column->setSpacing(kGrid);
    name_ = new QLabel(part);
    name_->setFont(typeFont(TypeSize::head, TypeWeight::strong));
    about_ = new QLabel(part);
    about_->setWordWrap(true);
    about_->setProperty("role", "soft");
    sketch_ = new SketchView(desk_.palette(), part);
    sums_ = new QLabel(part);
    sums_->setAccessibleName(tr("What it comes to"));
    says_ = new QLabel(part);
    says_->setWordWrap(true);
    says_->setAlignment(Qt::AlignTop);
    says_->setAccessibleName(tr("What falls short"));
    says_->setTextInteractionFlags(Qt::TextSelectableByMouse);
    auto* scroll = new QScrollArea(part);
    scroll->setWidgetResizable(true);
    scroll->setWidget(says_);
    scroll->setFixedHeight(120);
    scroll->setFocusPolicy(Qt::NoFocus);
    column->addWidget(name_);
    column->addWidget(about_);
    column->addWidget(sketch_, 1);
    column->addWidget(sums_);
    column->addWidget(scroll);
    return part;
}

QWidget* StarterPicker::switches() {
    auto* part = new QWidget(this);
    part->setFixedWidth(400);
    auto* column = new QVBoxLayout(part);
    column->setContentsMargins(0, 0, 0, 0);
    column->setSpacing(kGrid);
    options_ = new QTreeWidget(part);
    options_->setAccessibleName(tr("Options"));
    options_->setRootIsDecorated(false);
    options_->setHeaderLabels({tr("Option"), tr("Adds"), tr("Asked for by")});
    options_->header()->setSectionResizeMode(0, QHeaderView::ResizeToContents);
    options_->header()->setSectionResizeMode(1, QHeaderView::ResizeToContents);
    column->addWidget(options_, 1);
    const auto again = [this] {
        for (auto& [id, one] : all_) {
            one.wish.least_gap_mm = gap_mm_.value_or(usualGap_mm(desk_));
            one.wish.hoop_x_mm = hoop_x_mm_;
        }
        askAll();
        refresh();
    };
    auto* form = new QFormLayout;
    form->setSpacing(kGrid);
    auto* gap = new ValueField(desk_,
                               {tr("Gap to the skin, at least"), Dimension::length,
                                [this] { return std::optional(gap_mm_.value_or(usualGap_mm(desk_))); },
                                [this, again](std::optional<double> to, const QByteArray&) {
                                    gap_mm_ = to;
                                    again();
                                },
                                false},
                               part);
    gap->setOnTape(false);
    gap->setLeast(0);
    auto* hoop = new ValueField(desk_,
                                {tr("Hoop's feet at x"), Dimension::length, [this] { return hoop_x_mm_; },
                                 [this, again](std::optional<double> to, const QByteArray&) {
                                     hoop_x_mm_ = to;
                                     again();
                                 },
                                 true},
                                part);
    hoop->setOnTape(false);
    hoop->setPlaceholderText(tr("as near to the door as drivers allow"));
    gap->setAccessibleName(tr("Gap to the skin, at least"));
    hoop->setAccessibleName(tr("Hoop's feet at x"));
    gap->refresh();
    hoop->refresh();
    form->addRow(tr("Gap to the skin, at least"), gap);
    form->addRow(tr("Hoop's feet at x"), hoop);
    column->addLayout(form);
    return part;
}

std::string StarterPicker::chosen() const {
    const QListWidgetItem* item = list_->currentItem();
    return item ? item->data(kIdRole).toString().toStdString() : starters().front().id;
}

QString StarterPicker::starterName() const {
    return text(starterNamed(chosen())->name);
}

const CageLayout* StarterPicker::cage() const {
    const Wished& one = all_.at(chosen());
    return one.answer && one.answer->asked == one.asked && one.answer->choice ? &one.answer->choice->made.cage
                                                                              : nullptr;
}

/// What waits is dropped; what is looked at comes first.
void StarterPicker::askAll() {
    worker_.clear();
    ask(chosen(), kFirst);
    for (const Starter& starter : starters())
        if (starter.id != chosen()) ask(starter.id, kOther);
}

void StarterPicker::ask(const std::string& starter, int urgency) {
    Wished& one = all_.at(starter);
    const int asked = ++one.asked;
    worker_.start(
        [this, chooser = chooser_, wish = one.wish, starter, asked] {
            auto answer = std::make_shared<LaidOut>();
            answer->asked = asked;
            answer->choice = chooser->choose(wish);
            if (answer->choice)
                if (auto effects = chooser->effects(answer->choice->wish))
                    answer->effects = *std::move(effects);
            QMetaObject::invokeMethod(
                this, [this, starter, answer] { take(starter, answer); }, Qt::QueuedConnection);
        },
        urgency);
}

void StarterPicker::take(const std::string& starter, const std::shared_ptr<const LaidOut>& answer) {
    Wished& one = all_.at(starter);
    if (answer->asked != one.asked) return;  // of a wish that was changed meanwhile
    one.answer = answer;
    refreshRow(starter);
    if (starter == chosen()) refresh();
}

void StarterPicker::refreshRow(const std::string& starter) {
    const LaidOut& answer = *all_.at(starter).answer;
    for (int i = 0; i < list_->count(); ++i) {
        QListWidgetItem* item = list_->item(i);
        if (item->data(kIdRole).toString() != text(starter)) continue;
        QString words = text(starterNamed(starter)->name);
        if (answer.choice) {
            const CageTotals& totals = answer.choice->geometry.totals;
            words += QLatin1Char('\n') +
                     tr("%1, %2 tubes")
                         .arg(massText(totals.tube_mass_kg + totals.plate_mass_kg, desk_.units(), 1))
                         .arg(totals.members);
            const auto count = answer.choice->falls_short.size();
            words += count == 0 ? tr(", meets its class") : tr(", %1 short").arg(count);
            if (desk_.document.tables().empty()) words.remove(tr(", meets its class"));
            item->setIcon(
                QIcon(cageSketch(answer.choice->geometry, kIcon, devicePixelRatioF(), desk_.palette())));
        } else {
            words += QLatin1Char('\n') + tr("not in this car");
        }
        item->setText(words);
    }
}

/// A person turned a switch: what is not of its group stays as it is.
void StarterPicker::turn(QTreeWidgetItem* option) {
    Wished& one = all_.at(chosen());
    const std::string id = option->data(0, kIdRole).toString().toStdString();
    if (option->checkState(0) == Qt::Checked) {
        one.wish = withOption(one.wish, id);
    } else {
        std::erase(one.wish.with, id);
        if (std::ranges::find(one.wish.without, id) == one.wish.without.end()) one.wish.without.push_back(id);
    }
    ask(chosen(), kFirst);
    refreshSums();  // the list is in the middle of telling us: its rows must stay until the answer is here
}

QString StarterPicker::words(const LaidOut& answer) const {
    const StarterChoice& choice = *answer.choice;
    QStringList lines;
    if (!choice.for_rules.empty()) {
        QStringList names;
        for (const std::string& id : choice.for_rules) names << text(starterOptionNamed(id)->name);
        lines << tr("Taken because the class asks for it: %1.").arg(names.join(QStringLiteral(", ")));
    }
    for (const std::string& note : choice.made.notes) lines << text(note);
    for (const GeometryProblem& problem : choice.geometry.problems) lines << text(problem.text);
    std::set<QString> said;
    for (const ShortRule& one : choice.falls_short) {
        const Finding& finding = choice.report.findings[std::size_t(one.finding)];
        QString why;
        if (one.why == ShortRule::Why::left_out) {
            why = tr("it asks for the option \"%1\", which is left out")
                      .arg(text(starterOptionNamed(one.option)->name));
        } else if (one.why == ShortRule::Why::other_starter) {
            why = tr("the starter \"%1\" meets it").arg(text(starterNamed(one.starter)->name));
        } else if (finding.answer == Answer::cannot_tell) {
            why = tr("not known: %1").arg(text(finding.missing));
        } else {
            why = tr("no starter meets it in this car");
        }
        const QString line = text(finding.clause + " " + finding.title) + QStringLiteral(": ") + why;
        if (said.insert(line).second) lines << line;
    }
    return lines.join(QLatin1Char('\n'));
}

void StarterPicker::refresh() {
    refreshSums();
    refreshOptions();
}

void StarterPicker::refreshSums() {
    const Wished& one = all_.at(chosen());
    const Starter& starter = *starterNamed(chosen());
    name_->setText(text(starter.name));
    about_->setText(text(starter.about));
    use_->setEnabled(cage() != nullptr);
    const LaidOut* answer = one.answer.get();
    sketch_->show(answer && answer->choice
                      ? std::shared_ptr<const CageGeometry>(one.answer, &answer->choice->geometry)
                      : nullptr);
    says_->clear();
    if (!answer || answer->asked != one.asked) {
        sums_->setText(tr("Being laid out ..."));
        return;
    }
    if (!answer->choice) {
        sums_->setText(tr("Not in this car."));
        says_->setText(text(answer->choice.reason()));
        return;
    }
    const CageTotals& totals = answer->choice->geometry.totals;
    QString sums = tr("%1 tubes, %2 bends, %3 of tube, %4 of plate")
                       .arg(totals.members)
                       .arg(totals.bends)
                       .arg(massText(totals.tube_mass_kg, desk_.units(), 1),
                            massText(totals.plate_mass_kg, desk_.units(), 1));
    for (const FittedBar& bar : answer->choice->made.fitted)
        sums += QLatin1Char('\n') + tr("%1 off the skin: least %2, mean %3")
                                        .arg(text(roleOf(bar.member).name), desk_.length(bar.gap.least_mm),
                                             desk_.length(bar.gap.mean_mm));
    sums_->setText(sums);
    says_->setText(words(*answer));
}

void StarterPicker::refreshOptions() {
    const QSignalBlocker still(options_);
    options_->clear();
    const LaidOut* answer = all_.at(chosen()).answer.get();
    if (!answer) return;
    for (const OptionEffect& effect : answer->effects) {
        const StarterOption& option = *starterOptionNamed(effect.option);
        auto* item = new QTreeWidgetItem(options_);
        item->setData(0, kIdRole, text(option.id));
        item->setText(0, text(option.name));
        item->setToolTip(0, text(option.about));
        item->setCheckState(0, effect.has ? Qt::Checked : Qt::Unchecked);
        item->setTextAlignment(1, Qt::AlignRight | Qt::AlignVCenter);
        if (effect.why_not.empty()) {
            item->setText(1, massText(effect.adds_kg, desk_.units()));
        } else {
            item->setText(2, text(effect.why_not));
            item->setToolTip(2, text(effect.why_not));
            continue;
        }
        QStringList rules;
        if (!effect.asked_by.empty()) rules << clauses(effect.asked_by);
        if (!effect.against.empty()) rules << tr("against %1").arg(clauses(effect.against));
        item->setText(2, rules.join(QStringLiteral("; ")));
        item->setToolTip(
            2, rulesInFull(effect.asked_by) + (effect.against.empty()
                                                   ? QString()
                                                   : tr("\nFails with it:\n") + rulesInFull(effect.against)));
    }
}

void layOutStarter(Desk& desk, QWidget* window) {
    StarterPicker picker(desk, window);
    if (picker.exec() != QDialog::Accepted || !picker.cage()) return;
    desk.document.edit(QObject::tr("Lay out: %1").arg(picker.starterName()),
                       [&](Job& job) { job.cage = *picker.cage(); });
}

}  // namespace hoopwright
