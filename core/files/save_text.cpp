#include "core/base/whole_file.h"
#include "core/files/job_file.h"

namespace hoopwright {

std::optional<Problem> saveText(const std::filesystem::path& file, const std::string& text) {
    WholeFile whole(file);
    whole.write(text);
    return whole.commit();
}

}  // namespace hoopwright
