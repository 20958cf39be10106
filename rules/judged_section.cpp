#include "rules/judged_section.h"

#include <algorithm>

#include "rules/measuring.h"
#include "rules/mill_wall.h"

namespace hoopwright {
namespace {

JudgedSection missing(std::string what) {
    return {std::nullopt, std::move(what)};
}

JudgedSection withWall(const TubeStock& stock, double wall_mm) {
    return {TubeSection{stock.section.od_mm, wall_mm}, {}};
}

JudgedSection millLeast(const TubeStock& stock) {
    if (const auto least = leastWall(stock)) return withWall(stock, least->wall_mm);
    return missing("the stock list states no least wall for '" + stock.id +
                   "', and no mill tolerance is known for tube of its size and form");
}

/// Gauged on this very bar; else on its tube's rack.
std::optional<double> gaugedWall_mm(const TableRun& run, int member, const TubeStock& stock) {
    const std::string& id = run.scene().member(member).id;
    std::optional<double> least;
    for (const BuiltReading& reading : run.scene().job().cage.readings)
        if (reading.of == id && reading.quantity == "measured_wall" && reading.dimension == Dimension::length)
            least = std::min(least.value_or(reading.value), reading.value);
    return least ? least : stock.measured_wall_mm;
}

/// Calipered on this very bar; else as ordered.
double gaugedOd_mm(const TableRun& run, int member, const TubeStock& stock) {
    std::optional<double> least;
    for (const BuiltReading& reading : run.scene().job().cage.readings)
        if (reading.of == run.scene().member(member).id && reading.quantity == "od" &&
            reading.dimension == Dimension::length)
            least = std::min(least.value_or(reading.value), reading.value);
    return least.value_or(stock.section.od_mm);
}

double tightestBend_mm(const Centreline& line) {
    double least = 0;
    for (const Piece& piece : line.pieces())
        if (piece.kind == Piece::Kind::bend && (least == 0 || piece.radius_mm < least))
            least = piece.radius_mm;
    return least;
}

}  // namespace

JudgedSection judgedSection(const TableRun& run, int member, WallKind kind) {
    const TubeStock* stock = run.scene().facts(member).stock;
    if (!stock) return missing(noStock(run, member).text);
    const std::optional<double> gauged = gaugedWall_mm(run, member, *stock);
    switch (kind) {
        case WallKind::nominal:
            return {stock->section, {}};
        case WallKind::mill_least:
            return millLeast(*stock);
        case WallKind::measured:
            return gauged ? JudgedSection{TubeSection{gaugedOd_mm(run, member, *stock), *gauged}, {}}
                          : missing("no measured wall is noted for '" + stock->id + "'");
        case WallKind::bent:
            break;
    }
    JudgedSection out = gauged ? withWall(*stock, *gauged) : millLeast(*stock);
    const double radius = tightestBend_mm(run.scene().member(member).line);
    if (out.section && radius > 0)
        out.section->wall_mm = bentWall_mm(out.section->wall_mm, stock->section.od_mm, radius);
    return out;
}

std::string wallWords(WallKind kind) {
    switch (kind) {
        case WallKind::nominal:
            return "nominal wall";
        case WallKind::mill_least:
            return "the mill's least wall";
        case WallKind::measured:
            return "wall as gauged";
        case WallKind::bent:
            return "wall left at the tightest bend";
    }
    return "";
}

}  // namespace hoopwright
