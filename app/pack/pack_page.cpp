#include "app/pack/pack_page.h"

#include <QBuffer>
#include <QPageSize>
#include <QPainter>
#include <QPdfWriter>
#include <algorithm>
#include <cmath>

namespace hoopwright {
namespace {

constexpr double kPackPoint_mm = 25.4 / 72, kPackLead = 1.28;
constexpr double kCellGap_mm = 1.6, kRowAir_mm = 1.5, kBoxHigh_mm = 6.4, kLeastBox_mm = 5.6;
constexpr int kPackResolution = 1200;
const QColor kHairColour(0xC9, 0xCC, 0xCE), kHeadTint(0xF1, 0xF0, 0xEB);

void paintInk(QPainter& painter, const InkPath& path) {
    QPolygonF points;
    for (const Vec2& p : path.points) points << QPointF(p.x(), p.y());
    QPen pen(path.colour, path.width_mm, path.dashed ? Qt::DashLine : Qt::SolidLine, Qt::RoundCap,
             Qt::RoundJoin);
    painter.setPen(path.width_mm > 0 ? pen : QPen(Qt::NoPen));
    painter.setBrush(path.fill.isValid() ? QBrush(path.fill) : QBrush(Qt::NoBrush));
    if (path.closed) {
        painter.drawPolygon(points);
    } else {
        painter.drawPolyline(points);
    }
}

}  // namespace

std::vector<std::string> brokenInto(const std::string& words, double width_mm, double points, bool strong) {
    std::vector<std::string> out;
    std::string line;
    for (const QString& piece : QString::fromStdString(words).split(QLatin1Char(' '), Qt::SkipEmptyParts)) {
        const std::string word = piece.toStdString();
        if (!line.empty() && wordsWidth_mm(line + " " + word, points, strong) > width_mm) {
            out.push_back(line);
            line.clear();
        }
        line += (line.empty() ? "" : " ") + word;
    }
    if (!line.empty() || out.empty()) out.push_back(line);
    return out;
}

PackPage& PackPages::extras() {
    extras_.resize(std::max(extras_.size(), pages_.count()));
    return extras_[pages_.count() - 1];
}

void PackPages::ink(InkPath path) {
    extras().ink.push_back(std::move(path));
}
void PackPages::disc(const Vec2& at, double radius_mm, double width_mm, const QColor& colour,
                     const QColor& fill) {
    InkPath round{{}, width_mm, colour, true, fill};
    for (int i = 0; i < 40; ++i) {
        const double a = 2 * 3.14159265358979323846 * i / 40;
        round.points.push_back(at + radius_mm * Vec2(std::cos(a), std::sin(a)));
    }
    ink(std::move(round));
}
void PackPages::image(const Vec2& at, const Vec2& size, const QImage& image) {
    extras().images.push_back({at, size, image});
}

void PackPages::table(std::vector<PackColumn> columns, double points) {
    columns_ = std::move(columns);
    points_ = points;
    pages_.need(24);
    head();
}

void PackPages::head() {
    const double size = points_ - 0.5, step = size * kPackPoint_mm * kPackLead;
    std::vector<std::vector<std::string>> cells;
    std::size_t lines = 1;
    for (std::size_t i = 0; i < columns_.size(); ++i) {
        cells.push_back(brokenInto(columns_[i].title, columnWidth(i) - kCellGap_mm, size, true));
        lines = std::max(lines, cells.back().size());
    }
    const double high = static_cast<double>(lines) * step + 2;
    const double top = pages_.y();
    ink({{{pages_.left(), top},
          {pages_.right(), top},
          {pages_.right(), top + high},
          {pages_.left(), top + high}},
         0,
         {},
         true,
         kHeadTint});
    double x = pages_.left();
    for (std::size_t i = 0; i < columns_.size(); ++i) {
        const bool right = columns_[i].align == DrawnText::Align::right;
        for (std::size_t l = 0; l < cells[i].size(); ++l)
            pages_.text({right ? x + columnWidth(i) - kCellGap_mm : x + kCellGap_mm / 2,
                         top + 1 + (static_cast<double>(l) + 0.76) * step},
                        cells[i][l], size, columns_[i].align, true);
        x += columnWidth(i);
    }
    pages_.gap(high + 0.4);
}

void PackPages::row(const std::vector<std::string>& cells, bool strong, const QColor& mark) {
    const double step = points_ * kPackPoint_mm * kPackLead;
    std::vector<std::vector<std::string>> broken;
    std::size_t lines = 1;
    bool boxed = false;
    for (std::size_t i = 0; i < columns_.size(); ++i) {
        broken.push_back(brokenInto(i < cells.size() ? cells[i] : "", columnWidth(i) - kCellGap_mm, points_,
                                    strong && i == 0));
        lines = std::max(lines, broken.back().size());
        boxed = boxed || columns_[i].box;
    }
    double high = static_cast<double>(lines) * step + air_ * kRowAir_mm;
    if (boxed) high = std::max(high, kLeastBox_mm + air_ * (kBoxHigh_mm - kLeastBox_mm));
    const std::size_t before = pages_.count();
    pages_.need(high);
    if (pages_.count() != before) head();
    const double top = pages_.y();
    const double first = top + (high - static_cast<double>(lines) * step) / 2;
    double x = pages_.left();
    for (std::size_t i = 0; i < columns_.size(); ++i) {
        const double wide = columnWidth(i);
        if (columns_[i].box)
            ink({{{x + 0.6, top + 0.6},
                  {x + wide - 0.6, top + 0.6},
                  {x + wide - 0.6, top + high - 0.6},
                  {x + 0.6, top + high - 0.6}},
                 0.15,
                 QColor(0x8A, 0x8F, 0x94),
                 true,
                 {}});
        const bool right = columns_[i].align == DrawnText::Align::right;
        for (std::size_t l = 0; l < broken[i].size(); ++l) {
            if (broken[i][l].empty()) continue;
            double size = points_;  // a word wider than its column is set smaller
            while (size > 5 && wordsWidth_mm(broken[i][l], size, strong && i == 0) > wide - 0.6) size -= 0.25;
            pages_.text({right ? x + wide - kCellGap_mm : x + kCellGap_mm / 2,
                         first + (static_cast<double>(l) + 0.76) * step},
                        broken[i][l], size, columns_[i].align, strong && i == 0);
        }
        x += wide;
    }
    if (mark.isValid())
        ink({{{pages_.left() - 1.6, top + 0.4},
              {pages_.left() - 0.6, top + 0.4},
              {pages_.left() - 0.6, top + high - 0.4},
              {pages_.left() - 1.6, top + high - 0.4}},
             0,
             {},
             true,
             mark});
    ink({{{pages_.left(), top + high}, {pages_.right(), top + high}}, 0.1, kHairColour});
    pages_.gap(high);
}

void PackPages::band(const std::string& words) {
    const double high = points_ * kPackPoint_mm * 1.9;
    const std::size_t before = pages_.count();
    pages_.need(high + 8);
    if (pages_.count() != before) head();
    pages_.text({pages_.left() + kCellGap_mm / 2, pages_.y() + high * 0.68}, words, points_ + 0.5,
                DrawnText::Align::left, true);
    pages_.gap(high);
}

std::vector<PackPage> PackPages::take() {
    extras_.resize(pages_.count());
    std::vector<Drawing> words = pages_.take();
    for (std::size_t i = 0; i < words.size(); ++i) extras_[i].words = std::move(words[i]);
    return std::move(extras_);
}

QByteArray packPdf(const std::vector<PackPage>& pages, const std::string& title,
                   const WorkProgress& progress) {
    QByteArray pdf;
    QBuffer buffer(&pdf);
    buffer.open(QIODevice::WriteOnly);
    QPdfWriter writer(&buffer);
    writer.setPageMargins(QMarginsF(0, 0, 0, 0));
    writer.setResolution(kPackResolution);
    writer.setTitle(QString::fromStdString(title));
    writer.setCreator(QStringLiteral("Hoopwright"));
    QPainter painter;
    const int count = static_cast<int>(pages.size());
    for (int i = 0; i < count; ++i) {
        if (!goOn(progress, i, count, "page " + std::to_string(i + 1))) return {};
        const PackPage& page = pages[static_cast<std::size_t>(i)];
        writer.setPageSize(QPageSize(QSizeF(page.words.size_mm.x(), page.words.size_mm.y()),
                                     QPageSize::Millimeter, QString(), QPageSize::ExactMatch));
        if (painter.isActive()) {
            writer.newPage();
        } else {
            painter.begin(&writer);
        }
        painter.resetTransform();
        painter.setRenderHint(QPainter::SmoothPixmapTransform);
        painter.scale(kPackResolution / 25.4, kPackResolution / 25.4);
        for (const InkImage& one : page.images)
            painter.drawImage(QRectF(one.at.x(), one.at.y(), one.size.x(), one.size.y()), one.image);
        for (const InkPath& path : page.ink) paintInk(painter, path);
        paintDrawing(painter, page.words);
    }
    if (painter.isActive()) painter.end();
    buffer.close();
    return pdf;
}

}  // namespace hoopwright
