// A list of things with a mark, a name and a detail: the lists at the left.
#pragma once

#include <QAbstractListModel>
#include <QListView>
#include <QStyledItemDelegate>
#include <optional>
#include <vector>

#include "app/window/desk.h"

namespace hoopwright {

struct Row {
    bool header = false;      ///< a small heading; cannot be chosen
    bool name_first = false;  ///< where both have no room the detail goes under the title
    std::optional<Thing> thing;
    std::optional<Answer> mark;
    QString title;
    QString detail;
    QString tip;
    bool faint = false;  ///< optional, or not drawn
    friend bool operator==(const Row&, const Row&) = default;
};

class RowsModel : public QAbstractListModel {
    Q_OBJECT
public:
    using QAbstractListModel::QAbstractListModel;
    void setRows(std::vector<Row> rows);
    const Row& row(int index) const { return rows_[std::size_t(index)]; }
    int indexOf(const Thing& thing) const;  ///< -1: not here
    int rowCount(const QModelIndex& parent = {}) const override;
    QVariant data(const QModelIndex& index, int role) const override;
    Qt::ItemFlags flags(const QModelIndex& index) const override;

private:
    std::vector<Row> rows_;
};

class RowsDelegate : public QStyledItemDelegate {
    Q_OBJECT
public:
    RowsDelegate(const Desk& desk, QObject* parent) : QStyledItemDelegate(parent), desk_(desk) {}
    void paint(QPainter* painter, const QStyleOptionViewItem& option,
               const QModelIndex& index) const override;
    QSize sizeHint(const QStyleOptionViewItem& option, const QModelIndex& index) const override;

private:
    const Desk& desk_;
};

/// Shows rows and keeps its choice and the window's selection the same.
class RowsView : public QListView {
    Q_OBJECT
public:
    RowsView(Desk& desk, const QString& name, QWidget* parent = nullptr);
    void setRows(std::vector<Row> rows);

signals:
    void entered(const hoopwright::Thing& thing);  ///< Enter or a double click

private:
    void pushSelection();
    void pullSelection();

    Desk& desk_;
    RowsModel* rows_;
    bool pulling_ = false;
};

}  // namespace hoopwright
