#include "app/window/add_bar.h"

#include <QHBoxLayout>
#include <QLabel>
#include <QLineEdit>
#include <QListWidget>
#include <QPushButton>
#include <QVBoxLayout>

#include "app/window/form_help.h"
#include "app/window/style.h"
#include "core/edit/cage_edits.h"

namespace hoopwright {

AddBar::AddBar(Desk& desk, QWidget* parent)
    : QDialog(parent), desk_(desk), roles_(new QListWidget(this)), purpose_(new QLabel(this)) {
    setWindowTitle(tr("Add a bar"));
    resize(460, 560);
    auto* column = new QVBoxLayout(this);
    column->setContentsMargins(3 * kGrid, 3 * kGrid, 3 * kGrid, 2 * kGrid);
    column->setSpacing(kGrid);
    auto* head = new QLabel(tr("What is the new bar for?"), this);
    head->setFont(typeFont(TypeSize::head, TypeWeight::strong));
    column->addWidget(head);
    auto* filter = new QLineEdit(this);
    filter->setPlaceholderText(tr("Type a few letters: door, hoop, belt"));
    filter->setAccessibleName(tr("Find a role"));
    column->addWidget(filter);
    roles_->setAccessibleName(tr("Roles"));
    column->addWidget(roles_, 1);
    purpose_->setWordWrap(true);
    purpose_->setProperty("role", "soft");
    purpose_->setMinimumHeight(40);
    column->addWidget(purpose_);
    const std::vector<HostPick> picks = picksFromSelection(desk_);
    const QString place = picks.size() == 2   ? tr("Between the two chosen bars")
                          : picks.size() == 1 ? tr("From the chosen bar")
                                              : tr("In the middle of the cage");
    auto* buttons = new QHBoxLayout;
    auto* pick = new QPushButton(tr("Click two bars in the view"), this);
    auto* here = new QPushButton(place, this);
    auto* draw = new QPushButton(tr("Draw it with bends"), this);
    (picks.size() == 2 ? here : pick)->setProperty("primary", true);
    buttons->addWidget(here);
    buttons->addStretch(1);
    buttons->addWidget(draw);
    buttons->addWidget(pick);
    column->addLayout(buttons);
    const auto finish = [this](Where where) {
        if (role().empty()) return;
        where_ = where;
        accept();
    };
    connect(here, &QPushButton::clicked, this, [finish] { finish(Where::here); });
    connect(pick, &QPushButton::clicked, this, [finish] { finish(Where::pick); });
    connect(draw, &QPushButton::clicked, this, [finish] { finish(Where::draw); });
    (picks.size() == 2 ? here : pick)->setDefault(true);
    connect(filter, &QLineEdit::textChanged, this, &AddBar::fill);
    connect(roles_, &QListWidget::currentItemChanged, this,
            [this](QListWidgetItem* item) { purpose_->setText(item ? item->toolTip() : QString()); });
    fill({});
    filter->setFocus();
}

void AddBar::fill(const QString& typed) {
    roles_->clear();
    for (const Role& known : knownRoles()) {
        if (!text(known.name).contains(typed.trimmed(), Qt::CaseInsensitive)) continue;
        auto* item = new QListWidgetItem(text(known.name), roles_);
        item->setData(Qt::UserRole, text(known.word));
        item->setToolTip(text(known.purpose));
        item->setSizeHint({10, 26});
    }
    if (roles_->count() == 0 && !typed.trimmed().isEmpty()) {
        // A rule table may bring words of its own.
        QString word = typed.trimmed().toLower();
        for (QChar& c : word) {
            if (!c.isLetterOrNumber()) c = QLatin1Char('_');
        }
        auto* item = new QListWidgetItem(tr("Another role: %1").arg(word), roles_);
        item->setData(Qt::UserRole, word);
    }
    roles_->setCurrentRow(0);
}

std::string AddBar::role() const {
    const QListWidgetItem* item = roles_->currentItem();
    return item ? item->data(Qt::UserRole).toString().toStdString() : std::string();
}

std::vector<HostPick> picksFromSelection(const Desk& desk) {
    const CageGeometry& now = desk.document.geometry();
    std::vector<const ResolvedMember*> bars;
    for (const std::string& id : desk.selection.ids(Thing::Kind::member)) {
        const int at = now.member(id);
        if (at >= 0 && !now.members[std::size_t(at)].line.empty())
            bars.push_back(&now.members[std::size_t(at)]);
    }
    if (bars.empty()) return {};
    const Centreline& first = bars[0]->line;
    const bool spans = first.start().y() * first.end().y() < 0;
    if (bars.size() == 1) return {{bars[0]->id, first.point(first.length_mm() * (spans ? 0.25 : 0.5))}};
    const Vec3 from = first.point(first.length_mm() / 2);
    const Centreline& second = bars[1]->line;
    return {{bars[0]->id, from}, {bars[1]->id, second.point(second.nearestStation(from))}};
}

void insertBar(Desk& desk, const std::string& role, const std::vector<HostPick>& picks) {
    const Member bar = newBar(desk.document.job(), desk.document.geometry(), role, picks);
    desk.document.edit(QObject::tr("Add %1").arg(text(shownName(bar)).toLower()),
                       [&](Job& job) { job.cage.members.push_back(bar); });
    desk.selection.set({Thing::Kind::member, resolvedIds(bar.id, bar.mirrored).front()});
    emit desk.say(bar.mirrored ? QObject::tr("%1 added, left and right.").arg(text(shownName(bar)))
                               : QObject::tr("%1 added.").arg(text(shownName(bar))));
}

void pickTwoAndInsert(Desk& desk, const std::string& role) {
    const QString name = text(roleOf(role).name).toLower();
    desk.wantPick(QObject::tr("Click the bar where the new %1 begins").arg(name),
                  [&desk, role, name](const std::string& first, const Vec3& from) {
                      desk.wantPick(QObject::tr("Now the bar where the %1 ends").arg(name),
                                    [&desk, role, first, from](const std::string& second, const Vec3& to) {
                                        insertBar(desk, role, {{first, from}, {second, to}});
                                    });
                  });
}

}  // namespace hoopwright
