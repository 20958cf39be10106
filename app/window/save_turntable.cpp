#include "app/window/save_turntable.h"

#include <QComboBox>
#include <QDialogButtonBox>
#include <QFileDialog>
#include <QFormLayout>
#include <QLabel>
#include <QLocale>
#include <QPushButton>
#include <QSpinBox>

#include "app/view/turntable.h"
#include "app/view/view3d.h"
#include "app/window/desk.h"
#include "app/window/form_help.h"
#include "app/window/show_customer.h"
#include "app/window/style.h"
#include "app/window/work_beside.h"

namespace fs = std::filesystem;

namespace hoopwright {
namespace {

constexpr int kUsualFrames = 72;

/// A folder that is not there yet: "saloon_turntable", "saloon_turntable_2" ...
fs::path freeFolder(const fs::path& wanted) {
    std::error_code none;
    fs::path folder = wanted;
    for (int n = 2; fs::exists(fs::symlink_status(folder, none)); ++n)
        folder = wanted.string() + "_" + std::to_string(n);
    return folder;
}

/// Where to; nothing named: the person does not want to.
TurntableFiles askWhere(const Desk& desk, bool in_folder, QWidget* window) {
    TurntableFiles files;
    if (!in_folder) {
        files.animated = askFile(desk, window, QObject::tr("Turntable"), "turntable",
                                 QObject::tr("Animated PNG"), QStringLiteral(".png"))
                             .toStdString();
        return files;
    }
    const fs::path near = besideJob(desk, "turntable");
    const QString inside = QFileDialog::getExistingDirectory(
        window, QObject::tr("Where the folder of pictures is to be made"), text(near.parent_path().string()));
    if (!inside.isEmpty()) files.folder = freeFolder(fs::path(inside.toStdString()) / near.filename());
    return files;
}

}  // namespace

TurntableChoice::TurntableChoice(QWidget* parent)
    : QDialog(parent),
      frames_(new QSpinBox(this)),
      size_(new QComboBox(this)),
      from_(new QComboBox(this)),
      written_(new QComboBox(this)),
      kind_(new QComboBox(this)),
      says_(new QLabel(this)) {
    setWindowTitle(tr("Turntable"));
    setMinimumWidth(440);
    frames_->setRange(kFewestFrames, kMostFrames);
    frames_->setValue(kUsualFrames);
    for (const QSize size : {QSize(960, 540), QSize(1280, 720), QSize(1920, 1080)})
        size_->addItem(QStringLiteral("%1 × %2").arg(size.width()).arg(size.height()), size);
    from_->addItems({tr("The whole car, from a corner"), tr("As it is seen now")});
    written_->addItems({tr("Nothing"), tr("Names"), tr("Numbers")});
    kind_->addItems({tr("One animated file (PNG)"), tr("A folder of pictures (PNG)")});
    says_->setProperty("role", "soft");
    says_->setWordWrap(true);
    auto* form = new QFormLayout(this);
    form->setContentsMargins(3 * kGrid, 3 * kGrid, 3 * kGrid, 2 * kGrid);
    form->setSpacing(kGrid);
    form->setLabelAlignment(Qt::AlignLeft);
    const std::pair<QString, QWidget*> rows[] = {{tr("Pictures once round"), frames_},
                                                 {tr("Size"), size_},
                                                 {tr("Begins with"), from_},
                                                 {tr("Written on them"), written_},
                                                 {tr("Written as"), kind_}};
    for (const auto& [words, control] : rows) {
        control->setAccessibleName(words);
        form->addRow(words, control);
    }
    form->addRow(QString(), says_);
    auto* buttons = new QDialogButtonBox(this);
    buttons->addButton(tr("Cancel"), QDialogButtonBox::RejectRole);
    auto* make = buttons->addButton(tr("Make ..."), QDialogButtonBox::AcceptRole);
    makePrimary(make);
    make->setDefault(true);
    connect(buttons, &QDialogButtonBox::accepted, this, &QDialog::accept);
    connect(buttons, &QDialogButtonBox::rejected, this, &QDialog::reject);
    form->addRow(buttons);
    connect(frames_, &QSpinBox::valueChanged, this, &TurntableChoice::refresh);
    connect(kind_, &QComboBox::currentIndexChanged, this, &TurntableChoice::refresh);
    refresh();
}

void TurntableChoice::refresh() {
    const QString step = QLocale::c().toString(360.0 / frames(), 'g', 4);
    says_->setText(inFolder() ? tr("One every %1°, frame_001.png and on, in a new folder").arg(step)
                              : tr("One every %1°, once round in %2 seconds").arg(step).arg(kTurn_s));
}

int TurntableChoice::frames() const {
    return frames_->value();
}

bool TurntableChoice::inFolder() const {
    return kind_->currentIndex() == 1;
}

void TurntableChoice::fill(PictureOptions& options) const {
    const QSize size = size_->currentData().toSize();
    options.width_px = size.width();
    options.height_px = size.height();
    options.written = options.labels = written_->currentIndex() > 0;
    options.numbers = written_->currentIndex() == 2;
    if (from_->currentIndex() == 0) options.from.reset();  // three quarters, stood back from
}

void saveTurntable(Desk& desk, const View3d& view, QWidget* window) {
    TurntableChoice choice(window);
    if (choice.exec() != QDialog::Accepted) return;
    const TurntableFiles files = askWhere(desk, choice.inFolder(), window);
    const fs::path& written = choice.inFolder() ? files.folder : files.animated;
    if (written.empty()) return;
    const Job job = desk.document.job();
    const CageGeometry cage = desk.document.geometry();
    PictureOptions options = optionsOfNow(desk, view);
    choice.fill(options);
    const int frames = choice.frames();
    const std::optional<QString> wrong =
        workBeside(window, QObject::tr("Drawing the turntable"), [&](const WorkProgress& progress) {
            addGaps(options, job, cage);
            const auto problem = writeTurntable(job, cage, options, frames, files, progress);
            return problem ? text(problem->text()) : QString();
        });
    tell(desk, window, wrong, text(written.string()));
}

}  // namespace hoopwright
