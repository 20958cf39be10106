// A copy of the demo jobs that a test may write to.
#pragma once

#include <QTemporaryDir>
#include <filesystem>
#include <fstream>
#include <sstream>

#include "tests/core/edit/demo_job.h"

namespace hoopwright {

class DemoCopy {
public:
    DemoCopy() {
        std::filesystem::copy(std::filesystem::path(HOOPWRIGHT_SOURCE_DIR) / "data", root(),
                              std::filesystem::copy_options::recursive);
    }
    std::filesystem::path root() const {
        return std::filesystem::path(folder_.path().toStdString()) / "data";
    }
    std::filesystem::path saloon() const { return root() / "cages" / "hillclimb_saloon.yaml"; }
    std::filesystem::path pickup() const { return root() / "cages" / "mile_pickup.yaml"; }

private:
    QTemporaryDir folder_;
};

inline std::string contents(const std::filesystem::path& file) {
    std::ifstream in(file, std::ios::binary);
    std::ostringstream all;
    all << in.rdbuf();
    return all.str();
}

}  // namespace hoopwright
