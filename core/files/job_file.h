// The YAML files of a job: read strictly, written without losing a comment.
#pragma once

#include <filesystem>
#include <memory>
#include <optional>
#include <string>
#include <vector>

#include "core/base/problem.h"
#include "core/model/cage_layout.h"

namespace hoopwright {

/// What was on disk, kept so that a save writes back every line nobody changed. Opaque; compare, copy, keep.
struct FileText;
/// Shared because every undo state of a document points at the same text of the same file, which never
/// changes.
using FileTextRef = std::shared_ptr<const FileText>;

/// The unit a file that was read is written in; mm for none.
LengthUnit unitOf(const FileTextRef& file);

template <class T>
struct ReadResult {
    std::optional<T> value;  ///< nothing if there is any problem: a wrong file never half-loads
    FileTextRef text;
    Problems problems;  ///< all of the file's, in one pass
};

/// Files over 4 MB, not UTF-8, with aliases, or nested deeper than 40 are refused. Paths may be relative to
/// the current folder. Never throws.
ReadResult<CageLayout> readCage(const std::filesystem::path& file);
ReadResult<Car> readCar(const std::filesystem::path& file);
ReadResult<Driver> readDriver(const std::filesystem::path& file);
ReadResult<StockList> readStock(const std::filesystem::path& file);
ReadResult<DieList> readDies(const std::filesystem::path& file);

/// The same from text already in memory; `name` stands in the problems.
ReadResult<CageLayout> readCageText(std::string text, const std::string& name);
ReadResult<Car> readCarText(std::string text, const std::string& name);
ReadResult<Driver> readDriverText(std::string text, const std::string& name);
ReadResult<StockList> readStockText(std::string text, const std::string& name);
ReadResult<DieList> readDiesText(std::string text, const std::string& name);

/// A cage and every file it names, paths taken from the cage file's folder.
struct JobFiles {
    std::filesystem::path cage, car, stock, dies, shop;  ///< shop: empty if the cage names none
    std::vector<std::filesystem::path> drivers, rules;
    FileTextRef cage_text, car_text, stock_text, dies_text, shop_text;
    std::vector<FileTextRef> driver_texts;
};
struct JobResult {
    std::optional<Job> job;
    JobFiles files;
    Problems problems;
    Problems missing_rules;  ///< rule tables it names that are not there; the job opens without them
};
JobResult readJob(const std::filesystem::path& cage_file);

/// Text of the file: what `was` held wherever nothing changed (comments, order, spacing, units), new text
/// elsewhere. With no `was`: a whole new file. Reading the text back gives an equal value.
std::string writeCage(const CageLayout& cage, const FileTextRef& was = nullptr);
std::string writeCar(const Car& car, const FileTextRef& was = nullptr, LengthUnit unit = LengthUnit::mm);
std::string writeDriver(const Driver& driver, const FileTextRef& was = nullptr,
                        LengthUnit unit = LengthUnit::mm);
std::string writeStock(const StockList& stock, const FileTextRef& was = nullptr,
                       LengthUnit unit = LengthUnit::mm);
std::string writeDies(const DieList& dies, const FileTextRef& was = nullptr,
                      LengthUnit unit = LengthUnit::mm);

/// Writes beside, flushes to disk, renames. The old file stays whole until the new one is.
/// A Problem says what could not be done and to which file.
std::optional<Problem> saveText(const std::filesystem::path& file, const std::string& text);

}  // namespace hoopwright
