// Words for the window that several pages need.
#pragma once

#include <QString>
#include <filesystem>

namespace hoopwright {

/// The first letter made a capital.
inline QString capital(const QString& words) {
    return words.left(1).toUpper() + words.mid(1);
}
/// A file's path as people read it.
inline QString shown(const std::filesystem::path& file) {
    return QString::fromStdString(file.generic_string());
}

}  // namespace hoopwright
