#include "app/window/table_text.h"

#include <QAbstractItemView>
#include <QCompleter>
#include <QFontDatabase>
#include <QHelpEvent>
#include <QKeyEvent>
#include <QListView>
#include <QPainter>
#include <QRegularExpression>
#include <QScrollBar>
#include <QStandardItemModel>
#include <QStyledItemDelegate>
#include <QTextBlock>
#include <QToolTip>
#include <algorithm>

#include "app/window/style.h"
#include "app/window/table_highlighter.h"

namespace hoopwright {
namespace {

constexpr int kMostOffered = 10, kOfferWidth = 560, kOfferHeight = 26, kGutterMark = 10;

class Gutter : public QWidget {
public:
    explicit Gutter(TableText* text) : QWidget(text), text_(text) {}
    QSize sizeHint() const override { return {text_->gutterWidth(), 0}; }

protected:
    void paintEvent(QPaintEvent* event) override {
        QPainter painter(this);
        text_->paintGutter(painter, event->rect());
    }

private:
    TableText* text_;
};

/// The word, and beside it what it means.
class WordDelegate : public QStyledItemDelegate {
public:
    WordDelegate(const Desk& desk, QObject* parent) : QStyledItemDelegate(parent), desk_(desk) {}
    QSize sizeHint(const QStyleOptionViewItem&, const QModelIndex&) const override {
        return {10, kOfferHeight};
    }
    void paint(QPainter* painter, const QStyleOptionViewItem& option,
               const QModelIndex& index) const override {
        const Palette& p = desk_.palette();
        const bool chosen = option.state & QStyle::State_Selected;
        painter->fillRect(option.rect, chosen ? p.chosen : p.card);
        const QRect box = option.rect.adjusted(kGrid, 0, -kGrid, 0);
        painter->setFont(typeFont(TypeSize::body, chosen ? TypeWeight::medium : TypeWeight::plain));
        painter->setPen(p.ink);
        const QString word = index.data().toString();
        painter->drawText(box, Qt::AlignLeft | Qt::AlignVCenter, word);
        const int taken = std::max(160, painter->fontMetrics().horizontalAdvance(word) + 2 * kGrid);
        painter->setFont(typeFont(TypeSize::small));
        painter->setPen(p.ink_soft);
        const QRect rest = box.adjusted(taken, 0, 0, 0);
        painter->drawText(rest, Qt::AlignLeft | Qt::AlignVCenter,
                          painter->fontMetrics().elidedText(index.data(Qt::ToolTipRole).toString(),
                                                            Qt::ElideRight, rest.width()));
    }

private:
    const Desk& desk_;
};

bool isWordKey(const QString& typed) {
    return typed.size() == 1 && (typed[0].isLetter() || typed[0] == QLatin1Char('_'));
}

}  // namespace

TableText::TableText(Desk& desk, QWidget* parent)
    : QPlainTextEdit(parent),
      desk_(desk),
      gutter_(new Gutter(this)),
      colours_(new TableHighlighter(document(), desk.palette().tone)),
      completer_(new QCompleter(this)),
      words_(new QStandardItemModel(this)) {
    setAccessibleName(tr("Text of the table"));
    setLineWrapMode(QPlainTextEdit::NoWrap);
    setTabChangesFocus(true);
    QFont font = QFontDatabase::systemFont(QFontDatabase::FixedFont);
    font.setPixelSize(int(TypeSize::body));
    document()->setDefaultFont(font);
    setFont(font);
    completer_->setModel(words_);
    completer_->setWidget(this);
    completer_->setMaxVisibleItems(kMostOffered);
    completer_->setCaseSensitivity(Qt::CaseInsensitive);
    completer_->popup()->setItemDelegate(new WordDelegate(desk, completer_->popup()));
    completer_->popup()->setAccessibleName(tr("Words that can stand here"));
    connect(completer_, qOverload<const QString&>(&QCompleter::activated), this, &TableText::take);
    connect(this, &QPlainTextEdit::blockCountChanged, this,
            [this] { setViewportMargins(gutterWidth(), 0, 0, 0); });
    connect(this, &QPlainTextEdit::updateRequest, this, [this](const QRect& rect, int by) {
        if (by != 0) gutter_->scroll(0, by);
        gutter_->update(0, rect.y(), gutter_->width(), rect.height());
    });
    connect(this, &QPlainTextEdit::cursorPositionChanged, this, [this] {
        underline();
        gutter_->update();
    });
    connect(&desk_, &Desk::paletteChanged, this, &TableText::dress);
    setViewportMargins(gutterWidth(), 0, 0, 0);
    dress();
}

void TableText::dress() {
    colours_->setTone(desk_.palette().tone);
    // A class of its own sheet: a text this size does not sit in a field.
    const Palette& p = desk_.palette();
    setStyleSheet(
        QStringLiteral(
            "QPlainTextEdit, QPlainTextEdit:focus, QPlainTextEdit:hover { background: %1; border: none; "
            "border-radius: 0; padding: 0; font-size: %2px; }")
            .arg(p.card.name())
            .arg(int(TypeSize::body)));
    completer_->popup()->setStyleSheet(QStringLiteral("QListView { background: %1; border: 1px solid %2; }")
                                           .arg(p.card.name(), p.ink_soft.name()));
    underline();
    gutter_->update();
}

int TableText::gutterWidth() const {
    const int digits = std::max(3, int(QString::number(std::max(1, blockCount())).size()));
    return kGutterMark + digits * fontMetrics().horizontalAdvance(QLatin1Char('9')) + 2 * kGrid;
}

void TableText::paintGutter(QPainter& painter, const QRect& rect) {
    const Palette& p = desk_.palette();
    painter.fillRect(rect, p.card);
    painter.setFont(font());
    painter.setRenderHint(QPainter::Antialiasing);
    const int current = textCursor().blockNumber();
    for (QTextBlock block = firstVisibleBlock(); block.isValid(); block = block.next()) {
        const QRectF box = blockBoundingGeometry(block).translated(contentOffset());
        if (box.top() > rect.bottom()) break;
        if (!block.isVisible() || box.bottom() < rect.top()) continue;
        const int number = block.blockNumber();
        painter.setPen(number == current ? p.ink : p.ink_soft);
        painter.drawText(QRectF(0, box.top(), gutter_->width() - kGrid, fontMetrics().height()),
                         Qt::AlignRight | Qt::AlignVCenter, QString::number(number + 1));
        const TextMark* worst = nullptr;
        for (const TextMark& mark : marks_)
            if (mark.line == number + 1 && (!worst || mark.wrong)) worst = &mark;
        if (!worst) continue;
        // A triangle is wrong, a ring is to be known: not by colour alone.
        const double y = box.top() + fontMetrics().height() / 2.0;
        painter.setPen(QPen(worst->wrong ? p.fails : p.ask, 1.5));
        painter.setBrush(worst->wrong ? QBrush(p.fails) : QBrush(Qt::NoBrush));
        if (worst->wrong)
            painter.drawPolygon(QPolygonF({{8, y - 4}, {12.5, y + 3.5}, {3.5, y + 3.5}}));
        else
            painter.drawEllipse(QPointF(8, y), 3.5, 3.5);
    }
}

void TableText::resizeEvent(QResizeEvent* event) {
    QPlainTextEdit::resizeEvent(event);
    const QRect inside = contentsRect();
    gutter_->setGeometry(QRect(inside.left(), inside.top(), gutterWidth(), inside.height()));
}

void TableText::setMarks(std::vector<TextMark> marks) {
    marks_ = std::move(marks);
    underline();
    gutter_->update();
}

QTextCursor TableText::cursorAt(int line, int column) const {
    QTextBlock block = document()->findBlockByNumber(std::max(0, line - 1));
    if (!block.isValid()) block = document()->lastBlock();
    // Columns count characters; a text counts its halves of the rare ones.
    const QString text = block.text();
    int at = 0;
    for (int n = 1; n < column && at < text.size(); ++n) at += text[at].isHighSurrogate() ? 2 : 1;
    QTextCursor cursor(block);
    cursor.setPosition(block.position() + std::min(at, int(text.size())));
    return cursor;
}

void TableText::underline() {
    const Palette& p = desk_.palette();
    QList<QTextEdit::ExtraSelection> all;
    QTextEdit::ExtraSelection current;
    current.format.setBackground(p.field);
    current.format.setProperty(QTextFormat::FullWidthSelection, true);
    current.cursor = textCursor();
    current.cursor.clearSelection();
    all << current;
    for (const TextMark& mark : marks_) {
        QTextEdit::ExtraSelection one;
        one.cursor = cursorAt(mark.line, mark.column);
        // To the end of the word or value it begins.
        const QString text = one.cursor.block().text();
        const int from = one.cursor.positionInBlock();
        int to = from;
        while (to < text.size() && !QStringLiteral(",]}#").contains(text[to])) {
            if (text[to] == QLatin1Char(':') && (to + 1 == text.size() || text[to + 1].isSpace())) break;
            ++to;
        }
        while (to > from && text[to - 1].isSpace()) --to;
        if (to == from) to = std::min(from + 1, int(text.size()));
        one.cursor.setPosition(one.cursor.block().position() + to, QTextCursor::KeepAnchor);
        one.format.setUnderlineStyle(mark.wrong ? QTextCharFormat::WaveUnderline : QTextCharFormat::DotLine);
        one.format.setUnderlineColor(mark.wrong ? p.fails : p.ask);
        all << one;
    }
    setExtraSelections(all);
}

void TableText::goTo(int line, int column) {
    setTextCursor(cursorAt(line, column));
    centerCursor();
}

void TableText::replaceAll(const QString& text) {
    const QString now = toPlainText();
    if (now == text) return;
    int same = 0;
    const int least = int(std::min(now.size(), text.size()));
    while (same < least && now[same] == text[same]) ++same;
    int tail = 0;
    while (tail < least - same && now[now.size() - 1 - tail] == text[text.size() - 1 - tail]) ++tail;
    QTextCursor cursor(document());
    cursor.setPosition(same);
    cursor.setPosition(int(now.size()) - tail, QTextCursor::KeepAnchor);
    cursor.insertText(text.mid(same, text.size() - same - tail));
}

int TableText::line() const {
    return textCursor().blockNumber() + 1;
}

int TableText::column() const {
    return int(textCursor().block().text().left(textCursor().positionInBlock()).toUcs4().size()) + 1;
}

std::size_t TableText::byte() const {
    return std::size_t(toPlainText().left(textCursor().position()).toUtf8().size());
}

const TextMark* TableText::markAt(const QPoint& place) const {
    const QTextCursor cursor = cursorForPosition(place);
    for (const TextMark& mark : marks_)
        if (mark.line == cursor.blockNumber() + 1) return &mark;
    return nullptr;
}

bool TableText::offering() const {
    return completer_->popup()->isVisible();
}

bool TableText::event(QEvent* event) {
    if (event->type() == QEvent::ShortcutOverride) {
        // While the text has the keyboard these are about the text, not about the job.
        const auto* key = static_cast<QKeyEvent*>(event);
        const bool own =
            key->matches(QKeySequence::Save) || key->matches(QKeySequence::Undo) ||
            key->matches(QKeySequence::Redo) ||
            (key->key() == Qt::Key_S && key->modifiers() == (Qt::ControlModifier | Qt::ShiftModifier)) ||
            (key->key() == Qt::Key_Y && key->modifiers() == Qt::ControlModifier) ||
            (key->key() == Qt::Key_Space && key->modifiers() == Qt::ControlModifier) ||
            (key->key() == Qt::Key_Escape && offering());
        if (own) {
            event->accept();
            return true;
        }
    }
    if (event->type() == QEvent::ToolTip) {
        const auto* help = static_cast<QHelpEvent*>(event);
        const QPoint place = viewport()->mapFrom(this, help->pos());
        if (const TextMark* mark = markAt(place)) {
            QToolTip::showText(help->globalPos(), mark->words, this);
            return true;
        }
        QTextCursor word = cursorForPosition(place);
        word.select(QTextCursor::WordUnderCursor);
        const QString meaning = meaningOf(word.selectedText());
        QToolTip::showText(help->globalPos(), meaning, this);
        return true;
    }
    return QPlainTextEdit::event(event);
}

void TableText::newLine() {
    // The next line begins where this one does; under a key with nothing behind it, farther in.
    const QString line = textCursor().block().text().left(textCursor().positionInBlock());
    static const QRegularExpression kBeginning(QStringLiteral("^(\\s*)(-\\s+)?"));
    const auto match = kBeginning.match(line);
    int indent = int(match.capturedLength(1) + match.capturedLength(2));
    if (line.trimmed().endsWith(QLatin1Char(':')) && remarkStart(line) < 0) indent += 2;
    textCursor().insertText(QLatin1Char('\n') + QString(indent, QLatin1Char(' ')));
    ensureCursorVisible();
}

void TableText::keyPressEvent(QKeyEvent* event) {
    if (offering()) {
        switch (event->key()) {
            case Qt::Key_Enter:
            case Qt::Key_Return:
            case Qt::Key_Tab:
            case Qt::Key_Backtab:
            case Qt::Key_Escape:
                event->ignore();  // the list's own
                return;
            default:
                break;
        }
    }
    const bool control = event->modifiers() & Qt::ControlModifier;
    if (event->key() == Qt::Key_S && control) {
        if (event->modifiers() & Qt::ShiftModifier)
            emit saveAsWanted();
        else
            emit saveWanted();
        return;
    }
    if (control && event->key() == Qt::Key_Y) {
        redo();
        return;
    }
    if (isReadOnly()) return QPlainTextEdit::keyPressEvent(event);
    if (control && event->key() == Qt::Key_Space) return offerWords();
    if ((event->key() == Qt::Key_Return || event->key() == Qt::Key_Enter) && !control) return newLine();
    QPlainTextEdit::keyPressEvent(event);
    const bool rubbing = offering() && event->key() == Qt::Key_Backspace;
    if (!control && (isWordKey(event->text()) || rubbing)) {
        const WordsHere here = wordsAt(toPlainText(), textCursor().position(), known_);
        if (here.begun.size() >= 2 || (rubbing && !here.begun.isEmpty())) return fillWords(here);
    }
    if (!event->text().isEmpty()) completer_->popup()->hide();
}

void TableText::offerWords() {
    fillWords(wordsAt(toPlainText(), textCursor().position(), known_));
}

void TableText::fillWords(const WordsHere& here) {
    words_->clear();
    keys_offered_ = here.are_keys;
    for (const TableWord& one : here.words) {
        auto* item = new QStandardItem(one.word);
        item->setToolTip(one.meaning);
        item->setAccessibleText(one.meaning.isEmpty() ? one.word
                                                      : one.word + QStringLiteral(", ") + one.meaning);
        words_->appendRow(item);
    }
    completer_->setCompletionPrefix(here.begun);
    const int found = completer_->completionCount();
    if (found == 0 || (found == 1 && completer_->currentCompletion() == here.begun)) {
        completer_->popup()->hide();
        return;
    }
    completer_->popup()->setCurrentIndex(completer_->completionModel()->index(0, 0));
    QRect at = cursorRect();
    at.translate(viewport()->x(), 0);
    at.setWidth(kOfferWidth);
    completer_->complete(at);
}

void TableText::take(const QString& word) {
    QTextCursor cursor = textCursor();
    cursor.movePosition(QTextCursor::Left, QTextCursor::KeepAnchor,
                        int(completer_->completionPrefix().size()));
    const QString rest = cursor.block().text().mid(textCursor().positionInBlock());
    const bool colon = keys_offered_ && !rest.startsWith(QLatin1Char(':'));
    cursor.insertText(word + (colon ? QStringLiteral(": ") : QString()));
    setTextCursor(cursor);
}

}  // namespace hoopwright
