#include "app/window/fact_rows.h"

#include <QHBoxLayout>
#include <QPushButton>
#include <QRegularExpression>
#include <algorithm>

#include "app/window/form_help.h"
#include "core/base/text.h"
#include "core/files/yaml_map.h"

namespace hoopwright {
namespace {

/// The map in a job that must not change: what a form reads.
const Facts& in(const Desk& desk, const std::function<Facts&(Job&)>& facts) {
    // The finder hands out a reference it does not write through.
    return facts(const_cast<Job&>(desk.document.job()));
}

/// A word of a table, such as with_driver: small letters, digits and _.
bool isTableWord(const std::string& word) {
    static const QRegularExpression kWord(QStringLiteral("^[a-z][a-z0-9_]*$"));
    return kWord.match(text(word)).hasMatch();
}

/// What stands in a row before anything is typed: what would be read.
QString example(const FactWanted& wanted, UnitsShown units) {
    QStringList words;
    switch (wanted.kind) {
        case FactWanted::Kind::measure:
            return unitSign(fieldUnit(wanted.dimension, units).word);
        case FactWanted::Kind::yes_no:
            return QObject::tr("yes or no");
        case FactWanted::Kind::date:
            return QStringLiteral("2026-03-02");
        case FactWanted::Kind::word:
            for (const std::string& word : wanted.words) words << spoken(word);
            break;
    }
    return words.join(QObject::tr(" or "));
}

}  // namespace

std::vector<const FactWanted*> factsNotSaid(const Desk& desk) {
    const Job& job = desk.document.job();
    std::vector<const FactWanted*> out;
    for (const RuleTableRef& table : desk.document.tables()) {
        for (const FactWanted& wanted : table->facts) {
            if (wanted.name == "body" || wanted.name == "frame") continue;  // every car says these
            const bool said = job.car.facts.contains(wanted.name) || job.cage.entry.contains(wanted.name);
            const bool listed =
                std::ranges::any_of(out, [&](const FactWanted* one) { return one->name == wanted.name; });
            if (!said && !listed) out.push_back(&wanted);
        }
    }
    return out;
}

std::vector<const FactWanted*> factsNotSaid(const Desk& desk, const Finding& finding) {
    std::vector<const FactWanted*> out = factsNotSaid(desk);
    // What is missing is told in a sentence that has the fact's name in quotes.
    std::erase_if(out, [&](const FactWanted* one) {
        return finding.missing.find("'" + one->name + "'") == std::string::npos;
    });
    return out;
}

Expected<Fact> readWanted(const FactWanted& wanted, const QString& typed, UnitsShown units) {
    const QString words = typed.trimmed();
    if (wanted.kind == FactWanted::Kind::measure) {
        const auto read = readMeasure(words.toStdString(), fieldUnit(wanted.dimension, units));
        if (!read) return Reason{read.reason()};
        return Fact{*read, wanted.dimension};
    }
    const Fact fact = readFact(words);
    const auto* word = std::get_if<std::string>(&fact.value);
    const bool known = wanted.words.empty() || (word && std::ranges::count(wanted.words, *word) > 0);
    const bool right = wanted.kind == FactWanted::Kind::yes_no ? std::holds_alternative<bool>(fact.value)
                       : wanted.kind == FactWanted::Kind::date ? isDate(words.toStdString())
                                                               : word && known;
    if (right) return fact;
    return Reason{
        QObject::tr("'%1' is not what is asked: write %2.").arg(words, example(wanted, units)).toStdString()};
}

void wantedFactRows(Desk& desk, Form& form, const std::vector<const FactWanted*>& all) {
    for (const FactWanted* one : all) {
        // A copy: the tables may go while the form is there.
        TextField* field = form.text(
            titled(one->name), [] { return QString(); },
            [&desk, wanted = *one](const QString& typed) {
                if (typed.trimmed().isEmpty()) return QString();
                const Expected<Fact> fact = readWanted(wanted, typed, desk.units());
                if (!fact) return text(fact.reason());
                desk.document.edit(QObject::tr("Entry, %1").arg(spoken(wanted.name)),
                                   [&](Job& job) { job.cage.entry[wanted.name] = *fact; });
                return QString();
            });
        field->setPlaceholderText(example(*one, desk.units()));
        field->setProperty("blank", true);
        field->setToolTip(text(one->meaning));
    }
}

QString factText(const Fact& fact, UnitsShown units) {
    if (const auto* yes = std::get_if<bool>(&fact.value))
        return *yes ? QStringLiteral("yes") : QStringLiteral("no");
    if (const auto* word = std::get_if<std::string>(&fact.value))
        return isTableWord(*word) ? spoken(*word) : text(*word);
    const double value = std::get<double>(fact.value);
    if (fact.dimension == Dimension::none) return text(shortest(value));
    return measureText(value, fact.dimension, units == UnitsShown::both ? UnitsShown::mm : units);
}

Fact readFact(const QString& typed) {
    const std::string word = typed.trimmed().toStdString();
    if (word == "yes" || word == "no") return {word == "yes", Dimension::none};
    if (const auto number = plainNumber(word)) return {*number, Dimension::none};
    static const QRegularExpression kDate(QStringLiteral("^\\d{4}-\\d{2}-\\d{2}$"));
    const bool begins_as_number =
        !word.empty() && (std::isdigit(static_cast<unsigned char>(word[0])) || word[0] == '-');
    if (begins_as_number && !kDate.match(typed.trimmed()).hasMatch()) {
        for (const Dimension dimension :
             {Dimension::mass, Dimension::length, Dimension::speed, Dimension::time, Dimension::angle,
              Dimension::stress, Dimension::area, Dimension::volume}) {
            if (const auto value = readMeasure(word, fieldUnit(dimension, UnitsShown::mm)))
                return {*value, dimension};
        }
    }
    // "with driver" is how with_driver is shown: it goes back to the word the tables know.
    static const QRegularExpression kSpoken(QStringLiteral("^[a-z][a-z0-9]*( [a-z0-9]+)*$"));
    if (kSpoken.match(typed.trimmed()).hasMatch())
        return {typed.trimmed().replace(QLatin1Char(' '), QLatin1Char('_')).toStdString(), Dimension::none};
    return {word, Dimension::none};
}

void factRows(Desk& desk, Form& form, const QString& about, const std::function<Facts&(Job&)>& facts) {
    for (const auto& [name, fact] : in(desk, facts)) {
        const auto now = [&desk, facts, name = name]() -> Fact {
            const Facts& all = in(desk, facts);
            const auto found = all.find(name);
            return found == all.end() ? Fact{std::string(), Dimension::none} : found->second;
        };
        TextField* field = form.text(
            titled(name), [&desk, now] { return factText(now(), desk.units()); },
            [&desk, facts, now, about, name = name](const QString& typed) {
                Fact to = readFact(typed);
                const Fact was = now();
                const auto* number = std::get_if<double>(&was.value);
                if (number) {  // a bare number is in the unit the field shows
                    const auto read =
                        readMeasure(typed.trimmed().toStdString(), fieldUnit(was.dimension, desk.units()));
                    if (!read && !typed.isEmpty()) return text(read.reason());
                    if (read) to = {*read, was.dimension};
                }
                desk.document.edit(about + QStringLiteral(", ") + spoken(name), [&](Job& job) {
                    if (typed.trimmed().isEmpty()) {
                        facts(job).erase(name);
                    } else {
                        facts(job)[name] = to;
                    }
                });
                return QString();
            });
        field->setToolTip(
            QObject::tr("%1: a measure with its unit, a word, a date, yes or no; empty takes the fact away")
                .arg(text(name)));
    }
    auto* line = new QWidget(&form);
    auto* columns = new QHBoxLayout(line);
    columns->setContentsMargins(0, 0, 0, 0);
    columns->setSpacing(4);
    auto* name = new QLineEdit(line);
    name->setPlaceholderText(QObject::tr("another fact"));
    name->setAccessibleName(about + QObject::tr(", name of a new fact"));
    auto* value = new QLineEdit(line);
    value->setPlaceholderText(QObject::tr("its value"));
    value->setAccessibleName(about + QObject::tr(", value of a new fact"));
    auto* add = new QPushButton(QObject::tr("Add"), line);
    columns->addWidget(name, 3);
    columns->addWidget(value, 3);
    columns->addWidget(add);
    form.whole(line);
    const auto put = [&desk, facts, about, name, value] {
        static const QRegularExpression kName(QStringLiteral("^[a-z][a-z0-9_]*$"));
        const QString word = name->text().trimmed().toLower().replace(QLatin1Char(' '), QLatin1Char('_'));
        if (!kName.match(word).hasMatch() || value->text().trimmed().isEmpty()) {
            emit desk.say(QObject::tr(
                "A fact needs a name of letters, such as race_mass, and a value, such as 1080 kg."));
            return;
        }
        desk.document.edit(about + QStringLiteral(", ") + word,
                           [&](Job& job) { facts(job)[word.toStdString()] = readFact(value->text()); });
    };
    QObject::connect(add, &QPushButton::clicked, &form, put);
    QObject::connect(value, &QLineEdit::returnPressed, &form, put);
}

}  // namespace hoopwright
