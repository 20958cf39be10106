// What the builder says the cage is; and all that goes with it on one job.
#pragma once

#include <string>
#include <vector>

#include "core/model/car.h"
#include "core/model/driver.h"
#include "core/model/job_record.h"
#include "core/model/member.h"
#include "core/model/pinned_dimension.h"
#include "core/model/plate.h"
#include "core/model/stock.h"

namespace hoopwright {

/// A value; copy it, compare it, keep it for undo. Order of members is the build order: where two ends
/// meet, the earlier one runs through and the later one is coped to it.
struct CageLayout {
    std::string name;
    LengthUnit unit = LengthUnit::mm;             ///< the unit its file is written in
    std::string car_file, stock_file, dies_file;  ///< as written, relative to the cage file
    std::string shop_file;                        ///< the same; may be empty
    std::vector<std::string> driver_files;
    std::vector<std::string> rule_files;
    Facts entry;  ///< class facts of this entry (race mass and its basis, target speed, crew ...)
    /// The builder's word that the body of a car with a frame need never come off it again.
    bool body_stays = false;
    double node_reach_mm = 50;  ///< ends nearer to each other than this along a host meet at one node
    std::vector<Member> members;
    std::vector<Plate> plates;
    std::vector<Gusset> gussets;
    std::vector<PinnedDimension> dimensions;
    std::vector<PersonsAnswer> answers;
    std::vector<RuleTick> ticks;
    std::vector<FrozenTable> frozen;  ///< at most one for each table
    std::vector<BuiltReading> readings;
    std::vector<Certificate> certificates;
    std::vector<DatedPaper> papers;
    std::vector<SparePiece> spares;
    std::vector<ApartPieces> apart;
    std::vector<SavedView> views;  ///< names differ
    std::vector<Inspection> inspections;
    std::string notes;
    const Member* member(std::string_view id) const;
    const Plate* plate(std::string_view id) const;
    friend bool operator==(const CageLayout&, const CageLayout&) = default;
};

/// Everything resolve() and check() read.
struct Job {
    CageLayout cage;
    Car car;
    std::vector<Driver> drivers;
    StockList stock;
    DieList dies;
    ScanMeshes scan_meshes;  ///< of car.scans, as far as they are loaded; the same where they are the very
                             ///< same meshes
    ShopBookRef shop = nullptr;  ///< null: the cage names none
    friend bool operator==(const Job&, const Job&) = default;
};

}  // namespace hoopwright
