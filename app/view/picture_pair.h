// Pictures of one cage that belong together: with and without a bar, and once round.
#pragma once

#include <QByteArray>
#include <functional>
#include <string>
#include <vector>

#include "app/view/picture.h"

namespace hoopwright {

/// Two of one size beside each other, each under its words.
QImage sideBySide(const QImage& left, const QString& left_words, const QImage& right,
                  const QString& right_words, Tone tone);

/// The cage with these layout members, lit up, beside the cage without them; both from where the options say.
/// The size in the options is that of the whole.
Expected<QImage> composeWithAndWithout(const Job& job, const CageGeometry& cage,
                                       const std::vector<std::string>& ids, const PictureOptions& options,
                                       const WorkProgress& progress = {});

/// Once round about the target of the options' view, `frames` pictures at even angles, anticlockwise from
/// above; each is given away as it is done. The reason as of composePicture(). @pre frames >= 1
std::optional<Reason> turnRound(const Job& job, const CageGeometry& cage, const PictureOptions& options,
                                int frames, const std::function<void(int, const QImage&)>& give,
                                const WorkProgress& progress = {});

}  // namespace hoopwright
