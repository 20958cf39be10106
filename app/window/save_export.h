// The cage for other programs, from the window.
#pragma once

class QWidget;

namespace hoopwright {

class Desk;

/// Asks for a file; how its name ends is the format. Written whole or not at all.
void saveExport(Desk& desk, QWidget* window);

}  // namespace hoopwright
