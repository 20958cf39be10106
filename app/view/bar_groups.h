// Which group each bar is in, and what the colours of the groups mean, in a corner of the picture.
#pragma once

#include <QRectF>
#include <QString>
#include <string>
#include <vector>

#include "core/model/cage_geometry.h"
#include "render/colours.h"
#include "render/look.h"

class QPainter;

namespace hoopwright {

struct OverlayScene;

struct BarGroups {
    struct Group {
        std::string key;  ///< "door_bar", "38x2.5", "may_be_left_out", "fails"
        QString words;    ///< "Door bar"
        BarPaint paint;
    };
    QString title;  ///< "By role"
    std::vector<Group> groups;
    std::vector<int> of_member;  ///< per resolved member: index into `groups`
    std::vector<BarPaint> paints() const;
    const Group& groupOf(std::size_t member) const {
        return groups[static_cast<std::size_t>(of_member[member])];
    }
};

/// The groups of a colouring that has any: place, role, state, stock, result; only those with a bar in them,
/// places and results in their own order, roles and tubes by first use. State, as the model says: planned,
/// may be left out, cannot be built as it stands. @param marks  per resolved member, for Colouring::by_result
BarGroups barGroups(Colouring by, const Job& job, const CageGeometry& cage, const std::vector<Mark>& marks);
/// Has that colouring groups? Gap and steel have none.
bool hasGroups(Colouring by);

/// At the bottom right, above the scale bar. @pre scene.groups is set
QRectF groupLegendPlace(const OverlayScene& scene);
void paintGroupLegend(QPainter& painter, const OverlayScene& scene);

}  // namespace hoopwright
