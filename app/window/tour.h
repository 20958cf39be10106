// Five cards that lead round the window at the first start, and again from Help.
#pragma once

#include <QFrame>
#include <QPointer>
#include <QString>
#include <functional>
#include <vector>

class QLabel;
class QPushButton;

namespace hoopwright {

class MainWindow;

/// One stop: what is to be looked at, and what is said of it.
struct TourStop {
    QString head, words;
    std::function<void()> go;           ///< brings the window there
    std::function<QWidget*()> look_at;  ///< what gets the frame; null: nothing does
};

/// A card beside what it speaks of, which is framed in tape yellow. The window stays as usable as without
/// it; Esc on the card, or its own word, ends it.
class Tour : public QFrame {
    Q_OBJECT
public:
    /// Over `over`, whose size it follows. @pre there is a stop.
    Tour(std::vector<TourStop> stops, QWidget* over);
    void turnTo(int stop);
    int stop() const { return at_; }
    int stops() const { return int(stops_.size()); }
    void end();

signals:
    void ended();  ///< gone through, or dismissed; the card goes

protected:
    bool event(QEvent* event) override;
    bool eventFilter(QObject* watched, QEvent* event) override;
    void keyPressEvent(QKeyEvent* event) override;
    void paintEvent(QPaintEvent* event) override;

private:
    void arrange();

    std::vector<TourStop> stops_;
    QPointer<QWidget> frame_;  // child of what the card is over
    QLabel *head_, *words_, *count_;
    QPushButton *back_, *on_;
    int at_ = 0;
};

/// Begins the tour of this window, from its first card; the one that is on gives way.
Tour* showTour(MainWindow& window);

}  // namespace hoopwright
