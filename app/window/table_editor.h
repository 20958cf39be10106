// A rule table as text, looked over as one types; what is wrong stands under it, what it says of the open
// cage is told to whoever shows it.
#pragma once

#include <QWidget>
#include <filesystem>

#include "app/window/table_text.h"
#include "rules/review.h"

class QLabel;
class QListWidget;
class QPushButton;
class QTimer;

namespace hoopwright {

class TableEditor : public QWidget {
    Q_OBJECT
public:
    TableEditor(Desk& desk, QWidget* parent = nullptr);

    /// Opens a file; with a problem the text that is open stays. One that came with the program, or that may
    /// not be written, is opened to be read alone.
    Problems open(const std::filesystem::path& file);
    void goToRule(const std::string& id);  ///< its line, with the rest of it below

    const std::filesystem::path& file() const { return file_; }  ///< empty: none is open
    bool isOpen() const { return !file_.empty(); }
    bool readOnly() const { return text_->isReadOnly(); }
    bool dirty() const;
    /// Writes the file, problems in the table or not. Problems: it could not be written.
    Problems save();
    Problems saveAs(const std::filesystem::path& file);
    /// Puts the text away, changes too.
    void close();

    TableText* box() const { return text_; }
    QListWidget* troubles() const { return troubles_; }
    QLabel* state() const { return state_; }
    QPushButton* ownButton() const { return own_; }
    /// Of the text as it is now; looks it over at once if that has not been done yet.
    const TableReview& review();
    void newRule();     ///< asks in a form, puts it in behind the rule under the cursor
    void changeRule();  ///< the rule under the cursor as a form, if it is of a common shape

signals:
    void saveWanted();
    void saveAsWanted();
    void ownWanted();  ///< "Make this table mine"
    void leaveWanted();
    void reviewed();  ///< the text has been looked over
    void stateChanged();

private:
    void look();
    void listTroubles();
    void showState();
    void read(const QString& text);

    Desk& desk_;
    std::filesystem::path file_;
    TableReview review_;
    QLabel *name_, *state_, *shipped_;
    QPushButton *own_, *undo_, *redo_, *new_rule_, *change_rule_, *save_;
    TableText* text_;
    QListWidget* troubles_;
    QTimer* soon_;
    QWidget* banner_;
    bool looked_ = false;
    bool crlf_ = false;  ///< the file's lines end as on another system; it keeps them so
};

}  // namespace hoopwright
