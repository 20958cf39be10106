#include "app/commands/cage_out.h"

#include <algorithm>

namespace hoopwright {
namespace {

namespace fs = std::filesystem;

/// The files it names, as they are called from another folder.
void callFilesFrom(const fs::path& folder, const fs::path& was, CageLayout& cage) {
    std::error_code none;
    const fs::path from = fs::absolute(folder, none).lexically_normal();
    const fs::path home = fs::absolute(was, none).lexically_normal();
    if (from == home) return;
    const auto call = [&](std::string& file) {
        if (file.empty() || fs::path(file).is_absolute()) return;
        const fs::path whole = (home / file).lexically_normal();
        const fs::path way = whole.lexically_relative(from);
        file = (way.empty() ? whole : way).generic_string();
    };
    for (std::string* one : {&cage.car_file, &cage.stock_file, &cage.dies_file, &cage.shop_file}) call(*one);
    for (PersonsAnswer& answer : cage.answers) call(answer.photo);
    for (auto* list : {&cage.driver_files, &cage.rule_files}) std::ranges::for_each(*list, call);
}

}  // namespace

std::string wrongOut(const std::string& file) {
    if (file.empty()) return "--out: name the cage file to write";
    std::error_code failed;
    if (fs::exists(file, failed))
        return "--out: there is already a file '" + file + "'; name another, or take it away";
    return {};
}

std::optional<Problem> writeCageAs(const fs::path& file, const JobResult& opened, CageLayout cage) {
    callFilesFrom(file.parent_path(), opened.files.cage.parent_path(), cage);
    return saveText(file, writeCage(cage, opened.files.cage_text));
}

}  // namespace hoopwright
