// Small things every form of the details needs.
#pragma once

#include <QString>
#include <functional>
#include <string>
#include <vector>

#include "app/window/desk.h"
#include "app/window/fields.h"

namespace hoopwright {

inline QString text(std::string_view words) {
    return QString::fromUtf8(words.data(), qsizetype(words.size()));
}
/// The gap to the skin that is proposed: 25 mm, or an inch for who works in inches.
double usualGap_mm(const Desk& desk);
/// An id in words: "sill_a.left" is "sill a, left".
QString spoken(const std::string& id);
/// "1.750x.120_dom" is "1.750 × 0.120 dom": a tube's id as it is spoken of.
QString tubeName(const std::string& stock_id);
/// The same as a title of its own: "Sill a, left".
QString titled(const std::string& id);
QString joined(const std::vector<std::string>& list);
/// "Door bar" and Side::left -> "Door bar, left"
QString sidedName(const std::string& name, Side side);

/// The layout member or plate now; a default one if it is gone, so that a form about to close has something
/// to show.
const Member& memberOf(const Desk& desk, const std::string& layout_id);
const Plate& plateOf(const Desk& desk, const std::string& layout_id);
const Driver& driverOf(const Desk& desk, const std::string& id);
/// Of the driver the Driver step shows: the chosen one, or with nothing chosen the first; empty: none.
std::string shownDriver(const Desk& desk);

void editMember(Desk& desk, const std::string& layout_id, const QString& words,
                const std::function<void(Member&)>& change, const QByteArray& key = {});
void editPlate(Desk& desk, const std::string& layout_id, const QString& words,
               const std::function<void(Plate&)>& change, const QByteArray& key = {});
void editDriver(Desk& desk, const std::string& id, const QString& words,
                const std::function<void(Driver&)>& change, const QByteArray& key = {});

std::vector<ChoiceField::Option> roleOptions();
std::vector<ChoiceField::Option> stockOptions(const StockList& stock);
std::vector<ChoiceField::Option> carPointOptions(const Car& car);
/// Bars something may land on, as a bar or plate of `from` names them.
std::vector<ChoiceField::Option> hostOptions(const Desk& desk, const std::string& from);
std::vector<ChoiceField::Option> plateOptions(const Desk& desk, const std::string& from);
std::vector<ChoiceField::Option> railOptions(const Car& car);
std::vector<ChoiceField::Option> materialOptions(const StockList& stock);

/// Gives a chosen bar or plate another id. The sentence says why not; empty when done.
QString renameChosen(Desk& desk, Thing::Kind kind, const std::string& from, const QString& to);
/// Reads "a, b, c" as ids of bars into a list of a member; the sentence names the one that is not there.
QString setMemberList(Desk& desk, const std::string& layout_id, const QString& words, const QString& typed,
                      const std::function<std::vector<std::string>&(Member&)>& list);
/// Makes or breaks a mirrored pair and says what else was broken with it.
void setPaired(Desk& desk, const std::string& layout_id, bool on);
/// The same for a plate, whose feet follow: a pair of bars keeps standing on its own side.
void pairPlate(Desk& desk, const std::string& layout_id, bool on);

}  // namespace hoopwright
