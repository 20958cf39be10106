#include "app/window/mend_rows.h"

#include <QHBoxLayout>
#include <QLabel>
#include <QPushButton>
#include <QVBoxLayout>
#include <algorithm>
#include <cmath>

#include "app/window/findings.h"
#include "app/window/form_help.h"
#include "app/window/style.h"
#include "core/base/text.h"
#include "core/edit/cage_edits.h"
#include "core/model/resolve.h"

namespace hoopwright {
namespace {

constexpr int kStill_ms = 250, kBendParts = 8;

void addBar(const Centreline& line, std::vector<ShownShape>& shapes) {
    for (const Piece& piece : line.pieces()) {
        const int parts = piece.kind == Piece::Kind::bend ? kBendParts : 1;
        for (int i = 0; i < parts; ++i)
            shapes.push_back(ShownLine{piece.point(piece.length_mm * i / parts),
                                       piece.point(piece.length_mm * (i + 1) / parts), false});
    }
}

void addPlate(const ResolvedPlate& plate, std::vector<ShownShape>& shapes) {
    const auto corner = [&](const Vec2& at) {
        return Vec3(plate.at + plate.axes.col(0) * at.x() + plate.axes.col(1) * at.y());
    };
    for (std::size_t i = 0; i < plate.outline.size(); ++i)
        shapes.push_back(ShownLine{corner(plate.outline[i]),
                                   corner(plate.outline[(i + 1) % plate.outline.size()]), false});
}

/// Everything that lies otherwise than now, and the parts themselves.
std::vector<ShownShape> shapesOf(const Job& job, const CageGeometry& now, const Mend& mend) {
    Job next = job;
    next.cage = mend.cage;
    const CageGeometry made = resolve(next);
    std::vector<ShownShape> shapes;
    const auto isPart = [&](const std::string& id) {
        return std::ranges::find(mend.parts, layoutId(id)) != mend.parts.end();
    };
    for (const ResolvedMember& member : made.members) {
        const int was = now.member(member.id);
        const bool moved = was < 0 ||
                           (now.members[std::size_t(was)].line.start() - member.line.start()).norm() > 0.05 ||
                           (now.members[std::size_t(was)].line.end() - member.line.end()).norm() > 0.05;
        if (moved || isPart(member.id)) addBar(member.line, shapes);
    }
    for (const ResolvedPlate& plate : made.plates)
        if (isPart(plate.id)) addPlate(plate, shapes);
    return shapes;
}

QString costOf(const Mend& mend, const Desk& desk) {
    const double kg = std::abs(mend.adds_kg) < 0.005 ? 0 : mend.adds_kg;
    QString words = (kg < 0 ? QStringLiteral("−") : QStringLiteral("+")) +
                    measureText(std::abs(kg), Dimension::mass, desk.units());
    if (mend.adds_price && std::abs(*mend.adds_price) >= 0.005)
        words += QStringLiteral(", ") + (*mend.adds_price < 0 ? QStringLiteral("−") : QStringLiteral("+")) +
                 text(fixed(std::abs(*mend.adds_price), 2)) + QLatin1Char(' ') +
                 text(desk.document.job().stock.currency);
    if (mend.meets.size() > 1) words += QObject::tr(", mends %1 findings").arg(mend.meets.size());
    return words;
}

}  // namespace

MendRows::MendRows(Desk& desk, std::string key, QWidget* parent)
    : QWidget(parent),
      desk_(desk),
      key_(std::move(key)),
      state_(new QLabel(this)),
      column_(new QVBoxLayout(this)) {
    setAccessibleName(tr("Ways out"));
    column_->setContentsMargins(0, 0, 0, 0);
    column_->setSpacing(kGrid);
    state_->setWordWrap(true);
    state_->setProperty("role", "soft");
    column_->addWidget(state_);
    worker_.setMaxThreadCount(1);
    wait_.setSingleShot(true);
    wait_.setInterval(kStill_ms);
    connect(&wait_, &QTimer::timeout, this, &MendRows::ask);
    refresh();
}

MendRows::~MendRows() {
    if (stop_) *stop_ = true;
    worker_.clear();
    worker_.waitForDone();
    if (drawn_) emit desk_.showMeasure({}, Vec3::Zero());
}

void MendRows::refresh() {
    const Finding* finding = findFinding(desk_.document.report(), key_);
    setVisible(finding && finding->answer == Answer::fails);
    if (isHidden() || asked_for_ == desk_.document.jobRef()) return;
    if (stop_) *stop_ = true;
    asked_for_ = desk_.document.jobRef();
    found_.reset();
    ++asked_;
    clearRows();
    state_->setText(tr("Ways out are looked for ..."));
    state_->show();
    wait_.start();
}

void MendRows::ask() {
    worker_.clear();
    stop_ = std::make_shared<std::atomic<bool>>(false);
    worker_.start(
        [this, tables = desk_.document.tables(), job = asked_for_, key = key_, asked = asked_, stop = stop_] {
            Mender mender(tables, *job, stop);
            auto found = std::make_shared<Mends>();
            if (const Finding* finding = findFinding(mender.report(), key)) *found = mender.waysOut(*finding);
            if (*stop) return;
            QMetaObject::invokeMethod(
                this,
                [this, asked, found] {
                    if (asked == asked_) show(found);
                },
                Qt::QueuedConnection);
        });
}

void MendRows::show(const std::shared_ptr<const Mends>& found) {
    found_ = found;
    clearRows();
    state_->setVisible(found->ways.empty());
    state_->setText(text(found->none));
    for (const Mend& mend : found->ways) addRow(mend);
    emit ready();
}

void MendRows::clearRows() {
    while (column_->count() > 1) {
        QLayoutItem* item = column_->takeAt(1);
        if (QWidget* widget = item->widget()) widget->deleteLater();
        delete item;
    }
}

void MendRows::addRow(const Mend& mend) {
    auto* row = new QWidget(this);
    auto* lines = new QVBoxLayout(row);
    lines->setContentsMargins(0, 0, 0, 0);
    lines->setSpacing(4);
    auto* words = new QLabel(row);
    words->setWordWrap(true);
    words->setTextFormat(Qt::RichText);
    words->setText(QStringLiteral("<b>%1</b><br>%2<br>%3")
                       .arg(text(mend.name).toHtmlEscaped(), printed(mend.says).toHtmlEscaped(),
                            costOf(mend, desk_).toHtmlEscaped()));
    words->setAccessibleName(text(mend.name));
    words->setAccessibleDescription(text(mend.says));
    lines->addWidget(words);
    auto* buttons = new QHBoxLayout;
    buttons->setSpacing(4);
    auto* look = new QPushButton(tr("Show it"), row);
    look->setAccessibleName(tr("Show: ") + text(mend.says));
    look->setToolTip(tr("Draws it in the picture as it would then be"));
    connect(look, &QPushButton::clicked, this, [this, mend] { preview(mend); });
    auto* use = new QPushButton(tr("Take it"), row);
    use->setAccessibleName(tr("Take: ") + text(mend.says));
    use->setToolTip(tr("Changes the cage so; Undo takes it back"));
    connect(use, &QPushButton::clicked, this, [this, mend] { take(mend); });
    buttons->addWidget(look);
    buttons->addWidget(use);
    buttons->addStretch(1);
    lines->addLayout(buttons);
    column_->addWidget(row);
}

void MendRows::preview(const Mend& mend) {
    drawn_ = true;
    emit desk_.showMeasure(shapesOf(desk_.document.job(), desk_.document.geometry(), mend), mend.at);
}

void MendRows::take(const Mend& mend) {
    const QString words = tr("Way out: ") + text(mend.says);
    const CageLayout cage = mend.cage;
    drawn_ = false;
    emit desk_.showMeasure({}, Vec3::Zero());
    desk_.document.edit(words, [&](Job& job) { job.cage = cage; });
}

}  // namespace hoopwright
