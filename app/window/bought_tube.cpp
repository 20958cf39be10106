#include "app/window/bought_tube.h"

#include <QDialogButtonBox>
#include <QLabel>
#include <QPushButton>
#include <QScreen>
#include <QScrollArea>
#include <QTimer>
#include <QVBoxLayout>
#include <algorithm>

#include "app/window/form.h"
#include "app/window/form_help.h"
#include "app/window/style.h"
#include "core/edit/bought_edits.h"
#include "core/edit/cage_edits.h"

namespace hoopwright {
namespace {

const ResolvedMember* givenBar(const Desk& desk, const std::string& id) {
    const Member* member = desk.document.job().cage.member(id);
    if (!member) return nullptr;
    const CageGeometry& now = desk.document.geometry();
    const int at = now.member(resolvedIds(id, member->mirrored).front());
    return at < 0 ? nullptr : &now.members[std::size_t(at)];
}

QString sawWords(const Desk& desk, double saw_mm) {
    return saw_mm < -kTaped_mm ? QObject::tr("%1 too short").arg(desk.length(-saw_mm))
                               : desk.length(std::max(0.0, saw_mm));
}

/// What a bare length is shown and read in.
LengthUnit unitOf(const Desk& desk) {
    return desk.units() == UnitsShown::in ? LengthUnit::in : LengthUnit::mm;
}

/// The shape in words that lose nothing, whatever unit they are read in.
std::string exactly(const BentShape& shape) {
    const auto number = [](double value) { return QString::number(value, 'g', 17).toStdString(); };
    std::string out;
    for (std::size_t i = 0; i < shape.straights_mm.size(); ++i) {
        out += (i == 0 ? "" : ", ") + number(shape.straights_mm[i]) + " mm";
        if (i >= shape.bends.size()) break;
        out += ", " + number(shape.bends[i].angle_rad) + " rad";
        if (i > 0) out += " @ " + number(shape.bends[i].rotation_rad) + " rad";
    }
    return out;
}

QString begun(QString words) {
    return words.isEmpty() ? words : words.left(1).toUpper() + words.mid(1) + QLatin1Char('.');
}

/// Another shape for a bar bought bent: laid where it is nearest to how it lies.
void tape(Desk& desk, const std::string& id, const QByteArray& key,
          const std::function<void(BentShape&)>& change) {
    const Member& was = memberOf(desk, id);
    if (!was.bent) return;
    BentShape shape = *was.bent;
    change(shape);
    const Expected<Member> taped = tapedAgain(desk.document.job(), desk.document.geometry(),
                                              resolvedIds(id, was.mirrored).front(), shape);
    if (!taped) {
        emit desk.say(text(taped.reason()));
        return;
    }
    editMember(
        desk, id, QObject::tr("Tape it again"), [&](Member& m) { m = *taped; }, key);
}

template <class Get, class Change>
ValueField* tapedRow(Desk& desk, Form& form, const std::string& id, const QString& words, Dimension dimension,
                     Get get, Change change) {
    return form.value(
        words, dimension,
        [&desk, id, get]() -> std::optional<double> {
            const Member& member = memberOf(desk, id);
            return member.bent ? get(*member.bent) : std::nullopt;
        },
        [&desk, id, change](std::optional<double> to, const QByteArray& key) {
            tape(desk, id, key, [&](BentShape& shape) { change(shape, *to); });
        });
}

}  // namespace

std::vector<std::string> BoughtTube::canReplace(const Desk& desk) {
    std::vector<std::string> out;
    for (const Member& member : desk.document.job().cage.members) {
        const ResolvedMember* bar = givenBar(desk, member.id);
        if (bar && bar->line.bendCount() > 0) out.push_back(member.id);
    }
    return out;
}

BoughtTube::BoughtTube(Desk& desk, const std::string& member, QWidget* parent)
    : QDialog(parent), desk_(desk), car_(desk.document.job().car, desk.document.job().scan_meshes) {
    setWindowTitle(tr("Bought bent tube"));
    setMinimumWidth(560);
    auto* column = new QVBoxLayout(this);
    column->setContentsMargins(3 * kGrid, 3 * kGrid, 3 * kGrid, 2 * kGrid);
    column->setSpacing(2 * kGrid);
    auto* head = new QLabel(tr("What came from the shop?"), this);
    head->setFont(typeFont(TypeSize::head, TypeWeight::strong));
    column->addWidget(head);
    form_ = new Form(desk, tr("Bought bent tube"), this);
    form_->choice(
        tr("In place of"),
        [&desk] {
            std::vector<ChoiceField::Option> options;
            for (const std::string& id : canReplace(desk))
                options.push_back({id, text(shownName(memberOf(desk, id)))});
            return options;
        },
        [this] { return member_; }, [this](const std::string& to) { begin(to); });
    TextField* shape = form_->text(
        tr("As taped"), [this] { return text(taped_); },
        [this](const QString& to) {
            taped_ = to.toStdString();
            fitSoon();
            return QString();
        });
    shape->setToolTip(
        tr("Straight, bend, straight ... from its first end; @ behind a bend turns its plane since the bend "
           "before"));
    form_
        ->value(
            tr("Bend radius"), Dimension::length, [this] { return std::optional(radius_mm_); },
            [this](std::optional<double> to, const QByteArray&) {
                radius_mm_ = *to;
                fitSoon();
            })
        ->setLeast(1);
    form_
        ->value(
            tr("Least gap"), Dimension::length, [this] { return std::optional(gap_mm_); },
            [this](std::optional<double> to, const QByteArray&) {
                gap_mm_ = *to;
                fitSoon();
            })
        ->setLeast(0);
    form_->note([this] { return verdict(); });
    form_->facts(tr("how it fits"), [this] { return lines(); });
    form_->layout()->setContentsMargins(0, 0, 0, 0);  // in line with the heading
    // A tube of many bends has more to say than a small screen is high.
    area_ = new QScrollArea(this);
    area_->setWidget(form_);
    area_->setWidgetResizable(true);
    area_->setFrameShape(QFrame::NoFrame);
    area_->setHorizontalScrollBarPolicy(Qt::ScrollBarAlwaysOff);
    column->addWidget(area_, 1);
    auto* buttons = new QDialogButtonBox(this);
    buttons->addButton(tr("Cancel"), QDialogButtonBox::RejectRole);
    put_ = buttons->addButton(tr("Put it in"), QDialogButtonBox::AcceptRole);
    makePrimary(put_);
    connect(buttons, &QDialogButtonBox::accepted, this, [this] {
        fitNow();  // what was typed last
        if (fit_) accept();
    });
    connect(buttons, &QDialogButtonBox::rejected, this, &QDialog::reject);
    column->addWidget(buttons);
    const std::vector<std::string> all = canReplace(desk);
    const auto is = [&](const std::string& id) { return std::ranges::find(all, id) != all.end(); };
    begin(is(member) ? member : is("main_hoop") ? "main_hoop" : all.front());
    fitNow();
}

void BoughtTube::begin(const std::string& member) {
    member_ = member;
    const Member& was = memberOf(desk_, member);
    const BentShape shape = was.bent ? *was.bent : shapeOf(*givenBar(desk_, member));
    taped_ = shownBentShape(shape, unitOf(desk_));
    radius_mm_ = shape.bend_radius_mm;
    fitSoon();
}

void BoughtTube::fitSoon() {
    if (waiting_) return;
    waiting_ = true;
    // Not now: the field that was typed in is still at it.
    QTimer::singleShot(0, this, &BoughtTube::fitNow);
}

void BoughtTube::fitNow() {
    waiting_ = false;
    fit_.reset();
    refused_.clear();
    const Expected<BentShape> shape = readBentShape(taped_, radius_mm_, unitOf(desk_));
    if (shape) {
        MemberWish wish;
        wish.member = member_;
        wish.least_gap_mm = gap_mm_;
        wish.bent = exactly(*shape);
        wish.bent_radius_mm = radius_mm_;
        Expected<MemberFit> fit = fitMember(desk_.document.job(), desk_.document.geometry(), car_, wish);
        if (fit && fit->pre_bent) {
            fit_ = *std::move(fit);
        } else {
            refused_ = fit ? tr("It is not bought bent") : text(fit.reason());
        }
    } else {
        refused_ = text(shape.reason());
    }
    put_->setEnabled(fit_.has_value());
    put_->setText(fit_ && !fit_->pre_bent->fits ? tr("Put it in all the same") : tr("Put it in"));
    form_->refresh();
    form_->layout()->activate();
    const int more = form_->sizeHint().height() - area_->viewport()->height();
    const int most = screen() ? screen()->availableGeometry().height() - 8 * kGrid : height() + more;
    if (more > 0) resize(width(), std::min(height() + more, most));
}

QString BoughtTube::verdict() const {
    return begun(fit_ ? text(fit_->pre_bent->verdict) : refused_);
}

std::vector<FactLine> BoughtTube::lines() const {
    std::vector<FactLine> lines;
    if (!fit_) return lines;
    const PreBentFit& bent = *fit_->pre_bent;
    lines.push_back({tr("Saw off its first leg"), sawWords(desk_, fit_->saw_mm[0])});
    lines.push_back({tr("Saw off its last leg"), sawWords(desk_, fit_->saw_mm[1])});
    lines.push_back({tr("Least gap to the skin"), desk_.length(bent.placed.least_mm)});
    lines.push_back({tr("Mean gap"), desk_.length(bent.placed.mean_mm)});
    lines.push_back({tr("   of a bar bent to suit"), desk_.length(bent.suited.mean_mm)});
    lines.push_back(
        {tr("Feet from where they should be"),
         tr("%1 and %2").arg(desk_.length(bent.foot_off_mm[0]), desk_.length(bent.foot_off_mm[1]))});
    for (const PieceStandOff& one : bent.pieces) {
        const QString what = one.is_bend ? tr("Bend %1").arg(one.number) : tr("Straight %1").arg(one.number);
        lines.push_back(
            {what, tr("%1 off the skin; bent to suit: %2")
                       .arg(desk_.length(one.mean_mm), desk_.length(one.mean_mm - one.more_than_suited_mm))});
    }
    for (const FitLimit& limit : bent.limits) lines.push_back({tr("Held by %1").arg(text(limit.text)), {}});
    return lines;
}

void BoughtTube::putIn() {
    const Member& put = fit_->member;
    desk_.document.edit(tr("%1, bought bent").arg(text(shownName(put))), [&](Job& job) {
        if (Member* was = findMember(job.cage, put.id)) *was = put;
    });
    desk_.selection.set({Thing::Kind::member, resolvedIds(put.id, put.mirrored).front()});
}

void addBoughtTube(Desk& desk, QWidget* window) {
    if (BoughtTube::canReplace(desk).empty()) {
        emit desk.say(QObject::tr("There is no bent bar that it could take the place of: add one first."));
        return;
    }
    const auto chosen = desk.selection.layoutIds(Thing::Kind::member);
    BoughtTube dialog(desk, chosen.size() == 1 ? chosen.front() : std::string(), window);
    if (dialog.exec() == QDialog::Accepted) dialog.putIn();
}

void boughtRows(Desk& desk, Form& form, const std::string& id, const std::string& resolved) {
    const Member& member = memberOf(desk, id);
    if (!member.bent) {
        const ResolvedMember* bar = givenBar(desk, id);
        if (bar && bar->line.bendCount() > 0)
            form.actions({{QObject::tr("Bought bent ..."),
                           [&desk, window = form.window()] { addBoughtTube(desk, window); },
                           QObject::tr("The bar comes bent: type what was taped, see whether it fits")}});
        return;
    }
    form.section(QObject::tr("Bought bent"));
    form.note([] { return QObject::tr("As taped, from its first end. Its bends are never changed."); });
    form.text(
        QObject::tr("As taped"),
        [&desk, id] {
            const Member& now = memberOf(desk, id);
            return now.bent ? text(shownBentShape(*now.bent, unitOf(desk))) : QString();
        },
        [&desk, id](const QString& to) {
            const Member& now = memberOf(desk, id);
            if (!now.bent) return QString();
            const Expected<BentShape> shape =
                readBentShape(to.toStdString(), now.bent->bend_radius_mm, unitOf(desk));
            if (!shape) return begun(text(shape.reason()));
            tape(desk, id, {}, [&](BentShape& was) { was = *shape; });
            return QString();
        });
    tapedRow(
        desk, form, id, QObject::tr("Bend radius"), Dimension::length,
        [](const BentShape& s) { return std::optional(s.bend_radius_mm); },
        [](BentShape& s, double to) { s.bend_radius_mm = to; })
        ->setLeast(1);
    const std::size_t bends = member.bent->bends.size();
    for (std::size_t i = 0; i <= bends; ++i) {
        const QString straight = i == 0       ? QObject::tr("First leg")
                                 : i == bends ? QObject::tr("Last leg")
                                              : QObject::tr("Straight %1").arg(i + 1);
        tapedRow(
            desk, form, id, straight, Dimension::length,
            [i](const BentShape& s) {
                return i < s.straights_mm.size() ? std::optional(s.straights_mm[i]) : std::nullopt;
            },
            [i](BentShape& s, double to) {
                if (i < s.straights_mm.size()) s.straights_mm[i] = to;
            })
            ->setLeast(0);
        if (i == bends) break;
        tapedRow(
            desk, form, id, QObject::tr("Bend %1").arg(i + 1), Dimension::angle,
            [i](const BentShape& s) {
                return i < s.bends.size() ? std::optional(s.bends[i].angle_rad) : std::nullopt;
            },
            [i](BentShape& s, double to) {
                if (i < s.bends.size()) s.bends[i].angle_rad = to;
            });
        if (i == 0) continue;
        tapedRow(
            desk, form, id, QObject::tr("Turned since bend %1").arg(i), Dimension::angle,
            [i](const BentShape& s) {
                return i < s.bends.size() ? std::optional(s.bends[i].rotation_rad) : std::nullopt;
            },
            [i](BentShape& s, double to) {
                if (i < s.bends.size()) s.bends[i].rotation_rad = to;
            });
    }
    form.facts(QObject::tr("bought bent"), [&desk, resolved]() -> std::vector<FactLine> {
        const CageGeometry& now = desk.document.geometry();
        const int at = now.member(resolved);
        if (at < 0 || !now.members[std::size_t(at)].bought)
            return {{QObject::tr("It does not lie as taped: see what falls short"), {}}};
        const BoughtBent& bought = *now.members[std::size_t(at)].bought;
        return {{QObject::tr("Saw off its first leg"), sawWords(desk, bought.saw_mm[0])},
                {QObject::tr("Saw off its last leg"), sawWords(desk, bought.saw_mm[1])}};
    });
    form.actions({{QObject::tr("Fit it to the car ..."),
                   [&desk, window = form.window()] { addBoughtTube(desk, window); },
                   QObject::tr("Where it stands off the skin, against a bar bent to suit")},
                  {QObject::tr("Bend it here"),
                   [&desk, id] {
                       editMember(desk, id, QObject::tr("Bend it here"), [](Member& m) { m.bent.reset(); });
                   },
                   QObject::tr("No longer bought: the shop bends it along the same path")}});
}

}  // namespace hoopwright
