// The chosen bar fitted to the car: what it would stand off, what keeps it from going nearer, and taking it.
#pragma once

#include <QDialog>
#include <QThreadPool>
#include <memory>

#include "app/window/desk.h"
#include "core/fit/hoop_place.h"

class QLabel;
class QPushButton;

namespace hoopwright {

class Form;

class FitBar : public QDialog {
    Q_OBJECT
public:
    /// @param member  resolved id of a bar
    FitBar(Desk& desk, const std::string& member, QWidget* parent = nullptr);
    ~FitBar() override;

    /// What was found; null while it is worked out, or if the bar cannot be fitted.
    const MemberFit* fit() const;

private:
    struct FittedBar {
        MemberFit fit;
        std::string stands;  ///< HoopPlace::holds
    };
    using Found = Expected<FittedBar>;
    void addHoopRows(Form& form);
    void ask();
    void take(int asked, const std::shared_ptr<const Found>& found);
    void refresh();
    double feetAt() const;

    Desk& desk_;
    MemberWish wish_;
    bool by_doors_ = false;  ///< stands as near to the pillar as its door bars allow
    bool is_hoop_ = false;
    int asked_ = 0;
    bool waits_ = false;
    std::shared_ptr<const Found> found_;
    std::shared_ptr<std::shared_ptr<const FitCar>> car_;  ///< made by the worker, once
    Form* form_;
    QLabel *figures_, *limits_;
    QPushButton* use_;
    QThreadPool worker_;  ///< the last: it ends before what it works for
};

/// Of the bar that was chosen last; says so where none is. One step of undo.
void fitChosen(Desk& desk, QWidget* window);

}  // namespace hoopwright
