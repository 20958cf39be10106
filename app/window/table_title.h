// What class tables and other files call themselves, for menus and lists that name many without reading them
// whole.
#pragma once

#include <QString>
#include <filesystem>
#include <vector>

namespace hoopwright {

/// The `title:` of its first lines, with the signs of print; the file's name where there is none.
QString tableTitle(const std::filesystem::path& file);

/// The `name:` of a car, a driver, stock, dies or a shop's book; the file's name where there is none.
QString nameInFile(const std::filesystem::path& file);
/// Those of one name with the file's behind it, so that they can be told apart.
std::vector<QString> namesApart(const std::vector<std::filesystem::path>& files,
                                QString (*name_of)(const std::filesystem::path&));

}  // namespace hoopwright
