#include "app/window/save_question.h"

#include <QMessageBox>
#include <QPushButton>

#include "app/window/style.h"

namespace hoopwright {

Unsaved askUnsaved(QWidget* over, const QString& title, const QString& text) {
    QMessageBox box(over);
    box.setWindowTitle(title);
    box.setText(text);
    QPushButton* keep = box.addButton(QMessageBox::tr("Save"), QMessageBox::AcceptRole);
    QPushButton* drop =
        box.addButton(QMessageBox::tr("Throw the changes away"), QMessageBox::DestructiveRole);
    QPushButton* stay = box.addButton(QMessageBox::tr("Stay here"), QMessageBox::RejectRole);
    makePrimary(keep);
    box.setDefaultButton(keep);
    box.setEscapeButton(stay);
    box.exec();
    if (box.clickedButton() == keep) return Unsaved::save;
    return box.clickedButton() == drop ? Unsaved::drop : Unsaved::stay;
}

}  // namespace hoopwright
