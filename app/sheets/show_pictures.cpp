#include <QImageReader>
#include <algorithm>
#include <array>
#include <cmath>

#include "app/sheets/show_board.h"
#include "app/sheets/show_pages.h"
#include "app/view/picture.h"
#include "app/view/picture_pair.h"
#include "core/model/shop_book.h"

namespace hoopwright {
namespace {

// Dots an inch that still look sharp in the hand, and across the page's width in millimetres.
constexpr double kDotsPerMm = 200.0 / 25.4;
constexpr int kSupersample = 2;
constexpr double kPrintWriting = 1.6;  // seven points in the hand

QSize dotsOf(double wide_mm, double high_mm) {
    return {static_cast<int>(std::lround(wide_mm * kDotsPerMm)),
            static_cast<int>(std::lround(high_mm * kDotsPerMm))};
}

PictureOptions pictureOptionsFor(const CustomerFacts& facts, QSize size) {
    PictureOptions options;
    options.width_px = size.width();
    options.height_px = size.height();
    options.supersample = kSupersample;
    options.lengths.unit = facts.job->cage.unit;
    options.lengths.decimals = 0;
    options.dimensions = false;
    options.axes = false;  // the customer reads left and ahead in the words beside the picture
    return options;
}

/// The person and room round them, seen square: from the left, or from ahead.
View squareTo(const Driver& driver, bool from_ahead, double aspect) {
    Box box;
    box.extend(driver.helmet.centre + Vec3(150, 0, driver.helmet.height_mm / 2 + 160));
    box.extend(driver.hip - Vec3(380, 0, 260));
    box.extend(driver.heel_left + Vec3(150, 0, -60)).extend(driver.heel_right + Vec3(150, 0, -60));
    box.extend(driver.elbow_left + Vec3(0, 260, 0)).extend(driver.elbow_right - Vec3(0, 260, 0));
    View view;
    view.target = box.center();
    view.eye = view.target + 8000 * (from_ahead ? Vec3(Vec3::UnitX()) : Vec3(Vec3::UnitY()));
    view.orthographic_height_mm = 1000;
    return fitted(view, box, aspect);
}

/// Each part's least distance to bare metal, where it can be read: not every part, the nearest of each side
/// of a view would lie on one another.
std::vector<ShownShape> distances(const DriverReport& report, bool from_ahead) {
    constexpr std::array kSide = {BodyPart::helmet, BodyPart::torso, BodyPart::knee, BodyPart::shin};
    constexpr std::array kAhead = {BodyPart::helmet, BodyPart::shoulder, BodyPart::elbow, BodyPart::hip};
    std::vector<ShownShape> out;
    for (const BodyPart part : from_ahead ? kAhead : kSide) {
        const Clearance* nearest = nullptr;
        for (const Clearance& one : report.clearances.parts)
            if (one.part == part && one.bare.member >= 0 &&
                (!nearest || one.bare.gap_mm < nearest->bare.gap_mm))
                nearest = &one;
        if (nearest && nearest->bare.gap_mm > 0)
            out.push_back(ShownLine{nearest->bare.on_person, nearest->bare.on_bar, true});
    }
    const Travel& up = report.room.above;
    if (!from_ahead && up.member >= 0 && up.bare_mm > 0)
        out.push_back(ShownLine{up.on_person, up.on_bar, true});
    return out;
}

/// The job with that one driver alone.
Job aloneWith(const Job& job, int driver) {
    Job out = job;
    out.drivers = {job.drivers[static_cast<std::size_t>(driver)]};
    return out;
}

class Studio {
public:
    Studio(const CustomerFacts& facts, Paper paper, const WorkProgress& progress)
        : facts_(facts),
          paper_(paperSize_mm(paper)),
          wide_(paper_.width() - 2 * ShowBoard::kMargin_mm),
          progress_(progress) {
        of_ = 2 + static_cast<int>(facts.options.size() + 2 * facts.drivers.size());
    }

    Expected<ShowPictures> take() {
        takeCover();
        takeNumbers();
        for (const ShownOption& option : facts_.options) takeOption(option);
        for (const ShownDriver& driver : facts_.drivers) takeDriver(driver);
        if (failed_) return *failed_;
        return std::move(out_);
    }

private:
    bool next(std::string_view now) {
        if (failed_) return false;
        if (goOn(progress_, done_++, of_, now)) return true;
        failed_ = Reason{"The pages were given up."};
        return false;
    }
    QImage keep(Expected<QImage> made) {
        if (made) return *std::move(made);
        failed_ = Reason{made.reason()};
        return {};
    }

    void takeCover() {
        if (!next("cover")) return;
        PictureOptions options =
            pictureOptionsFor(facts_, dotsOf(paper_.width(), paper_.height() * kCoverShare));
        options.look.colouring = Colouring::steel;
        options.written = false;
        out_.cover = keep(composePicture(*facts_.job, *facts_.cage, options));
    }
    void takeNumbers() {
        if (!next("bars")) return;
        PictureOptions options = pictureOptionsFor(facts_, dotsOf(wide_, wide_ * kNumberedShare));
        options.numbers = true;
        options.writing = kPrintWriting;
        options.look.show_drivers = false;
        out_.numbered = keep(composePicture(*facts_.job, *facts_.cage, options));
    }
    void takeOption(const ShownOption& option) {
        if (!next(option.name)) return;
        PictureOptions options = pictureOptionsFor(facts_, dotsOf(wide_, wide_ * kOptionShare));
        options.written = false;
        options.look.colouring = Colouring::steel;
        out_.options.push_back(keep(composeWithAndWithout(*facts_.job, *facts_.cage, {option.id}, options)));
    }
    void takeDriver(const ShownDriver& driver) {
        std::array<QImage, 2> both;
        Job job = aloneWith(*facts_.job, driver.index);
        const double wide = (wide_ - ShowBoard::kGutter_mm) / 2, high = wide * kDriverShare;
        for (int i = 0; i < 2; ++i) {
            if (!next(job.drivers[0].name)) return;
            if (i == 1) job.car.wheels.clear();  // from ahead one stands before the person's side
            PictureOptions options = pictureOptionsFor(facts_, dotsOf(wide, high));
            options.from = squareTo(job.drivers[0], i == 1, wide / high);
            options.measures = distances(driver.report, i == 1);
            options.labels = false;
            options.writing = kPrintWriting;
            both[static_cast<std::size_t>(i)] = keep(composePicture(job, *facts_.cage, options));
        }
        out_.drivers.push_back(std::move(both));
    }

    const CustomerFacts& facts_;
    QSizeF paper_;
    double wide_;  ///< between the margins, mm
    const WorkProgress& progress_;
    ShowPictures out_;
    std::optional<Reason> failed_;
    int done_ = 0, of_ = 0;
};

}  // namespace

Expected<ShowPictures> showPictures(const CustomerFacts& facts, Paper paper, const WorkProgress& progress) {
    return Studio(facts, paper, progress).take();
}

Expected<QImage> shopMark(const Job& job, const std::filesystem::path& shop_file) {
    if (!job.shop || job.shop->mark.empty()) return QImage();
    const std::filesystem::path file = shop_file.parent_path() / job.shop->mark;
    QImageReader reader(QString::fromStdString(file.string()));
    const QImage image = reader.read();
    if (!image.isNull()) return image;
    return Reason{shop_file.generic_string() + ": mark: '" + job.shop->mark +
                  "' can't be read as a picture: " + reader.errorString().toStdString() +
                  "; name a PNG or JPEG in the book's folder or below"};
}

}  // namespace hoopwright
