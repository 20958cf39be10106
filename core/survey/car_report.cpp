#include "core/survey/car_report.h"

#include <algorithm>

namespace hoopwright {

bool CarReport::hasDoubts() const {
    return std::ranges::any_of(survey.points,
                               [](const SurveyedPoint& point) { return !point.doubts.empty(); });
}

CarReport carReport(Car car, LengthUnit unit) {
    CarReport report;
    LengthStyle style;
    style.unit = unit;
    report.survey = survey(car, style);
    report.asymmetry = asymmetry(car, report.survey);
    report.lines = lineStates(car);
    for (const MeasuringStage& stage : measuringWalk(car.body, car.frame)) {
        for (const MeasuringItem& item : stage.items) {
            ++report.asked;
            if (!isMeasured(car, item)) report.not_measured.push_back(item);
        }
    }
    report.car = std::move(car);
    report.unit = unit;
    return report;
}

std::string_view evennessKey(Evenness evenness) {
    switch (evenness) {
        case Evenness::within:
            return "within";
        case Evenness::beyond:
            return "beyond";
        case Evenness::cannot_tell:
            break;
    }
    return "cannot_tell";
}

std::string_view evennessWords(Evenness evenness) {
    switch (evenness) {
        case Evenness::within:
            return "even";
        case Evenness::beyond:
            return "UNEVEN";
        case Evenness::cannot_tell:
            break;
    }
    return "can't tell";
}

}  // namespace hoopwright
