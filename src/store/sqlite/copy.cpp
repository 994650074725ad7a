#include "store/sqlite/copy.hpp"

#include "store/journal.hpp"
#include "store/sqlite/database.hpp"
#include "store/sqlite/files.hpp"
#include "store/sqlite/schema.hpp"

namespace lampside::store {
namespace sqlite {
namespace {

constexpr int kBusyMs = 5000;

[[noreturn]] void refuse_existing(const std::string& path) {
  throw Failure{{"STORE_EXISTS", path + " is there already", "choose a new name, or move that file aside first"}};
}

}  // namespace

void copy_journal(const std::string& from, const std::string& to) {
  if (!exists(from)) {
    throw Failure{
        {"STORE_IO", "there is no file " + from, "check the name; it should end in the copy's own file name"}};
  }
  if (exists(to)) refuse_existing(to);
  const PartFile part{to};
  {
    Database source{from, Database::Mode::read_only, kBusyMs};
    if (layout_version(source) == 0) {
      throw Failure{{"STORE_DAMAGED", from + " is empty", "use another copy; this one holds no journal"}};
    }
    Database target{part.path(), Database::Mode::existing, kBusyMs};
    source.back_up_to(target);
    target.run("PRAGMA journal_mode = DELETE");  // all in one file, readable from a write-protected card
    check_sound(target);
  }
  sync_file(part.path());
  if (!rename_without_overwriting(part.path(), to)) refuse_existing(to);
  sync_folder(folder_of(to));
}

}  // namespace sqlite

Result<void> restore_sqlite(const std::string& copy, const std::string& directory) {
  return sqlite::guarded([&] {
    sqlite::make_folder(directory);
    const std::string path = directory + "/lampside.db";
    // A log left behind by a journal that is gone would be played into the one put back, and ruin it.
    for (const char* companion : {"", "-wal", "-journal"}) {
      if (sqlite::exists(path + companion)) sqlite::refuse_existing(path + companion);
    }
    sqlite::copy_journal(copy, path);
  });
}

}  // namespace lampside::store
