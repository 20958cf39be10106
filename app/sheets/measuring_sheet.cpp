#include "app/sheets/measuring_sheet.h"

#include <QBuffer>
#include <QPageSize>
#include <QPainter>
#include <QPdfWriter>
#include <cmath>

#include "app/sheets/car_sketch.h"
#include "app/sheets/place_marks.h"
#include "app/view/palette.h"

namespace hoopwright {
namespace {

using StageView = MeasuringStage::View;

constexpr double kMargin = 13, kRow = 18, kLeastRow = 16, kLeastDrawing = 62, kBox_w = 26.5, kBox_h = 10.5,
                 kBox_gap = 2.2, kNumber = 7;
constexpr double kMeasurePoint_mm = 25.4 / 72;
const QColor kMeasureInk(0x22, 0x26, 0x2B), kMeasureSoft(0x62, 0x68, 0x70), kHair(0xC9, 0xCC, 0xD0),
    kFill(0xF3, 0xF1, 0xEC), kGlass(0xE3, 0xE9, 0xED), kMetal(0xD5, 0xD8, 0xDB),
    kMeasureTape(0xF2, 0xB7, 0x05);

QString text(std::string_view words) {
    return QString::fromUtf8(words.data(), static_cast<qsizetype>(words.size()));
}

QString viewTitle(StageView view) {
    switch (view) {
        case StageView::left:
            return QStringLiteral("seen from the left");
        case StageView::right:
            return QStringLiteral("seen from the right");
        case StageView::section:
            return QStringLiteral("cut across at the seats, seen from behind");
        case StageView::plan:
        case StageView::under:
            break;
    }
    return QStringLiteral("seen from above, nose to the left, the car's left side below");
}

class SheetPainter {
public:
    SheetPainter(const MeasuringSheetOptions& options, MeasuringSheet& sheet)
        : options_(options), sheet_(sheet), size_(paperSize_mm(options.paper)), buffer_(&sheet.pdf) {
        buffer_.open(QIODevice::WriteOnly);
        writer_.emplace(&buffer_);
        writer_->setPageSize(QPageSize(options.paper == Paper::a4 ? QPageSize::A4 : QPageSize::Letter));
        writer_->setPageMargins(QMarginsF(0, 0, 0, 0));
        writer_->setResolution(1200);
        writer_->setTitle(QStringLiteral("Measuring sheet"));
        writer_->setCreator(QStringLiteral("Hoopwright"));
        style_.unit = options.unit;
        style_.with_unit = false;
    }

    void paint() {
        const std::vector<MeasuringStage> walk = measuringWalk(options_.body, options_.frame);
        for (const MeasuringStage& stage : walk) {
            for (const MeasuringItem& item : stage.items) {
                if (item.kind == MeasuringItem::Kind::point) drawn_at_.emplace(item.name, &item);
            }
        }
        const std::vector<MeasuringStage> pages = onPages(walk);
        sheet_.pages = static_cast<int>(pages.size());
        painter_.begin(&*writer_);
        for (std::size_t i = 0; i < pages.size(); ++i) {
            if (i > 0) writer_->newPage();
            page_ = static_cast<int>(i);
            painter_.resetTransform();
            painter_.scale(1200 / 25.4, 1200 / 25.4);
            painter_.setRenderHint(QPainter::Antialiasing);
            page(pages[i]);
        }
        painter_.end();
        buffer_.close();
    }

private:
    double right() const { return size_.width() - kMargin; }
    double bottom() const { return size_.height() - kMargin; }

    /// Type in points on the paper.
    void type(double points, TypeWeight weight = TypeWeight::plain) {
        QFont font = typeFont(TypeSize::body, weight);
        // The painter's unit is a millimetre: the size is set large and the drawing scaled.
        font.setPixelSize(100);
        painter_.setFont(font);
        type_scale_ = points * kMeasurePoint_mm / 100;
    }
    /// Broken into lines within the box; returns the height used.
    double words(const QRectF& box, const QString& what, const QColor& colour,
                 int flags = Qt::AlignLeft | Qt::AlignTop) {
        painter_.save();
        painter_.translate(box.topLeft());
        painter_.scale(type_scale_, type_scale_);
        painter_.setPen(colour);
        const QRectF inside(0, 0, box.width() / type_scale_, box.height() / type_scale_);
        QRectF used;
        painter_.drawText(inside, flags | Qt::TextWordWrap, what, &used);
        painter_.restore();
        return used.height() * type_scale_;
    }

    void hairline(const QPointF& from, const QPointF& to, const QColor& colour = kHair, double width = 0.2) {
        painter_.setPen(QPen(colour, width, Qt::SolidLine, Qt::FlatCap));
        painter_.drawLine(from, to);
    }

    /// A stage of more rows than leave its drawing room goes over several pages, about as many on each.
    std::vector<MeasuringStage> onPages(const std::vector<MeasuringStage>& walk) const {
        constexpr double kWords = 52;  // what stands over the drawing, at most
        const double room = bottom() - 13 - kLeastDrawing - kWords;
        const auto most = static_cast<std::size_t>(room / kLeastRow);
        std::vector<MeasuringStage> pages;
        for (const MeasuringStage& stage : walk) {
            const std::size_t count = stage.items.size(), parts = (count + most - 1) / most;
            for (std::size_t part = 0; part < parts; ++part) {
                MeasuringStage page = stage;
                if (part > 0) page.title += ", continued";
                const auto from = [&](std::size_t k) {
                    std::size_t at = count * k / parts;
                    // A right one stays beside its left one.
                    while (k > 0 && at < count && stage.items[at].name.ends_with(".right")) ++at;
                    return stage.items.begin() + static_cast<std::ptrdiff_t>(at);
                };
                page.items.assign(from(part), from(part + 1));
                pages.push_back(std::move(page));
            }
        }
        return pages;
    }

    void page(const MeasuringStage& stage) {
        double y = head();
        if (page_ == 0) y = whoAndWhen(y);
        type(15, TypeWeight::strong);
        words(QRectF(kMargin, y, right() - kMargin, 9), text(stage.title), kMeasureInk);
        y += 7.5;
        type(8.5);
        y += words(QRectF(kMargin, y, right() - kMargin, 14), text(stage.about), kMeasureSoft) + 2.5;
        const auto count = static_cast<double>(stage.items.size());
        // Rows draw together a little before the drawing gets too small to read.
        const double row_h = std::min(kRow, (bottom() - 13 - kLeastDrawing - y) / count);
        const double drawing_h = std::min(bottom() - 13 - y - row_h * count, 112.0);
        drawing(stage, QRectF(kMargin, y, right() - kMargin, drawing_h));
        y += drawing_h + 4;
        for (const MeasuringItem& item : stage.items) {
            row(item, y);
            y += row_h;
        }
        notes(y + 2);
        foot();
    }

    double head() {
        // A strip of tape, the one colour of the house.
        painter_.fillRect(QRectF(kMargin, kMargin, 3.2, 9.6), kMeasureTape);
        type(11, TypeWeight::strong);
        words(QRectF(kMargin + 6, kMargin - 0.4, 110, 6), QStringLiteral("Measuring sheet"), kMeasureInk);
        type(8.5);
        const QString unit =
            options_.unit == LengthUnit::in ? QStringLiteral("inches") : QStringLiteral("millimetres");
        words(QRectF(kMargin + 6, kMargin + 4.8, 130, 6),
              bodyTitle(options_.body) + QStringLiteral(", ") + frameTitle(options_.frame) +
                  QStringLiteral("; figures in ") + unit,
              kMeasureSoft);
        if (options_.car) {
            type(9, TypeWeight::medium);
            words(QRectF(right() - 90, kMargin - 0.2, 90, 6), text(options_.car->name), kMeasureInk,
                  Qt::AlignRight | Qt::AlignTop);
        }
        type(8.5);
        words(QRectF(right() - 60, kMargin + 4.8, 60, 6),
              QStringLiteral("Page %1 of %2").arg(page_ + 1).arg(sheet_.pages), kMeasureSoft,
              Qt::AlignRight | Qt::AlignTop);
        hairline({kMargin, kMargin + 11.4}, {right(), kMargin + 11.4});
        return kMargin + 14.5;
    }

    double whoAndWhen(double y) {
        const double whole = right() - kMargin, gap = 3;
        const std::array<std::pair<const char*, double>, 4> fields = {
            {{"Car", 0.40}, {"Measured by", 0.26}, {"Date", 0.17}, {"Tape no.", 0.17}}};
        double x = kMargin;
        for (const auto& [label, share] : fields) {
            const double w = (whole - 3 * gap) * share;
            painter_.setPen(QPen(kMeasureInk, 0.25));
            painter_.setBrush(Qt::NoBrush);
            painter_.drawRect(QRectF(x, y, w, 10.5));
            type(6.5);
            words(QRectF(x + 1.2, y + 0.7, w, 4), QString::fromLatin1(label), kMeasureSoft);
            x += w + gap;
        }
        return y + 14.5;
    }

    void drawing(const MeasuringStage& stage, const QRectF& panel) {
        const CarSketch sketch = carSketch(options_.body, options_.frame, stage.view);
        const QRectF bounds = sketch.bounds();
        const QRectF inner = panel.adjusted(11, 8, -11, -10);
        const double scale = std::min(inner.width() / bounds.width(), inner.height() / bounds.height());
        const QPointF shift = inner.center() - bounds.center() * scale;
        const auto onPaper = [&](const Vec3& place) { return sketch.at(place) * scale + shift; };
        painter_.save();
        painter_.translate(shift);
        painter_.scale(scale, scale);
        drawSketch(painter_, sketch, scale, {kMeasureInk, kMeasureSoft, kHair, kFill, kGlass, kMetal, 0.42});
        painter_.restore();
        tapes(stage, onPaper);
        marks(stage, panel, onPaper);
        type(6.5);
        words(QRectF(panel.left(), panel.bottom() - 3.6, panel.width(), 4),
              QStringLiteral("A car of this kind, ") + viewTitle(stage.view) +
                  QStringLiteral("; not to scale, not yours"),
              kMeasureSoft, Qt::AlignHCenter | Qt::AlignTop);
    }

    /// Each tape of this side, from its datum.
    template <class OnPaper>
    void tapes(const MeasuringStage& stage, const OnPaper& onPaper) {
        painter_.setPen(QPen(kMeasureTape, 0.35, Qt::SolidLine, Qt::FlatCap));
        for (const MeasuringItem& item : stage.items) {
            for (const MeasuringFigure& figure : item.figures) {
                if (figure.key != MeasuringFigure::Key::tape) continue;
                const MeasuringItem& from = *drawn_at_.at(figure.from);
                const bool across = from.drawn.y() * item.drawn.y() < 0;
                if (!across) painter_.drawLine(onPaper(from.drawn), onPaper(item.drawn));
            }
        }
    }

    template <class OnPaper>
    void marks(const MeasuringStage& stage, const QRectF& panel, const OnPaper& onPaper) {
        std::vector<PlaceMark> marks;
        std::vector<int> own;
        for (const MeasuringItem& item : stage.items) {
            marks.push_back({item.number, onPaper(item.drawn), true, {}});
            own.push_back(item.number);
        }
        // Datums its tapes start from, on this side: hollow.
        for (const MeasuringItem& item : stage.items) {
            for (const MeasuringFigure& figure : item.figures) {
                if (figure.key != MeasuringFigure::Key::tape) continue;
                const MeasuringItem& from = *drawn_at_.at(figure.from);
                if (from.drawn.y() * item.drawn.y() < 0 || std::ranges::find(own, from.number) != own.end())
                    continue;
                own.push_back(from.number);
                marks.push_back({from.number, onPaper(from.drawn), false, {}});
            }
        }
        placeMarks(marks, panel.adjusted(4, 3.2, -4, -7));
        for (const PlaceMark& mark : marks) {
            hairline(mark.at, mark.badge, kMeasureInk, 0.2);
            painter_.setPen(QPen(Qt::white, 0.3));
            painter_.setBrush(kMeasureInk);
            painter_.drawEllipse(mark.at, 0.95, 0.95);
        }
        for (const PlaceMark& mark : marks) badge(mark.badge, mark.number, mark.filled, kMarkRadius_mm * 2);
    }

    void badge(const QPointF& middle, int number, bool filled, double diameter) {
        painter_.setPen(QPen(kMeasureInk, 0.3));
        painter_.setBrush(filled ? kMeasureInk : QColor(Qt::white));
        painter_.drawEllipse(middle, diameter / 2, diameter / 2);
        type(diameter > 6 ? 10 : 8, TypeWeight::strong);
        words(QRectF(middle.x() - diameter, middle.y() - diameter / 2, 2 * diameter, diameter),
              QString::number(number), filled ? QColor(Qt::white) : kMeasureInk, Qt::AlignCenter);
    }

    void row(const MeasuringItem& item, double y) {
        hairline({kMargin, y}, {right(), y});
        badge({kMargin + kNumber / 2, y + 5.4}, item.number, true, kNumber);
        const double boxes_w = static_cast<double>(item.figures.size()) * (kBox_w + kBox_gap) - kBox_gap;
        const double x = kMargin + kNumber + 3;
        // The words keep one width, so that they line up down the page.
        const double words_w = right() - 4 * (kBox_w + kBox_gap) - x - 1;
        type(9.5, TypeWeight::medium);
        double line = y + 1.3;
        line += words(QRectF(x, line, words_w, 8.5), text(item.title), kMeasureInk) + 0.1;
        type(7);
        line += words(QRectF(x, line, words_w, 9), text(item.hook), kMeasureSoft) + 0.1;
        if (item.figures.size() < 4) {
            const double free_w = right() - boxes_w - x - 3 - words_w;
            type(7);
            double beside = y + 1.6;
            if (free_w > 20) {
                const QRectF column(x + words_w + 2, beside, free_w - 1, 14);
                beside += words(column, text(item.instrument), kMeasureSoft) + 0.5;
                if (!item.caution.empty())
                    words(QRectF(column.left(), beside, column.width(), 14), text(item.caution), kMeasureInk);
            } else {
                words(QRectF(x, line, words_w, 4),
                      text(item.caution.empty() ? item.instrument : item.caution), kMeasureInk);
            }
        } else if (!item.caution.empty()) {
            words(QRectF(x, line, words_w, 6), text(item.caution), kMeasureInk);
        }
        double left = right() - boxes_w;
        for (std::size_t i = 0; i < item.figures.size(); ++i) {
            figureBox(item, i, QRectF(left, y + 5, kBox_w, kBox_h));
            left += kBox_w + kBox_gap;
        }
    }

    void figureBox(const MeasuringItem& item, std::size_t i, const QRectF& box) {
        const MeasuringFigure& figure = item.figures[i];
        type(6.5);
        words(QRectF(box.left(), box.top() - 3.5, box.width() + 2, 4), text(figure.label), kMeasureSoft);
        painter_.setPen(QPen(kMeasureInk, 0.35));
        painter_.setBrush(Qt::white);
        painter_.drawRoundedRect(box, 0.8, 0.8);
        sheet_.boxes.push_back({page_, item.number, static_cast<int>(i), box});
        if (!options_.car) return;
        const std::optional<double> now = figureNow(*options_.car, item, figure);
        if (!now) return;
        type(6.5);
        words(QRectF(box.left(), box.bottom() - 3.6, box.width() - 1, 3.4),
              QStringLiteral("was ") + text(showLength(*now, style_)), kMeasureSoft,
              Qt::AlignRight | Qt::AlignVCenter);
    }

    void notes(double y) {
        const double room = bottom() - 8 - y;
        hairline({kMargin, y - 2}, {right(), y - 2});
        if (room < 12) return;
        type(6.5);
        words(QRectF(kMargin, y - 0.6, 60, 4),
              QStringLiteral("Notes: what was bent, sealed over, out of reach"), kMeasureSoft);
        for (double line = y + 10; line < bottom() - 6; line += 8) hairline({kMargin, line}, {right(), line});
    }

    void foot() {
        type(6.5);
        words(QRectF(kMargin, bottom() - 3.4, right() - kMargin, 7),
              QStringLiteral("Tape left and right apart; shells are not symmetric. Read every tape twice. A "
                             "wrong figure here makes every later "
                             "tube wrong. This sheet plans; it certifies nothing."),
              kMeasureSoft);
    }

    const MeasuringSheetOptions& options_;
    MeasuringSheet& sheet_;
    QSizeF size_;
    QBuffer buffer_;
    std::optional<QPdfWriter> writer_;
    QPainter painter_;
    LengthStyle style_;
    std::map<std::string, const MeasuringItem*> drawn_at_;
    double type_scale_ = 1;
    int page_ = 0;
};

}  // namespace

QString bodyTitle(Car::Body body) {
    switch (body) {
        case Car::Body::hatchback:
            return QStringLiteral("Hatchback");
        case Car::Body::open:
            return QStringLiteral("Open car");
        case Car::Body::pickup:
            return QStringLiteral("Pickup cab");
        case Car::Body::van:
            return QStringLiteral("Van");
        case Car::Body::saloon:
            break;
    }
    return QStringLiteral("Two-door saloon");
}

QString frameTitle(Car::Frame frame) {
    switch (frame) {
        case Car::Frame::ladder:
            return QStringLiteral("ladder frame");
        case Car::Frame::perimeter:
            return QStringLiteral("perimeter frame");
        case Car::Frame::unibody:
            break;
    }
    return QStringLiteral("unibody");
}

QSizeF paperSize_mm(Paper paper) {
    return paper == Paper::a4 ? QSizeF(210, 297) : QSizeF(215.9, 279.4);
}

MeasuringSheet measuringSheet(const MeasuringSheetOptions& options) {
    MeasuringSheet sheet;
    SheetPainter(options, sheet).paint();
    return sheet;
}

}  // namespace hoopwright
