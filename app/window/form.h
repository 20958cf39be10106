// A column of labelled values about one thing.
#pragma once

#include <QWidget>
#include <functional>
#include <vector>

#include "app/window/fact_list.h"
#include "app/window/fields.h"

class QVBoxLayout;
class QLabel;

namespace hoopwright {

class Form : public QWidget {
    Q_OBJECT
public:
    /// `about` stands before every label for assistive tools and the tape: "Belt bar".
    Form(Desk& desk, QString about, QWidget* parent = nullptr);

    using Words = std::function<QString()>;
    void title(Words words, Words beside);
    void section(const QString& words);  ///< a hairline and a heading
    /// A section that opens and closes; `beside` stands at the right of its heading. What follows goes into
    /// it, up to the next section. Whether it is open is remembered by its heading.
    void fold(const QString& words, Words beside, bool open);
    void caption(const QString& words);  ///< a small heading within a section
    /// Stands before every label that follows in this section, for assistive tools and the tape.
    void within(const QString& words) { within_ = words; }
    void note(Words words);  ///< soft text over the whole width
    ValueField* value(const QString& label, Dimension dimension, std::function<std::optional<double>()> get,
                      std::function<void(std::optional<double>, const QByteArray&)> set,
                      bool may_be_empty = false);
    /// Three lengths in a row: x y z.
    void place(const QString& label, std::function<Vec3()> get,
               std::function<void(const Vec3&, const QByteArray&)> set);
    /// A bare direction: three plain numbers.
    void direction(const QString& label, std::function<Vec3()> get,
                   std::function<void(const Vec3&, const QByteArray&)> set);
    /// Two lengths in a row.
    void pair(const QString& label, const QString& leads, std::function<Vec2()> get,
              std::function<void(const Vec2&, const QByteArray&)> set);
    TextField* text(const QString& label, TextField::Get get, TextField::Set set);
    ChoiceField* choice(const QString& label, ChoiceField::Options options, ChoiceField::Get get,
                        ChoiceField::Set set);
    void tick(const QString& words, TickField::Get get, TickField::Set set);
    /// Lines that follow the job: words at the left, figures at the right.
    void facts(const QString& name, std::function<std::vector<FactLine>()> lines);
    /// Buttons in a row: each a word that does something.
    struct Action {
        QString words;
        std::function<void()> run;
        QString tip;
    };
    void actions(const std::vector<Action>& list);
    /// Of the fields named so, the first is what the tape shows when the form is opened.
    void forTape(ValueField* field) {
        if (!for_tape_) for_tape_ = field;
    }
    ValueField* fieldForTape() const { return for_tape_; }
    /// Any widget over the whole width; `refresh` is called when the form is refreshed.
    void whole(QWidget* widget, std::function<void()> refresh = {});
    void finish();  ///< a stretch below the last row

    void refresh();

private:
    void row(const QString& label, QWidget* content, QLabel* wrong = nullptr);
    QLabel* wrongLine();
    QString fullName(const QString& words) const;  ///< "Belt bar, first end, height"
    void numbers(const QString& label, const QString& leads, Dimension dimension,
                 std::function<double(int)> get, std::function<void(int, double, const QByteArray&)> set);

    Desk& desk_;
    QString about_, within_;
    ValueField* for_tape_ = nullptr;
    QVBoxLayout* whole_ = nullptr;
    QVBoxLayout* rows_ = nullptr;  ///< where the next row goes: the whole, or the fold begun last
    std::vector<std::function<void()>> refreshers_;
};

}  // namespace hoopwright
