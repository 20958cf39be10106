// Words that must stay on one line: cut where their room ends, and seen to be cut.
#pragma once

#include <QString>
#include <functional>
#include <string>

namespace hoopwright {

/// As many of the words as have room; what is cut off stands as "…". A single long word is cut between signs.
QString onOneLine(const QString& all, double room_mm, const std::function<double(const QString&)>& width_mm);
/// As a sheet sets them.
std::string onOneLine(const std::string& all, double points, bool strong, double room_mm);

}  // namespace hoopwright
