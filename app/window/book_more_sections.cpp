// Saws, tube, sticks, rack, sheet, folds, times and finishes of the shop's book.
#include "app/window/book_columns.h"

namespace hoopwright {

std::vector<BookSection> moreBookSections();

namespace {

using In = BookSection::In;
constexpr Dimension kBookLong = Dimension::length, kBookTurned = Dimension::angle,
                    kBookNumber = Dimension::none;

QString sectionWords(const char* words) {
    return QObject::tr(words);
}

BookSection sawsSection() {
    const ColumnsOf<Saw> of([](ShopFiles & files) -> auto& { return files.book.saws; });
    return of.section(
        sectionWords("Saws for straight cuts"),
        sectionWords("Swing: from a square cut. Two straight cuts stand on a cope sheet where a saw swings "
                     "so far."),
        In::book,
        {of.words(sectionWords("id"), &Saw::id), of.words(sectionWords("name"), &Saw::name),
         of.measure(sectionWords("kerf"), kBookLong, &Saw::kerf_mm),
         of.measure(sectionWords("greatest swing"), kBookTurned, &Saw::greatest_swing_rad)},
        Saw{"saw", "", 2.5, std::numbers::pi / 4});
}

BookSection holeSawsSection() {
    BookSection out{sectionWords("Hole saws on the shelf"),
                    sectionWords("The diameter of the hole each cuts."),
                    In::book,
                    {},
                    [](const ShopFiles& files) { return files.book.hole_saws_mm.size(); },
                    [](ShopFiles& files) { files.book.hole_saws_mm.push_back(45); },
                    [](ShopFiles& files, std::size_t row) {
                        auto& all = files.book.hole_saws_mm;
                        all.erase(all.begin() + std::ptrdiff_t(row));
                    }};
    BookColumn size = {sectionWords("size"),
                       [](const ShopFiles& files, std::size_t row, LengthUnit unit) {
                           return bookMeasure(files.book.hole_saws_mm[row], kBookLong, unit);
                       },
                       [](ShopFiles& files, std::size_t row, const QString& typed, LengthUnit unit) {
                           const Expected<double> read = typedMeasure(typed, kBookLong, unit);
                           if (read) files.book.hole_saws_mm[row] = *read;
                           return read ? QString() : text(read.reason());
                       }};
    size.figure = true;
    out.columns.push_back(size);
    return out;
}

BookColumn tubeMeasure(const QString& title, double TubeSection::*member) {
    BookColumn out = {title,
                      [member](const ShopFiles& files, std::size_t row, LengthUnit unit) {
                          return bookMeasure(files.stock.tubes[row].section.*member, kBookLong, unit);
                      },
                      [member](ShopFiles& files, std::size_t row, const QString& typed, LengthUnit unit) {
                          const Expected<double> read = typedMeasure(typed, kBookLong, unit);
                          if (read) files.stock.tubes[row].section.*member = *read;
                          return read ? QString() : text(read.reason());
                      }};
    out.figure = true;
    return out;
}

BookSection tubesSection() {
    const ColumnsOf<TubeStock> of([](ShopFiles & files) -> auto& { return files.stock.tubes; });
    TubeStock fresh;
    fresh.id = "tube";
    fresh.section.od_mm = 40;
    fresh.section.wall_mm = 2;
    return of.section(
        sectionWords("Tube"),
        sectionWords(
            "Gauged: the wall as it was measured on the rack. Bars name a tube by its id; another id leaves "
            "them without."),
        In::stock,
        {of.words(sectionWords("id"), &TubeStock::id),
         tubeMeasure(sectionWords("across"), &TubeSection::od_mm),
         tubeMeasure(sectionWords("wall"), &TubeSection::wall_mm),
         of.words(sectionWords("material"), &TubeStock::material),
         of.oneOf<TubeForm>(sectionWords("form"),
                            {{TubeForm::seamless, sectionWords("seamless")},
                             {TubeForm::drawn_over_mandrel, sectionWords("drawn over mandrel")},
                             {TubeForm::welded, sectionWords("welded")}},
                            &TubeStock::form),
         of.words(sectionWords("sold under"), &TubeStock::standard),
         of.maybe(sectionWords("least wall"), kBookLong, &TubeStock::least_wall_mm),
         of.maybe(sectionWords("gauged"), kBookLong, &TubeStock::measured_wall_mm),
         of.words(sectionWords("note"), &TubeStock::note)},
        fresh);
}

/// The sticks of every tube in one table.
std::pair<std::size_t, std::size_t> stickAt(const StockList& stock, std::size_t row) {
    for (std::size_t t = 0; t < stock.tubes.size(); ++t) {
        if (row < stock.tubes[t].sticks.size()) return {t, row};
        row -= stock.tubes[t].sticks.size();
    }
    return {0, 0};
}

BookColumn stickMeasure(const QString& title, Dimension dimension, double StickLength::*member) {
    BookColumn out = {
        title,
        [member, dimension](const ShopFiles& files, std::size_t row, LengthUnit unit) {
            const auto [t, k] = stickAt(files.stock, row);
            return bookMeasure(files.stock.tubes[t].sticks[k].*member, dimension, unit);
        },
        [member, dimension](ShopFiles& files, std::size_t row, const QString& typed, LengthUnit unit) {
            const auto [t, k] = stickAt(files.stock, row);
            const Expected<double> read = typedMeasure(typed, dimension, unit);
            if (read) files.stock.tubes[t].sticks[k].*member = *read;
            return read ? QString() : text(read.reason());
        }};
    out.figure = true;
    return out;
}

BookSection sticksSection() {
    BookSection out{sectionWords("Sticks and prices"),
                    sectionWords("The lengths a merchant sells and what one costs; 0: not said."),
                    In::stock,
                    {},
                    [](const ShopFiles& files) {
                        std::size_t count = 0;
                        for (const TubeStock& one : files.stock.tubes) count += one.sticks.size();
                        return count;
                    },
                    [](ShopFiles& files) {
                        if (!files.stock.tubes.empty()) files.stock.tubes.back().sticks.push_back({6000, 0});
                    },
                    [](ShopFiles& files, std::size_t row) {
                        const auto [t, k] = stickAt(files.stock, row);
                        auto& all = files.stock.tubes[t].sticks;
                        all.erase(all.begin() + std::ptrdiff_t(k));
                    }};
    out.columns = {{sectionWords("tube"),
                    [](const ShopFiles& files, std::size_t row, LengthUnit) {
                        return text(files.stock.tubes[stickAt(files.stock, row).first].id);
                    },
                    [](ShopFiles& files, std::size_t row, const QString& typed, LengthUnit) {
                        const auto [t, k] = stickAt(files.stock, row);
                        for (TubeStock& to : files.stock.tubes) {
                            if (text(to.id) != typed.trimmed()) continue;
                            auto& all = files.stock.tubes[t].sticks;
                            const StickLength stick = all[k];
                            all.erase(all.begin() + std::ptrdiff_t(k));
                            to.sticks.push_back(stick);
                            return QString();
                        }
                        return QObject::tr("There is no tube \"%1\" in the stock list.").arg(typed);
                    }},
                   stickMeasure(sectionWords("length"), kBookLong, &StickLength::length_mm),
                   stickMeasure(sectionWords("price of one"), kBookNumber, &StickLength::price)};
    return out;
}

BookSection rackSection() {
    const ColumnsOf<RackPiece> of([](ShopFiles & files) -> auto& { return files.book.rack; });
    return of.section(sectionWords("Rack and off-cuts"),
                      sectionWords("What lies there, with the heat it came of and its certificate."),
                      In::book,
                      {of.words(sectionWords("tube"), &RackPiece::stock),
                       of.measure(sectionWords("length"), kBookLong, &RackPiece::length_mm),
                       of.words(sectionWords("heat"), &RackPiece::heat),
                       of.words(sectionWords("certificate"), &RackPiece::certificate)},
                      RackPiece{"tube", 1000, "", ""});
}

BookSection sheetStockSection() {
    const ColumnsOf<SheetStock> of([](ShopFiles & files) -> auto& { return files.book.sheets; });
    return of.section(sectionWords("Sheet for plates"),
                      sectionWords("Thicknesses on the shelf, and what a sheet costs; 0: not said."),
                      In::book,
                      {of.words(sectionWords("id"), &SheetStock::id),
                       of.words(sectionWords("material"), &SheetStock::material),
                       of.measure(sectionWords("thickness"), kBookLong, &SheetStock::thickness_mm),
                       of.measure(sectionWords("length"), kBookLong, &SheetStock::length_mm),
                       of.measure(sectionWords("width"), kBookLong, &SheetStock::width_mm),
                       of.measure(sectionWords("price"), kBookNumber, &SheetStock::price)},
                      SheetStock{"sheet", "", 3, 1000, 500, 0});
}

BookSection foldsSection() {
    const ColumnsOf<SheetFold> of([](ShopFiles & files) -> auto& { return files.book.folds; });
    return of.section(
        sectionWords("Folds"),
        sectionWords(
            "How sheet of a thickness comes out of the folder. k: where it keeps its length, from the "
            "inside, as a share of the thickness."),
        In::book,
        {of.measure(sectionWords("thickness"), kBookLong, &SheetFold::thickness_mm),
         of.measure(sectionWords("radius inside"), kBookLong, &SheetFold::radius_mm),
         of.maybe(sectionWords("k"), kBookNumber, &SheetFold::k),
         of.maybe(sectionWords("least leg"), kBookLong, &SheetFold::least_leg_mm)},
        SheetFold{1, 1, std::nullopt, std::nullopt});
}

BookSection timesSection() {
    const ColumnsOf<WorkTime> of([](ShopFiles & files) -> auto& { return files.book.times; });
    BookColumn count = {sectionWords("how many"),
                        [](const ShopFiles& files, std::size_t row, LengthUnit) {
                            return QString::number(files.book.times[row].count);
                        },
                        [](ShopFiles& files, std::size_t row, const QString& typed, LengthUnit) {
                            bool whole = false;
                            const int number = typed.trimmed().toInt(&whole);
                            if (whole) files.book.times[row].count = number;
                            return whole ? QString() : QObject::tr("\"%1\" is no whole number.").arg(typed);
                        }};
    count.figure = true;
    return of.section(
        sectionWords("Times taken"),
        sectionWords("What so many of one kind of work took on a job. A quote learns from them."), In::book,
        {of.words(sectionWords("job"), &WorkTime::job),
         of.oneOf<Operation>(sectionWords("work"),
                             {{Operation::bend, sectionWords("bends")},
                              {Operation::cope, sectionWords("copes")},
                              {Operation::joint, sectionWords("joints welded")},
                              {Operation::plate, sectionWords("plates")},
                              {Operation::fit, sectionWords("bars put in")}},
                             &WorkTime::operation),
         count, of.measure(sectionWords("minutes in all"), kBookNumber, &WorkTime::minutes),
         of.words(sectionWords("when"), &WorkTime::when)},
        WorkTime{"job", Operation::bend, 1, 10, ""});
}

BookSection finishesSection() {
    const ColumnsOf<ShopFinish> of([](ShopFiles & files) -> auto& { return files.book.finishes; });
    return of.section(
        sectionWords("Finishes"), sectionWords("By the square metre of the cage's outside."), In::book,
        {of.words(sectionWords("name"), &ShopFinish::name),
         of.measure(sectionWords("price of a square metre"), kBookNumber, &ShopFinish::price_per_m2)},
        ShopFinish{"finish", 0});
}

}  // namespace

std::vector<BookSection> moreBookSections() {
    return {sawsSection(),       holeSawsSection(), tubesSection(), sticksSection(),  rackSection(),
            sheetStockSection(), foldsSection(),    timesSection(), finishesSection()};
}

}  // namespace hoopwright
