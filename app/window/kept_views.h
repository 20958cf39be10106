// Where the picture of a job was taken from, kept under names in the cage's file.
#pragma once

class QMenu;
class QWidget;

namespace hoopwright {

class Desk;
class View3d;

/// Asks for a name and keeps the view of now under it; a name that is there already gets this view instead.
void keepThisView(Desk& desk, const View3d& view, QWidget* window);
/// The kept views, each goes there; and below, each to be forgotten.
void fillKeptViews(QMenu& menu, Desk& desk, View3d& view);

}  // namespace hoopwright
