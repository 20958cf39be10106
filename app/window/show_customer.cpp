#include "app/window/show_customer.h"

#include <QComboBox>
#include <QDate>
#include <QDialog>
#include <QDialogButtonBox>
#include <QFormLayout>
#include <QLocale>
#include <QPushButton>
#include <optional>

#include "app/sheets/sheet_files.h"
#include "app/sheets/show_pages.h"
#include "app/view/bar_marks.h"
#include "app/view/picture.h"
#include "app/view/view3d.h"
#include "app/window/desk.h"
#include "app/window/form_help.h"
#include "app/window/style.h"
#include "app/window/work_beside.h"
#include "core/model/shop_book.h"

namespace hoopwright {
namespace {

QString customerPages(const Desk& desk, const Job& job, const CageGeometry& cage,
                      const std::vector<RuleTableRef>& tables, const SheetHead& head, const QString& file,
                      const WorkProgress& progress) {
    const Expected<QImage> mark = shopMark(job, desk.document.files().shop);
    if (!mark) return text(mark.reason());
    const CustomerFacts facts = customerFacts(job, cage, tables);
    const Expected<ShowPictures> pictures = showPictures(facts, head.paper, progress);
    if (!pictures) return text(pictures.reason());
    const QLocale english(QLocale::English, QLocale::UnitedKingdom);
    const QString date = english.toString(QDate::currentDate(), QStringLiteral("d MMMM yyyy"));
    return writeWhole(file, showBook(facts, *pictures, head, *mark, date.toStdString()).pdf);
}

/// What a picture is to be.
class PictureChoice : public QDialog {
public:
    explicit PictureChoice(QWidget* parent) : QDialog(parent) {
        setWindowTitle(QObject::tr("Save a picture"));
        auto* form = new QFormLayout(this);
        form->setContentsMargins(3 * kGrid, 3 * kGrid, 3 * kGrid, 2 * kGrid);
        form->setSpacing(kGrid);
        for (const auto& [words, size] : {std::pair{QObject::tr("Screen, 1920 × 1080"), QSize(1920, 1080)},
                                          {QObject::tr("4K, 3840 × 2160"), QSize(3840, 2160)},
                                          {QObject::tr("8K for print, 7680 × 4320"), QSize(7680, 4320)}})
            size_->addItem(words, size);
        written_->addItems({QObject::tr("Names"), QObject::tr("Numbers"), QObject::tr("Nothing")});
        size_->setAccessibleName(QObject::tr("Size of the picture"));
        written_->setAccessibleName(QObject::tr("What is written on it"));
        form->addRow(QObject::tr("Size"), size_);
        form->addRow(QObject::tr("Written on it"), written_);
        auto* buttons = new QDialogButtonBox(QDialogButtonBox::Cancel, this);
        QPushButton* save = buttons->addButton(QObject::tr("Save ..."), QDialogButtonBox::AcceptRole);
        makePrimary(save);
        QObject::connect(buttons, &QDialogButtonBox::accepted, this, &QDialog::accept);
        QObject::connect(buttons, &QDialogButtonBox::rejected, this, &QDialog::reject);
        form->addRow(buttons);
    }
    void fill(PictureOptions& options) const {
        const QSize size = size_->currentData().toSize();
        options.width_px = size.width();
        options.height_px = size.height();
        options.labels = written_->currentIndex() < 2;
        options.numbers = written_->currentIndex() == 1;
        options.written = written_->currentIndex() < 2;
    }

private:
    QComboBox *size_ = new QComboBox(this), *written_ = new QComboBox(this);
};

QString pictureFile(const Job& job, const CageGeometry& cage, PictureOptions options, const QString& file,
                    const WorkProgress& progress) {
    addGaps(options, job, cage);
    const Expected<QImage> image = composePicture(job, cage, options, progress);
    return image ? writeWhole(file, pngOf(*image)) : text(image.reason());
}

}  // namespace

PictureOptions optionsOfNow(const Desk& desk, const View3d& view) {
    PictureOptions options;
    options.from = view.view();
    options.look = view.look();
    options.look.dark = desk.palette().tone == Tone::dark;
    options.lengths.unit = desk.units() == UnitsShown::in ? LengthUnit::in : LengthUnit::mm;
    if (options.look.colouring == Colouring::by_result)
        options.marks = marksOf(desk.document.report(), desk.document.geometry());
    options.legend = options.look.colouring != Colouring::by_place;
    return options;
}

void addGaps(PictureOptions& options, const Job& job, const CageGeometry& cage) {
    if (options.look.colouring != Colouring::by_gap) return;
    const CarSkin skin = carSkin(job.car, job.scan_meshes);
    options.gaps = barGaps(cage, skin, gapsToSkin(cage, skin));
}

void showCustomer(Desk& desk, QWidget* window) {
    const QString file = askFile(desk, window, QObject::tr("Show the customer"), "customer",
                                 QObject::tr("PDF"), QStringLiteral(".pdf"));
    if (file.isEmpty()) return;
    const Document& document = desk.document;
    const Job job = document.job();
    const CageGeometry cage = document.geometry();
    const std::vector<RuleTableRef> tables = document.tables();
    SheetHead head;
    head.job = job.cage.name;
    head.revision = revisionOf(document.files()) + (document.dirty() ? ", not saved" : "");
    head.shop = job.shop ? job.shop->name : "";
    head.unit = job.cage.unit;
    head.paper = head.unit == LengthUnit::in ? Paper::letter : Paper::a4;
    const std::optional<QString> wrong =
        workBeside(window, QObject::tr("Drawing the customer's pages"), [&](const WorkProgress& progress) {
            return customerPages(desk, job, cage, tables, head, file, progress);
        });
    tell(desk, window, wrong, file);
}

void savePicture(Desk& desk, const View3d& view, QWidget* window) {
    PictureChoice choice(window);
    if (choice.exec() != QDialog::Accepted) return;
    const QString file = askFile(desk, window, QObject::tr("Save a picture"), "picture", QObject::tr("PNG"),
                                 QStringLiteral(".png"));
    if (file.isEmpty()) return;
    const Job job = desk.document.job();
    const CageGeometry cage = desk.document.geometry();
    PictureOptions options = optionsOfNow(desk, view);
    choice.fill(options);
    const std::optional<QString> wrong = workBeside(
        window, QObject::tr("Drawing the picture"),
        [&](const WorkProgress& progress) { return pictureFile(job, cage, options, file, progress); });
    tell(desk, window, wrong, file);
}

}  // namespace hoopwright
