// The demo jobs as files a person may change.
#pragma once

#include <filesystem>

namespace hoopwright {

/// A demo's cage file to open: itself where its folder can be written to, else a copy in the person's own
/// data ($XDG_DATA_HOME/hoopwright/demo VERSION), made when it is not there yet.
std::filesystem::path demoToOpen(const std::filesystem::path& demo);

/// Copies the cages, cars, drivers and stock of the data folder a demo lies in to `to`, but for what is there
/// already; the class tables stay where they are. Returns the demo there; `demo` itself if that cannot be
/// done.
std::filesystem::path copyOfDemo(const std::filesystem::path& demo, const std::filesystem::path& to);

}  // namespace hoopwright
