// The steps of resolve(), in the order they run. Not for use outside core/model.
#pragma once

#include <array>
#include <optional>
#include <string>
#include <string_view>
#include <vector>

#include "core/model/cage_geometry.h"
#include "core/model/resolve_names.h"

namespace hoopwright::resolving {

/// One bar to be made: a single member, or one side of a mirrored one.
struct Bar {
    const Member* member = nullptr;
    int layout = -1;
    Side side = Side::centre;
    std::string id, name;
    std::vector<int> hosts;  ///< for each path point, the bar it lands on, or -1
    bool in_loop = false;
};

/// A path point that has found its place.
struct PlacedPoint {
    Vec3 at = Vec3::Zero();
    int number = 0;  ///< its place in Member::path
    int host = -1;   ///< bar
    int plate = -1;  ///< index into CageGeometry::plates
};

struct Touch;

class Resolver {
public:
    /// @param job  not copied; must outlive the resolver
    explicit Resolver(const Job& job) : job_(job) {}
    CageGeometry run();

private:
    using Kind = GeometryProblem::Kind;

    // resolver.cpp
    void report(Kind kind, const Bar& bar, std::string what, std::string remedy,
                const Vec3& at = Vec3::Zero());
    void add(GeometryProblem problem);
    std::string length(double mm) const;
    void keepMade();
    const Bar& barOf(int member) const {
        return bars_[static_cast<std::size_t>(bar_of_member_[static_cast<std::size_t>(member)])];
    }
    void weigh();
    void sumUp();

    // resolve_plates.cpp
    void placePlates();
    void placePlate(int layout, Side side);
    std::optional<Vec3> plateMiddle(const Plate& plate, Side side);

    // resolve_bars.cpp
    void listBars();
    void listBar(int layout);
    void findHosts();
    void findHost(Bar& bar, int self, int number, const Landing& landing);
    std::vector<int> landingOrder();
    void reportLoop(const std::vector<int>& loop);

    // resolve_places.cpp
    std::vector<PlacedPoint> placePath(const Bar& bar);
    std::optional<PlacedPoint> place(const Bar& bar, int number);
    std::optional<PlacedPoint> placeAtCar(const Bar& bar, const AtCarPoint& said);
    std::optional<PlacedPoint> placeOnPlate(const Bar& bar, const OnPlate& said);
    std::optional<PlacedPoint> placeLanding(const Bar& bar, int host, const Landing& said);

    // resolve_shape.cpp
    void shape(int bar);
    void chooseStock(const Bar& bar, ResolvedMember& made);
    double bendRadius(const Bar& bar, const MemberPoint& point, const TubeSection& section);
    void reportPath(const Bar& bar, const std::vector<PlacedPoint>& places, const PathResult& path);
    void setEnds(const Bar& bar, const std::vector<PlacedPoint>& places, ResolvedMember& made);

    // resolve_dies.cpp
    void checkBends(const Bar& bar, const ResolvedMember& made, bool radius_given);
    void checkStraights(const Bar& bar, const ResolvedMember& made, const Die& die);

    // resolve_bought.cpp
    void checkBought(const Bar& bar, ResolvedMember& made);
    void sawBought();

    // resolve_touching.cpp
    void findAlso();
    void nameAlso();
    bool mayTouch(int one, int two) const;
    bool allows(int one, int two) const;
    void reportTouch(int later, int earlier, const Touch& touch);

    // resolve_feet.cpp
    void checkFeet();
    void checkFoot(const ResolvedPlate& plate, int member, int end);

    // resolve_sound.cpp
    void checkSelfStrikes();

    // resolve_driver.cpp
    void checkDrivers();
    void checkInside(const Driver& driver, const Box& box);
    void checkAheadOfHoop(const Driver& driver);

    // resolve_joints.cpp
    void findJoints();
    void findNodes();
    void joinNode(int node, int member, int end, int joint);

    // resolve_ties.cpp
    void noteTies();

    // resolve_gussets.cpp
    void placeGussets();
    void placeGusset(int layout, Side side);

    const Job& job_;
    CageGeometry cage_;
    SidedNames bar_names_, plate_names_;
    std::vector<Bar> bars_;
    std::vector<ResolvedMember> made_;  ///< for each bar; its line is empty until and unless it has a shape
    std::vector<int> member_of_bar_;    ///< index into CageGeometry::members, or -1
    std::vector<int> bar_of_member_;
};

}  // namespace hoopwright::resolving
