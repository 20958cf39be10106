// Pictures and pages of the open job as files.
#pragma once

#include "app/view/picture.h"

class QWidget;

namespace hoopwright {

class Desk;
class View3d;

/// Asks where to, then makes the customer's pages while a small dialog says how far they are. Stop gives them
/// up; no half file is ever left.
void showCustomer(Desk& desk, QWidget* window);
/// The picture of now, as large as print wants it.
void savePicture(Desk& desk, const View3d& view, QWidget* window);

/// What is seen now, as a picture: from where, in which colours and tone, in the person's unit.
PictureOptions optionsOfNow(const Desk& desk, const View3d& view);
/// The gaps to the skin, where the colours show them; takes a moment.
void addGaps(PictureOptions& options, const Job& job, const CageGeometry& cage);

}  // namespace hoopwright
