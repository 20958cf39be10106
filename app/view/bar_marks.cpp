#include "app/view/bar_marks.h"

#include <algorithm>
#include <array>

namespace hoopwright {

Mark markOf(std::optional<Answer> answer) {
    if (!answer) return Mark::none;
    switch (*answer) {
        case Answer::fails:
            return Mark::fails;
        case Answer::cannot_tell:
            return Mark::cannot_tell;
        case Answer::ask_person:
            return Mark::ask;
        case Answer::meets:
            return Mark::meets;
        case Answer::does_not_apply:
            break;
    }
    return Mark::none;
}

std::vector<Mark> marksOf(const CheckReport& report, const CageGeometry& cage) {
    const auto badness = [](Answer answer) {
        constexpr std::array kWorst = {Answer::fails, Answer::cannot_tell, Answer::ask_person, Answer::meets,
                                       Answer::does_not_apply};
        return std::ranges::find(kWorst, answer) - kWorst.begin();
    };
    std::vector<Mark> marks;
    for (const ResolvedMember& member : cage.members) {
        std::optional<Answer> worst;
        for (const Finding& finding : report.findings) {
            const auto& about = finding.evidence.members;
            if (std::ranges::find(about, member.id) == about.end()) continue;
            if (!worst || badness(finding.answer) < badness(*worst)) worst = finding.answer;
        }
        marks.push_back(markOf(worst));
    }
    return marks;
}

}  // namespace hoopwright
