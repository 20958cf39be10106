#include "app/view/bar_marks.h"

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

}  // namespace hoopwright
