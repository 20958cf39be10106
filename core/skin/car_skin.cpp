#include "core/skin/car_skin.h"

#include <algorithm>

#include "core/geometry/polygon.h"
#include "core/mesh/scan_mesh.h"
#include "core/skin/shell.h"

namespace hoopwright {
namespace {

/// A mesh of several named parts.
class Parts {
public:
    void begin(const std::string& name) {
        parts_.emplace_back(name, static_cast<std::uint32_t>(mesh_.triangles.size()));
    }
    std::uint32_t vertex(const Vec3& at) {
        mesh_.vertices.push_back(at);
        return static_cast<std::uint32_t>(mesh_.vertices.size() - 1);
    }
    void triangle(std::uint32_t a, std::uint32_t b, std::uint32_t c) { mesh_.triangles.push_back({a, b, c}); }
    void finish(SurfaceKind kind, CarSkin& skin) {
        if (mesh_.triangles.empty()) return;
        skin.surfaces.push_back(
            {kind, PlacedMesh(std::make_shared<const MeshTree>(std::move(mesh_)), {}), std::move(parts_)});
    }

private:
    TriangleMesh mesh_;
    std::vector<std::pair<std::string, std::uint32_t>> parts_;
};

/// Left half up to the roof, right half down again. The picture closes the shell below and at its ends;
/// nobody measured that, so it is not measured against.
void addShell(const Car& car, CarSkin& skin) {
    const std::vector<ShellSection> sections = shellSections(car.shell);
    if (sections.empty()) return;
    Parts parts;
    parts.begin("shell");
    for (const ShellSection& section : sections) {
        for (const Vec2& p : section.half) parts.vertex({section.x_mm, p.x(), p.y()});
        for (std::size_t k = section.half.size() - 1; k-- > 0;)
            parts.vertex({section.x_mm, -section.half[k].x(), section.half[k].y()});
    }
    const auto rows = static_cast<std::uint32_t>(sections.size());
    const auto columns = static_cast<std::uint32_t>(2 * sections.front().half.size() - 1);
    for (std::uint32_t i = 0; i + 1 < rows; ++i)
        for (std::uint32_t k = 0; k + 1 < columns; ++k) {
            const std::uint32_t a = i * columns + k, b = a + columns;
            parts.triangle(a, b + 1, b);
            parts.triangle(a, a + 1, b + 1);
        }
    parts.finish(SurfaceKind::shell, skin);
}

void addRings(const std::vector<SmoothLine>& lines, CarLine::Kind of, SurfaceKind kind, CarSkin& skin) {
    Parts parts;
    for (const SmoothLine& line : lines) {
        if (line.kind != of || !isRing(line)) continue;
        const std::vector<Vec3> ring(line.points.begin(), line.points.end() - 1);
        const std::vector<std::uint32_t> fill = fillRing(ring).triangles;
        if (fill.empty()) continue;
        parts.begin(line.name);
        std::uint32_t first = 0;
        for (std::size_t i = 0; i < ring.size(); ++i) {
            const std::uint32_t at = parts.vertex(ring[i]);
            if (i == 0) first = at;
        }
        for (std::size_t i = 0; i + 2 < fill.size(); i += 3)
            parts.triangle(first + fill[i], first + fill[i + 1], first + fill[i + 2]);
    }
    parts.finish(kind, skin);
}

PlacedScan place(const CarScan& scan, const ScanMeshes& meshes, CarSkin& skin) {
    const auto known = meshes.find(scan.file);
    const ScanMesh* mesh = known == meshes.end() ? nullptr : known->second.get();
    PlacedScan out = placedScan(scan, mesh);
    if (!out.problem.empty()) return out;
    out.surface = static_cast<int>(skin.surfaces.size());
    skin.surfaces.push_back(
        {SurfaceKind::scan, PlacedMesh(mesh->tree, out.placement, keptOf(scan)), {{scan.file, 0}}});
    return out;
}

}  // namespace

std::string_view surfaceKindWord(SurfaceKind kind) {
    switch (kind) {
        case SurfaceKind::glass:
            return "glass";
        case SurfaceKind::floor:
            return "floor";
        case SurfaceKind::scan:
            return "scan";
        case SurfaceKind::shell:
            break;
    }
    return "shell";
}

const std::string& SkinSurface::partAt(std::uint32_t triangle) const {
    const auto after = std::upper_bound(parts.begin(), parts.end(), triangle,
                                        [](std::uint32_t t, const auto& part) { return t < part.second; });
    return after == parts.begin() ? after->first : (after - 1)->first;
}

std::string CarSkin::missing() const {
    for (const PlacedScan& scan : scans)
        if (!scan.problem.empty()) return scan.problem;
    return surfaces.empty() ? "the car has no skin: neither a shell, nor glass, nor a floor, nor a scan" : "";
}

std::vector<HalfSpace> keptOf(const CarScan& scan) {
    std::vector<HalfSpace> out;
    if (scan.box) {
        for (int i = 0; i < 3; ++i) {
            out.push_back({scan.box->low, Vec3::Unit(i)});
            out.push_back({scan.box->high, -Vec3::Unit(i)});
        }
    }
    for (const ScanCut& cut : scan.cuts)
        if (cut.keep.norm() > 0) out.push_back({cut.at, cut.keep.normalized()});
    return out;
}

PlacedScan placedScan(const CarScan& scan, const ScanMesh* mesh) {
    PlacedScan out;
    const std::string called = "scan '" + scan.file + "'";
    const auto refuse = [&](const std::string& why) {
        out.problem = called + why;
        return out;
    };
    if (!mesh) return refuse(" is not loaded");
    out.unit = scan.unit;
    if (scan.unit == ScanUnit::guess) {
        const auto guess = guessedUnit(mesh->tree->bounds());
        if (!guess) return refuse(" is the size of a car in no unit: say its unit");
        out.unit = *guess;
        out.unit_guessed = true;
    }
    out.placement.scale = mmIn(out.unit);
    if (scan.pairs.empty()) return out;
    Expected<RigidFit> fit = rigidFit(scan.pairs, out.placement.scale);
    if (!fit) return refuse(": " + fit.reason());
    out.placement = fit->placement;
    out.fit = *std::move(fit);
    return out;
}

CarSkin carSkin(const Car& car, const ScanMeshes& meshes) {
    CarSkin skin;
    addShell(car, skin);
    const std::vector<SmoothLine> lines = smoothLines(car);
    addRings(lines, CarLine::Kind::glass, SurfaceKind::glass, skin);
    addRings(lines, CarLine::Kind::floor, SurfaceKind::floor, skin);
    for (const CarScan& scan : car.scans) skin.scans.push_back(place(scan, meshes, skin));
    return skin;
}

}  // namespace hoopwright
