// What a customer is shown of a cage, as a PDF of a few pages.
#pragma once

#include <QByteArray>
#include <QImage>
#include <array>
#include <filesystem>
#include <string>
#include <vector>

#include "app/sheets/sheet_page.h"
#include "app/sheets/show_facts.h"
#include "core/base/progress.h"

namespace hoopwright {

/// How high the pictures are, as a share of their width: taken as they are laid, so that nothing is cut off.
inline constexpr double kCoverShare = 0.6;  ///< of the page's height
inline constexpr double kNumberedShare = 0.598, kOptionShare = 66.0 / 174, kDriverShare = 84.0 / 85;

/// Pictures of the pages, in print quality.
struct ShowPictures {
    QImage cover;                 ///< bare steel in the see-through car
    QImage numbered;              ///< every bar with its number
    std::vector<QImage> options;  ///< of each option: with and without
    std::vector<std::array<QImage, 2>>
        drivers;  ///< of each driver: from the side, from ahead, with distances
};
/// The reason says what the machine lacks, or that `progress` wanted no more. @pre there is a QGuiApplication
Expected<ShowPictures> showPictures(const CustomerFacts& facts, Paper paper,
                                    const WorkProgress& progress = {});

struct ShowBook {
    QByteArray pdf;
    int pages = 0;
};
/// `mark`: the shop's own; may be null. `date`: as it is to be read. @pre as showPictures()
ShowBook showBook(const CustomerFacts& facts, const ShowPictures& pictures, const SheetHead& head,
                  const QImage& mark, const std::string& date);

/// The image file of the shop's mark: of the book's folder. Null where the book names none. The reason says
/// what is wrong with the file.
Expected<QImage> shopMark(const Job& job, const std::filesystem::path& shop_file);

}  // namespace hoopwright
