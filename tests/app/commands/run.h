// One command line, run in this process or as the built program.
#pragma once

#include <QByteArray>
#include <QJsonArray>
#include <QJsonDocument>
#include <QJsonObject>
#include <sstream>
#include <string>
#include <vector>

#include "app/commands/commands.h"

namespace hoopwright {

struct Ran {
    int code = -1;
    std::string out, err;
    /// The answer as an object; empty if it is no JSON.
    QJsonObject json() const { return QJsonDocument::fromJson(QByteArray::fromStdString(out)).object(); }
};

inline Ran run(const std::vector<std::string>& words) {
    std::ostringstream out, err;
    Ran ran;
    ran.code = runCommand(words, out, err);
    ran.out = out.str();
    ran.err = err.str();
    return ran;
}

inline std::string dataFile(const std::string& name) {
    return HOOPWRIGHT_SOURCE_DIR "/data/" + name;
}
inline const std::string kSaloon = dataFile("cages/hillclimb_saloon.yaml");
inline const std::string kPickup = dataFile("cages/mile_pickup.yaml");
inline const std::string kFaultySaloon = dataFile("cages/faults/hillclimb_saloon.yaml");

}  // namespace hoopwright
