// Tube tables.
#include <algorithm>

#include "core/base/text.h"
#include "rules/judged_section.h"
#include "rules/table_reader.h"

namespace hoopwright {

void TableReader::readTubes(const YamlValue& section) {
    if (!section) return;
    YamlMap all = section.map();
    for (const auto& [name, value] : all.entries()) {
        YamlMap map = value.map();
        TubeTable out;
        out.name = name;
        if (const YamlValue by = map.find("by")) {
            if (indexOf(by, factNames(), "fact") >= 0) out.by = by.text();
            if (!out.by.empty() && factWanted(out.by).kind == FactWanted::Kind::word)
                by.problem("a word has no brackets", "use `when` in the rows");
        }
        if (map.oneKeyOf({"rows", "any_of"}) == "rows") {
            const std::vector<YamlValue> rows = map.find("rows").list();
            for (const YamlValue& row : rows) out.rows.push_back(tubeRow(row, out.by));
            refuseOverlaps(out, rows);
        } else {
            TubeRow row;
            for (const YamlValue& item : map.find("any_of").list()) row.any_of.push_back(alternative(item));
            out.rows.push_back(std::move(row));
        }
        addWider(out, map.find("or_wider"));
        applyTolerance(out, map.find("tolerance"));
        applyWall(out, map.find("judged_wall"));
        table_.written[name] = value.written();
        table_.tubes.push_back(std::move(out));
    }
}

TubeRow TableReader::tubeRow(const YamlValue& value, const std::string& by) {
    TubeRow row;
    YamlMap map = value.map();
    FactTest bracket = bracketOf(by.empty() ? FactWanted{} : factWanted(by), map);
    if (!bracket.text.empty()) {
        if (by.empty()) value.problem("a bracket of what?", "name the fact in `by`");
        row.bracket = std::move(bracket);
    } else if (!by.empty()) {
        value.problem("has no bracket of '" + by + "'", "give from, over, up_to or below");
    }
    row.when = factTests(map.find("when"));
    row.for_bars = selector(map.find("for"), SubjectKind::member);
    const YamlValue any_of = map.need("any_of");
    for (const YamlValue& item : any_of.list()) row.any_of.push_back(alternative(item));
    if (any_of && any_of.isList() && row.any_of.empty())
        any_of.problem("is an empty list", "give at least one tube");
    return row;
}

TubeAlternative TableReader::alternative(const YamlValue& value) {
    TubeAlternative out;
    YamlMap map = value.map();
    std::vector<std::string> names;
    for (const Quantity& quantity : allQuantities())
        if (quantity.kind == SubjectKind::member && quantity.value != ValueKind::tube)
            names.push_back(quantity.info.name);
    for (const auto& [key, limit] : map.entries()) {
        const auto known = std::find(names.begin(), names.end(), key);
        if (known == names.end()) {
            const std::string near = didYouMean(key, names);
            limit.problem("there is no quantity '" + key + "' of a bar",
                          near.empty() ? "" : "did you mean '" + near + "'?");
            continue;
        }
        Reading part;
        part.quantity = quantityIndex(key);
        const Quantity& quantity = allQuantities()[static_cast<std::size_t>(part.quantity)];
        if (!limit.isMap() && quantity.needs != 0) {
            limit.problem("'" + key + "' needs `with`", "write a mapping: {with: {...}, at_least: ...}");
        } else if (limit.isMap()) {
            YamlMap whole = limit.map();
            part.with = arguments(whole.find("with"), quantity);
            part.against = comparison(whole, quantity);
        } else if (quantity.value == ValueKind::number) {
            part.against.low = measure(limit, quantity.info.dimension);
            part.against.unit = unitOf(limit, quantity.info.dimension);
            part.against.text = "at least " + inUnit(part.against.low, part.against.unit);
        } else if (quantity.value == ValueKind::word) {
            compareWord(part.against, "one_of", limit);
        } else {
            part.against.by = Comparison::By::yes_no;
            part.against.yes = limit.yesNo();
            part.against.text = part.against.yes ? "yes" : "no";
        }
        std::string said = key;
        std::replace(said.begin(), said.end(), '_', ' ');
        out.text += (out.text.empty() ? "" : ", ") + said + " " + part.against.text;
        out.all.push_back(std::move(part));
    }
    if (map && out.all.empty()) map.problem("asks for nothing", "give od and wall at least");
    return out;
}

void TableReader::applyTolerance(TubeTable& out, const YamlValue& value) {
    if (!value) return;
    YamlMap map = value.map();
    for (const auto& [key, amount] : map.entries()) {
        const int quantity = quantityIndex(key);
        if (quantity < 0 || allQuantities()[static_cast<std::size_t>(quantity)].value != ValueKind::number) {
            amount.problem("there is no number '" + key + "' of a tube", "such as od or wall");
            continue;
        }
        const Dimension dimension = allQuantities()[static_cast<std::size_t>(quantity)].info.dimension;
        const double tolerance = measure(amount, dimension);
        for (TubeRow& row : out.rows)
            for (TubeAlternative& alternative : row.any_of)
                for (Reading& part : alternative.all)
                    if (part.quantity == quantity) part.against.tolerance = tolerance;
    }
}

namespace {

/// The limit of a number in an alternative, or null.
const Comparison* limitOf(const TubeAlternative& alternative, const char* quantity) {
    for (const Reading& part : alternative.all)
        if (part.quantity == quantityIndex(quantity)) return &part.against;
    return nullptr;
}

}  // namespace

/// Beside each alternative another: so much wider, and then with a wall of its own.
void TableReader::addWider(TubeTable& out, const YamlValue& value) {
    if (!value) return;
    YamlMap map = value.map();
    const YamlValue more = map.need("od_more"), wall = map.need("wall");
    const double more_mm = more.measure(Dimension::length, Range::positive),
                 wall_mm = wall.measure(Dimension::length, Range::positive);
    for (TubeRow& row : out.rows) {
        const std::vector<TubeAlternative> given = row.any_of;
        for (const TubeAlternative& narrow : given) {
            const Comparison* od = limitOf(narrow, "od");
            if (!od || !limitOf(narrow, "wall")) continue;
            TubeAlternative wide;
            const auto add = [&](const char* quantity, double least, const Unit& unit) {
                Reading part;
                part.quantity = quantityIndex(quantity);
                part.against.low = least;
                part.against.unit = unit;
                part.against.text = "at least " + inUnit(least, unit);
                wide.text +=
                    (wide.text.empty() ? "" : ", ") + std::string(quantity) + " " + part.against.text;
                wide.all.push_back(std::move(part));
            };
            add("od", od->low + more_mm, od->unit);
            add("wall", wall_mm, unitOf(wall, Dimension::length));
            row.any_of.push_back(std::move(wide));
        }
    }
    for (const TubeRow& row : out.rows)
        if (std::none_of(row.any_of.begin(), row.any_of.end(),
                         [](const TubeAlternative& a) { return limitOf(a, "od") && limitOf(a, "wall"); }))
            value.problem("a row has no tube with od and wall to be wider than", "give both in `any_of`");
}

/// Which wall every figure of the section is reckoned with.
void TableReader::applyWall(TubeTable& out, const YamlValue& value) {
    if (!value) return;
    const WallKind kind = wallKind(value);
    for (TubeRow& row : out.rows)
        for (TubeAlternative& alternative : row.any_of) {
            for (Reading& part : alternative.all)
                if (has(allQuantities()[static_cast<std::size_t>(part.quantity)].may, Arg::judged_wall))
                    part.with.judged_wall = kind;
            if (kind != WallKind::nominal) alternative.text += " (" + wallWords(kind) + ")";
        }
}

/// Two brackets for the same bars and facts must not share a number: nobody could say which counts.
void TableReader::refuseOverlaps(const TubeTable& out, const std::vector<YamlValue>& rows) const {
    const auto plain = [](const TubeRow& row) {
        return row.bracket && row.for_bars < 0 && row.when.empty() && row.bracket->number;
    };
    const auto meet = [](const FactTest& a, const FactTest& b) {
        const double low = std::max(a.low, b.low), high = std::min(a.high, b.high);
        if (low != high) return low < high;
        const bool a_has = !(a.low == low && a.low_open) && !(a.high == high && a.high_open);
        const bool b_has = !(b.low == low && b.low_open) && !(b.high == high && b.high_open);
        return a_has && b_has;
    };
    for (std::size_t i = 0; i < out.rows.size(); ++i)
        for (std::size_t j = 0; j < i; ++j)
            if (plain(out.rows[i]) && plain(out.rows[j]) && meet(*out.rows[i].bracket, *out.rows[j].bracket))
                rows[i].problem("its bracket overlaps that of row " + std::to_string(j + 1),
                                "use over and up_to so that each number is in one row");
}

}  // namespace hoopwright
