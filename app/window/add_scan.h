// Adding a scan to the car by hand: which file, and what becomes of one that lies elsewhere.
#pragma once

#include <filesystem>

#include "app/window/desk.h"

class QWidget;

namespace hoopwright {

/// Asks for a file.
void addScan(Desk& desk, QWidget* window);
/// The same for a file that was chosen: reads it, or says in a sentence why not and offers what can be done.
void addScanFile(Desk& desk, const std::filesystem::path& file, QWidget* window);

/// Asks for a place on the scan, then for the car point it is; with both, a pair is added to the scan.
void pickPair(Desk& desk, const std::string& scan);

}  // namespace hoopwright
