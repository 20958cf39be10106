#include "rules/question.h"

#include <algorithm>
#include <cmath>

#include "core/base/text.h"
#include "rules/quantity.h"

namespace hoopwright {
namespace {

/// Standard acceleration of free fall [m/s2]. ISO 80000-3, item 3-11.2.
constexpr double kGravity = 9.80665;

std::string rounded(double value, double step) {
    return shortest(std::round(std::round(value / step) * step * 1e6) / 1e6);
}

std::string kilonewtons(double newton) {
    return rounded(newton / 1000, 0.01) + " kN";
}

bool wants(const Rule& rule, const char* kind) {
    return std::find(rule.evidence.begin(), rule.evidence.end(), kind) != rule.evidence.end();
}

/// "a photo, a paper and a reading"
std::string evidenceWords(const Rule& rule) {
    std::string out;
    for (std::size_t i = 0; i < rule.evidence.size(); ++i)
        out += (i == 0 ? "a " : i + 1 == rule.evidence.size() ? " and a " : ", a ") + rule.evidence[i];
    return out;
}

}  // namespace

Question questionOf(const TableRun& run, const Rule& rule) {
    std::string text = rule.ask;
    if (const auto& load = rule.load) {
        std::string how = kilonewtons(load->force_n);
        if (!load->of.empty()) {
            const Fact* fact = run.scene().fact(load->of);
            const double* mass_kg = fact ? std::get_if<double>(&fact->value) : nullptr;
            if (!mass_kg || fact->dimension != Dimension::mass)
                return {{}, "the fact '" + load->of + "' is not given"};
            const double whole_kg = *mass_kg + load->plus_kg;
            how = kilonewtons(load->times * whole_kg * kGravity) + " (" + shortest(load->times) +
                  " times the weight of " + rounded(whole_kg, 0.1) + " kg)";
        }
        text += " The load: " + how + (load->on.empty() ? "" : ", " + load->on) + ".";
    }
    if (!rule.evidence.empty()) text += " Keep with the answer: " + evidenceWords(rule) + ".";
    return {text, {}};
}

std::string evidenceLacking(const Rule& rule, const PersonsAnswer& answer) {
    if (!answer.good) return {};
    std::string lacking;
    if (wants(rule, "photo") && answer.photo.empty()) lacking = "a photo";
    const bool noted = rule.evidence.size() > (wants(rule, "photo") ? 1u : 0u);
    if (noted && answer.note.empty())
        lacking += std::string(lacking.empty() ? "" : " and ") + "a note that says where the evidence is";
    return lacking.empty() ? ""
                           : "Answered good by " + answer.who + ", and still to be kept: " + lacking + ".";
}

RuleApplies exempt(const TableRun& run, const Rule& rule) {
    if (rule.unless.empty()) return {};
    std::string names;
    for (const Check& check : rule.unless) {
        const CheckAnswer found = answerCheck(run, check, std::nullopt);
        if (found.answer == Answer::cannot_tell) return {Answer::cannot_tell, found.missing};
        if (found.answer != Answer::meets) return {};
        std::string name = allQuantities()[static_cast<std::size_t>(check.reading.quantity)].info.name;
        std::replace(name.begin(), name.end(), '_', ' ');
        names += (names.empty() ? "" : " and ") + name + " " + found.limit_text;
    }
    return {Answer::does_not_apply, "it asks for nothing with " + names};
}

}  // namespace hoopwright
