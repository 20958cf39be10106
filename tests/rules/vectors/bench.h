// A cage that has little but what one rule measures, with knobs to dial it to a value.
#pragma once

#include <functional>
#include <map>
#include <string>
#include <vector>

#include "core/model/resolve.h"
#include "tests/rules/vectors/formula_frame.h"

namespace hoopwright::test {

/// The job, and the frame it was made from where a knob of the formula frame was turned.
struct Bench {
    Job job;
    FormulaFrame frame;
};

/// Materials, a driver on the left, no bar.
Bench emptyBench();

using Words = std::vector<std::string>;
/// Sets one thing: `words` follow the knob's name, roles mostly.
using Knob = std::function<void(Bench&, const Words& words, const std::string& value)>;
using Knobs = std::map<std::string, Knob>;

/// "angle rear_brace" at "30": turns the knob `angle`. Throws std::runtime_error, naming both, when there is
/// no such knob or it cannot take the value.
void turn(Bench& bench, const std::string& knob, const std::string& value);

// The knobs, one file each.
Knobs tubeKnobs();    ///< what bars are of
Knobs countKnobs();   ///< which bars there are and what they join
Knobs shapeKnobs();   ///< how a bar is bent and how it stands
Knobs placeKnobs();   ///< where a bar is
Knobs footKnobs();    ///< plates, bolts and gussets
Knobs driverKnobs();  ///< the person, the belts and the bars about them
Knobs formulaKnobs();

// Parts for knobs.
Words wordsOf(const std::string& text);
double number(const std::string& value);
double length(const std::string& value);   ///< [mm]; bare numbers are mm
double degrees(const std::string& value);  ///< [rad]; bare numbers are degrees
int whole(const std::string& value);
bool yes(const std::string& value);

MemberPoint point(double x, double y, double z);
/// On a bar at a height, or so far along it.
MemberPoint atHeight(const std::string& host, double height, Side side = Side::centre);
MemberPoint alongBar(const std::string& host, double distance);
/// Adds a bar, of 45 x 2.5 unless its role got a tube, and returns it. Its id is the role and a number.
Member& addBar(Bench& bench, const std::string& role, std::vector<MemberPoint> path, bool mirrored = false);
/// An upright at (x, 400), 1200 mm high.
std::string addPost(Bench& bench, const std::string& role, double x = 0, double height = 1200);
void removeBars(Bench& bench, const std::string& role);
Member* firstOf(Bench& bench, const std::string& role);

}  // namespace hoopwright::test
