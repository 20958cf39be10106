// The steps of the job down the left, in working order, each with where it stands.
#pragma once

#include <QAbstractButton>
#include <QWidget>
#include <vector>

#include "app/window/desk.h"

namespace hoopwright {

enum class Step { car, driver, cage, check, order };

class StepRail : public QWidget {
    Q_OBJECT
public:
    StepRail(Desk& desk, QWidget* parent = nullptr);
    void setCurrent(Step step);
    /// Where a step stands; the mark is the one its worst thing has.
    void setState(Step step, const QString& words, std::optional<Answer> mark);
    /// What is written under a step.
    QString state(Step step) const;

signals:
    void wanted(hoopwright::Step step);

protected:
    void paintEvent(QPaintEvent* event) override;

private:
    Desk& desk_;
    std::vector<QAbstractButton*> buttons_;
};

}  // namespace hoopwright
