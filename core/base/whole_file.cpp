#include "core/base/whole_file.h"

#include <fcntl.h>
#include <sys/stat.h>
#include <unistd.h>

#include <array>
#include <atomic>
#include <cerrno>
#include <climits>
#include <csignal>
#include <cstring>
#include <mutex>
#include <utility>

namespace hoopwright {
namespace {

namespace fs = std::filesystem;

Problem cannot(const fs::path& file, const std::string& what, const std::string& remedy) {
    return {{file.string(), 0, 0}, "not written: " + what, remedy};
}

Problem failed(const fs::path& file, int error) {
    switch (error) {
        case ENOENT:
        case ENOTDIR:
            if (std::error_code none; fs::is_directory(file.parent_path(), none))
                return cannot(file,
                              "nothing can be written in the folder '" + file.parent_path().string() + "'",
                              "write to another");
            return cannot(file, "the folder '" + file.parent_path().string() + "' does not exist",
                          "make it, or write to another");
        case EACCES:
        case EPERM:
            return cannot(file, "you may not write in the folder '" + file.parent_path().string() + "'",
                          "write to another, or ask for the right to");
        case EROFS:
            return cannot(file, "the disk can only be read", "write to another disk");
        case ENOSPC:
        case EDQUOT:
        case EFBIG:
            return cannot(file, "there is no room left on the disk", "make room, or write to another disk");
        case ENAMETOOLONG:
            return cannot(file, "the name is too long", "choose a shorter one");
        default:
            return cannot(file, std::strerror(error), "try another folder or disk");
    }
}

/// Why the place itself is no good.
std::optional<Problem> wrongPlace(const fs::path& file, const fs::path& target) {
    std::error_code none;
    if (fs::is_directory(target, none)) return cannot(file, "this is a folder", "name a file in it");
    const fs::file_status status = fs::status(target, none);
    if (!fs::exists(status)) return std::nullopt;
    if (!fs::is_regular_file(status)) return cannot(file, "this is a device or a pipe", "name a file");
    const bool locked = (status.permissions() & (fs::perms::owner_write | fs::perms::group_write |
                                                 fs::perms::others_write)) == fs::perms::none;
    if (locked || ::access(target.c_str(), W_OK) != 0)
        return cannot(file, "the file is read-only", "write under another name, or allow writing to it");
    return std::nullopt;
}

/// A name a signal handler may read at any time: never freed, used again once idle.
struct Unfinished {
    std::array<char, PATH_MAX> name{};
    std::atomic<bool> there = false;
    std::atomic<bool> taken = false;
    Unfinished* next = nullptr;
};
std::atomic<Unfinished*> unfinished = nullptr;
std::mutex unfinished_list;

Unfinished* note(const std::string& name) {
    if (name.size() >= PATH_MAX) return nullptr;
    const std::lock_guard lock(unfinished_list);
    Unfinished* entry = unfinished;
    while (entry && entry->taken) entry = entry->next;
    if (!entry) {
        entry = new Unfinished;
        entry->next = unfinished;
        unfinished = entry;
    }
    entry->taken = true;
    std::memcpy(entry->name.data(), name.c_str(), name.size() + 1);
    entry->there = true;
    return entry;
}
void forget(Unfinished* entry) {
    if (!entry) return;
    entry->there = false;
    entry->taken = false;
}

/// Makes the new name itself last through a power cut. Some file systems cannot; the text is safe all the
/// same.
void flushFolder(const fs::path& folder) {
    const int descriptor = ::open(folder.empty() ? "." : folder.c_str(), O_RDONLY | O_DIRECTORY);
    if (descriptor < 0) return;
    ::fsync(descriptor);
    ::close(descriptor);
}

/// Only what a signal handler may call.
void stopped(int signal) {
    bool any = false;
    for (const Unfinished* each = unfinished; each; each = each->next)
        any = (each->there && ::unlink(each->name.data()) == 0) || any;
    if (any) {
        constexpr std::string_view kSaid = "\nhoopwright: stopped; what was not yet whole is not there.\n";
        [[maybe_unused]] const ssize_t done = ::write(STDERR_FILENO, kSaid.data(), kSaid.size());
    }
    std::signal(signal, SIG_DFL);
    std::raise(signal);
}

}  // namespace

struct WholeFile::State {
    fs::path file, target;
    std::string name;
    int descriptor = -1;
    Unfinished* noted = nullptr;
    bool flushed = false;
    std::optional<Problem> problem;

    explicit State(fs::path asked) : file(std::move(asked)) {
        std::error_code none;
        target = fs::is_symlink(file, none) ? fs::weakly_canonical(file, none) : file;
        problem = wrongPlace(file, target);
        if (!problem) open();
    }
    ~State() {
        if (descriptor < 0) return;
        ::close(descriptor);
        if (!name.empty()) ::unlink(name.c_str());
        forget(noted);
    }
    State(const State&) = delete;
    State& operator=(const State&) = delete;

    void open() {
        // Short, so that a name that just fits the file system still has room beside it.
        const fs::path folder = target.has_parent_path() ? target.parent_path() : fs::path(".");
        static std::atomic<unsigned> count = 0;
        for (int n = 0; n < 100 && descriptor < 0 && (n == 0 || errno == EEXIST); ++n) {
            const std::string own = std::to_string(::getpid()) + "-" + std::to_string(count++);
            name = (folder / (".hoopwright-" + own)).string();
            noted = note(name);
            descriptor = ::open(name.c_str(), O_WRONLY | O_CREAT | O_EXCL | O_CLOEXEC, 0666);
            if (descriptor >= 0) return;
            const int error = errno;
            forget(std::exchange(noted, nullptr));
            errno = error;
        }
        problem = failed(target, errno);
    }
    /// Whoever could read and write the old file can still.
    bool takeRights() const {
        struct stat old {};
        if (::stat(target.c_str(), &old) != 0) return errno == ENOENT;
        // Only root may give a file away; for others it becomes their own.
        if (::fchown(descriptor, old.st_uid, old.st_gid) != 0 && errno != EPERM) return false;
        return ::fchmod(descriptor, old.st_mode & 07777) == 0;
    }
    void flush() {
        if (problem || flushed) return;
        flushed = ::fsync(descriptor) == 0 && takeRights();
        if (!flushed) problem = failed(target, errno);
    }
    void place() {
        if (problem) return;
        if (::rename(name.c_str(), target.c_str()) != 0) {
            problem = failed(target, errno);
            return;
        }
        forget(std::exchange(noted, nullptr));
        name.clear();
        flushFolder(target.parent_path());
    }
};

WholeFile::WholeFile(fs::path file) : state_(std::make_unique<State>(std::move(file))) {}
WholeFile::~WholeFile() = default;
WholeFile::WholeFile(WholeFile&&) noexcept = default;
WholeFile& WholeFile::operator=(WholeFile&&) noexcept = default;

const std::optional<Problem>& WholeFile::problem() const {
    return state_->problem;
}
const fs::path& WholeFile::file() const {
    return state_->file;
}
const std::string& WholeFile::beside() const {
    return state_->name;
}

void WholeFile::write(std::string_view bytes) {
    while (!bytes.empty() && !state_->problem) {
        const ssize_t done = ::write(state_->descriptor, bytes.data(), bytes.size());
        if (done < 0 && errno == EINTR) continue;
        if (done < 0)
            state_->problem = failed(state_->target, errno);
        else
            bytes.remove_prefix(static_cast<std::size_t>(done));
    }
}

std::optional<Problem> WholeFile::commit() {
    state_->flush();
    state_->place();
    return state_->problem;
}

std::optional<Problem> commitAll(std::vector<WholeFile>& files) {
    for (WholeFile& each : files) {
        each.state_->flush();
        if (each.problem()) return each.problem();
    }
    for (WholeFile& each : files)
        if (const auto problem = each.commit()) return problem;
    return std::nullopt;
}

void clearAwayWhenStopped() {
    for (const int signal : {SIGINT, SIGTERM, SIGHUP}) {
        struct sigaction now {};
        // Told to be ignored from outside (nohup): it stays so.
        if (::sigaction(signal, nullptr, &now) == 0 && now.sa_handler == SIG_IGN) continue;
        struct sigaction then {};
        then.sa_handler = stopped;
        ::sigemptyset(&then.sa_mask);
        ::sigaction(signal, &then, nullptr);
    }
}

}  // namespace hoopwright
