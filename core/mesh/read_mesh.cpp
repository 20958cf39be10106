#include "core/mesh/read_mesh.h"

#include <fstream>
#include <new>

#include "core/mesh/mesh_readers.h"

namespace hoopwright {
namespace reading {
namespace {

char lower(char c) {
    return c >= 'A' && c <= 'Z' ? static_cast<char>(c - 'A' + 'a') : c;
}

template <class Read>
MeshResult caught(const std::string& name, Read read) {
    MeshResult result;
    try {
        result.value = read();
    } catch (const Trouble& trouble) {
        result.problem = trouble.problem;
    } catch (const Stopped&) {
        result.stopped = true;
    } catch (const std::bad_alloc&) {
        result.problem =
            Problem{{name, 0, 0}, "the scan does not fit into memory", "thin it where it was made"};
    }
    return result;
}

ReadMesh readKind(MeshBytes& bytes, MeshKind kind) {
    if (bytes.size() == 0)
        throw Trouble{{{bytes.name(), 0, 0}, "the file is empty", "export the scan again"}};
    switch (kind) {
        case MeshKind::obj:
            return readObj(bytes);
        case MeshKind::ply:
            return readPly(bytes);
        case MeshKind::stl:
            break;
    }
    return readStl(bytes);
}

std::optional<MeshKind> kindOf(const std::filesystem::path& file) {
    const std::string end = file.extension().string();
    if (says(end, ".stl")) return MeshKind::stl;
    if (says(end, ".obj")) return MeshKind::obj;
    if (says(end, ".ply")) return MeshKind::ply;
    return std::nullopt;
}

}  // namespace

bool says(std::string_view word, std::string_view said) {
    if (word.size() != said.size()) return false;
    for (std::size_t i = 0; i < word.size(); ++i)
        if (lower(word[i]) != said[i]) return false;
    return true;
}

}  // namespace reading

std::string_view formatWords(MeshFormat format) {
    switch (format) {
        case MeshFormat::stl_text:
            return "STL, text";
        case MeshFormat::obj:
            return "OBJ";
        case MeshFormat::ply_text:
            return "PLY, text";
        case MeshFormat::ply_little_endian:
            return "PLY, binary, little-endian";
        case MeshFormat::ply_big_endian:
            return "PLY, binary, big-endian";
        case MeshFormat::stl_binary:
            break;
    }
    return "STL, binary";
}

MeshResult readMeshBytes(std::string_view given, MeshKind kind, const std::string& name) {
    return reading::caught(name, [&] {
        reading::MeshBytes bytes(given, name);
        return reading::readKind(bytes, kind);
    });
}

MeshResult readMesh(const std::filesystem::path& file, const Progress& progress) {
    const std::string name = file.string();
    return reading::caught(name, [&]() -> ReadMesh {
        const auto refuse = [&](const std::string& what, const std::string& remedy) {
            throw reading::Trouble{{{name, 0, 0}, what, remedy}};
        };
        const std::optional<MeshKind> kind = reading::kindOf(file);
        if (!kind) refuse("this is no kind of scan the program reads", "export it as .stl, .obj or .ply");
        std::error_code failed;
        if (!std::filesystem::is_regular_file(file, failed))
            refuse("there is no such file", "name the scan to read");
        const std::uintmax_t size = std::filesystem::file_size(file, failed);
        std::ifstream stream(file, std::ios::binary);
        if (failed || !stream) refuse("the file cannot be opened", "allow reading it");
        reading::MeshBytes bytes(stream, size, name, progress);
        return reading::readKind(bytes, *kind);
    });
}

}  // namespace hoopwright
