// What one shop has and how it works: its benders and what they spring back, its saws, its rack, its rates.
#pragma once

#include <optional>
#include <string>
#include <string_view>
#include <vector>

#include "core/geometry/vec.h"

namespace hoopwright {

/// A solid of a bender that does not turn, from its low corner to its high one, in the bender's own axes.
struct BenderBlock {
    std::string name;  ///< "cabinet", "ram"
    Vec3 low = Vec3::Zero(), high = Vec3::Zero();
    friend bool operator==(const BenderBlock&, const BenderBlock&) = default;
};

/// A rotary draw bender. Its own axes: origin on the tube's axis where a bend begins; x along the tube to the
/// clamped end, which swings; y towards the middle of the die; z = x cross y, square to the plane of the
/// bend.
struct Bender {
    /// To which side of a person at the tail, looking along the tube, the clamped end swings.
    enum class Swings { left, right, up };
    std::string id;
    std::string name;
    Swings swings = Swings::left;
    double height_mm = 0;              ///< of the tube's axis over the floor
    std::optional<double> tail_mm;     ///< free length behind the start of a bend, to the wall, say
    std::optional<double> stroke_rad;  ///< of one stroke of a ratchet or ram
    std::vector<BenderBlock> frame;
    std::vector<std::string> dies;  ///< ids of those that go on it; empty: all
    /// Unit, up, in the bender's own axes.
    Vec3 up() const;
    friend bool operator==(const Bender&, const Bender&) = default;
};

/// One trial bend, measured free of the die.
struct BendSample {
    std::string stock, die;           ///< TubeStock::id, Die::id
    double dialled_rad = 0;           ///< on the bender's scale, loaded
    double got_rad = 0;               ///< of the bent tube
    std::optional<double> radius_mm;  ///< got, to the centreline
    std::string when;                 ///< "YYYY-MM-DD", or empty
    friend bool operator==(const BendSample&, const BendSample&) = default;
};

/// A saw for straight cuts through a tube.
struct Saw {
    std::string id, name;
    double kerf_mm = 0;
    double greatest_swing_rad = 0;  ///< from a square cut
    friend bool operator==(const Saw&, const Saw&) = default;
};

/// A sheet for plates, gussets and risers.
struct SheetStock {
    std::string id;
    std::string material;  ///< Material::id
    double thickness_mm = 0, length_mm = 0, width_mm = 0;
    double price = 0;  ///< of one; 0 = not stated
    friend bool operator==(const SheetStock&, const SheetStock&) = default;
};

/// How sheet of one thickness comes out of this shop's folder.
struct SheetFold {
    double thickness_mm = 0;
    double radius_mm = 0;     ///< inside, of the fold as it comes out
    std::optional<double> k;  ///< where the sheet keeps its length: from the inside, in thicknesses, (0, 1)
    std::optional<double> least_leg_mm;  ///< that the folder can hold, over the outside of the fold
    friend bool operator==(const SheetFold&, const SheetFold&) = default;
};

/// The table sheet is cut on.
struct CuttingTable {
    double kerf_mm = 0;  ///< width of the cut, all of it outside the part
    double gap_mm = 0;   ///< sheet left standing between two cuts
    double edge_mm = 0;  ///< sheet left standing between a cut and the sheet's edge
    friend bool operator==(const CuttingTable&, const CuttingTable&) = default;
};

/// A stick or an off-cut that lies on the rack.
struct RackPiece {
    std::string stock;  ///< TubeStock::id
    double length_mm = 0;
    std::string heat, certificate;
    friend bool operator==(const RackPiece&, const RackPiece&) = default;
};

/// Where the width of a saw cut is lost. between_pieces: sum + (n - 1) kerf <= stick, so a stick's last piece
/// may end at its end; every_cut: sum + n kerf <= stick, so there is a cut behind every piece.
enum class KerfAt { between_pieces, every_cut };

/// What is counted and timed.
enum class Operation { bend, cope, joint, plate, fit };

/// What the shop took for so many of one operation on one job.
struct WorkTime {
    std::string job;
    Operation operation = Operation::bend;
    int count = 1;       ///< >= 1
    double minutes = 0;  ///< of all of them; > 0
    std::string when;    ///< "YYYY-MM-DD", or empty
    friend bool operator==(const WorkTime&, const WorkTime&) = default;
};

/// Of work, each once; nothing: not known yet.
struct ShopMinutes {
    std::optional<double> bend, cope, joint, plate, fit;
    friend bool operator==(const ShopMinutes&, const ShopMinutes&) = default;
};

/// A way to finish the cage, by the square metre of its outside.
struct ShopFinish {
    std::string name;
    double price_per_m2 = 0;
    friend bool operator==(const ShopFinish&, const ShopFinish&) = default;
};

/// Filler and gas: what the shop has found they take.
struct WeldUse {
    double filler_g_per_m = 0;  ///< of weld
    double gas_l_per_min = 0;
    double speed_mm_per_min = 0;  ///< of the torch, rests not counted; > 0
    friend bool operator==(const WeldUse&, const WeldUse&) = default;
};

/// How far a tube's end is cleaned before it is welded, from the cut back. Common practice, no source.
inline constexpr double kCleanOutside_mm = 25, kCleanInside_mm = 12;

struct ShopBook {
    std::string name;
    std::string words;  ///< the shop's own, printed on what a customer gets; may be empty
    std::string mark;   ///< its own mark, an image file, as written: from the book's folder; may be empty
    std::vector<Bender> benders;
    std::vector<BendSample> samples;
    std::vector<Saw> saws;
    std::vector<double> hole_saws_mm;       ///< sizes on the shelf: diameter of the hole they cut
    double bend_long_mm = 0;                ///< left on the blank of a bent tube, trimmed after
    double paper_mm = 0.1;                  ///< thickness of the paper wraps are printed on
    std::optional<double> least_roundness;  ///< least over greatest diameter of a bend, (0, 1]
    double clean_outside_mm = kCleanOutside_mm, clean_inside_mm = kCleanInside_mm;
    std::optional<WeldUse> weld;
    std::vector<SheetStock> sheets;
    std::vector<SheetFold> folds;
    std::optional<CuttingTable> cutting_table;
    std::vector<RackPiece> rack;
    KerfAt kerf_at = KerfAt::between_pieces;
    bool off_cuts_first = false;         ///< what lies on the rack is cut before anything is bought
    std::optional<double> rack_from_mm;  ///< what is left goes back to the rack from this length on
    ShopMinutes minutes;
    std::vector<WorkTime> times;  ///< entered job by job
    std::optional<double> rate_per_hour;
    std::vector<ShopFinish> finishes;
    std::optional<double> padding_price_per_m;
    std::vector<std::string> exclusions;

    /// The first bender that takes that die, or null.
    const Bender* benderFor(std::string_view die) const;
    friend bool operator==(const ShopBook&, const ShopBook&) = default;
};

}  // namespace hoopwright
