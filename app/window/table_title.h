// What a class table calls itself, for menus and lists that name many without reading them whole.
#pragma once

#include <QString>
#include <filesystem>

namespace hoopwright {

/// The `title:` of its first lines, with the signs of print; the file's name where there is none.
QString tableTitle(const std::filesystem::path& file);

}  // namespace hoopwright
