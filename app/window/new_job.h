// A new job: an empty cage over a chosen car, tube, dies, drivers and class tables.
#pragma once

#include <QDialog>
#include <filesystem>
#include <vector>

#include "app/window/desk.h"

class QLineEdit;
class QListWidget;
class QComboBox;

namespace hoopwright {

struct NewJobChoice {
    QString name;
    std::filesystem::path car, stock, dies;
    std::vector<std::filesystem::path> drivers, rules;
};
/// Opens a new job in the document. With problems the open job stays.
Problems startNewJob(Document& document, const NewJobChoice& choice);

class NewJob : public QDialog {
    Q_OBJECT
public:
    explicit NewJob(QWidget* parent = nullptr);
    NewJobChoice choice() const;

private:
    QLineEdit* name_;
    QComboBox *car_, *stock_, *dies_;
    QListWidget *drivers_, *rules_;
};

}  // namespace hoopwright
