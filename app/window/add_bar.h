// Choosing what a new bar is for, and where it begins and ends.
#pragma once

#include <QDialog>
#include <string>
#include <vector>

#include "app/window/desk.h"
#include "core/edit/new_bar.h"

class QLineEdit;
class QListWidget;
class QLabel;

namespace hoopwright {

class AddBar : public QDialog {
    Q_OBJECT
public:
    enum class Where { nowhere, here, pick, draw };
    AddBar(Desk& desk, QWidget* parent = nullptr);
    std::string role() const;
    Where where() const { return where_; }

private:
    void fill(const QString& typed);

    Desk& desk_;
    QListWidget* roles_;
    QLabel* purpose_;
    Where where_ = Where::nowhere;
};

/// Places on the chosen bars for a new one to land on: with two, the middle of the first and what is nearest
/// to it on the second; with one, a quarter of the way along if it spans the car, else its middle; with none,
/// nothing.
std::vector<HostPick> picksFromSelection(const Desk& desk);
/// Puts the bar in, chooses it, says what was done.
void insertBar(Desk& desk, const std::string& role, const std::vector<HostPick>& picks);
/// Wants two clicks on bars, then puts the bar in.
void pickTwoAndInsert(Desk& desk, const std::string& role);

}  // namespace hoopwright
