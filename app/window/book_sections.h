// The shop's own book, its dies and its stock as tables that can be typed into: which there are, what stands
// in a cell, what a typed word does to it.
#pragma once

#include <QString>
#include <functional>
#include <string>
#include <vector>

#include "core/model/shop_book.h"
#include "core/model/stock.h"
#include "core/units/measure.h"

namespace hoopwright {

/// What a shop has: three files of one job.
struct ShopFiles {
    ShopBook book;
    DieList dies;
    StockList stock;
};

/// A column of a table, or one value of a table of single values.
struct BookColumn {
    QString title;
    /// What stands there in the person's unit.
    std::function<QString(const ShopFiles&, std::size_t row, LengthUnit)> get;
    /// Takes what was typed; the sentence says why it will not do, and nothing is changed then.
    std::function<QString(ShopFiles&, std::size_t row, const QString&, LengthUnit)> set;
    std::vector<QString> words = {};  ///< one of these; empty: anything may be typed
    bool figure = false;              ///< stands right
};

struct BookSection {
    enum class In { book, dies, stock };  ///< which file it is kept in
    QString title, about;
    In in = In::book;
    /// Of a table: what stands in each row. Of single values: one for each row, and `add` is empty.
    std::vector<BookColumn> columns;
    std::function<std::size_t(const ShopFiles&)> count;
    std::function<void(ShopFiles&)> add;
    std::function<void(ShopFiles&, std::size_t row)> remove;
    bool single() const { return !add; }
};

/// Every section, in the order they are offered.
const std::vector<BookSection>& bookSections();

}  // namespace hoopwright
