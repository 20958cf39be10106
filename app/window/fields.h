// Where values are typed and chosen: our own small controls.
#pragma once

#include <QCheckBox>
#include <QComboBox>
#include <QLineEdit>
#include <functional>
#include <optional>
#include <string>
#include <vector>

#include "app/window/desk.h"

namespace hoopwright {

/// A measure that can be typed in the person's units. Enter or leaving it takes the value; Escape puts the
/// old one back; Up and Down step by 1 mm or 1/16 in (Shift: ten times). A wrong entry says why and changes
/// nothing.
class ValueField : public QLineEdit {
    Q_OBJECT
public:
    /// `get`: nothing = the field is empty (an optional value). `set`: nothing = it was emptied; steps in a
    /// row come with one key. `may_be_empty` says whether emptying is allowed.
    struct Value {
        QString label;  ///< whole, for the tape and for assistive tools: "Belt bar, height"
        Dimension dimension = Dimension::length;
        std::function<std::optional<double>()> get;
        std::function<void(std::optional<double>, const QByteArray& key)> set;
        bool may_be_empty = false;
    };
    ValueField(Desk& desk, Value value, QWidget* parent = nullptr);

    void putOnTape();  ///< as getting the keyboard does
    void refresh();    ///< shows the value of now, unless the person is in the middle of typing
    /// False: the field puts nothing on the tape (the tape's own field).
    void setOnTape(bool on) { on_tape_ = on; }
    /// The least that makes sense: less is a wrong entry, and stepping stops there.
    ValueField* setLeast(double least);
    /// A letter painted at the left: x, y, z.
    void setLead(const QString& lead);
    void commit();
    const QString& complaint() const { return complaint_; }

signals:
    void complained(const QString& sentence);  ///< empty: all is well again

protected:
    bool event(QEvent* event) override;
    void paintEvent(QPaintEvent* event) override;
    void focusInEvent(QFocusEvent* event) override;
    void focusOutEvent(QFocusEvent* event) override;
    void keyPressEvent(QKeyEvent* event) override;
    void resizeEvent(QResizeEvent* event) override;

private:
    void complain(const QString& sentence);
    void step(double by_mm);
    QString tail() const;
    void makeRoom();

    Desk& desk_;
    Value value_;
    QString lead_, complaint_;
    QByteArray step_key_;
    std::optional<double> least_;
    bool on_tape_ = true;
};

/// A line of text. `set` gives a sentence if the text will not do; then nothing changes.
class TextField : public QLineEdit {
    Q_OBJECT
public:
    using Get = std::function<QString()>;
    using Set = std::function<QString(const QString&)>;
    TextField(QString label, Get get, Set set, QWidget* parent = nullptr);
    void refresh();
    void commit();

signals:
    void complained(const QString& sentence);

protected:
    bool event(QEvent* event) override;
    void focusOutEvent(QFocusEvent* event) override;
    void keyPressEvent(QKeyEvent* event) override;

private:
    Get get_;
    Set set_;
};

/// One of several, each with a key and the words people read.
class ChoiceField : public QComboBox {
    Q_OBJECT
public:
    struct Option {
        std::string key;
        QString words;
    };
    using Options = std::function<std::vector<Option>()>;
    using Get = std::function<std::string()>;
    using Set = std::function<void(const std::string&)>;
    ChoiceField(const Desk& desk, const QString& label, Options options, Get get, Set set,
                QWidget* parent = nullptr);
    void refresh();

protected:
    void paintEvent(QPaintEvent* event) override;
    void wheelEvent(QWheelEvent* event) override;

private:
    const Desk& desk_;
    Options options_;
    Get get_;
};

/// Yes or no, with its words.
class TickField : public QCheckBox {
    Q_OBJECT
public:
    using Get = std::function<bool()>;
    using Set = std::function<void(bool)>;
    TickField(const Desk& desk, const QString& words, Get get, Set set, QWidget* parent = nullptr);
    void refresh();

protected:
    void paintEvent(QPaintEvent* event) override;

private:
    const Desk& desk_;
    Get get_;
};

}  // namespace hoopwright
