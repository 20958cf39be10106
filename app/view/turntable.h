// Once round the car: where it is seen from all the way, and the files that are made of it.
#pragma once

#include <filesystem>
#include <optional>

#include "app/view/picture.h"
#include "core/base/problem.h"

namespace hoopwright {

inline constexpr int kFewestFrames = 2, kMostFrames = 720;
inline constexpr double kTurn_s = 6;  ///< an animated file takes so long once round

/// The same way of looking, at the middle of the box, so far off that in a picture of that size nothing of
/// the box is out of it in any of `steps` even steps once round. An empty box: `from` itself.
View standBack(const View& from, const Box& bounds, int width_px, int height_px, int steps);

/// What is written; an empty path: not that. The folder is made where there is none, and holds frame_001.png
/// and on.
struct TurntableFiles {
    std::filesystem::path animated, folder;
};
/// Draws `frames` pictures once round and writes them: all files whole, or none, nor a folder made for them.
/// The problem is one of a place, or, without a file, says what is wrong with the options, what the machine
/// lacks, or that `progress` wanted no more. @pre frames >= 1
std::optional<Problem> writeTurntable(const Job& job, const CageGeometry& cage, const PictureOptions& options,
                                      int frames, const TurntableFiles& files,
                                      const WorkProgress& progress = {});

}  // namespace hoopwright
