#include "app/window/own_table.h"

#include <unistd.h>

#include <QDialogButtonBox>
#include <QDir>
#include <QFileDialog>
#include <QFormLayout>
#include <QHBoxLayout>
#include <QLabel>
#include <QLineEdit>
#include <QPushButton>
#include <QSettings>
#include <QVBoxLayout>
#include <algorithm>

#include "app/window/app_paths.h"
#include "app/window/form_help.h"
#include "app/window/style.h"
#include "core/files/yaml_tree.h"
#include "rules/table_outline.h"

namespace fs = std::filesystem;

namespace hoopwright {
namespace {

fs::path truePath(const fs::path& file) {
    std::error_code none;
    return fs::weakly_canonical(fs::absolute(file, none), none);
}

}  // namespace

bool isAmongShippedTables(const fs::path& file) {
    const fs::path data = dataFolder();
    return !data.empty() && truePath(file).parent_path() == truePath(data / "rules");
}

bool isShippedTable(const fs::path& file) {
    if (isAmongShippedTables(file)) return true;
    std::error_code none;
    const fs::file_status status = fs::status(file, none);
    if (!fs::exists(status)) return false;
    const bool locked = (status.permissions() & (fs::perms::owner_write | fs::perms::group_write |
                                                 fs::perms::others_write)) == fs::perms::none;
    return locked || ::access(file.c_str(), W_OK) != 0;
}

fs::path fileOfTable(const Document& document, const std::string& id) {
    for (const std::string& file : document.job().cage.rule_files) {
        const RuleTableResult read = readRuleTable(file);
        if (read.table && info(*read.table).id == id) return file;
    }
    return {};
}

Problems useInstead(Document& document, const fs::path& from, const fs::path& to) {
    const RuleTableResult old_table = readRuleTable(from), new_table = readRuleTable(to);
    if (!new_table.table) return new_table.problems;
    const std::string before = truePath(from).generic_string(), after = truePath(to).generic_string();
    document.edit(QObject::tr("Use your own class table"), [&](Job& job) {
        auto& files = job.cage.rule_files;
        const auto at = std::find_if(files.begin(), files.end(), [&](const std::string& file) {
            return truePath(file).generic_string() == before;
        });
        if (at != files.end())
            *at = after;
        else
            files.push_back(after);
        if (!old_table.table) return;
        for (PersonsAnswer& answer : job.cage.answers)
            if (answer.table == info(*old_table.table).id) answer.table = info(*new_table.table).id;
    });
    return {};
}

OwnTable::OwnTable(const Document& document, const fs::path& from, QWidget* parent)
    : QDialog(parent), says_(new QLabel(this)) {
    setWindowTitle(tr("Make this table mine"));
    setMinimumWidth(560);
    std::string id, title;
    if (const WholeText whole = readWholeFile(from.string()); whole.text) {
        if (const auto outline = outlineTable(*whole.text)) {
            id = outline->id;
            title = outline->title;
        }
    }
    folder_ = document.files().cage.empty() ? fs::path(QDir::homePath().toStdString())
                                            : document.files().cage.parent_path();
    auto* column = new QVBoxLayout(this);
    column->setContentsMargins(3 * kGrid, 3 * kGrid, 3 * kGrid, 2 * kGrid);
    column->setSpacing(2 * kGrid);
    auto* about = new QLabel(
        tr("A copy with every rule and remark of %1, for you to change. The job uses it from then on; "
           "answers that were given stay. The table you start from stays as it is.")
            .arg(text(from.filename().string())),
        this);
    about->setWordWrap(true);
    about->setProperty("role", "soft");
    column->addWidget(about);
    auto* form = new QFormLayout;
    form->setSpacing(kGrid);
    form->setLabelAlignment(Qt::AlignLeft);
    const auto line = [this](const QString& name, const QString& value) {
        auto* made = new QLineEdit(value, this);
        made->setAccessibleName(name);
        return made;
    };
    title_ = line(tr("Title"), text(title) + tr(", ours"));
    id_ = line(tr("Id"), text(id + "_ours"));
    who_ = line(tr("Written by"), QSettings().value(QStringLiteral("who")).toString());
    who_->setPlaceholderText(tr("who answers for it"));
    file_ = line(tr("File"), {});
    form->addRow(tr("Title"), title_);
    form->addRow(tr("Id"), id_);
    form->addRow(tr("Written by"), who_);
    auto* place = new QHBoxLayout;
    place->addWidget(file_, 1);
    auto* browse = new QPushButton(tr("Choose ..."), this);
    place->addWidget(browse);
    form->addRow(tr("File"), place);
    column->addLayout(form);
    says_->setWordWrap(true);
    says_->setProperty("role", "wrong");
    says_->setMinimumHeight(32);
    column->addWidget(says_);
    auto* buttons = new QDialogButtonBox(this);
    buttons->addButton(tr("Cancel"), QDialogButtonBox::RejectRole);
    make_ = buttons->addButton(tr("Make it mine"), QDialogButtonBox::AcceptRole);
    makePrimary(make_);
    make_->setDefault(true);
    connect(buttons, &QDialogButtonBox::accepted, this, &QDialog::accept);
    connect(buttons, &QDialogButtonBox::rejected, this, &QDialog::reject);
    connect(browse, &QPushButton::clicked, this, [this] {
        const QString file =
            QFileDialog::getSaveFileName(this, tr("Your table"), file_->text(), tr("Class tables (*.yaml)"));
        if (file.isEmpty()) return;
        file_typed_ = true;
        file_->setText(file);
    });
    connect(file_, &QLineEdit::textEdited, this, [this] { file_typed_ = true; });
    for (QLineEdit* one : {id_, title_, who_, file_})
        connect(one, &QLineEdit::textChanged, this, &OwnTable::refresh);
    column->addWidget(buttons);
    refresh();
    (who_->text().isEmpty() ? who_ : title_)->setFocus();
}

TableCopy OwnTable::choice() const {
    fs::path file = file_->text().trimmed().toStdString();
    if (file.extension().empty()) file += ".yaml";
    return {file, id_->text().trimmed().toStdString(), title_->text().trimmed().toStdString(),
            who_->text().trimmed().toStdString()};
}

void OwnTable::refresh() {
    if (!file_typed_)
        file_->setText(text((folder_ / (id_->text().trimmed().toStdString() + ".yaml")).string()));
    const TableCopy now = choice();
    std::error_code none;
    QString lacks;
    if (isAmongShippedTables(now.file))
        lacks = tr("That folder holds the tables that came with the program: choose another.");
    else if (fs::exists(now.file, none))
        lacks = tr("There is such a file already: choose another name.");
    else if (now.written_by.empty())
        lacks = tr("Write who answers for it.");
    says_->setText(lacks);
    make_->setEnabled(lacks.isEmpty() && !now.id.empty() && !now.title.empty());
}

}  // namespace hoopwright
