// A tube bought bent: its taped numbers, where it fits the car best, and what to saw off it.
#pragma once

#include <QDialog>
#include <optional>
#include <string>

#include "app/window/fact_list.h"
#include "core/fit/member_fit.h"

class QPushButton;
class QScrollArea;

namespace hoopwright {

class Form;

/// Takes the place of a bar that is in the cage. Nothing is changed until it is put in.
class BoughtTube : public QDialog {
    Q_OBJECT
public:
    /// @param member  layout id of the bar it takes the place of, to begin with; empty: the main hoop, else
    /// the first bar with a bend. @pre canReplace() is not empty
    BoughtTube(Desk& desk, const std::string& member, QWidget* parent = nullptr);

    /// Layout ids of the bars with a bend.
    static std::vector<std::string> canReplace(const Desk& desk);
    /// The fit as the numbers stand; nothing where they are no tube, or it cannot be placed.
    const std::optional<MemberFit>& fit() const { return fit_; }
    void putIn();  ///< one step of undo. @pre fit()

private:
    void begin(const std::string& member);
    void fitSoon();
    void fitNow();
    std::vector<FactLine> lines() const;
    QString verdict() const;

    Desk& desk_;
    FitCar car_;
    Form* form_ = nullptr;
    QScrollArea* area_ = nullptr;
    QPushButton* put_ = nullptr;
    std::string member_, taped_;
    double radius_mm_ = 0, gap_mm_ = kUsualGap_mm;
    std::optional<MemberFit> fit_;
    QString refused_;
    bool waiting_ = false;
};

/// Opens it for the chosen bar, or says why there is none to take the place of.
void addBoughtTube(Desk& desk, QWidget* window);

/// The rows of a bar bought bent: its taped numbers and what to saw off. Of a bar with a bend
/// that the shop bends: how to say that it is bought.
void boughtRows(Desk& desk, Form& form, const std::string& id, const std::string& resolved);

}  // namespace hoopwright
