#include "app/window/car_says.h"

#include <QHBoxLayout>
#include <QLabel>
#include <QPainter>
#include <QScrollBar>
#include <QTextBrowser>
#include <QTextDocument>
#include <QToolButton>
#include <QUrl>
#include <QVBoxLayout>
#include <algorithm>
#include <cmath>

#include "app/window/form_help.h"
#include "app/window/style.h"
#include "core/survey/survey.h"

namespace hoopwright {
namespace {

using Part = CarSays::Part;

const QString kPointLink = QStringLiteral("point:");

/// A table of words and figures: the first column and those said so at the left, all others at the right.
class Table {
public:
    Table(const Palette& palette, QString left_columns) : p_(palette), left_(std::move(left_columns)) {}
    void head(const QStringList& cells) { row(cells, p_.ink_soft); }
    void row(const QStringList& cells, const QColor& colour = {}) {
        html_ += QStringLiteral("<tr>");
        for (int i = 0; i < cells.size(); ++i) {
            const bool left = i == 0 || left_.contains(QChar::fromLatin1(char('0' + i)));
            const QString style =
                QStringLiteral(" style='padding:1px 16px 1px 0%1'")
                    .arg(colour.isValid() ? QStringLiteral("; color:") + colour.name() : QString());
            html_ += QStringLiteral("<td align='%1'%2>%3</td>")
                         .arg(left ? QStringLiteral("left") : QStringLiteral("right"), style, cells[i]);
        }
        html_ += QStringLiteral("</tr>");
        empty_ = false;
    }
    bool empty() const { return empty_; }
    QString html() const {
        return QStringLiteral("<table cellspacing='0' cellpadding='0' style='margin-bottom:8px'>%1</table>")
            .arg(html_);
    }

private:
    const Palette& p_;
    QString left_, html_;
    bool empty_ = true;
};

class Page {
public:
    Page(const CarReport& report, const Palette& palette) : report_(report), car_(report.car), p_(palette) {
        style_.unit = report.unit;
        style_.with_unit = false;
    }

    QString made(Part part) {
        switch (part) {
            case Part::again:
                again();
                break;
            case Part::points:
                points();
                break;
            case Part::tapes:
                tapes();
                break;
            case Part::sides:
                sides();
                break;
            case Part::missing:
                missing();
                break;
            case Part::lessons:
                lessons();
                break;
        }
        return html_;
    }

private:
    QString length(double mm) const {
        return std::isfinite(mm) ? text(showLength(mm, style_)) : QStringLiteral("?");
    }
    QString signedLength(double mm) const { return (mm > 0 ? QStringLiteral("+") : QString()) + length(mm); }
    QString withUnit(double mm) const {
        LengthStyle style = style_;
        style.with_unit = true;
        return text(showLength(mm, style));
    }
    QString maybe(const std::optional<double>& mm) const { return mm ? length(*mm) : QStringLiteral("?"); }
    QString link(const std::string& point) const {
        return QStringLiteral("<a style='color:%1; text-decoration:none' href='%2%3'>%3</a>")
            .arg(p_.action.name(), kPointLink, text(point).toHtmlEscaped());
    }
    void line(const QString& words, const QColor& colour = {}) {
        html_ += QStringLiteral("<p style='margin:0 0 4px 0%1'>%2</p>")
                     .arg(colour.isValid() ? QStringLiteral("; color:") + colour.name() : QString(), words);
    }
    void soft(const QString& words) { line(words, p_.ink_soft); }
    void heading(const QString& words) {
        html_ += QStringLiteral("<p style='margin:4px 0 2px 0'><b>%1</b></p>").arg(words);
    }

    void again() {
        for (const SurveyedPoint& point : report_.survey.points) {
            for (const std::string& doubt : point.doubts)
                line(link(point.name) + QStringLiteral(": ") + text(doubt).toHtmlEscaped(), p_.fails);
        }
        if (!html_.isEmpty()) return;
        soft(report_.survey.points.empty()
                 ? QObject::tr("Nothing is measured yet. Begin at the left, with the sill over the ground.")
                 : QObject::tr("No reading contradicts another."));
        soft(text(car_.symmetric
                      ? "The builder says it is symmetric: what was measured on one side holds for both."
                      : "Not said to be symmetric: each side stands for itself."));
    }

    void points() {
        Table table(p_, QStringLiteral("5"));
        table.head({QString(), QStringLiteral("x"), QStringLiteral("y"), QStringLiteral("z"),
                    QObject::tr("good to"), QString()});
        bool assumed = false;
        for (const SurveyedPoint& point : report_.survey.points) {
            const CarPoint& given = car_.points[std::size_t(point.index)];
            const auto good = point.goodTo_mm();
            assumed |= point.tolerance_assumed;
            table.row({link(point.name), length(point.at.x()), length(point.at.y()), length(point.at.z()),
                       maybe(good) + (good && point.tolerance_assumed ? QStringLiteral("*") : QString()),
                       text(takenWords(given))});
        }
        if (report_.survey.points.empty()) {
            soft(QObject::tr("Nothing is measured yet."));
            return;
        }
        html_ += table.html();
        if (assumed) {
            soft(QObject::tr("* a reading states no tolerance; %1 is assumed")
                     .arg(withUnit(kUnstatedTolerance_mm)));
        }
    }

    void tapes() {
        for (const SurveyedPoint& point : report_.survey.points) {
            if (point.tapes.empty()) continue;
            line(link(point.name) + (point.remark.empty()
                                         ? QString()
                                         : QStringLiteral(": ") + text(point.remark).toHtmlEscaped()));
            for (const std::string& doubt : point.doubts) line(text(doubt).toHtmlEscaped(), p_.fails);
            Table table(p_, {});
            table.head({QObject::tr("from"), QObject::tr("read"), QObject::tr("too long by"),
                        QObject::tr("against the others")});
            for (const TapeResult& tape : point.tapes) {
                const bool beyond = tape.times_sigma > kDisagrees;
                table.row(
                    {text(tape.from).toHtmlEscaped(), length(tape.length_mm), signedLength(tape.residual_mm),
                     tape.against_others_mm ? signedLength(*tape.against_others_mm) : QStringLiteral("-")},
                    beyond ? p_.fails : QColor());
            }
            html_ += table.html();
        }
        if (html_.isEmpty()) soft(QObject::tr("No point is given by tapes."));
    }

    QColor colourOf(Evenness evenness) const { return evenness == Evenness::beyond ? p_.fails : QColor(); }

    void sides() {
        const AsymmetryTable& table = report_.asymmetry;
        if (!table.pairs.empty()) {
            heading(QObject::tr("Left less right, mirrored"));
            Table rows(p_, QStringLiteral("6"));
            rows.head({QString(), QObject::tr("ahead"), QObject::tr("out"), QObject::tr("up"),
                       QObject::tr("along the tape"), QObject::tr("tolerance"), QString()});
            for (const Asymmetry& pair : table.pairs) {
                rows.row(
                    {text(pair.name).toHtmlEscaped(), signedLength(pair.differs_mm.x()),
                     signedLength(pair.differs_mm.y()), signedLength(pair.differs_mm.z()),
                     length(pair.apart_mm), maybe(pair.tolerance_mm), text(evennessWords(pair.evenness))},
                    colourOf(pair.evenness));
            }
            html_ += rows.html();
        }
        if (!table.diagonals.empty()) {
            heading(QObject::tr("Diagonals"));
            Table rows(p_, QStringLiteral("5"));
            rows.head({QString(), QObject::tr("left to right"), QObject::tr("right to left"),
                       QObject::tr("differ"), QObject::tr("tolerance"), QString()});
            for (const Diagonal& cross : table.diagonals) {
                rows.row(
                    {text(cross.first + " - " + cross.second).toHtmlEscaped(), length(cross.left_to_right_mm),
                     length(cross.right_to_left_mm), signedLength(cross.differs_mm()),
                     maybe(cross.tolerance_mm), text(evennessWords(cross.evenness))},
                    colourOf(cross.evenness));
            }
            html_ += rows.html();
        }
        for (const std::string& name : table.one_side)
            line(QObject::tr("Only one side measured: ") + link(name));
        if (html_.isEmpty()) soft(QObject::tr("No point is measured on both sides yet."));
    }

    void missing() {
        Table lines(p_, QStringLiteral("12"));
        for (const LineState& state : report_.lines) {
            if (state.state == LineState::State::there || state.state == LineState::State::stands_for_both)
                continue;
            lines.row({text(state.wanted.title).toHtmlEscaped(), text(stateWords(state)),
                       QObject::tr("wanted for: ") + text(state.wanted.why).toHtmlEscaped()});
        }
        if (!lines.empty()) {
            heading(QObject::tr("Lines and surfaces"));
            html_ += lines.html();
        }
        if (!report_.not_measured.empty()) {
            heading(QObject::tr("On the measuring sheet and not measured yet"));
            Table rows(p_, QStringLiteral("12"));
            for (const MeasuringItem& item : report_.not_measured) {
                rows.row({QString::number(item.number), text(item.title).toHtmlEscaped(),
                          text(item.name).toHtmlEscaped()});
            }
            html_ += rows.html();
        }
        if (html_.isEmpty()) soft(QObject::tr("Every place of the sheet is measured, every line is there."));
    }

    void lessons() {
        for (const Lesson& lesson : car_.lessons) {
            QString words = text(lesson.note).toHtmlEscaped();
            if (!lesson.about.empty()) {
                words = (car_.point(lesson.about) ? link(lesson.about) : text(lesson.about).toHtmlEscaped()) +
                        QStringLiteral(": ") + words;
            }
            line((lesson.when.empty() ? QString() : text(lesson.when) + QStringLiteral("&nbsp; ")) + words);
        }
        if (html_.isEmpty()) {
            soft(
                QObject::tr("No lessons yet. Write what the next job on such a car should know at the right: "
                            "of the car, or of a chosen point."));
        }
        if (!car_.notes.empty()) {
            heading(QObject::tr("Notes"));
            line(text(car_.notes).toHtmlEscaped());
        }
    }

    const CarReport& report_;
    const Car& car_;
    const Palette& p_;
    LengthStyle style_;
    QString html_;
};

QString counted(const QString& words, std::size_t n) {
    return n == 0 ? words : QStringLiteral("%1 (%2)").arg(words).arg(n);
}

}  // namespace

QString carSaysHtml(const CarReport& report, Part part, const Palette& palette) {
    return Page(report, palette).made(part);
}

QString carSaysTitle(const CarReport& report, Part part) {
    switch (part) {
        case Part::again: {
            std::size_t doubts = 0;
            for (const SurveyedPoint& point : report.survey.points) doubts += point.doubts.size();
            return counted(QObject::tr("Look at again"), doubts);
        }
        case Part::points:
            return QObject::tr("Points");
        case Part::tapes:
            return QObject::tr("Tapes");
        case Part::sides: {
            const auto beyond = [](const auto& one) { return one.evenness == Evenness::beyond; };
            return counted(QObject::tr("Left and right"),
                           std::size_t(std::ranges::count_if(report.asymmetry.pairs, beyond) +
                                       std::ranges::count_if(report.asymmetry.diagonals, beyond)));
        }
        case Part::missing: {
            const auto lines = std::ranges::count_if(report.lines, [](const LineState& one) {
                return one.state == LineState::State::missing || one.state == LineState::State::one_side;
            });
            return counted(QObject::tr("Missing"), std::size_t(lines) + report.not_measured.size());
        }
        case Part::lessons:
            break;
    }
    return counted(QObject::tr("Lessons"), report.car.lessons.size());
}

CarSays::CarSays(Desk& desk, QWidget* parent) : QWidget(parent), desk_(desk), page_(new QTextBrowser(this)) {
    setObjectName(QStringLiteral("card"));
    auto* column = new QVBoxLayout(this);
    column->setContentsMargins(0, 4, 0, 0);
    column->setSpacing(0);
    auto* head = new QHBoxLayout;
    head->setContentsMargins(kGrid, 0, kGrid, 0);
    head->setSpacing(2);
    for (int i = 0; i < kParts; ++i) {
        auto* word = new QToolButton(this);
        word->setCheckable(true);
        word->setAutoExclusive(true);
        word->setFocusPolicy(Qt::TabFocus);
        word->setChecked(Part(i) == part_);
        words_[std::size_t(i)] = word;
        head->addWidget(word);
        connect(word, &QToolButton::toggled, this, [this, i](bool on) {
            if (on) turnTo(Part(i));
        });
    }
    head->addStretch(1);
    column->addLayout(head);
    column->addWidget(page_, 1);
    page_->setAccessibleName(tr("What the readings say"));
    page_->setOpenLinks(false);
    page_->setTabChangesFocus(true);
    page_->setHorizontalScrollBarPolicy(Qt::ScrollBarAlwaysOff);
    page_->document()->setDocumentMargin(2 * kGrid);
    page_->document()->setDefaultFont(typeFont(TypeSize::body));
    setMinimumHeight(36 + 34);
    connect(page_, &QTextBrowser::anchorClicked, this, [this](const QUrl& url) {
        const std::string name = url.toString().mid(kPointLink.size()).toStdString();
        const auto at = desk_.document.job().car.pointAt(name);
        if (!at) return;
        desk_.selection.set({Thing::Kind::car_point, name});
        emit desk_.flyTo(*at);
    });
    const auto follow = [this] {
        if (isVisible()) refresh();
    };
    connect(&desk_.document, &Document::changed, this, follow);
    connect(&desk_, &Desk::unitsChanged, this, follow);
    connect(&desk_, &Desk::paletteChanged, this, follow);
    refresh();
}

void CarSays::turnTo(Part part) {
    part_ = part;
    words_[std::size_t(part)]->setChecked(true);
    refresh();
    page_->verticalScrollBar()->setValue(0);
}

void CarSays::refresh() {
    const CarReport& report = desk_.carReport();
    for (int i = 0; i < kParts; ++i) words_[std::size_t(i)]->setText(carSaysTitle(report, Part(i)));
    const int at = page_->verticalScrollBar()->value();
    const QString html = carSaysHtml(report, part_, desk_.palette());
    page_->setHtml(html);
    page_->verticalScrollBar()->setValue(at);
}

void CarSays::showEvent(QShowEvent*) {
    refresh();
}

void CarSays::paintEvent(QPaintEvent*) {
    QPainter(this).fillRect(rect(), desk_.palette().card);
}

}  // namespace hoopwright
