// Ways out of a finding on its page: looked for beside the window's thread, shown in the picture, taken in
// one step.
#pragma once

#include <QThreadPool>
#include <QTimer>
#include <QWidget>
#include <atomic>
#include <memory>
#include <string>

#include "app/window/desk.h"
#include "rules/mend.h"

class QLabel;
class QVBoxLayout;

namespace hoopwright {

class MendRows : public QWidget {
    Q_OBJECT
public:
    /// @param key  findingKey()
    MendRows(Desk& desk, std::string key, QWidget* parent = nullptr);
    ~MendRows() override;
    /// Looks again if the job is another one now; nothing is shown where the rule does not fail.
    void refresh();
    /// What was found; null while it is looked for.
    const Mends* mends() const { return found_.get(); }
    /// Draws the parts as they would then be, and goes there.
    void preview(const Mend& mend);
    /// One step of undo.
    void take(const Mend& mend);

signals:
    void ready();

private:
    void ask();
    void show(const std::shared_ptr<const Mends>& found);
    void clearRows();
    void addRow(const Mend& mend);

    Desk& desk_;
    std::string key_;
    JobRef asked_for_;
    int asked_ = 0;
    bool drawn_ = false;
    std::shared_ptr<std::atomic<bool>> stop_;
    std::shared_ptr<const Mends> found_;
    QTimer wait_;
    QLabel* state_;
    QVBoxLayout* column_;
    QThreadPool worker_;  ///< the last: it ends before what it works for
};

}  // namespace hoopwright
