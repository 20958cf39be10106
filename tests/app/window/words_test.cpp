// What stands in the forms and lists: words for people, figures a person can use, and none of it cut off.
#include <QComboBox>
#include <QLabel>
#include <QListView>
#include <QRegularExpression>

#include "app/view/marks.h"
#include "app/window/car_step.h"
#include "app/window/falls_short.h"
#include "app/window/findings.h"
#include "app/window/form_help.h"
#include "app/window/left_page.h"
#include "desk_fixture.h"

namespace hoopwright {
namespace {

class Words : public DeskTest, public testing::WithParamInterface<const char*> {
protected:
    Words() {
        EXPECT_THAT(desk_.document.open(demo_.root() / "cages" / (std::string(GetParam()) + ".yaml")),
                    testing::IsEmpty());
    }
    std::vector<Thing> things() const {
        std::vector<Thing> all = partsOfTheJob();
        // The line with the most points: the longest form there is.
        const auto longest = std::max_element(
            job().car.lines.begin(), job().car.lines.end(),
            [](const CarLine& one, const CarLine& two) { return one.points.size() < two.points.size(); });
        all.push_back({Kind::car_line, longest->name});
        int good = 0;
        for (const Finding& finding : desk_.document.report().findings) {
            if (finding.answer == Answer::meets && ++good % 4 != 1) continue;
            all.push_back({Kind::finding, findingKey(finding)});
        }
        return all;
    }
    /// Every piece of text a person reads in the form; what is typed as an id (called, may pass, coped to) is
    /// left out.
    QStringList wordsOf(const Form& form) const {
        QStringList all;
        for (const auto* one : form.findChildren<QLabel*>()) {
            if (!one->isHidden()) all << one->text();
        }
        for (const auto* one : form.findChildren<QAbstractButton*>()) all << one->text();
        for (const auto* one : form.findChildren<FactList*>()) all << one->accessibleDescription();
        for (const auto* one : form.findChildren<QComboBox*>()) {
            for (int i = 0; i < one->count(); ++i) all << one->itemText(i);
        }
        return all;
    }
    static void expectForPeople(const QString& words) {
        static const QRegularExpression kId(QStringLiteral("[a-z0-9]_[a-z0-9]")),
            kLong(QStringLiteral("\\d{5,}(\\.\\d+)? mm")), kDigits(QStringLiteral("\\.\\d{5,}")),
            kNoNumber(QStringLiteral("\\b(nan|inf|-0|-0\\.0+)\\b"));
        const std::string said = words.toStdString();
        EXPECT_FALSE(words.contains(kId)) << "an id: " << said;
        EXPECT_FALSE(words.contains(kLong)) << "more than ten metres in mm: " << said;
        EXPECT_FALSE(words.contains(kDigits)) << "more digits than anyone needs: " << said;
        EXPECT_FALSE(words.contains(kNoNumber)) << "no number: " << said;
        EXPECT_FALSE(words.contains(QLatin1String("  ,"))) << said;
        EXPECT_FALSE(words.endsWith(QLatin1Char(' ')) && words.trimmed().endsWith(QLatin1Char(','))) << said;
    }
    template <class Look>
    void inEach(const Look& look) {
        DeskTest::inEach(things(), look);
    }
    static QStringList rowsOf(QAbstractItemModel& model) {
        QStringList all;
        for (int row = 0; row < model.rowCount(); ++row) {
            all << model.index(row, 0).data().toString();
            all << model.index(row, 0).data(Qt::AccessibleTextRole).toString();
        }
        return all;
    }
};

TEST(TubeNames, NeverBeginANumberWithAPoint) {
    EXPECT_EQ(tubeName("1.750x.120_dom"), QStringLiteral("1.750 × 0.120 dom"));
    EXPECT_EQ(tubeName("1.625x.083"), QStringLiteral("1.625 × 0.083"));
    EXPECT_EQ(tubeName("45x2.5"), QStringLiteral("45 × 2.5"));
}

TEST_P(Words, FormsSpeakInWordsAndUsableFigures) {
    for (const UnitsShown units : {UnitsShown::mm, UnitsShown::in}) {
        desk_.setUnits(units);
        inEach([&](const Form& form) {
            for (const QString& words : wordsOf(form)) expectForPeople(words);
        });
    }
}

TEST_P(Words, ListsDoToo) {
    QAction order;
    order.setCheckable(true);
    CarPage car(desk_, {}, {}, nullptr);
    DriverPage driver(desk_, {});
    QAction nodes;
    nodes.setCheckable(true);
    CagePage cage(desk_, {}, &order, &nodes);
    CheckPage check(desk_, {}, {});
    FallsShort shorts(desk_);
    for (const UnitsShown units : {UnitsShown::mm, UnitsShown::in, UnitsShown::both}) {
        desk_.setUnits(units);
        for (QListView* list : std::initializer_list<QListView*>{car.list(), driver.list(), cage.list(),
                                                                 check.list(), shorts.list()}) {
            for (const QString& words : rowsOf(*list->model())) expectForPeople(words);
        }
    }
}

TEST_P(Words, NoLabelIsCutOffAtTheNarrowestDetails) {
    details_->resize(340, 900);
    desk_.setUnits(UnitsShown::both);
    inEach([&](const Form& form) {
        for (const auto* label : form.findChildren<QLabel*>()) {
            if (label->isHidden() || label->wordWrap()) continue;
            EXPECT_LE(label->sizeHint().width(), label->width()) << label->text().toStdString();
        }
        for (const auto* button : form.findChildren<QPushButton*>()) {
            if (!button->isVisibleTo(&form)) continue;
            EXPECT_LE(button->fontMetrics().horizontalAdvance(button->text()), button->width() - 8)
                << button->text().toStdString();
            EXPECT_LE(button->mapTo(&form, QPoint(button->width(), 0)).x(), form.width());
        }
    });
}

TEST_P(Words, EveryValueIsSeenWholeInItsField) {
    details_->resize(340, 900);  // the least it has in the window
    for (const UnitsShown units : {UnitsShown::mm, UnitsShown::in}) {
        desk_.setUnits(units);
        inEach([&](const Form& form) {
            for (auto* field : form.findChildren<ValueField*>()) {
                if (!field->isVisibleTo(&form)) continue;
                const QMargins margins = field->textMargins();
                const int room = field->width() - margins.left() - margins.right() - 16;
                EXPECT_LE(field->fontMetrics().horizontalAdvance(field->text()), room)
                    << field->accessibleName().toStdString() << ": " << field->text().toStdString();
            }
        });
    }
}

TEST_P(Words, TheUnitsOfALineAreThePersonsAlone) {
    for (const auto& [units, other] :
         {std::pair{UnitsShown::mm, QRegularExpression(QStringLiteral("\\d (in|ft|lb|in²)\\b"))},
          std::pair{UnitsShown::in, QRegularExpression(QStringLiteral("\\d (mm|cm|kg|cm²)\\b"))}}) {
        for (const ShortLine& line : linesOf(desk_.document, units)) {
            SCOPED_TRACE(line.sentence.toStdString());
            EXPECT_FALSE(line.value.contains(other)) << line.value.toStdString();
            EXPECT_FALSE(line.by.contains(other)) << line.by.toStdString();
        }
    }
}

std::string wordOf(const testing::TestParamInfo<const char*>& info) {
    return QString::fromLatin1(info.param).replace(QLatin1Char('/'), QLatin1Char('_')).toStdString();
}
INSTANTIATE_TEST_SUITE_P(Demo, Words, testing::Values("hillclimb_saloon", "faults/mile_pickup"), wordOf);

}  // namespace
}  // namespace hoopwright
