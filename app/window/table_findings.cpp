#include "app/window/table_findings.h"

#include <QLabel>
#include <QPainter>
#include <QVBoxLayout>

#include "app/window/findings.h"
#include "app/window/form_help.h"
#include "app/window/style.h"

namespace hoopwright {

TableFindings::TableFindings(Desk& desk, QWidget* parent)
    : QWidget(parent),
      desk_(desk),
      head_(new QLabel(this)),
      about_(new QLabel(this)),
      rows_(new RowsModel(this)),
      list_(new QListView(this)) {
    auto* column = new QVBoxLayout(this);
    column->setContentsMargins(0, kGrid, 0, 0);
    column->setSpacing(4);
    head_->setFont(typeFont(TypeSize::body, TypeWeight::medium));
    head_->setContentsMargins(2 * kGrid, 0, 2 * kGrid, 0);
    about_->setProperty("role", "soft");
    about_->setWordWrap(true);
    about_->setContentsMargins(2 * kGrid, 4, 2 * kGrid, kGrid);
    about_->hide();
    list_->setAccessibleName(tr("What the table says of this cage"));
    list_->setModel(rows_);
    list_->setItemDelegate(new RowsDelegate(desk, list_));
    list_->setVerticalScrollMode(QAbstractItemView::ScrollPerPixel);
    list_->setHorizontalScrollBarPolicy(Qt::ScrollBarAlwaysOff);
    list_->setMouseTracking(true);
    list_->setEditTriggers(QAbstractItemView::NoEditTriggers);
    column->addWidget(head_);
    column->addWidget(list_, 1);
    column->addWidget(about_);
    connect(list_->selectionModel(), &QItemSelectionModel::currentChanged, this,
            [this](const QModelIndex& index) {
                if (refreshing_) return;
                const Finding* finding = findingAt(index);
                key_ = finding ? findingKey(*finding) : std::string();
                describe(index);
                if (finding) emit chosen(*finding);
            });
    connect(list_, &QListView::activated, this, [this](const QModelIndex& index) {
        if (const Finding* finding = findingAt(index)) emit ruleWanted(finding->rule);
    });
    connect(&desk_, &Desk::unitsChanged, this, &TableFindings::refresh);
}

void TableFindings::showReport(const CheckReport& report, bool as_of_now) {
    report_ = report;
    as_of_now_ = as_of_now;
    refresh();
}

void TableFindings::clear(const QString& why) {
    report_ = {};
    refresh();
    head_->setText(why);
}

void TableFindings::choose(const std::string& key) {
    const int row = rows_->indexOf({Thing::Kind::finding, key});
    if (row < 0) return;
    list_->setCurrentIndex(rows_->index(row));
    list_->scrollTo(rows_->index(row));
}

QString TableFindings::said() const {
    return head_->text();
}

void TableFindings::refresh() {
    shown_.clear();
    std::vector<Row> rows;
    for (const int index : worstFirst(report_)) {
        const Finding& finding = report_.findings[std::size_t(index)];
        if (finding.answer == Answer::does_not_apply) continue;
        const FindingWords words = wordsOf(finding, desk_.units());
        Row row;
        row.thing = Thing{Thing::Kind::finding, findingKey(finding)};
        row.mark = finding.answer;
        row.title = words.title;
        row.detail = words.by.isEmpty() ? words.value : words.by;
        row.tip = words.sentence;
        row.faint = !as_of_now_;
        rows.push_back(row);
        shown_.push_back(index);
    }
    refreshing_ = true;
    rows_->setRows(std::move(rows));
    // What was chosen stays so wherever it stands now.
    const int row = key_.empty() ? -1 : rows_->indexOf({Thing::Kind::finding, key_});
    list_->setCurrentIndex(row < 0 ? QModelIndex() : rows_->index(row));
    refreshing_ = false;
    const int fails = report_.count(Answer::fails), unknown = report_.count(Answer::cannot_tell),
              ask = report_.count(Answer::ask_person), meets = report_.count(Answer::meets);
    QString words = tr("This cage: %1 fail, %2 can't tell, %3 to ask, %4 meet")
                        .arg(fails)
                        .arg(unknown)
                        .arg(ask)
                        .arg(meets);
    if (!as_of_now_) words += tr(" (of the last text that could be used)");
    head_->setText(words);
    describe(list_->currentIndex());
    if (key_.empty()) return;
    if (const Finding* finding = findingAt(list_->currentIndex()))
        emit chosen(*finding);
    else
        emit gone();
}

const Finding* TableFindings::findingAt(const QModelIndex& index) const {
    if (!index.isValid() || index.row() >= int(shown_.size())) return nullptr;
    return &report_.findings[std::size_t(shown_[std::size_t(index.row())])];
}

void TableFindings::describe(const QModelIndex& index) {
    const Finding* finding = findingAt(index);
    about_->setVisible(finding != nullptr);
    if (!finding) return;
    const FindingWords words = wordsOf(*finding, desk_.units());
    QString said = printed(finding->sentence);
    if (!words.value.isEmpty())
        said += tr("\nHas %1, wanted %2").arg(words.value, words.limit);
    else if (!finding->missing.empty())
        said += QLatin1Char('\n') + printed(finding->missing);
    about_->setText(said);
}

void TableFindings::paintEvent(QPaintEvent*) {
    QPainter(this).fillRect(rect(), desk_.palette().card);
}

}  // namespace hoopwright
