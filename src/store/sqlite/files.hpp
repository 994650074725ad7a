// The few file-system calls that SQLite does not make for us: private files, safe renames, syncs.
#pragma once

#include <string>

namespace lampside::store::sqlite {

/// Makes the folder (and those above it) for this user alone; leaves one that exists as it is. Throws Failure
/// STORE_OPEN.
void make_folder(const std::string& path);

/// Makes an empty file that only this user may read and write (0600). False if something has that name already.
/// Throws Failure: STORE_OPEN, STORE_FULL.
bool make_private_file(const std::string& path);

bool exists(const std::string& path);
std::string folder_of(const std::string& path);

/// Waits until the file's bytes are on the disk. Throws Failure: STORE_IO, STORE_FULL.
void sync_file(const std::string& path);
/// Waits until the folder's names are on the disk, as far as its file system can do that.
void sync_folder(const std::string& path);

/// Gives a file its final name. False, and nothing changed, if that name is taken. Throws Failure: STORE_IO,
/// STORE_FULL.
bool rename_without_overwriting(const std::string& from, const std::string& to);

/// A file under construction beside its final place; whatever was not renamed is removed.
class PartFile {
 public:
  /// Makes it, private and empty. Throws Failure: STORE_OPEN, STORE_FULL.
  explicit PartFile(const std::string& final_path);
  PartFile(const PartFile&) = delete;
  PartFile& operator=(const PartFile&) = delete;
  ~PartFile();
  [[nodiscard]] const std::string& path() const { return path_; }

 private:
  std::string path_;
};

}  // namespace lampside::store::sqlite
