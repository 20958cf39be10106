// Waiting for the thing itself, so that a test passes on however busy a machine.
#pragma once

#include <QGuiApplication>
#include <QTest>

namespace hoopwright {

/// Longer than anything here takes on a machine that does much else besides; only a failure waits so long.
inline constexpr int kPatience_ms = 120'000;

/// True as soon as `come()` is true; events go on meanwhile.
template <class Come>
[[nodiscard]] bool waitFor(const Come& come) {
    return QTest::qWaitFor(come, kPatience_ms);
}

inline bool waitForActive(QWidget* window) {
    return QTest::qWaitForWindowActive(window, kPatience_ms);
}

/// The next keys go there. The display may take the focus from a window that has just come up and give it
/// back: what is typed meanwhile is in no field that could be left.
[[nodiscard]] inline bool giveFocus(QWidget* to) {
    if (!waitForActive(to->window())) return false;
    to->setFocus();
    return waitFor([to] { return to->hasFocus(); });
}

/// What was asked of the program so far has been done: `ms` for what it puts off by the clock, then, as a
/// busy machine does little in so many milliseconds, all that stands in line and all that the display
/// answers.
inline void settleEvents(int ms) {
    constexpr int kRounds = 4;  // a form put off for later, what it puts off itself, and their answers
    QTest::qWait(ms);
    for (int n = 0; n < kRounds; ++n) {
        QGuiApplication::sync();
        QCoreApplication::sendPostedEvents(nullptr, QEvent::DeferredDelete);
    }
}

}  // namespace hoopwright
