// What the person has chosen: the same in every list, in the 3D view and in the inspector.
#pragma once

#include <QObject>
#include <string>
#include <vector>

#include "core/model/cage_layout.h"

namespace hoopwright {

struct Subject {
    enum class Kind { member, plate, gusset, driver, car_facts, car_point, car_line, finding };
    Kind kind = Kind::member;
    /// Resolved id of a member or plate ("door_bar.left"), gusset id, Driver::id, name of a car point or
    /// line; of a finding "table/rule/subject".
    std::string id;
    friend bool operator==(const Subject&, const Subject&) = default;
};

class Selection : public QObject {
    Q_OBJECT
public:
    using QObject::QObject;
    const std::vector<Subject>& all() const { return chosen_; }
    /// The last one chosen: what the inspector shows. Null when nothing is.
    const Subject* last() const { return chosen_.empty() ? nullptr : &chosen_.back(); }
    bool has(const Subject& subject) const;
    /// Resolved ids of the chosen members, or plates, in the order they were chosen.
    std::vector<std::string> ids(Subject::Kind kind) const;
    /// Layout ids of the chosen members, each once.
    std::vector<std::string> layoutIds(Subject::Kind kind) const;

    void set(std::vector<Subject> subjects);
    void set(const Subject& subject) { set(std::vector<Subject>{subject}); }
    void toggle(const Subject& subject);
    void clear() { set(std::vector<Subject>{}); }
    /// Lets go of what is not in the job any more.
    void keepOnly(const Job& job);

signals:
    void changed();

private:
    std::vector<Subject> chosen_;
};

}  // namespace hoopwright
