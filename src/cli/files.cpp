#include "cli/files.hpp"

#include <fcntl.h>
#include <fmt/format.h>
#include <stdlib.h>
#include <unistd.h>

#include <cerrno>
#include <cstring>
#include <filesystem>
#include <fstream>
#include <utility>

#include "cli/shell.hpp"

namespace lampside::cli {
namespace fs = std::filesystem;
namespace {

tl::unexpected<Problem> cannot_write(const std::string& path, int error) {
  return problem("FILE_WRITE", fmt::format("{} cannot be written: {}", path, std::strerror(error)),
                 "name a file in a folder that exists, may be written to and is not full");
}

bool sync(const std::string& path) {
  const int fd = ::open(path.c_str(), O_RDONLY | O_CLOEXEC);
  if (fd < 0) return false;
  const bool done = ::fsync(fd) == 0;
  ::close(fd);
  return done;
}

struct Removed {
  const std::string& path;
  bool keep = false;
  ~Removed() {
    if (!keep) ::unlink(path.c_str());
  }
};

/// Where the file shall lie: a link that is there is followed, so that it is its target that is replaced.
/// A device or a folder is never replaced: renaming over /dev/stdout would take it from the whole machine.
Result<std::string> place_of(const std::string& path, IfThere if_there) {
  std::error_code error;
  const auto named = fs::symlink_status(path, error);
  if (!fs::exists(named)) return path;
  if (if_there == IfThere::refuse)
    return problem("FILE_THERE", fmt::format("{} is already there", path),
                   "choose another name, or add --force to replace it");
  const auto target = fs::status(path, error);
  if (fs::exists(target) && !fs::is_regular_file(target))
    return problem("FILE_KIND", fmt::format("{} is a folder or a device, not a file", path),
                   "name a file, or - for the terminal");
  if (!fs::is_symlink(named)) return path;
  const fs::path real = fs::canonical(path, error);
  if (!error) return real.string();
  return problem("FILE_WRITE", fmt::format("{} is a link that leads nowhere", path), "remove it, or name another file");
}

}  // namespace

Result<void> write_whole(const std::string& asked, IfThere if_there,
                         const std::function<Result<void>(std::ostream&)>& write) {
  const auto place = place_of(asked, if_there);
  if (!place) return tl::unexpected(place.error());
  const std::string& path = *place;
  const std::string draft = fmt::format("{}.{}.part", path, ::getpid());
  const int fd = ::open(draft.c_str(), O_WRONLY | O_CREAT | O_EXCL | O_CLOEXEC, 0666);
  if (fd < 0) return cannot_write(path, errno);
  ::close(fd);
  Removed removed{draft};
  {
    std::ofstream out{draft, std::ios::binary};
    if (auto written = write(out); !written) return written;
    errno = 0;
    out.close();
    if (!out) return cannot_write(path, errno != 0 ? errno : EIO);
  }
  if (!sync(draft)) return cannot_write(path, errno);
  if (stop_wanted()) return problem("STOPPED", "stopped by you", "nothing was written");
  if (if_there == IfThere::refuse) {
    // link() refuses where rename() would overwrite a file that came meanwhile; a stick's file system may not have it.
    if (::link(draft.c_str(), path.c_str()) == 0) return {};
    if (errno == EEXIST)
      return problem("FILE_THERE", fmt::format("{} is already there", path),
                     "choose another name, or add --force to replace it");
  }
  if (::rename(draft.c_str(), path.c_str()) != 0) return cannot_write(path, errno);
  removed.keep = true;
  return {};
}

Result<TemporaryFolder> TemporaryFolder::make() {
  std::error_code error;
  fs::path root = fs::temp_directory_path(error);
  if (error) root = "/tmp";
  std::string name = (root / "lampside-XXXXXX").string();
  if (::mkdtemp(name.data()) == nullptr)
    return problem("FOLDER_FAILED", fmt::format("no folder can be made in {}: {}", root.string(), std::strerror(errno)),
                   "set TMPDIR to a folder that may be written to");
  return TemporaryFolder{std::move(name)};
}

TemporaryFolder::~TemporaryFolder() {
  std::error_code ignored;
  if (!path_.empty()) fs::remove_all(path_, ignored);
}

TemporaryFolder::TemporaryFolder(TemporaryFolder&& other) noexcept : path_{std::exchange(other.path_, {})} {}

}  // namespace lampside::cli
