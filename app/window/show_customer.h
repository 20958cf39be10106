// Pictures and pages of the open job as files.
#pragma once

class QWidget;

namespace hoopwright {

class Desk;
class View3d;

/// Asks where to, then makes the customer's pages while a small dialog says how far they are. Stop gives them
/// up; no half file is ever left.
void showCustomer(Desk& desk, QWidget* window);
/// The picture of now, as large as print wants it; or once round as an animated file.
void savePicture(Desk& desk, const View3d& view, QWidget* window);

}  // namespace hoopwright
