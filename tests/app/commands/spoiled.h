// Copies of the demo saloon with something changed, in a folder of a test's own.
#pragma once

#include <gtest/gtest.h>
#include <unistd.h>

#include <filesystem>
#include <fstream>
#include <sstream>
#include <stdexcept>
#include <string>

#include "tests/app/commands/run.h"

namespace hoopwright {

inline std::string textOf(const std::filesystem::path& file) {
    std::ifstream in(file, std::ios::binary);
    std::ostringstream text;
    text << in.rdbuf();
    return text.str();
}

/// The text with the first `from` replaced. Throws if it is not there: a test must spoil what it means to.
inline std::string with(std::string text, const std::string& from, const std::string& to) {
    const std::size_t at = text.find(from);
    if (at == std::string::npos) throw std::runtime_error("not in the file: " + from);
    return text.replace(at, from.size(), to);
}

class SpoiledFolder {
public:
    SpoiledFolder()
        : folder_(std::filesystem::path(testing::TempDir()) / ("spoiled_" + std::to_string(::getpid()))) {
        std::filesystem::create_directories(folder_);
    }
    ~SpoiledFolder() {
        std::error_code ignored;
        std::filesystem::remove_all(folder_, ignored);
    }
    SpoiledFolder(const SpoiledFolder&) = delete;
    SpoiledFolder& operator=(const SpoiledFolder&) = delete;

    std::string write(const std::string& name, const std::string& text) const {
        std::ofstream(folder_ / name, std::ios::binary) << text;
        return path(name);
    }
    std::string path(const std::string& name) const { return (folder_ / name).string(); }
    /// The saloon's cage file with the files it names found from here.
    static std::string cageText() {
        std::string text = textOf(kSaloon);
        for (std::size_t at = text.find("../"); at != std::string::npos; at = text.find("../", at + 1))
            text.replace(at, 3, dataFile(""));
        return text;
    }
    /// A cage of this folder with something changed.
    std::string cage(const std::string& from, const std::string& to) const {
        return write("cage.yaml", with(cageText(), from, to));
    }
    /// A cage of this folder whose stock list has something changed.
    std::string cageWithStock(const std::string& from, const std::string& to) const {
        write("stock.yaml", with(textOf(dataFile("stock/metric.yaml")), from, to));
        return cage(dataFile("stock/metric.yaml"), "stock.yaml");
    }

private:
    std::filesystem::path folder_;
};

}  // namespace hoopwright
