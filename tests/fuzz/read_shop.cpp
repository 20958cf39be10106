#include "core/files/shop_file.h"
#include "round_trip.h"

extern "C" int LLVMFuzzerTestOneInput(const std::uint8_t* data, std::size_t size) {
    using namespace hoopwright;
    return roundTrip(
        data, size, [](std::string text) { return readShopText(std::move(text), "shop"); },
        [](const auto& value, const FileTextRef& was) { return writeShop(value, was); });
}
