// What is kept of the built cage: readings, walls, certificates, papers with dates, inspections.
#pragma once

#include <QDialog>
#include <vector>

#include "app/pack/pack.h"
#include "app/window/desk.h"

class QCheckBox;
class QLabel;
class QLineEdit;
class QTabWidget;

namespace hoopwright {

class RecordGrid;

/// Everything typed here is a step of undo, like any other edit of the job.
class Records : public QDialog {
public:
    explicit Records(Desk& desk, QWidget* parent = nullptr);

private:
    QWidget* asBuiltPage();
    QWidget* wallPage();
    QWidget* certificatePage();
    QWidget* paperPage();
    QWidget* inspectionPage();
    void refresh();
    void refreshAsBuilt();
    /// One reading in place of those kept of it with that spot; no value: none.
    void keepReading(const BuiltReading& reading, bool erase);
    void keepCheckOfToday();
    /// The chosen tube's certificate to every tube of its stock that has none.
    void shareCertificate();
    template <class Kept>
    void deleteChosen(const RecordGrid& from, const QString& none, const QString& words,
                      std::vector<Kept> CageLayout::*list);
    void choose(const std::string& of);  ///< a bar or plate, in the window
    void say(const QString& sentence);

    Desk& desk_;
    QTabWidget* pages_;
    QLineEdit *who_, *when_;
    QCheckBox* only_read_;
    QLabel *rests_, *said_;
    RecordGrid *built_, *walls_, *certificates_, *papers_, *inspections_;
    std::vector<AsBuilt> list_;
    std::vector<PackSpot> spots_;
};

/// The records beside the window, which can be used on; brought to the front if they stand open.
void showRecords(Desk& desk, QWidget* window);

/// File > Inspector's pack: asks for a folder and writes it there, with a way to stop.
void saveInspectorPack(Desk& desk, QWidget* window);

}  // namespace hoopwright
