#include "app/window/style.h"

#include <QDialogButtonBox>
#include <QPainter>
#include <QProxyStyle>
#include <QScreen>
#include <QStyleFactory>
#include <QStyleOption>
#include <QWidget>
#include <algorithm>
#include <cmath>
#include <initializer_list>
#include <utility>

namespace hoopwright {
namespace {

// Names in @angle brackets@ are replaced by colours of the set.
constexpr const char* kSheet = R"(
QWidget { color: @ink@; }
QMainWindow, QDialog { background: @paper@; }
#card, #card > QWidget#page, QScrollArea#card > QWidget > QWidget { background: @card@; }
#bar { background: @card@; border-bottom: 1px solid @line@; }
#float { background: @card@; border: 1px solid @line@; border-radius: 8px; }
QScrollArea { border: none; }
QListWidget { background: @field@; border-radius: 6px; padding: 4px; }
QListWidget::item { border-radius: 4px; padding: 2px 6px; }
QListWidget::item:selected { background: @chosen@; color: @ink@; }
QListWidget:focus { border: 1px solid @accent_edge@; }
QLabel[role="soft"] { color: @ink_soft@; }
QLabel[role="wrong"] { color: @fails@; }
QLabel[role="asks"] { background: @accent@; color: @accent_ink@; border-radius: 6px; padding: 6px 12px; }
QLineEdit, QPlainTextEdit {
  background: @field@; border: 1px solid @field@; border-radius: 6px; padding: 3px 7px; min-height: 20px;
  selection-background-color: @accent@; selection-color: @accent_ink@; }
QLineEdit:hover, QPlainTextEdit:hover { border-color: @line@; }
QLineEdit:focus, QPlainTextEdit:focus { border-color: @accent_edge@; background: @card@; }
QLineEdit[blank="true"] { background: @card@; border: 1px dashed @ink_soft@; }
QLineEdit[blank="true"]:focus { border: 1px solid @accent_edge@; }
QLineEdit[wrong="true"] { border-color: @fails@; }
QLineEdit:disabled { color: @ink_soft@; }
QPushButton, QToolButton {
  background: transparent; color: @action@; border: 1px solid transparent; border-radius: 6px; padding: 4px 8px; }
QPushButton:hover, QToolButton:hover { background: @field@; }
QPushButton:focus, QToolButton:focus { border-color: @accent_edge@; }
QPushButton:pressed, QToolButton:pressed, QToolButton:checked { background: @chosen@; color: @ink@; }
QPushButton:disabled, QToolButton:disabled { color: @ink_soft@; }
QPushButton[primary="true"] { background: @accent@; color: @accent_ink@; padding: 6px 16px; }
QPushButton[primary="true"]:focus { border-color: @ink@; }
QToolButton[flush="true"] { padding: 3px 6px 3px 0; }
QToolButton::menu-indicator { image: none; }
QMenuBar { background: transparent; color: @ink@; }
QMenuBar::item { background: transparent; padding: 6px 8px; border-radius: 6px; }
QMenuBar::item:selected { background: @field@; }
QMenu { background: @card@; border: 1px solid @line@; padding: 6px; }
QMenu::item { padding: 5px 24px 5px 24px; border-radius: 4px; }
QMenu::item:selected { background: @chosen@; color: @ink@; }
QMenu::item:disabled { color: @ink_soft@; }
QMenu::separator { height: 1px; background: @line@; margin: 5px 8px; }
QMenu::indicator { left: 6px; width: 10px; height: 10px; border-radius: 5px; border: 1px solid @ink_soft@; }
QMenu::indicator:checked { background: @accent@; border-color: @accent_edge@; }
QHeaderView, QHeaderView::section { background: @card@; color: @ink_soft@; border: none; padding: 2px 6px; min-height: 22px; }
QTreeWidget::item { padding: 3px 6px; }
QListView, QTreeView, QTextBrowser { background: @card@; border: none; outline: none; }
QTextBrowser { selection-background-color: @accent@; selection-color: @accent_ink@; }
QSplitter::handle { background: @line@; }
QScrollBar:vertical { background: transparent; width: 10px; margin: 0; }
QScrollBar:horizontal { background: transparent; height: 10px; margin: 0; }
QScrollBar::handle { background: @line@; border-radius: 4px; margin: 2px; }
QScrollBar::handle:vertical { min-height: 32px; }
QScrollBar::handle:horizontal { min-width: 32px; }
QScrollBar::handle:hover { background: @ink_soft@; }
QScrollBar::add-line, QScrollBar::sub-line { width: 0; height: 0; }
QScrollBar::add-page, QScrollBar::sub-page { background: transparent; }
QToolTip { background: @rail@; color: @rail_ink@; border: none; padding: 6px 8px; }
QAbstractSpinBox QLineEdit, QAbstractSpinBox QLineEdit:focus {
  background: transparent; border: none; padding: 0 2px; min-height: 0; }
QCheckBox:disabled { color: @ink_soft@; }
QTabWidget::pane { border: none; border-top: 1px solid @line@; }
QTabBar { qproperty-drawBase: 0; }
QTabBar::tab { background: transparent; color: @ink_soft@; border: none; border-bottom: 2px solid transparent;
  padding: 6px 2px; margin-right: 20px; }
QTabBar::tab:hover { color: @ink@; border-bottom-color: @line@; }
QTabBar::tab:selected { color: @ink@; border-bottom-color: @accent_edge@; }
QTabBar::tab:selected:focus { background: @field@; }
QProgressBar { background: @field@; border: none; border-radius: 4px; min-height: 8px; text-align: center; }
QProgressBar::chunk { background: @accent@; border-radius: 4px; }
QTableView { background: @card@; border: none; gridline-color: @line@; alternate-background-color: @paper@;
  selection-background-color: @chosen@; selection-color: @ink@; }
QTableView QLineEdit { border-radius: 0; padding: 0 4px; min-height: 0; background: @card@; }
QComboBox QAbstractItemView { background: @card@; border: 1px solid @line@; padding: 4px; outline: none;
  selection-background-color: @chosen@; selection-color: @ink@; }
)";

/// Buttons of dialogs have no icons; lists are fields. Boxes for ticks: their usual outline is a shade of the
/// window's colour, which is lost on a dark card.
class PaperStyle : public QProxyStyle {
public:
    PaperStyle() : QProxyStyle(QStyleFactory::create(QStringLiteral("Fusion"))) {}
    int styleHint(StyleHint hint, const QStyleOption* option, const QWidget* widget,
                  QStyleHintReturn* more) const override {
        if (hint == SH_DialogButtonBox_ButtonsHaveIcons) return 0;
        // What most people want stands last, at the right, as on every card of the program.
        if (hint == SH_DialogButtonLayout) return QDialogButtonBox::GnomeLayout;
        return QProxyStyle::styleHint(hint, option, widget, more);
    }
    void drawPrimitive(PrimitiveElement element, const QStyleOption* option, QPainter* painter,
                       const QWidget* widget) const override {
        if (element != PE_IndicatorCheckBox && element != PE_IndicatorItemViewItemCheck)
            return QProxyStyle::drawPrimitive(element, option, painter, widget);
        const QPalette& colours = option->palette;
        const bool on = option->state & State_On, half = option->state & State_NoChange;
        const bool enabled = option->state & State_Enabled;
        painter->save();
        painter->setRenderHint(QPainter::Antialiasing);
        const double side = std::min(15, std::min(option->rect.width(), option->rect.height()) - 1);
        const QRectF whole(option->rect);
        const QRectF box(whole.center().x() - side / 2, whole.center().y() - side / 2, side, side);
        painter->setPen(QPen(colours.color(QPalette::PlaceholderText), enabled ? 1.2 : 0.8));
        painter->setBrush(on || half ? colours.highlight() : colours.button());
        painter->drawRoundedRect(box, 4, 4);
        painter->setPen(
            QPen(colours.color(QPalette::HighlightedText), 2, Qt::SolidLine, Qt::RoundCap, Qt::RoundJoin));
        const double k = side / 15;
        if (half)
            painter->drawLine(box.topLeft() + k * QPointF(4, 7.5), box.topLeft() + k * QPointF(11, 7.5));
        else if (on)
            painter->drawPolyline(QPolygonF{box.topLeft() + k * QPointF(3.5, 8),
                                            box.topLeft() + k * QPointF(6.5, 11),
                                            box.topLeft() + k * QPointF(11.5, 4.5)});
        painter->restore();
    }
    /// A list to choose from and a count with its two arrows look like the fields beside them.
    void drawComplexControl(ComplexControl control, const QStyleOptionComplex* option, QPainter* painter,
                            const QWidget* widget) const override {
        const auto* list = qstyleoption_cast<const QStyleOptionComboBox*>(option);
        const auto* count = qstyleoption_cast<const QStyleOptionSpinBox*>(option);
        if (control == CC_ComboBox && list && !list->editable) {
            painter->save();
            drawField(*option, painter);
            const QPointF tip = QRectF(list->rect).center() + QPointF(list->rect.width() / 2.0 - 13, 0.5);
            drawArrow(painter, *option, tip, 2, list->state & State_Enabled);
            painter->restore();
        } else if (control == CC_SpinBox && count) {
            painter->save();
            drawField(*option, painter);
            drawStep(*count, SC_SpinBoxUp, painter, widget);
            drawStep(*count, SC_SpinBoxDown, painter, widget);
            painter->restore();
        } else {
            QProxyStyle::drawComplexControl(control, option, painter, widget);
        }
    }

private:
    static void drawField(const QStyleOptionComplex& option, QPainter* painter) {
        const QPalette& colours = option.palette;
        painter->setRenderHint(QPainter::Antialiasing);
        if (option.state & State_HasFocus)
            painter->setPen(QPen(colours.color(QPalette::Highlight), 1));
        else if ((option.state & State_Enabled) && (option.state & State_MouseOver))
            painter->setPen(QPen(colours.color(QPalette::PlaceholderText), 1));
        else
            painter->setPen(Qt::NoPen);
        painter->setBrush(colours.button());
        painter->drawRoundedRect(QRectF(option.rect).adjusted(0.5, 0.5, -0.5, -0.5), 6, 6);
    }
    /// `deep`: half its height; negative, it points up.
    static void drawArrow(QPainter* painter, const QStyleOption& option, const QPointF& middle, double deep,
                          bool live) {
        const QPalette& colours = option.palette;
        painter->setPen(QPen(colours.color(live ? QPalette::ButtonText : QPalette::PlaceholderText), 1.5,
                             Qt::SolidLine, Qt::RoundCap, Qt::RoundJoin));
        const double wide = 2 * std::abs(deep);
        painter->drawPolyline(QPolygonF{middle + QPointF(-wide, -deep), middle + QPointF(0, deep),
                                        middle + QPointF(wide, -deep)});
    }
    void drawStep(const QStyleOptionSpinBox& count, SubControl which, QPainter* painter,
                  const QWidget* widget) const {
        const bool up = which == SC_SpinBoxUp;
        const QRectF place(proxy()->subControlRect(CC_SpinBox, &count, which, widget));
        const bool live = (count.state & State_Enabled) &&
                          count.stepEnabled.testFlag(up ? QAbstractSpinBox::StepUpEnabled
                                                        : QAbstractSpinBox::StepDownEnabled);
        drawArrow(painter, count, place.center(), up ? -1.5 : 1.5, live);
    }
};

}  // namespace

QStyle* newStyle() {
    return new PaperStyle;
}

QString styleSheetOf(const Palette& p) {
    QString sheet = QString::fromLatin1(kSheet);
    const std::initializer_list<std::pair<const char*, QColor>> names = {
        {"@ink@", p.ink},       {"@ink_soft@", p.ink_soft},     {"@paper@", p.paper},
        {"@card@", p.card},     {"@field@", p.field},           {"@line@", p.line},
        {"@rail@", p.rail},     {"@rail_ink@", p.rail_ink},     {"@accent@", p.accent},
        {"@fails@", p.fails},   {"@accent_ink@", p.accent_ink}, {"@accent_edge@", p.accent_edge},
        {"@chosen@", p.chosen}, {"@action@", p.action},
    };
    for (const auto& [name, colour] : names) sheet.replace(QLatin1String(name), colour.name());
    return sheet;
}

QPalette qtPaletteOf(const Palette& p) {
    QPalette qt;
    qt.setColor(QPalette::Window, p.paper);
    qt.setColor(QPalette::WindowText, p.ink);
    qt.setColor(QPalette::Base, p.card);
    qt.setColor(QPalette::AlternateBase, p.paper);
    qt.setColor(QPalette::Text, p.ink);
    qt.setColor(QPalette::PlaceholderText, p.ink_soft);
    qt.setColor(QPalette::Button, p.field);
    qt.setColor(QPalette::ButtonText, p.ink);
    qt.setColor(QPalette::Highlight, p.accent);
    qt.setColor(QPalette::HighlightedText, p.accent_ink);
    qt.setColor(QPalette::Link, p.action);
    qt.setColor(QPalette::ToolTipBase, p.rail);
    qt.setColor(QPalette::ToolTipText, p.rail_ink);
    return qt;
}

void resizeOnScreen(QWidget* window, QSize wished) {
    const QScreen* screen = window->parentWidget() ? window->parentWidget()->screen() : window->screen();
    // Its frame and title need some of the height too.
    const QSize room = screen->availableSize() - QSize(2 * kGrid, 5 * kGrid);
    window->resize(wished.boundedTo(room));
}

void makePrimary(QWidget* button) {
    button->setProperty("primary", true);
    button->style()->unpolish(button);  // a message box dresses its buttons as it takes them
    button->style()->polish(button);
}

}  // namespace hoopwright
