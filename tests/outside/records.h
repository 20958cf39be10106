// Check values from tests/outside/data: lines of comma-separated fields; lines that start with # say the
// source.
#pragma once

#include <fstream>
#include <stdexcept>
#include <string>
#include <vector>

#include "core/base/text.h"

namespace hoopwright {

class Record {
public:
    explicit Record(const std::string& line) {
        size_t from = 0;
        for (size_t comma = line.find(','); comma != std::string::npos; comma = line.find(',', from)) {
            fields_.push_back(line.substr(from, comma - from));
            from = comma + 1;
        }
        fields_.push_back(line.substr(from));
    }
    size_t size() const { return fields_.size(); }
    const std::string& word(size_t i) const { return fields_.at(i); }
    bool has(size_t i) const { return !fields_.at(i).empty(); }
    /// Throws if the field is no number: a check value must never be skipped in silence.
    double number(size_t i) const {
        const auto value = plainNumber(fields_.at(i));
        if (!value) throw std::runtime_error("not a check value: '" + fields_.at(i) + "'");
        return *value;
    }

private:
    std::vector<std::string> fields_;
};

/// @param name  of a file in tests/outside/data. Throws if it is missing or has no values.
inline std::vector<Record> recordsOf(const std::string& name) {
    std::ifstream file(std::string(HOOPWRIGHT_SOURCE_DIR) + "/tests/outside/data/" + name);
    std::vector<Record> records;
    for (std::string line; std::getline(file, line);) {
        if (!line.empty() && line[0] != '#') records.emplace_back(line);
    }
    if (records.empty()) throw std::runtime_error("no check values in " + name);
    return records;
}

}  // namespace hoopwright
