// Asked before something that is not saved goes from the screen.
#pragma once

#include <QString>

class QWidget;

namespace hoopwright {

enum class Unsaved { save, drop, stay };
/// Shows the question and waits for its answer; Escape stays.
Unsaved askUnsaved(QWidget* over, const QString& title, const QString& text);

}  // namespace hoopwright
