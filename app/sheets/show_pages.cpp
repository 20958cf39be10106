#include "app/sheets/show_pages.h"

#include <QStringList>
#include <algorithm>
#include <cmath>

#include "app/sheets/one_line.h"
#include "app/sheets/show_board.h"
#include "app/sheets/show_cuts.h"
#include "app/view/bar_groups.h"
#include "app/view/finding_text.h"
#include "app/view/marks.h"
#include "core/base/text.h"
#include "core/model/shop_book.h"

namespace hoopwright {
namespace {

constexpr double kShowTop_mm = 22, kShowFoot_mm = 24;

QString said(std::string_view words) {
    return QString::fromUtf8(words.data(), static_cast<qsizetype>(words.size()));
}
QString counted(const std::string& word, const std::string& words, int count) {
    return QString::number(count) + QLatin1Char(' ') + said(count == 1 ? word : words);
}

const Wording kPlain{}, kQuiet{PaperType::text, TypeWeight::plain, paperInk().soft},
    kNote{PaperType::note, TypeWeight::plain, paperInk().soft}, kStrong{PaperType::text, TypeWeight::strong},
    kHead{PaperType::head, TypeWeight::strong}, kTitle{PaperType::title, TypeWeight::strong};

Wording toRight(Wording how) {
    how.align = Qt::AlignRight;
    return how;
}

class Show {
public:
    Show(const CustomerFacts& facts, const ShowPictures& pictures, const SheetHead& head, const QImage& mark,
         const std::string& date)
        : facts_(facts),
          job_(*facts.job),
          cage_(*facts.cage),
          pictures_(pictures),
          head_(head),
          mark_(mark),
          date_(said(date)),
          board_(head.paper, said(head.job)) {
        style_.unit = head.unit;
        style_.decimals = 0;
    }

    ShowBook make() {
        cover();
        classPage();
        bars();
        options();
        drivers();
        carAndRest();
        ShowBook book;
        book.pages = board_.pages();
        book.pdf = board_.take();
        return book;
    }

private:
    // --- the frame of every page but the cover
    void page(const QString& title, const QString& under = {}) {
        board_.page();
        foot();
        board_.block({board_.column(0), kShowTop_mm, 3, 11}, paperInk().tape);
        board_.line(board_.column(0) + 6.5, kShowTop_mm + 8.4, title, kTitle);
        y_ = kShowTop_mm + 18;
        title_ = title;
        if (under.isEmpty()) return;
        y_ += board_.words(board_.column(0), y_, board_.columns(9), under, kQuiet) + 5;
    }
    QString fitting(const QString& words, double room_mm, const Wording& how) {
        return onOneLine(words, room_mm, [&](const QString& one) { return board_.widthOf(one, how); });
    }
    void foot() {
        const double y = board_.height() - 13;
        board_.rule(board_.column(0), y - 4.4, board_.columns(12));
        const QString right = said("Revision ") + said(head_.revision) + said("   ·   ") + date_ +
                              said("   ·   ") + QString::number(board_.pages());
        const double room = board_.columns(12) - board_.widthOf(right, kNote) - 6;
        board_.line(board_.column(0), y,
                    fitting(said(head_.job) + said("   ·   ") + said(head_.shop), room, kNote), kNote);
        board_.line(board_.right(), y, right, toRight(kNote));
    }
    double bottom() const { return board_.height() - kShowFoot_mm; }
    /// Room for so much, else the page goes on on another.
    void need(double mm) {
        if (y_ + mm <= bottom()) return;
        const QString title = title_;
        page(title.endsWith(said(", continued")) ? title : title + said(", continued"));
    }
    /// Never alone at the foot of a page: what comes next takes so much.
    void head(const QString& words, double next_mm = 8) {
        need(12 + next_mm);
        y_ += 4;
        board_.line(board_.column(0), y_ + 4, words, kHead);
        y_ += 8;
    }
    /// A sentence with a mark or a stroke before it.
    void item(const QString& words, const std::optional<Answer>& mark = {}, const QString& under = {}) {
        const double x = board_.column(0) + 6, wide = board_.columns(12) - 6;
        const double high = board_.heightOf(wide, words) + board_.heightOf(wide, under, kNote);
        need(high + 2);
        if (mark) {
            paintMark(board_.painter(), {board_.column(0), y_ + 0.4, 3.8, 3.8}, *mark,
                      paletteOf(Tone::light));
        } else {
            board_.block({board_.column(0) + 0.8, y_ + 2.1, 2.2, 0.5}, paperInk().tape);
        }
        y_ += board_.words(x, y_, wide, words);
        y_ += board_.words(x, y_, wide, under, kNote);
        y_ += 1.8;
    }

    QString money(double price) const {
        return said(fixed(price, 0)) + said(" ") + said(job_.stock.currency);
    }
    /// Of all of it together: no one tapes it.
    QString tubeLong(double mm) const {
        return head_.unit == LengthUnit::mm ? said(fixed(mm / 1000, 1)) + said(" m")
                                            : said(fixed(mm / 304.8, 0)) + said(" ft");
    }
    QString mass(double kg) const { return said(showMass(kg, head_.unit, 1)); }
    QString length(const std::optional<double>& mm, const char* nothing) const {
        return mm ? said(showLength(*mm, style_)) : said(nothing);
    }

    // --- pages
    void cover() {
        const double high = board_.height() * kCoverShare;
        board_.picture({0, 0, board_.width(), high}, pictures_.cover, 0);
        double y = high + 15;
        board_.block({board_.column(0), y, 3, 21}, paperInk().tape);
        // A long name a size smaller, and cut where that is still too long.
        const double room = board_.columns(12) - 7;
        Wording name{PaperType::cover, TypeWeight::strong};
        if (board_.widthOf(said(head_.job), name) > room) name.type = PaperType::title;
        board_.line(board_.column(0) + 7, y + 10.5, fitting(said(head_.job), room, name), name);
        board_.line(board_.column(0) + 7, y + 19.4, said("Roll cage for ") + said(job_.car.name),
                    {PaperType::head, TypeWeight::plain, paperInk().soft});
        y += 38;
        coverFigures(y);
        y += 21;
        for (const RuleTableInfo& table : facts_.check.tables) {
            board_.line(
                board_.column(0), y,
                said("Checked against ") + said(table.title) + said(", edition ") + said(table.edition),
                kQuiet);
            y += 5;
        }
        const double low = board_.height() - 15;
        board_.rule(board_.column(0), low - 17, board_.columns(12));
        double x = board_.column(0);
        if (!mark_.isNull()) {
            board_.mark({x, low - 13, 26, 13}, mark_);
            x += QSizeF(mark_.size()).scaled(26, 13, Qt::KeepAspectRatio).width() + 5;
        }
        board_.line(x, low - 7, said(head_.shop), kStrong);
        if (job_.shop) board_.line(x, low - 2, said(job_.shop->words), kQuiet);
        board_.line(board_.right(), low - 7, date_, toRight(kPlain));
        board_.line(board_.right(), low - 2, said("Revision ") + said(head_.revision), toRight(kQuiet));
    }
    void coverFigures(double y) {
        std::vector<std::pair<QString, QString>> figures = {
            {QString::number(cage_.totals.members), said("tubes")},
            {tubeLong(cage_.totals.tube_length_mm), said("of tube")},
            {mass(cage_.totals.tube_mass_kg + cage_.totals.plate_mass_kg), said("with plates")}};
        if (facts_.quote && facts_.quote->price > 0)
            figures.emplace_back(money(facts_.quote->price), facts_.quote->missing.empty()
                                                                 ? said("as drawn")
                                                                 : said("without what is named at the end"));
        for (std::size_t i = 0; i < figures.size(); ++i) {
            const double x = board_.column(static_cast<int>(3 * i));
            board_.line(x, y, figures[i].first, kTitle);
            board_.words(x, y + 2.6, board_.columns(3), figures[i].second, kNote);
        }
    }

    void classPage() {
        page(said("The class"),
             said("What the plan was held against, and what came of it. A mark says what each table's rules "
                  "answered; what is not confirmed nobody has yet compared with the book in force."));
        for (const RuleTableInfo& table : facts_.check.tables) {
            head(said(table.title));
            y_ += board_.words(board_.column(0), y_, board_.columns(12),
                               said("Edition ") + said(table.edition) + said(", ") +
                                   counted("rule", "rules", table.rules) + said(", written by ") +
                                   said(table.written_by) + said(". ") + said(table.advice),
                               kQuiet);
        }
        y_ += 7;
        counts();
        const LengthStyle style = style_;
        for (const Answer answer : {Answer::fails, Answer::cannot_tell, Answer::ask_person}) {
            if (facts_.check.count(answer) == 0) continue;
            head(answer == Answer::fails         ? said("Does not meet yet")
                 : answer == Answer::cannot_tell ? said("Can't be told yet")
                                                 : said("Asked of a person, at the latest at inspection"));
            for (const Finding& finding : facts_.check.findings)
                if (finding.answer == answer)
                    item(withSubject(finding), answer,
                         said(withSigns(outcomeText(finding, style))) + said("  ") + said(finding.clause));
        }
        if (facts_.check.unconfirmed() > 0) {
            head(said("Meets a number nobody has confirmed"));
            for (const Finding& finding : facts_.check.findings)
                if (finding.answer == Answer::meets && !finding.confirmed)
                    item(withSubject(finding), std::nullopt, said(clauseText(finding)));
        }
    }
    static QString withSubject(const Finding& finding) {
        QString words = said(finding.title);
        if (!finding.subject_name.empty()) words += said(": ") + said(finding.subject_name);
        if (finding.severity == Severity::recommended) words += said(" (recommended)");
        return words;
    }
    void counts() {
        const CheckReport& report = facts_.check;
        const std::array<std::tuple<int, QString, Answer>, 4> boxes = {
            {{report.count(Answer::meets) - report.unconfirmed(), said("meet"), Answer::meets},
             {report.count(Answer::fails), said("don't meet"), Answer::fails},
             {report.count(Answer::cannot_tell) + report.unconfirmed(), said("not told or not confirmed"),
              Answer::cannot_tell},
             {report.count(Answer::ask_person), said("to ask"), Answer::ask_person}}};
        for (std::size_t i = 0; i < boxes.size(); ++i) {
            const auto& [count, words, answer] = boxes[i];
            const double x = board_.column(static_cast<int>(3 * i));
            board_.block({x, y_, board_.columns(3), 19}, paperInk().pale, 1.5);
            paintMark(board_.painter(), {x + 4, y_ + 5, 5.4, 5.4}, answer, paletteOf(Tone::light));
            board_.line(x + 12, y_ + 10.4, QString::number(count), kTitle);
            board_.line(x + 4, y_ + 15.6, words, kNote);
        }
        y_ += 23;
    }

    void bars() {
        page(said("Every bar, and what it is for"));
        const double high = board_.columns(12) * kNumberedShare;
        board_.picture({board_.column(0), y_, board_.columns(12), high}, pictures_.numbered);
        y_ += high + 5;
        std::optional<Place> place;
        for (const ShownBar& bar : facts_.bars) {
            if (place != bar.place) head(said(placeName(bar.place)), barHigh_mm(bar) + 3);
            place = bar.place;
            barRow(bar);
        }
    }
    static QString askedOf(const ShownBar& bar) {
        QStringList clauses;
        for (const RuleOfBar& rule : bar.rules)
            clauses << said(rule.clause) + (rule.confirmed ? QString() : said(" (not confirmed)"));
        clauses.removeDuplicates();
        return clauses.isEmpty() ? said("No rule of the class speaks of it.")
                                 : said("Rules: ") + clauses.join(said(", "));
    }
    double barHigh_mm(const ShownBar& bar) {
        const double wide = board_.columns(7);
        return std::max(board_.heightOf(wide, said(bar.purpose)) + board_.heightOf(wide, askedOf(bar), kNote),
                        11.0);
    }
    void barRow(const ShownBar& bar) {
        const double wide = board_.columns(7), x = board_.column(5);
        const QString asked = askedOf(bar);
        const double high = barHigh_mm(bar);
        need(high + 3);
        const Rgb colour = placeColour(bar.place);
        board_.block({board_.column(0), y_ + 0.3, 1.6, high - 1.6},
                     QColor::fromRgbF(colour.r, colour.g, colour.b), 0.6);
        QStringList numbers;
        for (const int member : bar.members) numbers << QString::number(member + 1);
        board_.line(board_.column(0) + 4, y_ + 3.5, numbers.join(said(" + ")), kStrong);
        board_.words(board_.column(1) + 4, y_, board_.columns(4) - 6, said(bar.name), kStrong);
        const ResolvedMember& first = cage_.members[static_cast<std::size_t>(bar.members.front())];
        const double under = board_.heightOf(board_.columns(4) - 6, said(bar.name), kStrong);
        board_.line(board_.column(1) + 4, y_ + under + 3,
                    said(tubeText(first.section, head_.unit)) + said("  ·  ") + mass(bar.mass_kg) +
                        (bar.may_be_left_out ? said("  ·  option") : QString()),
                    kNote);
        const double text = board_.words(x, y_, wide, said(bar.purpose));
        board_.words(x, y_ + text, wide, asked, kNote);
        y_ += high + 2.4;
    }

    /// Goes on below where there is room for some of it, else on a page of its own.
    void section(const QString& title, const QString& under, double least_mm) {
        if (y_ + 34 + least_mm > bottom()) return page(title, under);
        y_ += 12;
        board_.block({board_.column(0), y_, 3, 11}, paperInk().tape);
        board_.line(board_.column(0) + 6.5, y_ + 8.4, title, kTitle);
        title_ = title;
        y_ += 18;
        y_ += board_.words(board_.column(0), y_, board_.columns(9), under, kQuiet) + 5;
    }

    void options() {
        section(
            said("What you may leave out"),
            facts_.options.empty()
                ? said("Every bar of this plan is part of it: none is marked as one that may be left out.")
                : said("Each can go without the rest changing. What it does to getting in and to the "
                       "room over the head is measured on the plan, with it and without."),
            facts_.options.empty() ? 0 : board_.columns(12) * kOptionShare + 58);
        for (std::size_t i = 0; i < facts_.options.size(); ++i) {
            const ShownOption& option = facts_.options[i];
            const double high = board_.columns(12) * kOptionShare;
            need(high + 46);
            head(said(option.name));
            y_ += board_.words(board_.column(0), y_, board_.columns(9), said(option.purpose), kQuiet) + 2;
            if (i < pictures_.options.size())
                board_.picture({board_.column(0), y_, board_.columns(12), high}, pictures_.options[i]);
            y_ += high + 11;
            board_.line(board_.column(0), y_, said("+ ") + mass(option.mass_kg), kTitle);
            board_.line(board_.column(3), y_,
                        option.price ? said("+ ") + money(*option.price) : said("price on request"),
                        option.price ? kTitle : kQuiet);
            y_ += 5;
            optionRows(option);
        }
    }
    void optionRows(const ShownOption& option) {
        if (!option.goes_too.empty()) {
            QStringList names;
            for (const std::string& name : option.goes_too) names << said(name);
            item(said("With it goes what stands on it: ") + names.join(said(", ")) + said("."));
        }
        for (const RoomChange& change : option.drivers) {
            const auto both = [&](const std::optional<double>& with, const std::optional<double>& without,
                                  const char* nothing) {
                const QString a = length(with, nothing), b = length(without, nothing);
                return a == b ? a + said(", no change") : b + said(" without it, ") + a + said(" with it");
            };
            const DriverRoom &with = change.with, &without = change.without;
            item(said(change.name) + said(". Getting in, the largest round through the door: ") +
                 both(with.door_round_mm, without.door_round_mm, "door not measured") +
                 said(". Over the helmet: ") + both(with.above_mm, without.above_mm, "no bar") +
                 said(". Helmet to the nearest bar: ") + both(with.helmet_mm, without.helmet_mm, "no bar") +
                 said("."));
        }
        for (const std::string& title : option.then_falls_short)
            item(said("Without it the class's rule is not met: ") + said(title) + said("."), Answer::fails);
    }

    void drivers() {
        for (std::size_t i = 0; i < facts_.drivers.size(); ++i) {
            const ShownDriver& shown = facts_.drivers[i];
            const Driver& driver = job_.drivers[static_cast<std::size_t>(shown.index)];
            page(said(driver.name), said("How near the bars come, helmet on and belted: to bare metal, and "
                                         "to the padding that is planned. From the left, and from ahead."));
            const double wide = (board_.columns(12) - 4) / 2, high = wide * kDriverShare;
            if (i < pictures_.drivers.size())
                for (int side = 0; side < 2; ++side)
                    board_.picture({board_.column(0) + side * (wide + 4), y_, wide, high},
                                   pictures_.drivers[i][static_cast<std::size_t>(side)]);
            y_ += high + 8;
            clearanceTable(shown.report);
            roomWords(shown.report);
        }
    }
    void clearanceTable(const DriverReport& report) {
        const auto row = [&](const QString& a, const QString& b, const QString& c, const QString& d,
                             const Wording& how) {
            board_.line(board_.column(0), y_ + 3.6, a, how);
            board_.line(board_.column(5), y_ + 3.6, b, toRight(how));
            board_.line(board_.column(7), y_ + 3.6, c, toRight(how));
            board_.line(board_.column(7) + 6, y_ + 3.6, d, how);
            y_ += 5.2;
        };
        row(said("Nearest bar to"), said("metal"), said("padding"), said("which"), kNote);
        board_.rule(board_.column(0), y_, board_.columns(12));
        y_ += 0.8;
        for (const BodyPart part : {BodyPart::helmet, BodyPart::shoulder, BodyPart::elbow, BodyPart::torso,
                                    BodyPart::hip, BodyPart::knee, BodyPart::shin, BodyPart::foot}) {
            const Clearance* worst = nullptr;
            for (const Clearance& each : report.clearances.parts)
                if (each.part == part && each.bare.member >= 0 &&
                    (!worst || each.bare.gap_mm < worst->bare.gap_mm))
                    worst = &each;
            if (!worst) continue;
            need(6);
            QString name = said(worst->name);
            name.replace(QLatin1Char('_'), said(", "));
            name[0] = name[0].toUpper();
            row(name, said(showLength(worst->bare.gap_mm, style_)),
                said(showLength(worst->padded.gap_mm, style_)),
                said(cage_.members[static_cast<std::size_t>(worst->bare.member)].name), kPlain);
        }
        y_ += 3;
    }
    void roomWords(const DriverReport& report) {
        const DriverRoom room = roomOf(report);
        item(said("Helmet straight up: ") + length(room.above_mm, "no bar over it") + said("."));
        if (report.door)
            item(said("Getting in: the largest round that passes between the door's edge and the bars is ") +
                 said(showLength(report.door->clear_round_mm, style_)) + said("; the shoulders are ") +
                 said(showLength(report.door->shoulder_width_mm, style_)) + said(" across."));
    }

    void carAndRest() {
        page(said("The car, and the rest"));
        head(said("What is cut, drilled and ground"));
        if (facts_.cuts.empty()) item(said("Nothing that the plan knows of."));
        for (const std::string& each : cutsSaidOnce(facts_.cuts)) item(said(withSigns(each)));
        head(said("What is not included"));
        if (facts_.quote) {
            for (const std::string& each : facts_.quote->exclusions) item(said(each) + said("."));
            for (const std::string& each : facts_.quote->missing) item(said(each));
            if (facts_.quote->exclusions.empty() && facts_.quote->missing.empty())
                item(said("The shop's book names nothing: ask."));
        } else {
            item(said(facts_.no_quote));
        }
        if (facts_.quote && (!facts_.quote->finishes.empty() || facts_.quote->padding)) {
            head(said("To choose, not in the price"));
            for (const QuoteLine& line : facts_.quote->finishes)
                item(said(line.what) + (line.price ? said(": ") + money(*line.price) : QString()));
            if (facts_.quote->padding)
                item(said("Padding, ") + tubeLong(1000 * facts_.quote->padding->count) +
                     (facts_.quote->padding->price ? said(": ") + money(*facts_.quote->padding->price)
                                                   : QString()));
        }
        double cautions_mm = 12;
        for (const std::string& each : facts_.cautions)
            cautions_mm += board_.heightOf(board_.columns(12) - 6, said(each)) + 1.8;
        need(cautions_mm);
        head(said("Cautions"));
        for (const std::string& each : facts_.cautions) item(said(each));
    }

    const CustomerFacts& facts_;
    const Job& job_;
    const CageGeometry& cage_;
    const ShowPictures& pictures_;
    const SheetHead& head_;
    const QImage& mark_;
    QString date_, title_;
    ShowBoard board_;
    LengthStyle style_;
    double y_ = 0;
};

}  // namespace

ShowBook showBook(const CustomerFacts& facts, const ShowPictures& pictures, const SheetHead& head,
                  const QImage& mark, const std::string& date) {
    return Show(facts, pictures, head, mark, date).make();
}

}  // namespace hoopwright
