#include "app/commands/car_page.h"
#include "app/commands/json.h"

namespace hoopwright {
namespace {

class CarJson {
public:
    CarJson(std::ostream& out, const CarReport& report) : json_(out), report_(report), car_(report.car) {}

    void write() {
        const auto top = json_.object();
        json_.text("hoopwright", "car");
        json_.whole("version", 1);
        json_.text("car", car_.name);
        json_.text("body", bodyWord(car_.body));
        json_.text("frame", frameWord(car_.frame));
        json_.number("ground_mm", car_.ground_z_mm);
        json_.yesNo("symmetric", car_.symmetric);
        json_.yesNo("doubts", report_.hasDoubts());
        planes();
        {
            const auto list = json_.list("points");
            for (const SurveyedPoint& each : report_.survey.points) point(each);
        }
        pairs();
        diagonals();
        json_.texts("one_side", report_.asymmetry.one_side);
        lines();
        wanted();
        notMeasured();
        {
            const auto list = json_.list("lessons");
            for (const Lesson& each : car_.lessons) lesson(each);
        }
        json_.text("notes", car_.notes);
    }

private:
    void numberIf(std::string_view key, const std::optional<double>& value) {
        value ? json_.number(key, *value) : json_.nothing(key);
    }
    void pointIf(std::string_view key, const std::optional<Vec3>& value) {
        value ? json_.point(key, *value) : json_.nothing(key);
    }
    void points(std::string_view key, const std::vector<Vec3>& values) {
        const auto list = json_.list(key);
        for (const Vec3& value : values) json_.point("", value);
    }

    void planes() {
        const auto list = json_.list("planes");
        for (const DatumPlane& plane : car_.planes) {
            const auto each = json_.object();
            json_.text("name", plane.name);
            json_.number("x_mm", plane.x_mm);
            tolerance(plane.tolerance_mm);
        }
    }

    /// Null where none is stated.
    void tolerance(double mm) { numberIf("tolerance_mm", mm > 0 ? std::optional(mm) : std::nullopt); }

    void offsets(const ByOffsets& by) {
        const auto object = json_.object("offsets");
        json_.number("height_mm", by.height_mm);
        json_.text("from", by.from == ByOffsets::From::ground ? "ground" : "sill");
        json_.number("out_mm", by.out_mm);
        json_.text("plane", by.plane);
        json_.number("ahead_mm", by.ahead_mm);
    }

    void point(const SurveyedPoint& surveyed) {
        const CarPoint& given = car_.points[static_cast<std::size_t>(surveyed.index)];
        const auto each = json_.object();
        json_.text("name", surveyed.name);
        const auto* by = std::get_if<ByTapes>(&given.taken);
        const auto* squared = std::get_if<ByOffsets>(&given.taken);
        json_.text("taken", by ? "tapes" : squared ? "offsets" : "coordinates");
        json_.text("how", given.how);
        json_.point("at_mm", surveyed.at);
        tolerance(given.tolerance_mm);
        json_.yesNo("tolerance_assumed", surveyed.tolerance_assumed);
        pointIf("standard_error_mm", surveyed.standardError_mm());
        numberIf("good_to_mm", surveyed.goodTo_mm());
        if (squared) offsets(*squared);
        if (by) tapes(*by, surveyed);
        json_.texts("doubts", surveyed.doubts);
        json_.text("remark", surveyed.remark);
        const auto list = json_.list("lessons");
        for (const Lesson& one : car_.lessons) {
            if (one.about == surveyed.name) lesson(one);
        }
    }

    void tapes(const ByTapes& by, const SurveyedPoint& surveyed) {
        {
            const auto list = json_.list("tapes");
            for (const TapeResult& tape : surveyed.tapes) {
                const auto each = json_.object();
                json_.text("from", tape.from);
                json_.number("length_mm", tape.length_mm);
                json_.number("tolerance_mm", tape.tolerance_mm);
                json_.number("residual_mm", tape.residual_mm);
                numberIf("against_others_mm", tape.against_others_mm);
                json_.number("times_sigma", tape.times_sigma);
            }
        }
        json_.text("lies", liesWord(by.lies));
        pointIf("near_mm", by.near);
        pointIf("other_place_mm", surveyed.other_place);
    }

    void pairs() {
        const auto list = json_.list("asymmetry");
        for (const Asymmetry& pair : report_.asymmetry.pairs) {
            const auto each = json_.object();
            json_.text("name", pair.name);
            json_.number("ahead_mm", pair.differs_mm.x());
            json_.number("out_mm", pair.differs_mm.y());
            json_.number("up_mm", pair.differs_mm.z());
            json_.number("apart_mm", pair.apart_mm);
            numberIf("tolerance_mm", pair.tolerance_mm);
            json_.text("evenness", evennessKey(pair.evenness));
            const auto tapes = json_.list("tapes");
            for (const TapePair& tape : pair.tapes) {
                const auto one = json_.object();
                json_.text("from", tape.from);
                json_.number("left_mm", tape.left_mm);
                json_.number("right_mm", tape.right_mm);
                json_.number("differs_mm", tape.differs_mm());
            }
        }
    }

    void diagonals() {
        const auto list = json_.list("diagonals");
        for (const Diagonal& cross : report_.asymmetry.diagonals) {
            const auto each = json_.object();
            json_.text("first", cross.first);
            json_.text("second", cross.second);
            json_.number("left_to_right_mm", cross.left_to_right_mm);
            json_.number("right_to_left_mm", cross.right_to_left_mm);
            json_.number("differs_mm", cross.differs_mm());
            numberIf("tolerance_mm", cross.tolerance_mm);
            json_.text("evenness", evennessKey(cross.evenness));
        }
    }

    void corners(const std::vector<LineCorner>& corners) {
        const auto list = json_.list("follows");
        for (std::size_t i = 0; i < corners.size(); ++i) {
            if (corners[i].point.empty()) continue;
            const auto each = json_.object();
            json_.whole("corner", static_cast<long long>(i));
            json_.text("point", corners[i].point);
            json_.point("offset_mm", corners[i].offset);
        }
    }

    static std::string_view kindWord(CarLine::Kind kind) {
        switch (kind) {
            case CarLine::Kind::glass:
                return "glass";
            case CarLine::Kind::floor:
                return "floor";
            case CarLine::Kind::opening:
                return "opening";
            case CarLine::Kind::body:
                break;
        }
        return "body";
    }

    void lines() {
        {
            const auto list = json_.list("lines");
            for (const CarLine& line : car_.lines) {
                const auto each = json_.object();
                json_.text("name", line.name);
                json_.text("kind", kindWord(line.kind));
                json_.yesNo("closed", line.closed);
                json_.yesNo("stands_for_both", car_.standsForBoth(line));
                points("points_mm", line.points);
                corners(line.corners);
            }
        }
        {
            const auto list = json_.list("rails");
            for (const FrameRail& rail : car_.rails) {
                const auto each = json_.object();
                json_.text("name", rail.name);
                json_.number("width_mm", rail.width_mm);
                json_.number("height_mm", rail.height_mm);
                json_.number("wall_mm", rail.wall_mm);
                json_.yesNo("of_frame", car_.isOfFrame(rail));
                points("points_mm", rail.line);
                corners(rail.corners);
            }
        }
        const auto list = json_.list("sections");
        for (const ShellStation& station : car_.shell) {
            const auto each = json_.object();
            json_.text("name", station.name);
            json_.number("x_mm", station.x_mm);
            std::vector<Vec3> outline;
            for (const Vec2& p : station.outline) outline.emplace_back(station.x_mm, p.x(), p.y());
            points("points_mm", outline);
        }
    }

    void wanted() {
        const auto list = json_.list("wanted_lines");
        for (const LineState& line : report_.lines) {
            const auto each = json_.object();
            json_.text("name", line.wanted.name);
            json_.text("title", line.wanted.title);
            json_.text("wanted_for", line.wanted.why);
            json_.yesNo("there", line.state == LineState::State::there ||
                                     line.state == LineState::State::stands_for_both);
            json_.text("state", stateWords(line));
        }
    }

    void notMeasured() {
        const auto list = json_.list("not_measured");
        for (const MeasuringItem& item : report_.not_measured) {
            const auto each = json_.object();
            json_.whole("number", item.number);
            json_.text("name", item.name);
            json_.text("title", item.title);
        }
    }

    void lesson(const Lesson& one) {
        const auto each = json_.object();
        json_.text("about", one.about);
        json_.text("when", one.when);
        json_.text("note", one.note);
    }

    JsonWriter json_;
    const CarReport& report_;
    const Car& car_;
};

}  // namespace

void writeCarJson(std::ostream& out, const CarReport& report) {
    CarJson(out, report).write();
}

}  // namespace hoopwright
