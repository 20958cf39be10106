// JSON as it is written out: keys in the order given, numbers as the shortest text that reads back the same.
#pragma once

#include <iosfwd>
#include <string>
#include <string_view>
#include <vector>

#include "core/geometry/vec.h"

namespace hoopwright {

/// Keys say their unit ("length_mm"). Numbers that are none (NaN, infinite) are written as null. Text that is
/// not UTF-8 is made so. Every object and list that is begun is ended by the guard that begin gives.
///   JsonWriter json(out);
///   {
///       const auto top = json.object();
///       json.number("length_mm", 812.4);
///       const auto bars = json.list("bars");
///       for (...) { const auto bar = json.object(); ... }
///   }
class JsonWriter {
public:
    class [[nodiscard]] Scope {
    public:
        ~Scope() { writer_.close(); }
        Scope(const Scope&) = delete;
        Scope& operator=(const Scope&) = delete;

    private:
        friend class JsonWriter;
        explicit Scope(JsonWriter& writer) : writer_(writer) {}
        JsonWriter& writer_;
    };

    explicit JsonWriter(std::ostream& out) : out_(out) {}

    /// In a list, leave the key out.
    Scope object(std::string_view key = "");
    Scope list(std::string_view key = "");
    void text(std::string_view key, std::string_view value);
    void number(std::string_view key, double value);
    void whole(std::string_view key, long long value);
    void yesNo(std::string_view key, bool value);
    void nothing(std::string_view key);
    void texts(std::string_view key, const std::vector<std::string>& values);
    void numbers(std::string_view key, const std::vector<double>& values);
    void point(std::string_view key, const Vec3& value);

private:
    struct Level {
        bool is_list = false;
        bool is_empty = true;
    };
    void begin(std::string_view key);
    void open(std::string_view key, bool is_list);
    void close();
    void newLine();

    std::ostream& out_;
    std::vector<Level> levels_;
};

}  // namespace hoopwright
