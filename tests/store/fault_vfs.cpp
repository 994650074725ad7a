#include "fault_vfs.hpp"

#include <sqlite3.h>

#include <algorithm>
#include <cstring>
#include <new>

namespace lampside::store::test {
namespace {

FaultVfs* active = nullptr;
using Kind = FaultVfs::Kind;

/// What SQLite holds as its file: ours in front, the real one behind it in the same block of memory.
struct File {
  sqlite3_file base;
  sqlite3_file* real;
  std::string* name;
};
File& ours(sqlite3_file* file) { return *reinterpret_cast<File*>(file); }
const sqlite3_io_methods& real_of(sqlite3_file* file) { return *ours(file).real->pMethods; }

int close_file(sqlite3_file* file) {
  delete ours(file).name;
  return real_of(file).xClose(ours(file).real);
}
int read_file(sqlite3_file* file, void* to, int size, sqlite3_int64 at) {
  if (active->hits(Kind::read)) return SQLITE_IOERR_READ;
  return real_of(file).xRead(ours(file).real, to, size, at);
}
int write_file(sqlite3_file* file, const void* from, int size, sqlite3_int64 at) {
  sqlite3_int64 now = 0;
  real_of(file).xFileSize(ours(file).real, &now);
  if (!active->has_room(std::max<sqlite3_int64>(0, at + size - now))) return SQLITE_FULL;
  if (active->hits(Kind::write)) {
    // A disk that fails may have written a part: the worst case, half of it.
    real_of(file).xWrite(ours(file).real, from, size / 2, at);
    return SQLITE_IOERR_WRITE;
  }
  active->note_write(*ours(file).name);
  return real_of(file).xWrite(ours(file).real, from, size, at);
}
int truncate_file(sqlite3_file* file, sqlite3_int64 size) {
  if (active->hits(Kind::truncate)) return SQLITE_IOERR_TRUNCATE;
  return real_of(file).xTruncate(ours(file).real, size);
}
int sync_file(sqlite3_file* file, int flags) {
  if (active->hits(Kind::sync)) return SQLITE_IOERR_FSYNC;
  active->note_sync(*ours(file).name);
  return real_of(file).xSync(ours(file).real, flags);
}
int size_of_file(sqlite3_file* file, sqlite3_int64* size) { return real_of(file).xFileSize(ours(file).real, size); }
int lock_file(sqlite3_file* file, int how) {
  if (active->hits(Kind::lock)) return SQLITE_IOERR_LOCK;
  return real_of(file).xLock(ours(file).real, how);
}
int unlock_file(sqlite3_file* file, int how) { return real_of(file).xUnlock(ours(file).real, how); }
int check_reserved(sqlite3_file* file, int* out) { return real_of(file).xCheckReservedLock(ours(file).real, out); }
int control_file(sqlite3_file* file, int op, void* argument) {
  return real_of(file).xFileControl(ours(file).real, op, argument);
}
int sector_size(sqlite3_file* file) { return real_of(file).xSectorSize(ours(file).real); }
int characteristics(sqlite3_file* file) { return real_of(file).xDeviceCharacteristics(ours(file).real); }
int map_memory(sqlite3_file* file, int region, int size, int extend, void volatile** out) {
  if (active->hits(Kind::shared_memory)) return SQLITE_IOERR_SHMMAP;
  return real_of(file).xShmMap(ours(file).real, region, size, extend, out);
}
int lock_memory(sqlite3_file* file, int offset, int n, int flags) {
  const bool unlocks = (flags & SQLITE_SHM_UNLOCK) != 0;
  if (!unlocks && active->hits(Kind::lock)) return SQLITE_IOERR_SHMLOCK;
  return real_of(file).xShmLock(ours(file).real, offset, n, flags);
}
void memory_barrier(sqlite3_file* file) { real_of(file).xShmBarrier(ours(file).real); }
int unmap_memory(sqlite3_file* file, int remove) { return real_of(file).xShmUnmap(ours(file).real, remove); }

const sqlite3_io_methods kMethods{
    2,           close_file,     read_file,      write_file,   truncate_file, sync_file,       size_of_file,
    lock_file,   unlock_file,    check_reserved, control_file, sector_size,   characteristics, map_memory,
    lock_memory, memory_barrier, unmap_memory,   nullptr,      nullptr};

int open_file(sqlite3_vfs*, const char* name, sqlite3_file* file, int flags, int* out_flags) {
  file->pMethods = nullptr;
  if (active->hits(Kind::open)) return SQLITE_CANTOPEN;
  auto* mine = new (file)
      File{{nullptr}, reinterpret_cast<sqlite3_file*>(reinterpret_cast<char*>(file) + sizeof(File)), nullptr};
  const int code = active->real()->xOpen(active->real(), name, mine->real, flags, out_flags);
  if (mine->real->pMethods == nullptr) return code;
  mine->name = new std::string(name != nullptr ? name : "");
  mine->base.pMethods = &kMethods;
  return code;
}
int remove_file(sqlite3_vfs*, const char* name, int sync_folder) {
  if (active->hits(Kind::remove)) return SQLITE_IOERR_DELETE;
  return active->real()->xDelete(active->real(), name, sync_folder);
}

sqlite3_vfs fault_vfs;

}  // namespace

FaultVfs::FaultVfs() : real_{sqlite3_vfs_find(nullptr)} {
  active = this;
  fault_vfs = *real_;  // everything we do not break is the real one's
  fault_vfs.pNext = nullptr;
  fault_vfs.szOsFile = static_cast<int>(sizeof(File)) + real_->szOsFile;
  fault_vfs.zName = "fault";
  fault_vfs.xOpen = open_file;
  fault_vfs.xDelete = remove_file;
  sqlite3_vfs_register(&fault_vfs, 1);
}

FaultVfs::~FaultVfs() {
  sqlite3_vfs_unregister(&fault_vfs);
  sqlite3_vfs_register(real_, 1);
  active = nullptr;
}

void FaultVfs::fail(int n, Lasting lasting, unsigned kinds) {
  failed_ = false;
  forever_ = lasting == Lasting::forever;
  kinds_ = kinds;
  countdown_ = n;
}

void FaultVfs::fill_up_after(std::int64_t bytes) {
  failed_ = false;
  room_ = bytes;
}

void FaultVfs::heal() {
  countdown_ = 0;
  room_ = -1;
}

bool FaultVfs::hits(Kind kind) {
  if ((kinds_ & static_cast<unsigned>(kind)) == 0 || countdown_ <= 0) return false;
  if (countdown_ > 1) {
    --countdown_;
    return false;
  }
  if (!forever_) countdown_ = 0;
  failed_ = true;
  return true;
}

bool FaultVfs::has_room(std::int64_t grows_by) {
  if (room_ < 0 || grows_by == 0) return true;
  if (grows_by > room_) {
    failed_ = true;
    return false;
  }
  room_ -= grows_by;
  return true;
}

void FaultVfs::note_write(const std::string& name) {
  const std::lock_guard lock{mutex_};
  unsynced_[name] = true;
}

void FaultVfs::note_sync(const std::string& name) {
  const std::lock_guard lock{mutex_};
  unsynced_[name] = false;
}

bool FaultVfs::has_unsynced(const std::string& suffix) const {
  const std::lock_guard lock{mutex_};
  return std::any_of(unsynced_.begin(), unsynced_.end(),
                     [&](const auto& file) { return file.first.ends_with(suffix) && file.second; });
}

}  // namespace lampside::store::test
