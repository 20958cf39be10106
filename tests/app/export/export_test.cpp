// What other programs are given, read back by libraries that know nothing of this one.
#include <gmock/gmock.h>
#include <unistd.h>

#include <QJsonArray>
#include <QJsonDocument>
#include <QJsonObject>
#include <cmath>
#include <filesystem>
#include <fstream>
#include <map>
#include <numbers>
#include <sstream>

#include "app/export/cage_export.h"
#include "core/files/job_file.h"
#include "core/model/resolve.h"

#ifdef HOOPWRIGHT_ASSIMP
#include <assimp/postprocess.h>
#include <assimp/scene.h>

#include <assimp/Importer.hpp>
#endif
#ifdef HOOPWRIGHT_DXFLIB
#include <dxflib/dl_creationadapter.h>
#include <dxflib/dl_dxf.h>
#endif

namespace hoopwright {
namespace {

struct ExportDemo : testing::TestWithParam<const char*> {
    const JobResult read = readJob(HOOPWRIGHT_SOURCE_DIR "/data/cages/" + std::string(GetParam()) + ".yaml");
    const Job& job = *read.job;
    const CageGeometry cage = resolve(job);
    CageExport made(ExportFormat format, CageTable table = CageTable::points) const {
        ExportChoice choice{format};
        choice.table = table;
        return exportCage(job, cage, choice);
    }
};
INSTANTIATE_TEST_SUITE_P(Jobs, ExportDemo, testing::Values("hillclimb_saloon", "mile_pickup"),
                         [](const auto& it) { return std::string(it.param); });

[[maybe_unused]] double triangleVolume(const Vec3& a, const Vec3& b, const Vec3& c) {
    return a.dot(b.cross(c)) / 6;
}

// Khronos, glTF 2.0, 4.4: the header, then a JSON chunk, then a binary one, all of multiples of four bytes.
TEST_P(ExportDemo, GlbIsTwoChunksWhoseLengthsAddUp) {
    const QByteArray bytes = made(ExportFormat::glb).bytes;
    const auto number = [&](qsizetype at) {
        unsigned value = 0;
        for (qsizetype i = 3; i >= 0; --i) value = value << 8 | static_cast<unsigned char>(bytes[at + i]);
        return value;
    };
    EXPECT_EQ(bytes.left(4), "glTF");
    EXPECT_EQ(number(4), 2u);
    EXPECT_EQ(number(8), bytes.size());
    const unsigned json = number(12);
    EXPECT_EQ(bytes.mid(16, 4), "JSON");
    EXPECT_EQ(json % 4, 0u);
    EXPECT_EQ(number(20 + json) + 28 + json, bytes.size());
    const QJsonObject top = QJsonDocument::fromJson(bytes.mid(20, json)).object();
    EXPECT_EQ(top["asset"].toObject()["version"].toString(), QStringLiteral("2.0"));
    std::map<std::string, QJsonObject> extras;
    for (const auto& node : top["nodes"].toArray()) {
        const QJsonObject of = node.toObject()["extras"].toObject();
        if (of.contains("id")) extras[of["id"].toString().toStdString()] = of;
    }
    for (const ResolvedMember& member : cage.members) {
        ASSERT_TRUE(extras.contains(member.id)) << member.id;
        EXPECT_EQ(extras[member.id]["od_mm"].toDouble(), member.section.od_mm);
        EXPECT_EQ(extras[member.id]["developed_mm"].toDouble(), member.line.length_mm());
    }
}

#ifdef HOOPWRIGHT_ASSIMP
TEST_P(ExportDemo, GlbReadsBackWithNamesVolumesAndSmoothNormals) {
    const CageExport made = this->made(ExportFormat::glb);
    Assimp::Importer importer;
    const aiScene* scene =
        importer.ReadFileFromMemory(made.bytes.constData(), static_cast<std::size_t>(made.bytes.size()),
                                    aiProcess_ValidateDataStructure, "glb");
    ASSERT_TRUE(scene) << importer.GetErrorString();
    std::map<std::string, const aiMesh*> meshes;
    for (unsigned i = 0; i < scene->mNumMeshes; ++i)
        meshes[scene->mMeshes[i]->mName.C_Str()] = scene->mMeshes[i];
    std::map<std::string, const ExportedPiece*> pieces;
    for (const ExportedPiece& piece : made.pieces) pieces[piece.name] = &piece;
    for (const ResolvedMember& member : cage.members) {
        const aiMesh* mesh = meshes[member.name];
        ASSERT_TRUE(mesh) << member.name;
        EXPECT_EQ(mesh->mNumFaces, pieces[member.name]->triangles);
        const auto at = [&](unsigned i) -> Vec3 {
            const aiVector3D& p = mesh->mVertices[i];
            return Vec3(p.z, p.x, p.y) * 1000;  // back to the car's axes
        };
        double volume = 0;
        Box box;
        for (unsigned i = 0; i < mesh->mNumFaces; ++i) {
            const unsigned* corner = mesh->mFaces[i].mIndices;
            const Vec3 origin = member.line.start();
            volume += triangleVolume(at(corner[0]) - origin, at(corner[1]) - origin, at(corner[2]) - origin);
        }
        for (unsigned i = 0; i < mesh->mNumVertices; ++i) {
            box.extend(at(i));
            EXPECT_NEAR(mesh->mNormals[i].Length(), 1, 1e-5);
        }
        // Chords of 48 sides lose 1 - sin(t)/t, t a 48th of a turn: 0.3 % of every cross-section.
        const double t = 2 * std::numbers::pi / 48, want = pieces[member.name]->volume_mm3 * std::sin(t) / t;
        EXPECT_NEAR(volume, want, 2e-3 * want) << member.name;
        EXPECT_TRUE(box.contains(member.line.point(member.line.length_mm() / 2)));
    }
    EXPECT_EQ(scene->mRootNode->mName.C_Str(), job.cage.name);
    // Beads lie round the ends of their tubes: no farther out than their leg, and a corner's worth of slope.
    for (const ResolvedMember& member : cage.members) {
        const aiMesh* mesh = meshes[member.name + ", welds"];
        ASSERT_TRUE(mesh) << member.name;
        EXPECT_STREQ(scene->mMaterials[mesh->mMaterialIndex]->GetName().C_Str(), "Weld");
        const Vec3 from = member.line.start(), to = member.line.end(), first = member.line.tangent(0),
                   last = member.line.tangent(member.line.length_mm());
        for (unsigned i = 0; i < mesh->mNumVertices; ++i) {
            const aiVector3D& p = mesh->mVertices[i];
            const Vec3 at = Vec3(p.z, p.x, p.y) * 1000;
            const double off = std::min((at - from).cross(first).norm(), (at - to).cross(last).norm());
            ASSERT_LT(off, member.radius_mm() + 10) << member.name;
            ASSERT_GT(off, member.radius_mm() - 2) << member.name;
        }
    }
}
#endif

#ifdef HOOPWRIGHT_DXFLIB
/// What dxflib 3.26 finds in a DXF.
class FoundInDxf : public DL_CreationAdapter {
public:
    struct Length {
        double mm = 0;
        int count = 0;
    };
    std::map<std::string, Length> by_layer;
    std::vector<Vec3> arc_ends;
    struct Words {
        std::string words;
        Vec2 corner, size;
    };
    std::vector<Words> words;
    int circles = 0, vertices = 0;

    void addLine(const DL_LineData& line) override {
        add((Vec3(line.x2, line.y2, line.z2) - Vec3(line.x1, line.y1, line.z1)).norm());
    }
    void addArc(const DL_ArcData& arc) override {
        const double turn = std::fmod(arc.angle2 - arc.angle1 + 720, 360) * std::numbers::pi / 180;
        add(arc.radius * turn);
        const double* e = getExtrusion()->getDirection();
        const Vec3 n(e[0], e[1], e[2]);
        const bool upright = std::abs(n.x()) < 1.0 / 64 && std::abs(n.y()) < 1.0 / 64;
        const Vec3 x = (upright ? Vec3(Vec3::UnitY()) : Vec3(Vec3::UnitZ())).cross(n).normalized(),
                   y = n.cross(x);
        for (const double angle : {arc.angle1, arc.angle2}) {
            const double a = angle * std::numbers::pi / 180;
            arc_ends.push_back(arc.cx * x + arc.cy * y + arc.cz * n +
                               arc.radius * (std::cos(a) * x + std::sin(a) * y));
        }
    }
    void addCircle(const DL_CircleData&) override { ++circles; }
    void addVertex(const DL_VertexData&) override { ++vertices; }
    void addText(const DL_TextData& text) override {
        // As wide as it may come out: each letter as wide as it is high.
        words.push_back({text.text,
                         {text.ipx, text.ipy},
                         {static_cast<double>(text.text.size()) * text.height, text.height}});
    }

private:
    void add(double mm) {
        Length& length = by_layer[getAttributes().getLayer()];
        length.mm += mm;
        ++length.count;
    }
};
#endif

#ifdef HOOPWRIGHT_DXFLIB
TEST_P(ExportDemo, DxfReadsBackWithTheLengthOfEveryBar) {
    std::stringstream text(made(ExportFormat::dxf).bytes.toStdString());
    FoundInDxf found;
    DL_Dxf dxf;
    ASSERT_TRUE(dxf.in(text, &found));
    std::vector<Vec3> ends;
    for (const ResolvedMember& member : cage.members) {
        std::string layer = "3D_" + member.id;
        for (char& c : layer)
            c = c == '.' ? '_' : static_cast<char>(std::toupper(static_cast<unsigned char>(c)));
        EXPECT_NEAR(found.by_layer[layer].mm, member.line.length_mm(), 1e-4) << layer;
        EXPECT_EQ(found.by_layer[layer].count, static_cast<int>(member.line.pieces().size()));
        for (const Piece& piece : member.line.pieces())
            if (piece.kind == Piece::Kind::bend) ends.insert(ends.end(), {piece.start, piece.end()});
    }
    ASSERT_EQ(found.arc_ends.size(), ends.size());
    for (std::size_t i = 0; i < ends.size(); ++i) EXPECT_LT((found.arc_ends[i] - ends[i]).norm(), 1e-4);
    ASSERT_EQ(found.words.size(), 3 * cage.members.size() + 3);
    EXPECT_GT(found.vertices, 100);
    for (std::size_t i = 0; i < found.words.size(); ++i) {
        const auto& one = found.words[i];
        for (std::size_t j = i + 1; j < found.words.size(); ++j) {
            const auto& other = found.words[j];
            const Vec2 from = one.corner.cwiseMax(other.corner);
            const Vec2 to = (one.corner + one.size).cwiseMin(other.corner + other.size);
            EXPECT_FALSE(to.x() - from.x() > 1e-6 && to.y() - from.y() > 1e-6)
                << one.words << " over " << other.words;
        }
    }
}
#endif

TEST_P(ExportDemo, TablesHaveARowForEachThing) {
    std::map<CageTable, std::size_t> rows;
    for (const CageTable table : allCageTables()) rows[table] = made(ExportFormat::csv, table).rows;
    EXPECT_EQ(rows[CageTable::bars], cage.members.size());
    EXPECT_EQ(rows[CageTable::joints], cage.joints.size());
    EXPECT_EQ(rows[CageTable::bends], static_cast<std::size_t>(cage.totals.bends));
    EXPECT_EQ(rows[CageTable::points],
              2 * cage.members.size() + 3 * static_cast<std::size_t>(cage.totals.bends));
    EXPECT_EQ(rows[CageTable::plates], cage.plates.size() + cage.gussets.size());
}

TEST_P(ExportDemo, APieceWeighsWhatItsFinishedLengthDoes) {
    const CageExport made = this->made(ExportFormat::csv);
    double tubes = 0;
    for (const ExportedPiece& piece : made.pieces) {
        if (piece.kind != "tube") continue;
        const ResolvedMember& member = cage.members[static_cast<std::size_t>(cage.member(piece.id))];
        const double to_middles = member.section.area_mm2() * member.line.length_mm();
        EXPECT_LT(piece.volume_mm3, to_middles + 1e-6) << "its ends are inside its hosts";
        EXPECT_GT(piece.volume_mm3, 0.8 * to_middles);
        EXPECT_NEAR(piece.mass_kg, piece.volume_mm3 * 7850e-9, 1e-5 * piece.mass_kg) << piece.id;
        EXPECT_EQ(piece.mass_kg, member.mass_kg) << "it weighs one thing everywhere";
        tubes += piece.mass_kg;
    }
    EXPECT_NEAR(tubes, cage.totals.tube_mass_kg, 1e-9);
}

TEST_P(ExportDemo, StoppedWorkGivesNothing) {
    ExportChoice choice{ExportFormat::step};
    const CageExport stopped =
        exportCage(job, cage, choice, [](int done, int, std::string_view) { return done < 3; });
    EXPECT_TRUE(stopped.stopped);
    EXPECT_TRUE(stopped.bytes.isEmpty());
}

}  // namespace
}  // namespace hoopwright
