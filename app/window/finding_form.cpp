// The inspector's page of one finding: what the rule wants, what was measured, and the person's answer.
#include <QAction>
#include <QDate>
#include <QHBoxLayout>
#include <QPushButton>
#include <QRegularExpression>
#include <QSettings>
#include <algorithm>

#include "app/window/findings.h"
#include "app/window/form.h"
#include "app/window/form_help.h"
#include "app/window/inspector.h"
#include "core/edit/cage_edits.h"

namespace hoopwright {
namespace {

bool answers(const PersonsAnswer& answer, const Finding& finding) {
    return answer.table == finding.table && answer.rule == finding.rule && answer.subject == finding.subject;
}

const PersonsAnswer* answerTo(const Desk& desk, const Finding& finding) {
    for (const PersonsAnswer& answer : desk.document.job().cage.answers) {
        if (answers(answer, finding)) return &answer;
    }
    return nullptr;
}

QLineEdit* line(const QString& name, const QString& value, const QString& hint, QWidget* parent) {
    auto* made = new QLineEdit(value, parent);
    made->setAccessibleName(name);
    made->setPlaceholderText(hint);
    return made;
}

/// Who looked, when, what was seen, and the two answers.
void answerRows(Desk& desk, Form& form, const Finding& finding) {
    const PersonsAnswer* given = answerTo(desk, finding);
    form.section(given ? QObject::tr("Answered") : QObject::tr("Your answer"));
    const QString last_who = QSettings().value(QStringLiteral("who")).toString();
    auto* who = line(QObject::tr("Who looked"), given ? text(given->who) : last_who,
                     QObject::tr("who looked"), &form);
    auto* when =
        line(QObject::tr("When"), given ? text(given->when) : QDate::currentDate().toString(Qt::ISODate),
             QStringLiteral("2026-11-25"), &form);
    auto* note =
        line(QObject::tr("Note"), given ? text(given->note) : QString(), QObject::tr("what was seen"), &form);
    for (QLineEdit* one : {who, when, note}) form.whole(one);
    auto* buttons = new QWidget(&form);
    auto* columns = new QHBoxLayout(buttons);
    columns->setContentsMargins(0, 0, 0, 0);
    columns->setSpacing(4);
    const auto put = [&desk, finding, who, when, note](bool good) {
        if (who->text().trimmed().isEmpty() ||
            !QDate::fromString(when->text().trimmed(), Qt::ISODate).isValid()) {
            emit desk.say(
                QObject::tr("An answer needs the name of who looked and a date such as 2026-03-02."));
            return;
        }
        QSettings().setValue(QStringLiteral("who"), who->text().trimmed());
        PersonsAnswer answer{finding.table,
                             finding.rule,
                             finding.subject,
                             good,
                             who->text().trimmed().toStdString(),
                             when->text().trimmed().toStdString(),
                             note->text().trimmed().toStdString()};
        desk.document.edit(QObject::tr("Answer: ") + text(finding.title), [&](Job& job) {
            std::erase_if(job.cage.answers, [&](const PersonsAnswer& a) { return answers(a, finding); });
            job.cage.answers.push_back(answer);
        });
    };
    const auto button = [&](const QString& words, const QString& tip, const std::function<void()>& run) {
        auto* made = new QPushButton(words, buttons);
        made->setToolTip(tip);
        QObject::connect(made, &QPushButton::clicked, &form, run);
        columns->addWidget(made);
        return made;
    };
    button(QObject::tr("It is good"), QObject::tr("A person looked and it is as the rule wants"), [put] {
        put(true);
    })->setProperty("primary", true);
    button(QObject::tr("It is not"), QObject::tr("A person looked and it is not as the rule wants"),
           [put] { put(false); });
    if (given) {
        button(QObject::tr("Take back"), QObject::tr("Ask again"), [&desk, finding] {
            desk.document.edit(QObject::tr("Take an answer back"), [&](Job& job) {
                std::erase_if(job.cage.answers, [&](const PersonsAnswer& a) { return answers(a, finding); });
            });
        });
    }
    columns->addStretch(1);
    form.whole(buttons);
}

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

std::vector<FactLine> figures(Desk& desk, const std::string& key) {
    const Finding* finding = findFinding(desk.document.report(), key);
    if (!finding) return {{QObject::tr("No longer asked by any table in use"), {}}};
    const FindingWords words = wordsOf(*finding, desk.units());
    std::vector<FactLine> lines{
        {answerWords(finding->answer).left(1).toUpper() + answerWords(finding->answer).mid(1),
         {},
         finding->answer}};
    if (!words.value.isEmpty()) lines.push_back({QObject::tr("Measured"), words.value});
    if (!finding->limit_text.empty())
        lines.push_back({QObject::tr("Wanted"), limitWords(*finding, desk.units())});
    if (!words.by.isEmpty())
        lines.push_back(
            {finding->answer == Answer::fails ? QObject::tr("Out by") : QObject::tr("Margin"), words.by});
    lines.push_back({QObject::tr("Clause"), text(finding->clause)});
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
    form->note([now] { return now().missing.empty() ? QString() : printed(now().missing); });
    form->note([&desk, now] {
        return QObject::tr("%1, edition %2").arg(tableTitle(desk, now().table), text(now().edition));
    });
    form->note([now] {
        return now().way_out.empty() ? QString() : QObject::tr("Way out: ") + printed(now().way_out);
    });
    form->note([now] {
        return now().confirmed ? QString()
                               : QObject::tr(
                                     "The table has this number only at second hand: check it against the "
                                     "book in force.");
    });
    if (now().answer == Answer::ask_person || answerTo(desk, now())) answerRows(desk, *form, now());
    ruleButton(*form);
    form->section(QObject::tr("What it is about"));
    form->facts(QObject::tr("what it is about"), [&desk, key] { return concerned(desk, key); });
    form->finish();
    return form;
}

}  // namespace hoopwright
