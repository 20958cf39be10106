// The guide in the program, and the caution every start begins with.
#pragma once

#include <QDialog>

class QTextBrowser;

namespace hoopwright {

/// Shows the pages of the guide (Markdown) with their contents at the side.
class Guide : public QDialog {
    Q_OBJECT
public:
    explicit Guide(QWidget* parent = nullptr);
    void turnTo(const QString& page);  ///< "start", "tape" ...: the name of a page without its ending

private:
    QTextBrowser* text_;
};

/// What the program does not do; shown at the first start and from Help.
QString cautionText();
class Caution : public QDialog {
    Q_OBJECT
public:
    explicit Caution(QWidget* parent = nullptr);
};

}  // namespace hoopwright
