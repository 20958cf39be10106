// Lines of words and figures, painted in columns.
#pragma once

#include <QWidget>
#include <functional>
#include <optional>
#include <vector>

#include "app/window/desk.h"

namespace hoopwright {

struct FactLine {
    QString words;
    QString figure;
    std::optional<Answer> mark = {};
    std::function<void()> go = {};  ///< what a click does; none: nothing
};

/// Up and Down move between lines that do something, Enter does it.
class FactList : public QWidget {
    Q_OBJECT
public:
    FactList(const Desk& desk, const QString& name, QWidget* parent = nullptr);
    void setLines(std::vector<FactLine> lines);
    QSize sizeHint() const override;
    QSize minimumSizeHint() const override { return {40, sizeHint().height()}; }

protected:
    void paintEvent(QPaintEvent* event) override;
    void mouseReleaseEvent(QMouseEvent* event) override;
    void mouseMoveEvent(QMouseEvent* event) override;
    void keyPressEvent(QKeyEvent* event) override;
    void leaveEvent(QEvent* event) override;
    bool event(QEvent* event) override;

private:
    int lineAt(double y) const;
    bool doesSomething(int line) const;

    const Desk& desk_;
    std::vector<FactLine> lines_;
    int hover_ = -1, at_ = -1;
};

}  // namespace hoopwright
