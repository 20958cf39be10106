#include "app/window/falls_short.h"

#include <QItemSelectionModel>
#include <QPainter>
#include <QVBoxLayout>
#include <algorithm>

#include "app/view/marks.h"
#include "app/window/check_news.h"
#include "app/window/findings.h"
#include "app/window/form_help.h"
#include "app/window/style.h"
#include "core/edit/cage_edits.h"

namespace hoopwright {
namespace {

constexpr double kRoomForAll = 740;
constexpr int kHeadHeight = 36, kLineHeight = 30;

/// Where the columns stand, from the left edge of a line `width` wide.
struct Columns {
    QRectF mark, title, value, limit, by, clause, way_out;
};

/// `several`: the clause says of which table it is.
Columns columnsIn(const QRectF& box, bool several) {
    Columns at;
    double x = box.left();
    const auto take = [&](double width) {
        const QRectF column(x, box.top(), width, box.height());
        x += width + 12;
        return column;
    };
    at.mark = take(16);
    const double rest = box.width() - 16 - 12 * 6;
    // Where room is short, the value and the clause wait in the details: what to do stays.
    const bool wide = rest > kRoomForAll;
    // Beyond that, half of what there is more of goes to the title, which says where.
    const double more = wide ? rest - kRoomForAll : 0, base = rest - 0.7 * more;
    at.title = take(wide ? kRoomForAll * 0.27 + more * 0.5 : rest * (several ? 0.29 : 0.33));
    at.value = wide ? take(base * 0.09) : QRectF(x, box.top(), 0, box.height());
    at.limit = take(base * (wide ? 0.16 : several ? 0.17 : 0.19));
    at.by = take(base * (wide ? 0.13 : several ? 0.16 : 0.18));
    // Of several tables a line always says whose it is.
    at.clause = wide || several ? take(base * (several ? 0.17 : 0.05)) : QRectF();
    at.way_out = QRectF(x, box.top(), box.right() - x, box.height());
    return at;
}

/// What does not fit loses its end, or its middle where the end tells left from right.
void drawWords(QPainter& painter, const QRectF& box, Qt::Alignment align, const QString& words,
               Qt::TextElideMode loses = Qt::ElideRight) {
    if (box.width() <= 0) return;
    const QString shown = painter.fontMetrics().elidedText(words, loses, int(box.width()));
    painter.drawText(box, align | Qt::AlignVCenter, shown);
}

/// "4.2", and of several tables whose: "4.2, Hill saloons".
QString clauseOf(const Finding& finding, const CheckReport& report) {
    const QString clause = QString::fromStdString(finding.clause);
    if (report.tables.size() < 2) return clause;
    const auto table = std::find_if(report.tables.begin(), report.tables.end(),
                                    [&](const RuleTableInfo& one) { return one.id == finding.table; });
    if (table == report.tables.end()) return clause;
    const QString title = QString::fromStdString(table->title);
    return clause.isEmpty() ? title : clause + QStringLiteral(", ") + title;
}

/// "A. Builder, 2026-03-02: it is not": of what fails because a person said so; empty of everything else.
QString saidNo(const Document& document, const Finding& finding) {
    if (finding.answer != Answer::fails) return {};
    for (const PersonsAnswer& one : document.job().cage.answers) {
        if (one.table != finding.table || one.rule != finding.rule || one.subject != finding.subject)
            continue;
        if (!one.good) return QObject::tr("%1, %2: it is not").arg(text(one.who), text(one.when));
    }
    return {};
}

}  // namespace

std::vector<ShortLine> linesOf(const Document& document, UnitsShown units) {
    std::vector<ShortLine> lines;
    for (const GeometryProblem& problem : document.geometry().problems) {
        ShortLine line;
        line.member = problem.member.empty() ? problem.plate : problem.member;
        line.at = problem.at;
        line.title = QString::fromStdString(problem.text);
        line.way_out = QString::fromStdString(problem.remedy);
        line.clause = QObject::tr("shape");
        line.sentence = QObject::tr("can't be built: ") + line.title + QLatin1Char(' ') + line.way_out;
        lines.push_back(std::move(line));
    }
    for (const Problem& problem : document.tableProblems()) {
        ShortLine line;
        line.answer = Answer::cannot_tell;
        line.title = QObject::tr("Class table not read: ") + QString::fromStdString(problem.text());
        line.sentence = line.title;
        lines.push_back(std::move(line));
    }
    const CheckReport& report = document.report();
    for (const int index : worstFirst(report)) {
        const Finding& finding = report.findings[std::size_t(index)];
        if (finding.answer == Answer::meets || finding.answer == Answer::does_not_apply) continue;
        const FindingWords words = wordsOf(finding, units);
        ShortLine line;
        line.answer = finding.answer;
        line.key = findingKey(finding);
        line.recommended = finding.severity == Severity::recommended;
        line.at = finding.evidence.look_at;
        line.title = line.recommended ? words.title + QObject::tr(" (recommended)") : words.title;
        line.value = words.value;
        line.limit = words.limit;
        line.by = finding.answer == Answer::fails ? words.by : QString();
        line.clause = clauseOf(finding, report);
        line.way_out = shortWayOut(finding);
        if (line.way_out.isEmpty()) line.way_out = saidNo(document, finding);
        line.sentence = words.sentence;
        if (report.tables.size() > 1) line.sentence += QStringLiteral(" (") + line.clause + QLatin1Char(')');
        lines.push_back(std::move(line));
    }
    for (const LayoutNote& note : document.geometry().notes) {
        ShortLine line;
        line.answer = Answer::ask_person;
        line.member = note.plate.empty() ? note.member : note.plate;
        line.at = note.at;
        line.title = QString::fromStdString(note.text);
        line.way_out = QString::fromStdString(note.remedy);
        line.clause = QObject::tr("to know");
        line.sentence = QObject::tr("to know: ") + line.title + QLatin1Char(' ') + line.way_out;
        lines.push_back(std::move(line));
    }
    return lines;
}

void ShortModel::setLines(std::vector<ShortLine> lines) {
    if (lines == lines_) return;
    const auto sameThing = [](const ShortLine& a, const ShortLine& b) {
        return !a.key.empty() && a.key == b.key;
    };
    if (std::equal(lines.begin(), lines.end(), lines_.begin(), lines_.end(), sameThing)) {
        lines_ = std::move(lines);
        emit dataChanged(index(0), index(int(lines_.size()) - 1));
        return;
    }
    beginResetModel();
    lines_ = std::move(lines);
    endResetModel();
}

int ShortModel::rowOf(const std::string& key) const {
    const auto found =
        std::find_if(lines_.begin(), lines_.end(), [&](const ShortLine& line) { return line.key == key; });
    return found == lines_.end() || key.empty() ? -1 : int(found - lines_.begin());
}

int ShortModel::rowCount(const QModelIndex& parent) const {
    return parent.isValid() ? 0 : int(lines_.size());
}

QVariant ShortModel::data(const QModelIndex& index, int role) const {
    if (!index.isValid()) return {};
    const ShortLine& one = line(index.row());
    if (role == Qt::DisplayRole) return one.title;
    if (role == Qt::AccessibleTextRole) return one.sentence;
    if (role == Qt::ToolTipRole)
        return one.way_out.isEmpty() ? one.sentence : one.sentence + QLatin1Char('\n') + one.way_out;
    return {};
}

QSize ShortDelegate::sizeHint(const QStyleOptionViewItem&, const QModelIndex&) const {
    return {10, kLineHeight};
}

void ShortDelegate::paint(QPainter* painter, const QStyleOptionViewItem& option,
                          const QModelIndex& index) const {
    const ShortLine& line = static_cast<const ShortModel*>(index.model())->line(index.row());
    const Palette& p = desk_.palette();
    painter->save();
    painter->setRenderHint(QPainter::Antialiasing);
    const QRectF outer = QRectF(option.rect).adjusted(kGrid, 0, -kGrid, 0);
    const bool chosen = option.state & QStyle::State_Selected;
    if (chosen || (option.state & QStyle::State_MouseOver)) {
        painter->setPen(Qt::NoPen);
        painter->setBrush(chosen ? p.chosen : p.field);
        painter->drawRoundedRect(outer.adjusted(0, 1, 0, -1), 6, 6);
    } else if (index.row() > 0) {
        painter->fillRect(QRectF(outer.left() + kGrid, outer.top(), outer.width() - 2 * kGrid, 1), p.line);
    }
    if (chosen && (option.state & QStyle::State_HasFocus)) {
        painter->setPen(p.accent_edge);
        painter->setBrush(Qt::NoBrush);
        painter->drawRoundedRect(outer.adjusted(0.5, 1.5, -0.5, -1.5), 6, 6);
    }
    Columns at = columnsIn(outer.adjusted(kGrid, 0, -kGrid, 0), desk_.document.report().tables.size() > 1);
    const bool geometry = line.key.empty();
    if (geometry) at.title.setRight(at.by.right());
    paintMark(*painter, QRectF(at.mark.left(), at.mark.center().y() - 7, 14, 14), line.answer, p);
    painter->setPen(p.ink);
    painter->setFont(typeFont(TypeSize::body, geometry ? TypeWeight::plain : TypeWeight::medium));
    drawWords(*painter, at.title, Qt::AlignLeft, line.title, geometry ? Qt::ElideRight : Qt::ElideMiddle);
    painter->setFont(typeFont(TypeSize::body, TypeWeight::strong));
    if (at.value.width() > 0) drawFigures(*painter, at.value, Qt::AlignRight | Qt::AlignVCenter, line.value);
    painter->setPen(p.fails);
    if (!line.by.isEmpty()) drawFigures(*painter, at.by, Qt::AlignRight | Qt::AlignVCenter, line.by);
    painter->setFont(typeFont(TypeSize::body));
    painter->setPen(p.ink_soft);
    QRectF wanted = at.limit;
    if (line.by.isEmpty() && line.way_out.isEmpty()) {  // a question has the rest of the line
        at.clause.moveRight(at.way_out.right());
        wanted.setRight(at.clause.isValid() ? at.clause.left() : at.way_out.right());
    } else if (line.by.isEmpty()) {
        wanted.setRight(at.by.right());
    }
    if (line.value.isEmpty()) wanted.setLeft(at.value.left());
    if (!geometry) drawWords(*painter, wanted, Qt::AlignLeft, line.limit);
    drawWords(*painter, at.clause, Qt::AlignLeft, line.clause);
    drawWords(*painter, at.way_out, Qt::AlignLeft, line.way_out);
    painter->restore();
}

FallsShort::FallsShort(Desk& desk, QWidget* parent)
    : QWidget(parent), desk_(desk), model_(new ShortModel(this)), list_(new QListView(this)) {
    setObjectName(QStringLiteral("card"));
    list_->setModel(model_);
    list_->setItemDelegate(new ShortDelegate(desk, list_));
    list_->setAccessibleName(tr("What falls short"));
    list_->setMouseTracking(true);
    list_->setVerticalScrollMode(QAbstractItemView::ScrollPerPixel);
    list_->setHorizontalScrollBarPolicy(Qt::ScrollBarAlwaysOff);
    list_->setEditTriggers(QAbstractItemView::NoEditTriggers);
    auto* column = new QVBoxLayout(this);
    column->setContentsMargins(0, kHeadHeight, 0, 4);
    column->setSpacing(0);
    column->addWidget(new CheckNews(desk, ReportMemory::usualRoot(), this));
    column->addWidget(list_, 1);
    setMinimumHeight(kHeadHeight + kLineHeight + 4);
    connect(&desk_.document, &Document::changed, this, &FallsShort::refresh);
    connect(&desk_, &Desk::unitsChanged, this, &FallsShort::refresh);
    connect(&desk_, &Desk::paletteChanged, list_->viewport(), qOverload<>(&QWidget::update));
    // Not the current row: a list that gets the keyboard makes its first row current, and nothing was chosen.
    connect(list_->selectionModel(), &QItemSelectionModel::selectionChanged, this, [this] {
        if (list_->selectionModel()->isSelected(list_->currentIndex())) choose(list_->currentIndex());
    });
    connect(list_, &QListView::clicked, this, &FallsShort::choose);
    connect(list_, &QListView::activated, this, [this](const QModelIndex& index) {
        const Finding* finding = findFinding(desk_.document.report(), model_->line(index.row()).key);
        if (finding && !finding->evidence.members.empty()) {
            desk_.selection.set({Thing::Kind::member, finding->evidence.members.front()});
        }
    });
    connect(&desk_.selection, &Selection::changed, this, &FallsShort::pullSelection);
    refresh();
}

void FallsShort::refresh() {
    pulling_ = true;
    model_->setLines(linesOf(desk_.document, desk_.units()));
    pulling_ = false;
    pullSelection();
    update();
}

void FallsShort::choose(const QModelIndex& index) {
    if (pulling_ || !index.isValid()) return;
    const ShortLine& line = model_->line(index.row());
    if (!line.key.empty()) {
        desk_.selection.set({Thing::Kind::finding, line.key});
    } else if (!line.member.empty()) {
        const std::string id = layoutId(line.member);
        if (const Member* member = desk_.document.job().cage.member(id)) {
            desk_.selection.set({Thing::Kind::member, resolvedIds(id, member->mirrored).front()});
        } else if (const Plate* plate = desk_.document.job().cage.plate(id)) {
            desk_.selection.set({Thing::Kind::plate, resolvedIds(id, plate->mirrored).front()});
        }
        emit desk_.flyTo(line.at);
    }
}

void FallsShort::pullSelection() {
    const Thing* last = desk_.selection.last();
    const int row = last && last->kind == Thing::Kind::finding ? model_->rowOf(last->id) : -1;
    pulling_ = true;
    if (row >= 0) {
        list_->selectionModel()->setCurrentIndex(model_->index(row), QItemSelectionModel::ClearAndSelect);
        list_->scrollTo(model_->index(row));
    } else {
        list_->selectionModel()->clear();
    }
    pulling_ = false;
}

void FallsShort::paintEvent(QPaintEvent*) {
    QPainter painter(this);
    painter.setRenderHint(QPainter::Antialiasing);
    const Palette& p = desk_.palette();
    painter.fillRect(rect(), p.card);
    const CheckReport& report = desk_.document.report();
    const int unbuildable = int(desk_.document.geometry().problems.size());
    QRectF head(2 * kGrid, 0, width() - 4 * kGrid, kHeadHeight);
    painter.setFont(typeFont(TypeSize::body, TypeWeight::strong));
    painter.setPen(p.ink);
    const bool calm = model_->rowCount() == int(desk_.document.geometry().notes.size());
    const QString title = calm && desk_.document.tables().empty()
                              ? tr("No class table in use: nothing is checked")
                          : calm ? tr("Nothing falls short")
                                 : tr("What falls short");
    painter.drawText(head, Qt::AlignLeft | Qt::AlignVCenter, title);
    double x = head.left() + painter.fontMetrics().horizontalAdvance(title) + 2 * kGrid;
    painter.setFont(typeFont(TypeSize::small, TypeWeight::medium));
    const auto say = [&](const QString& words, const QColor& colour) {
        painter.setPen(colour);
        painter.drawText(QRectF(x, 0, 400, kHeadHeight), Qt::AlignLeft | Qt::AlignVCenter, words);
        x += painter.fontMetrics().horizontalAdvance(words) + 2 * kGrid;
    };
    if (unbuildable > 0) say(tr("%1 can't be built").arg(unbuildable), p.fails);
    if (const int n = report.count(Answer::fails)) say(tr("%1 fail").arg(n), p.fails);
    if (const int n = report.count(Answer::cannot_tell)) say(tr("%1 can't tell").arg(n), p.cannot_tell);
    if (const int n = report.count(Answer::ask_person)) say(tr("%1 to ask").arg(n), p.ask);
    if (const int n = int(desk_.document.geometry().notes.size())) say(tr("%1 to know").arg(n), p.ask);
    painter.setPen(p.meets);
    // What meets by a number nobody has confirmed is no pass.
    const int unconfirmed = report.unconfirmed(), meet = report.count(Answer::meets) - unconfirmed;
    if (unconfirmed > 0) say(tr("%1 meet, not confirmed").arg(unconfirmed), p.cannot_tell);
    painter.setPen(p.meets);
    if (meet > 0) painter.drawText(head, Qt::AlignRight | Qt::AlignVCenter, tr("%1 meet").arg(meet));
}

}  // namespace hoopwright
