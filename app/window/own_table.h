// Making a table one's own: which files came with the program, the copy, and the job that uses it from then
// on.
#pragma once

#include <QDialog>
#include <filesystem>

#include "app/window/desk.h"
#include "rules/table_copy.h"

class QLabel;
class QLineEdit;
class QPushButton;

namespace hoopwright {

/// Did the file come with the program, or may it not be written? Such a table is opened to be read alone.
bool isShippedTable(const std::filesystem::path& file);
/// The same of a place something is to be saved to: nothing is written among the program's own tables.
bool isAmongShippedTables(const std::filesystem::path& file);
/// The file of a table the job uses, by the table's id; empty: none of them has it.
std::filesystem::path fileOfTable(const Document& document, const std::string& id);
/// Puts `to` in the place of `from` in the job, answers that were given along with it; one step of undo.
/// Ticks do not come along: a number that can be changed is checked again.
Problems useInstead(Document& document, const std::filesystem::path& from, const std::filesystem::path& to);

/// Asks for id, title, who answers for it, and the file.
class OwnTable : public QDialog {
    Q_OBJECT
public:
    /// @param from what is copied; its text must have an outline
    OwnTable(const Document& document, const std::filesystem::path& from, QWidget* parent = nullptr);
    TableCopy choice() const;

private:
    void refresh();

    QLineEdit *id_, *title_, *who_, *file_;
    QLabel* says_;
    QPushButton* make_;
    std::filesystem::path folder_;
    bool file_typed_ = false;
};

}  // namespace hoopwright
