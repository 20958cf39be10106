#include "app/window/order_choices.h"

#include <QHBoxLayout>
#include <QLabel>
#include <QPushButton>
#include <QSpinBox>
#include <QVBoxLayout>
#include <algorithm>

#include "app/window/fields.h"
#include "app/window/form_help.h"
#include "app/window/order_page.h"
#include "app/window/style.h"
#include "core/model/shop_book.h"

namespace hoopwright {
namespace {

constexpr int kMostSpares = 9;

void editBook(Desk& desk, const QString& words, const std::function<void(ShopBook&)>& change) {
    if (!desk.document.job().shop) return;
    desk.document.edit(words, [&](Job& job) {
        auto book = std::make_shared<ShopBook>(*job.shop);
        change(*book);
        if (!(*book == *job.shop)) job.shop = std::move(book);
    });
}

int sparesWanted(const CageLayout& cage, const std::string& id) {
    int count = 0;
    for (const SparePiece& spare : cage.spares) count += spare.of == id ? spare.count : 0;
    return count;
}

}  // namespace

OrderChoices::OrderChoices(Desk& desk, const OrderMaker& maker, QWidget* parent)
    : QWidget(parent), desk_(desk), maker_(maker) {
    auto* column = new QVBoxLayout(this);
    column->setContentsMargins(2 * kGrid, 0, 2 * kGrid, kGrid);
    column->setSpacing(2);
    off_cuts_ = new TickField(
        desk_, tr("Off-cuts of the rack first"),
        [this] { return desk_.document.job().shop && desk_.document.job().shop->off_cuts_first; },
        [this](bool on) {
            editBook(desk_, on ? tr("Off-cuts first") : tr("Off-cuts stay on the rack"),
                     [on](ShopBook& book) { book.off_cuts_first = on; });
        },
        this);
    kerf_ = new TickField(
        desk_, tr("A kerf behind every piece"),
        [this] {
            return desk_.document.job().shop && desk_.document.job().shop->kerf_at == KerfAt::every_cut;
        },
        [this](bool on) {
            editBook(
                desk_, on ? tr("A kerf behind every piece") : tr("A kerf between pieces only"),
                [on](ShopBook& book) { book.kerf_at = on ? KerfAt::every_cut : KerfAt::between_pieces; });
        },
        this);
    column->addWidget(off_cuts_);
    column->addWidget(kerf_);
    auto* spare_row = new QHBoxLayout;
    spare_row->setContentsMargins(0, 2, 0, 0);
    spare_of_ = new QLabel(this);
    spare_of_->setWordWrap(true);
    spares_ = new QSpinBox(this);
    spares_->setRange(0, kMostSpares);
    spares_->setAccessibleName(tr("Spare pieces of the chosen bar"));
    spares_->setFixedWidth(64);
    connect(spares_, &QSpinBox::valueChanged, this, [this](int count) {
        if (!showing_) setSpares(count);
    });
    spare_row->addWidget(spare_of_, 1);
    spare_row->addWidget(spares_);
    column->addLayout(spare_row);
    apart_ = new QPushButton(this);
    connect(apart_, &QPushButton::clicked, this, &OrderChoices::setApart);
    column->addWidget(apart_);
    to_rack_ = new QPushButton(tr("What is left to the rack"), this);
    connect(to_rack_, &QPushButton::clicked, this, &OrderChoices::putToRack);
    column->addWidget(to_rack_);
    connect(&desk_.document, &Document::changed, this, &OrderChoices::refresh);
    connect(&maker_, &OrderMaker::ready, this, &OrderChoices::refresh);
    connect(&desk_.selection, &Selection::changed, this, &OrderChoices::refresh);
    refresh();
}

std::vector<std::string> OrderChoices::chosen() const {
    return desk_.selection.ids(Thing::Kind::member);
}

int OrderChoices::apartList() const {
    const std::vector<std::string> ids = chosen();
    const std::vector<ApartPieces>& lists = desk_.document.job().cage.apart;
    for (std::size_t i = 0; i < lists.size() && ids.size() > 1; ++i)
        if (std::ranges::all_of(
                ids, [&](const std::string& id) { return std::ranges::count(lists[i].of, id) > 0; }))
            return int(i);
    return -1;
}

void OrderChoices::refresh() {
    showing_ = true;
    const Job& job = desk_.document.job();
    for (TickField* tick : {off_cuts_, kerf_}) {
        tick->setEnabled(job.shop != nullptr);
        tick->setToolTip(job.shop ? tr("Kept in the shop's book")
                                  : tr("The cage names no shop's book; choose one first"));
        tick->refresh();
        tick->update();
    }
    const std::vector<std::string> ids = chosen();
    const bool one = ids.size() == 1;
    const CageGeometry& cage = desk_.document.geometry();
    const int member = one ? cage.member(ids[0]) : -1;
    spares_->setEnabled(member >= 0);
    spare_of_->setText(member >= 0 ? tr("Spares of %1").arg(text(cage.members[std::size_t(member)].name))
                                   : tr("Spares: choose one bar"));
    spares_->setValue(one ? sparesWanted(job.cage, ids[0]) : 0);
    apart_->setEnabled(ids.size() > 1);
    apart_->setText(apartList() >= 0 ? tr("May share a heat again") : tr("Must not share a heat"));
    apart_->setToolTip(ids.size() > 1 ? tr("Of the chosen bars each comes from another heat")
                                      : tr("Choose two bars or more (Ctrl and a click)"));
    const QString why_not = whyNotToRack();
    to_rack_->setEnabled(why_not.isEmpty());
    to_rack_->setToolTip(why_not.isEmpty() ? tr("Once it is cut: what is left becomes the rack in the shop's "
                                                "book, kept when the job is saved")
                                           : why_not);
    showing_ = false;
}

QString OrderChoices::whyNotToRack() const {
    const Job& job = desk_.document.job();
    if (!job.shop) return tr("The cage names no shop's book; choose one first");
    if (!job.shop->rack_from_mm)
        return tr("The shop's book does not say from which length on what is left goes back to the rack");
    if (!maker_.order() || maker_.working()) return tr("The order is being worked out");
    const Order& order = maker_.order()->order;
    if (!order.whole()) return tr("Not every piece can be cut as planned");
    if (order.rack_after == job.shop->rack) return tr("The rack stays as it is");
    return {};
}

void OrderChoices::putToRack() {
    if (!whyNotToRack().isEmpty()) return;
    const std::vector<RackPiece> left = maker_.order()->order.rack_after;
    editBook(desk_, tr("What is left to the rack"), [&left](ShopBook& book) { book.rack = left; });
}

void OrderChoices::setSpares(int count) {
    const std::vector<std::string> ids = chosen();
    if (ids.size() != 1) return;
    desk_.document.edit(
        tr("Spare pieces"),
        [&](Job& job) {
            std::erase_if(job.cage.spares, [&](const SparePiece& spare) { return spare.of == ids[0]; });
            if (count > 0) job.cage.spares.push_back({ids[0], count});
        },
        QByteArray("spares/") + QByteArray::fromStdString(ids[0]));
}

void OrderChoices::setApart() {
    const std::vector<std::string> ids = chosen();
    if (ids.size() < 2) return;
    const int list = apartList();
    desk_.document.edit(list >= 0 ? tr("May share a heat again") : tr("Must not share a heat"),
                        [&](Job& job) {
                            if (list >= 0)
                                job.cage.apart.erase(job.cage.apart.begin() + list);
                            else
                                job.cage.apart.push_back({ids, ""});
                        });
}

}  // namespace hoopwright
