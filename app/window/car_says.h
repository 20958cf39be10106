// What the readings of the car say of each other, under the view of the Car step: the page `hoopwright car`
// prints, in the same words.
#pragma once

#include <QWidget>
#include <array>

#include "app/window/desk.h"

class QTextBrowser;
class QToolButton;

namespace hoopwright {

class CarSays : public QWidget {
    Q_OBJECT
public:
    enum class Part { again, points, tapes, sides, missing, lessons };
    static constexpr int kParts = 6;

    CarSays(Desk& desk, QWidget* parent = nullptr);
    void turnTo(Part part);
    Part part() const { return part_; }
    QTextBrowser* page() const { return page_; }

protected:
    void paintEvent(QPaintEvent* event) override;
    void showEvent(QShowEvent* event) override;

private:
    void refresh();

    Desk& desk_;
    Part part_ = Part::again;
    std::array<QToolButton*, kParts> words_{};
    QTextBrowser* page_;
};

/// One part as rich text.
QString carSaysHtml(const CarReport& report, CarSays::Part part, const Palette& palette);
/// The heading of a part with what stands in it: "Look at again (2)".
QString carSaysTitle(const CarReport& report, CarSays::Part part);

}  // namespace hoopwright
