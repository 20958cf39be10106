// One place of the measuring walk: its number, its words, a box for every figure.
#pragma once

#include <QWidget>
#include <map>
#include <memory>
#include <optional>
#include <vector>

#include "app/window/desk.h"

class QGridLayout;
class QLabel;
class QToolButton;

namespace hoopwright {

class ValueField;
using Walk = std::shared_ptr<const std::vector<MeasuringStage>>;

/// A place enters the car with its last figure: until then what was typed stays in its boxes, and a line says
/// what is lacking.
class MeasuringRow : public QWidget {
    Q_OBJECT
public:
    /// With its number and words, as the walk has it, or its boxes alone.
    enum class Dress { whole, boxes };
    MeasuringRow(Desk& desk, Walk walk, const MeasuringItem& item, Dress dress, QWidget* parent = nullptr);

    const MeasuringItem& item() const { return item_; }
    const std::vector<ValueField*>& boxes() const { return boxes_; }
    /// Is nothing read or typed there?
    bool isBlank(std::size_t box) const;
    void refresh();
    /// Whether the keyboard is here, or the place is chosen elsewhere.
    void setCurrent(bool current);
    /// Lets the person choose how the point is given.
    void askWay();
    /// Asks for the figures of another way; the point stays as it is until they are all there.
    void askAs(PointWay way);

signals:
    void entered();    ///< a box got the keyboard
    void wantsNext();  ///< Enter took a figure
    void reshaped();   ///< it has other boxes now

protected:
    void paintEvent(QPaintEvent* event) override;
    bool eventFilter(QObject* watched, QEvent* event) override;

private:
    void buildBoxes();
    void take(std::size_t box, std::optional<double> value, const QByteArray& key);
    std::optional<double> typedOrRead(std::size_t box) const;
    QString asNumbered(QString words) const;
    QString sayResidual(const std::string& from, bool& beyond) const;
    void refreshWords();

    Desk& desk_;
    Walk walk_;
    Dress dress_;
    MeasuringItem item_;                 ///< as on the sheet
    MeasuringItem asked_;                ///< with the figures its boxes ask for
    std::optional<PointWay> other_way_;  ///< chosen, not all read yet
    std::map<std::size_t, std::optional<double>> typed_;
    QString lacking_;
    bool unfinished_ = false;  ///< figures are to come yet: that is no mistake
    std::vector<ValueField*> boxes_;
    std::vector<QLabel*> labels_, residuals_;
    QLabel *title_, *hook_, *caution_, *good_to_, *said_;
    QToolButton* way_;
    QWidget *figures_ = nullptr, *foot_ = nullptr;
    bool current_ = false, rebuilding_ = false;
};

}  // namespace hoopwright
