#include <map>

#include "core/files/shop_file.h"
#include "core/files/yaml_map.h"

namespace hoopwright {
namespace {

namespace fs = std::filesystem;

/// Where the cage file names another file: under `key`, the n-th if it lists several.
FileMark whereNamed(const std::string& text, const std::string& cage_file, std::string_view key,
                    std::size_t n) {
    YamlFile file(text, cage_file);
    const YamlValue top(file, file.root(), "");
    const YamlValue named = top.peek(key);
    return named.isList() && n < named.list().size() ? named.list()[n].at() : named.at();
}

/// Reads one file a cage names; a file that is not there is a problem of the cage file, at the place of the
/// name.
class NamedFiles {
public:
    NamedFiles(fs::path cage_file, std::string cage_text, JobResult& into)
        : cage_file_(std::move(cage_file)), cage_text_(std::move(cage_text)), into_(into) {}

    fs::path path(const std::string& written) const {
        return (cage_file_.parent_path() / written).lexically_normal();
    }

    /// What is wrong with a name under `key` (the n-th, if it is a list), if no file is there.
    std::optional<Problem> missing(std::string_view key, const std::string& written, std::size_t n) const {
        const fs::path file = path(written);
        std::error_code failed;
        if (!written.empty() && fs::is_regular_file(file, failed)) return std::nullopt;
        std::string what =
            std::string(key) + ": " +
            (written.empty() ? "no file is named" : "there is no file '" + file.string() + "'");
        return Problem{whereNamed(cage_text_, cage_file_.string(), key, n), std::move(what),
                       "paths start at the cage file's folder"};
    }

    template <class T>
    std::optional<T> read(ReadResult<T> (*reader)(const fs::path&), std::string_view key,
                          const std::string& written, FileTextRef& text, std::size_t n = 0) {
        if (std::optional<Problem> gone = missing(key, written, n)) {
            into_.problems.push_back(*std::move(gone));
            return std::nullopt;
        }
        ReadResult<T> result = reader(path(written));
        text = result.text;
        into_.problems.insert(into_.problems.end(), result.problems.begin(), result.problems.end());
        return std::move(result.value);
    }
    void sameDriverTwice(const std::string& id, const fs::path& first, std::size_t n) {
        into_.problems.push_back({whereNamed(cage_text_, cage_file_.string(), "drivers", n),
                                  "drivers: the id '" + id + "' is also that of " + first.string(),
                                  "give each driver file its own id"});
    }

private:
    fs::path cage_file_;
    std::string cage_text_;
    JobResult& into_;
};

std::vector<Driver> readDrivers(const CageLayout& cage, NamedFiles& named, JobFiles& files) {
    std::vector<Driver> drivers;
    std::map<std::string, fs::path> file_of;
    for (std::size_t i = 0; i < cage.driver_files.size(); ++i) {
        files.drivers.push_back(named.path(cage.driver_files[i]));
        FileTextRef& text = files.driver_texts.emplace_back();
        std::optional<Driver> driver = named.read(&readDriver, "drivers", cage.driver_files[i], text, i);
        if (!driver) continue;
        const auto [known, is_new] = file_of.emplace(driver->id, files.drivers[i]);
        if (!is_new) named.sameDriverTwice(driver->id, known->second, i);
        drivers.push_back(*std::move(driver));
    }
    return drivers;
}

}  // namespace

JobResult readJob(const fs::path& cage_file) {
    JobResult result;
    JobFiles& files = result.files;
    files.cage = cage_file;
    WholeText whole = readWholeFile(cage_file.string());
    if (!whole.text) {
        result.problems = std::move(whole.problems);
        return result;
    }
    ReadResult<CageLayout> cage = readCageText(*whole.text, cage_file.string());
    files.cage_text = cage.text;
    result.problems = std::move(cage.problems);
    if (!cage.value) return result;

    NamedFiles named(cage_file, *std::move(whole.text), result);
    files.car = named.path(cage.value->car_file);
    files.stock = named.path(cage.value->stock_file);
    files.dies = named.path(cage.value->dies_file);
    for (std::size_t i = 0; i < cage.value->rule_files.size(); ++i) {
        const std::string& written = cage.value->rule_files[i];
        files.rules.push_back(named.path(written));
        if (std::optional<Problem> gone = named.missing("rules", written, i))
            result.missing_rules.push_back(*std::move(gone));
    }
    std::optional<Car> car = named.read(&readCar, "car", cage.value->car_file, files.car_text);
    std::optional<StockList> stock =
        named.read(&readStock, "stock", cage.value->stock_file, files.stock_text);
    std::optional<DieList> dies = named.read(&readDies, "dies", cage.value->dies_file, files.dies_text);
    std::optional<ShopBook> shop;
    if (!cage.value->shop_file.empty()) {
        files.shop = named.path(cage.value->shop_file);
        shop = named.read(&readShop, "shop", cage.value->shop_file, files.shop_text);
    }
    std::vector<Driver> drivers = readDrivers(*cage.value, named, files);
    if (result.problems.empty()) {
        result.job = Job{*std::move(cage.value), *std::move(car),  std::move(drivers),
                         *std::move(stock),      *std::move(dies), {}};
        if (shop) result.job->shop = std::make_shared<const ShopBook>(*std::move(shop));
    }
    return result;
}

}  // namespace hoopwright
