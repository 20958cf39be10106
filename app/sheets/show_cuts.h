// What is cut, drilled and ground in the car for a cage.
#pragma once

#include <string>
#include <vector>

#include "app/sheets/show_facts.h"

namespace hoopwright {

/// Holes where bars pass through what is measured of the car: floor, glass, firewall, bulkhead, shell. Bare
/// metal under plates that are welded, holes for those that are bolted. In that order.
std::vector<ShownCut> cutsInCar(const Job& job, const CageGeometry& cage);
/// Their sentences; what is done alike on the left and on the right is said once.
std::vector<std::string> cutsSaidOnce(const std::vector<ShownCut>& cuts);

}  // namespace hoopwright
