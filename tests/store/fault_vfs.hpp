// A file system for SQLite that fails on purpose: it stands between SQLite and the real one.
#pragma once

#include <atomic>
#include <cstdint>
#include <map>
#include <mutex>
#include <string>

struct sqlite3_vfs;

namespace lampside::store::test {

/// While one lives, every file SQLite opens goes through it. One at a time.
class FaultVfs {
 public:
  enum class Lasting { once, forever };
  /// Which operations count towards the n-th.
  enum class Kind : unsigned {
    open = 1,
    read = 2,
    write = 4,
    sync = 8,
    truncate = 16,
    shared_memory = 32,
    remove = 64,
    lock = 128
  };
  static constexpr unsigned kEvery = 255;

  FaultVfs();
  FaultVfs(const FaultVfs&) = delete;
  FaultVfs& operator=(const FaultVfs&) = delete;
  ~FaultVfs();

  /// From now on the n-th operation (1: the next) of those kinds fails, once or from then on for ever.
  void fail(int n, Lasting lasting, unsigned kinds = kEvery);
  /// From now on no file may grow once this many more bytes were added: a disk that fills up.
  void fill_up_after(std::int64_t bytes);
  /// The disk is well again, and has room.
  void heal();
  /// Did anything fail since the last call of fail() or fill_up_after()?
  [[nodiscard]] bool has_failed() const { return failed_; }

  /// Bytes were written to this file (name ends with `suffix`) and not yet synced.
  [[nodiscard]] bool has_unsynced(const std::string& suffix) const;

  // For the file functions in fault_vfs.cpp.
  bool hits(Kind kind);
  bool has_room(std::int64_t grows_by);
  void note_write(const std::string& name);
  void note_sync(const std::string& name);
  sqlite3_vfs* real() const { return real_; }

 private:
  sqlite3_vfs* real_;
  std::atomic<int> countdown_{0};
  std::atomic<bool> forever_{false}, failed_{false};
  std::atomic<unsigned> kinds_{0};
  std::atomic<std::int64_t> room_{-1};
  mutable std::mutex mutex_;
  std::map<std::string, bool> unsynced_;  ///< guarded by mutex_
};

}  // namespace lampside::store::test
