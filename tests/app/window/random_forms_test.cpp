// A person who types anything anywhere: whatever happened, what is shown follows the job, undo goes to the
// very start and redo to the very end.
#include <QListView>
#include <random>

#include "app/window/falls_short.h"
#include "app/window/findings.h"
#include "core/model/resolve.h"
#include "desk_fixture.h"
#include "same_job.h"

namespace hoopwright {
namespace {

using testing::IsEmpty;

class RandomForms : public DeskTest, public testing::WithParamInterface<unsigned> {
protected:
    std::size_t upTo(std::size_t n) { return std::uniform_int_distribution<std::size_t>(0, n - 1)(random_); }
    template <class List>
    const auto& oneOf(const List& list) {
        return list[upTo(std::size_t(list.size()))];
    }

    void chooseSomething() {
        const Job& now = job();
        switch (upTo(6)) {
            case 0:
            case 1:
                if (!now.cage.members.empty()) {
                    const Member& bar = oneOf(now.cage.members);
                    choose(Kind::member, oneOf(resolvedIds(bar.id, bar.mirrored)));
                }
                break;
            case 2:
                if (!now.cage.plates.empty()) {
                    const Plate& plate = oneOf(now.cage.plates);
                    choose(Kind::plate, oneOf(resolvedIds(plate.id, plate.mirrored)));
                }
                break;
            case 3:
                if (!now.drivers.empty()) choose(Kind::driver, oneOf(now.drivers).id);
                break;
            case 4:
                if (!now.car.points.empty()) choose(Kind::car_point, oneOf(now.car.points).name);
                break;
            case 5:
                if (!now.car.lines.empty()) choose(Kind::car_line, oneOf(now.car.lines).name);
                break;
        }
    }
    void typeSomething() {
        static const char* kWords[] = {"812.4", "+1/16",  "less 3", "20 1/4", "-5",  "0",   "1.5 in", "abc",
                                       "",      "4.2 cm", "1e3",    "2' 7\"", "010", "12,", "nan",    "+12"};
        const auto fields = details_->form()->findChildren<ValueField*>();
        if (fields.isEmpty()) return;
        ValueField* field = oneOf(fields);
        type(field, QString::fromLatin1(kWords[upTo(std::size(kWords))]),
             upTo(5) == 0 ? Qt::Key_Escape : Qt::Key_Return);
    }
    void stepSomething() {
        const auto fields = details_->form()->findChildren<ValueField*>();
        if (fields.isEmpty()) return;
        ValueField* field = oneOf(fields);
        for (std::size_t n = upTo(4); n > 0; --n) QTest::keyClick(field, upTo(2) ? Qt::Key_Up : Qt::Key_Down);
    }
    void chooseFromSomething() {
        const auto boxes = details_->form()->findChildren<ChoiceField*>();
        if (boxes.isEmpty()) return;
        ChoiceField* box = oneOf(boxes);
        if (box->count() == 0) return;
        const int at = int(upTo(std::size_t(box->count())));
        box->setCurrentIndex(at);
        emit box->activated(at);
        QCoreApplication::processEvents();
    }
    void pressSomething() {
        QList<QPushButton*> buttons;
        for (auto* one : details_->form()->findChildren<QPushButton*>()) {
            if (one->text() != QStringLiteral("Pick in view")) buttons << one;
        }
        if (buttons.isEmpty()) return;
        oneOf(buttons)->click();
        QCoreApplication::processEvents();
    }
    void tickSomething() {
        const auto ticks = details_->form()->findChildren<TickField*>();
        if (ticks.isEmpty()) return;
        oneOf(ticks)->click();
        QCoreApplication::processEvents();
    }
    void doSomething() {
        switch (upTo(10)) {
            case 0:
            case 1:
                return chooseSomething();
            case 2:
            case 3:
            case 4:
                return typeSomething();
            case 5:
                return stepSomething();
            case 6:
                return chooseFromSomething();
            case 7:
                return pressSomething();
            case 8:
                return tickSomething();
            case 9:
                if (desk_.document.undoStack().canUndo() && upTo(2)) undo();
                QCoreApplication::processEvents();
        }
    }
    /// What is held beside the job is what a fresh start would make of it.
    void expectInStep() {
        const CageGeometry fresh = resolve(job());
        const CageGeometry& held = desk_.document.geometry();
        ASSERT_EQ(held.members.size(), fresh.members.size());
        EXPECT_EQ(held.problems.size(), fresh.problems.size());
        EXPECT_EQ(held.totals.tube_length_mm, fresh.totals.tube_length_mm);
        EXPECT_EQ(held.totals.tube_mass_kg, fresh.totals.tube_mass_kg);
        const CheckReport report = check(desk_.document.tables(), job(), fresh);
        ASSERT_EQ(desk_.document.report().findings.size(), report.findings.size());
        for (std::size_t n = 0; n < report.findings.size(); ++n) {
            EXPECT_EQ(desk_.document.report().findings[n].answer, report.findings[n].answer);
            EXPECT_EQ(desk_.document.report().findings[n].value, report.findings[n].value);
        }
    }
    /// Every field that nobody is typing in shows the job's value of now.
    void expectFormOfNow() {
        const Form& form = *details_->form();
        for (auto* field : form.findChildren<ValueField*>()) {
            if (field->isModified()) continue;
            const QString before = field->text();
            field->refresh();
            EXPECT_EQ(field->text(), before) << field->accessibleName().toStdString();
        }
        for (auto* box : form.findChildren<ChoiceField*>()) {
            const QString before = box->currentText();
            box->refresh();
            EXPECT_EQ(box->currentText(), before) << box->accessibleName().toStdString();
        }
    }

    std::mt19937 random_{GetParam()};
};

TEST_P(RandomForms, WhateverIsTypedUndoGoesToTheStartAndRedoToTheEnd) {
    const Job start = job();
    FallsShort shorts(desk_);
    for (int n = 0; n < 160; ++n) {
        doSomething();
        if (n % 40 == 39) {
            expectInStep();
            expectFormOfNow();
            EXPECT_EQ(shorts.list()->model()->rowCount(), int(linesOf(desk_.document, desk_.units()).size()));
        }
        if (HasFailure()) FAIL() << "after " << n << " doings";
    }
    const Job end = job();
    ASSERT_FALSE(end == start) << "something was done";
    std::vector<Job> back;
    while (desk_.document.undoStack().canUndo()) {
        back.push_back(job());
        undo();
        if (back.size() % 16 == 0) {
            QCoreApplication::processEvents();
            expectFormOfNow();
        }
    }
    QCoreApplication::processEvents();
    EXPECT_TRUE(job() == start);
    EXPECT_FALSE(desk_.document.dirty());
    expectInStep();
    expectFormOfNow();
    while (desk_.document.undoStack().canRedo()) {
        desk_.document.undoStack().redo();
        ASSERT_FALSE(back.empty());
        EXPECT_TRUE(job() == back.back()) << back.size() << " from the end";
        back.pop_back();
    }
    EXPECT_TRUE(job() == end);
    QCoreApplication::processEvents();
    expectInStep();
    expectFormOfNow();
}

TEST_P(RandomForms, WhatCameOutIsSavedAndReadAgainEqual) {
    for (int n = 0; n < 80; ++n) doSomething();
    const Job end = job();
    ASSERT_THAT(desk_.document.save(), IsEmpty());
    Document again;
    const Problems problems = again.open(demo_.saloon());
    ASSERT_THAT(problems, IsEmpty()) << problems.front().text();
    EXPECT_TRUE(sameJob(again.job(), end));
}

INSTANTIATE_TEST_SUITE_P(Seeds, RandomForms, testing::Values(41u, 42u, 43u));

}  // namespace
}  // namespace hoopwright
