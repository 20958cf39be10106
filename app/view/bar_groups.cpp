#include "app/view/bar_groups.h"

#include <QFontMetricsF>
#include <QPainter>
#include <algorithm>
#include <cctype>
#include <map>

#include "app/view/finding_text.h"
#include "app/view/legend_card.h"
#include "app/view/overlay.h"
#include "app/view/rgb.h"
#include "core/edit/cage_edits.h"

namespace hoopwright {
namespace {

constexpr double kRow = 19, kSwatch = 30;
constexpr int kMostRows = 18;

struct Wearing {
    std::string key;
    QString words;
    int order = -1;  // where it stands; -1: by first use
    std::optional<BarPaint> paint;
};

QString wordsOf(const std::string& text) {
    return QString::fromStdString(text);
}

std::string keyOf(Place place) {
    std::string key;
    for (const char c : placeName(place)) key += c == ' ' ? '_' : static_cast<char>(std::tolower(c));
    return key;
}

Wearing byMark(Mark mark) {
    BarPaint paint{markColour(mark), {}};
    switch (mark) {
        case Mark::fails:
            paint.rings = Rgb{0.98f, 0.96f, 0.90f};  // told without colour too
            return {"fails", QStringLiteral("Fails"), 0, paint};
        case Mark::cannot_tell:
            return {"cannot_tell", QStringLiteral("Can't tell"), 1, paint};
        case Mark::ask:
            paint.rings = Rgb{0.16f, 0.14f, 0.10f};
            return {"ask_person", QStringLiteral("Ask a person"), 2, paint};
        case Mark::meets:
            return {"meets", QStringLiteral("Meets"), 3, paint};
        case Mark::none:
            break;
    }
    return {"no_answer", QStringLiteral("No rule about it"), 4, paint};
}

bool isPartOfTrouble(const CageGeometry& cage, const ResolvedMember& member) {
    const std::string id = layoutId(member.id);
    return std::ranges::any_of(cage.problems,
                               [&](const GeometryProblem& problem) { return problem.member == id; });
}

Wearing wearing(Colouring by, const Job& job, const CageGeometry& cage, std::size_t index,
                const std::vector<Mark>& marks) {
    const ResolvedMember& member = cage.members[index];
    const Role role = roleOf(member.role);
    switch (by) {
        case Colouring::by_role:
            return {role.word, wordsOf(role.name), -1, {}};
        case Colouring::by_stock:
            if (member.stock < 0)
                return {"", QStringLiteral("No such tube"), 1000, BarPaint{{0.71f, 0.69f, 0.65f}, {}}};
            return {job.stock.tubes[static_cast<std::size_t>(member.stock)].id,
                    wordsOf(tubeText(member.section, job.cage.unit)),
                    -1,
                    {}};
        case Colouring::by_state:
            if (isPartOfTrouble(cage, member))
                return {"cannot_be_built", QStringLiteral("Cannot be built as it stands"), 2,
                        BarPaint{groupPaint(2).colour, Rgb{0.16f, 0.14f, 0.10f}}};
            if (member.layout >= 0 && job.cage.members[static_cast<std::size_t>(member.layout)].optional_bar)
                return {"may_be_left_out", QStringLiteral("May be left out"), 1, groupPaint(1)};
            return {"planned", QStringLiteral("Planned"), 0, groupPaint(0)};
        case Colouring::by_result:
            return byMark(index < marks.size() ? marks[index] : Mark::none);
        default:
            break;
    }
    return {keyOf(role.place), wordsOf(std::string(placeName(role.place))), static_cast<int>(role.place),
            BarPaint{placeColour(role.place), {}}};
}

QString titleOf(Colouring by) {
    switch (by) {
        case Colouring::by_role:
            return QStringLiteral("By role");
        case Colouring::by_state:
            return QStringLiteral("By state");
        case Colouring::by_stock:
            return QStringLiteral("By tube");
        case Colouring::by_result:
            return QStringLiteral("By result");
        default:
            return QStringLiteral("By place");
    }
}

struct Line {
    QString text;
    const BarPaint* paint = nullptr;
};

std::vector<Line> linesOf(const BarGroups& groups) {
    std::vector<int> count(groups.groups.size());
    for (const int group : groups.of_member) ++count[static_cast<std::size_t>(group)];
    std::vector<Line> lines{{groups.title}};
    for (std::size_t i = 0; i < groups.groups.size() && static_cast<int>(i) < kMostRows; ++i)
        lines.push_back(
            {QStringLiteral("%1  %2").arg(groups.groups[i].words).arg(count[i]), &groups.groups[i].paint});
    if (groups.groups.size() > kMostRows)
        lines.push_back({QStringLiteral("and %1 more").arg(groups.groups.size() - kMostRows)});
    return lines;
}

QFont fontOf(bool first, double scale) {
    return typeFont(TypeSize::body, first ? TypeWeight::strong : TypeWeight::plain, scale);
}

/// As on the tube: rings across it.
void paintSwatch(QPainter& painter, const QRectF& box, const BarPaint& paint, const Palette& palette) {
    painter.fillRect(box, colourOf(paint.colour));
    if (paint.rings)
        for (const double at : {0.30, 0.72})
            painter.fillRect(
                QRectF(box.left() + at * box.width(), box.top(), 0.16 * box.width(), box.height()),
                colourOf(*paint.rings));
    painter.setPen(QPen(palette.ink_soft, 0.8));
    painter.setBrush(Qt::NoBrush);
    painter.drawRect(box);
}

}  // namespace

std::vector<BarPaint> BarGroups::paints() const {
    std::vector<BarPaint> all;
    for (std::size_t i = 0; i < of_member.size(); ++i) all.push_back(groupOf(i).paint);
    return all;
}

bool hasGroups(Colouring by) {
    return by != Colouring::by_gap && by != Colouring::steel;
}

BarGroups barGroups(Colouring by, const Job& job, const CageGeometry& cage, const std::vector<Mark>& marks) {
    BarGroups made;
    made.title = titleOf(by);
    std::vector<Wearing> found;
    std::map<std::string, std::size_t> index;
    std::vector<std::string> keys;
    for (std::size_t i = 0; i < cage.members.size(); ++i) {
        Wearing one = wearing(by, job, cage, i, marks);
        keys.push_back(one.key);
        if (index.try_emplace(one.key, found.size()).second) found.push_back(std::move(one));
    }
    std::stable_sort(found.begin(), found.end(),
                     [](const Wearing& a, const Wearing& b) { return a.order < b.order; });
    for (std::size_t i = 0; i < found.size(); ++i) {
        index[found[i].key] = i;
        made.groups.push_back(
            {found[i].key, found[i].words, found[i].paint.value_or(groupPaint(static_cast<int>(i)))});
    }
    for (const std::string& key : keys) made.of_member.push_back(static_cast<int>(index[key]));
    return made;
}

QRectF groupLegendPlace(const OverlayScene& scene) {
    const double k = scene.scale;
    double width = 0;
    const std::vector<Line> lines = linesOf(*scene.groups);
    for (std::size_t i = 0; i < lines.size(); ++i)
        width = std::max(width, (lines[i].paint ? (kSwatch + 9) * k : 0) +
                                    QFontMetricsF(fontOf(i == 0, k)).horizontalAdvance(lines[i].text));
    return legendPlace(scene, width, kRow * static_cast<double>(lines.size()) * k);
}

void paintGroupLegend(QPainter& painter, const OverlayScene& scene) {
    if (!scene.groups) return;
    const double k = scene.scale;
    const QRectF place = groupLegendPlace(scene);
    painter.save();
    painter.setRenderHint(QPainter::Antialiasing);
    paintLegendCard(painter, scene, place);
    double y = place.top() + 9 * k;
    const double x = place.left() + kLegendSide * k;
    bool first = true;
    for (const Line& line : linesOf(*scene.groups)) {
        if (line.paint)
            paintSwatch(painter, QRectF(x, y + 3 * k, kSwatch * k, (kRow - 6) * k), *line.paint,
                        scene.palette);
        painter.setFont(fontOf(first, k));
        painter.setPen(scene.palette.ink);
        painter.drawText(QPointF(x + (line.paint ? (kSwatch + 9) * k : 0),
                                 y + kRow * k / 2 + QFontMetricsF(painter.font()).capHeight() / 2),
                         line.text);
        y += kRow * k;
        first = false;
    }
    painter.restore();
}

}  // namespace hoopwright
