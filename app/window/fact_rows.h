// Rows of a form for the facts a class asks of a car or an entry.
#pragma once

#include <functional>

#include "app/window/form.h"
#include "core/model/car.h"
#include "rules/rule_table.h"

namespace hoopwright {

/// `facts` finds the map in a job. A fact's value is typed as what it is: a measure, a word or date, yes or
/// no.
void factRows(Desk& desk, Form& form, const QString& about, const std::function<Facts&(Job&)>& facts);
/// What the class tables in use ask for and nobody has said yet, of the car or of the entry. They point into
/// the tables.
std::vector<const FactWanted*> factsNotSaid(const Desk& desk);
/// Of those the ones a finding lacks.
std::vector<const FactWanted*> factsNotSaid(const Desk& desk, const Finding& finding);
/// An empty row for each: what is typed there becomes a fact of the entry.
void wantedFactRows(Desk& desk, Form& form, const std::vector<const FactWanted*>& wanted);
/// Reads what was typed for a fact as the table wants it; the reason says what would be read.
Expected<Fact> readWanted(const FactWanted& wanted, const QString& typed, UnitsShown units);
/// How a fact is written in a field: "1080 kg", "closed", "yes".
QString factText(const Fact& fact, UnitsShown units);
/// What was typed as a fact: yes or no, a measure with its unit, a bare number, else a word.
Fact readFact(const QString& typed);

}  // namespace hoopwright
