#include "core/shop/sheet_nest.h"

#include <algorithm>
#include <array>
#include <cmath>

#include "core/shop/fold.h"

namespace hoopwright {
namespace {

/// A part to be laid once, with what stands round it on two sides.
struct NestBox {
    int part = -1, copy = 0;
    Vec2 size = Vec2::Zero();
};
struct FreeRoom {
    Vec2 at = Vec2::Zero(), size = Vec2::Zero();
    bool holds(const Vec2& box) const { return box.x() <= size.x() + 1e-9 && box.y() <= size.y() + 1e-9; }
    bool covers(const FreeRoom& o) const {
        return (at.array() <= o.at.array() + 1e-9).all() &&
               ((at + size).array() >= (o.at + o.size).array() - 1e-9).all();
    }
};

/// One sheet being filled: every largest empty rectangle is kept. Source: maximal rectangles, best short side
/// (Jylanki, "A thousand ways to pack the bin", 2010; from memory).
class SheetRoom {
public:
    explicit SheetRoom(const Vec2& size) : rooms_{{Vec2::Zero(), size}} {}

    bool put(const NestBox& box, LaidSheet& sheet, const Vec2& origin) {
        double best = 1e300;
        FreeRoom into;
        bool turned = false;
        for (const FreeRoom& room : rooms_) {
            for (const bool turn : {false, true}) {
                const Vec2 size = turn ? Vec2(box.size.y(), box.size.x()) : box.size;
                if (!room.holds(size)) continue;
                const double left = (room.size - size).minCoeff();
                if (left > best - 1e-9) continue;
                best = left;
                into = {room.at, size};
                turned = turn;
            }
        }
        if (best > 1e299) return false;
        sheet.parts.push_back({box.part, box.copy, origin + into.at, turned});
        take(into);
        return true;
    }

private:
    void take(const FreeRoom& used) {
        std::vector<FreeRoom> next;
        const Vec2 end = used.at + used.size;
        for (const FreeRoom& room : rooms_) {
            const Vec2 far = room.at + room.size;
            const bool apart = used.at.x() >= far.x() || end.x() <= room.at.x() || used.at.y() >= far.y() ||
                               end.y() <= room.at.y();
            if (apart) {
                next.push_back(room);
                continue;
            }
            if (used.at.x() > room.at.x())
                next.push_back({room.at, {used.at.x() - room.at.x(), room.size.y()}});
            if (end.x() < far.x())
                next.push_back({{end.x(), room.at.y()}, {far.x() - end.x(), room.size.y()}});
            if (used.at.y() > room.at.y())
                next.push_back({room.at, {room.size.x(), used.at.y() - room.at.y()}});
            if (end.y() < far.y())
                next.push_back({{room.at.x(), end.y()}, {room.size.x(), far.y() - end.y()}});
        }
        rooms_.clear();
        for (std::size_t i = 0; i < next.size(); ++i) {
            bool within = false;
            for (std::size_t k = 0; k < next.size() && !within; ++k)
                within = k != i && next[k].covers(next[i]) && (k < i || !next[i].covers(next[k]));
            if (!within) rooms_.push_back(next[i]);
        }
    }
    std::vector<FreeRoom> rooms_;
};

class SheetNester {
public:
    SheetNester(std::span<const PlatePart> parts, const ShopBook& book, LengthUnit unit)
        : parts_(parts), book_(book), table_(*book.cutting_table), unit_(unit) {}

    SheetPlan plan(const std::vector<int>& group, const std::string& material, double thickness_mm) const {
        SheetPlan best;
        best.material = material;
        best.thickness_mm = thickness_mm;
        bool any = false;
        for (const SheetStock& sheet : book_.sheets) {
            if (sheet.material != material || std::abs(sheet.thickness_mm - thickness_mm) > kSameThickness_mm)
                continue;
            SheetPlan made = on(sheet, group);
            if (!any || better(made, best)) best = std::move(made);
            any = true;
        }
        return best;
    }

private:
    static bool better(const SheetPlan& one, const SheetPlan& other) {
        if (one.trouble.size() != other.trouble.size()) return one.trouble.size() < other.trouble.size();
        if (one.price > 0 && other.price > 0 && one.price != other.price) return one.price < other.price;
        const auto taken = [](const SheetPlan& p) {
            return static_cast<double>(p.sheets.size()) * p.length_mm * p.width_mm;
        };
        return taken(one) < taken(other) - 1e-6;
    }

    /// The room that parts, each with gap and kerf on two of its sides, may take.
    Vec2 room(const SheetStock& sheet) const {
        const double all = 2 * (table_.edge_mm + table_.kerf_mm) - around();
        return {sheet.length_mm - all, sheet.width_mm - all};
    }
    double around() const { return table_.gap_mm + 2 * table_.kerf_mm; }

    SheetPlan on(const SheetStock& sheet, const std::vector<int>& group) const {
        SheetPlan out;
        out.sheet = sheet.id;
        out.material = sheet.material;
        out.thickness_mm = sheet.thickness_mm;
        out.length_mm = sheet.length_mm;
        out.width_mm = sheet.width_mm;
        const Vec2 room_mm = room(sheet);
        std::vector<NestBox> boxes;
        double area = 0;
        for (const int i : group) {
            const PlatePart& part = parts_[static_cast<std::size_t>(i)];
            const Vec2 size = part.size_mm() + Vec2::Constant(around());
            const FreeRoom whole{Vec2::Zero(), room_mm};
            if (!whole.holds(size) && !whole.holds({size.y(), size.x()})) {
                out.trouble.push_back(part.name + " is " + showLength(part.size_mm().x(), {unit_}) + " by " +
                                      showLength(part.size_mm().y(), {unit_}) + " flat and does not go on " +
                                      sheet.id + ": cut it from a larger sheet.");
                continue;
            }
            for (int copy = 0; copy < part.count(); ++copy) boxes.push_back({i, copy, size});
            area += part.count() * part.blank_mm2;
        }
        if (boxes.empty()) return out;
        const double usable = (sheet.length_mm - 2 * (table_.edge_mm + table_.kerf_mm)) *
                              (sheet.width_mm - 2 * (table_.edge_mm + table_.kerf_mm));
        out.least = std::max(1, static_cast<int>(std::ceil(area / usable - 1e-9)));
        out.sheets = fewest(boxes, room_mm);
        for (LaidSheet& one : out.sheets) {
            double used = 0;
            for (const LaidPart& laid : one.parts)
                used += parts_[static_cast<std::size_t>(laid.part)].blank_mm2;
            one.used = used / (sheet.length_mm * sheet.width_mm);
        }
        out.price = static_cast<double>(out.sheets.size()) * sheet.price;
        return out;
    }

    std::vector<LaidSheet> fewest(const std::vector<NestBox>& boxes, const Vec2& room_mm) const {
        using Key = double (*)(const Vec2&);
        constexpr std::array<Key, 4> kKeys = {
            [](const Vec2& s) { return s.x() * s.y(); }, [](const Vec2& s) { return s.maxCoeff(); },
            [](const Vec2& s) { return s.minCoeff(); }, [](const Vec2& s) { return s.sum(); }};
        std::vector<LaidSheet> best;
        double reach = 0;
        for (const Key key : kKeys) {
            std::vector<NestBox> order = boxes;
            std::ranges::stable_sort(
                order, [&](const NestBox& a, const NestBox& b) { return key(a.size) > key(b.size); });
            std::vector<LaidSheet> made;
            std::vector<SheetRoom> rooms;
            const Vec2 origin = Vec2::Constant(table_.edge_mm + table_.kerf_mm);
            for (const NestBox& box : order) {
                bool in = false;
                for (std::size_t s = 0; s < made.size() && !in; ++s) in = rooms[s].put(box, made[s], origin);
                if (in) continue;
                made.emplace_back();
                rooms.emplace_back(room_mm);
                rooms.back().put(box, made.back(), origin);
            }
            const double far = reachOf(made.back());
            if (!best.empty() && (made.size() > best.size() || (made.size() == best.size() && far >= reach)))
                continue;
            best = std::move(made);
            reach = far;
        }
        return best;
    }
    /// How far along the sheet its parts come: what lies behind stays whole.
    double reachOf(const LaidSheet& sheet) const {
        double far = 0;
        for (const LaidPart& laid : sheet.parts) {
            const Vec2 size = parts_[static_cast<std::size_t>(laid.part)].size_mm();
            far = std::max(far, laid.at.x() + (laid.turned ? size.y() : size.x()));
        }
        return far;
    }

    std::span<const PlatePart> parts_;
    const ShopBook& book_;
    const CuttingTable& table_;
    LengthUnit unit_;
};

}  // namespace

std::vector<SheetPlan> layOnSheets(std::span<const PlatePart> parts, const ShopBook* book, LengthUnit unit) {
    std::vector<SheetPlan> out;
    if (parts.empty()) return out;
    if (!book || !book->cutting_table) {
        SheetPlan none;
        none.trouble.push_back(book ? "The shop's book has no cutting table: add its kerf, gap and edge."
                                    : "There is no shop's book, so no sheet to lay the parts on.");
        out.push_back(std::move(none));
        return out;
    }
    struct Group {
        std::string material;
        double thickness_mm = 0;
        std::vector<int> parts;
        std::vector<std::string> trouble;
    };
    std::vector<Group> groups;
    for (std::size_t i = 0; i < parts.size(); ++i) {
        const PlatePart& part = parts[i];
        std::string material = part.material;
        const auto same = [&](const SheetStock& s) {
            return std::abs(s.thickness_mm - part.thickness_mm) < kSameThickness_mm;
        };
        if (const auto first = std::ranges::find_if(book->sheets, same);
            material.empty() && first != book->sheets.end())
            material = first->material;
        auto group = std::ranges::find_if(groups, [&](const Group& g) {
            return g.material == material && std::abs(g.thickness_mm - part.thickness_mm) < kSameThickness_mm;
        });
        if (group == groups.end()) {
            groups.push_back({material, part.thickness_mm, {}, {}});
            group = groups.end() - 1;
        }
        if (part.outline.empty()) {
            group->trouble.push_back(part.name + " has no flat: " + part.trouble);
        } else {
            group->parts.push_back(static_cast<int>(i));
        }
    }
    for (const Group& group : groups) {
        SheetPlan plan =
            SheetNester(parts, *book, unit).plan(group.parts, group.material, group.thickness_mm);
        if (plan.sheet.empty() && !group.parts.empty())
            plan.trouble.push_back("The shop's book has no sheet of " +
                                   (group.material.empty() ? "" : group.material + ", ") +
                                   showLength(group.thickness_mm, {unit, 2}) + ".");
        plan.trouble.insert(plan.trouble.end(), group.trouble.begin(), group.trouble.end());
        out.push_back(std::move(plan));
    }
    return out;
}

}  // namespace hoopwright
