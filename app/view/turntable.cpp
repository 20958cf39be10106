#include "app/view/turntable.h"

#include <algorithm>
#include <cmath>
#include <numbers>
#include <vector>

#include "app/view/animated_png.h"
#include "app/view/picture_pair.h"
#include "core/base/whole_file.h"

namespace fs = std::filesystem;

namespace hoopwright {
namespace {

std::string_view viewOfPng(const QByteArray& bytes) {
    return {bytes.constData(), static_cast<std::size_t>(bytes.size())};
}

std::string frameName(int number) {
    const std::string digits = std::to_string(number);
    return "frame_" + std::string(3 - std::min<std::size_t>(3, digits.size()), '0') + digits + ".png";
}

/// All are open, or the first trouble.
std::optional<Problem> troubleOf(const std::vector<WholeFile>& files) {
    for (const WholeFile& file : files)
        if (file.problem()) return file.problem();
    return std::nullopt;
}

std::optional<Problem> drawInto(const Job& job, const CageGeometry& cage, const PictureOptions& options,
                                int frames, const TurntableFiles& files, const WorkProgress& progress) {
    std::vector<WholeFile> singles, all;
    if (!files.folder.empty())
        for (int i = 0; i < frames; ++i) singles.emplace_back(files.folder / frameName(i + 1));
    if (!files.animated.empty()) all.emplace_back(files.animated);
    for (const auto* some : {&singles, &all})
        if (auto trouble = troubleOf(*some)) return trouble;
    std::optional<AnimatedPng> turn;
    if (!files.animated.empty())
        turn.emplace(frames, std::max(1, static_cast<int>(std::lround(frames / kTurn_s))));
    const auto give = [&](int index, const QImage& image) {
        if (turn) turn->add(image);
        if (!singles.empty()) singles[static_cast<std::size_t>(index)].write(viewOfPng(pngOf(image)));
    };
    if (const auto reason = turnRound(job, cage, options, frames, give, progress))
        return Problem{{}, reason->text, {}};
    if (turn) all[0].write(viewOfPng(turn->take()));
    std::move(singles.begin(), singles.end(), std::back_inserter(all));
    return commitAll(all);
}

}  // namespace

View standBack(const View& from, const Box& bounds, int width_px, int height_px, int steps) {
    if (bounds.isEmpty()) return from;
    View view = from;
    const auto allIn = [&](const View& each) {
        for (int i = 0; i < 8; ++i) {
            const Vec3 p = each.project(bounds.corner(static_cast<Box::CornerType>(i)), width_px, height_px);
            if (p.z() <= 0 || p.x() < 0 || p.x() > width_px || p.y() < 0 || p.y() > height_px) return false;
        }
        return true;
    };
    const auto allTheWay = [&] {
        for (int i = 0; i < steps; ++i)
            if (!allIn(view.orbited(2 * std::numbers::pi * i / steps, 0))) return false;
        return true;
    };
    // Near by, the foot of the car comes lower in the picture than its roof comes high.
    constexpr double kLower = 0.25, kStep = 1.03;
    const double lower = view.orthographic_height_mm > 0 ? 0 : kLower;
    const Vec3 arm = view.eye - view.target;
    double times = 0.5;
    do {
        times *= kStep;
        view.target = bounds.center() - lower * bounds.sizes().z() * Vec3::UnitZ();
        view.eye = view.target + times * arm;
        if (view.orthographic_height_mm > 0) view.orthographic_height_mm *= kStep;
    } while (times < 50 && !allTheWay());
    return view;
}

std::optional<Problem> writeTurntable(const Job& job, const CageGeometry& cage, const PictureOptions& options,
                                      int frames, const TurntableFiles& files, const WorkProgress& progress) {
    std::error_code failed;
    const bool made = !files.folder.empty() && fs::create_directories(files.folder, failed);
    const std::optional<Problem> problem = drawInto(job, cage, options, frames, files, progress);
    if (problem && made) fs::remove(files.folder, failed);  // only while it is empty
    return problem;
}

}  // namespace hoopwright
