#include "app/window/fit_bar.h"

#include <QDialogButtonBox>
#include <QLabel>
#include <QPushButton>
#include <QVBoxLayout>
#include <algorithm>

#include "app/window/form.h"
#include "app/window/form_help.h"
#include "app/window/style.h"

namespace hoopwright {
namespace {

const std::string kAsItIs = "as_it_is", kFewest = "fewest", kByDoors = "doors", kAtPlace = "place";

QString gapRow(const QString& words, const QStringList& cells) {
    QString row = QStringLiteral("<tr><td>%1</td>").arg(words.toHtmlEscaped());
    for (const QString& cell : cells)
        row += QStringLiteral("<td align=right>&nbsp;&nbsp;%1</td>").arg(cell.toHtmlEscaped());
    return row + QStringLiteral("</tr>");
}

}  // namespace

FitBar::FitBar(Desk& desk, const std::string& member, QWidget* parent)
    : QDialog(parent), desk_(desk), car_(std::make_shared<std::shared_ptr<const FitCar>>()) {
    wish_.member = member;
    const CageGeometry& cage = desk.document.geometry();
    const int at = cage.member(member);
    const QString called = text(at < 0 ? member : cage.members[std::size_t(at)].name);
    if (at >= 0) {
        const std::string& role = cage.members[std::size_t(at)].role;
        is_hoop_ = role == "main_hoop" || role == "front_hoop";
    }
    wish_.least_gap_mm = usualGap_mm(desk);
    setWindowTitle(tr("Fit to the car"));
    setMinimumWidth(560);
    worker_.setMaxThreadCount(1);
    auto* column = new QVBoxLayout(this);
    column->setContentsMargins(3 * kGrid, 3 * kGrid, 3 * kGrid, 2 * kGrid);
    column->setSpacing(2 * kGrid);
    auto* head = new QLabel(tr("%1, as near to the skin as its die allows").arg(called), this);
    head->setFont(typeFont(TypeSize::head, TypeWeight::strong));
    head->setWordWrap(true);
    column->addWidget(head);
    auto* form = new Form(desk, tr("Fit"), this);
    form_ = form;
    form->value(
            tr("Gap, at least"), Dimension::length, [this] { return std::optional(wish_.least_gap_mm); },
            [this](std::optional<double> to, const QByteArray&) {
                wish_.least_gap_mm = to.value_or(usualGap_mm(desk_));
                ask();
            })
        ->setLeast(0);
    form->value(
            tr("Ends may travel"), Dimension::length, [this] { return std::optional(wish_.end_travel_mm); },
            [this](std::optional<double> to, const QByteArray&) {
                wish_.end_travel_mm = to.value_or(0);
                ask();
            })
        ->setLeast(0);
    if (is_hoop_) addHoopRows(*form);
    form->layout()->setContentsMargins(0, 0, 0, 0);  // in line with the heading
    column->addWidget(form);
    figures_ = new QLabel(this);
    figures_->setAccessibleName(tr("Gap before and after"));
    limits_ = new QLabel(this);
    limits_->setAccessibleName(tr("What holds it"));
    for (QLabel* one : {figures_, limits_}) {
        one->setWordWrap(true);
        one->setAlignment(Qt::AlignTop);
        one->setTextInteractionFlags(Qt::TextSelectableByMouse);
        column->addWidget(one);
    }
    column->addStretch(1);
    auto* buttons = new QDialogButtonBox(this);
    buttons->addButton(tr("Cancel"), QDialogButtonBox::RejectRole);
    use_ = buttons->addButton(tr("Use it"), QDialogButtonBox::AcceptRole);
    makePrimary(use_);
    use_->setDefault(true);
    connect(buttons, &QDialogButtonBox::accepted, this, &QDialog::accept);
    connect(buttons, &QDialogButtonBox::rejected, this, &QDialog::reject);
    column->addWidget(buttons);
    ask();
    resize(600, 520);
}

void FitBar::addHoopRows(Form& form) {
    form.choice(
        tr("Bends"),
        [] {
            std::vector<ChoiceField::Option> options{{kAsItIs, tr("as many as it has")}};
            for (int bends = 2; bends <= kMostHoopBends; bends += 2)
                options.push_back({std::to_string(bends), QString::number(bends)});
            options.push_back({kFewest, tr("the fewest that come near enough")});
            return options;
        },
        [this] {
            return !wish_.bends ? kAsItIs : *wish_.bends == 0 ? kFewest : std::to_string(*wish_.bends);
        },
        [this](const std::string& to) {
            wish_.bends.reset();
            if (to == kFewest) wish_.bends = 0;
            if (to != kFewest && to != kAsItIs) wish_.bends = std::stoi(to);
            if (wish_.bends == 0 && wish_.mean_gap_mm == 0) wish_.mean_gap_mm = 1.5 * wish_.least_gap_mm;
            ask();
        });
    form.value(
            tr("Near enough: mean gap"), Dimension::length,
            [this] { return wish_.bends == 0 ? std::optional(wish_.mean_gap_mm) : std::nullopt; },
            [this](std::optional<double> to, const QByteArray&) {
                wish_.mean_gap_mm = to.value_or(0);
                wish_.bends = 0;
                ask();
            })
        ->setLeast(0);
    form.choice(
        tr("Stands"),
        [] {
            return std::vector<ChoiceField::Option>{
                {kAsItIs, tr("where it does")},
                {kByDoors, tr("as near the B-pillar as its door bars can be welded")},
                {kAtPlace, tr("where is said below")}};
        },
        [this] { return by_doors_    ? kByDoors
                        : wish_.x_mm ? kAtPlace
                                     : kAsItIs; },
        [this](const std::string& to) {
            by_doors_ = to == kByDoors;
            if (to != kAtPlace) wish_.x_mm.reset();
            if (to == kAtPlace && !wish_.x_mm) wish_.x_mm = feetAt();
            ask();
        });
    form.value(
        tr("Feet at x"), Dimension::length,
        [this] { return wish_.x_mm ? wish_.x_mm : std::optional(feetAt()); },
        [this](std::optional<double> to, const QByteArray&) {
            by_doors_ = false;
            wish_.x_mm = to;
            ask();
        });
}

/// Of the hoop in the cage, or where it was found to stand.
double FitBar::feetAt() const {
    if (const MemberFit* found = fit()) return found->bar.path.front().x();
    const CageGeometry& cage = desk_.document.geometry();
    const int at = cage.member(wish_.member);
    return at < 0 ? 0 : cage.members[std::size_t(at)].ends[0].at.x();
}

FitBar::~FitBar() {
    worker_.clear();
    worker_.waitForDone();
}

const MemberFit* FitBar::fit() const {
    return !waits_ && found_ && *found_ ? &(*found_)->fit : nullptr;
}

void FitBar::ask() {
    worker_.clear();  // what waits is not wanted any more
    waits_ = true;
    worker_.start([this, job = desk_.document.jobRef(), cage = desk_.document.geometry(), car = car_,
                   wish = wish_, by_doors = by_doors_, asked = ++asked_] {
        if (!*car) *car = std::make_shared<const FitCar>(job->car, job->scan_meshes);
        const auto work = [&]() -> Found {
            if (by_doors) {
                Expected<HoopPlace> place = nearestToPillar(*job, cage, **car, wish);
                if (!place) return Reason{place.reason()};
                return FittedBar{std::move(place->fit), std::move(place->holds)};
            }
            Expected<MemberFit> fit = fitMember(*job, cage, **car, wish);
            if (!fit) return Reason{fit.reason()};
            return FittedBar{*std::move(fit), {}};
        };
        const auto found = std::make_shared<const Found>(work());
        QMetaObject::invokeMethod(
            this, [this, asked, found] { take(asked, found); }, Qt::QueuedConnection);
    });
    refresh();
}

void FitBar::take(int asked, const std::shared_ptr<const Found>& found) {
    if (asked != asked_) return;
    found_ = found;
    waits_ = false;
    form_->refresh();
    refresh();
}

void FitBar::refresh() {
    use_->setEnabled(fit() != nullptr);
    if (!found_) {
        figures_->setText(tr("Being fitted ..."));
        return;
    }
    if (!*found_) {
        figures_->setText(text((*found_).reason()));
        limits_->clear();
        return;
    }
    const MemberFit& fit = (*found_)->fit;
    const auto cells = [&](double least, double mean, double greatest) {
        return QStringList{desk_.length(least), desk_.length(mean), desk_.length(greatest)};
    };
    const auto rows = [&](const FitGoodness& before, const FitGoodness& after) {
        return gapRow(tr("as it is"), cells(before.least_mm, before.mean_mm, before.greatest_mm)) +
               gapRow(tr("fitted"), cells(after.least_mm, after.mean_mm, after.greatest_mm));
    };
    const QStringList heads{tr("least"), tr("mean"), tr("greatest")};
    QString table = QStringLiteral("<table>") + gapRow(tr("Gap to the skin"), heads) +
                    rows(fit.bar.before, fit.bar.after);
    if (fit.bar.before.lines && fit.bar.after.lines) {
        const auto &before = *fit.bar.before.lines, &after = *fit.bar.after.lines;
        QStringList names;
        for (const std::string& one : fit.followed) names << spoken(one);
        table += gapRow(tr("Gap to %1").arg(names.join(tr(" and "))), heads) +
                 gapRow(tr("as it is"), cells(before.least_mm, before.mean_mm, before.greatest_mm)) +
                 gapRow(tr("fitted"), cells(after.least_mm, after.mean_mm, after.greatest_mm));
    }
    figures_->setText(table + QStringLiteral("</table>"));
    QStringList lines;
    if (!fit.bar.limits.empty()) lines << tr("What keeps it from going nearer:");
    for (const FitLimit& limit : fit.bar.limits) lines << QStringLiteral("· ") + text(limit.text);
    if (!(*found_)->stands.empty())
        lines << tr("Its feet stand at x %1. %2")
                     .arg(desk_.length(fit.bar.path.front().x()), text((*found_)->stands));
    for (const std::string* one : {&fit.bar.trouble, &fit.bar.ends_note, &fit.note})
        if (!one->empty()) lines << text(*one);
    limits_->setText(lines.join(QLatin1Char('\n')));
}

void fitChosen(Desk& desk, QWidget* window) {
    const std::vector<std::string> ids = desk.selection.ids(Thing::Kind::member);
    if (ids.empty()) {
        emit desk.say(QObject::tr("Choose the bar to fit first: a hoop, a side bar, any bent bar."));
        return;
    }
    FitBar dialog(desk, ids.back(), window);
    if (dialog.exec() != QDialog::Accepted || !dialog.fit()) return;
    const Member fitted = dialog.fit()->member;
    desk.document.edit(QObject::tr("Fit %1 to the car")
                           .arg(text(fitted.name.empty() ? roleOf(fitted.role).name : fitted.name)),
                       [&](Job& job) {
                           for (Member& member : job.cage.members)
                               if (member.id == fitted.id) member = fitted;
                       });
}

}  // namespace hoopwright
