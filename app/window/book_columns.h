// How the columns of the shop's book are made: text, measures, words of a list.
#pragma once

#include <QObject>
#include <cmath>
#include <numbers>
#include <optional>
#include <utility>

#include "app/window/book_sections.h"
#include "app/window/form_help.h"
#include "core/base/text.h"

namespace hoopwright {

/// As it is typed: to a thousandth of a millimetre, a ten-thousandth of an inch, a thousandth of a degree.
inline QString bookMeasure(double value, Dimension dimension, LengthUnit unit) {
    const auto rounded = [](double number, double per) { return shortest(std::round(number * per) / per); };
    if (dimension == Dimension::length && unit == LengthUnit::in)
        return text(rounded(value / 25.4, 1e4) + " in");
    if (dimension == Dimension::length) return text(rounded(value, 1e3) + " mm");
    if (dimension == Dimension::angle) return text(rounded(value * 180 / std::numbers::pi, 1e3) + "°");
    return text(shortest(value));
}

/// What was typed, in base units; the reason says what is wrong.
inline Expected<double> typedMeasure(const QString& typed, Dimension dimension, LengthUnit unit) {
    const char* bare = dimension == Dimension::length  ? (unit == LengthUnit::in ? "in" : "mm")
                       : dimension == Dimension::angle ? "deg"
                                                       : "";
    return readMeasure(typed.trimmed().toStdString(), *unitNamed(bare));
}

/// Of the members of one list of the files.
template <class Item>
class ColumnsOf {
public:
    using List = std::function<std::vector<Item>&(ShopFiles&)>;
    explicit ColumnsOf(List list) : list_(std::move(list)) {}

    BookColumn words(const QString& title, std::string Item::*member) const {
        return {title,
                [l = list_, member](const ShopFiles& files, std::size_t row, LengthUnit) {
                    return text(at(l, files, row).*member);
                },
                [l = list_, member](ShopFiles& files, std::size_t row, const QString& typed, LengthUnit) {
                    l(files)[row].*member = typed.trimmed().toStdString();
                    return QString();
                }};
    }
    BookColumn measure(const QString& title, Dimension dimension, double Item::*member) const {
        return figure(
            {title,
             [l = list_, member, dimension](const ShopFiles& files, std::size_t row, LengthUnit unit) {
                 return bookMeasure(at(l, files, row).*member, dimension, unit);
             },
             [l = list_, member, dimension](ShopFiles& files, std::size_t row, const QString& typed,
                                            LengthUnit unit) {
                 const Expected<double> read = typedMeasure(typed, dimension, unit);
                 if (read) l(files)[row].*member = *read;
                 return read ? QString() : text(read.reason());
             }});
    }
    /// Emptied, it is not known.
    BookColumn maybe(const QString& title, Dimension dimension, std::optional<double> Item::*member) const {
        return figure(
            {title,
             [l = list_, member, dimension](const ShopFiles& files, std::size_t row, LengthUnit unit) {
                 const std::optional<double>& value = at(l, files, row).*member;
                 return value ? bookMeasure(*value, dimension, unit) : QString();
             },
             [l = list_, member, dimension](ShopFiles& files, std::size_t row, const QString& typed,
                                            LengthUnit unit) {
                 std::optional<double>& value = l(files)[row].*member;
                 if (typed.trimmed().isEmpty()) {
                     value.reset();
                     return QString();
                 }
                 const Expected<double> read = typedMeasure(typed, dimension, unit);
                 if (read) value = *read;
                 return read ? QString() : text(read.reason());
             }});
    }
    template <class Word>
    BookColumn oneOf(const QString& title, const std::vector<std::pair<Word, QString>>& all,
                     Word Item::*member) const {
        BookColumn column = {
            title,
            [l = list_, member, all](const ShopFiles& files, std::size_t row, LengthUnit) {
                for (const auto& [word, shown] : all)
                    if (word == at(l, files, row).*member) return shown;
                return QString();
            },
            [l = list_, member, all](ShopFiles& files, std::size_t row, const QString& typed, LengthUnit) {
                for (const auto& [word, shown] : all) {
                    if (shown != typed) continue;
                    l(files)[row].*member = word;
                    return QString();
                }
                return QObject::tr("\"%1\" is none of its words.").arg(typed);
            }};
        for (const auto& [word, shown] : all) column.words.push_back(shown);
        return column;
    }
    BookSection section(const QString& title, const QString& about, BookSection::In in,
                        std::vector<BookColumn> columns, const Item& fresh) const {
        BookSection out{title, about, in, std::move(columns), {}, {}, {}};
        out.count = [l = list_](const ShopFiles& files) { return l(const_cast<ShopFiles&>(files)).size(); };
        out.add = [l = list_, fresh](ShopFiles& files) { l(files).push_back(fresh); };
        out.remove = [l = list_](ShopFiles& files, std::size_t row) {
            l(files).erase(l(files).begin() + std::ptrdiff_t(row));
        };
        return out;
    }
    /// Reading alone, through the same way that writes.
    static const Item& at(const List& list, const ShopFiles& files, std::size_t row) {
        return list(const_cast<ShopFiles&>(files))[row];
    }

private:
    static BookColumn figure(BookColumn column) {
        column.figure = true;
        return column;
    }
    List list_;
};

}  // namespace hoopwright
