// The cage once round, as files.
#pragma once

#include <QDialog>

#include "app/view/picture.h"

class QComboBox;
class QLabel;
class QSpinBox;
class QWidget;

namespace hoopwright {

class Desk;
class View3d;

/// How many pictures, how large, from where, what is written on them, and into what.
class TurntableChoice : public QDialog {
    Q_OBJECT
public:
    explicit TurntableChoice(QWidget* parent = nullptr);
    int frames() const;
    bool inFolder() const;  ///< each picture a file of a folder; else one animated file
    void fill(PictureOptions& options) const;

private:
    void refresh();

    QSpinBox* frames_;
    QComboBox *size_, *from_, *written_, *kind_;
    QLabel* says_;
};

/// Asks, then draws while a small dialog says how far it is. Stop gives it up: nothing is left, no file and
/// no folder. Pictures of a folder get one of their own beside the others of that name, so that two
/// turntables never mix.
void saveTurntable(Desk& desk, const View3d& view, QWidget* window);

}  // namespace hoopwright
