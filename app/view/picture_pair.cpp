#include "app/view/picture_pair.h"

#include <QPainter>
#include <algorithm>
#include <cmath>

#include "core/edit/cage_edits.h"
#include "core/edit/leave_out.h"

namespace hoopwright {
namespace {

constexpr double kStrip = 34, kAcross = 560;  // height of the words' strip, at a picture so wide

QString joined(const std::vector<QString>& words) {
    QString out;
    for (const QString& one : words) out += (out.isEmpty() ? QString() : QStringLiteral(", ")) + one;
    return out;
}

}  // namespace

QImage sideBySide(const QImage& left, const QString& left_words, const QImage& right,
                  const QString& right_words, Tone tone) {
    const Palette palette = paletteOf(tone);
    const double scale = std::max(0.5, left.width() / kAcross);
    const int strip = static_cast<int>(std::lround(kStrip * scale)), gap = std::max(2, strip / 12);
    QImage whole(left.width() + gap + right.width(), strip + std::max(left.height(), right.height()),
                 QImage::Format_RGBX8888);
    whole.fill(palette.paper);
    QPainter painter(&whole);
    painter.setRenderHint(QPainter::Antialiasing);
    painter.setFont(typeFont(TypeSize::head, TypeWeight::strong, scale));
    painter.setPen(palette.ink);
    const auto put = [&](int x, const QImage& image, const QString& words) {
        painter.drawImage(x, strip, image);
        const QRectF line(x + 12 * scale, 0, image.width() - 24 * scale, strip);
        painter.drawText(
            line, Qt::AlignLeft | Qt::AlignVCenter,
            painter.fontMetrics().elidedText(words, Qt::ElideRight, static_cast<int>(line.width())));
    };
    put(0, left, left_words);
    put(left.width() + gap, right, right_words);
    return whole;
}

Expected<QImage> composeWithAndWithout(const Job& job, const CageGeometry& cage,
                                       const std::vector<std::string>& ids, const PictureOptions& options,
                                       const WorkProgress& progress) {
    const LeftOut out = leaveOut(job, cage, ids);
    std::vector<std::string> gone = ids;
    gone.insert(gone.end(), out.goes_too.begin(), out.goes_too.end());
    PictureOptions half = options;
    half.width_px = options.width_px / 2;
    const double scale = std::max(0.5, half.width_px / kAcross);
    half.height_px = options.height_px - static_cast<int>(std::lround(kStrip * scale));
    std::vector<QString> names;
    for (const std::string& id : gone) {
        const Member* member = job.cage.member(id);
        if (!member) continue;
        names.push_back(QString::fromStdString(shownName(*member)));
        for (const std::string& each : resolvedIds(id, member->mirrored)) half.selected.push_back(each);
    }
    const auto part = [&](int which) {
        return WorkProgress([&progress, which](int done, int of, std::string_view now) {
            return goOn(progress, which * of + done, 2 * of, now);
        });
    };
    half.labels = false;
    PictureMaker with(job, cage, half);
    const View view = with.view();
    const Expected<QImage> left = with.draw(view, part(0));
    if (!left) return Reason{left.reason()};
    half.selected = options.selected;
    half.marks.clear();
    half.gaps.reset();
    half.finding.reset();
    PictureMaker without(out.job, out.cage, half);
    const Expected<QImage> right = without.draw(view, part(1));
    if (!right) return Reason{right.reason()};
    return sideBySide(*left, QStringLiteral("With: ") + joined(names), *right, QStringLiteral("Without"),
                      options.look.dark ? Tone::dark : Tone::light);
}

std::optional<Reason> turnRound(const Job& job, const CageGeometry& cage, const PictureOptions& options,
                                int frames, const std::function<void(int, const QImage&)>& give,
                                const WorkProgress& progress) {
    PictureMaker maker(job, cage, options);
    const std::vector<View> round = maker.onceRound(frames);
    for (int i = 0; i < frames; ++i) {
        if (!goOn(progress, i, frames, "frame")) return Reason{"The turntable was given up."};
        const Expected<QImage> frame = maker.draw(round[static_cast<std::size_t>(i)]);
        if (!frame) return Reason{frame.reason()};
        give(i, *frame);
    }
    return std::nullopt;
}

}  // namespace hoopwright
