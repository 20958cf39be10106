// What falls short: every finding that does not meet, worst first, always on the screen.
#pragma once

#include <QAbstractListModel>
#include <QListView>
#include <QStyledItemDelegate>
#include <QWidget>
#include <vector>

#include "app/window/desk.h"

class QLabel;

namespace hoopwright {

/// One line of the list: a finding, or a trouble of the geometry itself.
struct ShortLine {
    Answer answer = Answer::fails;
    std::string key;     ///< findingKey(), or "" for geometry
    std::string member;  ///< geometry: layout id concerned
    Vec3 at = Vec3::Zero();
    bool recommended = false;
    QString title, value, limit, by, clause, way_out, sentence;
    friend bool operator==(const ShortLine&, const ShortLine&) = default;
};
std::vector<ShortLine> linesOf(const Document& document, UnitsShown units);

class ShortModel : public QAbstractListModel {
    Q_OBJECT
public:
    using QAbstractListModel::QAbstractListModel;
    void setLines(std::vector<ShortLine> lines);
    const ShortLine& line(int row) const { return lines_[std::size_t(row)]; }
    int rowOf(const std::string& key) const;
    int rowCount(const QModelIndex& parent = {}) const override;
    QVariant data(const QModelIndex& index, int role) const override;

private:
    std::vector<ShortLine> lines_;
};

class ShortDelegate : public QStyledItemDelegate {
    Q_OBJECT
public:
    ShortDelegate(const Desk& desk, QObject* parent) : QStyledItemDelegate(parent), desk_(desk) {}
    void paint(QPainter* painter, const QStyleOptionViewItem& option,
               const QModelIndex& index) const override;
    QSize sizeHint(const QStyleOptionViewItem& option, const QModelIndex& index) const override;

private:
    const Desk& desk_;
};

class FallsShort : public QWidget {
    Q_OBJECT
public:
    FallsShort(Desk& desk, QWidget* parent = nullptr);
    QListView* list() const { return list_; }

protected:
    void paintEvent(QPaintEvent* event) override;

private:
    void refresh();
    void choose(const QModelIndex& index);
    void pullSelection();

    Desk& desk_;
    ShortModel* model_;
    QListView* list_;
    bool pulling_ = false;
};

}  // namespace hoopwright
