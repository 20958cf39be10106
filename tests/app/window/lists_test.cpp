// The lists at the left, the rail of steps, the find box, the order, the colours.
#include <QAction>
#include <QListView>
#include <QStandardItemModel>
#include <QTest>
#include <cmath>
#include <set>

#include "app/view/picture.h"
#include "app/window/car_step.h"
#include "app/window/find_box.h"
#include "app/window/form_help.h"
#include "app/window/left_page.h"
#include "app/window/order_page.h"
#include "app/window/step_labels.h"
#include "app/window/step_rail.h"
#include "app/window/style.h"
#include "desk_fixture.h"

namespace hoopwright {
namespace {

using testing::ElementsAre;
using testing::HasSubstr;

class Lists : public DeskTest {
protected:
    static QStringList titles(const LeftPage& page) {
        QStringList all;
        for (int row = 0; row < page.list()->model()->rowCount(); ++row)
            all << page.list()->model()->index(row, 0).data().toString();
        return all;
    }
    static void click(const LeftPage& page, const QString& title, Qt::KeyboardModifiers keys = {}) {
        RowsView* list = page.list();
        const int row = int(titles(page).indexOf(title));
        ASSERT_GE(row, 0) << title.toStdString();
        const QModelIndex index = list->model()->index(row, 0);
        list->scrollTo(index);
        QTest::mouseClick(list->viewport(), Qt::LeftButton, keys, list->visualRect(index).center());
    }
    template <class Page, class... More>
    static void show(Page& page) {
        page.resize(272, 700);
        page.show();
        QCoreApplication::processEvents();
    }
};

TEST_F(Lists, TheCarListsItsPointsAndLinesInWords) {
    CarPage page(desk_, {}, {}, nullptr);
    page.turnTo(CarPage::Shown::parts);
    show(page);
    const QStringList all = titles(page);
    EXPECT_TRUE(all.contains(QStringLiteral("Windshield top, left")));
    EXPECT_TRUE(all.contains(QStringLiteral("Roof rail, left")));
    for (const QString& one : all) EXPECT_FALSE(one.contains(QLatin1Char('_'))) << one.toStdString();
    click(page, QStringLiteral("Rear leg, left"));
    EXPECT_EQ(*desk_.selection.last(), (Thing{Kind::car_point, "rear_leg.left"}));
    click(page, QStringLiteral("Windshield"));
    EXPECT_EQ(*desk_.selection.last(), (Thing{Kind::car_line, "windshield"}));
}

TEST_F(Lists, DriversAreListedAndFollowTheirNames) {
    DriverPage page(desk_, {});
    show(page);
    EXPECT_THAT(titles(page), ElementsAre(QStringLiteral("Tall driver"), QStringLiteral("Short driver")));
    desk_.document.edit(QStringLiteral("name"), [](Job& next) { next.drivers[0].name = "Anybody"; });
    EXPECT_EQ(titles(page).front(), QStringLiteral("Anybody"));
}

TEST_F(Lists, BarsStandByPlaceOrInBuildOrder) {
    QAction order;
    order.setCheckable(true);
    QAction nodes;
    nodes.setCheckable(true);
    CagePage page(desk_, {}, &order, &nodes);
    show(page);
    EXPECT_EQ(titles(page).front(), QStringLiteral("Hoops and sides"));
    EXPECT_TRUE(titles(page).contains(QStringLiteral("Door bar, front half, right")));
    order.setChecked(true);
    EXPECT_EQ(titles(page).front(), QStringLiteral("1  Main hoop"));
    EXPECT_EQ(titles(page)[1], QStringLiteral("2  Hoop diagonal"));
    // Each bar has the number it has on pictures and papers, both of a pair their own.
    const CageGeometry& cage = desk_.document.geometry();
    for (const ViewLabel& label : numberLabels(cage)) {
        const ResolvedMember& bar = cage.members[std::size_t(cage.member(label.thing))];
        const QString row = label.text + QStringLiteral("  ") + text(bar.name);
        EXPECT_TRUE(titles(page).contains(row)) << row.toStdString();
    }
}

TEST_F(Lists, CtrlAndShiftChooseSeveral) {
    QAction order;
    order.setCheckable(true);
    QAction nodes;
    nodes.setCheckable(true);
    CagePage page(desk_, {}, &order, &nodes);
    show(page);
    click(page, QStringLiteral("Hoop diagonal"));
    click(page, QStringLiteral("Seat bar, front"), Qt::ShiftModifier);
    EXPECT_THAT(desk_.selection.ids(Kind::member),
                testing::UnorderedElementsAre("hoop_diagonal", "belt_bar", "belt_bar_far", "seat_bar_front"));
    click(page, QStringLiteral("Belt bar"), Qt::ControlModifier);
    EXPECT_EQ(desk_.selection.ids(Kind::member).size(), 3u);
}

TEST_F(Lists, AnEditElsewhereKeepsTheChosenRowAndAHeadingIsNeverChosen) {
    QAction order;
    order.setCheckable(true);
    QAction nodes;
    nodes.setCheckable(true);
    CagePage page(desk_, {}, &order, &nodes);
    show(page);
    desk_.selection.set({Kind::member, "dash_bar"});
    EXPECT_EQ(page.list()->currentIndex().data().toString(), QStringLiteral("Dash bar"));
    desk_.document.edit(QStringLiteral("move"), [](Job& next) { moveInOrder(next, "belt_bar", 3); });
    EXPECT_THAT(desk_.selection.ids(Kind::member), ElementsAre("dash_bar"));
    click(page, QStringLiteral("Roof and front"));
    for (const Thing& one : desk_.selection.all()) EXPECT_EQ(one.id, "dash_bar");
}

TEST_F(Lists, EveryAnswerIsListedOrOnlyOneKind) {
    CheckPage page(desk_, {}, {});
    show(page);
    const auto all = titles(page).size();
    auto* filter = page.findChild<ChoiceField*>();
    ASSERT_NE(filter, nullptr);
    EXPECT_FALSE(filter->accessibleName().isEmpty());
    const int at = filter->findText(QStringLiteral("only: ask a person"));
    filter->setCurrentIndex(at);
    emit filter->activated(at);
    EXPECT_EQ(titles(page).size() - 1, desk_.document.report().count(Answer::ask_person));
    EXPECT_LT(titles(page).size(), all);
    const int unconfirmed = filter->findText(QStringLiteral("only: meets, not confirmed"));
    filter->setCurrentIndex(unconfirmed);
    emit filter->activated(unconfirmed);
    EXPECT_EQ(titles(page).size() - 1, desk_.document.report().unconfirmed());
    EXPECT_GT(desk_.document.report().unconfirmed(), 0);
}

TEST_F(Lists, AMarkFollowsTheWorstAnswer) {
    QAction order;
    order.setCheckable(true);
    QAction nodes;
    nodes.setCheckable(true);
    CagePage page(desk_, {}, &order, &nodes);
    show(page);
    const auto markOf = [&](const char* id) -> std::optional<Answer> {
        const auto& rows = static_cast<RowsModel&>(*page.list()->model());
        return rows.row(rows.indexOf({Kind::member, id})).mark;
    };
    EXPECT_EQ(markOf("main_hoop"), Answer::meets);
    desk_.document.edit(QStringLiteral("thin"),
                        [](Job& next) { findMember(next.cage, "main_hoop")->stock = "40x2"; });
    EXPECT_EQ(markOf("main_hoop"), Answer::fails);
    undo();
    EXPECT_EQ(markOf("main_hoop"), Answer::meets);
}

TEST_F(Lists, TheRailSaysWhereAStepStandsAndIsPressedByMouse) {
    StepRail rail(desk_);
    rail.resize(88, 600);
    rail.show();
    rail.setState(Step::check, QStringLiteral("8 fail"), Answer::fails);
    EXPECT_EQ(rail.state(Step::check), QStringLiteral("8 fail"));
    int wanted = -1;
    QObject::connect(&rail, &StepRail::wanted, &rail, [&](Step step) { wanted = int(step); });
    const auto buttons = rail.findChildren<QAbstractButton*>();
    ASSERT_EQ(buttons.size(), 5);
    for (int i = 0; i < buttons.size(); ++i) {
        QTest::mouseClick(buttons[i], Qt::LeftButton);
        EXPECT_EQ(wanted, i);
        EXPECT_TRUE(buttons[i]->toolTip().contains(QStringLiteral("Ctrl+%1").arg(i + 1)));
    }
    // The mark is drawn: the picture of a step that fails is another than of one that meets.
    const QImage fails = buttons[3]->grab().toImage();
    rail.setState(Step::check, QStringLiteral("8 fail"), Answer::meets);
    EXPECT_NE(buttons[3]->grab().toImage(), fails);
}

TEST(FindScore, BeginningsOfWordsInAnyOrderFind) {
    EXPECT_GE(findScore(QStringLiteral("belt"), QStringLiteral("Belt bar")), 0);
    EXPECT_GE(findScore(QStringLiteral("bar be"), QStringLiteral("Belt bar")), 0);
    EXPECT_GE(findScore(QStringLiteral("PILLAR"), QStringLiteral("b_pillar_top.left")), 0);
    EXPECT_LT(findScore(QStringLiteral("elt"), QStringLiteral("Belt bar")), 0);
    EXPECT_LT(findScore(QStringLiteral("belt z"), QStringLiteral("Belt bar")), 0);
}

TEST(FindScore, TheClosestComesFirst) {
    const QString typed = QStringLiteral("belt");
    EXPECT_LT(findScore(typed, QStringLiteral("Belt bar")), findScore(typed, QStringLiteral("Far belt bar")));
    EXPECT_LT(findScore(typed, QStringLiteral("Belt")), findScore(typed, QStringLiteral("Beltline")));
}

TEST_F(Lists, TheFindBoxGoesByArrowsAndEnterAndEmptiesItself) {
    QString gone;
    FindBox find(desk_, [&] {
        return std::vector<Findable>{
            {QStringLiteral("Belt bar"), QStringLiteral("bar"), [&] { gone = QStringLiteral("first"); }},
            {QStringLiteral("Belt bar, far half"), QStringLiteral("bar"),
             [&] { gone = QStringLiteral("second"); }},
            {QStringLiteral("Dash bar"), QStringLiteral("bar"), [&] { gone = QStringLiteral("third"); }}};
    });
    find.show();
    QTest::keyClicks(&find, QStringLiteral("belt"));
    QTest::keyClick(&find, Qt::Key_Down);
    QTest::keyClick(&find, Qt::Key_Return);
    EXPECT_EQ(gone, QStringLiteral("second"));
    EXPECT_TRUE(find.text().isEmpty());
    QTest::keyClicks(&find, QStringLiteral("zzz"));
    QTest::keyClick(&find, Qt::Key_Return);
    EXPECT_EQ(gone, QStringLiteral("second")) << "nothing found, nothing done";
    QTest::keyClick(&find, Qt::Key_Escape);
    EXPECT_TRUE(find.text().isEmpty());
}

TEST_F(Lists, OnlyWhatTheStepIsAboutIsNamedInTheView) {
    const auto names = [&](Step step) { return stepLabels(desk_, step, LengthUnit::mm); };
    const std::size_t bars = desk_.document.geometry().members.size();
    EXPECT_EQ(names(Step::car).size(), job().car.points.size());
    EXPECT_EQ(names(Step::car).front().text, QStringLiteral("Sill b, left"));
    EXPECT_TRUE(names(Step::driver).empty());
    EXPECT_TRUE(names(Step::check).empty()) << "nothing fails";
    EXPECT_TRUE(names(Step::order).empty()) << "a piece is named once it is chosen";
    std::set<std::string> in_cage;
    for (const ViewLabel& label : names(Step::cage)) in_cage.insert(label.thing);
    EXPECT_TRUE(in_cage.count("main_hoop")) << "it carries many";
    EXPECT_FALSE(in_cage.count("roof_diagonal")) << "it carries none";
    EXPECT_LT(in_cage.size(), bars / 2);
    desk_.document.edit(QStringLiteral("thin"),
                        [](Job& next) { findMember(next.cage, "roof_diagonal")->stock = "38x2"; });
    ASSERT_GT(desk_.document.report().count(Answer::fails), 0);
    EXPECT_FALSE(names(Step::check).empty());
    desk_.selection.set({Kind::member, "belt_bar"});
    for (const Step step : {Step::driver, Step::cage, Step::check, Step::order}) {
        ASSERT_EQ(names(step).size(), 1u);
        EXPECT_EQ(names(step)[0].thing, "belt_bar");
    }
}

class OrderLists : public Lists {
protected:
    OrderLists() : page_(desk_, maker_, {}) {
        page_.resize(272, 700);
        page_.show();
        maker_.setWanted(true);
        wait();
    }
    void wait() {
        EXPECT_TRUE(waitFor([&] { return maker_.order() && !maker_.working(); }));
    }
    OrderMaker maker_{desk_};
    OrderPage page_;
};

TEST_F(OrderLists, EveryBarIsAPieceOfAStick) {
    QStringList all = titles(page_);
    for (const ResolvedMember& bar : desk_.document.geometry().members)
        EXPECT_TRUE(all.contains(QString::fromStdString(bar.name))) << bar.name;
    const Order& order = maker_.order()->order;
    std::size_t pieces = 0;
    for (const OrderTube& tube : order.tubes)
        pieces += std::size_t(std::ranges::count(tube.pieces, 0, &OrderPiece::spare));
    EXPECT_EQ(pieces, desk_.document.geometry().members.size());
}

TEST_F(OrderLists, AnEditMakesANewOrderAndTheOldOneIsWhole) {
    const OrderRef before = maker_.order();
    desk_.document.edit(QStringLiteral("out"), [&](Job& next) {
        deleteParts(next, desk_.document.geometry(), {"roof_diagonal"}, Orphans::remove_too);
    });
    EXPECT_TRUE(waitFor([&] { return maker_.order() != before && !maker_.working(); }));
    EXPECT_LT(maker_.order()->order.length_mm, before->order.length_mm);
    EXPECT_EQ(before->cage.members.size(), desk_.document.geometry().members.size() + 1);
}

TEST_F(OrderLists, AClickOnAPieceChoosesItsBarInListAndDrawing) {
    NestDrawing drawing(desk_, maker_);
    drawing.resize(340, 900);
    drawing.show();
    drawing.grab();  // a click needs what was painted
    click(page_, QStringLiteral("Dash bar"));
    EXPECT_EQ(desk_.selection.last()->id, "dash_bar");
    std::set<std::string> hit;
    for (int y = 0; y < drawing.height(); y += 8) {
        QTest::mouseClick(&drawing, Qt::LeftButton, {}, QPoint(30, y));
        if (desk_.selection.last()) hit.insert(desk_.selection.last()->id);
    }
    EXPECT_GT(hit.size(), 3u);
}

/// How well a colour reads on another: WCAG 2.2, relative luminance and contrast ratio (published).
double contrast(const QColor& a, const QColor& b) {
    const auto luminance = [](const QColor& c) {
        const auto part = [](double v) {
            return v <= 0.03928 ? v / 12.92 : std::pow((v + 0.055) / 1.055, 2.4);
        };
        return 0.2126 * part(c.redF()) + 0.7152 * part(c.greenF()) + 0.0722 * part(c.blueF());
    };
    const double x = luminance(a), y = luminance(b);
    return (std::max(x, y) + 0.05) / (std::min(x, y) + 0.05);
}

TEST(Colours, EveryWordReadsOnWhatItStandsOnInLightAndDark) {
    constexpr double kReads = 4.5;  // WCAG 2.2, success criterion 1.4.3, level AA
    EXPECT_NEAR(contrast(Qt::white, Qt::black), 21, 1e-9);
    for (const Tone tone : {Tone::light, Tone::dark}) {
        const Palette p = paletteOf(tone);
        SCOPED_TRACE(tone == Tone::light ? "light" : "dark");
        for (const QColor& paper : {p.card, p.paper, p.field}) {
            EXPECT_GE(contrast(p.ink, paper), 7.0);
            EXPECT_GE(contrast(p.ink_soft, paper), kReads);
            EXPECT_GE(contrast(p.action, paper), kReads);
        }
        for (const QColor& word : {p.fails, p.meets, p.ask, p.cannot_tell})
            EXPECT_GE(contrast(word, p.card), kReads) << word.name().toStdString();
        EXPECT_GE(contrast(p.accent_ink, p.accent), kReads);
        EXPECT_GE(contrast(p.rail_ink, p.rail), 7.0);
        EXPECT_GE(contrast(p.rail_soft, p.rail), kReads);
        EXPECT_GE(contrast(paletteOf(Tone::dark).fails, p.rail), kReads);
        EXPECT_GE(contrast(p.ink, p.chosen), kReads);
    }
}

TEST(Colours, TheStyleLeavesNoColourWithoutAValue) {
    for (const Tone tone : {Tone::light, Tone::dark}) {
        const QString sheet = styleSheetOf(paletteOf(tone));
        EXPECT_FALSE(sheet.contains(QLatin1Char('@')))
            << sheet.mid(sheet.indexOf(QLatin1Char('@')), 30).toStdString();
        EXPECT_TRUE(sheet.contains(paletteOf(tone).accent.name()));
    }
}

}  // namespace
}  // namespace hoopwright
