#include <fcntl.h>
#include <sys/stat.h>
#include <unistd.h>

#include <cerrno>
#include <cstring>
#include <string_view>

#include "core/files/job_file.h"

namespace hoopwright {
namespace {

namespace fs = std::filesystem;

Problem cannot(const fs::path& file, const std::string& what, const std::string& remedy) {
    return {{file.string(), 0, 0}, "not saved: " + what, remedy};
}

Problem failed(const fs::path& file, int error) {
    switch (error) {
        case ENOENT:
        case ENOTDIR:
            if (std::error_code none; fs::is_directory(file.parent_path(), none))
                return cannot(file,
                              "nothing can be written in the folder '" + file.parent_path().string() + "'",
                              "save in another");
            return cannot(file, "the folder '" + file.parent_path().string() + "' does not exist",
                          "make it, or save in another");
        case EACCES:
        case EPERM:
            return cannot(file, "you may not write in the folder '" + file.parent_path().string() + "'",
                          "save in another, or ask for the right to");
        case EROFS:
            return cannot(file, "the disk can only be read", "save on another");
        case ENOSPC:
        case EDQUOT:
        case EFBIG:
            return cannot(file, "there is no room left on the disk", "make room, or save on another");
        case ENAMETOOLONG:
            return cannot(file, "the name is too long", "choose a shorter one");
        default:
            return cannot(file, std::strerror(error), "try another folder or disk");
    }
}

/// A file beside the one to be saved: gone again unless it took its place.
class Beside {
public:
    explicit Beside(const fs::path& target) {
        // Short, so that a name that just fits the file system still has room beside it.
        const fs::path folder = target.has_parent_path() ? target.parent_path() : fs::path(".");
        for (int n = 0; n < 100 && descriptor_ < 0 && (n == 0 || errno == EEXIST); ++n) {
            name_ =
                (folder / (".hoopwright-" + std::to_string(::getpid()) + "-" + std::to_string(n))).string();
            descriptor_ = ::open(name_.c_str(), O_WRONLY | O_CREAT | O_EXCL | O_CLOEXEC, 0666);
        }
    }
    ~Beside() {
        if (descriptor_ < 0) return;
        ::close(descriptor_);
        if (!placed_) ::unlink(name_.c_str());
    }
    Beside(const Beside&) = delete;
    Beside& operator=(const Beside&) = delete;

    explicit operator bool() const { return descriptor_ >= 0; }
    bool writeAll(std::string_view text) const {
        while (!text.empty()) {
            const ssize_t done = ::write(descriptor_, text.data(), text.size());
            if (done < 0 && errno == EINTR) continue;
            if (done < 0) return false;
            text.remove_prefix(static_cast<std::size_t>(done));
        }
        return ::fsync(descriptor_) == 0;
    }
    /// Whoever could read and write the old file can still.
    bool takeRights(const fs::path& target) const {
        struct stat old {};
        if (::stat(target.c_str(), &old) != 0) return errno == ENOENT;
        // Only root may give a file away; for others it becomes their own.
        if (::fchown(descriptor_, old.st_uid, old.st_gid) != 0 && errno != EPERM) return false;
        return ::fchmod(descriptor_, old.st_mode & 07777) == 0;
    }
    bool replace(const fs::path& target) {
        placed_ = ::rename(name_.c_str(), target.c_str()) == 0;
        return placed_;
    }

private:
    std::string name_;
    int descriptor_ = -1;
    bool placed_ = false;
};

/// Makes the new name itself last through a power cut. Some file systems cannot; the text is safe all the
/// same.
void flushFolder(const fs::path& folder) {
    const int descriptor = ::open(folder.empty() ? "." : folder.c_str(), O_RDONLY | O_DIRECTORY);
    if (descriptor < 0) return;
    ::fsync(descriptor);
    ::close(descriptor);
}

}  // namespace

std::optional<Problem> saveText(const fs::path& file, const std::string& text) {
    std::error_code none;
    // A link stays a link; the file it points to is replaced.
    const fs::path target = fs::is_symlink(file, none) ? fs::weakly_canonical(file, none) : file;
    if (fs::is_directory(target, none)) return cannot(file, "this is a folder", "name a file in it");
    const fs::file_status status = fs::status(target, none);
    const bool locked = (status.permissions() & (fs::perms::owner_write | fs::perms::group_write |
                                                 fs::perms::others_write)) == fs::perms::none;
    if (fs::exists(status) && (locked || ::access(target.c_str(), W_OK) != 0)) {
        return cannot(file, "the file is read-only", "save under another name, or allow writing to it");
    }
    Beside beside(target);
    if (!beside) return failed(target, errno);
    if (!beside.writeAll(text) || !beside.takeRights(target) || !beside.replace(target))
        return failed(target, errno);
    flushFolder(target.parent_path());
    return std::nullopt;
}

}  // namespace hoopwright
