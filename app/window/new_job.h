// A new job: an empty cage over a chosen car, tube, dies, shop's book, drivers and class tables.
#pragma once

#include <QDialog>
#include <filesystem>
#include <vector>

#include "app/window/desk.h"
#include "core/files/car_library.h"

class QLabel;
class QLineEdit;
class QListWidget;
class QCheckBox;
class QComboBox;

namespace hoopwright {

struct NewJobChoice {
    QString name;
    std::filesystem::path car, stock, dies;
    std::filesystem::path shop;  ///< the shop's book; empty: none yet
    /// The job gets a car file of its own, beside the cage when it is saved: a copy of `car`, or with none a
    /// car of these kinds that is still to be measured.
    bool own_car = false;
    Car::Body body = Car::Body::saloon;
    Car::Frame frame = Car::Frame::unibody;
    std::vector<std::filesystem::path> drivers, rules;
    bool from_starter = false;  ///< a starter is chosen next, else the cage is empty
};
/// Opens a new job in the document. With problems the open job stays.
Problems startNewJob(Document& document, const NewJobChoice& choice);

class NewJob : public QDialog {
    Q_OBJECT
public:
    /// `kept`: the folder of kept cars.
    explicit NewJob(const std::filesystem::path& kept, QWidget* parent = nullptr);
    NewJobChoice choice() const;

private:
    void refresh();
    QString wordsOfCar() const;  ///< what becomes of the chosen car's file; its lessons
    /// Tube, dies and book in the unit the car was taped in, where nobody chose otherwise.
    void followCar();

    QLineEdit* name_;
    QComboBox *car_, *body_, *frame_, *stock_, *dies_, *shop_;
    QCheckBox* copy_;  ///< of a car file a person may write to: the job gets a copy of it
    QLabel* lessons_;
    QWidget* kinds_;
    std::vector<LibraryCar> kept_;
    QListWidget *drivers_, *rules_;
    QCheckBox* starter_;
};

}  // namespace hoopwright
