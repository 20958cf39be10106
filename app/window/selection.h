// What the person has chosen: the same in every list, in the 3D view and in the details.
#pragma once

#include <QObject>
#include <string>
#include <vector>

#include "core/model/cage_layout.h"

namespace hoopwright {

struct Thing {
    enum class Kind {
        member,
        plate,
        gusset,
        driver,
        car_facts,
        car_point,
        car_line,
        car_scan,
        finding,
        dimension,
        node
    };
    Kind kind = Kind::member;
    /// Resolved id of a member or plate ("door_bar.left"), gusset id, Driver::id, name of a car point or
    /// line, file of a scan; of a finding "table/rule/subject"; id of a pinned dimension; of something a
    /// node report says "node/KEY", "bay/KEY", "bend/KEY" or "end/KEY".
    std::string id;
    friend bool operator==(const Thing&, const Thing&) = default;
};

class Selection : public QObject {
    Q_OBJECT
public:
    using QObject::QObject;
    const std::vector<Thing>& all() const { return chosen_; }
    /// The last one chosen: what the details show. Null when nothing is.
    const Thing* last() const { return chosen_.empty() ? nullptr : &chosen_.back(); }
    bool has(const Thing& thing) const;
    /// Resolved ids of the chosen members, or plates, in the order they were chosen.
    std::vector<std::string> ids(Thing::Kind kind) const;
    /// Layout ids of the chosen members, each once.
    std::vector<std::string> layoutIds(Thing::Kind kind) const;

    void set(std::vector<Thing> subjects);
    void set(const Thing& thing) { set(std::vector<Thing>{thing}); }
    void toggle(const Thing& thing);
    void clear() { set(std::vector<Thing>{}); }
    /// Lets go of what is not in the job any more.
    void keepOnly(const Job& job);

signals:
    void changed();

private:
    std::vector<Thing> chosen_;
};

}  // namespace hoopwright
