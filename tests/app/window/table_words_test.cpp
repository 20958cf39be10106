// Words offered at a place of a table's text, colours, and the forms of common rules: no window needed.
#include "app/window/table_words.h"

#include <gmock/gmock.h>

#include <QFile>
#include <cmath>

#include "app/window/own_table.h"
#include "app/window/rule_shapes.h"
#include "app/window/table_highlighter.h"
#include "rules/check.h"

namespace hoopwright {
namespace {

using testing::Contains;
using testing::Not;

const QString kNames = QStringLiteral(
    "facts:\n  roof: {kind: word, words: [open, closed], meaning: Has it a roof}\n"
    "roles:\n  nose_bar: Nose bar\n"
    "groups:\n  hoops: {role: main_hoop}\n"
    "places:\n  hoop_top: {top_of: {role: main_hoop}}\n"
    "reference_tubes:\n  plain: {od: 25, wall: 2, modulus: 200000 MPa, yield: 300 MPa}\n"
    "tubes:\n  thick: {any_of: [{od: 40}]}\n");

TableOutline known() {
    return *outlineTable(kNames.toStdString());
}

/// What is offered at the bar in the text: "measure: an|".
WordsHere at(QString text) {
    const qsizetype place = text.indexOf(QLatin1Char('|'));
    return wordsAt(text.remove(place, 1), int(place), known());
}
std::vector<std::string> offered(const QString& text) {
    std::vector<std::string> out;
    for (const TableWord& one : at(text).words) out.push_back(one.word.toStdString());
    return out;
}

TEST(TableWords, FitTheirPlace) {
    EXPECT_THAT(offered("|"), Contains("places"));
    EXPECT_THAT(offered("|"), Not(Contains("at_least")));
    EXPECT_THAT(offered("rules:\n  - id: a\n    mea|"), Contains("measure"));
    EXPECT_THAT(offered("rules:\n  - id: a\n    mea|"), Not(Contains("reference_tubes")));
    EXPECT_THAT(offered("rules:\n  - |"), Contains("id"));
    EXPECT_THAT(offered("rules:\n  - id: a\n    measure: |"), Contains("angle_to_vertical"));
    EXPECT_THAT(offered("rules:\n  - id: a\n    of: {ro|"), Contains("role"));
    EXPECT_THAT(offered("rules:\n  - id: a\n    of: {role: |"), Contains("main_hoop"));
    EXPECT_THAT(offered("rules:\n  - id: a\n    of: {role: [main_hoop, |"), Contains("nose_bar"));
    EXPECT_THAT(offered("rules:\n  - id: a\n    of: {group: |"), testing::ElementsAre("hoops"));
    EXPECT_THAT(offered("rules:\n  - id: a\n    with: {pl|"), Contains("place"));
    EXPECT_THAT(offered("rules:\n  - id: a\n    with: {place: |"), testing::ElementsAre("hoop_top"));
    EXPECT_THAT(offered("rules:\n  - id: a\n    fits: |"), testing::ElementsAre("thick"));
    EXPECT_THAT(offered("rules:\n  - id: a\n    when: {|"), testing::ElementsAre("roof"));
    EXPECT_THAT(offered("rules:\n  - id: a\n    only_if:\n      - {measure: od, |"), Contains("at_least"));
    EXPECT_THAT(offered("rules:\n  - id: a\n    of: {having: [{measure: |"), Contains("wall"));
    EXPECT_THAT(offered("facts:\n  roof: {kind: |"), Contains("yes_no"));
    EXPECT_THAT(offered("facts:\n  roof: {|"), Contains("stated_as"));
    EXPECT_THAT(offered("places:\n  top: {|"), Contains("top_of"));
    EXPECT_THAT(offered("tubes:\n  t: {any_of: [{|"), Contains("wall"));
    EXPECT_THAT(offered("tubes:\n  t:\n    rows:\n      - {up|"), Contains("up_to"));
}

TEST(TableWords, AreNotOfferedInRemarksAndProse) {
    EXPECT_TRUE(offered("rules:  # mea|").empty());
    EXPECT_TRUE(offered("rules:\n  - id: a\n    title: The mea|").empty());
    EXPECT_EQ(at("rules:\n  - id: a\n    measure: ang|").begun, "ang");
    EXPECT_TRUE(at("rules:\n  - id: a\n    mea|").are_keys);
    EXPECT_FALSE(at("rules:\n  - id: a\n    measure: ang|").are_keys);
}

TEST(TableWords, EachQuantityAndKeyHasItsMeaning) {
    EXPECT_EQ(meaningOf("od"), "of a bar: Nominal outside diameter.");
    EXPECT_FALSE(meaningOf("at_least").isEmpty());
    EXPECT_TRUE(meaningOf("main_hoop").isEmpty());
    for (const TableWord& one : at("rules:\n  - id: a\n    |").words)
        EXPECT_FALSE(one.meaning.isEmpty()) << one.word.toStdString();
}

TEST(TableWords, ARemarkBeginsAtItsSign) {
    EXPECT_EQ(remarkStart("a: b  # c"), 6);
    EXPECT_EQ(remarkStart("a: \"b # c\""), -1);
    EXPECT_EQ(remarkStart("a: b#c"), -1);
    EXPECT_EQ(remarkStart("a: the car's # end"), 13);
    EXPECT_EQ(remarkStart("# all"), 0);
}

/// Source: WCAG 2.2, success criterion 1.4.3, relative luminance and contrast ratio as defined there.
double luminance(const QColor& colour) {
    const auto part = [](double v) { return v <= 0.03928 ? v / 12.92 : std::pow((v + 0.055) / 1.055, 2.4); };
    return 0.2126 * part(colour.redF()) + 0.7152 * part(colour.greenF()) + 0.0722 * part(colour.blueF());
}

TEST(TableColours, AreReadOnCardAndOnTheLineOfTheCursor) {
    for (const Tone tone : {Tone::light, Tone::dark}) {
        const TableColours c = tableColoursOf(tone);
        const Palette p = paletteOf(tone);
        for (const QColor& text : {c.key, c.comparison, c.quantity, c.number, c.name, c.remark})
            for (const QColor& under : {p.card, p.field}) {
                const double a = luminance(text), b = luminance(under);
                EXPECT_GE((std::max(a, b) + 0.05) / (std::min(a, b) + 0.05), 4.5)
                    << text.name().toStdString() << " on " << under.name().toStdString();
            }
    }
}

const std::string kHead =
    "hoopwright: rules\nversion: 1\nid: t\ntitle: T\nedition: '1'\nwritten_by: W\npublished: no\nunits: mm\n"
    "advice: A.\n";

RuleDraft filled(RuleShape shape) {
    RuleDraft draft;
    draft.shape = shape;
    draft.id = QStringLiteral("new_rule");
    draft.clause = QStringLiteral("4.2");
    draft.title = QStringLiteral("New: a rule");
    draft.sentence = QStringLiteral("It is so.");
    draft.way_out = QStringLiteral("Do it.");
    switch (shape) {
        case RuleShape::tube:
            draft.of = QStringLiteral("main_hoop, side_bar");
            draft.fits = QStringLiteral("thick");
            draft.tubes = QStringLiteral("45 x 2.5, 50x2");
            break;
        case RuleShape::bar_there:
            draft.of = QStringLiteral("rear_brace");
            draft.per_side = true;
            draft.comparison = QStringLiteral("exactly");
            draft.value = QStringLiteral("1");
            break;
        case RuleShape::angle:
            draft.of = QStringLiteral("rear_brace");
            draft.measure = QStringLiteral("angle_to_vertical");
            draft.with = QStringLiteral("view: side");
            draft.value = QStringLiteral("30 deg");
            break;
        case RuleShape::distance:
            draft.measure = QStringLiteral("clearance");
            draft.with = QStringLiteral("part: helmet");
            draft.comparison = QStringLiteral("between");
            draft.value = QStringLiteral("50, 300 mm");
            break;
        case RuleShape::plate:
            draft.of = QStringLiteral("main_hoop");
            draft.measure = QStringLiteral("plate_area");
            draft.value = QStringLiteral("120 cm2");
            draft.known = QStringLiteral("memory");
            draft.recommended = true;
            break;
        case RuleShape::question:
            draft.ask = QStringLiteral("Is it welded?");
            draft.each = QStringLiteral("member");
            draft.of = QStringLiteral("main_hoop");
            break;
    }
    return draft;
}

TEST(RuleShapes, EachWritesARuleThatReads) {
    for (const RuleShape shape : ruleShapes()) {
        const RuleDraft draft = filled(shape);
        EXPECT_EQ(whatLacks(draft, {}), QString()) << shapeTitle(shape).toStdString();
        const QString text = withDraft(QString::fromStdString(kHead), draft, -1);
        const RuleTableResult read = readRuleTableText(text.toStdString(), "t");
        ASSERT_TRUE(read.table) << text.toStdString() << read.problems[0].text();
        EXPECT_EQ(info(*read.table).rules, 1);
    }
}

TEST(RuleShapes, EachIsReadBackAsItWasFilledIn) {
    for (const RuleShape shape : ruleShapes()) {
        RuleDraft draft = filled(shape);
        const QString text = withDraft(QString::fromStdString(kHead), draft, -1);
        const auto back = draftOf(ruleKeys(text.toStdString(), 0));
        ASSERT_TRUE(back) << text.toStdString();
        draft.tubes.clear();  // a table of its own, not of the rule
        if (shape == RuleShape::tube || shape == RuleShape::question) draft.comparison.clear();
        draft.measure = back->measure;
        EXPECT_EQ(*back, draft) << text.toStdString();
    }
}

TEST(RuleShapes, SayWhatLacks) {
    for (const RuleShape shape : ruleShapes()) {
        RuleDraft empty;
        empty.shape = shape;
        EXPECT_FALSE(whatLacks(empty, {}).isEmpty());
        RuleDraft half = filled(shape);
        half.value.clear();
        half.ask.clear();
        half.tubes.clear();
        EXPECT_FALSE(whatLacks(half, {}).isEmpty()) << shapeTitle(shape).toStdString();
    }
    EXPECT_EQ(whatLacks(filled(RuleShape::tube), known()), QString());
}

TEST(RuleShapes, AChangeTouchesOnlyWhatChanged) {
    const QString text = QString::fromStdString(
        kHead +
        "rules:\n  - id: a  # first\n    title: T   # kept\n    sentence: S.\n    measure: "
        "angle_to_vertical\n"
        "    of: {role: rear_brace}   # both\n    at_least: 30 deg  # so the book\n\n  # the second\n"
        "  - {id: b, title: T, sentence: S., ask: \"Is it?\"}\n");
    const auto was = draftOf(ruleKeys(text.toStdString(), 0));
    ASSERT_TRUE(was);
    RuleDraft now = *was;
    EXPECT_EQ(withChangedDraft(text, 0, *was, now), text);
    now.value = QStringLiteral("35 deg");
    QString wanted = text;
    EXPECT_EQ(withChangedDraft(text, 0, *was, now), wanted.replace("30 deg", "35 deg"));
    now.comparison = QStringLiteral("more_than");
    const QString other = withChangedDraft(text, 0, *was, now);
    EXPECT_TRUE(other.contains("of: {role: rear_brace}   # both\n    more_than: 35 deg\n\n  # the second"))
        << other.toStdString();
    EXPECT_TRUE(readRuleTableText(other.toStdString(), "t").table);
}

TEST(RuleShapes, ARuleThatSaysMoreIsLeftToTheText) {
    const auto draft = [](const std::string& says) {
        return draftOf(ruleKeys(kHead + "rules:\n  - {id: a, title: T, sentence: S., " + says + "}\n", 0));
    };
    EXPECT_TRUE(draft("measure: plate_area, at_least: 100 cm2"));
    EXPECT_FALSE(draft("measure: plate_area, at_least: 100 cm2, when: {roof: open}"));
    EXPECT_FALSE(draft("measure: plate_area, at_least: 100 cm2, how_many: any"));
    EXPECT_FALSE(draft("measure: form, is: welded"));
    EXPECT_FALSE(draft("either: []"));
}

TEST(RuleShapes, AnIdIsMadeFromTheTitleAndFree) {
    TableOutline outline;
    EXPECT_EQ(freeRuleId("Rear brace: angle!", outline), "rear_brace_angle");
    outline.rules.push_back({"rear_brace_angle", 1, 1, 0, 0});
    EXPECT_EQ(freeRuleId("Rear brace angle", outline), "rear_brace_angle_2");
    EXPECT_EQ(freeRuleId("4.2", outline), "rule");
}

TEST(OwnTables, TheProgramsOwnAreKnown) {
    const std::filesystem::path shipped =
        std::filesystem::path(HOOPWRIGHT_SOURCE_DIR) / "data/rules/club_hillclimb.yaml";
    EXPECT_TRUE(isAmongShippedTables(shipped));
    EXPECT_TRUE(isShippedTable(shipped));
    EXPECT_TRUE(isAmongShippedTables(shipped.parent_path() / "new.yaml")) << "nothing new goes there either";
    EXPECT_TRUE(isAmongShippedTables(shipped.parent_path() / ".." / "rules" / "x.yaml"));
    EXPECT_FALSE(isShippedTable(std::filesystem::temp_directory_path() / "not_there.yaml"));
}

}  // namespace
}  // namespace hoopwright
