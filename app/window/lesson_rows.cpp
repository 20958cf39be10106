#include "app/window/lesson_rows.h"

#include <QDate>
#include <QHBoxLayout>
#include <QPushButton>
#include <algorithm>

#include "app/window/form_help.h"

namespace hoopwright {
namespace {

QString words(const std::string& about) {
    return about.empty() ? QObject::tr("Lesson of the car") : QObject::tr("Lesson of %1").arg(spoken(about));
}

/// The n-th lesson about it; null if there are fewer.
const Lesson* lessonOf(const Car& car, const std::string& about, std::size_t n) {
    for (const Lesson& one : car.lessons) {
        if (one.about == about && n-- == 0) return &one;
    }
    return nullptr;
}

void editLesson(Desk& desk, const std::string& about, std::size_t n,
                const std::function<void(Lesson&)>& change) {
    desk.document.edit(words(about), [&](Job& job) {
        std::size_t left = n;
        for (Lesson& one : job.car.lessons) {
            if (one.about == about && left-- == 0) {
                change(one);
                return;
            }
        }
    });
}

void removeLesson(Desk& desk, const std::string& about, std::size_t n) {
    desk.document.edit(words(about), [&](Job& job) {
        std::size_t left = n;
        const auto found = std::ranges::find_if(
            job.car.lessons, [&](const Lesson& one) { return one.about == about && left-- == 0; });
        if (found != job.car.lessons.end()) job.car.lessons.erase(found);
    });
}

}  // namespace

std::size_t lessonsAbout(const Car& car, const std::string& about) {
    return std::size_t(std::ranges::count(car.lessons, about, &Lesson::about));
}

void lessonRows(Desk& desk, Form& form, const std::string& about) {
    const Car& car = desk.document.job().car;
    form.section(QObject::tr("Lessons"));
    const std::size_t count = lessonsAbout(car, about);
    for (std::size_t n = 0; n < count; ++n) {
        if (count > 1) form.caption(QObject::tr("Lesson %1").arg(n + 1));
        const auto now = [&desk, about, n] {
            const Lesson* found = lessonOf(desk.document.job().car, about, n);
            return found ? *found : Lesson{};
        };
        TextField* note = form.text(
            QObject::tr("Lesson"), [now] { return text(now().note); },
            [&desk, about, n](const QString& to) {
                if (to.isEmpty()) {
                    removeLesson(desk, about, n);
                } else {
                    editLesson(desk, about, n, [&](Lesson& one) { one.note = to.toStdString(); });
                }
                return QString();
            });
        note->setToolTip(text(now().note));
        form.text(
            QObject::tr("Written on"), [now] { return text(now().when); },
            [&desk, about, n](const QString& to) {
                if (!to.isEmpty() && !QDate::fromString(to, Qt::ISODate).isValid())
                    return QObject::tr("%1 is no date: write it as 2026-03-02, or leave it out.").arg(to);
                editLesson(desk, about, n, [&](Lesson& one) { one.when = to.toStdString(); });
                return QString();
            });
        form.actions(
            {{QObject::tr("Delete lesson"), [&desk, about, n] { removeLesson(desk, about, n); }, {}}});
    }
    auto* line = new QWidget(&form);
    auto* columns = new QHBoxLayout(line);
    columns->setContentsMargins(0, 0, 0, 0);
    columns->setSpacing(4);
    auto* note = new QLineEdit(line);
    note->setPlaceholderText(QObject::tr("what the next job should know"));
    note->setAccessibleName(QObject::tr("A new lesson"));
    auto* add = new QPushButton(QObject::tr("Add"), line);
    add->setAccessibleName(QObject::tr("Add the lesson"));
    columns->addWidget(note, 1);
    columns->addWidget(add);
    form.whole(line);
    const auto put = [&desk, about, note] {
        const QString said = note->text().trimmed();
        if (said.isEmpty()) {
            emit desk.say(QObject::tr("Write what you learned first."));
            return;
        }
        desk.document.edit(words(about), [&](Job& job) {
            job.car.lessons.push_back(
                {about, QDate::currentDate().toString(Qt::ISODate).toStdString(), said.toStdString()});
        });
    };
    QObject::connect(add, &QPushButton::clicked, &form, put);
    QObject::connect(note, &QLineEdit::returnPressed, &form, put);
}

}  // namespace hoopwright
