// The pack on paper.
#pragma once

#include "app/pack/pack_drawing.h"

namespace hoopwright {

/// What each part of the pack draws with.
struct PackInHand {
    PackPages& pages;
    PackDrawer& drawer;
    const InspectorPack& pack;
    LengthStyle style;
    std::string length(double mm) const { return showLength(mm, style); }
    /// Without its unit, for columns whose head says it.
    std::string bare(double mm, int decimals) const;
    std::string bare(const std::optional<double>& mm, int decimals) const {
        return mm ? bare(*mm, decimals) : "";
    }
    const char* unitWord() const { return style.unit == LengthUnit::in ? "in" : "mm"; }
    const ResolvedMember& member(int index) const {
        return pack.cage->members[static_cast<std::size_t>(index)];
    }
};

void addCover(PackInHand& in);
void addViews(PackInHand& in);
void addSchedules(PackInHand& in);
void addWallSheet(PackInHand& in);
void addPeople(PackInHand& in);
void addChecklist(PackInHand& in);
void addFindingPictures(PackInHand& in);
void addAsBuilt(PackInHand& in);
void addHistory(PackInHand& in);
void addPhotos(PackInHand& in);
void addDeclaration(PackInHand& in);

/// Every page. Empty: `progress` wanted no more. @pre there is a QGuiApplication, for its fonts
std::vector<PackPage> packPages(const SheetHead& head, const InspectorPack& pack,
                                const WorkProgress& progress);

/// Said on the cover and over the place to sign.
extern const char* const kPackSays;

}  // namespace hoopwright
