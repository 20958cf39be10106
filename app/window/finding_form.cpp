// The page of one finding: what the rule wants, what was measured, and the person's answer.
#include <QAction>

#include "app/window/details.h"
#include "app/window/fact_rows.h"
#include "app/window/findings.h"
#include "app/window/form.h"
#include "app/window/form_help.h"
#include "app/window/mend_rows.h"
#include "app/window/said_rows.h"
#include "app/window/words.h"
#include "rules/as_built.h"
#include "rules/several_tables.h"

namespace hoopwright {
namespace {

QString tableTitle(const Desk& desk, const std::string& id) {
    for (const RuleTableInfo& table : desk.document.report().tables) {
        if (table.id == id && !table.title.empty()) return text(table.title);
    }
    return spoken(id);
}

/// To the rule in its table: the window does that, where there is one.
void ruleButton(Form& form) {
    form.actions({{QObject::tr("Show the rule in its table"),
                   [&form] {
                       if (auto* show = form.window()->findChild<QAction*>(QStringLiteral("show_rule")))
                           show->trigger();
                   },
                   QObject::tr("Opens the class table at this rule")}});
}

/// The longest limit that stands whole beside its word; a longer one has lines of its own.
constexpr qsizetype kShortLimit = 28;

std::vector<FactLine> figures(Desk& desk, const std::string& key) {
    const Finding* finding = findFinding(desk.document.report(), key);
    if (!finding) return {{QObject::tr("No longer asked by any table in use"), {}}};
    const FindingWords words = wordsOf(*finding, desk.units());
    std::vector<FactLine> lines{{capital(text(answerPhrase(*finding))), {}, finding->answer}};
    const RestsOn rests =
        restsOn(desk.document.tables(), desk.document.job(), desk.document.geometry(), *finding);
    // "Measured" is only what was read on the built cage.
    if (!words.value.isEmpty())
        lines.push_back(
            {rests == RestsOn::measured ? QObject::tr("Measured") : QObject::tr("Has"), words.value});
    const QString limit = finding->limit_text.empty() ? QString() : limitWords(*finding, desk.units());
    if (!limit.isEmpty() && limit.size() <= kShortLimit) lines.push_back({QObject::tr("Wanted"), limit});
    if (!words.by.isEmpty())
        lines.push_back(
            {finding->answer == Answer::fails ? QObject::tr("Out by") : QObject::tr("Margin"), words.by});
    lines.push_back({QObject::tr("Clause"), text(finding->clause)});
    if (rests != RestsOn::nothing)
        lines.push_back({QObject::tr("Rests on"), text(std::string(restsOnWords(rests)))});
    return lines;
}

std::vector<FactLine> concerned(Desk& desk, const std::string& key) {
    const Finding* finding = findFinding(desk.document.report(), key);
    std::vector<FactLine> lines;
    if (!finding) return lines;
    const CageGeometry& now = desk.document.geometry();
    for (const std::string& id : finding->evidence.members) {
        const int at = now.member(id);
        if (at < 0) continue;
        lines.push_back({text(now.members[std::size_t(at)].name), QObject::tr("bar"), {}, [&desk, id] {
                             desk.selection.set({Thing::Kind::member, id});
                         }});
    }
    for (const std::string& id : finding->evidence.plates) {
        const int at = now.plate(id);
        if (at < 0) continue;
        lines.push_back({text(now.plates[std::size_t(at)].name), QObject::tr("plate"), {}, [&desk, id] {
                             desk.selection.set({Thing::Kind::plate, id});
                         }});
    }
    if (!finding->evidence.driver.empty()) {
        const std::string id = finding->evidence.driver;
        lines.push_back({text(driverOf(desk, id).name), QObject::tr("driver"), {}, [&desk, id] {
                             desk.selection.set({Thing::Kind::driver, id});
                         }});
    }
    if (lines.empty()) lines.push_back({QObject::tr("The cage as a whole"), {}});
    return lines;
}

}  // namespace

Form* findingForm(Desk& desk, const std::string& key) {
    const auto now = [&desk, key] {
        const Finding* finding = findFinding(desk.document.report(), key);
        return finding ? *finding : Finding{};
    };
    auto* form = new Form(desk, text(now().title));
    form->title([&desk, now] { return wordsOf(now(), desk.units()).title; }, [] { return QString(); });
    form->note([now] { return printed(now().sentence); });
    form->facts(QObject::tr("figures"), [&desk, key] { return figures(desk, key); });
    form->note([&desk, now] {
        const QString limit = now().limit_text.empty() ? QString() : limitWords(now(), desk.units());
        return limit.size() > kShortLimit ? QObject::tr("Wanted: %1.").arg(limit) : QString();
    });
    form->note([now] { return now().missing.empty() ? QString() : printed(now().missing); });
    wantedFactRows(desk, *form, factsNotSaid(desk, now()));
    form->note([&desk, now] {
        return QObject::tr("%1, edition %2").arg(tableTitle(desk, now().table), text(now().edition));
    });
    form->note(
        [now] { return now().way_out.empty() ? QString() : QObject::tr("Way out: ") + shortWayOut(now()); });
    form->note(
        [now] { return now().beware.empty() ? QString() : QObject::tr("Beware: ") + printed(now().beware); });
    const auto several = [&desk, now] {
        const std::vector<SharedLimit> limits =
            sharedLimits(desk.document.tables(), desk.document.job(), desk.document.geometry());
        QStringList lines;
        for (const SharedLimit* one : sharedWith(limits, now())) lines << printed(one->says);
        return lines.join(QLatin1Char('\n'));
    };
    if (desk.document.tables().size() > 1) form->note(several);
    auto* mends = new MendRows(desk, key, form);
    form->whole(mends, [mends] { mends->refresh(); });
    if (now().answer == Answer::ask_person || isAnswered(desk, now())) addAnswerRows(desk, *form, now());
    addTickRows(desk, *form, now());
    ruleButton(*form);
    form->section(QObject::tr("What it is about"));
    form->facts(QObject::tr("what it is about"), [&desk, key] { return concerned(desk, key); });
    form->finish();
    return form;
}

}  // namespace hoopwright
