// Rows of a form for the facts a class asks of a car or an entry.
#pragma once

#include <functional>

#include "app/window/form.h"
#include "core/model/car.h"

namespace hoopwright {

/// `facts` finds the map in a job. A fact's value is typed as what it is: a measure, a word or date, yes or
/// no.
void factRows(Desk& desk, Form& form, const QString& about, const std::function<Facts&(Job&)>& facts);
/// How a fact is written in a field: "1080 kg", "closed", "yes".
QString factText(const Fact& fact, UnitsShown units);
/// What was typed as a fact: yes or no, a measure with its unit, a bare number, else a word.
Fact readFact(const QString& typed);

}  // namespace hoopwright
