// Cars kept for the next job, and the sheet to measure one with: what the File menu asks before it does.
#pragma once

#include <QDialog>
#include <filesystem>

#include "app/sheets/measuring_sheet.h"
#include "app/window/desk.h"
#include "core/files/car_library.h"

class QComboBox;
class QLabel;
class QLineEdit;
class QPushButton;

namespace hoopwright {

/// "Two-door saloon: 2 lessons", and below it each lesson with its date.
QString lessonsOfCar(const Car& car);

/// Keeps the job's car, as it is now, in a folder of cars.
class KeepCar : public QDialog {
    Q_OBJECT
public:
    KeepCar(const Desk& desk, std::filesystem::path folder, QWidget* parent = nullptr);
    /// What stands in the way is said in the dialog; a name that is taken must be confirmed.
    bool keep();

private:
    void refresh();

    const Desk& desk_;
    std::filesystem::path folder_;
    QLineEdit* name_;
    QLabel* said_;
    QPushButton* keep_;
    bool may_replace_ = false;
};

/// Which measuring sheet: at first the job's own car on the paper its units are at home on.
class SheetChoice : public QDialog {
    Q_OBJECT
public:
    SheetChoice(const Desk& desk, QWidget* parent = nullptr);
    MeasuringSheetOptions choice() const;

private:
    const Desk& desk_;
    QComboBox *body_, *frame_, *paper_, *units_, *figures_;
};

}  // namespace hoopwright
