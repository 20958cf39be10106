// How the order is cut, chosen in the window: off-cuts, kerf, spares, what must not share a heat.
#include "app/window/order_choices.h"

#include <QPushButton>
#include <QSpinBox>

#include "app/window/order_page.h"
#include "core/model/shop_book.h"
#include "desk_fixture.h"

namespace hoopwright {
namespace {

using testing::HasSubstr;

class Ordering : public DeskTest {
protected:
    Ordering() {
        page_.resize(290, 640);
        page_.show();
        maker_.setWanted(true);
    }
    template <class Control>
    Control* one(const QString& name) {
        for (auto* each : page_.findChildren<Control*>())
            if (each->accessibleName() == name ||
                (each->metaObject()->inherits(&QPushButton::staticMetaObject) &&
                 each->property("text").toString() == name))
                return each;
        ADD_FAILURE() << name.toStdString();
        return nullptr;
    }
    const Order& made() {
        EXPECT_TRUE(waitFor([&] { return maker_.order() && !maker_.working(); }));
        return maker_.order()->order;
    }
    std::string listed() const {
        std::string out;
        for (int row = 0; row < page_.list()->model()->rowCount(); ++row) {
            const QModelIndex at = page_.list()->model()->index(row, 0);
            out += at.data().toString().toStdString() + "\n" +
                   at.data(Qt::ToolTipRole).toString().toStdString() + "\n";
        }
        return out;
    }
    OrderMaker maker_{desk_};
    OrderPage page_{desk_, maker_, {}};
};

TEST_F(Ordering, OffCutsAndKerfAreTheShopsAndCanBeTakenBack) {
    EXPECT_GT(made().off_cuts, 0);
    auto* first = one<TickField>(QStringLiteral("Off-cuts of the rack first"));
    ASSERT_TRUE(first && first->isChecked());
    first->click();
    EXPECT_FALSE(job().shop->off_cuts_first);
    EXPECT_EQ(made().off_cuts, 0);
    undo();
    EXPECT_TRUE(job().shop->off_cuts_first);
    EXPECT_TRUE(first->isChecked());
    one<TickField>(QStringLiteral("A kerf behind every piece"))->click();
    EXPECT_EQ(job().shop->kerf_at, KerfAt::every_cut);
    EXPECT_EQ(made().kerf_at, KerfAt::every_cut);
    desk_.document.edit(QStringLiteral("No shop"), [](Job& next) { next.shop = nullptr; });
    EXPECT_FALSE(first->isEnabled());
    EXPECT_THAT(first->toolTip().toStdString(), HasSubstr("no shop's book"));
}

TEST_F(Ordering, SparesOfTheChosenBarAreSetAndListed) {
    auto* spares = one<QSpinBox>(QStringLiteral("Spare pieces of the chosen bar"));
    ASSERT_TRUE(spares);
    EXPECT_FALSE(spares->isEnabled());
    desk_.selection.set({Kind::member, "dash_bar"});
    EXPECT_TRUE(spares->isEnabled());
    spares->setValue(2);
    ASSERT_EQ(job().cage.spares.back(), (SparePiece{"dash_bar", 2}));
    made();
    EXPECT_THAT(listed(), HasSubstr("Dash bar, spare 2"));
    spares->setValue(0);
    for (const SparePiece& spare : job().cage.spares) EXPECT_NE(spare.of, "dash_bar");
}

TEST_F(Ordering, ChosenBarsMayBeKeptApartAndTogetherAgain) {
    const std::size_t before = job().cage.apart.size();
    desk_.selection.set(std::vector<Thing>{{Kind::member, "dash_bar"}, {Kind::member, "belt_bar"}});
    one<QPushButton>(QStringLiteral("Must not share a heat"))->click();
    ASSERT_EQ(job().cage.apart.size(), before + 1);
    EXPECT_EQ(job().cage.apart.back().of, (std::vector<std::string>{"dash_bar", "belt_bar"}));
    made();
    EXPECT_THAT(listed(), HasSubstr("Each of another heat: Dash bar: "));
    one<QPushButton>(QStringLiteral("May share a heat again"))->click();
    EXPECT_EQ(job().cage.apart.size(), before);
}

TEST_F(Ordering, WhatCannotBeCutIsSaidInTheList) {
    desk_.document.edit(QStringLiteral("Short sticks"), [](Job& next) {
        for (TubeStock& tube : next.stock.tubes) tube.sticks = {{700, 10}};
        auto book = std::make_shared<ShopBook>(*next.shop);
        book->off_cuts_first = false;
        next.shop = book;
    });
    made();
    QCoreApplication::processEvents();
    EXPECT_THAT(listed(), HasSubstr("the longest stick is 700.0 mm; get longer sticks."));
    desk_.document.edit(QStringLiteral("Wrong price"), [](Job& next) {
        next.stock.tubes[0].sticks = {{6000, -3}};
    });
    made();
    QCoreApplication::processEvents();
    EXPECT_THAT(listed(), HasSubstr("A stick has a price below zero; put it right in the stock list."));
}

TEST_F(Ordering, WhatIsLeftBecomesTheRackOfTheBookAndComesBackByUndo) {
    const std::vector<RackPiece> was = job().shop->rack, left = made().rack_after;
    ASSERT_FALSE(was == left);
    auto* button = one<QPushButton>(QStringLiteral("What is left to the rack"));
    ASSERT_TRUE(button && button->isEnabled());
    button->click();
    EXPECT_EQ(job().shop->rack, left);
    EXPECT_TRUE(desk_.document.dirty()) << "it is kept when the job is saved";
    undo();
    EXPECT_EQ(job().shop->rack, was);
    made();
    desk_.document.edit(QStringLiteral("Not known"), [](Job& next) {
        auto book = std::make_shared<ShopBook>(*next.shop);
        book->rack_from_mm.reset();
        next.shop = std::move(book);
    });
    EXPECT_FALSE(button->isEnabled());
    EXPECT_THAT(button->toolTip().toStdString(), HasSubstr("from which length on"));
}

}  // namespace
}  // namespace hoopwright
