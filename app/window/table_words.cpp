#include "app/window/table_words.h"

#include <QHash>
#include <QRegularExpression>
#include <algorithm>

#include "core/driver/body.h"
#include "core/model/role.h"
#include "rules/quantity.h"

namespace hoopwright {
namespace {

struct KeyWord {
    const char* word;
    const char* meaning;
};

constexpr KeyWord kTop[] = {
    {"hoopwright", "What kind of file this is: rules"},
    {"version", "Of the file's kind: 1"},
    {"id", "A small word by which other files name this table"},
    {"title", "What the class is called"},
    {"edition", "Of the book it was typed from"},
    {"written_by", "Who typed it in and answers for it"},
    {"published", "yes: written after a book somebody else published"},
    {"units", "Unit of a bare number: mm or in"},
    {"advice", "Said wherever the table is used"},
    {"facts", "What the class asks about the entry"},
    {"roles", "Words for bars beyond the common ones"},
    {"groups", "Named sets of bars"},
    {"places", "Named places in the cage or the car"},
    {"materials", "Figures the book says to reckon with"},
    {"reference_tubes", "Tubes others are held against"},
    {"tubes", "Tube tables, for `fits`"},
    {"rules", "The rules, one after another"},
};
constexpr KeyWord kRule[] = {
    {"id", "A small word, unique in the table"},
    {"clause", "Where in the book it stands"},
    {"title", "A few words"},
    {"sentence", "What it wants, in your own words"},
    {"when", "Facts of the entry under which it applies"},
    {"only_if", "Checks under which it applies"},
    {"either", "Alternatives: one of them must be met whole"},
    {"ask", "A question only a person can answer"},
    {"each", "Asked once for each of these"},
    {"severity", "required (left out) or recommended"},
    {"known", "How its numbers are known: read, second_hand, memory"},
    {"source", "Where they were read"},
    {"way_out", "What to do when it fails"},
};
constexpr KeyWord kCheck[] = {
    {"measure", "Which quantity"},
    {"of", "Which things; left out: all of them"},
    {"with", "How to measure"},
    {"at_least", "This much or more"},
    {"more_than", "More than this"},
    {"at_most", "This much or less"},
    {"less_than", "Less than this"},
    {"exactly", "This, no more and no less"},
    {"between", "From the first number to the second: [10, 20]"},
    {"one_of", "Any of a list"},
    {"is", "This word; yes or no"},
    {"is_not", "Any word but these"},
    {"fits", "A tube table"},
    {"open", "With between: which end does not count as inside"},
    {"tolerance", "How much a number may fall short and still meet"},
    {"how_many", "How many of the things must meet; left out: all"},
    {"per_side", "yes: left and right are judged each for itself"},
    {"if_none", "What to say when nothing is selected"},
};
constexpr KeyWord kSelector[] = {
    {"role", "What the bar is for"},
    {"group", "A group of this table"},
    {"side", "left, right, centre, driver, passenger"},
    {"bent", "yes: with a bend"},
    {"optional", "yes: a bar that may be left out"},
    {"carries_belts", "yes: a driver's straps wrap over it"},
    {"on_plate", "yes: an end stands on a plate"},
    {"lands_on", "An end lands on such a bar"},
    {"having", "Checks the thing must meet"},
    {"not", "Bars to leave out"},
    {"branch", "Joints: the bar that lands"},
    {"host", "Joints: the bar it lands on"},
    {"under", "Plates: such a bar stands on it"},
    {"fixing", "Plates: welded or bolted"},
    {"between", "Gussets: the two bars"},
    {"occupant", "Drivers: driver or passenger"},
    {"first", "Pairs: the one bar"},
    {"second", "Pairs: the other"},
    {"within", "Pairs: no farther apart than this"},
    {"same_side", "Pairs: both on one side"},
};
constexpr KeyWord kWith[] = {
    {"view", "Seen from: side, front, plan; left out: in space"},
    {"part", "Of a tube or of a body"},
    {"place", "A place of this table"},
    {"above", "Over this place"},
    {"below", "Under this place"},
    {"from", "The one end: a place or a selector"},
    {"to", "The other end"},
    {"members", "Only these bars"},
    {"end", "Which end of the bar"},
    {"along", "straight, or along the host"},
    {"spans", "all, straight or bent"},
    {"towards", "all, sides, up, sides_and_up"},
    {"padded", "yes: on the padding"},
    {"tube", "A reference tube of this table"},
    {"line", "A line of the car"},
    {"height", "Over the place"},
    {"away_from_nodes", "Only bends farther than this from a node"},
    {"within", "No farther than this"},
    {"direction", "up, back, ahead, left, right"},
    {"surface", "shell, glass, floor, scan"},
};
constexpr KeyWord kFact[] = {
    {"kind", "What kind of fact it is"},
    {"meaning", "One sentence for the builder"},
    {"words", "What a word can be"},
    {"stated_as", "Another fact this one leans on"},
};
constexpr KeyWord kPlace[] = {
    {"top_of", "The highest point of such bars"},
    {"bottom_of", "The lowest point"},
    {"front_of", "The foremost point"},
    {"rear_of", "The rearmost point"},
    {"foot_of", "Ends that stand on plates"},
    {"ends_of", "Both ends"},
    {"corners_of", "The middle of each bend"},
    {"meeting", "Where bars of each kind meet"},
    {"car", "A point of the car"},
    {"driver", "A point of the driver"},
};
constexpr KeyWord kTubeTable[] = {
    {"by", "The fact its rows are brackets of"},
    {"rows", "One for each bracket"},
    {"any_of", "Tubes of which one will do"},
    {"tolerance", "How much a tube may fall short"},
};
constexpr KeyWord kRow[] = {
    {"from", "This much or more"},
    {"over", "More than this"},
    {"up_to", "This much or less"},
    {"below", "Less than this"},
    {"when", "Facts of the entry"},
    {"for", "Only for such bars"},
    {"any_of", "Tubes of which one will do"},
};
constexpr KeyWord kBracket[] = {
    {"from", "This much or more"}, {"over", "More than this"},   {"up_to", "This much or less"},
    {"below", "Less than this"},   {"not", "Any word but this"},
};
constexpr KeyWord kAlternative[] = {{"name", "What it is called"}, {"all", "Checks that must all be met"}};
constexpr KeyWord kMaterial[] = {{"family", "Which steels"},
                                 {"form", "Made how"},
                                 {"modulus", "Young's modulus"},
                                 {"yield", "Yield strength"},
                                 {"tensile", "Tensile strength"}};
constexpr KeyWord kReference[] = {{"od", "Outside diameter"},
                                  {"wall", "Wall"},
                                  {"modulus", "Young's modulus"},
                                  {"yield", "Yield strength"}};

/// What a key can hold, where that is a few words.
const QHash<QString, QStringList>& choices() {
    static const QHash<QString, QStringList> all = [] {
        QHash<QString, QStringList> out;
        const auto put = [&out](const char* key, const char* words) {
            out[QLatin1String(key)] = QString::fromLatin1(words).split(QLatin1Char(' '));
        };
        put("severity", "required recommended");
        put("known", "read second_hand memory");
        put("units", "mm in");
        put("each", "member joint plate driver gusset");
        put("side", "left right centre driver passenger same other");
        put("view", "side front plan true");
        put("end", "nearest farthest upper lower front rear");
        put("along", "straight host");
        put("spans", "all straight bent");
        put("towards", "all sides up sides_and_up");
        put("direction", "up back ahead left right");
        put("surface", "shell glass floor scan");
        put("fixing", "welded bolted");
        put("occupant", "driver passenger");
        put("if_none", "fails does_not_apply");
        put("how_many", "all any none at_least at_most exactly");
        put("open", "low high both");
        put("kind", "mass speed length area time volume count number word yes_no date");
        put("form", "seamless drawn_over_mandrel welded");
        for (const char* key : {"published", "per_side", "bent", "optional", "carries_belts", "on_plate",
                                "same_side", "padded"})
            put(key, "yes no");
        return out;
    }();
    return all;
}

template <std::size_t N>
void add(std::vector<TableWord>& out, const KeyWord (&words)[N]) {
    for (const KeyWord& one : words)
        out.push_back({QString::fromLatin1(one.word), QString::fromLatin1(one.meaning)});
}

QString utf8(std::string_view words) {
    return QString::fromUtf8(words.data(), qsizetype(words.size()));
}

/// "of a bar: Nominal outside diameter."
QString meaningWords(const QuantityInfo& quantity) {
    const QString of = quantity.subject == "member" ? QStringLiteral("a bar")
                       : quantity.subject == "cage" ? QStringLiteral("the cage")
                                                    : QStringLiteral("a ") + utf8(quantity.subject);
    return QStringLiteral("of %1: %2").arg(of, utf8(quantity.meaning));
}

void addQuantities(std::vector<TableWord>& out, bool of_bars_only) {
    for (const Quantity& one : allQuantities()) {
        if (of_bars_only && (one.kind != SubjectKind::member || one.value == ValueKind::tube)) continue;
        out.push_back({utf8(one.info.name), meaningWords(one.info)});
    }
}

void addNames(std::vector<TableWord>& out, const TableOutline& known, TableSection section) {
    for (const TableName& name : known.names)
        if (name.section == section) out.push_back({utf8(name.name), utf8(name.meaning)});
}

void addRoles(std::vector<TableWord>& out, const TableOutline& known) {
    for (const Role& role : knownRoles()) out.push_back({utf8(role.word), utf8(role.purpose)});
    addNames(out, known, TableSection::roles);
}

std::vector<TableWord> valuesOf(const QString& key, const TableOutline& known) {
    std::vector<TableWord> out;
    if (key == QLatin1String("measure")) addQuantities(out, false);
    if (key == QLatin1String("role")) addRoles(out, known);
    if (key == QLatin1String("group")) addNames(out, known, TableSection::groups);
    if (key == QLatin1String("fits")) addNames(out, known, TableSection::tubes);
    if (key == QLatin1String("tube")) addNames(out, known, TableSection::reference_tubes);
    if (key == QLatin1String("by")) addNames(out, known, TableSection::facts);
    for (const char* place : {"place", "above", "below", "from", "to"})
        if (key == QLatin1String(place)) addNames(out, known, TableSection::places);
    if (key == QLatin1String("part"))
        for (const char* part : {"chord", "straights", "upper", "lower"})
            out.push_back({QString::fromLatin1(part), QStringLiteral("of a tube")});
    if (key == QLatin1String("part") || key == QLatin1String("driver"))
        for (BodyPart part : allBodyParts())
            out.push_back({utf8(partWord(part)), QStringLiteral("of the driver")});
    for (const QString& word : choices().value(key)) out.push_back({word, {}});
    return out;
}

/// Keys of a mapping, by the key it stands behind and whose mapping that is in: "hoops" in "groups".
std::vector<TableWord> keysOf(const QString& owner, const QString& above, const TableOutline& known) {
    std::vector<TableWord> out;
    const auto is = [](const QString& word, std::initializer_list<const char*> any) {
        return std::any_of(any.begin(), any.end(),
                           [&](const char* one) { return word == QLatin1String(one); });
    };
    if (owner.isEmpty()) {
        add(out, kTop);
    } else if (is(owner, {"rules"})) {
        add(out, kRule);
        add(out, kCheck);
    } else if (is(owner, {"only_if", "all", "having"})) {
        add(out, kCheck);
    } else if (is(owner, {"either"})) {
        add(out, kAlternative);
    } else if (is(owner, {"with"})) {
        add(out, kWith);
    } else if (is(owner, {"when"})) {
        addNames(out, known, TableSection::facts);
    } else if (is(above, {"when"})) {
        add(out, kBracket);
    } else if (is(owner, {"any_of"})) {
        addQuantities(out, true);
    } else if (is(owner, {"rows"})) {
        add(out, kRow);
    } else if (is(owner, {"materials"})) {
        add(out, kMaterial);
    } else if (is(above, {"facts"})) {
        add(out, kFact);
    } else if (is(above, {"places"})) {
        add(out, kPlace);
    } else if (is(above, {"tubes"})) {
        add(out, kTubeTable);
    } else if (is(above, {"reference_tubes"})) {
        add(out, kReference);
    } else if (is(above, {"groups"}) ||
               is(owner,
                  {"of",     "not",       "lands_on", "members", "from",    "to",      "branch",
                   "host",   "under",     "first",    "second",  "for",     "between", "meeting",
                   "top_of", "bottom_of", "front_of", "rear_of", "foot_of", "ends_of", "corners_of"})) {
        add(out, kSelector);
    }
    return out;
}

const QRegularExpression& lastKey() {
    static const QRegularExpression kKey(QStringLiteral("([A-Za-z_]\\w*)\\s*:\\s*$"));
    return kKey;
}

/// The bracket that is still open at the end of a text; -1: none.
int openBracket(const QString& text, int before) {
    int depth = 0;
    for (int i = before - 1; i >= 0; --i) {
        const QChar c = text[i];
        if (c == QLatin1Char(']') || c == QLatin1Char('}')) ++depth;
        if ((c == QLatin1Char('[') || c == QLatin1Char('{')) && depth-- == 0) return i;
    }
    return -1;
}

/// The keys a line stands under, nearest first, by indents.
QStringList ownersByIndent(const QStringList& lines, int line, int indent) {
    static const QRegularExpression kOwner(QStringLiteral("^([\\s-]*)([A-Za-z_]\\w*)\\s*:\\s*(#.*)?$"));
    QStringList out;
    for (int i = line - 1; i >= 0 && indent > 0; --i) {
        const auto match = kOwner.match(lines[i]);
        if (!match.hasMatch() || match.captured(1).size() >= indent) continue;
        out << match.captured(2);
        indent = int(match.captured(1).size());
    }
    return out;
}

}  // namespace

int remarkStart(const QString& line) {
    QChar quote;
    for (int i = 0; i < line.size(); ++i) {
        const QChar c = line[i];
        if (!quote.isNull()) {
            if (c == QLatin1Char('\\') && quote == QLatin1Char('"')) ++i;
            if (c == quote) quote = QChar();
        } else if (c == QLatin1Char('"') || c == QLatin1Char('\'')) {
            // Within a word it is an apostrophe, behind a number an inch.
            if (i == 0 || !line[i - 1].isLetterOrNumber()) quote = c;
        } else if (c == QLatin1Char('#') && (i == 0 || line[i - 1].isSpace())) {
            return i;
        }
    }
    return -1;
}

WordsHere wordsAt(const QString& text, int position, const TableOutline& known) {
    WordsHere here;
    QStringList lines = text.left(position).split(QLatin1Char('\n'));
    const int number = int(lines.size()) - 1;
    QString line = lines[number];
    if (remarkStart(line) >= 0) return here;
    static const QRegularExpression kWord(QStringLiteral("[A-Za-z_]\\w*$"));
    here.begun = kWord.match(line).captured();
    line.chop(here.begun.size());
    static const QRegularExpression kBeginning(QStringLiteral("^[\\s-]*"));
    const int indent = int(kBeginning.match(line).captured().size());
    const QStringList by_indent = ownersByIndent(lines, number, indent);
    const int bracket = openBracket(line, int(line.size()));
    if (const auto key = lastKey().match(line); key.hasMatch()) {
        here.words = valuesOf(key.captured(1), known);
        return here;
    }
    if (bracket < 0) {
        if (!line.trimmed().isEmpty() && line.trimmed() != QLatin1String("-")) return here;
        here.are_keys = true;
        here.words = keysOf(by_indent.value(0), by_indent.value(1), known);
        return here;
    }
    static const QRegularExpression kItem(QStringLiteral("[\\[{,]\\s*$"));
    if (!kItem.match(line).hasMatch()) return here;
    // Whose value the bracket is; a mapping in a list is the list's.
    int at = bracket;
    QStringList owners;
    while (at >= 0 && owners.size() < 2) {
        if (const auto key = lastKey().match(line.left(at)); key.hasMatch()) owners << key.captured(1);
        at = openBracket(line, at);
    }
    owners += by_indent;
    if (line[bracket] == QLatin1Char('[')) {
        here.words = valuesOf(owners.value(0), known);
        return here;
    }
    here.are_keys = true;
    here.words = keysOf(owners.value(0), owners.value(1), known);
    return here;
}

QString meaningOf(const QString& word) {
    if (const int at = quantityIndex(word.toStdString()); at >= 0) {
        return meaningWords(quantities()[std::size_t(at)]);
    }
    std::vector<TableWord> all;
    add(all, kCheck);
    add(all, kRule);
    add(all, kTop);
    add(all, kSelector);
    add(all, kWith);
    for (const TableWord& one : all)
        if (one.word == word) return one.meaning;
    return {};
}

bool isComparison(const QString& key) {
    static const QStringList keys = QString::fromLatin1(
                                        "at_least more_than at_most less_than exactly between "
                                        "one_of is is_not fits")
                                        .split(QLatin1Char(' '));
    return keys.contains(key);
}

bool isQuantity(const QString& word) {
    return quantityIndex(word.toStdString()) >= 0;
}

}  // namespace hoopwright
