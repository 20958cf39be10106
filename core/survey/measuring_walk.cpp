// The walk round each kind of car.
#include <map>

#include "core/survey/measuring.h"

namespace hoopwright {
namespace {

using Key = MeasuringFigure::Key;
using Kind = MeasuringItem::Kind;
using View = MeasuringStage::View;
using Body = Car::Body;
using Frame = Car::Frame;

/// Where the places of a car of a kind lie, roughly: left side, mm.
struct Shape {
    double sill_a_x, sill_y, ground_z, rear_axle_x;
    Vec3 a_pillar_foot, windshield_top, b_pillar_top, rear_corner, roof_middle, waist;
};

Shape shapeOf(Body body) {
    switch (body) {
        case Body::hatchback:
            return {1060,
                    620,
                    -320,
                    -960,
                    {980, 690, 520},
                    {380, 560, 985},
                    {0, 575, 1000},
                    {-900, 520, 900},
                    {150, 0, 1090},
                    {0, 700, 545}};
        case Body::open:
            return {1000,
                    600,
                    -290,
                    -930,
                    {930, 660, 430},
                    {500, 560, 760},
                    {0, 640, 450},
                    {-620, 600, 470},
                    {0, 0, 0},
                    {0, 640, 450}};
        case Body::pickup:
            return {1010,
                    840,
                    -480,
                    -1730,
                    {1090, 890, 640},
                    {560, 730, 1130},
                    {-50, 740, 1140},
                    {-560, 740, 1120},
                    {200, 0, 1220},
                    {-40, 890, 640}};
        case Body::van:
            return {920,
                    820,
                    -420,
                    -2050,
                    {1000, 880, 640},
                    {560, 760, 1330},
                    {0, 780, 1360},
                    {-2500, 790, 1350},
                    {0, 0, 1480},
                    {0, 900, 680}};
        case Body::saloon:
            break;
    }
    return {1090,
            630,
            -330,
            -1000,
            {1010, 700, 505},
            {420, 558, 945},
            {0, 575, 955},
            {-560, 560, 920},
            {100, 0, 1020},
            {0, 700, 522}};
}

std::string sideSuffix(bool left) {
    return left ? ".left" : ".right";
}

class Walk {
public:
    Walk(Body body, Frame frame) : body_(body), frame_(frame), shape_(shapeOf(body)) {}

    std::vector<MeasuringStage> made() {
        datums();
        side(true);
        rear();
        side(false);
        inside();
        under();
        number();
        return std::move(stages_);
    }

private:
    MeasuringStage& stage(std::string title, std::string about, View view) {
        stages_.push_back({std::move(title), std::move(about), view, {}});
        return stages_.back();
    }

    MeasuringItem& add(Kind kind, std::string name, std::string title, std::string hook,
                       std::string instrument, const Vec3& drawn) {
        MeasuringItem item;
        item.kind = kind;
        item.name = std::move(name);
        item.title = std::move(title);
        item.hook = std::move(hook);
        item.instrument = std::move(instrument);
        item.drawn = drawn;
        stages_.back().items.push_back(std::move(item));
        return stages_.back().items.back();
    }

    /// Height, out, ahead.
    MeasuringItem& square(std::string name, std::string title, std::string hook, const Vec3& drawn,
                          std::string plane = std::string(kDoorEdge)) {
        MeasuringItem& item = add(Kind::point, std::move(name), std::move(title), std::move(hook),
                                  "square, plumb line, tape", drawn);
        const std::string of = plane == kDoorEdge ? "door edge" : "rear axle";
        item.figures = {{Key::height, "", "height over sill"},
                        {Key::out, "", "out from centreline"},
                        {Key::ahead, std::move(plane), "ahead of " + of}};
        return item;
    }

    /// Four tapes from the sills, this side's first.
    MeasuringItem& taped(std::string stem, bool left, std::string title, std::string hook, Vec3 drawn) {
        if (!left) drawn = mirrored(drawn);
        MeasuringItem& item = add(Kind::point, std::move(stem) + sideSuffix(left),
                                  std::move(title) + side(left, ", "), std::move(hook), "tape", drawn);
        const std::string here = sideSuffix(left), there = sideSuffix(!left);
        for (const std::string& from : {"sill_b" + here, "sill_a" + here, "sill_b" + there, "sill_a" + there})
            item.figures.push_back({Key::tape, from, ""});
        return item;
    }

    static std::string side(bool left, const std::string& before) {
        return before + (left ? "left" : "right");
    }

    void datums() {
        stage("Set up, and the datums",
              "Car on stands, level across and along the sills, no weight on it. Drop a plumb line from both "
              "sills and "
              "chalk the centreline half way between. Every later figure starts from here: take these twice.",
              View::plan);
        add(Kind::ground, "ground", "Sill over the ground",
            "top of the sill at the door's rear edge, down to the floor", "tape",
            {0, shape_.sill_y, shape_.ground_z})
            .figures = {{Key::over_ground, "", "sill to ground"}};
        for (const bool left : {true, false}) {
            const double y = left ? shape_.sill_y : -shape_.sill_y;
            sillPoint("sill_b", "Sill at the door's rear edge", left, {0, y, 0});
        }
        for (const bool left : {true, false}) {
            const double y = left ? shape_.sill_y : -shape_.sill_y;
            sillPoint("sill_a", "Sill at the door's front edge", left, {shape_.sill_a_x, y, 0});
        }
        MeasuringItem& axle =
            add(Kind::plane, "rear_axle", "Rear axle", "wheel centre, squared up to the sill's height",
                "square, tape", {shape_.rear_axle_x, 0, 0});
        axle.figures = {{Key::ahead, std::string(kDoorEdge), "ahead of door edge"}};
        axle.caution = "Behind the door edge: write it with a minus.";
    }

    void sillPoint(const std::string& stem, const std::string& title, bool left, const Vec3& drawn) {
        MeasuringItem& item =
            square(stem + sideSuffix(left), title + side(left, ", "), "inner edge of the sill's top", drawn);
        item.tolerance_mm = 2;
        if (stem == "sill_b" && left)
            item.caution = "Height and distance ahead are 0 here: this is where they start.";
    }

    void side(bool left) {
        MeasuringStage& here = stage(left ? "Left side" : "Right side",
                                     "Door off or held wide open. Hook the tape on the chalked sill datums; "
                                     "the last two tapes go across the car.",
                                     left ? View::left : View::right);
        (void)here;
        taped("a_pillar_foot", left, "Foot of A-pillar", "inner corner where pillar and dash meet",
              shape_.a_pillar_foot);
        taped("windshield_top", left,
              body_ == Body::open ? "Top corner of the windshield frame" : "Top of A-pillar",
              body_ == Body::open ? "outer corner of the frame" : "inner corner of header and roof rail",
              shape_.windshield_top);
        if (body_ == Body::open) {
            taped("b_post_top", left, "Top of the B-post", "inner corner of the post at the waist",
                  shape_.b_pillar_top);
        } else {
            taped("b_pillar_top", left, "Top of B-pillar", "inner corner of the pillar under the roof rail",
                  shape_.b_pillar_top);
            taped("b_pillar_waist", left, "B-pillar at the waist", "inner face, at the sill of the window",
                  shape_.waist);
        }
        behindTheDoor(left);
    }

    void behindTheDoor(bool left) {
        switch (body_) {
            case Body::saloon:
                taped("c_pillar_top", left, "Top of C-pillar", "inner corner at the rear window",
                      shape_.rear_corner);
                return;
            case Body::hatchback:
                taped("c_pillar_top", left, "Top rear corner", "inner corner of the roof at the tailgate",
                      shape_.rear_corner);
                return;
            case Body::open:
                taped("deck_corner", left, "Corner of the rear deck", "edge of the hood well behind the seat",
                      shape_.rear_corner);
                return;
            case Body::pickup:
                taped("cab_corner_top", left, "Top rear corner of the cab",
                      "inner corner of roof and back wall", shape_.rear_corner);
                return;
            case Body::van:
                taped("d_pillar_top", left, "Top rear corner", "inner corner of the roof at the rear doors",
                      shape_.rear_corner)
                    .caution = "A long tape sags: pull it tight, or use a laser.";
                return;
        }
    }

    /// Height, out, ahead; left, then right.
    void squarePair(const std::string& stem, const std::string& title, const std::string& hook,
                    const Vec3& drawn, const std::string& plane = std::string(kDoorEdge)) {
        for (const bool left : {true, false})
            square(stem + sideSuffix(left), title + side(left, ", "), hook, left ? drawn : mirrored(drawn),
                   plane);
    }

    /// Left end, middle, right end of what runs across the car.
    void across(const std::string& stem, const std::string& middle, const std::string& title,
                const std::string& end_hook, const std::string& middle_hook, const Vec3& end,
                const Vec3& centre, const std::string& plane = std::string(kDoorEdge)) {
        square(stem + ".left", title + ", left", end_hook, end, plane);
        square(middle, title + ", middle", middle_hook, centre, plane).figures[1].label = "out (0 here)";
        square(stem + ".right", title + ", right", end_hook, mirrored(end), plane);
    }

    void rear() {
        stage("Behind the seats",
              "From the rear, both sides. Where a brace will land, scrape paint and sealer off first.",
              View::plan);
        const double x = shape_.rear_axle_x, y = shape_.sill_y;
        squarePair("wheel_tub_front", "Front foot of rear wheel tub", "where the tub meets the floor",
                   {x + 300, y - 60, 60}, "rear_axle");
        squarePair("wheel_tub", "Top of rear wheel tub", "highest point of the tub", {x, y - 90, 380},
                   "rear_axle");
        squarePair("wheel_tub_rear", "Rear foot of rear wheel tub", "where the tub meets the floor",
                   {x - 300, y - 60, 90}, "rear_axle");
        if (body_ == Body::saloon) {
            across("parcel_shelf", "parcel_shelf", "Parcel shelf", "front edge, at its end",
                   "front edge, on the centreline", {x + 200, 0.86 * y, 500}, {x + 200, 0, 500}, "rear_axle");
        }
        if (body_ == Body::hatchback || body_ == Body::van) {
            squarePair("tailgate_foot", "Lower corner of the rear opening", "inner edge, at the floor",
                       {shape_.rear_corner.x() - 260, 0.74 * y, 40}, "rear_axle");
        }
        if (body_ == Body::pickup) {
            squarePair("cab_corner_foot", "Foot of the cab's rear corner", "inner corner at the floor",
                       {shape_.rear_corner.x() + 10, 0.9 * y, 0}, "rear_axle");
            squarePair("bed_floor", "Floor of the bed", "top of the floor at the front wall",
                       {shape_.rear_corner.x() - 110, 0.7 * y, 60}, "rear_axle");
        }
    }

    void inside() {
        stage("Inside, across the car", "From the driver's seat. Seat out, carpet up, dash in if it stays.",
              View::section);
        if (body_ != Body::open) {
            MeasuringItem& roof =
                square("roof_middle", "Roof, underside of the skin",
                       "highest point over the seats, on the centreline", shape_.roof_middle);
            roof.caution = "To the skin between the bows, not to a bow.";
        }
        if (body_ != Body::van) {
            square("tunnel_top", "Top of the tunnel", "beside the seat, on the centreline", {400, 0, 40});
            squarePair("tunnel_side", "Side of the tunnel", "half way up, beside the seat", {400, 137, -50});
        }
        squarePair("floor", "Floor", "lowest flat of the pan under the seat",
                   {400, shape_.sill_y * 0.58, -130});
        stage("Inside, along the car",
              "Still inside, with a long square or a plumb line to the chalked centreline.", View::plan);
        if (body_ != Body::open) {
            square("header_middle", "Header, underside of the skin",
                   "behind the windshield, on the centreline",
                   {shape_.windshield_top.x() - 30, 0, shape_.roof_middle.z() - 25});
            square("roof_rear_middle", "Roof at its rear end, underside of the skin",
                   "between the two rear corners, on the centreline",
                   {shape_.rear_corner.x() + 30, 0, shape_.roof_middle.z() - 30});
        }
        const Vec3& pillar = shape_.a_pillar_foot;
        across("dash", "dash_middle", "Dash", "end at the pillar, foremost line a bar may touch",
               "foremost line a bar may touch, on the centreline",
               {pillar.x() - 130, pillar.y() - 60, pillar.z() - 50}, {830, 0, 490});
        across("firewall", "firewall_middle", "Firewall", "inside face, over the pedals' height",
               "inside face, on the centreline", {1190, 0.8 * shape_.sill_y, 200}, {1190, 0, 200});
        squarePair("floor_front", "Front end of the floor", "foot of the toe board, at the sill",
                   {shape_.sill_a_x + 30, 0.88 * shape_.sill_y, -130});
        squarePair("floor_rear", "Rear end of the floor", "foot of the step behind the seats, at the sill",
                   {-330, 0.88 * shape_.sill_y, -130});
    }

    void section(const std::string& stem, const std::string& title, const std::string& hook,
                 const Vec3& drawn) {
        for (const bool left : {true, false}) {
            MeasuringItem& item =
                add(Kind::rail, stem + sideSuffix(left), title + side(left, ", "), hook,
                    "calliper, ultrasonic gauge or drilled hole", left ? drawn : mirrored(drawn));
            item.figures = {
                {Key::width, "", "width"}, {Key::section_height, "", "height"}, {Key::wall, "", "wall"}};
            item.tolerance_mm = 1;
        }
    }

    void under() {
        const double y = shape_.sill_y, a = shape_.sill_a_x, r = shape_.rear_axle_x;
        if (frame_ == Frame::unibody) {
            stage("Underneath: sills and chassis legs",
                  "Never work under a car that stands on a jack alone. Points lie on top of the leg, where a "
                  "foot would land.",
                  View::under);
            squarePair("front_kick", "Kick of the front leg", "top of the leg half way up its kick",
                       {a + 190, 0.71 * y, 102});
            squarePair("front_leg", "Front chassis leg", "top of the leg behind the strut tower",
                       {a + 330, 0.71 * y, 155});
            squarePair("rear_leg", "Rear chassis leg", "top of the leg ahead of the damper",
                       {r + 100, 0.77 * y, 235});
            squarePair("rear_leg_end", "Rear end of the rear leg", "top of the leg behind the damper",
                       {r - 330, 0.77 * y, 240});
            section("sill", "Section of the sill", "outside of the box, half way along",
                    {a / 2, y + 65, -75});
            section("front_leg", "Section of the front leg", "outside of the box, at the return's foot",
                    {a + 420, 0.71 * y, 110});
            section("rear_leg", "Section of the rear leg", "outside of the box, at the brace foot",
                    {r + 350, 0.8 * y, 110});
            return;
        }
        const bool ladder = frame_ == Frame::ladder;
        const double middle_y = ladder ? 0.7 * y : 0.98 * y;
        stage(ladder ? "Underneath: the ladder frame" : "Underneath: the perimeter frame",
              "Never work under a car that stands on a jack alone. Points lie on top of the rail, where a "
              "foot would land.",
              View::under);
        squarePair("frame_front", "Frame at the front", "top of the rail behind the front axle",
                   {a + 450, 0.55 * y, -40});
        squarePair("frame_a", ladder ? "Frame under the dash" : "Front corner of the frame",
                   "top of the rail", {a - 100, middle_y, -130});
        squarePair("frame_b", ladder ? "Frame under the main hoop" : "Side rail under the main hoop",
                   "top of the rail", {-100, middle_y, -130});
        squarePair("frame_rear", "Frame ahead of the rear axle", "top of the rail", {r + 380, 0.6 * y, 20});
        section("frame", "Section of the rail", "outside of the rail under the main hoop",
                {a / 2, middle_y, -180});
    }

    /// Numbers, and the number of the datum on every tape.
    void number() {
        int next = 1;
        std::map<std::string, int> number_of;
        for (MeasuringStage& stage : stages_) {
            for (MeasuringItem& item : stage.items) {
                item.number = next++;
                if (item.kind == Kind::point) number_of.emplace(item.name, item.number);
            }
        }
        for (MeasuringStage& stage : stages_) {
            for (MeasuringItem& item : stage.items) {
                for (MeasuringFigure& figure : item.figures) {
                    if (figure.key == Key::tape)
                        figure.label = "from " + std::to_string(number_of.at(figure.from));
                }
            }
        }
    }

    Body body_;
    Frame frame_;
    Shape shape_;
    std::vector<MeasuringStage> stages_;
};

}  // namespace

std::vector<MeasuringStage> measuringWalk(Car::Body body, Car::Frame frame) {
    return Walk(body, frame).made();
}

}  // namespace hoopwright
