// A table of one's own from one that is there.
#pragma once

#include <filesystem>
#include <string>

#include "core/base/problem.h"

namespace hoopwright {

struct TableCopy {
    std::filesystem::path file;  ///< of the copy; must not be there yet
    std::string id, title, written_by;
};
/// Writes the table under another id, title and name, every other byte as it is: comments too. Problems: the
/// id is none, the file is there already or cannot be written; then nothing is written.
Problems copyTable(const std::string& text, const TableCopy& copy);
/// The same from a file, problems or not in it.
Problems copyTableFile(const std::filesystem::path& from, const TableCopy& copy);

}  // namespace hoopwright
