#include "app/window/tour.h"

#include <QEvent>
#include <QHBoxLayout>
#include <QKeyEvent>
#include <QLabel>
#include <QPainter>
#include <QPushButton>
#include <QRegion>
#include <QStackedWidget>
#include <QTimer>
#include <QVBoxLayout>
#include <algorithm>

#include "app/window/details.h"
#include "app/window/falls_short.h"
#include "app/window/main_window.h"
#include "app/window/style.h"
#include "app/window/view_host.h"

namespace hoopwright {
namespace {

constexpr int kCardWidth = 352, kRing = 3, kAway = 2 * kGrid;

/// A frame round a place; only the ring itself is there, so what is inside is drawn and clicked as ever.
class TourRing : public QWidget {
public:
    explicit TourRing(QWidget* parent) : QWidget(parent) {
        setAttribute(Qt::WA_TransparentForMouseEvents);
        setObjectName(QStringLiteral("tour_ring"));
    }

protected:
    void paintEvent(QPaintEvent*) override {
        QPainter(this).fillRect(rect(), palette().color(QPalette::Highlight));
    }
    void resizeEvent(QResizeEvent*) override {
        setMask(QRegion(rect()) - QRegion(rect().adjusted(kRing, kRing, -kRing, -kRing)));
    }
};

/// Where the card stands: beside the thing, inside the window, else over its lower right corner.
QPoint placeBeside(const QRect& thing, QSize card, const QRect& room) {
    const int y = std::clamp(thing.center().y() - card.height() / 2, room.top(),
                             std::max(room.top(), room.bottom() - card.height()));
    const int x = std::clamp(thing.center().x() - card.width() / 2, room.left(),
                             std::max(room.left(), room.right() - card.width()));
    if (thing.right() + kAway + card.width() < room.right()) return {thing.right() + kAway, y};
    if (thing.left() - kAway - card.width() > room.left()) return {thing.left() - kAway - card.width(), y};
    if (thing.top() - kAway - card.height() > room.top()) return {x, thing.top() - kAway - card.height()};
    if (thing.bottom() + kAway + card.height() < room.bottom()) return {x, thing.bottom() + kAway};
    return {std::min(thing.right(), room.right()) - card.width() - kAway,
            std::min(thing.bottom(), room.bottom()) - card.height() - kAway};
}

}  // namespace

Tour::Tour(std::vector<TourStop> stops, QWidget* over)
    : QFrame(over),
      stops_(std::move(stops)),
      frame_(new TourRing(over)),
      head_(new QLabel(this)),
      words_(new QLabel(this)),
      count_(new QLabel(this)),
      back_(new QPushButton(tr("Back"), this)),
      on_(new QPushButton(this)) {
    setObjectName(QStringLiteral("float"));
    setAttribute(Qt::WA_StyledBackground);
    setAccessibleName(tr("Tour"));
    setFocusPolicy(Qt::StrongFocus);
    setFixedWidth(kCardWidth);
    auto* column = new QVBoxLayout(this);
    column->setContentsMargins(3 * kGrid, 2 * kGrid + kGrid / 2, 2 * kGrid, 2 * kGrid);
    column->setSpacing(kGrid);
    head_->setFont(typeFont(TypeSize::head, TypeWeight::strong));
    head_->setWordWrap(true);
    words_->setWordWrap(true);
    count_->setProperty("role", "soft");
    count_->setFont(typeFont(TypeSize::small));
    column->addWidget(count_);
    column->addWidget(head_);
    column->addWidget(words_);
    column->addSpacing(kGrid / 2);
    auto* row = new QHBoxLayout;
    auto* leave = new QPushButton(tr("Leave the tour"), this);
    leave->setToolTip(tr("It is under Help (Esc)"));
    makePrimary(on_);
    row->addWidget(leave);
    row->addStretch(1);
    row->addWidget(back_);
    row->addWidget(on_);
    column->addLayout(row);
    connect(leave, &QPushButton::clicked, this, &Tour::end);
    connect(back_, &QPushButton::clicked, this, [this] { turnTo(at_ - 1); });
    connect(on_, &QPushButton::clicked, this, [this] {
        if (at_ + 1 < int(stops_.size()))
            turnTo(at_ + 1);
        else
            end();
    });
    over->installEventFilter(this);
}

void Tour::turnTo(int stop) {
    at_ = std::clamp(stop, 0, int(stops_.size()) - 1);
    const TourStop& here = stops_[std::size_t(at_)];
    here.go();
    count_->setText(tr("%1 of %2").arg(at_ + 1).arg(stops_.size()));
    head_->setText(here.head);
    words_->setText(here.words);
    back_->setVisible(at_ > 0);
    on_->setText(at_ + 1 < int(stops_.size()) ? tr("Next") : tr("Begin"));
    show();
    arrange();
    on_->setFocus();
    // The step's panels take their places only once the window comes to it.
    QTimer::singleShot(0, this, &Tour::arrange);
}

void Tour::arrange() {
    if (!isVisible()) return;
    QWidget* over = parentWidget();
    // The style's border takes some of the room the layout's margins leave.
    const QMargins margins = layout()->contentsMargins();
    const int inside = kCardWidth - margins.left() - margins.right() - kGrid;
    for (QLabel* label : {head_, words_}) label->setMinimumHeight(label->heightForWidth(inside));
    layout()->activate();
    resize(kCardWidth, layout()->totalHeightForWidth(kCardWidth) + kGrid);
    const QWidget* thing = stops_[std::size_t(at_)].look_at();
    const bool seen = thing && thing->isVisible() && over->isAncestorOf(thing);
    const QRect room = over->rect().adjusted(kGrid, kGrid, -kGrid, -kGrid);
    const QRect place = seen ? QRect(thing->mapTo(over, QPoint()), thing->size()) & over->rect() : room;
    frame_->setVisible(seen);
    frame_->setGeometry(place);
    frame_->raise();
    move(placeBeside(place, size(), room));
    raise();
}

void Tour::end() {
    frame_->hide();
    hide();
    emit ended();
    frame_->deleteLater();
    deleteLater();
}

bool Tour::eventFilter(QObject* watched, QEvent* event) {
    if (event->type() == QEvent::Resize || event->type() == QEvent::LayoutRequest)
        QTimer::singleShot(0, this, &Tour::arrange);
    return QFrame::eventFilter(watched, event);
}

bool Tour::event(QEvent* event) {
    // Esc is a key of the window too; with the focus on the card it is the card's.
    if (event->type() == QEvent::ShortcutOverride && static_cast<QKeyEvent*>(event)->key() == Qt::Key_Escape)
        event->accept();
    return QFrame::event(event);
}

void Tour::keyPressEvent(QKeyEvent* event) {
    if (event->key() == Qt::Key_Escape) return end();
    if (event->key() == Qt::Key_Return || event->key() == Qt::Key_Enter) return on_->click();
    QFrame::keyPressEvent(event);
}

void Tour::paintEvent(QPaintEvent* event) {
    QFrame::paintEvent(event);
    // A strip of tape at its left side, as long as the way that is behind.
    QPainter painter(this);
    const int length = height() * (at_ + 1) / int(stops_.size());
    painter.setPen(Qt::NoPen);
    painter.setBrush(palette().color(QPalette::Highlight));
    painter.setRenderHint(QPainter::Antialiasing);
    painter.drawRoundedRect(QRect(kGrid, kGrid, 4, std::max(kGrid, length - 2 * kGrid)), 2, 2);
}

Tour* showTour(MainWindow& window) {
    QWidget* over = window.centralWidget();
    for (Tour* before : over->findChildren<Tour*>()) before->end();
    Desk& desk = window.desk();
    const auto rail = [over]() -> QWidget* { return over->findChild<StepRail*>(); };
    const auto firstBar = [&desk] {
        const CageGeometry& cage = desk.document.geometry();
        if (cage.members.empty()) return;
        const bool hoop = cage.member("main_hoop") >= 0;
        desk.selection.set({Thing::Kind::member, hoop ? std::string("main_hoop") : cage.members.front().id});
    };
    std::vector<TourStop> stops = {
        {Tour::tr("The car, the driver and the cage"),
         Tour::tr("This is a job. Turn it with the left button held, move it with the right one, go nearer "
                  "with the wheel; a double click beside it shows all of it again. Every bar is as long, "
                  "bent and cut as it will be in steel."),
         [&window] { window.goTo(Step::cage); }, [&window]() -> QWidget* { return &window.viewHost(); }},
        {Tour::tr("The steps of a job"),
         Tour::tr("They stand in the order the work is done: measure the car, seat the driver with the "
                  "helmet on, lay out the cage, check it, order tube. Under each you read where it "
                  "stands; a click takes you there."),
         [&window] { window.goTo(Step::cage); }, rail},
        {Tour::tr("Every number can be typed"),
         Tour::tr("A bar is chosen: beside it stands all there is to say of it. Type into any value, as you "
                  "would in the shop: 820, 32 1/4\", +14. What lands on the bar comes along. In the "
                  "picture, pull the discs on its ends and bends. Undo goes back as far as you like."),
         [&window, firstBar] {
             window.goTo(Step::cage);
             firstBar();
         },
         [&window]() -> QWidget* {
             // Folded away where the window is narrow.
             if (window.rightPanel().isVisible()) return &window.rightPanel();
             return &window.viewHost();
         }},
        {Tour::tr("What falls short"),
         Tour::tr("After every change the cage is held against the tables of its class: the worst stands "
                  "on top, with the value, the limit and what is lacking. Click one and the picture goes "
                  "there and draws what was measured. What nobody can tell from a drawing is asked of you."),
         [&window] { window.goTo(Step::check); }, [&window]() -> QWidget* { return &window.fallsShort(); }},
        {Tour::tr("From the plan to the saw"),
         Tour::tr("What to buy, which piece comes from which stick, and the papers for bender, saw and "
                  "grinder. For your own car take New job in the File menu. It plans and certifies "
                  "nothing: ask the inspector before you cut. This tour is under Help."),
         [&window] { window.goTo(Step::order); }, [&window]() -> QWidget* { return &window.leftPages(); }},
    };
    auto* tour = new Tour(std::move(stops), over);
    tour->turnTo(0);
    return tour;
}

}  // namespace hoopwright
