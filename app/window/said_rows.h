// Rows of a finding's page where a person says something: an answer, or that a number stands so in the book.
#pragma once

#include "app/window/form.h"
#include "rules/finding.h"

namespace hoopwright {

/// Whether a person has answered this question.
bool isAnswered(const Desk& desk, const Finding& finding);
/// Who looked, when, what was seen, a photo, and the two answers.
void addAnswerRows(Desk& desk, Form& form, const Finding& finding);
/// Of a rule known second hand or from memory: who held it against the book in force, or the way to say so.
void addTickRows(Desk& desk, Form& form, const Finding& finding);

}  // namespace hoopwright
