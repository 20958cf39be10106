// What is wrong with files, readable: each problem with its file, line and column.
#pragma once

#include <QDialog>

#include "app/window/desk.h"
#include "core/base/problem.h"

namespace hoopwright {

class ProblemsPage : public QDialog {
    Q_OBJECT
public:
    /// `what`: one sentence on what was tried, and that nothing was changed.
    ProblemsPage(const Palette& palette, const QString& what, const Problems& problems,
                 QWidget* parent = nullptr);
};

}  // namespace hoopwright
