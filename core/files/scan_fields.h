// How a scan of the car is written in its file.
#pragma once

#include "core/files/fields.h"
#include "core/model/car_scan.h"

namespace hoopwright {

/// Three plain numbers: a place in the scan's own.
Vec3 readScanPlace(const YamlValue& value);
OutNode outScanPlace(const Vec3& at, LengthUnit unit);
/// A direction of any length.
Vec3 readDirection(const YamlValue& value);
OutNode outDirection(const Vec3& direction, LengthUnit unit);
/// A path from the car file's folder that stays in it. As written; a problem if it leaves it or is none.
std::string readScanFile(const YamlValue& value);
OutNode outScanFile(const std::string& file, LengthUnit unit);

const Words<ScanUnit>& scanUnitWords();

template <class Io>
void fields(Io& io, PickedPair& pair) {
    io.special("scan", pair.scan, readScanPlace, outScanPlace);
    io.point("car", pair.car);
}

template <class Io>
void fields(Io& io, ScanBox& box) {
    io.point("low", box.low);
    io.point("high", box.high);
}

template <class Io>
void fields(Io& io, ScanCut& cut) {
    io.point("at", cut.at);
    io.special("keep", cut.keep, readDirection, outDirection);
}

template <class Io>
void fields(Io& io, CarScan& scan) {
    io.special("file", scan.file, readScanFile, outScanFile);
    io.wordIf("units", scan.unit, scanUnitWords());
    io.listIf("pairs", scan.pairs, Layout::one_a_line);
    io.partIf("box", scan.box);
    io.listIf("cuts", scan.cuts, Layout::one_a_line);
    io.textIf("how", scan.how);
}

}  // namespace hoopwright
