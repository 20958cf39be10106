#include "app/export/glb_file.h"

#include <QJsonArray>
#include <QJsonDocument>
#include <QJsonObject>
#include <cmath>
#include <cstring>
#include <numbers>

#include "core/shop/joint_cope.h"
#include "render/car_body.h"
#include "render/colours.h"
#include "render/driver_figure.h"
#include "render/plate_mesh.h"
#include "render/tube_ends.h"
#include "render/tube_mesh.h"
#include "render/tube_welds.h"

namespace hoopwright {
namespace {

constexpr int kFloat = 5126, kUnsignedInt = 5125, kVertices = 34962, kIndices = 34963;  // glTF 2.0, 3.6.2
constexpr int kSides = 48;
constexpr double kTubeChord_mm = 0.1;
/// A row on a straight is needed for its ends alone.
constexpr double kNoRows_mm = 1e6;

QString words(const std::string& text) {
    return QString::fromStdString(text);
}

/// A channel of sRGB (IEC 61966-2-1) as light.
double linear(double c) {
    return c <= 0.04045 ? c / 12.92 : std::pow((c + 0.055) / 1.055, 2.4);
}

QJsonArray numbers(const Vec3f& v) {
    return {static_cast<double>(v.x()), static_cast<double>(v.y()), static_cast<double>(v.z())};
}

/// glTF's axes from the car's.
Vec3f turned(const Vec3f& v) {
    return {v.y(), v.z(), v.x()};
}

struct Surface3 {
    Rgb colour;
    double metal = 0, rough = 0.5, opacity = 1;
    bool both_sides = false;
};

class GlbWriter {
public:
    int material(const std::string& name, const Surface3& look) {
        QJsonObject pbr{{"baseColorFactor", QJsonArray{linear(look.colour.r), linear(look.colour.g),
                                                       linear(look.colour.b), look.opacity}},
                        {"metallicFactor", look.metal},
                        {"roughnessFactor", look.rough}};
        QJsonObject made{{"name", words(name)}, {"pbrMetallicRoughness", pbr}};
        if (look.opacity < 1) made["alphaMode"] = QStringLiteral("BLEND");
        if (look.both_sides || look.opacity < 1) made["doubleSided"] = true;
        materials_.append(made);
        return static_cast<int>(materials_.size()) - 1;
    }

    /// @return the node, or -1 for a mesh without a triangle
    int node(const std::string& name, const Mesh& mesh, int material, const QJsonObject& extras = {}) {
        if (mesh.triangles.empty()) return -1;
        triangles_ += mesh.triangleCount();
        Box box;
        QByteArray at, normals, colours;
        for (const MeshCorner& corner : mesh.corners) {
            const Vec3f p = turned(corner.at) / 1000;
            box.extend(p.cast<double>());
            put(at, p);
            const float length = corner.normal.norm();
            put(normals, length > 0 ? Vec3f(turned(corner.normal) / length) : Vec3f(Vec3f::UnitY()));
        }
        for (const Rgb& c : mesh.colours)
            put(colours, {static_cast<float>(linear(c.r)), static_cast<float>(linear(c.g)),
                          static_cast<float>(linear(c.b))});
        QJsonObject attributes{
            {"POSITION", accessor(at, "VEC3", kFloat, kVertices, mesh.corners.size(), &box)},
            {"NORMAL", accessor(normals, "VEC3", kFloat, kVertices, mesh.corners.size())}};
        if (!mesh.colours.empty())
            attributes["COLOR_0"] = accessor(colours, "VEC3", kFloat, kVertices, mesh.colours.size());
        QByteArray indices(reinterpret_cast<const char*>(mesh.triangles.data()),
                           static_cast<qsizetype>(mesh.triangles.size() * sizeof(std::uint32_t)));
        const QJsonObject primitive{
            {"attributes", attributes},
            {"indices", accessor(indices, "SCALAR", kUnsignedInt, kIndices, mesh.triangles.size())},
            {"material", material}};
        meshes_.append(QJsonObject{{"name", words(name)}, {"primitives", QJsonArray{primitive}}});
        QJsonObject made{{"name", words(name)}, {"mesh", static_cast<int>(meshes_.size()) - 1}};
        if (!extras.isEmpty()) made["extras"] = extras;
        nodes_.append(made);
        return static_cast<int>(nodes_.size()) - 1;
    }

    int group(const std::string& name, const std::vector<int>& children, const QJsonObject& extras = {}) {
        QJsonArray inside;
        for (const int child : children)
            if (child >= 0) inside.append(child);
        if (inside.isEmpty()) return -1;
        QJsonObject made{{"name", words(name)}, {"children", inside}};
        if (!extras.isEmpty()) made["extras"] = extras;
        nodes_.append(made);
        return static_cast<int>(nodes_.size()) - 1;
    }

    QByteArray finish(const std::string& name, int root, const QJsonObject& extras) {
        QJsonObject top{
            {"asset", QJsonObject{{"version", "2.0"}, {"generator", "Hoopwright"}, {"extras", extras}}},
            {"scene", 0},
            {"scenes", QJsonArray{QJsonObject{{"name", words(name)},
                                              {"nodes", root < 0 ? QJsonArray{} : QJsonArray{root}}}}}};
        if (root < 0) top["scenes"] = QJsonArray{QJsonObject{{"name", words(name)}}};
        const std::pair<const char*, const QJsonArray*> lists[] = {{"nodes", &nodes_},
                                                                   {"meshes", &meshes_},
                                                                   {"materials", &materials_},
                                                                   {"accessors", &accessors_},
                                                                   {"bufferViews", &views_}};
        for (const auto& [key, list] : lists)
            if (!list->isEmpty()) top[QLatin1String(key)] = *list;
        if (!binary_.isEmpty()) top["buffers"] = QJsonArray{QJsonObject{{"byteLength", binary_.size()}}};
        QByteArray json = QJsonDocument(top).toJson(QJsonDocument::Compact);
        while (json.size() % 4 != 0) json.append(' ');
        QByteArray out;
        const auto chunk = [&](const char* kind, const QByteArray& bytes) {
            number(out, static_cast<std::uint32_t>(bytes.size()));
            out.append(kind, 4);
            out.append(bytes);
        };
        out.append("glTF", 4);
        number(out, 2);
        const qsizetype binary = binary_.isEmpty() ? 0 : 8 + binary_.size();
        number(out, static_cast<std::uint32_t>(12 + 8 + json.size() + binary));
        chunk("JSON", json);
        if (!binary_.isEmpty()) chunk("BIN\0", binary_);
        return out;
    }
    std::size_t triangles() const { return triangles_; }

private:
    // Both are as this machine has them: little-endian, as glTF wants.
    static void put(QByteArray& out, const Vec3f& v) {
        out.append(reinterpret_cast<const char*>(v.data()), 3 * sizeof(float));
    }
    static void number(QByteArray& out, std::uint32_t value) {
        for (int shift = 0; shift < 32; shift += 8) out.append(static_cast<char>(value >> shift & 0xFFu));
    }

    int accessor(const QByteArray& bytes, const char* type, int component, int target, std::size_t count,
                 const Box* box = nullptr) {
        views_.append(QJsonObject{
            {"buffer", 0}, {"byteOffset", binary_.size()}, {"byteLength", bytes.size()}, {"target", target}});
        binary_.append(bytes);
        QJsonObject made{{"bufferView", static_cast<int>(views_.size()) - 1},
                         {"componentType", component},
                         {"count", static_cast<qint64>(count)},
                         {"type", QLatin1String(type)}};
        if (box) {
            made["min"] = numbers(box->min().cast<float>());
            made["max"] = numbers(box->max().cast<float>());
        }
        accessors_.append(made);
        return static_cast<int>(accessors_.size()) - 1;
    }

    QJsonArray nodes_, meshes_, materials_, accessors_, views_;
    QByteArray binary_;
    std::size_t triangles_ = 0;
};

class CageGlb {
public:
    CageGlb(const Job& job, const CageGeometry& cage) : job_(job), cage_(cage) {}

    GlbFile make(const GlbOptions& options, const WorkProgress& progress) {
        GlbFile out;
        std::vector<int> groups;
        std::vector<int> bars, welds;
        const int tubes = static_cast<int>(cage_.members.size());
        for (int i = 0; i < tubes; ++i) {
            if (!goOn(progress, i, tubes, cage_.members[static_cast<std::size_t>(i)].name)) {
                out.stopped = true;
                return out;
            }
            bars.push_back(bar(i, out));
            welds.push_back(weld(i));
        }
        groups.push_back(glb_.group("Bars", bars));
        groups.push_back(glb_.group("Welds", welds));
        groups.push_back(glb_.group("Plates", plates(out)));
        groups.push_back(glb_.group("Gussets", gussets(out)));
        if (options.car) groups.push_back(glb_.group(job_.car.name, car()));
        if (options.drivers) groups.push_back(glb_.group("Drivers", drivers()));
        const int root = glb_.group(job_.cage.name, groups,
                                    {{"members", cage_.totals.members},
                                     {"joints", cage_.totals.joints},
                                     {"bends", cage_.totals.bends},
                                     {"tube_length_mm", cage_.totals.tube_length_mm},
                                     {"tube_mass_kg", cage_.totals.tube_mass_kg},
                                     {"plate_mass_kg", cage_.totals.plate_mass_kg}});
        out.bytes = glb_.finish(
            job_.cage.name, root,
            {{"caution",
              "A plan, not an approval: the rule book in force and its inspector have the last word."}});
        out.triangles = glb_.triangles();
        return out;
    }

private:
    int bar(int index, GlbFile& out) {
        const ResolvedMember& member = cage_.members[static_cast<std::size_t>(index)];
        if (!member.section.valid()) return -1;
        TubeDetail detail;
        detail.sides = kSides;
        detail.chord_error_mm = kTubeChord_mm;
        detail.step_mm = kNoRows_mm;
        const TubeSweep sweep(member.line, tubeClock(member.line, 0));
        const Mesh mesh = tubeMesh(sweep, member.section, endCut(cage_, index, 0, kSides),
                                   endCut(cage_, index, 1, kSides), detail);
        const CutLength cut = cutLength(cage_, index);
        const TubeStock* stock =
            member.stock < 0 ? nullptr : &job_.stock.tubes[static_cast<std::size_t>(member.stock)];
        const QJsonObject extras{{"id", words(member.id)},
                                 {"role", words(member.role)},
                                 {"stock", words(stock ? stock->id : "")},
                                 {"material", words(stock ? stock->material : "")},
                                 {"od_mm", member.section.od_mm},
                                 {"wall_mm", member.section.wall_mm},
                                 {"developed_mm", cut.centre_mm},
                                 {"cut_long_to_long_mm", cut.long_to_long_mm},
                                 {"bends", member.line.bendCount()},
                                 {"volume_mm3", member.section.area_mm2() * cut.mean_mm},
                                 {"mass_kg", member.mass_kg}};
        out.pieces.emplace_back(member.id, mesh.triangleCount());
        return glb_.node(member.name, mesh, place(roleOf(member.role).place), extras);
    }

    /// The beads round both ends of a bar. They are drawn, and weigh nothing here.
    int weld(int index) {
        const ResolvedMember& member = cage_.members[static_cast<std::size_t>(index)];
        if (!member.section.valid()) return -1;
        double length = 0;
        for (const int end : {0, 1}) {
            if (member.ends[static_cast<std::size_t>(end)].on == ResolvedEnd::On::nothing) continue;
            if (const auto cope = jointCope(cage_, index, end, kSides)) length += cope->edge_length_mm;
        }
        if (weld_ < 0) weld_ = glb_.material("Weld", {kWeldColour, 0.95, 0.24});
        return glb_.node(
            member.name + ", welds", weldsOf(cage_, index, TubeSweep(member.line, tubeClock(member.line, 0))),
            weld_, {{"of", words(member.id)}, {"leg_mm", weldLeg_mm(member)}, {"weld_length_mm", length}});
    }

    /// Of the bars of a place, made when it is first asked for.
    int place(Place where) {
        auto& known = places_[static_cast<std::size_t>(where)];
        if (known < 0)
            known = glb_.material("Bars: " + std::string(placeName(where)), {placeColour(where), 0.2, 0.42});
        return known;
    }
    int sheet() {
        if (sheet_ < 0) sheet_ = glb_.material("Plate", {{0.62f, 0.63f, 0.65f}, 0.5, 0.5});
        return sheet_;
    }

    std::vector<int> plates(GlbFile& out) {
        std::vector<int> nodes;
        for (const ResolvedPlate& plate : cage_.plates) {
            const Mesh mesh = plateMesh(plate, &job_.cage.plates[static_cast<std::size_t>(plate.layout)]);
            if (mesh.triangles.empty()) continue;
            out.pieces.emplace_back(plate.id, mesh.triangleCount());
            nodes.push_back(glb_.node(plate.name, mesh, sheet(),
                                      {{"id", words(plate.id)},
                                       {"area_mm2", plate.area_mm2},
                                       {"thickness_mm", plate.thickness_mm},
                                       {"mass_kg", plate.mass_kg}}));
        }
        return nodes;
    }
    std::vector<int> gussets(GlbFile& out) {
        std::vector<int> nodes;
        for (const ResolvedGusset& gusset : cage_.gussets) {
            const Mesh mesh = gussetMesh(gusset, gussetShape(cage_, gusset));
            if (mesh.triangles.empty()) continue;
            out.pieces.emplace_back(gusset.id, mesh.triangleCount());
            nodes.push_back(glb_.node("Gusset " + gusset.id, mesh, sheet(),
                                      {{"id", words(gusset.id)},
                                       {"area_mm2", gusset.area_mm2},
                                       {"thickness_mm", gusset.thickness_mm},
                                       {"mass_kg", gusset.mass_kg}}));
        }
        return nodes;
    }

    std::vector<int> car() {
        const Car& measured = job_.car;
        std::vector<int> nodes;
        Mesh rails, wheels;
        for (const FrameRail& rail : measured.rails) rails.append(railMesh(rail));
        for (const Wheel& wheel : measured.wheels) wheels.append(wheelMesh(wheel));
        const auto add = [&](const std::string& name, const Mesh& mesh, const Surface3& look) {
            if (!mesh.triangles.empty()) nodes.push_back(glb_.node(name, mesh, glb_.material(name, look)));
        };
        const bool unibody = measured.frame == Car::Frame::unibody;
        add(unibody ? "Sills and rails" : "Frame", rails,
            {unibody ? Rgb{0.60f, 0.625f, 0.65f} : Rgb{0.235f, 0.245f, 0.26f}, 0, 0.5});
        add("Wheels", wheels, {{1, 1, 1}, 0, 0.6});
        const std::vector<SmoothLine> lines = smoothLines(measured);
        add("Floor", panes(lines, CarLine::Kind::floor), {{0.42f, 0.44f, 0.47f}, 0, 0.8, 0.35});
        add("Glass", panes(lines, CarLine::Kind::glass), {{0.20f, 0.27f, 0.33f}, 0, 0.1, 0.25});
        add("Body", bodyShell(measured.shell), {{0.40f, 0.46f, 0.53f}, 0, 0.35, 0.16});
        return nodes;
    }

    /// Of people who cannot both be there the first one sits.
    std::vector<int> drivers() {
        constexpr double kSeat_mm = 320;
        std::vector<int> nodes;
        std::vector<Vec3> seated;
        for (const Driver& driver : job_.drivers) {
            bool free = true;
            for (const Vec3& hip : seated) free = free && (hip - driver.hip).norm() >= kSeat_mm;
            if (!free) continue;
            seated.push_back(driver.hip);
            const std::pair<const char*, Mesh> parts[] = {
                {"body", driverBody(driver)},         {"helmet", helmetShell(driver)},
                {"visor", helmetVisor(driver)},       {"seat", seatShell(driver)},
                {"belts", beltStraps(driver, cage_)}, {"steering wheel", steeringWheel(driver)}};
            std::vector<int> of;
            for (const auto& [name, mesh] : parts) {
                if (mesh.triangles.empty()) continue;
                const Rgb colour = mesh.colours.empty() ? Rgb{0.5f, 0.5f, 0.5f} : Rgb{1, 1, 1};
                of.push_back(glb_.node(driver.name + ", " + name, mesh,
                                       glb_.material(driver.name + ", " + name, {colour, 0, 0.6, 1, true})));
            }
            nodes.push_back(glb_.group(driver.name, of));
        }
        return nodes;
    }

    const Job& job_;
    const CageGeometry& cage_;
    GlbWriter glb_;
    std::array<int, 16> places_ = [] {
        std::array<int, 16> none;
        none.fill(-1);
        return none;
    }();
    int sheet_ = -1, weld_ = -1;
};

}  // namespace

GlbFile glbFile(const Job& job, const CageGeometry& cage, const GlbOptions& options,
                const WorkProgress& progress) {
    return CageGlb(job, cage).make(options, progress);
}

}  // namespace hoopwright
