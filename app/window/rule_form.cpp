#include "app/window/rule_form.h"

#include <QCheckBox>
#include <QComboBox>
#include <QCompleter>
#include <QDialogButtonBox>
#include <QFontDatabase>
#include <QFormLayout>
#include <QLabel>
#include <QLineEdit>
#include <QPlainTextEdit>
#include <QPushButton>
#include <QScreen>
#include <QVBoxLayout>
#include <algorithm>

#include "app/window/form_help.h"
#include "app/window/style.h"
#include "app/window/table_words.h"
#include "core/model/role.h"
#include "rules/review.h"

namespace hoopwright {
namespace {

const std::pair<const char*, const char*> kComparisons[] = {
    {"at_least", QT_TR_NOOP("at least")}, {"more_than", QT_TR_NOOP("more than")},
    {"at_most", QT_TR_NOOP("at most")},   {"less_than", QT_TR_NOOP("less than")},
    {"exactly", QT_TR_NOOP("exactly")},   {"between", QT_TR_NOOP("between")}};
const std::pair<const char*, const char*> kKnown[] = {{"read", QT_TR_NOOP("read in the document")},
                                                      {"second_hand", QT_TR_NOOP("second hand")},
                                                      {"memory", QT_TR_NOOP("from memory")}};
const std::pair<const char*, const char*> kEach[] = {{"", QT_TR_NOOP("once for the cage")},
                                                     {"member", QT_TR_NOOP("for each bar")},
                                                     {"plate", QT_TR_NOOP("for each foot plate")},
                                                     {"driver", QT_TR_NOOP("for each driver")}};

void choose(QComboBox* box, const QString& key) {
    const int at = box->findData(key);
    box->setCurrentIndex(std::max(0, at));
}

/// Problems of the text with the rule that are not there without it.
QString newProblem(const QString& before, const QString& after) {
    const auto said = [](const QString& text) {
        std::vector<std::string> out;
        for (const Problem& one : readRuleTableText(text.toStdString(), "table").problems)
            out.push_back(one.what + (one.remedy.empty() ? "" : " (" + one.remedy + ")"));
        return out;
    };
    const std::vector<std::string> old = said(before);
    for (const std::string& one : said(after))
        if (std::find(old.begin(), old.end(), one) == old.end()) return text(one);
    return {};
}

}  // namespace

RuleForm::RuleForm(Desk&, const QString& whole, int after, bool change, QWidget* parent)
    : QDialog(parent), text_(whole), result_(whole), after_(after), rows_(new QFormLayout) {
    if (auto outline = outlineTable(whole.toStdString())) known_ = std::move(*outline);
    if (change) was_ = draftOf(ruleKeys(whole.toStdString(), after));
    setWindowTitle(was_ ? tr("Change a rule") : tr("New rule"));
    setMinimumWidth(640);
    auto* column = new QVBoxLayout(this);
    column->setContentsMargins(3 * kGrid, 3 * kGrid, 3 * kGrid, 2 * kGrid);
    column->setSpacing(2 * kGrid);
    rows_->setSpacing(kGrid);
    rows_->setLabelAlignment(Qt::AlignLeft);
    column->addLayout(rows_);
    shape_ = choice(tr("Shape"), {});
    for (RuleShape one : ruleShapes()) shape_->addItem(shapeTitle(one), int(one));
    shape_->setEnabled(!was_);
    title_ = line(tr("Title"), tr("Rear brace against vertical"));
    clause_ = line(tr("Clause"), tr("where in the book"));
    sentence_ = line(tr("Sentence"), tr("what it wants, in your own words"));
    ask_ = line(tr("Question"), tr("Is every joint welded all the way round?"));
    each_ = choice(tr("Asked"), {});
    for (const auto& [key, words] : kEach) each_->addItem(tr(words), QString::fromLatin1(key));
    measure_ = choice(tr("Measures"), {});
    meaning_ = new QLabel(this);
    meaning_->setProperty("role", "soft");
    meaning_->setWordWrap(true);
    rows_->addRow(QString(), meaning_);
    of_ = line(tr("Of which bars"), tr("roles with commas, or a selector in braces; empty: all"));
    QStringList roles;
    for (const Role& role : knownRoles()) roles << text(role.word);
    for (const std::string& role : known_.namesOf(TableSection::roles)) roles << text(role);
    auto* completer = new QCompleter(roles, this);
    completer->setCaseSensitivity(Qt::CaseInsensitive);
    of_->setCompleter(completer);
    with_ = line(tr("How"), tr("view: side; place: hoop_top"));
    fits_ = choice(tr("Tube table"), {});
    fits_->setEditable(true);
    for (const std::string& name : known_.namesOf(TableSection::tubes)) fits_->addItem(text(name));
    tubes_ = line(tr("Its tubes"), tr("40 x 2, 38 x 2.5: OD and least wall, where the table is new"));
    comparison_ = choice(tr("Limit"), {});
    for (const auto& [key, words] : kComparisons) comparison_->addItem(tr(words), QString::fromLatin1(key));
    value_ = line(tr("How much"), tr("30 deg; between: 10, 20"));
    per_side_ = new QCheckBox(tr("On each side of the car"), this);
    rows_->addRow(QString(), per_side_);
    way_out_ = line(tr("Way out"), tr("what to do when it fails; may be empty"));
    known_how_ = choice(tr("Number known"), {});
    for (const auto& [key, words] : kKnown) known_how_->addItem(tr(words), QString::fromLatin1(key));
    recommended_ = new QCheckBox(tr("Recommended only"), this);
    rows_->addRow(QString(), recommended_);
    id_ = line(tr("Id"), tr("made from the title"));
    yaml_ = new QPlainTextEdit(this);
    yaml_->setReadOnly(true);
    yaml_->setTabChangesFocus(true);
    yaml_->setAccessibleName(tr("The rule as it will be written"));
    yaml_->setFont(QFontDatabase::systemFont(QFontDatabase::FixedFont));
    yaml_->setFixedHeight(196);
    column->addWidget(yaml_);
    says_ = new QLabel(this);
    says_->setProperty("role", "wrong");
    says_->setWordWrap(true);
    says_->setMinimumHeight(32);
    column->addWidget(says_);
    auto* buttons = new QDialogButtonBox(this);
    buttons->addButton(tr("Cancel"), QDialogButtonBox::RejectRole);
    put_ = buttons->addButton(was_ ? tr("Change it") : tr("Put it in"), QDialogButtonBox::AcceptRole);
    makePrimary(put_);
    put_->setDefault(true);
    connect(buttons, &QDialogButtonBox::accepted, this, &QDialog::accept);
    connect(buttons, &QDialogButtonBox::rejected, this, &QDialog::reject);
    column->addWidget(buttons);

    connect(shape_, &QComboBox::currentIndexChanged, this, [this] {
        offerQuantities();
        showFields();
        refresh();
    });
    connect(measure_, &QComboBox::currentIndexChanged, this, [this] {
        if (!filling_) with_->setText(neededWith(measure_->currentText()));
        refresh();
    });
    for (QComboBox* box : {comparison_, known_how_, each_, fits_})
        connect(box, &QComboBox::currentTextChanged, this, &RuleForm::refresh);
    for (QLineEdit* one : {id_, clause_, title_, sentence_, of_, with_, value_, tubes_, ask_, way_out_})
        connect(one, &QLineEdit::textChanged, this, &RuleForm::refresh);
    for (QCheckBox* box : {per_side_, recommended_})
        connect(box, &QCheckBox::toggled, this, &RuleForm::refresh);
    fill(was_ ? *was_ : RuleDraft{});
    title_->setFocus();
}

QLineEdit* RuleForm::line(const QString& label, const QString& hint) {
    auto* made = new QLineEdit(this);
    made->setAccessibleName(label);
    made->setPlaceholderText(hint);
    rows_->addRow(label, made);
    return made;
}

QComboBox* RuleForm::choice(const QString& label, const QStringList& words) {
    auto* made = new QComboBox(this);
    made->setAccessibleName(label);
    made->addItems(words);
    rows_->addRow(label, made);
    return made;
}

void RuleForm::offerQuantities() {
    const QStringList names = quantitiesOf(static_cast<RuleShape>(shape_->currentData().toInt()));
    const QString now = measure_->currentText();
    measure_->clear();
    for (const QString& name : names) {
        measure_->addItem(name);
        measure_->setItemData(measure_->count() - 1, meaningOf(name), Qt::ToolTipRole);
    }
    measure_->setCurrentIndex(std::max(0, measure_->findText(now)));
}

void RuleForm::fill(const RuleDraft& draft) {
    filling_ = true;
    shape_->setCurrentIndex(std::max(0, shape_->findData(int(draft.shape))));
    offerQuantities();
    if (!draft.measure.isEmpty()) measure_->setCurrentIndex(std::max(0, measure_->findText(draft.measure)));
    id_->setText(draft.id);
    clause_->setText(draft.clause);
    title_->setText(draft.title);
    sentence_->setText(draft.sentence);
    of_->setText(draft.of);
    with_->setText(draft.with);
    value_->setText(draft.value);
    ask_->setText(draft.ask);
    way_out_->setText(draft.way_out);
    fits_->setEditText(draft.fits);
    choose(comparison_, draft.comparison);
    choose(known_how_, draft.known);
    choose(each_, draft.each);
    per_side_->setChecked(draft.per_side);
    recommended_->setChecked(draft.recommended);
    filling_ = false;
    showFields();
    refresh();
}

void RuleForm::showFields() {
    const auto shape = static_cast<RuleShape>(shape_->currentData().toInt());
    const bool question = shape == RuleShape::question, tube = shape == RuleShape::tube;
    const bool count = shape == RuleShape::bar_there;
    const auto show = [this](QWidget* field, bool on) {
        if (QWidget* label = rows_->labelForField(field)) label->setVisible(on);
        field->setVisible(on);
    };
    show(ask_, question);
    show(each_, question);
    show(measure_, !question && !tube && !count);
    show(meaning_, !question && !tube && !count);
    show(with_, !question && !tube && !count);
    show(fits_, tube);
    show(tubes_, tube);
    show(comparison_, !question && !tube);
    show(value_, !question && !tube);
    show(per_side_, count);
    layout()->activate();
    constexpr int kFrame = 60;  // of the window, and a little of what is behind it
    resize(width(), std::min(sizeHint().height(), screen()->availableGeometry().height() - kFrame));
}

RuleDraft RuleForm::draft() const {
    RuleDraft out;
    out.shape = static_cast<RuleShape>(shape_->currentData().toInt());
    out.title = title_->text();
    out.id = id_->text().trimmed();
    if (out.id.isEmpty() && !out.title.isEmpty()) out.id = freeRuleId(out.title, known_);
    out.clause = clause_->text();
    out.sentence = sentence_->text();
    out.way_out = way_out_->text();
    out.known = known_how_->currentData().toString();
    out.recommended = recommended_->isChecked();
    out.of = of_->text();
    out.measure = measure_->currentText();
    out.with = with_->text();
    out.comparison = comparison_->currentData().toString();
    out.value = value_->text();
    out.per_side = per_side_->isChecked();
    out.fits = fits_->currentText();
    out.tubes = tubes_->text();
    out.ask = ask_->text();
    out.each = each_->currentData().toString();
    return out;
}

void RuleForm::refresh() {
    if (filling_) return;
    const RuleDraft now = draft();
    meaning_->setText(meaningOf(now.measure));
    QString shown;
    for (const auto& [key, value] : keysOf(now))
        shown += text(key) + QStringLiteral(": ") + text(value) + QLatin1Char('\n');
    yaml_->setPlainText(shown.trimmed());
    QString lacks = whatLacks(now, known_);
    if (lacks.isEmpty()) {
        result_ = was_ ? withChangedDraft(text_, after_, *was_, now) : withDraft(text_, now, after_);
        lacks = newProblem(text_, result_);
    }
    says_->setText(lacks);
    put_->setEnabled(lacks.isEmpty());
}

}  // namespace hoopwright
