#include "core/files/scan_fields.h"

#include <filesystem>

namespace hoopwright {

Vec3 readScanPlace(const YamlValue& value) {
    const std::vector<YamlValue> parts = value.list();
    if (parts.size() != 3) {
        if (value.isList())
            value.problem("has " + std::to_string(parts.size()) + " numbers", "write three, as [x, y, z]");
        return Vec3::Zero();
    }
    return {parts[0].number(), parts[1].number(), parts[2].number()};
}

OutNode outScanPlace(const Vec3& at, LengthUnit) {
    OutNode list = OutNode::list(true);
    for (const double part : at) list.add(outNumber(part));
    return list;
}

Vec3 readDirection(const YamlValue& value) {
    return value.direction();
}

OutNode outDirection(const Vec3& direction, LengthUnit unit) {
    return outScanPlace(direction, unit);
}

std::string readScanFile(const YamlValue& value) {
    const std::string written = value.text();
    if (!value.isScalar()) return written;
    const std::filesystem::path path(written);
    const std::filesystem::path plain = path.lexically_normal();
    const std::string remedy = "put the scan beside the car file, or in a folder there";
    if (written.empty()) {
        value.problem("no file is named", remedy);
    } else if (path.is_absolute()) {
        value.problem("'" + written + "' starts at the top of the disk", remedy);
    } else if (*plain.begin() == "..") {
        value.problem("'" + written + "' leads out of the car file's folder", remedy);
    } else if (written.find('\0') != std::string::npos) {
        value.problem("'" + written + "' is no file's name", remedy);
    }
    return written;
}

OutNode outScanFile(const std::string& file, LengthUnit) {
    return outText(file);
}

const Words<ScanUnit>& scanUnitWords() {
    static const Words<ScanUnit> words = {{"guess", ScanUnit::guess}, {"mm", ScanUnit::mm},
                                          {"cm", ScanUnit::cm},       {"m", ScanUnit::m},
                                          {"in", ScanUnit::in},       {"ft", ScanUnit::ft}};
    return words;
}

}  // namespace hoopwright
