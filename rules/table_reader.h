// Reads one rule table. Names become indices as they are read, so a name must stand before it is used;
// sections are read in their own order, whatever the order of the file.
#pragma once

#include <limits>
#include <string>
#include <vector>

#include "core/files/yaml_map.h"
#include "rules/quantity.h"
#include "rules/rule_table.h"

namespace hoopwright {

/// More rules than any book has; a file with more was not typed by a person.
inline constexpr int kMostRules = 2000;

class TableReader {
public:
    explicit TableReader(YamlFile& file) : file_(file) {}
    RuleTable read();

private:
    YamlFile& file_;
    RuleTable table_;
    std::vector<std::string> roles_;  ///< the common ones and the table's own
    /// From here on selectors belong to rules and have no name: two that say the same are one, looked up
    /// once.
    std::size_t first_unnamed_ = std::numeric_limits<std::size_t>::max();

    // table_reader.cpp: sections
    void readHead(YamlMap& top);
    void readRoles(const YamlValue& section);
    void readMaterials(const YamlValue& section);
    void readReferenceTubes(const YamlValue& section);
    void readGroups(const YamlValue& section);
    void readPlaces(const YamlValue& section);
    void readRules(const YamlValue& section);

    // read_facts.cpp
    void readFacts(const YamlValue& section);
    std::vector<FactTest> factTests(const YamlValue& when);
    FactTest factTest(const std::string& name, const YamlValue& value);
    FactTest bracketOf(const FactWanted& fact, YamlMap& map);
    FactTest wordTest(const FactWanted& fact, const YamlValue& value);
    std::vector<std::string> factNames() const;
    FactWanted factWanted(const std::string& name) const;

    // read_selector.cpp
    int selector(const YamlValue& value, SubjectKind kind, bool relative = false);
    void readMemberLines(Selector& out, YamlMap& map, bool relative);
    void readOtherLines(Selector& out, YamlMap& map);
    void readSides(Selector& out, const YamlValue& value, bool relative);
    std::vector<Reading> having(const YamlValue& value, SubjectKind kind);

    // read_reading.cpp
    Reading reading(YamlMap& map, const std::vector<SubjectKind>& kinds);
    Arguments arguments(const YamlValue& value, const Quantity& quantity);
    void readArgument(Arguments& out, Arg arg, const YamlValue& value);
    std::vector<BodyPart> bodyParts(const YamlValue& value);
    int placeNamed(const YamlValue& value);
    WallKind wallKind(const YamlValue& value);

    // read_comparison.cpp
    Comparison comparison(YamlMap& map, const Quantity& quantity);
    void compareNumber(Comparison& out, const std::string& key, const YamlValue& value, YamlMap& map,
                       Dimension dimension);
    LimitPart limitPart(const YamlValue& value, Dimension dimension);
    void limitParts(Comparison& out, const std::string& key, const YamlValue& value, Dimension dimension);
    void compareWord(Comparison& out, const std::string& key, const YamlValue& value);
    double measure(const YamlValue& value, Dimension dimension);
    Unit unitOf(const YamlValue& value, Dimension dimension) const;

    // read_tubes.cpp
    void readTubes(const YamlValue& section);
    TubeRow tubeRow(const YamlValue& value, const std::string& by);
    TubeAlternative alternative(const YamlValue& value);
    void addWider(TubeTable& out, const YamlValue& value);
    void applyTolerance(TubeTable& out, const YamlValue& value);
    void applyWall(TubeTable& out, const YamlValue& value);
    void refuseOverlaps(const TubeTable& out, const std::vector<YamlValue>& rows) const;

    // read_rule.cpp
    Rule rule(const YamlValue& value);
    Check check(YamlMap& map);
    HowMany howMany(const YamlValue& value);
    void readWhat(Rule& out, YamlMap& map);
    void readQuestion(Rule& out, YamlMap& map);
    LoadCase loadCase(const YamlValue& value);
};

/// "at_least", "more_than", ...: the keys of which a check has one.
const std::vector<std::string>& comparisonKeys();
/// A word or a list of words.
std::vector<std::string> wordsOf(const YamlValue& value);
/// "30 deg": a base value in the table's unit.
std::string inUnit(double base, const Unit& unit);
/// Index of the item whose name it is; a problem with "did you mean", and -1, if there is none.
int indexOf(const YamlValue& value, const std::vector<std::string>& names, const std::string& what);

}  // namespace hoopwright
