// The desk and the details with a copy of a demo job open, without a window round them.
#pragma once

#include <gmock/gmock.h>

#include <QCheckBox>
#include <QLabel>
#include <QPushButton>
#include <QTest>

#include "app/window/desk.h"
#include "app/window/details.h"
#include "app/window/fields.h"
#include "app/window/form.h"
#include "core/edit/cage_edits.h"
#include "demo_copy.h"
#include "waits.h"

namespace hoopwright {

class DeskTest : public testing::Test {
protected:
    using Kind = Thing::Kind;

    DeskTest() {
        EXPECT_THAT(desk_.document.open(demo_.saloon()), testing::IsEmpty());
        QObject::connect(&desk_, &Desk::say, &desk_, [this](const QString& sentence) { said_ = sentence; });
        details_ = std::make_unique<Details>(desk_);
        details_->resize(360, 900);
        details_->show();
    }

    const Job& job() const { return desk_.document.job(); }
    const Member& member(const char* id) const { return *job().cage.member(id); }
    int steps() { return desk_.document.undoStack().count(); }
    void undo() { desk_.document.undoStack().undo(); }

    /// One of every kind of thing that has a form, but lines and findings.
    std::vector<Thing> partsOfTheJob() const {
        std::vector<Thing> all;
        for (const Member& bar : job().cage.members)
            all.push_back({Kind::member, resolvedIds(bar.id, bar.mirrored).back()});
        for (const Plate& plate : job().cage.plates)
            all.push_back({Kind::plate, resolvedIds(plate.id, plate.mirrored).front()});
        for (const Gusset& gusset : job().cage.gussets) all.push_back({Kind::gusset, gusset.id});
        for (const Driver& driver : job().drivers) all.push_back({Kind::driver, driver.id});
        all.push_back({Kind::car_facts, "car"});
        all.push_back({Kind::car_point, job().car.points.front().name});
        return all;
    }
    /// Looks at the form of each, then at that of the whole job.
    template <class Look>
    void inEach(const std::vector<Thing>& things, const Look& look) {
        for (const Thing& thing : things) {
            SCOPED_TRACE(thing.id);
            look(choose(thing.kind, thing.id));
        }
        desk_.selection.clear();
        QCoreApplication::processEvents();
        look(*details_->form());
    }
    /// Chooses a thing and waits until its form stands.
    Form& choose(Kind kind, const std::string& id) {
        desk_.selection.set({kind, id});
        QCoreApplication::processEvents();
        return *details_->form();
    }
    /// A control of the form by the name it has for assistive tools; a failure if there is not exactly one.
    template <class Control>
    Control* control(const QString& name) {
        QCoreApplication::processEvents();
        Control* found = nullptr;
        QStringList names;
        for (auto* one : details_->form()->findChildren<Control*>()) {
            names << one->accessibleName();
            if (one->accessibleName() != name) continue;
            EXPECT_EQ(found, nullptr) << "two are called " << name.toStdString();
            found = one;
        }
        EXPECT_NE(found, nullptr) << name.toStdString()
                                  << " is none of: " << names.join(QStringLiteral("; ")).toStdString();
        return found;
    }
    static void type(QLineEdit* into, const QString& words, int end = Qt::Key_Return) {
        ASSERT_NE(into, nullptr);
        into->selectAll();
        if (words.isEmpty()) {
            QTest::keyClick(into, Qt::Key_Delete);
        } else {
            QTest::keyClicks(into, words);
        }
        if (end) QTest::keyClick(into, Qt::Key(end));
        QCoreApplication::processEvents();
    }
    void type(const QString& name, const QString& words) { type(control<ValueField>(name), words); }
    void write(const QString& name, const QString& words) { type(control<TextField>(name), words); }
    void pick(const QString& name, const QString& words) {
        auto* box = control<ChoiceField>(name);
        ASSERT_NE(box, nullptr);
        const int at = box->findText(words);
        ASSERT_GE(at, 0) << words.toStdString();
        box->setCurrentIndex(at);
        emit box->activated(at);
        QCoreApplication::processEvents();
    }
    void press(const QString& name) {
        auto* button = control<QPushButton>(name);
        ASSERT_NE(button, nullptr);
        button->click();
        QCoreApplication::processEvents();
    }
    void tick(const QString& words) {
        for (auto* one : details_->form()->findChildren<TickField*>()) {
            if (one->text() != words) continue;
            one->click();
            QCoreApplication::processEvents();
            return;
        }
        ADD_FAILURE() << "no tick " << words.toStdString();
    }
    /// What the lines of facts under that name read: "Bars: 25. Joints: 40. ".
    QString facts(const QString& name) { return control<FactList>(name)->accessibleDescription(); }
    bool shows(const QString& sentence) {
        for (const auto* label : details_->form()->findChildren<QLabel*>()) {
            if (!label->isHidden() && label->text() == sentence) return true;
        }
        return false;
    }

    DemoCopy demo_;
    Desk desk_;
    QString said_;  ///< the last sentence said to the person
    std::unique_ptr<Details> details_;
};

}  // namespace hoopwright
