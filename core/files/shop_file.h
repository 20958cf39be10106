// The shop's book as a file. Like its fellows in job_file.h.
#pragma once

#include "core/files/job_file.h"
#include "core/model/shop_book.h"

namespace hoopwright {

ReadResult<ShopBook> readShop(const std::filesystem::path& file);
ReadResult<ShopBook> readShopText(std::string text, const std::string& name);
std::string writeShop(const ShopBook& book, const FileTextRef& was = nullptr,
                      LengthUnit unit = LengthUnit::mm);

}  // namespace hoopwright
