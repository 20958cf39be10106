#include "core/files/job_file.h"
#include "round_trip.h"

extern "C" int LLVMFuzzerTestOneInput(const std::uint8_t* data, std::size_t size) {
    using namespace hoopwright;
    return roundTrip(
        data, size, [](std::string text) { return readStockText(std::move(text), "stock"); },
        [](const auto& value, const FileTextRef& was) { return writeStock(value, was); });
}
