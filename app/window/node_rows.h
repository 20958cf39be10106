// What a node report says, as rows of the list and as things to be shown.
#pragma once

#include <optional>
#include <vector>

#include "app/window/rows.h"
#include "core/geometry/shown_shape.h"

namespace hoopwright {

std::vector<Row> nodeRows(const Desk& desk);

/// One line of the report, found by a Thing's id ("node/KEY"); nothing if the cage of now has it no more.
struct NodeThing {
    QString title, beside;
    std::vector<std::string> members;  ///< resolved ids
    Vec3 at = Vec3::Zero();
    std::vector<ShownShape> shapes;
};
std::optional<NodeThing> nodeThing(const Desk& desk, const std::string& id);

}  // namespace hoopwright
