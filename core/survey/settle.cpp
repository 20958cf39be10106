#include <algorithm>
#include <map>

#include "core/base/text.h"
#include "core/survey/survey.h"

namespace hoopwright {
namespace {

using Part = SurveyProblem::Part;

bool isFree(const LineCorner& corner) {
    return corner.point.empty();
}

/// Corners without a point say nothing: none at the end, no stray offsets.
void tidy(std::vector<LineCorner>& corners, std::size_t points) {
    if (corners.size() > points) corners.resize(points);
    for (LineCorner& corner : corners) {
        if (isFree(corner)) corner.offset = Vec3::Zero();
    }
    while (!corners.empty() && isFree(corners.back())) corners.pop_back();
}

class Corners {
public:
    Corners(const Car& car, std::vector<SurveyProblem>& problems) : car_(car), problems_(problems) {
        for (const CarPoint& point : car.points) places_.try_emplace(point.name, &point);
    }

    void follow(Part part, int index, const std::string& name, std::vector<Vec3>& points,
                std::vector<LineCorner>& corners) {
        tidy(corners, points.size());
        for (std::size_t i = 0; i < corners.size(); ++i) {
            if (isFree(corners[i])) continue;
            const std::optional<Vec3> at = placeOf(corners[i].point);
            if (at) {
                points[i] = *at + corners[i].offset;
            } else {
                report(part, index, name, static_cast<int>(i), corners[i].point);
            }
        }
    }

private:
    /// Car::pointAt(), for lines of any number of corners.
    std::optional<Vec3> placeOf(const std::string& called) const {
        if (const auto found = places_.find(called); found != places_.end()) return found->second->at;
        const auto other = car_.symmetric ? places_.find(otherSide(called)) : places_.end();
        if (other == places_.end()) return std::nullopt;
        return mirrored(other->second->at);
    }
    void report(Part part, int index, const std::string& name, int corner, const std::string& called) {
        std::vector<std::string> known;
        const bool few = car_.points.size() < 1000 && problems_.size() < 200;
        for (const CarPoint& point : car_.points) {
            if (few) known.push_back(point.name);
        }
        const std::string near = didYouMean(called, known);
        SurveyProblem problem;
        problem.part = part;
        problem.index = index;
        problem.key = part == Part::line ? "points" : "line";
        problem.item = corner;
        problem.what = name + " goes through '" + called + "', which is no point of this car";
        problem.remedy = near.empty() ? "measure it, or write [x, y, z]" : "did you mean '" + near + "'?";
        problems_.push_back(std::move(problem));
    }

    const Car& car_;
    std::vector<SurveyProblem>& problems_;
    std::map<std::string, const CarPoint*, std::less<>> places_;
};

/// @param both the point stands for the other side as well, and a line may go through that
void renameCorners(std::vector<LineCorner>& corners, const std::string& from, const std::string& to,
                   bool both) {
    for (LineCorner& corner : corners) {
        if (corner.point == from) corner.point = to;
        if (both && corner.point == otherSide(from)) corner.point = otherSide(to);
    }
}

void freeCorners(std::vector<LineCorner>& corners, const std::string& name, std::size_t points) {
    for (LineCorner& corner : corners) {
        // One side gone, the other still stands for both: that would move the line.
        if (corner.point == name || otherSide(corner.point) == name) corner = {};
    }
    tidy(corners, points);
}

}  // namespace

std::vector<SurveyProblem> settle(Car& car, const LengthStyle& style) {
    Survey found = survey(car, style);
    if (!found.problems.empty()) return std::move(found.problems);
    Car next = car;
    for (const SurveyedPoint& point : found.points)
        next.points[static_cast<std::size_t>(point.index)].at = point.at;
    Corners corners(next, found.problems);
    for (std::size_t i = 0; i < next.lines.size(); ++i) {
        CarLine& line = next.lines[i];
        corners.follow(Part::line, static_cast<int>(i), line.name, line.points, line.corners);
    }
    for (std::size_t i = 0; i < next.rails.size(); ++i) {
        FrameRail& rail = next.rails[i];
        corners.follow(Part::rail, static_cast<int>(i), rail.name, rail.line, rail.corners);
    }
    if (found.problems.empty()) car = std::move(next);
    return std::move(found.problems);
}

void renamePoint(Car& car, const std::string& from, const std::string& to) {
    const bool both = otherSide(from) != from && !car.point(otherSide(from));
    for (CarPoint& point : car.points) {
        if (point.name == from) point.name = to;
        auto* by = std::get_if<ByTapes>(&point.taken);
        if (!by) continue;
        for (Tape& tape : by->tapes) {
            if (tape.from == from) tape.from = to;
        }
    }
    for (CarLine& line : car.lines) renameCorners(line.corners, from, to, both);
    for (FrameRail& rail : car.rails) renameCorners(rail.corners, from, to, both);
    for (Lesson& lesson : car.lessons) {
        if (lesson.about == from) lesson.about = to;
    }
}

void removePoint(Car& car, const std::string& name) {
    std::erase_if(car.points, [&](const CarPoint& point) { return point.name == name; });
    for (CarPoint& point : car.points) {
        const auto* by = std::get_if<ByTapes>(&point.taken);
        if (!by) continue;
        if (std::ranges::find(by->tapes, name, &Tape::from) != by->tapes.end()) point.taken = ByCoordinates{};
    }
    for (CarLine& line : car.lines) freeCorners(line.corners, name, line.points.size());
    for (FrameRail& rail : car.rails) freeCorners(rail.corners, name, rail.line.size());
}

}  // namespace hoopwright
