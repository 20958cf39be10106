// What holds for every form of the details: each value can be typed, one edit is one undo, a wrong entry
// changes nothing, the units change no value, and every control has a name of its own.
#include <QSet>

#include "app/window/findings.h"
#include "desk_fixture.h"

namespace hoopwright {
namespace {

using testing::HasSubstr;

class DetailsForms : public DeskTest {
protected:
    /// One of every kind of thing that has a form.
    std::vector<Thing> things() const {
        std::vector<Thing> all = partsOfTheJob();
        all.push_back({Kind::car_line, job().car.lines.front().name});
        all.push_back({Kind::car_line, "windshield"});
        return all;
    }
    template <class Look>
    void inEach(const Look& look) {
        DeskTest::inEach(things(), look);
    }
};

TEST_F(DetailsForms, EveryValueCanBeTypedAndOneEntryIsOneUndo) {
    const Job before = job();
    int typed = 0;
    inEach([&](Form& form) {
        // Held by name: an edit may build the form anew.
        QStringList names;
        for (auto* field : form.findChildren<ValueField*>()) names << field->accessibleName();
        for (const QString& name : names) {
            SCOPED_TRACE(name.toStdString());
            if (name.contains(QStringLiteral("seat move"))) continue;  // tried, not an edit: see DriverForm
            const int steps = desk_.document.undoStack().index();
            auto* field = control<ValueField>(name);
            const bool part = name.endsWith(QStringLiteral(", part"));
            type(field, field->text().isEmpty() ? QStringLiteral("150")
                        : part                  ? QStringLiteral("+0.1")
                                                : QStringLiteral("+1"));
            EXPECT_EQ(desk_.document.undoStack().index(), steps + 1);
            EXPECT_FALSE(job() == before);
            undo();
            EXPECT_TRUE(job() == before);
            QCoreApplication::processEvents();
            ++typed;
        }
    });
    EXPECT_GT(typed, 300);
}

TEST_F(DetailsForms, NoWrongEntryChangesAnythingAndEachSaysWhatWasTyped) {
    const Job before = job();
    inEach([&](Form& form) {
        for (auto* field : form.findChildren<ValueField*>()) {
            for (const QString& wrong :
                 {QStringLiteral("twelve"), QStringLiteral("1/0"), QStringLiteral("10 kg m"),
                  QStringLiteral("nan"), QStringLiteral("+")}) {
                type(field, wrong);
                EXPECT_FALSE(field->complaint().isEmpty())
                    << field->accessibleName().toStdString() << " took " << wrong.toStdString();
                EXPECT_TRUE(shows(field->complaint())) << field->accessibleName().toStdString();
                EXPECT_EQ(field->accessibleDescription(), field->complaint());
            }
            QTest::keyClick(field, Qt::Key_Escape);
            EXPECT_TRUE(field->complaint().isEmpty());
        }
    });
    EXPECT_TRUE(job() == before);
    EXPECT_EQ(steps(), 0);
}

TEST_F(DetailsForms, LookingAtEverythingInEveryUnitChangesNothing) {
    const Job before = job();
    for (const UnitsShown units : {UnitsShown::in, UnitsShown::both, UnitsShown::mm}) {
        desk_.setUnits(units);
        inEach([&](Form& form) {
            for (auto* field : form.findChildren<QLineEdit*>()) {
                QTest::keyClick(field, Qt::Key_Return);  // taking what stands there is no edit
            }
        });
    }
    EXPECT_TRUE(job() == before);
    EXPECT_EQ(steps(), 0);
}

TEST_F(DetailsForms, EveryControlHasANameOfItsOwn) {
    inEach([&](Form& form) {
        QSet<QString> names;
        for (QWidget* one : form.findChildren<QWidget*>()) {
            if (!(one->focusPolicy() & Qt::TabFocus) || !one->isVisibleTo(&form)) continue;
            QString name = one->accessibleName();
            if (auto* button = qobject_cast<QAbstractButton*>(one); button && name.isEmpty())
                name = button->text();
            EXPECT_FALSE(name.isEmpty()) << one->metaObject()->className();
            EXPECT_FALSE(names.contains(name)) << "two are called " << name.toStdString();
            names.insert(name);
        }
    });
}

TEST_F(DetailsForms, TabGoesThroughEveryFieldInTheOrderOfReading) {
    Form& form = choose(Kind::member, "belt_bar");
    details_->focusFirst();
    QWidget* at = form.nextInFocusChain();
    int last_y = -1, seen = 0;
    for (; at != &form && form.isAncestorOf(at); at = at->nextInFocusChain()) {
        if (!(at->focusPolicy() & Qt::TabFocus) || !at->isVisibleTo(&form)) continue;
        const int y = at->mapTo(&form, QPoint()).y();
        EXPECT_GE(y, last_y - 6) << at->accessibleName().toStdString();
        last_y = y;
        ++seen;
    }
    EXPECT_GT(seen, 15);
}

TEST_F(DetailsForms, AThingThatGoesTakesItsFormAlong) {
    choose(Kind::member, "roof_diagonal");
    desk_.document.edit(QStringLiteral("out"), [&](Job& next) {
        deleteParts(next, desk_.document.geometry(), {"roof_diagonal"}, Orphans::remove_too);
    });
    QCoreApplication::processEvents();
    EXPECT_EQ(desk_.selection.last(), nullptr);
    EXPECT_THAT(facts(QStringLiteral("Job, the cage")).toStdString(), HasSubstr("Bars: 25."));
    undo();
    QCoreApplication::processEvents();
    EXPECT_THAT(facts(QStringLiteral("Job, the cage")).toStdString(), HasSubstr("Bars: 26."));
}

TEST_F(DetailsForms, ALongRunOfTubeIsInMetresOrFeet) {
    desk_.selection.clear();
    QCoreApplication::processEvents();
    EXPECT_TRUE(
        facts(QStringLiteral("Job, the cage")).contains(QRegularExpression("Tube: \\d\\d\\.\\d m\\.")));
    desk_.setUnits(UnitsShown::in);
    EXPECT_TRUE(
        facts(QStringLiteral("Job, the cage")).contains(QRegularExpression("Tube: \\d\\d\\.\\d ft\\.")));
}

TEST_F(DetailsForms, FoldsOpenCloseAndAreRemembered) {
    choose(Kind::member, "main_hoop");
    const QString head = QStringLiteral("Main hoop, joints"), list = head;
    auto* fold = control<QAbstractButton>(head);
    ASSERT_NE(fold, nullptr);
    auto* facts_of_it = control<FactList>(list);
    EXPECT_FALSE(fold->isChecked());
    EXPECT_TRUE(facts_of_it->parentWidget()->isHidden());
    EXPECT_GT(fold->accessibleDescription().toInt(), 5) << "the heading says how many";
    QTest::keyClick(fold, Qt::Key_Space);
    EXPECT_FALSE(facts_of_it->parentWidget()->isHidden());
    choose(Kind::member, "belt_bar");
    EXPECT_TRUE(control<QAbstractButton>(QStringLiteral("Belt bar, joints"))->isChecked());
    QTest::keyClick(control<QAbstractButton>(QStringLiteral("Belt bar, joints")), Qt::Key_Space);
    choose(Kind::member, "main_hoop");
    EXPECT_FALSE(control<QAbstractButton>(head)->isChecked());
}

TEST_F(DetailsForms, WithNothingChosenTheStepDecidesWhatIsShown) {
    desk_.selection.clear();
    const auto title = [&] {
        QCoreApplication::processEvents();
        return details_->form()->findChild<QLabel*>()->text();
    };
    details_->setStep(Step::car);
    EXPECT_EQ(title(), QString::fromStdString(job().car.name));
    details_->setStep(Step::driver);
    EXPECT_EQ(title(), QString::fromStdString(job().drivers.front().name));
    for (const Step step : {Step::cage, Step::check, Step::order}) {
        details_->setStep(step);
        EXPECT_EQ(title(), desk_.document.title());
    }
    details_->setStep(Step::car);
    choose(Kind::member, "belt_bar");
    EXPECT_EQ(title(), QStringLiteral("Belt bar")) << "what is chosen comes first";
    desk_.document.edit(QStringLiteral("nobody"), [](Job& next) {
        next.drivers.clear();
        next.cage.driver_files.clear();
    });
    desk_.selection.clear();
    details_->setStep(Step::driver);
    EXPECT_EQ(title(), desk_.document.title()) << "nobody is seated";
}

TEST_F(DetailsForms, AChosenBarPutsItsHeightOnTheTapeAndTurningAwayTakesItOff) {
    choose(Kind::member, "belt_bar");
    ASSERT_TRUE(desk_.tape());
    EXPECT_EQ(desk_.tape().label, QStringLiteral("Belt bar, first end, height"));
    EXPECT_EQ(desk_.tape().get(), 515);
    choose(Kind::driver, "tall");
    EXPECT_FALSE(desk_.tape()) << "a driver has no one length to begin with";
    choose(Kind::member, "hoop_diagonal");
    EXPECT_EQ(desk_.tape().label, QStringLiteral("Hoop diagonal, first end, height"));
    pick(QStringLiteral("Hoop diagonal, first end, side"), QStringLiteral("right"));
    EXPECT_TRUE(desk_.tape()) << "an edit leaves it there";
}

}  // namespace
}  // namespace hoopwright
