// A save changes what changed, and nothing else: comments, order, spacing and units of a hand-written file
// stay.
#include <gmock/gmock.h>

#include "core/files/job_file.h"

using namespace hoopwright;
using testing::HasSubstr;
using testing::Not;

namespace {

const std::string kCage = R"(# Cage of the blue saloon.
# Second fitting.
---
version: 1
hoopwright: cage   # the kind
units: mm
name:   "Hillclimb saloon"
car: ../cars/saloon.yaml
stock: ../stock/rack.yaml

dies: ../stock/dies.yaml
entry: {race_mass: 1080 kg, crew: 1}   # as weighed

plates:
  # Left foot first.
  - {id: foot, mirrored: true, at: [-80, 640, 3], length: 150, width: 12 cm,
     thickness: 3}      # laser cut
  - id: brace_foot
    at: {car: tub.left, offset: [0, 0, 3]}   # on the tub
    length: 150
    width: 120
    thickness: 3

members:

  # The hoop runs through.
  - id: main_hoop     # first in
    role: main_hoop
    stock: 45x2.5
    optional: false
    path:
      - {plate: foot.left}   # sill
      # shoulder
      - [-60, 590, 700]
      - [-60, -590, 700]
      - {plate: foot.right}

  # Braces, a pair.
  - id: rear_brace
    role: rear_brace
    mirrored: true
    stock: 38x2.5
    note: |
      weld last
    path:
      - {on: main_hoop, side: left, height: 82 cm}
      - {plate: brace_foot}
    # end of the braces

  # A tie.
  - {id: tie, role: roof_bar, stock: 38x2.5, path: [[0, 0, 0], [1, 0, 0]]}
# That is all.
)";

struct Opened {
    CageLayout cage;
    FileTextRef text;
};
Opened opened(const std::string& text = kCage) {
    ReadResult<CageLayout> read = readCageText(text, "cage.yaml");
    for (const Problem& problem : read.problems) ADD_FAILURE() << problem.text();
    return {read.value.value_or(CageLayout()), read.text};
}

/// The old text with one piece changed; fails if the piece is not there exactly once.
std::string with(std::string text, const std::string& from, const std::string& to) {
    const std::size_t at = text.find(from);
    EXPECT_NE(at, std::string::npos) << from;
    EXPECT_EQ(text.find(from, at + 1), std::string::npos) << from;
    return text.replace(at, from.size(), to);
}

void expectSaved(const Opened& file, const std::string& expected) {
    const std::string saved = writeCage(file.cage, file.text);
    EXPECT_EQ(saved, expected);
    const ReadResult<CageLayout> again = readCageText(saved, "saved.yaml");
    EXPECT_TRUE(again.value && *again.value == file.cage);
}

TEST(ASave, ChangesNothingWhereNothingChanged) {
    expectSaved(opened(), kCage);
}

TEST(ASave, ChangesOneCoordinateInItsPlace) {
    Opened file = opened();
    std::get<FixedPoint>(file.cage.members[0].path[1].place).at.z() = 712.5;
    expectSaved(file, with(kCage, "[-60, 590, 700]", "[-60, 590, 712.5]"));
}

TEST(ASave, KeepsTheCommentBehindAValueThatChanged) {
    Opened file = opened();
    file.cage.plates[1].at = AtCarPoint{"tub.left", Vec3(0, 5, 3)};
    expectSaved(file, with(kCage, "offset: [0, 0, 3]}   # on", "offset: [0, 5, 3]}   # on"));
}

TEST(ASave, WritesTheFilesUnitForAChangedLength) {
    Opened file = opened();
    file.cage.plates[0].width_mm = 125;
    expectSaved(file, with(kCage, "width: 12 cm", "width: 125"));
}

TEST(ASave, AddsAKeyAfterTheOneItFollows) {
    Opened file = opened();
    file.cage.members[0].bend_radius_mm = 135;
    expectSaved(file, with(kCage, "    stock: 45x2.5\n", "    stock: 45x2.5\n    bend_radius: 135\n"));
}

TEST(ASave, AddsAKeyInBrackets) {
    Opened file = opened();
    file.cage.members[2].mirrored = true;
    expectSaved(
        file, with(kCage, "{id: tie, role: roof_bar, stock: 38x2.5, path: [[0, 0, 0], [1, 0, 0]]}",
                   "{id: tie, role: roof_bar, stock: 38x2.5, mirrored: true, path: [[0, 0, 0], [1, 0, 0]]}"));
}

TEST(ASave, TakesAKeyOutThatIsNoLongerSaid) {
    Opened file = opened();
    file.cage.members[1].note.clear();
    expectSaved(file, with(kCage, "    note: |\n      weld last\n", ""));
}

TEST(ASave, ChangesAFlagThatWasWrittenThoughItSaidNothing) {
    Opened file = opened();
    file.cage.members[0].optional_bar = true;
    expectSaved(file, with(kCage, "optional: false", "optional: true"));
}

TEST(ASave, TakesADeletedMembersOwnCommentsWithIt) {
    Opened file = opened();
    file.cage.members.erase(file.cage.members.begin() + 1);
    const std::size_t from = kCage.find("  # Braces, a pair."), to = kCage.find("    # end of the braces");
    expectSaved(file, kCage.substr(0, from) + kCage.substr(to));
}

TEST(ASave, TakesTheFirstMemberOutToo) {
    Opened file = opened();
    file.cage.members.erase(file.cage.members.begin());
    const std::size_t from = kCage.find("  # The hoop runs"), to = kCage.find("\n  # Braces, a pair.");
    expectSaved(file, kCage.substr(0, from) + kCage.substr(to));
}

TEST(ASave, WritesANewMemberAtItsPlaceInTheOrder) {
    Opened file = opened();
    Member bar;
    bar.id = "belt_bar";
    bar.role = "belt_bar";
    bar.stock = "38x2.5";
    bar.path = {{Landing{"main_hoop", Landing::By::height, 600, false, Side::left, Vec3::Zero(), {}}, {}},
                {Landing{"main_hoop", Landing::By::height, 600, false, Side::right, Vec3::Zero(), {}}, {}}};
    file.cage.members.insert(file.cage.members.begin() + 1, bar);
    expectSaved(file, with(kCage, "      - {plate: foot.right}\n",
                           "      - {plate: foot.right}\n"
                           "  - id: belt_bar\n"
                           "    role: belt_bar\n"
                           "    stock: 38x2.5\n"
                           "    path:\n"
                           "      - {on: main_hoop, height: 600, side: left}\n"
                           "      - {on: main_hoop, height: 600, side: right}\n"));
}

TEST(ASave, MovesAMemberWithItsComments) {
    Opened file = opened();
    std::swap(file.cage.members[0], file.cage.members[1]);
    const std::string saved = writeCage(file.cage, file.text);
    EXPECT_LT(saved.find("# Braces, a pair.\n  - id: rear_brace"),
              saved.find("# The hoop runs through.\n  - id: main_hoop"));
    const ReadResult<CageLayout> again = readCageText(saved, "saved.yaml");
    EXPECT_TRUE(again.value && *again.value == file.cage);
}

TEST(ASave, FollowsARenamedMember) {
    Opened file = opened();
    file.cage.members[1].id = "back_brace";
    expectSaved(file, with(kCage, "id: rear_brace", "id: back_brace"));
}

TEST(ASave, AddsAPathPointBetweenOthers) {
    Opened file = opened();
    auto& path = file.cage.members[0].path;
    path.insert(path.begin() + 2, MemberPoint{FixedPoint{Vec3(-60, 0, 720)}, {}});
    expectSaved(
        file, with(kCage, "      - [-60, -590, 700]\n", "      - [-60, 0, 720]\n      - [-60, -590, 700]\n"));
}

TEST(ASave, ChangesTheWayALandingIsSaid) {
    Opened file = opened();
    Landing& landing = std::get<Landing>(file.cage.members[1].path[0].place);
    landing.by = Landing::By::fraction;
    landing.value = 0.25;
    expectSaved(file, with(kCage, "{on: main_hoop, side: left, height: 82 cm}",
                           "{on: main_hoop, fraction: 0.25, side: left}"));
}

TEST(ASave, AddsAListThatWasNotThere) {
    Opened file = opened();
    file.cage.gussets = {{"g1", true, "rear_brace", "main_hoop", 90, 1.5}};
    const std::string saved = writeCage(file.cage, file.text);
    EXPECT_THAT(saved,
                HasSubstr("gussets:\n  - {id: g1, mirrored: true, members: [rear_brace, main_hoop], leg: 90, "
                          "thickness: 1.5}\n"));
    EXPECT_THAT(saved, HasSubstr("# That is all.\n"));
}

TEST(ASave, ChangesAFactAndKeepsItsComment) {
    Opened file = opened();
    file.cage.entry["race_mass"].value = 1100.0;
    expectSaved(file, with(kCage, "race_mass: 1080 kg", "race_mass: 1100 kg"));
}

TEST(ASave, TurnsATextOfSeveralLinesIntoOne) {
    Opened file = opened();
    file.cage.members[1].note = "weld first";
    expectSaved(file, with(kCage, "note: |\n      weld last\n", "note: weld first\n"));
}

TEST(ASave, RewritesTheLengthsWhenTheFilesUnitChanges) {
    Opened file = opened();
    file.cage.unit = LengthUnit::in;
    file.cage.plates[0].length_mm = 6 * 25.4;
    const std::string saved = writeCage(file.cage, file.text);
    EXPECT_THAT(saved, HasSubstr("units: in\n"));
    EXPECT_THAT(saved, HasSubstr("length: 6, width: 120 mm,"));
    EXPECT_THAT(saved, HasSubstr("entry: {race_mass: 1080 kg, crew: 1}   # as weighed"));
    EXPECT_THAT(saved, HasSubstr("# The hoop runs through.\n"));
    const ReadResult<CageLayout> again = readCageText(saved, "saved.yaml");
    EXPECT_TRUE(again.value && *again.value == file.cage);
}

TEST(ASave, KeepsAByteOrderMarkAndLineEndsOfAnotherSystem) {
    std::string text = "\xEF\xBB\xBF";
    for (const char c : kCage) text += c == '\n' ? std::string("\r\n") : std::string(1, c);
    Opened file = opened(text);
    expectSaved(file, text);
    file.cage.members[0].bend_radius_mm = 135;
    expectSaved(file, with(text, "    stock: 45x2.5\r\n", "    stock: 45x2.5\r\n    bend_radius: 135\r\n"));
}

TEST(ASave, EndsALineThatHadNoEndBeforeAddingAnother) {
    const std::string text = kCage.substr(0, kCage.find("\n# That is all."));
    Opened file = opened(text);
    file.cage.notes = "seen";
    expectSaved(file, text + "\nnotes: seen\n");
}

TEST(ASave, WritesAnewWhatItCannotFollow) {
    // Keys of several lines, or marked with ?, are read but not edited in place.
    const std::string odd = with(kCage, "name:   \"Hillclimb saloon\"\n", "? name\n: \"Hillclimb saloon\"\n");
    Opened file = opened(odd);
    file.cage.name = "Renamed";
    const std::string saved = writeCage(file.cage, file.text);
    const ReadResult<CageLayout> again = readCageText(saved, "saved.yaml");
    ASSERT_TRUE(again.value);
    EXPECT_TRUE(*again.value == file.cage);
}

TEST(ASave, DropsNoValueWhenAWholeListGoes) {
    Opened file = opened();
    file.cage.plates.clear();
    const std::string saved = writeCage(file.cage, file.text);
    EXPECT_THAT(saved, Not(HasSubstr("plates:")));
    EXPECT_THAT(saved, HasSubstr("# The hoop runs through.\n"));
}

TEST(ASaveOfStock, ChangesOnePriceOnly) {
    const std::string text = R"(hoopwright: stock
version: 1
units: in
name: Rack
currency: USD
kerf: 1/8"           # band saw
materials:
  - {id: cm, name: 4130, family: chrome_moly, yield: 63 ksi, density: 7850, source: mill sheet}
tubes:
  - {id: a, od: 1-5/8", wall: 0.095, material: cm, form: seamless,
     sticks: [{length: 20', price: 168.00}]}   # rack 3
)";
    const ReadResult<StockList> read = readStockText(text, "rack.yaml");
    ASSERT_TRUE(read.value) << read.problems[0].text();
    EXPECT_DOUBLE_EQ(read.value->tubes[0].section.od_mm, 41.275);
    StockList stock = *read.value;
    stock.tubes[0].sticks[0].price = 171.5;
    EXPECT_EQ(writeStock(stock, read.text), with(text, "168.00", "171.5"));
}

}  // namespace
