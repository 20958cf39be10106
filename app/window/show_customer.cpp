#include "app/window/show_customer.h"

#include <QCheckBox>
#include <QComboBox>
#include <QDate>
#include <QDialogButtonBox>
#include <QFileDialog>
#include <QFileInfo>
#include <QFormLayout>
#include <QLocale>
#include <QMessageBox>
#include <QProgressDialog>
#include <QPushButton>
#include <atomic>
#include <cmath>
#include <optional>
#include <thread>

#include "app/sheets/sheet_files.h"
#include "app/sheets/show_pages.h"
#include "app/view/animated_png.h"
#include "app/view/bar_marks.h"
#include "app/view/picture_pair.h"
#include "app/view/view3d.h"
#include "app/window/desk.h"
#include "app/window/form_help.h"
#include "app/window/style.h"
#include "core/base/whole_file.h"
#include "core/model/shop_book.h"

namespace hoopwright {
namespace {

constexpr int kTurnFrames = 72, kTurnPerSecond = 12;

/// Runs long work beside the window; what it returns is a sentence of what went wrong, or empty; nothing at
/// all if the person stopped it.
std::optional<QString> workBeside(QWidget* window, const QString& words,
                                  const std::function<QString(const WorkProgress&)>& work) {
    QProgressDialog dialog(words, QObject::tr("Stop"), 0, 0, window);
    dialog.setWindowTitle(QObject::tr("Working"));
    dialog.setWindowModality(Qt::WindowModal);
    dialog.setMinimumDuration(0);
    dialog.setAutoClose(false);
    dialog.setAutoReset(false);
    std::atomic<bool> stop = false;
    QObject::connect(&dialog, &QProgressDialog::canceled, &dialog, [&] { stop = true; });
    QString wrong;
    std::thread worker([&] {
        wrong = work([&](int done, int of, std::string_view) {
            QMetaObject::invokeMethod(
                &dialog,
                [&dialog, done, of] {
                    dialog.setMaximum(of);
                    dialog.setValue(done);
                },
                Qt::QueuedConnection);
            return !stop.load();
        });
        QMetaObject::invokeMethod(
            &dialog, [&dialog] { dialog.accept(); }, Qt::QueuedConnection);
    });
    dialog.exec();
    worker.join();
    if (stop) return std::nullopt;
    return wrong;
}

QString writeWhole(const QString& file, const QByteArray& bytes) {
    WholeFile whole(file.toStdString());
    whole.write({bytes.constData(), static_cast<std::size_t>(bytes.size())});
    const std::optional<Problem> problem = whole.commit();
    return problem ? text(problem->text()) : QString();
}

/// Offered beside the job's file, under its name.
QString askFile(const Desk& desk, QWidget* window, const QString& title, const std::string& usual,
                const QString& kind, const QString& ending) {
    const std::filesystem::path& cage = desk.document.files().cage;
    const std::filesystem::path near = cage.empty()
                                           ? std::filesystem::path(usual)
                                           : cage.parent_path() / (cage.stem().string() + "_" + usual);
    QString file = QFileDialog::getSaveFileName(window, title, text(near.string()) + ending,
                                                QStringLiteral("%1 (*%2)").arg(kind, ending));
    if (!file.isEmpty() && QFileInfo(file).suffix().isEmpty()) file += ending;
    return file;
}

void tell(Desk& desk, QWidget* window, const std::optional<QString>& wrong, const QString& file) {
    if (!wrong) {
        emit desk.say(QObject::tr("Stopped: nothing was written."));
    } else if (wrong->isEmpty()) {
        emit desk.say(QObject::tr("Written: %1").arg(file));
    } else {
        QMessageBox::warning(window, QObject::tr("%1 was not written").arg(QFileInfo(file).fileName()),
                             *wrong);
    }
}

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
        turn_->setText(QObject::tr("Once round, animated (960 × 540)"));
        form->addRow(QString(), turn_);
        auto* buttons = new QDialogButtonBox(QDialogButtonBox::Cancel, this);
        QPushButton* save = buttons->addButton(QObject::tr("Save ..."), QDialogButtonBox::AcceptRole);
        makePrimary(save);
        QObject::connect(buttons, &QDialogButtonBox::accepted, this, &QDialog::accept);
        QObject::connect(buttons, &QDialogButtonBox::rejected, this, &QDialog::reject);
        form->addRow(buttons);
    }
    bool turns() const { return turn_->isChecked(); }
    void fill(PictureOptions& options) const {
        const QSize size = turns() ? QSize(960, 540) : size_->currentData().toSize();
        options.width_px = size.width();
        options.height_px = size.height();
        options.labels = written_->currentIndex() < 2;
        options.numbers = written_->currentIndex() == 1;
        options.written = written_->currentIndex() < 2;
    }

private:
    QComboBox *size_ = new QComboBox(this), *written_ = new QComboBox(this);
    QCheckBox* turn_ = new QCheckBox(this);
};

QString pictureFile(const Job& job, const CageGeometry& cage, PictureOptions options, bool turns,
                    const QString& file, const WorkProgress& progress) {
    if (options.look.colouring == Colouring::by_gap) {
        const CarSkin skin = carSkin(job.car, job.scan_meshes);
        options.gaps = barGaps(cage, skin, gapsToSkin(cage, skin));
    }
    if (!turns) {
        const Expected<QImage> image = composePicture(job, cage, options, progress);
        return image ? writeWhole(file, pngOf(*image)) : text(image.reason());
    }
    AnimatedPng turn(kTurnFrames, kTurnPerSecond);
    const auto give = [&](int, const QImage& image) { turn.add(image); };
    if (const auto wrong = turnRound(job, cage, options, kTurnFrames, give, progress))
        return text(wrong->text);
    return writeWhole(file, turn.take());
}

}  // namespace

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
    PictureOptions options;
    choice.fill(options);
    options.from = view.view();
    options.look = view.look();
    options.look.dark = desk.palette().tone == Tone::dark;
    options.lengths.unit = desk.units() == UnitsShown::in ? LengthUnit::in : LengthUnit::mm;
    const Job job = desk.document.job();
    const CageGeometry cage = desk.document.geometry();
    if (options.look.colouring == Colouring::by_result) options.marks = marksOf(desk.document.report(), cage);
    options.legend = options.look.colouring != Colouring::by_place;
    const std::optional<QString> wrong =
        workBeside(window, QObject::tr("Drawing the picture"), [&](const WorkProgress& progress) {
            return pictureFile(job, cage, options, choice.turns(), file, progress);
        });
    tell(desk, window, wrong, file);
}

}  // namespace hoopwright
