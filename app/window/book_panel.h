// The shop's own book, its dies and stock, as tables that are typed into. Each change is one step of undo.
#pragma once

#include <QAbstractTableModel>
#include <QDialog>
#include <QStyledItemDelegate>

#include "app/window/book_sections.h"
#include "app/window/desk.h"

class QLabel;
class QListWidget;
class QPushButton;
class QTableView;

namespace hoopwright {

/// One section of the book, of the job as it is now.
class BookTable : public QAbstractTableModel {
    Q_OBJECT
public:
    explicit BookTable(Desk& desk, QObject* parent = nullptr);
    void turnTo(std::size_t section);
    const BookSection& section() const;
    void addLine();
    void removeLine(int row);
    /// Why the last word typed was not taken; empty: it was.
    const QString& complaint() const { return complaint_; }

    int rowCount(const QModelIndex& parent = {}) const override;
    int columnCount(const QModelIndex& parent = {}) const override;
    QVariant data(const QModelIndex& index, int role) const override;
    QVariant headerData(int section, Qt::Orientation way, int role) const override;
    Qt::ItemFlags flags(const QModelIndex& index) const override;
    bool setData(const QModelIndex& index, const QVariant& value, int role) override;
    /// Of a cell; of single values that of the row.
    const BookColumn& column(const QModelIndex& index) const;

signals:
    void complained(const QString& sentence);

private:
    ShopFiles filesNow() const;
    LengthUnit unit() const;
    bool editable() const;
    /// Takes the files over if they read back as the program reads them; else says what is wrong.
    bool take(const QString& words, const ShopFiles& files);

    Desk& desk_;
    std::size_t section_ = 0;
    ShopFiles now_;
    QString complaint_;
};

/// Words of a list are chosen, all else is typed.
class BookDelegate : public QStyledItemDelegate {
    Q_OBJECT
public:
    using QStyledItemDelegate::QStyledItemDelegate;
    QWidget* createEditor(QWidget* parent, const QStyleOptionViewItem& option,
                          const QModelIndex& index) const override;
    void setEditorData(QWidget* editor, const QModelIndex& index) const override;
    void setModelData(QWidget* editor, QAbstractItemModel* model, const QModelIndex& index) const override;
};

class BookPanel : public QDialog {
    Q_OBJECT
public:
    explicit BookPanel(Desk& desk, QWidget* parent = nullptr);
    void turnTo(const QString& section);  ///< by its title
    QTableView* table() const { return view_; }

signals:
    void saveWanted();

private:
    void refresh();
    void begin();  ///< names a file for a book where the job has none

    Desk& desk_;
    BookTable* model_;
    QListWidget* list_;
    QTableView* view_;
    QLabel *head_, *about_, *wrong_, *file_;
    QPushButton *add_, *remove_, *begin_;
};

}  // namespace hoopwright
