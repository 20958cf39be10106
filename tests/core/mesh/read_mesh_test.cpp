// Scans read back as written; damaged ones end in a sentence with the place.
#include "core/mesh/read_mesh.h"

#include <gmock/gmock.h>

#include <cmath>
#include <cstring>
#include <filesystem>
#include <fstream>
#include <limits>

#include "tests/core/mesh/made_scan.h"
#include "tests/core/mesh/mesh_files.h"

namespace hoopwright {
namespace {

using testing::AllOf;
using testing::HasSubstr;

/// A mesh whose coordinates a float holds.
TriangleMesh smallScan() {
    return inFloats(madeScan(4, 5));
}

std::string problemOf(const std::string& bytes, MeshKind kind) {
    const MeshResult result = readMeshBytes(bytes, kind, "scan");
    EXPECT_FALSE(result.value);
    EXPECT_FALSE(result.stopped);
    return result.problem ? result.problem->text() : "nothing wrong";
}
std::string stlProblem(const std::string& bytes) {
    return problemOf(bytes, MeshKind::stl);
}
std::string objProblem(const std::string& bytes) {
    return problemOf(bytes, MeshKind::obj);
}
std::string plyProblem(const std::string& bytes) {
    return problemOf(bytes, MeshKind::ply);
}

std::string with(std::string text, const std::string& what, const std::string& by) {
    const auto at = text.find(what);
    EXPECT_NE(at, std::string::npos) << what;
    return text.replace(at, what.size(), by);
}

void expectSame(const MeshResult& read, const TriangleMesh& mesh, MeshFormat format) {
    ASSERT_TRUE(read.value) << read.problem->text();
    EXPECT_EQ(read.value->format, format);
    ASSERT_EQ(read.value->mesh.triangles.size(), mesh.triangles.size());
    EXPECT_EQ(read.value->mesh.vertices.size(), mesh.vertices.size());
    EXPECT_EQ(read.value->dropped, 0u);
    EXPECT_EQ(read.value->fanned, 0u);
    EXPECT_EQ(read.value->edges.open, countEdges(mesh).open);
    for (std::size_t i = 0; i < mesh.triangles.size(); ++i)
        for (std::size_t k = 0; k < 3; ++k)
            EXPECT_EQ(read.value->mesh.vertices[read.value->mesh.triangles[i][k]],
                      mesh.vertices[mesh.triangles[i][k]]);
}

TEST(ReadMesh, EveryKindReadsBackAsWritten) {
    const TriangleMesh mesh = smallScan();
    expectSame(readMeshBytes(stlBinary(mesh), MeshKind::stl, "a"), mesh, MeshFormat::stl_binary);
    expectSame(readMeshBytes(stlText(mesh), MeshKind::stl, "a"), mesh, MeshFormat::stl_text);
    expectSame(readMeshBytes(objText(mesh), MeshKind::obj, "a"), mesh, MeshFormat::obj);
    expectSame(readMeshBytes(plyFile(mesh, PlyForm::text), MeshKind::ply, "a"), mesh, MeshFormat::ply_text);
    expectSame(readMeshBytes(plyFile(mesh, PlyForm::little_endian), MeshKind::ply, "a"), mesh,
               MeshFormat::ply_little_endian);
    expectSame(readMeshBytes(plyFile(mesh, PlyForm::big_endian), MeshKind::ply, "a"), mesh,
               MeshFormat::ply_big_endian);
}

class OnDisk : public testing::Test {
protected:
    OnDisk() { std::filesystem::create_directory(folder_); }
    ~OnDisk() override { std::filesystem::remove_all(folder_); }
    std::filesystem::path write(const std::string& name, const std::string& bytes) const {
        std::ofstream(folder_ / name, std::ios::binary) << bytes;
        return folder_ / name;
    }
    std::filesystem::path folder_ =
        std::filesystem::temp_directory_path() /
        ("hoopwright_mesh_" + std::to_string(testing::UnitTest::GetInstance()->random_seed()) + "_" +
         testing::UnitTest::GetInstance()->current_test_info()->name());
};

TEST_F(OnDisk, FilesOfManyBlocksReadLikeMemoryAndTellHowFarTheyAre) {
    // 2.4 MB and more: words and rows lie across the ends of blocks.
    const TriangleMesh mesh = inFloats(madeScan(150, 160));
    const std::pair<std::string, std::string> files[] = {
        {"a.stl", stlBinary(mesh)},
        {"b.STL", stlText(mesh)},
        {"c.obj", objText(mesh)},
        {"d.ply", plyFile(mesh, PlyForm::text)},
        {"e.Ply", plyFile(mesh, PlyForm::big_endian)},
    };
    for (const auto& [name, bytes] : files) {
        std::vector<double> told;
        const MeshResult read = readMesh(write(name, bytes), [&](double done) {
            told.push_back(done);
            return true;
        });
        ASSERT_TRUE(read.value) << name << ": " << read.problem->text();
        EXPECT_EQ(read.value->mesh.triangles.size(), mesh.triangles.size()) << name;
        EXPECT_EQ(read.value->mesh.vertices.size(), mesh.vertices.size()) << name;
        EXPECT_EQ(read.value->mesh.vertices.back(), mesh.vertices.back()) << name;
        ASSERT_GE(told.size(), 2u) << name;
        EXPECT_TRUE(std::is_sorted(told.begin(), told.end())) << name;
        EXPECT_LE(told.back(), 1) << name;
        const MeshResult stopped = readMesh(folder_ / name, [&](double done) { return done < 0.3; });
        EXPECT_TRUE(stopped.stopped) << name;
        EXPECT_FALSE(stopped.value || stopped.problem) << name;
    }
}

TEST_F(OnDisk, NoFileNoSuchKindAndAFolderAreSaid) {
    EXPECT_THAT(readMesh(folder_ / "none.stl").problem->text(), HasSubstr("no such file"));
    EXPECT_THAT(readMesh(write("scan.e57", "x")).problem->text(), HasSubstr(".stl, .obj or .ply"));
    EXPECT_THAT(readMesh(write("empty.ply", "")).problem->text(), HasSubstr("empty"));
    std::filesystem::create_directory(folder_ / "folder.stl");
    EXPECT_THAT(readMesh(folder_ / "folder.stl").problem->text(), HasSubstr("no such file"));
}

TEST(ReadStl, ATruncatedBinaryIsNeverHalfRead) {
    const std::string bytes = stlBinary(smallScan());
    EXPECT_THAT(stlProblem(bytes.substr(0, bytes.size() - 13 * 50)),
                AllOf(HasSubstr("byte 80"), HasSubstr("40 triangles"), HasSubstr("cut short")));
    EXPECT_THAT(stlProblem(bytes + "x"), HasSubstr("byte 80"));
    EXPECT_THAT(stlProblem(bytes.substr(0, 40)), HasSubstr("too short"));
}

TEST(ReadStl, ANumberThatIsNoneIsNamedByItsByte) {
    for (const float bad :
         {std::numeric_limits<float>::quiet_NaN(), -std::numeric_limits<float>::infinity(), 3e9f}) {
        std::string bytes = stlBinary(smallScan());
        std::string number;
        putBytes(number, bad);
        bytes.replace(84 + 50 * 7 + 12 + 12 + 4, 4, number);
        EXPECT_THAT(stlProblem(bytes), AllOf(HasSubstr("byte 462"), HasSubstr("triangle 8")));
    }
}

TEST(ReadStl, WhatIsWrongInATextHasLineAndColumn) {
    const std::string text = stlText(smallScan());
    EXPECT_THAT(
        stlProblem(with(text, "vertex ", "vertex 1,5 ")),
        AllOf(HasSubstr("scan:4:14"), HasSubstr("'1,5' is not a number"), HasSubstr("decimal points")));
    EXPECT_THAT(stlProblem(with(text, "vertex ", "vertex nan ")), HasSubstr("scan:4:14: 'nan' is no place"));
    EXPECT_THAT(stlProblem(with(text, "vertex ", "vertex -inf ")), HasSubstr("'-inf' is no place"));
    EXPECT_THAT(stlProblem(with(text, "vertex ", "vertex 1e300 ")), HasSubstr("farther out"));
    EXPECT_THAT(stlProblem(with(text, "endloop", "endlop")),
                HasSubstr("scan:7:5: 'endlop' stands where 'endloop' should"));
    EXPECT_THAT(stlProblem(with(text, "outer", "facet")), HasSubstr("'outer'"));
    EXPECT_THAT(stlProblem(text.substr(0, text.size() - 40)), HasSubstr("cut short"));
    EXPECT_THAT(stlProblem("solid x\nendsolid x\n"), HasSubstr("no triangles"));
    EXPECT_THAT(stlProblem("solid x\n" + std::string(5000, 'a')), HasSubstr("more than 4096 letters"));
    EXPECT_THAT(stlProblem(std::string(200, 'a')), HasSubstr("byte 80"));
}

TEST(ReadStl, LargeLettersSeveralSolidsAndStrangeNormalsAreRead) {
    const TriangleMesh mesh = smallScan();
    std::string text = stlText(mesh);
    text = with(text, "normal 0 0 1", "normal nan -nan(ind) 0");
    text = with(text, "facet", "FACET");
    text = with(text, "vertex ", "Vertex ");
    const MeshResult read = readMeshBytes(text + "\r\n\t", MeshKind::stl, "a");
    EXPECT_TRUE(read.value);
    EXPECT_TRUE(readMeshBytes("v +0 +1.5E+2 2\nv 1 0 0\nv 0 1 1e-400\nf 1 2 3\n", MeshKind::obj, "a").value);
    const MeshResult twice = readMeshBytes(stlText(mesh) + stlText(mesh), MeshKind::stl, "a");
    ASSERT_TRUE(twice.value);
    EXPECT_EQ(twice.value->mesh.triangles.size(), 2 * mesh.triangles.size());
    EXPECT_EQ(twice.value->mesh.vertices.size(), mesh.vertices.size());
    EXPECT_EQ(twice.value->edges.open, 0u);
    EXPECT_GT(twice.value->edges.shared_by_more, 0u);  // inner edges now belong to four
}

TEST(ReadMesh, TrianglesWithoutAnAreaAreDroppedAndSaid) {
    TriangleMesh mesh = smallScan();
    mesh.triangles.push_back({3, 3, 7});
    mesh.triangles.push_back({1, 2, 1});
    for (const MeshResult& read : {readMeshBytes(stlBinary(mesh), MeshKind::stl, "a"),
                                   readMeshBytes(objText(mesh), MeshKind::obj, "a"),
                                   readMeshBytes(plyFile(mesh, PlyForm::text), MeshKind::ply, "a")}) {
        ASSERT_TRUE(read.value);
        EXPECT_EQ(read.value->dropped, 2u);
        EXPECT_EQ(read.value->mesh.triangles.size(), mesh.triangles.size() - 2);
    }
    mesh.triangles = {{3, 3, 7}};
    EXPECT_THAT(stlProblem(stlBinary(mesh)), HasSubstr("two corners in one place"));
}

TEST(ReadObj, FacesOfManyCornersAreFannedAndNegativeNumbersCountBack) {
    const MeshResult read = readMeshBytes(
        "v 0 0 0\nv 1 0 0 1.0\nv 1 1 0 0.5 0.5 0.5\nvt 0 0\nv 0 1 0\ng side\nusemtl none\nf 1/1 2/1 3/1 \\\n "
        "4/1\nf -1 -2 -3 # back\n",
        MeshKind::obj, "a");
    ASSERT_TRUE(read.value) << read.problem->text();
    EXPECT_EQ(read.value->fanned, 1u);
    ASSERT_EQ(read.value->mesh.triangles.size(), 3u);
    EXPECT_EQ(read.value->mesh.triangles[2], (Corners{3, 2, 1}));
}

TEST(ReadObj, WhatIsWrongHasLineAndColumn) {
    const std::string points = "v 0 0 0\nv 1 0 0\nv 0 1 0\n";
    EXPECT_THAT(objProblem(points + "f 1 2 4\n"),
                AllOf(HasSubstr("scan:4:7: '4' asks for a point"), HasSubstr("3 stand")));
    EXPECT_THAT(objProblem(points + "f 1 2 0\n"), HasSubstr("'0' is no number of a point"));
    EXPECT_THAT(objProblem(points + "f 1 2 -4\n"), HasSubstr("'-4' asks"));
    EXPECT_THAT(objProblem(points + "f 1 2 9999999999999999999999\n"), HasSubstr("no number of a point"));
    EXPECT_THAT(objProblem("f 1 2 3\n" + points), HasSubstr("0 stand before"));
    EXPECT_THAT(objProblem(points + "f 1 2\n"), HasSubstr("a face of 2 corners"));
    EXPECT_THAT(objProblem("v 0 0\nv 1 1 1\n"), HasSubstr("scan:1:6: a number is missing"));
    EXPECT_THAT(objProblem("v 0 0,5 1\n"), HasSubstr("decimal points"));
    EXPECT_THAT(objProblem(points), HasSubstr("points but no triangles"));
    EXPECT_THAT(objProblem("garbage\n"), HasSubstr("'garbage' is no line of an OBJ file"));
    EXPECT_THAT(objProblem(std::string("\x01\x02\xff  zz\n")), HasSubstr("?' is no line"));
}

TEST(ReadPly, AHeadThatLiesIsFoundBeforeRoomIsMade) {
    const std::string text = plyFile(smallScan(), PlyForm::text);
    EXPECT_THAT(plyProblem(with(text, "vertex 30", "vertex 4000000000")),
                AllOf(HasSubstr("scan:4"), HasSubstr("too short")));
    EXPECT_THAT(plyProblem(with(text, "face 40", "face 18446744073709551615")), HasSubstr("too short"));
    EXPECT_THAT(plyProblem(with(text, "face 40", "face 41")), HasSubstr("row 41"));
    EXPECT_THAT(plyProblem(with(text, "vertex 30", "vertex 29")), HasSubstr("is no whole number"));
    EXPECT_THAT(plyProblem(with(text, " 128\n", " 128 7\n")), HasSubstr("'7' is more than the head says"));
    EXPECT_THAT(plyProblem(with(text, "vertex 30", "vertex -3")), HasSubstr("'-3' is no count"));
    const std::string binary = plyFile(smallScan(), PlyForm::little_endian);
    EXPECT_THAT(plyProblem(with(binary, "vertex 30", "vertex 99")), HasSubstr("too short"));
    EXPECT_THAT(plyProblem(binary.substr(0, binary.size() - 1)),
                AllOf(HasSubstr("byte "), HasSubstr("row 40"), HasSubstr("cut short")));
    std::string head = "ply\nformat ascii 1.0\n";
    for (int i = 0; i < 2000; ++i) head += "comment\n";
    EXPECT_THAT(plyProblem(head), HasSubstr("more than 1000 lines"));
}

TEST(ReadPly, WhatIsWrongIsSaid) {
    const std::string text = plyFile(smallScan(), PlyForm::text);
    EXPECT_THAT(plyProblem(with(text, "ascii", "binary_middle_endian")), HasSubstr("scan:2:8"));
    EXPECT_THAT(plyProblem(with(text, "property double y", "property double v")), HasSubstr("no 'y'"));
    EXPECT_THAT(plyProblem(with(text, "property double y", "property list uchar double y")),
                HasSubstr("no 'y'"));
    EXPECT_THAT(plyProblem(with(text, "double x", "quad x")), HasSubstr("'quad' is no type"));
    EXPECT_THAT(plyProblem(with(text, "list uchar int", "list float int")), HasSubstr("not a whole number"));
    EXPECT_THAT(plyProblem(with(text, "list uchar int", "list uchar float")),
                HasSubstr("no list 'vertex_indices'"));
    EXPECT_THAT(plyProblem(with(text, "element face", "element vertex")), HasSubstr("stands twice"));
    EXPECT_THAT(plyProblem(with(text, "comment made up", "remark made up")),
                HasSubstr("'remark' is no line"));
    EXPECT_THAT(plyProblem(with(text, "\n3 0 6 7\n", "\n3 0 6 30\n")),
                HasSubstr("asks for point 30; there are 30"));
    EXPECT_THAT(plyProblem(with(text, "\n3 0 6 7\n", "\n3 0 6 -1\n")), HasSubstr("asks for point -1"));
    EXPECT_THAT(plyProblem(with(text, "\n3 0 6 7\n", "\n2 0 6\n")), HasSubstr("face 1 has 2 corners"));
    EXPECT_THAT(plyProblem(with(text, "\n3 0 6 7\n", "\n3 0 6\n")), HasSubstr("the line ends before"));
    EXPECT_THAT(plyProblem(with(text, "\n3 0 6 7\n", "\n3 0 6,0 7\n")),
                HasSubstr("'6,0' is no whole number"));
    EXPECT_THAT(plyProblem("ply\nelement vertex 0\nend_header\n"), HasSubstr("no 'format'"));
    EXPECT_THAT(plyProblem("ply\nformat ascii 1.0\nelement x 5\nend_header\n"), HasSubstr("no properties"));
    EXPECT_THAT(plyProblem("ply\nformat ascii 1.0\nproperty int x\n"), HasSubstr("before any element"));
    EXPECT_THAT(plyProblem("ply\nformat ascii 1.0\n"), HasSubstr("ends in its head"));
    EXPECT_THAT(plyProblem("plyx"), HasSubstr("does not begin with 'ply'"));
    std::string binary = plyFile(smallScan(), PlyForm::big_endian), nan;
    putBytes(nan, std::numeric_limits<double>::quiet_NaN(), true);
    const auto body = binary.find("end_header\n") + 11;
    EXPECT_THAT(plyProblem(binary.replace(body + 25 * 3 + 8, 8, nan)),
                AllOf(HasSubstr("byte " + std::to_string(body + 83)), HasSubstr("'y' of point 4")));
}

TEST(ReadPly, PointsWithoutFacesAreToldFromAnEmptyFile) {
    EXPECT_THAT(
        plyProblem(
            "ply\nformat ascii 1.0\nelement vertex 1\nproperty float x\nproperty float y\nproperty float z\n"
            "end_header\n1 2 3\n"),
        HasSubstr("make a surface of the points"));
}

TEST(ReadPly, OtherElementsAndListsArePassedOver) {
    const MeshResult read = readMeshBytes(
        "ply\nformat ascii 1.0\nelement camera 1\nproperty list int float view\nelement vertex 4\nproperty "
        "float x\n"
        "property float y\nproperty float z\nproperty float confidence\nelement face 1\nproperty uchar "
        "flags\n"
        "property list uchar uint vertex_index\nend_header\n3 1 2 3\n0 0 0 1\n1 0 0 1\n1 1 0 1\n0 1 0 1\n7 4 "
        "0 1 2 3",
        MeshKind::ply, "a");
    ASSERT_TRUE(read.value) << read.problem->text();
    EXPECT_EQ(read.value->mesh.triangles.size(), 2u);
    EXPECT_EQ(read.value->fanned, 1u);
}

TEST(ReadMesh, FiftyMegabytesOfGarbageEndQuicklyInASentence) {
    std::mt19937_64 random(3);
    std::string garbage(50'000'000, '\0');
    for (std::size_t i = 0; i + 8 <= garbage.size(); i += 8) {
        const std::uint64_t bits = random();
        std::memcpy(garbage.data() + i, &bits, 8);
    }
    EXPECT_THAT(stlProblem(garbage), HasSubstr("byte 80"));
    objProblem(garbage);
    plyProblem(garbage);
    EXPECT_THAT(stlProblem("solid " + std::string(50'000'000, ' ')), HasSubstr("without 'endsolid'"));
    EXPECT_THAT(objProblem(std::string(50'000'000, '\n')), HasSubstr("no triangles"));
    EXPECT_THAT(objProblem("v" + std::string(50'000'000, ' ')), HasSubstr("a number is missing"));
}

}  // namespace
}  // namespace hoopwright
