// The one place where what is chosen can be read and typed.
#pragma once

#include <QScrollArea>

#include "app/window/desk.h"
#include "app/window/step_rail.h"

namespace hoopwright {

class Form;

/// Forms by kind of thing. Each is made once for a shape of the thing (formShape()) and refreshed while that
/// stays.
Form* memberForm(Desk& desk, const std::string& resolved_id);
Form* membersForm(Desk& desk, const std::vector<std::string>& layout_ids);  ///< several at once
Form* plateForm(Desk& desk, const std::string& resolved_id);
Form* gussetForm(Desk& desk, const std::string& id);
Form* driverForm(Desk& desk, const std::string& id);
Form* carForm(Desk& desk);
Form* carPointForm(Desk& desk, const std::string& name);
Form* carLineForm(Desk& desk, const std::string& name);
Form* scanForm(Desk& desk, const std::string& file);
/// All that decides which rows scanForm() has.
QByteArray scanShape(const Desk& desk, const std::string& file);
Form* findingForm(Desk& desk, const std::string& key);
Form* dimensionForm(Desk& desk, const std::string& id);
QByteArray dimensionShape(const Desk& desk, const std::string& id);
Form* nodeForm(Desk& desk, const std::string& key);
QByteArray nodeShape(const Desk& desk, const std::string& key);
Form* jobForm(Desk& desk);  ///< nothing chosen: the job as a whole

class Details : public QScrollArea {
    Q_OBJECT
public:
    Details(Desk& desk, QWidget* parent = nullptr);
    Form* form() const { return form_; }
    /// With nothing chosen the car step shows the car, the driver step the first driver, all others the job.
    void setStep(Step step);
    /// Puts the keyboard into the first value.
    void focusFirst();

private:
    void follow();
    void rebuild();
    Form* make() const;
    QByteArray shape() const;
    std::optional<Thing> thing() const;  ///< what the form is of; nothing: the job

    Desk& desk_;
    Form* form_ = nullptr;
    QByteArray shape_;
    std::optional<Thing> shown_;
    Step step_ = Step::cage;
    bool waiting_ = false;
};

}  // namespace hoopwright
