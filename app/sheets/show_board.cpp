#include "app/sheets/show_board.h"

#include <QFontMetricsF>
#include <QPageSize>
#include <QPainterPath>
#include <QTextLayout>
#include <vector>

namespace hoopwright {
namespace {

constexpr int kBoardResolution = 1200, kTypePixels = 100;
constexpr double kBoardPoint = 25.4 / 72, kBoardLead = 1.42;

QFont boardFont(const Wording& how) {
    // Set large and drawn small: the painter's unit is a millimetre.
    QFont font = typeFont(TypeSize::body, how.weight);
    font.setPixelSize(kTypePixels);
    return font;
}
double boardScale(const Wording& how) {
    return pointsOf(how.type) * kBoardPoint / kTypePixels;
}

std::vector<QString> brokenInto(const QString& words, const QFont& font, double wide_px) {
    std::vector<QString> lines;
    QTextLayout layout(words, font);
    layout.beginLayout();
    for (QTextLine each = layout.createLine(); each.isValid(); each = layout.createLine()) {
        each.setLineWidth(wide_px);
        lines.push_back(words.mid(each.textStart(), each.textLength()).trimmed());
    }
    layout.endLayout();
    return lines;
}

/// As many lines as it takes; a little narrower where the last one would be a single word.
std::vector<QString> brokenWell(const QString& words, const QFont& font, double wide_px) {
    const std::vector<QString> lines = brokenInto(words, font, wide_px);
    if (lines.size() < 2 || lines.back().contains(QLatin1Char(' '))) return lines;
    for (const double share : {0.96, 0.92, 0.88, 0.84, 0.80}) {
        std::vector<QString> tried = brokenInto(words, font, share * wide_px);
        if (tried.size() == lines.size() && tried.back().contains(QLatin1Char(' '))) return tried;
    }
    return lines;
}

}  // namespace

PaperInk paperInk() {
    return {};
}

double pointsOf(PaperType type) {
    switch (type) {
        case PaperType::note:
            return 7.5;
        case PaperType::text:
            return 9.5;
        case PaperType::head:
            return 12.5;
        case PaperType::title:
            return 22;
        case PaperType::cover:
            break;
    }
    return 34;
}

ShowBoard::ShowBoard(Paper paper, const QString& title) : size_(paperSize_mm(paper)) {
    buffer_.open(QIODevice::WriteOnly);
    writer_ = std::make_unique<QPdfWriter>(&buffer_);
    writer_->setPageMargins(QMarginsF(0, 0, 0, 0));
    writer_->setResolution(kBoardResolution);
    writer_->setTitle(title);
    writer_->setCreator(QStringLiteral("Hoopwright"));
    writer_->setPageSize(QPageSize(size_, QPageSize::Millimeter, QString(), QPageSize::ExactMatch));
    painter_.begin(writer_.get());
    painter_.scale(kBoardResolution / 25.4, kBoardResolution / 25.4);
    painter_.setRenderHint(QPainter::Antialiasing);
    painter_.setRenderHint(QPainter::SmoothPixmapTransform);
}

ShowBoard::~ShowBoard() {
    if (painter_.isActive()) painter_.end();
}

void ShowBoard::page() {
    writer_->newPage();
    ++pages_;
}

double ShowBoard::columns(int count) const {
    const double one = (width() - 2 * kMargin_mm - (kColumns - 1) * kGutter_mm) / kColumns;
    return count * one + (count - 1) * kGutter_mm;
}
double ShowBoard::column(int index) const {
    return kMargin_mm + (index == 0 ? 0 : columns(index) + kGutter_mm);
}

double ShowBoard::widthOf(const QString& words, const Wording& how) {
    return QFontMetricsF(boardFont(how)).horizontalAdvance(words) * boardScale(how);
}

void ShowBoard::line(double x, double base, const QString& words, const Wording& how) {
    const double wide = widthOf(words, how);
    const double left = how.align & Qt::AlignRight     ? x - wide
                        : how.align & Qt::AlignHCenter ? x - wide / 2
                                                       : x;
    painter_.save();
    painter_.translate(left, base);
    painter_.scale(boardScale(how), boardScale(how));
    painter_.setFont(boardFont(how));
    painter_.setPen(how.colour.isValid() ? how.colour : paperInk().ink);
    painter_.drawText(QPointF(0, 0), words);
    painter_.restore();
}

double ShowBoard::paragraph(double x, double top, double wide, const QString& words, const Wording& how,
                            bool drawn) {
    if (words.isEmpty()) return 0;
    const QFont font = boardFont(how);
    const double scale = boardScale(how), step = pointsOf(how.type) * kBoardPoint * kBoardLead;
    const double ascent = QFontMetricsF(font).ascent() * scale;
    double y = top;
    for (const QString& each : brokenWell(words, font, wide / scale)) {
        if (drawn) line(x, y + ascent, each, how);
        y += step;
    }
    return y - top;
}

double ShowBoard::words(double x, double top, double wide, const QString& words, const Wording& how) {
    return paragraph(x, top, wide, words, how, true);
}
double ShowBoard::heightOf(double wide, const QString& words, const Wording& how) {
    return paragraph(0, 0, wide, words, how, false);
}

void ShowBoard::picture(const QRectF& box, const QImage& image, double round_mm) {
    if (image.isNull()) return;
    QPainterPath shape;
    shape.addRoundedRect(box, round_mm, round_mm);
    const double wanted = box.width() / box.height(),
                 has = static_cast<double>(image.width()) / image.height();
    QRectF part(0, 0, image.width(), image.height());
    if (has > wanted) {
        const double wide = image.height() * wanted;
        part = {(image.width() - wide) / 2, 0, wide, part.height()};
    } else {
        const double high = image.width() / wanted;
        part = {0, (image.height() - high) / 2, part.width(), high};
    }
    painter_.save();
    if (round_mm > 0) painter_.setClipPath(shape);
    painter_.drawImage(box, image.copy(part.toRect()));
    painter_.restore();
}

void ShowBoard::mark(const QRectF& box, const QImage& image) {
    if (image.isNull()) return;
    const QSizeF size = QSizeF(image.size()).scaled(box.size(), Qt::KeepAspectRatio);
    painter_.drawImage(QRectF(QPointF(box.left(), box.center().y() - size.height() / 2), size), image);
}

void ShowBoard::block(const QRectF& box, const QColor& colour, double round_mm) {
    painter_.save();
    painter_.setPen(Qt::NoPen);
    painter_.setBrush(colour);
    painter_.drawRoundedRect(box, round_mm, round_mm);
    painter_.restore();
}

void ShowBoard::rule(double x, double y, double wide) {
    block({x, y, wide, 0.2}, paperInk().line);
}

QByteArray ShowBoard::take() {
    if (painter_.isActive()) painter_.end();
    buffer_.close();
    return bytes_;
}

}  // namespace hoopwright
