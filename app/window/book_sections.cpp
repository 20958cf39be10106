#include "app/window/book_sections.h"

#include <QStringList>

#include "app/window/book_columns.h"

namespace hoopwright {
namespace {

using In = BookSection::In;
constexpr Dimension kBookLength = Dimension::length, kBookAngle = Dimension::angle,
                    kBookPlain = Dimension::none;

QString bookWords(const char* words) {
    return QObject::tr(words);
}

/// "a; b" as a list.
std::vector<std::string> typedParts(const QString& typed, QChar by) {
    std::vector<std::string> out;
    for (const QString& part : typed.split(by, Qt::SkipEmptyParts))
        if (!part.trimmed().isEmpty()) out.push_back(part.trimmed().toStdString());
    return out;
}
QString joinedParts(const std::vector<std::string>& parts, const QString& between) {
    QStringList out;
    for (const std::string& part : parts) out << text(part);
    return out.join(between);
}

/// One value of the book itself.
template <class Value>
BookColumn bookText(const QString& title, Value ShopBook::*member) {
    return {title,
            [member](const ShopFiles& files, std::size_t, LengthUnit) { return text(files.book.*member); },
            [member](ShopFiles& files, std::size_t, const QString& typed, LengthUnit) {
                files.book.*member = typed.trimmed().toStdString();
                return QString();
            }};
}
template <class Get>
BookColumn bookSingle(const QString& title, Dimension dimension, bool may_be_empty, Get get) {
    BookColumn out = {
        title,
        [get, dimension](const ShopFiles& files, std::size_t, LengthUnit unit) {
            const std::optional<double> value = get(const_cast<ShopFiles&>(files), std::nullopt, false);
            return value ? bookMeasure(*value, dimension, unit) : QString();
        },
        [get, dimension, may_be_empty](ShopFiles& files, std::size_t, const QString& typed, LengthUnit unit) {
            if (typed.trimmed().isEmpty() && may_be_empty) {
                get(files, std::nullopt, true);
                return QString();
            }
            const Expected<double> read = typedMeasure(typed, dimension, unit);
            if (read) get(files, *read, true);
            return read ? QString() : text(read.reason());
        }};
    out.figure = true;
    return out;
}
BookColumn bookValue(const QString& title, Dimension dimension, double ShopBook::*member) {
    return bookSingle(
        title, dimension, false,
        [member](ShopFiles& files, std::optional<double> to, bool set) -> std::optional<double> {
            if (set && to) files.book.*member = *to;
            return files.book.*member;
        });
}
BookColumn bookMaybe(const QString& title, Dimension dimension, std::optional<double> ShopBook::*member) {
    return bookSingle(title, dimension, true, [member](ShopFiles& files, std::optional<double> to, bool set) {
        if (set) files.book.*member = to;
        return files.book.*member;
    });
}
BookColumn minutesOf(const QString& title, std::optional<double> ShopMinutes::*member) {
    return bookSingle(title, kBookPlain, true,
                      [member](ShopFiles& files, std::optional<double> to, bool set) {
                          if (set) files.book.minutes.*member = to;
                          return files.book.minutes.*member;
                      });
}
/// Of a part that is all there or not at all: typing into it begins it, emptying a figure takes it away.
template <class Part>
BookColumn partValue(const QString& title, Dimension dimension, std::optional<Part> ShopBook::*part,
                     double Part::*member, const Part& fresh) {
    return bookSingle(
        title, dimension, true,
        [part, member, fresh](ShopFiles& files, std::optional<double> to, bool set) -> std::optional<double> {
            std::optional<Part>& it = files.book.*part;
            if (set && !to) it.reset();
            if (set && to) {
                if (!it) it = fresh;
                (*it).*member = *to;
            }
            if (!it) return std::nullopt;
            return (*it).*member;
        });
}
BookColumn bookYes(const QString& title, bool ShopBook::*member) {
    return {title,
            [member](const ShopFiles& files, std::size_t, LengthUnit) {
                return files.book.*member ? bookWords("yes") : bookWords("no");
            },
            [member](ShopFiles& files, std::size_t, const QString& typed, LengthUnit) {
                files.book.*member = typed == bookWords("yes");
                return QString();
            },
            {bookWords("yes"), bookWords("no")}};
}

BookSection bookSingles(const QString& title, const QString& about, std::vector<BookColumn> values) {
    const std::size_t count = values.size();
    BookSection out{title, about, In::book, std::move(values), {}, {}, {}};
    out.count = [count](const ShopFiles&) { return count; };
    return out;
}

BookSection shopSection() {
    BookColumn exclusions = {bookWords("Not part of a quote"),
                             [](const ShopFiles& files, std::size_t, LengthUnit) {
                                 return joinedParts(files.book.exclusions, QStringLiteral("; "));
                             },
                             [](ShopFiles& files, std::size_t, const QString& typed, LengthUnit) {
                                 files.book.exclusions = typedParts(typed, QLatin1Char(';'));
                                 return QString();
                             }};
    return bookSingles(
        bookWords("The shop"), bookWords("What stands on its papers."),
        {bookText(bookWords("Name"), &ShopBook::name), bookText(bookWords("Its words"), &ShopBook::words),
         bookText(bookWords("Its mark, an image file"), &ShopBook::mark), exclusions});
}

BookSection workSection() {
    BookColumn kerf = {bookWords("A saw cut is lost"),
                       [](const ShopFiles& files, std::size_t, LengthUnit) {
                           return files.book.kerf_at == KerfAt::every_cut ? bookWords("behind every piece")
                                                                          : bookWords("between pieces");
                       },
                       [](ShopFiles& files, std::size_t, const QString& typed, LengthUnit) {
                           files.book.kerf_at = typed == bookWords("behind every piece")
                                                    ? KerfAt::every_cut
                                                    : KerfAt::between_pieces;
                           return QString();
                       },
                       {bookWords("between pieces"), bookWords("behind every piece")}};
    return bookSingles(
        bookWords("How it works"), bookWords("Emptied, a value is not known, and no sheet guesses it."),
        {bookValue(bookWords("Left on a bent blank, trimmed after"), kBookLength, &ShopBook::bend_long_mm),
         bookMaybe(bookWords("Least over greatest diameter of a bend"), kBookPlain,
                   &ShopBook::least_roundness),
         bookValue(bookWords("Cleaned back outside"), kBookLength, &ShopBook::clean_outside_mm),
         bookValue(bookWords("Cleaned back in the bore"), kBookLength, &ShopBook::clean_inside_mm),
         bookValue(bookWords("Thickness of the paper of wraps"), kBookLength, &ShopBook::paper_mm),
         partValue(bookWords("Filler, g for a metre of weld"), kBookPlain, &ShopBook::weld,
                   &WeldUse::filler_g_per_m, WeldUse{0, 0, 60}),
         partValue(bookWords("Gas, litres a minute"), kBookPlain, &ShopBook::weld, &WeldUse::gas_l_per_min,
                   WeldUse{0, 0, 60}),
         partValue(bookWords("Speed of the torch, mm a minute"), kBookPlain, &ShopBook::weld,
                   &WeldUse::speed_mm_per_min, WeldUse{0, 0, 60}),
         kerf, bookYes(bookWords("Off-cuts are cut first"), &ShopBook::off_cuts_first),
         bookMaybe(bookWords("Goes back to the rack from"), kBookLength, &ShopBook::rack_from_mm),
         partValue(bookWords("Width of the cut of the sheet table"), kBookLength, &ShopBook::cutting_table,
                   &CuttingTable::kerf_mm, CuttingTable{}),
         partValue(bookWords("Sheet left between two cuts"), kBookLength, &ShopBook::cutting_table,
                   &CuttingTable::gap_mm, CuttingTable{}),
         partValue(bookWords("Sheet left at its edge"), kBookLength, &ShopBook::cutting_table,
                   &CuttingTable::edge_mm, CuttingTable{})});
}

BookSection ratesSection() {
    return bookSingles(
        bookWords("Minutes and rates"),
        bookWords("Of one of each. A quote leaves out, and says so, what stands empty."),
        {minutesOf(bookWords("Minutes for a bend"), &ShopMinutes::bend),
         minutesOf(bookWords("for a cope"), &ShopMinutes::cope),
         minutesOf(bookWords("for a joint welded"), &ShopMinutes::joint),
         minutesOf(bookWords("for a plate"), &ShopMinutes::plate),
         minutesOf(bookWords("for a bar put in"), &ShopMinutes::fit),
         bookMaybe(bookWords("An hour costs"), kBookPlain, &ShopBook::rate_per_hour),
         bookMaybe(bookWords("A metre of padding costs"), kBookPlain, &ShopBook::padding_price_per_m)});
}

BookSection bendersSection() {
    const ColumnsOf<Bender> of([](ShopFiles & files) -> auto& { return files.book.benders; });
    BookColumn dies = {bookWords("dies"),
                       [](const ShopFiles& files, std::size_t row, LengthUnit) {
                           return joinedParts(files.book.benders[row].dies, QStringLiteral(", "));
                       },
                       [](ShopFiles& files, std::size_t row, const QString& typed, LengthUnit) {
                           files.book.benders[row].dies = typedParts(typed, QLatin1Char(','));
                           return QString();
                       }};
    Bender fresh;
    fresh.id = "bender";
    fresh.height_mm = 1000;
    return of.section(
        bookWords("Benders"),
        bookWords(
            "Height: of the tube over the floor. Tail: free length behind the start of a bend. Dies: those "
            "that go on it, with commas; empty means all."),
        In::book,
        {of.words(bookWords("id"), &Bender::id), of.words(bookWords("name"), &Bender::name),
         of.oneOf<Bender::Swings>(bookWords("swings"),
                                  {{Bender::Swings::left, bookWords("left")},
                                   {Bender::Swings::right, bookWords("right")},
                                   {Bender::Swings::up, bookWords("up")}},
                                  &Bender::swings),
         of.measure(bookWords("height"), kBookLength, &Bender::height_mm),
         of.maybe(bookWords("tail"), kBookLength, &Bender::tail_mm),
         of.maybe(bookWords("stroke"), kBookAngle, &Bender::stroke_rad), dies},
        fresh);
}

/// The blocks of every bender in one table: which bender, and which of its blocks.
std::pair<std::size_t, std::size_t> blockAt(const ShopBook& book, std::size_t row) {
    for (std::size_t b = 0; b < book.benders.size(); ++b) {
        if (row < book.benders[b].frame.size()) return {b, row};
        row -= book.benders[b].frame.size();
    }
    return {0, 0};
}

BookColumn blockCorner(const QString& title, Vec3 BenderBlock::*corner, int axis) {
    BookColumn out = {
        title,
        [corner, axis](const ShopFiles& files, std::size_t row, LengthUnit unit) {
            const auto [b, k] = blockAt(files.book, row);
            return bookMeasure((files.book.benders[b].frame[k].*corner)[axis], kBookLength, unit);
        },
        [corner, axis](ShopFiles& files, std::size_t row, const QString& typed, LengthUnit unit) {
            const auto [b, k] = blockAt(files.book, row);
            const Expected<double> read = typedMeasure(typed, kBookLength, unit);
            if (read) (files.book.benders[b].frame[k].*corner)[axis] = *read;
            return read ? QString() : text(read.reason());
        }};
    out.figure = true;
    return out;
}

BookSection blocksSection() {
    BookSection out{
        bookWords("Frames of the benders"),
        bookWords(
            "What of a bender stands in the way: boxes from a low corner to a high one, from where a bend "
            "begins; x towards the clamp, y towards the middle of the die, z up from the bend's plane."),
        In::book,
        {},
        [](const ShopFiles& files) {
            std::size_t count = 0;
            for (const Bender& one : files.book.benders) count += one.frame.size();
            return count;
        },
        [](ShopFiles& files) {
            if (!files.book.benders.empty())
                files.book.benders.back().frame.push_back({"block", {-100, -100, -100}, {100, 100, 100}});
        },
        [](ShopFiles& files, std::size_t row) {
            const auto [b, k] = blockAt(files.book, row);
            auto& frame = files.book.benders[b].frame;
            frame.erase(frame.begin() + std::ptrdiff_t(k));
        }};
    out.columns.push_back({bookWords("bender"),
                           [](const ShopFiles& files, std::size_t row, LengthUnit) {
                               return text(files.book.benders[blockAt(files.book, row).first].id);
                           },
                           [](ShopFiles& files, std::size_t row, const QString& typed, LengthUnit) {
                               const auto [b, k] = blockAt(files.book, row);
                               for (Bender& to : files.book.benders) {
                                   if (text(to.id) != typed.trimmed()) continue;
                                   auto& frame = files.book.benders[b].frame;
                                   const BenderBlock block = frame[k];
                                   frame.erase(frame.begin() + std::ptrdiff_t(k));
                                   to.frame.push_back(block);
                                   return QString();
                               }
                               return QObject::tr("There is no bender \"%1\" in the book.").arg(typed);
                           }});
    out.columns.push_back({bookWords("name"),
                           [](const ShopFiles& files, std::size_t row, LengthUnit) {
                               const auto [b, k] = blockAt(files.book, row);
                               return text(files.book.benders[b].frame[k].name);
                           },
                           [](ShopFiles& files, std::size_t row, const QString& typed, LengthUnit) {
                               const auto [b, k] = blockAt(files.book, row);
                               files.book.benders[b].frame[k].name = typed.trimmed().toStdString();
                               return QString();
                           }});
    const QStringList axes = {QStringLiteral("x"), QStringLiteral("y"), QStringLiteral("z")};
    for (int axis = 0; axis < 3; ++axis)
        out.columns.push_back(blockCorner(bookWords("low ") + axes[axis], &BenderBlock::low, axis));
    for (int axis = 0; axis < 3; ++axis)
        out.columns.push_back(blockCorner(bookWords("high ") + axes[axis], &BenderBlock::high, axis));
    return out;
}

BookSection diesSection() {
    const ColumnsOf<Die> of([](ShopFiles & files) -> auto& { return files.dies.dies; });
    Die fresh;
    fresh.id = "die";
    fresh.od_mm = 40;
    fresh.radius_mm = 120;
    return of.section(
        bookWords("Dies"),
        bookWords("Radius: of the tube's middle, as it comes out. Mark: from the die's mark to where the "
                  "bend begins."),
        In::dies,
        {of.words(bookWords("id"), &Die::id), of.measure(bookWords("tube"), kBookLength, &Die::od_mm),
         of.measure(bookWords("radius"), kBookLength, &Die::radius_mm),
         of.maybe(bookWords("mark"), kBookLength, &Die::mark_to_tangent_mm),
         of.measure(bookWords("least straight"), kBookLength, &Die::least_straight_mm),
         of.measure(bookWords("least at the end"), kBookLength, &Die::least_end_straight_mm),
         of.maybe(bookWords("clamp"), kBookLength, &Die::clamp_mm),
         of.maybe(bookWords("follower"), kBookLength, &Die::follower_mm),
         of.measure(bookWords("greatest angle"), kBookAngle, &Die::greatest_angle_rad)},
        fresh);
}

BookSection samplesSection() {
    const ColumnsOf<BendSample> of([](ShopFiles & files) -> auto& { return files.book.samples; });
    BendSample fresh;
    fresh.stock = "tube";
    fresh.die = "die";
    fresh.dialled_rad = fresh.got_rad = std::numbers::pi / 2;
    return of.section(
        bookWords("Trial bends"),
        bookWords("What was dialled and what it measured free of the die. Three of a tube on a die, and "
                  "the bend sheet says what to dial."),
        In::book,
        {of.words(bookWords("tube"), &BendSample::stock), of.words(bookWords("die"), &BendSample::die),
         of.measure(bookWords("dialled"), kBookAngle, &BendSample::dialled_rad),
         of.measure(bookWords("got"), kBookAngle, &BendSample::got_rad),
         of.maybe(bookWords("radius got"), kBookLength, &BendSample::radius_mm),
         of.words(bookWords("when"), &BendSample::when)},
        fresh);
}

}  // namespace

// The rest is in book_more_sections.cpp.
std::vector<BookSection> moreBookSections();

const std::vector<BookSection>& bookSections() {
    static const std::vector<BookSection> all = [] {
        std::vector<BookSection> out = {shopSection(),   workSection(), ratesSection(),  bendersSection(),
                                        blocksSection(), diesSection(), samplesSection()};
        for (BookSection& one : moreBookSections()) out.push_back(std::move(one));
        return out;
    }();
    return all;
}

}  // namespace hoopwright
