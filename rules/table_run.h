// One rule table held against one cage: who is selected, where the places are, what is measured.
#pragma once

#include <map>
#include <optional>
#include <span>
#include <string>
#include <vector>

#include "core/geometry/envelope.h"
#include "core/model/node_report.h"
#include "rules/check_scene.h"
#include "rules/measured.h"
#include "rules/rule_table.h"

namespace hoopwright {

/// One point of a place. On a tube: on its centreline, with the radius and the way out, so that `outside()`
/// is where a straightedge would lie.
struct PlacePoint {
    Vec3 at = Vec3::Zero();
    Vec3 out = Vec3::UnitZ();
    double radius_mm = 0;
    int member = -1;
    Vec3 outside() const { return at + radius_mm * out; }
};

/// Lives for one check; keeps what it has worked out, so it is not to be shared between threads.
class TableRun {
public:
    TableRun(const RuleTable& table, const CheckScene& scene);

    const RuleTable& table() const { return table_; }
    const CheckScene& scene() const { return scene_; }

    /// Members a selector picks, ascending; -1 picks all. `of` is the thing measured, for "same side" and
    /// "other side".
    std::vector<int> members(int selector, const Subject& of) const;
    bool picks(int selector, int member, const Subject& of) const;
    /// Things of a kind a selector picks; -1 picks all of `kind`. Kept: valid as long as this is.
    const std::vector<Subject>& subjects(SubjectKind kind, int selector) const;
    /// Points of a place; none if there is nothing of the sort.
    std::span<const PlacePoint> place(int index) const;
    /// "no place 'hoop_top': no member is role main_hoop"
    std::string placeMissing(int index) const;
    /// "no member is role main_hoop"
    std::string noMember(int selector) const;
    const Envelope& envelope(int selector, const Subject& of) const;
    /// A bar the table tells all its rules to pass over.
    bool ignores(int member) const;
    /// Of the cage without the bars that are passed over. Worked out when first asked for.
    const std::vector<OpenBay>& openBays() const;

    /// The assigned figures for a tube's material, or null.
    const AssignedFigures* assigned(int member) const;
    Measured measure(const Reading& reading, const Subject& what, bool show) const;

    std::string id(
        const Subject& subject) const;  ///< "rear_brace.left", "tall", "belt_bar first end on main_hoop"
    std::string name(const Subject& subject) const;  ///< "Rear brace, left"

private:
    const RuleTable& table_;
    const CheckScene& scene_;
    // Worked out when first asked for: most selectors and places of a table are used by several rules.
    mutable std::vector<std::optional<std::vector<char>>> picked_;
    mutable std::vector<std::optional<std::vector<PlacePoint>>> places_;
    mutable std::map<std::pair<SubjectKind, int>, std::vector<Subject>> subjects_;
    mutable std::map<std::vector<int>, Envelope> envelopes_;
    struct Kept {
        int quantity = -1, driver = -1;
        Arguments with;
        Measured measured;
    };
    mutable std::vector<Kept> kept_;  ///< of drivers: dear, and asked for to judge, to show and by every rule
    mutable std::optional<std::vector<OpenBay>> open_bays_;
    mutable bool finding_ignored_ = false;

    const std::vector<char>& picked(int selector) const;
    bool matches(const Selector& selector, int member) const;
    bool onItsSide(const Selector& selector, Side side) const;
    bool havingAll(const Selector& selector, const Subject& subject) const;
    bool matches(const Selector& selector, const Subject& subject) const;
    std::vector<Subject> found(SubjectKind kind, int selector) const;
    std::vector<Subject> pairs(const Selector& selector) const;
    Side sideOfJoint(int index) const;
    Side sideOfPlate(int index) const;
    std::vector<PlacePoint> points(const NamedPlace& place) const;
    std::vector<PlacePoint> pointsOfCar(const std::string& name) const;
    std::vector<PlacePoint> pointsOfDriver(BodyPart part) const;
    std::vector<PlacePoint> meetings(const NamedPlace& place) const;
};

}  // namespace hoopwright
