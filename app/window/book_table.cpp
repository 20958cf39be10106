// The table of one section: what is typed is taken only if the file would read back whole.
#include "app/window/book_panel.h"
#include "app/window/form_help.h"
#include "core/files/shop_file.h"

namespace hoopwright {

BookTable::BookTable(Desk& desk, QObject* parent) : QAbstractTableModel(parent), desk_(desk) {
    now_ = filesNow();
    const auto anew = [this] {
        beginResetModel();
        now_ = filesNow();
        endResetModel();
    };
    connect(&desk_, &Desk::unitsChanged, this, anew);
    connect(&desk_.document, &Document::changed, this, [this, anew] {
        ShopFiles files = filesNow();
        // The line that is typed into keeps the keyboard while only values change.
        if (section().count(files) != std::size_t(rowCount())) return anew();
        now_ = std::move(files);
        if (rowCount() > 0) emit dataChanged(index(0, 0), index(rowCount() - 1, columnCount() - 1));
    });
}

const BookSection& BookTable::section() const {
    return bookSections()[section_];
}

void BookTable::turnTo(std::size_t section) {
    beginResetModel();
    section_ = section;
    endResetModel();
    emit complained({});
}

ShopFiles BookTable::filesNow() const {
    const Job& job = desk_.document.job();
    return {job.shop ? *job.shop : ShopBook(), job.dies, job.stock};
}

LengthUnit BookTable::unit() const {
    return desk_.units() == UnitsShown::in ? LengthUnit::in : LengthUnit::mm;
}

bool BookTable::editable() const {
    return section().in != BookSection::In::book || desk_.document.job().shop != nullptr;
}

bool BookTable::take(const QString& words, const ShopFiles& files) {
    // The same rules as for a file that a person wrote: it is written and read back.
    const Problems problems =
        section().in == BookSection::In::book   ? readShopText(writeShop(files.book), "book").problems
        : section().in == BookSection::In::dies ? readDiesText(writeDies(files.dies), "dies").problems
                                                : readStockText(writeStock(files.stock), "stock").problems;
    if (!problems.empty()) {
        complaint_ = tr("Not taken: %1; %2.").arg(text(problems.front().what), text(problems.front().remedy));
        emit complained(complaint_);
        return false;
    }
    complaint_.clear();
    emit complained({});
    desk_.document.edit(words, [&](Job& job) {
        // A book that is equal stays the very same, so that nothing is undone that nobody did.
        if (job.shop && !(files.book == *job.shop)) job.shop = std::make_shared<const ShopBook>(files.book);
        job.dies = files.dies;
        job.stock = files.stock;
    });
    return true;
}

void BookTable::addLine() {
    if (section().single() || !editable()) return;
    ShopFiles files = filesNow();
    section().add(files);
    // Ids differ: the new one is told apart by a number.
    for (int n = 2; n < 100; ++n) {
        if (take(tr("Add to %1").arg(section().title), files)) return;
        ShopFiles other = filesNow();
        section().add(other);
        const std::size_t row = section().count(other) - 1;
        const QString first = section().columns.front().get(other, row, unit());
        section().columns.front().set(other, row, first + QStringLiteral("_%1").arg(n), unit());
        files = std::move(other);
    }
}

void BookTable::removeLine(int row) {
    if (section().single() || row < 0 || row >= rowCount()) return;
    ShopFiles files = filesNow();
    section().remove(files, std::size_t(row));
    take(tr("Take a line out of %1").arg(section().title), files);
}

int BookTable::rowCount(const QModelIndex& parent) const {
    return parent.isValid() ? 0 : int(section().count(now_));
}

int BookTable::columnCount(const QModelIndex& parent) const {
    return parent.isValid() ? 0 : section().single() ? 2 : int(section().columns.size());
}

const BookColumn& BookTable::column(const QModelIndex& index) const {
    return section().columns[std::size_t(section().single() ? index.row() : index.column())];
}

QVariant BookTable::data(const QModelIndex& index, int role) const {
    if (!index.isValid()) return {};
    const bool name = section().single() && index.column() == 0;
    if (role == Qt::DisplayRole || role == Qt::EditRole)
        return name ? column(index).title : column(index).get(now_, std::size_t(index.row()), unit());
    if (role == Qt::TextAlignmentRole)
        return int(Qt::AlignVCenter | (!name && column(index).figure ? Qt::AlignRight : Qt::AlignLeft));
    return {};
}

QVariant BookTable::headerData(int at, Qt::Orientation way, int role) const {
    if (role != Qt::DisplayRole || way != Qt::Horizontal) return {};
    if (section().single()) return at == 0 ? tr("what") : tr("value");
    return section().columns[std::size_t(at)].title;
}

Qt::ItemFlags BookTable::flags(const QModelIndex& index) const {
    Qt::ItemFlags flags = QAbstractTableModel::flags(index);
    if (editable() && !(section().single() && index.column() == 0)) flags |= Qt::ItemIsEditable;
    return flags;
}

bool BookTable::setData(const QModelIndex& index, const QVariant& value, int role) {
    if (role != Qt::EditRole || !index.isValid()) return false;
    const QString typed = value.toString();
    const std::size_t row = std::size_t(index.row());
    // What stands there unchanged is not typed: nothing is rounded by looking at it.
    if (typed == column(index).get(now_, row, unit())) {
        emit complained({});
        return true;
    }
    ShopFiles files = filesNow();
    if (const QString wrong = column(index).set(files, row, typed, unit()); !wrong.isEmpty()) {
        complaint_ = wrong;
        emit complained(wrong);
        return false;
    }
    return take(tr("%1: %2").arg(section().title, column(index).title), files);
}

}  // namespace hoopwright
