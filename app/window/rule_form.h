// One rule of a common shape as a form: writes it into the text of a table, or changes the one under the
// cursor.
#pragma once

#include <QDialog>

#include "app/window/desk.h"
#include "app/window/rule_shapes.h"

class QCheckBox;
class QComboBox;
class QFormLayout;
class QLabel;
class QLineEdit;
class QPlainTextEdit;
class QPushButton;

namespace hoopwright {

class RuleForm : public QDialog {
    Q_OBJECT
public:
    /// A new rule behind rule `after` of the text, or, with `change`, that rule itself. @pre with `change`:
    /// draftOf() of it is there
    RuleForm(Desk& desk, const QString& text, int after, bool change, QWidget* parent = nullptr);
    /// The text with the rule in it.
    QString result() const { return result_; }
    RuleDraft draft() const;

private:
    QLineEdit* line(const QString& label, const QString& hint);
    QComboBox* choice(const QString& label, const QStringList& words);
    void fill(const RuleDraft& draft);
    void offerQuantities();
    void showFields();
    void refresh();

    QString text_, result_;
    TableOutline known_;
    int after_;
    std::optional<RuleDraft> was_;  ///< of a rule that is changed
    QFormLayout* rows_;
    QComboBox *shape_, *measure_, *comparison_, *known_how_, *each_, *fits_;
    QLineEdit *id_, *clause_, *title_, *sentence_, *of_, *with_, *value_, *tubes_, *ask_, *way_out_;
    QCheckBox *per_side_, *recommended_;
    QLabel *meaning_, *says_;
    QPlainTextEdit* yaml_;
    QPushButton* put_;
    bool filling_ = false;
};

}  // namespace hoopwright
