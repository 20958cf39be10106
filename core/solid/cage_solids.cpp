#include "core/solid/cage_solids.h"

#include "core/solid/plate_solid.h"
#include "core/solid/tube_solid.h"

namespace hoopwright {
namespace {

class Pieces {
public:
    Pieces(const Job& job, const CageGeometry& cage) : job_(job), cage_(cage) {}

    void addTubeFigures(int index) {
        const ResolvedMember& tube = cage_.members[static_cast<std::size_t>(index)];
        CagePiece piece;
        piece.index = index, piece.id = tube.id, piece.name = tube.name;
        piece.volume_mm3 = finishedVolume_mm3(cage_, index);
        piece.mass_kg = tube.mass_kg;
        out_.pieces.push_back(std::move(piece));
    }

    void addTube(int index) {
        const ResolvedMember& tube = cage_.members[static_cast<std::size_t>(index)];
        Expected<TubeSolid> made = tubeSolid(cage_, index);
        if (!made) {
            out_.left_out.push_back(made.reason());
            return;
        }
        for (const std::string& reason : made->left_square)
            if (!reason.empty()) out_.notes.push_back("Cut square: " + reason);
        add(CagePiece::Kind::tube, index, tube.id, tube.name, std::move(made->solid),
            finishedVolume_mm3(cage_, index), tube.mass_kg);
        out_.pieces.back().exact = made->exact[0] && made->exact[1];
    }

    void addPlate(int index) {
        const ResolvedPlate& plate = cage_.plates[static_cast<std::size_t>(index)];
        const Plate& said = job_.cage.plates[static_cast<std::size_t>(plate.layout)];
        if (plate.outline.size() < 3 || !(plate.thickness_mm > 0)) {
            out_.left_out.push_back(plate.name + " has no outline or no thickness: give it both.");
            return;
        }
        const double sheet = plate.area_mm2 * plate.thickness_mm + flapsVolume_mm3(said);
        std::optional<SolidBody> back = backingSolid(plate), riser = riserSolid(plate);
        const double backing =
            back ? plate.backing->length_mm * plate.backing->width_mm * plate.backing->thickness_mm : 0;
        const double filled = plate.area_mm2 * plate.riser_height_mm;
        const double walls = riser ? flatSidedVolume_mm3(*riser) : filled;
        const double density = plate.mass_kg / (sheet + backing + walls);
        add(CagePiece::Kind::plate, index, plate.id, plate.name, plateSolid(plate), sheet, sheet * density);
        if (back)
            add(CagePiece::Kind::backing, index, plate.id + ".backing", plate.name + ", backing plate",
                std::move(*back), backing, backing * density);
        if (riser) {
            add(CagePiece::Kind::riser, index, plate.id + ".riser", plate.name + ", riser", std::move(*riser),
                walls, walls * density);
        } else if (plate.riser_height_mm > 0) {
            out_.left_out.push_back(plate.name +
                                    ": the walls of its riser leave no room inside; make them thinner.");
        }
    }

    void addGusset(int index) {
        const ResolvedGusset& gusset = cage_.gussets[static_cast<std::size_t>(index)];
        const GussetShape shape = gussetShape(cage_, gusset);
        if (!(shape.volume_mm3 > 0)) {
            out_.left_out.push_back("Gusset " + gusset.id +
                                    " has no sheet between its tubes: give it longer legs.");
            return;
        }
        add(CagePiece::Kind::gusset, index, gusset.id, "Gusset " + gusset.id,
            gussetSolid(shape, gusset.thickness_mm), shape.volume_mm3, gusset.mass_kg);
    }

    CageSolids take() { return std::move(out_); }
    void stop() { out_.stopped = true; }

private:
    void add(CagePiece::Kind kind, int index, const std::string& id, const std::string& name, SolidBody solid,
             double volume, double mass) {
        if (!closed(solid)) {
            out_.left_out.push_back(name + ": its faces do not close to a solid; please report this cage.");
            return;
        }
        CagePiece piece;
        piece.kind = kind, piece.index = index, piece.id = id, piece.name = name;
        piece.solid = std::move(solid);
        piece.volume_mm3 = volume, piece.mass_kg = mass;
        out_.pieces.push_back(std::move(piece));
    }

    const Job& job_;
    const CageGeometry& cage_;
    CageSolids out_;
};

}  // namespace

std::string pieceWord(CagePiece::Kind kind) {
    switch (kind) {
        case CagePiece::Kind::tube:
            return "tube";
        case CagePiece::Kind::plate:
            return "plate";
        case CagePiece::Kind::backing:
            return "backing";
        case CagePiece::Kind::riser:
            return "riser";
        case CagePiece::Kind::gusset:
            break;
    }
    return "gusset";
}

CageSolids cageSolids(const Job& job, const CageGeometry& cage, const WorkProgress& progress) {
    Pieces pieces(job, cage);
    const int tubes = static_cast<int>(cage.members.size());
    for (int i = 0; i < tubes; ++i) {
        if (!goOn(progress, i, tubes, cage.members[static_cast<std::size_t>(i)].name)) {
            pieces.stop();
            return pieces.take();
        }
        pieces.addTube(i);
    }
    for (int i = 0; i < static_cast<int>(cage.plates.size()); ++i) pieces.addPlate(i);
    for (int i = 0; i < static_cast<int>(cage.gussets.size()); ++i) pieces.addGusset(i);
    return pieces.take();
}

CageSolids cagePieces(const Job& job, const CageGeometry& cage) {
    Pieces pieces(job, cage);
    for (int i = 0; i < static_cast<int>(cage.members.size()); ++i)
        if (cage.members[static_cast<std::size_t>(i)].section.valid()) pieces.addTubeFigures(i);
    for (int i = 0; i < static_cast<int>(cage.plates.size()); ++i) pieces.addPlate(i);
    for (int i = 0; i < static_cast<int>(cage.gussets.size()); ++i) pieces.addGusset(i);
    return pieces.take();
}

}  // namespace hoopwright
