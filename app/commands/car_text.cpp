#include <cmath>
#include <ostream>

#include "app/commands/car_page.h"
#include "app/commands/command_kit.h"
#include "app/commands/text_table.h"

namespace hoopwright {
namespace {

class CarPageText {
public:
    CarPageText(std::ostream& out, const CarReport& report) : out_(out), report_(report), car_(report.car) {
        style_.unit = report.unit;
        style_.with_unit = false;
    }

    void write() {
        head();
        doubts();
        points();
        tapes();
        evenness();
        lines();
        notMeasured();
        lessons();
        out_ << "\n" << wrapped(std::string(caution()), 0);
    }

private:
    /// A place may be typed so far off that a difference is no number any more.
    std::string length(double mm) const { return std::isfinite(mm) ? showLength(mm, style_) : "?"; }
    std::string signedLength(double mm) const { return (mm > 0 ? "+" : "") + length(mm); }
    std::string withUnit(double mm) const {
        LengthStyle style = style_;
        style.with_unit = true;
        return showLength(mm, style);
    }

    void head() {
        out_ << car_.name << ": " << bodyWord(car_.body) << ", " << frameWord(car_.frame) << "; "
             << car_.points.size() << " points; lengths in "
             << (report_.unit == LengthUnit::in ? "inches" : "mm") << "\n"
             << wrapped(
                    car_.symmetric
                        ? "The builder says it is symmetric: what was measured on one side holds for both."
                        : "Not said to be symmetric: each side stands for itself.",
                    2);
    }

    void doubts() {
        if (!report_.hasDoubts()) return;
        out_ << "\nLook at again\n";
        for (const SurveyedPoint& point : report_.survey.points) {
            for (const std::string& doubt : point.doubts) out_ << wrapped(point.name + ": " + doubt, 2);
        }
    }

    void points() {
        if (report_.survey.points.empty()) return;
        out_ << "\nPoints\n";
        TextTable rows({Align::left, Align::right, Align::right, Align::right, Align::right, Align::left});
        rows.add({"", "x", "y", "z", "good to", ""});
        for (const SurveyedPoint& point : report_.survey.points) {
            const CarPoint& given = car_.points[static_cast<std::size_t>(point.index)];
            const std::optional<double> good = point.goodTo_mm();
            rows.add({point.name, length(point.at.x()), length(point.at.y()), length(point.at.z()),
                      good ? length(*good) + (point.tolerance_assumed ? "*" : "") : "?", takenWords(given)});
        }
        out_ << rows.text(2);
        for (const SurveyedPoint& point : report_.survey.points) {
            if (!point.tolerance_assumed) continue;
            out_ << wrapped(
                "* a reading states no tolerance; " + withUnit(kUnstatedTolerance_mm) + " is assumed", 2);
            break;
        }
        where();
    }

    /// What the builder said of each point, once for both sides where it is the same.
    void where() {
        TextTable rows({Align::left, Align::left});
        for (const CarPoint& point : car_.points) {
            const CarPoint* other = car_.point(otherSide(point.name));
            const bool paired = other && other != &point && other->how == point.how;
            if (point.how.empty() || (paired && point.name.ends_with(".right"))) continue;
            const std::size_t dot = point.name.rfind('.');
            rows.add({paired ? point.name.substr(0, dot) : point.name, point.how});
        }
        if (!rows.empty()) out_ << "\nMeasured at\n" << rows.text(2);
    }

    void tapes() {
        bool any = false;
        for (const SurveyedPoint& point : report_.survey.points) {
            if (point.tapes.empty()) continue;
            if (!any) out_ << "\nTapes\n";
            any = true;
            out_ << "  " << point.name << (point.remark.empty() ? "" : ": " + point.remark) << "\n";
            TextTable rows({Align::left, Align::right, Align::right, Align::right});
            rows.add({"from", "read", "too long by", "against the others"});
            for (const TapeResult& tape : point.tapes) {
                rows.add({tape.from, length(tape.length_mm), signedLength(tape.residual_mm),
                          tape.against_others_mm ? signedLength(*tape.against_others_mm) : "-"});
            }
            out_ << rows.text(4);
        }
    }

    void evenness() {
        const AsymmetryTable& table = report_.asymmetry;
        if (!table.pairs.empty()) {
            out_ << "\nLeft less right, mirrored\n";
            TextTable rows({Align::left, Align::right, Align::right, Align::right, Align::right, Align::right,
                            Align::left});
            rows.add({"", "ahead", "out", "up", "along the tape", "tolerance", ""});
            for (const Asymmetry& pair : table.pairs) {
                rows.add({pair.name, signedLength(pair.differs_mm.x()), signedLength(pair.differs_mm.y()),
                          signedLength(pair.differs_mm.z()), length(pair.apart_mm),
                          pair.tolerance_mm ? length(*pair.tolerance_mm) : "?",
                          std::string(evennessWords(pair.evenness))});
            }
            out_ << rows.text(2);
        }
        if (!table.diagonals.empty()) {
            out_ << "\nDiagonals\n";
            TextTable rows(
                {Align::left, Align::right, Align::right, Align::right, Align::right, Align::left});
            rows.add({"", "left to right", "right to left", "differ", "tolerance", ""});
            for (const Diagonal& cross : table.diagonals) {
                rows.add({cross.first + " - " + cross.second, length(cross.left_to_right_mm),
                          length(cross.right_to_left_mm), signedLength(cross.differs_mm()),
                          cross.tolerance_mm ? length(*cross.tolerance_mm) : "?",
                          std::string(evennessWords(cross.evenness))});
            }
            out_ << rows.text(2);
        }
        for (const std::string& name : table.one_side) out_ << wrapped("Only one side measured: " + name, 2);
    }

    void lines() {
        out_ << "\nLines and surfaces\n";
        TextTable rows({Align::left, Align::left, Align::left});
        for (const LineState& line : report_.lines) {
            const bool there =
                line.state == LineState::State::there || line.state == LineState::State::stands_for_both;
            rows.add({line.wanted.title, stateWords(line), there ? "" : "wanted for: " + line.wanted.why});
        }
        out_ << rows.text(2);
    }

    void notMeasured() {
        if (report_.not_measured.empty()) return;
        out_ << "\nOn the measuring sheet and not measured yet\n";
        TextTable rows({Align::right, Align::left, Align::left});
        for (const MeasuringItem& item : report_.not_measured)
            rows.add({std::to_string(item.number), item.title, item.name});
        out_ << rows.text(2);
    }

    void lessons() {
        if (!car_.lessons.empty()) out_ << "\nLessons\n";
        for (const Lesson& lesson : car_.lessons) {
            const std::string about = lesson.about.empty() ? "" : lesson.about + ": ";
            out_ << wrapped((lesson.when.empty() ? "" : lesson.when + "  ") + about + lesson.note, 2);
        }
        if (!car_.notes.empty()) out_ << "\nNotes\n" << wrapped(car_.notes, 2);
    }

    std::ostream& out_;
    const CarReport& report_;
    const Car& car_;
    LengthStyle style_;
};

}  // namespace

void writeCarText(std::ostream& out, const CarReport& report) {
    CarPageText(out, report).write();
}

}  // namespace hoopwright
