#include "core/files/job_file.h"
#include "core/survey/survey.h"
#include "round_trip.h"

extern "C" int LLVMFuzzerTestOneInput(const std::uint8_t* data, std::size_t size) {
    using namespace hoopwright;
    const auto read = [](std::string text) { return readCarText(std::move(text), "car"); };
    roundTrip(data, size, read,
              [](const auto& value, const FileTextRef& was) { return writeCar(value, was); });
    // An edit of each part finds its way through whatever the text looks like.
    const auto first = read(std::string(reinterpret_cast<const char*>(data), size));
    if (!first.value) return 0;
    Car edited = *first.value;
    edited.notes += "x";
    edited.symmetric = !edited.symmetric;
    edited.lessons.push_back({"", "", "fuzz"});
    if (!edited.points.empty()) removePoint(edited, edited.points.back().name);
    if (!settle(edited).empty()) return 0;
    const auto again = read(writeCar(edited, first.text));
    demand(again.value.has_value() && *again.value == edited, "an edited car reads back as edited");
    return 0;
}
