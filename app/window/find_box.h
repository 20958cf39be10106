// Find anything: a bar, a plate, a rule, a car point or a command, by a few letters.
#pragma once

#include <QLineEdit>
#include <QListView>
#include <QPointer>
#include <functional>
#include <vector>

#include "app/window/desk.h"

class QStandardItemModel;

namespace hoopwright {

struct Findable {
    QString words;  ///< what is matched and shown
    QString kind;   ///< "bar", "rule", "point", "command": shown small
    std::function<void()> go;
};

/// How well `typed` finds `words`: every word of it must start a word of `words`; less is better, -1 is not
/// at all.
int findScore(const QString& typed, const QString& words);

class FindBox : public QLineEdit {
    Q_OBJECT
public:
    FindBox(Desk& desk, std::function<std::vector<Findable>()> all, QWidget* parent = nullptr);
    ~FindBox() override;
    /// Takes the keyboard; it goes back to where it was once something is found or Escape is pressed.
    void begin();

protected:
    bool event(QEvent* event) override;
    void keyPressEvent(QKeyEvent* event) override;
    void focusOutEvent(QFocusEvent* event) override;

private:
    void search();
    void take(int row);
    void leave();

    std::function<std::vector<Findable>()> all_;
    std::vector<Findable> shown_;
    QListView* list_;
    QPointer<QWidget> before_;
    QStandardItemModel* model_;
};

}  // namespace hoopwright
