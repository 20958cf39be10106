// The papers of the job: chosen, seen page by page, printed, written to files.
#pragma once

#include <QDialog>
#include <map>

#include "app/window/page_maker.h"

class QCheckBox;
class QComboBox;
class QLabel;
class QLineEdit;
class QListWidget;
class QPrinter;
class QPushButton;
class QScrollArea;

namespace hoopwright {

/// One page as it will be printed: whole, or a millimetre a millimetre of the screen.
class PagePreview : public QWidget {
    Q_OBJECT
public:
    explicit PagePreview(const Desk& desk, QWidget* parent = nullptr);
    /// Keeps `pages`, of which this is one; null: nothing.
    void turnTo(MadePagesRef pages, std::size_t page);
    void setFullSize(bool full);
    void fit();                              ///< to the room there is
    double scale() const { return scale_; }  ///< logical pixels a millimetre

protected:
    void paintEvent(QPaintEvent* event) override;

private:
    const Drawing* drawing() const;
    const Desk& desk_;
    MadePagesRef pages_;
    std::size_t page_ = 0;
    bool full_ = false;
    double scale_ = 1;
};

class SheetsWindow : public QDialog {
    Q_OBJECT
public:
    explicit SheetsWindow(Desk& desk, QWidget* parent = nullptr);
    const PageMaker& maker() const { return *maker_; }

protected:
    void resizeEvent(QResizeEvent* event) override;

private:
    QWidget* choices();
    void choose();
    void refresh();
    void showPage(int row);
    void print();
    void save();
    std::vector<const Drawing*> printed() const;  ///< all pages, or the one that is shown

    Desk& desk_;
    PageMaker* maker_;
    std::map<SheetKind, QCheckBox*> kinds_;
    QComboBox *paper_, *which_;
    QCheckBox *pdf_, *drawings_, *rows_, *full_;
    QLineEdit* folder_;
    QListWidget* list_;
    QScrollArea* room_;
    PagePreview* page_;
    QLabel *count_, *left_out_;
    QPushButton *print_, *save_;
};

}  // namespace hoopwright
