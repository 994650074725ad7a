#include "store/sqlite/files.hpp"

#include <fcntl.h>
#include <sys/stat.h>
#include <unistd.h>

#include <cerrno>
#include <cstdio>
#include <filesystem>
#include <system_error>

#include "store/sqlite/database.hpp"

namespace lampside::store::sqlite {
namespace {

[[noreturn]] void fail(const char* code, const std::string& what, int error) {
  const std::string why = what + ": " + std::generic_category().message(error);
  if (error == ENOSPC || error == EDQUOT) {
    throw Failure{{"STORE_FULL", why, "free some space on that disk, then try again"}};
  }
  throw Failure{{code, why, "check that the folder is right and that this user may write there"}};
}

/// A file descriptor, closed at the end of its scope.
class Descriptor {
 public:
  explicit Descriptor(int number) : number_{number} {}
  Descriptor(const Descriptor&) = delete;
  Descriptor& operator=(const Descriptor&) = delete;
  ~Descriptor() {
    if (number_ >= 0) ::close(number_);
  }
  [[nodiscard]] int number() const { return number_; }

 private:
  int number_;
};

}  // namespace

void make_folder(const std::string& path) {
  std::error_code error;
  if (std::filesystem::is_directory(path, error)) return;
  std::filesystem::create_directories(path, error);
  if (!error) std::filesystem::permissions(path, std::filesystem::perms::owner_all, error);
  if (error) fail("STORE_OPEN", "the data folder " + path + " cannot be made", error.value());
}

bool make_private_file(const std::string& path) {
  const Descriptor file{::open(path.c_str(), O_RDWR | O_CREAT | O_EXCL | O_CLOEXEC, 0600)};
  if (file.number() >= 0) return true;
  if (errno == EEXIST) return false;
  fail("STORE_OPEN", "the file " + path + " cannot be made", errno);
}

bool exists(const std::string& path) {
  struct stat status{};
  return ::lstat(path.c_str(), &status) == 0;
}

std::string folder_of(const std::string& path) {
  const auto folder = std::filesystem::path{path}.parent_path();
  return folder.empty() ? "." : folder.string();
}

void sync_file(const std::string& path) {
  const Descriptor file{::open(path.c_str(), O_RDWR | O_CLOEXEC)};
  if (file.number() < 0 || ::fsync(file.number()) != 0)
    fail("STORE_IO", "the file " + path + " cannot be saved", errno);
}

void sync_folder(const std::string& path) {
  const Descriptor folder{::open(path.c_str(), O_RDONLY | O_DIRECTORY | O_CLOEXEC)};
  // Some file systems (network shares, memory cards) refuse to sync a folder; there is nothing more to be done there.
  if (folder.number() >= 0) ::fsync(folder.number());
}

bool rename_without_overwriting(const std::string& from, const std::string& to) {
  if (::renameat2(AT_FDCWD, from.c_str(), AT_FDCWD, to.c_str(), RENAME_NOREPLACE) == 0) return true;
  if (errno == EEXIST) return false;
  if (errno != EINVAL && errno != ENOSYS) fail("STORE_IO", "the file " + to + " cannot be put in place", errno);
  // The file system does not know that call. A second name is refused just as surely when it is taken.
  if (::link(from.c_str(), to.c_str()) == 0) return true;  // PartFile takes the first name away
  if (errno == EEXIST) return false;
  // Nor has it second names (some memory cards): look, then rename. Only here could another program come between.
  if (exists(to)) return false;
  if (std::rename(from.c_str(), to.c_str()) != 0) fail("STORE_IO", "the file " + to + " cannot be put in place", errno);
  return true;
}

PartFile::PartFile(const std::string& final_path) {
  for (int attempt = 0;; ++attempt) {
    path_ = final_path + ".part" + std::to_string(::getpid()) + "-" + std::to_string(attempt);
    if (make_private_file(path_)) return;
  }
}

PartFile::~PartFile() {
  ::unlink(path_.c_str());
  for (const char* companion : {"-journal", "-wal", "-shm"}) ::unlink((path_ + companion).c_str());
}

}  // namespace lampside::store::sqlite
