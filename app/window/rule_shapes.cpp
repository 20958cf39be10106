#include "app/window/rule_shapes.h"

#include <QRegularExpression>
#include <algorithm>

#include "core/files/out_node.h"
#include "rules/quantity.h"

namespace hoopwright {
namespace {

QString wordsOf(std::string_view words) {
    return QString::fromUtf8(words.data(), qsizetype(words.size()));
}

std::string prose(const QString& words) {
    return outText(words.trimmed().toStdString()).text;
}

/// A text as the reader takes it: quotes undone.
QString unquoted(const std::string& written) {
    const YamlTree tree = readYamlTree("v: " + written + "\n", "");
    const YamlNode* value = tree.root ? childOf(&*tree.root, "v") : nullptr;
    return value && value->kind == YamlNode::Kind::scalar ? wordsOf(value->text) : wordsOf(written);
}

/// "main_hoop, side_bar" as a selector of such bars, or of the plates under them.
std::string selectorText(const QString& of, RuleShape shape) {
    const QString words = of.simplified();
    if (words.startsWith(QLatin1Char('{'))) return words.toStdString();
    const std::string roles = words.contains(QLatin1Char(',')) ? "{role: [" + words.toStdString() + "]}"
                                                               : "{role: " + words.toStdString() + "}";
    return shape == RuleShape::plate ? "{under: " + roles + "}" : roles;
}

/// Back to words where it is roles alone.
QString shortSelector(const std::string& written) {
    static const QRegularExpression kRoles(QStringLiteral(
        "^(?:\\{\\s*under\\s*:\\s*)?\\{\\s*role\\s*:\\s*(?:\\[([\\w\\s,]+)\\]|(\\w+))\\s*\\}+$"));
    const auto match = kRoles.match(wordsOf(written));
    if (!match.hasMatch()) return wordsOf(written);
    return (match.captured(1) + match.captured(2)).simplified();
}

bool isShapeOf(RuleShape shape, const QString& quantity) {
    return quantitiesOf(shape).contains(quantity);
}

/// Keys a form has fields for.
const QStringList& formKeys() {
    static const QStringList keys = QString::fromLatin1(
                                        "id clause title sentence severity known measure of with at_least "
                                        "more_than at_most less_than exactly between per_side fits ask "
                                        "each way_out")
                                        .split(QLatin1Char(' '));
    return keys;
}

QString valueOf(const RuleKeys& keys, const char* key) {
    for (const auto& [name, value] : keys)
        if (name == key) return wordsOf(value);
    return {};
}

QString proseOf(const RuleKeys& keys, const char* key) {
    const QString written = valueOf(keys, key);
    return written.isEmpty() ? written : unquoted(written.toStdString());
}

QString insideOf(const QString& written, QChar open, QChar close) {
    QString words = written.trimmed();
    if (words.startsWith(open) && words.endsWith(close)) words = words.mid(1, words.size() - 2);
    return words.trimmed();
}

std::optional<RuleShape> shapeOf(const RuleKeys& keys) {
    const QString measure = valueOf(keys, "measure");
    if (!valueOf(keys, "ask").isEmpty()) return RuleShape::question;
    if (measure == QLatin1String("tube")) return RuleShape::tube;
    if (measure == QLatin1String("member_count")) return RuleShape::bar_there;
    for (RuleShape shape : {RuleShape::angle, RuleShape::plate, RuleShape::distance})
        if (isShapeOf(shape, measure)) return shape;
    return std::nullopt;
}

}  // namespace

const std::vector<RuleShape>& ruleShapes() {
    static const std::vector<RuleShape> all = {RuleShape::bar_there, RuleShape::tube,  RuleShape::angle,
                                               RuleShape::distance,  RuleShape::plate, RuleShape::question};
    return all;
}

QString shapeTitle(RuleShape shape) {
    switch (shape) {
        case RuleShape::tube:
            return QObject::tr("Tube of certain bars");
        case RuleShape::bar_there:
            return QObject::tr("A bar that must be there");
        case RuleShape::angle:
            return QObject::tr("Limit of an angle");
        case RuleShape::distance:
            return QObject::tr("Limit of a distance or clearance");
        case RuleShape::plate:
            return QObject::tr("Size of foot plates");
        case RuleShape::question:
            return QObject::tr("A question for a person");
    }
    return {};
}

QStringList quantitiesOf(RuleShape shape) {
    QStringList out;
    for (const Quantity& one : allQuantities()) {
        if (one.value != ValueKind::number || one.counts) continue;
        const bool plate = one.kind == SubjectKind::plate;
        const bool angle = one.info.dimension == Dimension::angle;
        const bool length = one.info.dimension == Dimension::length;
        const bool fits = (shape == RuleShape::plate && plate) ||
                          (shape == RuleShape::angle && angle && !plate) ||
                          (shape == RuleShape::distance && length && !plate);
        if (fits) out << wordsOf(one.info.name);
    }
    return out;
}

QString neededWith(const QString& quantity) {
    static constexpr std::pair<Arg, const char*> kKeys[] = {{Arg::place, "place: "},
                                                            {Arg::members, "members: {role: }"},
                                                            {Arg::from_place, "from: "},
                                                            {Arg::to_place, "to: "},
                                                            {Arg::from_members, "from: {role: }"},
                                                            {Arg::to_members, "to: {role: }"},
                                                            {Arg::body_part, "part: helmet"},
                                                            {Arg::direction, "direction: up"},
                                                            {Arg::line, "line: "},
                                                            {Arg::within, "within: "},
                                                            {Arg::height, "height: "},
                                                            {Arg::above, "above: "},
                                                            {Arg::below, "below: "},
                                                            {Arg::reference_tube, "tube: "}};
    const int at = quantityIndex(quantity.toStdString());
    if (at < 0) return {};
    QStringList out;
    for (const auto& [arg, key] : kKeys)
        if (has(allQuantities()[std::size_t(at)].needs, arg)) out << QString::fromLatin1(key);
    return out.join(QStringLiteral(", "));
}

QString whatLacks(const RuleDraft& draft, const TableOutline& known) {
    if (draft.title.trimmed().isEmpty()) return QObject::tr("Give it a title.");
    if (draft.sentence.trimmed().isEmpty()) return QObject::tr("Say in a sentence what it wants.");
    switch (draft.shape) {
        case RuleShape::tube: {
            if (draft.fits.trimmed().isEmpty()) return QObject::tr("Name the tube table.");
            const auto names = known.namesOf(TableSection::tubes);
            const bool there = std::find(names.begin(), names.end(), draft.fits.toStdString()) != names.end();
            if (!there && tubeTableText(draft).empty())
                return QObject::tr(
                    "The table has no tube table of that name: say which tubes, such as 40 x 2, 38 x 2.5.");
            return {};
        }
        case RuleShape::bar_there:
            if (draft.of.trimmed().isEmpty()) return QObject::tr("Say which bar.");
            [[fallthrough]];
        case RuleShape::angle:
        case RuleShape::distance:
        case RuleShape::plate:
            return draft.value.trimmed().isEmpty() ? QObject::tr("Say how much.") : QString();
        case RuleShape::question:
            return draft.ask.trimmed().isEmpty() ? QObject::tr("Write the question.") : QString();
    }
    return {};
}

RuleKeys keysOf(const RuleDraft& draft) {
    RuleKeys out;
    const auto put = [&out](const char* key, std::string value) { out.emplace_back(key, std::move(value)); };
    put("id", draft.id.trimmed().toStdString());
    if (!draft.clause.trimmed().isEmpty())
        put("clause", outQuoted(draft.clause.trimmed().toStdString()).text);
    put("title", prose(draft.title));
    put("sentence", prose(draft.sentence));
    if (draft.recommended) put("severity", "recommended");
    if (draft.known != QLatin1String("read")) put("known", draft.known.toStdString());
    if (draft.shape == RuleShape::question) {
        put("ask", prose(draft.ask));
        if (!draft.each.isEmpty()) put("each", draft.each.toStdString());
    } else {
        put("measure", draft.shape == RuleShape::tube        ? "tube"
                       : draft.shape == RuleShape::bar_there ? "member_count"
                                                             : draft.measure.toStdString());
    }
    const bool of_bars = draft.shape != RuleShape::question || draft.each == QLatin1String("member");
    if (of_bars && !draft.of.trimmed().isEmpty()) put("of", selectorText(draft.of, draft.shape));
    if (draft.shape == RuleShape::tube) {
        put("fits", draft.fits.trimmed().toStdString());
    } else if (draft.shape != RuleShape::question) {
        const bool measured = draft.shape != RuleShape::bar_there;
        if (measured && !draft.with.trimmed().isEmpty())
            put("with", "{" + draft.with.simplified().toStdString() + "}");
        if (!measured && draft.per_side) put("per_side", "yes");
        const std::string value = draft.value.simplified().toStdString();
        put(draft.comparison.toLatin1().constData(),
            draft.comparison == QLatin1String("between") ? "[" + value + "]" : value);
    }
    if (!draft.way_out.trimmed().isEmpty()) put("way_out", prose(draft.way_out));
    return out;
}

std::optional<RuleDraft> draftOf(const RuleKeys& keys) {
    const auto shape = shapeOf(keys);
    if (!shape) return std::nullopt;
    RuleDraft out;
    out.shape = *shape;
    out.comparison.clear();
    for (const auto& [key, value] : keys) {
        const QString name = wordsOf(key);
        // A value over several lines is written by hand and stays so.
        if (!formKeys().contains(name) || value.find('\n') != std::string::npos) return std::nullopt;
        const bool compares = QString::fromLatin1("at_least more_than at_most less_than exactly between")
                                  .split(QLatin1Char(' '))
                                  .contains(name);
        if (!compares) continue;
        out.comparison = name;
        out.value = name == QLatin1String("between")
                        ? insideOf(wordsOf(value), QLatin1Char('['), QLatin1Char(']'))
                        : wordsOf(value);
    }
    const bool compared = *shape != RuleShape::tube && *shape != RuleShape::question;
    if (compared == out.comparison.isEmpty()) return std::nullopt;
    out.id = proseOf(keys, "id");
    out.clause = proseOf(keys, "clause");
    out.title = proseOf(keys, "title");
    out.sentence = proseOf(keys, "sentence");
    out.way_out = proseOf(keys, "way_out");
    out.recommended = valueOf(keys, "severity") == QLatin1String("recommended");
    if (const QString known = valueOf(keys, "known"); !known.isEmpty()) out.known = known;
    out.of = shortSelector(valueOf(keys, "of").toStdString());
    out.measure = valueOf(keys, "measure");
    out.with = insideOf(valueOf(keys, "with"), QLatin1Char('{'), QLatin1Char('}'));
    out.per_side =
        QStringList{QStringLiteral("yes"), QStringLiteral("true")}.contains(valueOf(keys, "per_side"));
    out.fits = valueOf(keys, "fits");
    out.ask = proseOf(keys, "ask");
    out.each = valueOf(keys, "each");
    // What this shape has no field for is no business of its form.
    const RuleKeys again = keysOf(out);
    const auto has = [&again](const std::string& key) {
        return std::any_of(again.begin(), again.end(), [&](const auto& one) { return one.first == key; });
    };
    for (const auto& [key, value] : keys)
        if (!has(key) && key != "severity" && key != "known" && key != "per_side") return std::nullopt;
    return out;
}

std::string tubeTableText(const RuleDraft& draft) {
    static const QRegularExpression kTube(QStringLiteral("^\\s*([^x×\\s]+)\\s*[x×]\\s*([^x×\\s]+)\\s*$"));
    std::string out;
    for (const QString& one : draft.tubes.split(QLatin1Char(','), Qt::SkipEmptyParts)) {
        const auto match = kTube.match(one);
        if (!match.hasMatch()) return "";
        out += (out.empty() ? "" : ", ") +
               ("{od: " + match.captured(1) + ", wall: " + match.captured(2) + "}").toStdString();
    }
    return out.empty() ? "" : "{any_of: [" + out + "]}";
}

QString withDraft(const QString& text, const RuleDraft& draft, int after) {
    std::string out = withNewRule(text.toStdString(), after, keysOf(draft));
    if (draft.shape == RuleShape::tube) {
        const auto outline = outlineTable(out);
        const auto names = outline ? outline->namesOf(TableSection::tubes) : std::vector<std::string>{};
        const std::string name = draft.fits.trimmed().toStdString();
        if (std::find(names.begin(), names.end(), name) == names.end() && !tubeTableText(draft).empty())
            out = withNewName(out, TableSection::tubes, name, tubeTableText(draft));
    }
    return wordsOf(out);
}

QString withChangedDraft(const QString& text, int rule, const RuleDraft& was, const RuleDraft& now) {
    const RuleKeys before = keysOf(was), after = keysOf(now);
    const auto valueIn = [](const RuleKeys& keys, const std::string& key) -> const std::string* {
        for (const auto& [name, value] : keys)
            if (name == key) return &value;
        return nullptr;
    };
    std::vector<KeyChange> changes;
    for (const auto& [key, value] : after) {
        const std::string* old = valueIn(before, key);
        if (!old || *old != value) changes.emplace_back(key, value);
    }
    for (const auto& [key, value] : before)
        if (!valueIn(after, key)) changes.emplace_back(key, std::nullopt);
    return wordsOf(withRuleKeys(text.toStdString(), rule, changes));
}

QString freeRuleId(const QString& words, const TableOutline& known) {
    static const QRegularExpression kOther(QStringLiteral("[^a-z0-9]+"));
    QString base = words.toLower().replace(kOther, QStringLiteral("_"));
    while (!base.isEmpty() && !base[0].isLower()) base.remove(0, 1);
    while (base.endsWith(QLatin1Char('_'))) base.chop(1);
    if (base.isEmpty()) base = QStringLiteral("rule");
    QString id = base;
    for (int n = 2; known.rule(id.toStdString()); ++n) id = base + QLatin1Char('_') + QString::number(n);
    return id;
}

}  // namespace hoopwright
