// Laying out a whole cage: which starter, with which options, drawn and weighed in this job's own car.
#pragma once

#include <QDialog>
#include <QThreadPool>
#include <map>
#include <memory>

#include "app/window/desk.h"
#include "rules/starter_choice.h"

class QLabel;
class QListWidget;
class QPushButton;
class QTreeWidget;
class QTreeWidgetItem;

namespace hoopwright {

class SketchView;

class StarterPicker : public QDialog {
    Q_OBJECT
public:
    /// Of the job that is open now.
    explicit StarterPicker(Desk& desk, QWidget* parent = nullptr);
    ~StarterPicker() override;

    /// The cage to lay out; null while it is worked out, or if it cannot be.
    const CageLayout* cage() const;
    /// Name of the starter that is chosen.
    QString starterName() const;

private:
    /// What was worked out of one starter. Never changes once it is here.
    struct LaidOut {
        int asked = 0;  ///< which wish it answers
        Expected<StarterChoice> choice = Reason{};
        std::vector<OptionEffect> effects;
    };
    struct Wished {
        StarterWish wish;
        int asked = 0;  ///< counts its wishes
        std::shared_ptr<const LaidOut> answer;
    };
    QWidget* middle();
    QWidget* switches();
    void askAll();
    void ask(const std::string& starter, int urgency);
    void take(const std::string& starter, const std::shared_ptr<const LaidOut>& answer);
    void turn(QTreeWidgetItem* option);
    void refreshRow(const std::string& starter);
    void refresh();
    void refreshSums();
    void refreshOptions();
    QString words(const LaidOut& answer) const;
    std::string chosen() const;

    Desk& desk_;
    std::shared_ptr<StarterChooser> chooser_;  ///< used by the worker alone
    std::map<std::string, Wished> all_;        ///< by starter
    std::optional<double> gap_mm_, hoop_x_mm_;
    QListWidget* list_;
    SketchView* sketch_;
    QLabel *name_, *about_, *sums_, *says_;
    QTreeWidget* options_;
    QPushButton* use_;
    QThreadPool worker_;  ///< the last: it ends before what it works for
};

/// Asks which, and puts it in the place of the job's bars, plates and gussets: one step of undo.
void layOutStarter(Desk& desk, QWidget* window);

}  // namespace hoopwright
