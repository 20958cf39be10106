// A file that is there whole or not at all.
#pragma once

#include <filesystem>
#include <memory>
#include <optional>
#include <string>
#include <string_view>
#include <vector>

#include "core/base/problem.h"

namespace hoopwright {

/// Written beside its place and moved onto it by commit(); the old file stays whole until then. What is not
/// committed leaves nothing behind, even if the program is stopped (clearAwayWhenStopped()).
///   WholeFile file("cage.glb");
///   if (file.problem()) ...   // before long work: the place is no good
///   file.write(bytes);        // or let a library write to file.beside()
///   if (const auto problem = file.commit()) ...
class WholeFile {
public:
    /// Looks at the place and opens the file beside it. A link stays a link: what it points to is replaced.
    explicit WholeFile(std::filesystem::path file);
    ~WholeFile();
    WholeFile(WholeFile&&) noexcept;
    WholeFile& operator=(WholeFile&&) noexcept;

    /// What has gone wrong so far: a folder that is not there, a file that is read-only, a full disk. Each
    /// says what to do, "not written: ..." with the file asked for.
    const std::optional<Problem>& problem() const;
    /// The file as it was asked for.
    const std::filesystem::path& file() const;
    /// For a library that wants a name to write to: it opens and truncates this one. Not with write().
    const std::string& beside() const;
    /// Adds bytes. A failure is kept for problem() and commit().
    void write(std::string_view bytes);
    /// Flushes to disk, gives it the rights the old file had, moves it to its place. Nothing: it is there.
    std::optional<Problem> commit();
    friend std::optional<Problem> commitAll(std::vector<WholeFile>& files);

private:
    struct State;
    std::unique_ptr<State> state_;
};

/// Several that belong together: none is moved to its place before all are flushed without a problem.
std::optional<Problem> commitAll(std::vector<WholeFile>& files);

/// From now on Ctrl+C, and being told to stop or hung up on, takes every file not committed away, says so on
/// the error stream, and then ends the program as it would have.
void clearAwayWhenStopped();

}  // namespace hoopwright
