// A check as people read it and as programs do.
#pragma once

#include <filesystem>
#include <iosfwd>
#include <optional>
#include <string>
#include <vector>

#include "core/model/cage_geometry.h"
#include "rules/as_built.h"
#include "rules/check.h"
#include "rules/editions.h"
#include "rules/mend.h"
#include "rules/report_changes.h"
#include "rules/several_tables.h"

namespace hoopwright {

/// What an earlier report said otherwise.
struct SinceReport {
    std::string file, since;  ///< since: "Tuesday"
    std::vector<FindingChange> changes;
};

struct CheckedJob {
    const Job& job;
    const CageGeometry& cage;
    const CheckReport& report;
    std::filesystem::path folder = {};       ///< the cage file's, for the photos of answers
    std::vector<SharedLimit> several = {};   ///< what several tables ask of the same
    std::vector<EditionNews> editions = {};  ///< of each table
    std::optional<SinceReport> since = {};   ///< --since
    std::optional<MendAll> move = {};        ///< --as: what would have to change
    bool in_order = false;                   ///< --in-order: text as the tables have it
    std::vector<RestsOn> rests = {};         ///< of each finding
    std::vector<AsBuilt> as_built = {};      ///< what was measured on the built cage
};

/// Worst first or in the tables' order; what needs doing in full, what meets in one line each.
void writeCheckText(std::ostream& out, const CheckedJob& checked);
/// See app/commands/JSON.md.
void writeCheckJson(std::ostream& out, const CheckedJob& checked);

// Parts of them.
void writeSinceText(std::ostream& out, const SinceReport& since, const LengthStyle& style);
void writeSeveralText(std::ostream& out, const std::vector<SharedLimit>& several);
void writeEditionsText(std::ostream& out, const std::vector<EditionNews>& editions, bool each_rule);
void writeMoveText(std::ostream& out, const MendAll& move, const Job& job);
/// What was measured against the plan, and how many answers rest on it; nothing where nothing was.
void writeAsBuiltText(std::ostream& out, const CheckedJob& checked, const LengthStyle& style);
/// What a person said: who, when, the note, the photo and whether that file is there.
std::string wordText(const PersonsWord& word, const std::filesystem::path& folder);
/// "+2.31 kg, +14.20 EUR": of one change or all.
std::string costText(double kg, std::optional<double> price, const Job& job);

class JsonWriter;
void writeSinceJson(JsonWriter& json, const SinceReport& since);
void writeSeveralJson(JsonWriter& json, const std::vector<SharedLimit>& several);
void writeEditionsJson(JsonWriter& json, const std::vector<EditionNews>& editions);
void writeMoveJson(JsonWriter& json, const MendAll& move, const Job& job);
/// One way out, into the object that is open.
void writeMendJson(JsonWriter& json, const Mend& mend);

}  // namespace hoopwright
