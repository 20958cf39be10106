// Where the picture is cut: axis, place, which half stays. Floats over the 3D view while it is cut.
#pragma once

#include <QWidget>
#include <functional>
#include <optional>

#include "app/window/desk.h"
#include "render/look.h"

class QToolButton;

namespace hoopwright {

class ValueField;

class SectionStrip : public QWidget {
    Q_OBJECT
public:
    using Get = std::function<std::optional<SectionCut>()>;
    using Set = std::function<void(const std::optional<SectionCut>&)>;
    SectionStrip(Desk& desk, Get get, Set set, QWidget* parent);
    void follow();

signals:
    void shownOrHidden();

private:
    Desk& desk_;
    Get get_;
    QToolButton* axes_[3];
    ValueField* place_;
};

}  // namespace hoopwright
