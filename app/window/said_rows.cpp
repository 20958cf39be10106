#include "app/window/said_rows.h"

#include <QDate>
#include <QFileDialog>
#include <QFileInfo>
#include <QHBoxLayout>
#include <QLabel>
#include <QLineEdit>
#include <QPixmap>
#include <QPushButton>
#include <QSettings>
#include <QVariant>
#include <algorithm>

#include "app/window/findings.h"
#include "app/window/form_help.h"

namespace hoopwright {
namespace {

constexpr int kPhotoWidth = 300, kPhotoHeight = 200;

bool answers(const PersonsAnswer& answer, const Finding& finding) {
    return answer.table == finding.table && answer.rule == finding.rule && answer.subject == finding.subject;
}

const PersonsAnswer* answerTo(const Desk& desk, const Finding& finding) {
    for (const PersonsAnswer& answer : desk.document.job().cage.answers) {
        if (answers(answer, finding)) return &answer;
    }
    return nullptr;
}

constexpr char kDrafts[] = "answer_drafts";

QString draftKey(const Desk& desk, const Finding& finding) {
    return text(desk.document.files().cage.generic_string()) + QLatin1Char('\n') + text(findingKey(finding));
}

/// What was typed of an answer that is not given yet: who, when, note, photo; nothing if nothing was.
QStringList waitingAnswer(const Desk& desk, const Finding& finding) {
    return desk.property(kDrafts).toMap().value(draftKey(desk, finding)).toStringList();
}

/// It waits with the desk while something else is looked at. Empty: none waits any more.
void keepWaiting(Desk& desk, const Finding& finding, const QStringList& words) {
    QVariantMap all = desk.property(kDrafts).toMap();
    if (words.isEmpty())
        all.remove(draftKey(desk, finding));
    else
        all.insert(draftKey(desk, finding), words);
    desk.setProperty(kDrafts, all);
}

QLineEdit* line(const QString& name, const QString& value, const QString& hint, QWidget* parent) {
    auto* made = new QLineEdit(value, parent);
    made->setAccessibleName(name);
    made->setPlaceholderText(hint);
    return made;
}

QString lastWho() {
    return QSettings().value(QStringLiteral("who")).toString();
}

/// A row of buttons at the left.
class Buttons : public QWidget {
public:
    explicit Buttons(Form& form) : QWidget(&form), form_(form), columns_(new QHBoxLayout(this)) {
        columns_->setContentsMargins(0, 0, 0, 0);
        columns_->setSpacing(4);
    }
    QPushButton* add(const QString& words, const QString& tip, const std::function<void()>& run) {
        auto* made = new QPushButton(words, this);
        made->setToolTip(tip);
        QObject::connect(made, &QPushButton::clicked, &form_, run);
        columns_->addWidget(made);
        return made;
    }
    void done() {
        columns_->addStretch(1);
        form_.whole(this);
    }

private:
    Form& form_;
    QHBoxLayout* columns_;
};

/// Says what is missing of who and when; true if nothing is.
bool isWhole(Desk& desk, const QLineEdit& who, const QLineEdit& when) {
    if (!who.text().trimmed().isEmpty() && QDate::fromString(when.text().trimmed(), Qt::ISODate).isValid()) {
        QSettings().setValue(QStringLiteral("who"), who.text().trimmed());
        return true;
    }
    emit desk.say(QObject::tr("An answer needs the name of who looked and a date such as 2026-03-02."));
    return false;
}

/// The picture, small; or that its file is not there.
void showPhoto(QLabel& label, const QString& file) {
    label.setVisible(!file.isEmpty());
    if (file.isEmpty()) return;
    const QPixmap picture(file);
    if (!picture.isNull()) {
        // Words asked for a height by their width; a picture that followed them would get none.
        QSizePolicy policy = label.sizePolicy();
        policy.setHeightForWidth(false);
        label.setSizePolicy(policy);
        label.setPixmap(
            picture.scaled(kPhotoWidth, kPhotoHeight, Qt::KeepAspectRatio, Qt::SmoothTransformation));
        label.setAccessibleDescription(file);
        return;
    }
    label.setText(QFileInfo(file).isFile() ? QObject::tr("%1 is no picture that can be shown.").arg(file)
                                           : QObject::tr("The photo %1 is not there.").arg(file));
}

}  // namespace

bool isAnswered(const Desk& desk, const Finding& finding) {
    return answerTo(desk, finding) != nullptr;
}

void addAnswerRows(Desk& desk, Form& form, const Finding& finding) {
    const PersonsAnswer* given = answerTo(desk, finding);
    form.section(given ? QObject::tr("Answered") : QObject::tr("Your answer"));
    QStringList words = waitingAnswer(desk, finding);
    if (words.isEmpty())
        words = given
                    ? QStringList{text(given->who), text(given->when), text(given->note), text(given->photo)}
                    : QStringList{lastWho(), QDate::currentDate().toString(Qt::ISODate), {}, {}};
    auto* who = line(QObject::tr("Who looked"), words[0], QObject::tr("who looked"), &form);
    auto* when = line(QObject::tr("When"), words[1], QStringLiteral("2026-11-25"), &form);
    auto* note = line(QObject::tr("Note"), words[2], QObject::tr("what was seen"), &form);
    auto* photo = line(QObject::tr("Photo"), words[3], QObject::tr("photo, a file"), &form);
    for (QLineEdit* one : {who, when, note, photo}) {
        form.whole(one);
        QObject::connect(one, &QLineEdit::textChanged, &form, [&desk, finding, who, when, note, photo] {
            keepWaiting(desk, finding, {who->text(), when->text(), note->text(), photo->text()});
        });
    }
    auto* picture = new QLabel(&form);
    picture->setAccessibleName(QObject::tr("The photo"));
    picture->setWordWrap(true);
    showPhoto(*picture, photo->text());
    form.whole(picture);
    QObject::connect(photo, &QLineEdit::textChanged, picture,
                     [picture](const QString& file) { showPhoto(*picture, file.trimmed()); });
    const auto put = [&desk, finding, who, when, note, photo](bool good) {
        if (!isWhole(desk, *who, *when)) return;
        const QString file = photo->text().trimmed();
        if (!file.isEmpty() && !QFileInfo(file).isFile()) {
            emit desk.say(
                QObject::tr("There is no file %1: choose the photo again, or leave it out.").arg(file));
            return;
        }
        PersonsAnswer answer{finding.table,
                             finding.rule,
                             finding.subject,
                             good,
                             who->text().trimmed().toStdString(),
                             when->text().trimmed().toStdString(),
                             note->text().trimmed().toStdString(),
                             file.toStdString()};
        keepWaiting(desk, finding, {});
        desk.document.edit(QObject::tr("Answer: ") + text(finding.title), [&](Job& job) {
            std::erase_if(job.cage.answers, [&](const PersonsAnswer& a) { return answers(a, finding); });
            job.cage.answers.push_back(answer);
        });
    };
    auto* buttons = new Buttons(form);
    buttons
        ->add(QObject::tr("It is good"), QObject::tr("A person looked and it is as the rule wants"),
              [put] { put(true); })
        ->setProperty("primary", true);
    buttons->add(QObject::tr("It is not"), QObject::tr("A person looked and it is not as the rule wants"),
                 [put] { put(false); });
    buttons->done();
    auto* more = new Buttons(form);  // four would not go side by side
    more->add(QObject::tr("Choose a photo"), QObject::tr("A picture of what was seen"),
              [&form, &desk, photo] {
                  const QString beside =
                      QString::fromStdString(desk.document.files().cage.parent_path().generic_string());
                  const QString file = QFileDialog::getOpenFileName(
                      &form, QObject::tr("Photo"), beside, QObject::tr("Pictures (*.jpg *.jpeg *.png)"));
                  if (!file.isEmpty()) photo->setText(file);
              });
    if (given) {
        more->add(QObject::tr("Take back"), QObject::tr("Ask again"), [&desk, finding] {
            keepWaiting(desk, finding, {});
            desk.document.edit(QObject::tr("Take an answer back"), [&](Job& job) {
                std::erase_if(job.cage.answers, [&](const PersonsAnswer& a) { return answers(a, finding); });
            });
        });
    }
    more->done();
}

void addTickRows(Desk& desk, Form& form, const Finding& finding) {
    if (finding.known == Known::read) return;
    const QString known =
        finding.known == Known::memory ? QObject::tr("from memory") : QObject::tr("second hand");
    const auto takeAway = [finding](Job& job) {
        std::erase_if(job.cage.ticks,
                      [&](const RuleTick& t) { return t.table == finding.table && t.rule == finding.rule; });
    };
    if (finding.ticked) {
        form.section(QObject::tr("Confirmed"));
        form.note([finding, known] {
            return QObject::tr(
                       "The table has this number %1. %2 held it against the book of edition %3 on %4.")
                .arg(known, text(finding.ticked->who), text(finding.edition), text(finding.ticked->when));
        });
        auto* buttons = new Buttons(form);
        buttons->add(QObject::tr("Take the tick back"), QObject::tr("It is not confirmed after all"),
                     [&desk, takeAway] { desk.document.edit(QObject::tr("Take a tick back"), takeAway); });
        return buttons->done();
    }
    form.section(QObject::tr("Not confirmed"));
    form.note([finding, known] {
        return QObject::tr(
                   "The table has this number %1. Hold it against the book in force, edition %2: until then "
                   "what meets by it is no pass.")
            .arg(known, text(finding.edition));
    });
    auto* who = line(QObject::tr("Who compared"), lastWho(), QObject::tr("who compared"), &form);
    auto* when = line(QObject::tr("Compared when"), QDate::currentDate().toString(Qt::ISODate),
                      QStringLiteral("2026-11-25"), &form);
    for (QLineEdit* one : {who, when}) form.whole(one);
    auto* buttons = new Buttons(form);
    buttons->add(QObject::tr("The book says so"),
                 QObject::tr("A person held the number against the book in force"),
                 [&desk, finding, takeAway, who, when] {
                     if (!isWhole(desk, *who, *when)) return;
                     desk.document.edit(QObject::tr("Tick off: ") + text(finding.title), [&](Job& job) {
                         takeAway(job);
                         job.cage.ticks.push_back({finding.table, finding.rule, finding.edition,
                                                   who->text().trimmed().toStdString(),
                                                   when->text().trimmed().toStdString()});
                     });
                 });
    buttons->done();
}

}  // namespace hoopwright
