#include "core/files/job_file.h"
#include "round_trip.h"

extern "C" int LLVMFuzzerTestOneInput(const std::uint8_t* data, std::size_t size) {
    using namespace hoopwright;
    const auto read = [](std::string text) { return readCageText(std::move(text), "cage"); };
    roundTrip(data, size, read,
              [](const auto& value, const FileTextRef& was) { return writeCage(value, was); });
    // An edit of each part finds its way through whatever the text looks like.
    const auto first = read(std::string(reinterpret_cast<const char*>(data), size));
    if (!first.value) return 0;
    CageLayout edited = *first.value;
    edited.notes += "x";
    if (!edited.members.empty()) {
        edited.members.front().note += "x";
        edited.members.push_back(edited.members.front());
        edited.members.back().id = "fuzz_" + edited.members.back().id;
        std::swap(edited.members.front(), edited.members.back());
    }
    if (!edited.plates.empty()) edited.plates.erase(edited.plates.begin());
    const auto again = read(writeCage(edited, first.text));
    demand(again.value.has_value() && *again.value == edited, "an edited cage reads back as edited");
    return 0;
}
