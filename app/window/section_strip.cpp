#include "app/window/section_strip.h"

#include <QHBoxLayout>
#include <QLabel>
#include <QToolButton>

#include "app/window/fields.h"
#include "app/window/style.h"

namespace hoopwright {

SectionStrip::SectionStrip(Desk& desk, Get get, Set set, QWidget* parent)
    : QWidget(parent), desk_(desk), get_(std::move(get)) {
    setObjectName(QStringLiteral("float"));
    setAttribute(Qt::WA_StyledBackground);
    setAccessibleName(tr("Section"));
    auto* row = new QHBoxLayout(this);
    row->setContentsMargins(2 * kGrid, 2, 4, 2);
    row->setSpacing(2);
    row->addWidget(new QLabel(tr("Cut across"), this));
    for (int axis = 0; axis < 3; ++axis) {
        auto* one = new QToolButton(this);
        one->setText(QString(QLatin1Char("xyz"[axis])));
        one->setAccessibleName(tr("Cut across %1").arg(one->text()));
        one->setCheckable(true);
        one->setFocusPolicy(Qt::TabFocus);
        connect(one, &QToolButton::clicked, this, [this, axis, set, &desk] {
            auto cut = get_();
            if (!cut) return;
            if (cut->axis != axis) {
                // Through the middle of the cage: a place on one axis says nothing on another.
                Box box;
                for (const ResolvedMember& member : desk.document.geometry().members)
                    box.extend(member.line.bounds());
                cut->axis = axis;
                cut->at_mm = box.isEmpty() ? 0 : box.center()[axis];
            }
            set(cut);
        });
        row->addWidget(one);
        axes_[axis] = one;
    }
    place_ = new ValueField(desk,
                            {tr("Section, place"), Dimension::length,
                             [this]() -> std::optional<double> {
                                 const auto cut = get_();
                                 return cut ? std::optional(cut->at_mm) : std::nullopt;
                             },
                             [this, set](std::optional<double> to, const QByteArray&) {
                                 auto cut = get_();
                                 if (!cut || !to) return;
                                 cut->at_mm = *to;
                                 set(cut);
                             }},
                            this);
    place_->setFixedWidth(104);
    row->addWidget(place_);
    auto* other = new QToolButton(this);
    other->setText(tr("Other half"));
    other->setToolTip(tr("Show what was taken away, and take away the rest"));
    other->setFocusPolicy(Qt::TabFocus);
    connect(other, &QToolButton::clicked, this, [this, set] {
        auto cut = get_();
        if (!cut) return;
        cut->keep_high = !cut->keep_high;
        set(cut);
    });
    row->addWidget(other);
    auto* off = new QToolButton(this);
    off->setText(tr("Whole"));
    off->setToolTip(tr("Show the whole again"));
    off->setFocusPolicy(Qt::TabFocus);
    connect(off, &QToolButton::clicked, this, [set] { set(std::nullopt); });
    row->addWidget(off);
    hide();
}

void SectionStrip::follow() {
    const auto cut = get_();
    if (cut) {
        for (int axis = 0; axis < 3; ++axis) axes_[axis]->setChecked(cut->axis == axis);
        place_->refresh();
        if (place_->hasFocus() || desk_.tape().label == tr("Section, place")) emit desk_.tapeChanged();
    }
    if (cut.has_value() == !isHidden()) return;
    setVisible(cut.has_value());
    emit shownOrHidden();
}

}  // namespace hoopwright
