// What a person can do to what is chosen: the doing behind menu entries, buttons and keys.
#pragma once

#include <QString>
#include <optional>
#include <string>
#include <vector>

#include "app/window/desk.h"
#include "core/edit/cage_edits.h"

class QWidget;

namespace hoopwright {

/// The role of a bar that is to be drawn in the view; empty: it is in, or nobody wants one.
std::string addBar(Desk& desk, QWidget* window);
void duplicateChosen(Desk& desk);
/// Asks what becomes of bars that land on it, if any do.
void deleteChosen(Desk& desk, QWidget* window);
void pairChosen(Desk& desk);  ///< makes the chosen bar or plate a pair, or breaks the pair
void moveChosenInOrder(Desk& desk, int by);
/// Under the free end of the chosen bar, else at the sill; the end then stands on it.
void addPlate(Desk& desk);
/// Between the two chosen bars.
void addGusset(Desk& desk);
/// The foot of the chosen bar, or the chosen plate, to the nearest rail.
void tieChosen(Desk& desk, Fixing fixing);
void raiseChosen(Desk& desk);  ///< the chosen plate, or the one under the chosen bar, on a riser or off it
void crossChosen(Desk& desk);  ///< makes a cross of the chosen bar
void cutChosen(Desk& desk);    ///< of the two chosen, the first is cut where it crosses the last
void joinChosen(Desk& desk);   ///< the two chosen, which meet end on end, become one
/// Breaks the chosen pair and fits its right bar to its own side of the car.
void refitChosen(Desk& desk);
void extendChosen(Desk& desk);  ///< the free end of the chosen bar goes on to the next bar
void addCarPoint(Desk& desk);
void addCarLine(Desk& desk);
void drawMissingLines(Desk& desk);
void addDriverFromFile(Desk& desk, QWidget* window);
/// A person from a published figure, asked for in a dialog.
void addDriverFromFigure(Desk& desk, QWidget* window);
/// Every bar of the same tube, or role, as the chosen one.
void chooseSameTube(Desk& desk);
void chooseSameRole(Desk& desk);

/// The question deleteChosen() asks; nothing: the person thought better of it.
std::optional<Orphans> askOrphans(QWidget* window, const Job& job, const Dependents& standing);

}  // namespace hoopwright
